"""The left side of the estimator's screen: every field of the job, part by part in the order of measuring, and the sliders."""

from collections.abc import Callable, Iterator, Mapping
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.compare.swaps import changes_for_counter, changes_for_sink
from kit.errors import KitError
from kit.job import Job, change_job
from kit.job.labels import label_of
from kit.lists import Lists
from kit.panels.controls import Control, help_of, make_choice, make_control, make_slider, make_stepper, slider_fields, usual_value
from kit.panels.entries import FieldEntry, ListEntry, PartEntry, grow_list, new_part, walk_entries
from kit.panels.faults import explain_refused
from kit.panels.screen import Updating, lay_box
from kit.panels.state import Refused

__all__ = ["FieldPanel"]

PARTS = {
    "identity": "Visit",
    "scope": "Who does what",
    "site": "House",
    "cabinet": "Cabinet",
    "old": "What is there",
    "sink": "New sink",
    "counter": "Counter",
    "plumbing": "Plumbing",
    "levelness": "Levelness",
    "terms": "Terms",
    "offcuts": "Offcuts",
    "prices": "Price lists",
}
WHAT_IF_PART = "what if"
HELP = {
    "identity": "Who the job is for, and the day of the visit: every date counts from it.",
    "scope": "Who brings and who fits each thing. What stays or is excluded costs nothing.",
    "site": "The house and the way in.",
    "cabinet": "The sink base. Heights marked 'cabinet top' are measured down from it.",
    "old": "What comes out.",
    "sink": "Choosing a kind takes its nominal sizes from the sinks list; type over what you measure on the sink itself.",
    "counter": "Choosing a countertop takes its material, thickness and maker from the list.",
    "plumbing": "What waits below the deck. Leave empty what could not be seen.",
    "levelness": "Readings along the run, from a level line through the highest point.",
    "terms": "Only what differs from the company file; empty means as usual.",
    "offcuts": "Sound left-overs that may serve before anything is bought.",
    "prices": "Folders of price lists in your own folder.",
    WHAT_IF_PART: "Sliders move the same fields that are typed in the other parts. Arrow keys move a slider in steps.",
}
PRIVATE = ("terms",)
_LIST_WORDS = {
    "sink.bowls": "Bowls",
    "counter.runs": "Runs of countertop",
    "counter.holes": "Holes",
    "levelness.readings": "Readings",
    "offcuts": "Kinds of offcuts",
}
_PART_WORDS = {"cabinet.corner": "A corner is near"}

Change = Callable[[Mapping[str, Any]], None]


class FieldPanel:
    """Controls for every field of the job on the screen.

    Parameters
    ----------
    job, lists
        What stands on the screen.
    change
        Called with changes by place, as typed.
    list_folders
        Gives the folders of price lists that can be chosen.
    """

    def __init__(self, job: Job, lists: Lists, change: Change, list_folders: Callable[[], list[str]]) -> None:
        self._job, self._lists, self._change, self._list_folders = job, lists, change, list_folders
        self._updating = Updating()
        self._private = False
        self._refused: Mapping[str, Refused] = {}
        self.controls: dict[str, Control] = {}
        """By place, for the parts that were on show."""
        self.sliders: dict[str, Control] = {}
        self.part = widgets.ToggleButtons(options=self._part_options(), style={"button_width": "auto"}, tooltips=[])
        self._help = widgets.ToggleButton(description="Help", tooltip="Show what each field means, its range and what is assumed when it is unknown")
        self._fields = widgets.VBox(layout={"overflow": "visible"})
        self.part.observe(lambda _: self._lay_out(), names="value")
        self._help.observe(lambda _: self._lay_out(), names="value")
        self.box = lay_box("sk-side", self.part, self._help, lay_box("sk-pane sk-inputs", self._fields))
        self._lay_out()

    def refresh(self, job: Job, lists: Lists, refused: Mapping[str, Refused]) -> None:
        """Show another job: values in their controls, refused entries in theirs, and controls that come and go with lists."""
        new_lists = lists is not self._lists
        self._job, self._lists, self._refused = job, lists, refused
        if new_lists:
            self.controls.clear()
            self.sliders.clear()
        self._lay_out()

    def list_new(self, typed: Mapping[str, str]) -> list[str]:
        """The places, of those that a browser remembers a typed text for, where the job holds something else."""
        return [entry.place for entry in walk_entries(self._job) if entry.place in typed and self._is_new(entry, typed[entry.place])]

    def _is_new(self, entry: FieldEntry | ListEntry | PartEntry, text: str) -> bool:
        control = self._control(entry)
        if control.read is None:
            return isinstance(control.widget, widgets.Dropdown) and text != control.widget.label
        try:
            return change_job(self._job, {entry.place: control.read(text)}) != self._job
        except KitError:
            return entry.place not in self._refused

    def enter(self, typed: Mapping[str, str]) -> None:
        """Type texts into their fields, as a person does."""
        for entry in list(walk_entries(self._job)):
            if entry.place in typed:
                self._control(entry).enter(typed[entry.place])

    def hide_cost(self, *, hidden: bool) -> None:
        """Leave out the terms and their sliders, or show them again."""
        self._private = hidden
        self.part.options = self._part_options()
        self._lay_out()

    def _part_options(self) -> list[tuple[str, str]]:
        return [*((words, part) for part, words in PARTS.items() if not (self._private and part in PRIVATE)), ("What if", WHAT_IF_PART)]

    def _lay_out(self) -> None:
        """The controls of the part on show, with the job's values; a control that stays keeps its place and the cursor."""
        part = self.part.value
        with self._updating:
            children: list[Any] = [widgets.HTML(f"<p class='sk-help'>{escape(HELP[part])}</p>")] if self._help.value else []
            for control in self._controls_of(part):
                children.extend(control.rows)
                if self._help.value and control.help:
                    children.append(widgets.HTML(f"<p class='sk-help'>{escape(control.help)}</p>"))
            if tuple(children) != self._fields.children:
                self._fields.children = children

    def _controls_of(self, part: str) -> Iterator[Control]:
        if part == WHAT_IF_PART:
            for place, rule, value in slider_fields(self._job):
                if not (self._private and place in {"terms.profit", "terms.overhead"}):
                    yield self._slider(place, rule, value)
            return
        for entry in walk_entries(self._job):
            if entry.place.partition(".")[0].partition("[")[0] == part:
                yield self._control(entry)

    def _slider(self, place: str, rule: Any, value: Any) -> Control:
        control = self.sliders.get(place)
        if control is None:
            control = self.sliders[place] = make_slider(place, rule, self._changed, usual=usual_value(place, self._lists))
        self._show(control, value)
        return control

    def _control(self, entry: FieldEntry | ListEntry | PartEntry) -> Control:
        control = self.controls.get(entry.place)
        if control is None:
            control = self.controls[entry.place] = self._make(entry)
        match entry:
            case FieldEntry():
                self._show(control, entry.value)
            case ListEntry():
                self._show(control, entry.count)
            case PartEntry():
                self._show(control, entry.there)
        return control

    def _show(self, control: Control, value: Any) -> None:
        with self._updating:
            entry = self._refused.get(control.place)
            if entry is None:
                control.accept(value)
            else:
                control.refuse(entry.changes[control.place] if entry.stays else value, explain_refused(control.place, entry))

    def _make(self, entry: FieldEntry | ListEntry | PartEntry) -> Control:
        place = entry.place
        if isinstance(entry, ListEntry):
            tip = f"From {entry.low} to {entry.high}. A step up adds a copy of the last, a step down takes the last out."
            return make_stepper(place, _LIST_WORDS.get(place, label_of(place)), tip, entry.low, entry.high, self._counted)
        if isinstance(entry, PartEntry):
            return make_choice(place, _PART_WORDS.get(place, label_of(place)), "Yes adds its fields.", [("no", False), ("yes", True)], self._parted)
        rule, lists = entry.rule, self._lists
        if place == "sink.item":
            return make_choice(place, "Kind of sink", help_of(rule), [(row.name, kind) for kind, row in lists.sinks.items()], self._sink_chosen)
        if place == "sink.style":
            return make_choice(place, label_of(place), help_of(rule), [(style, style) for style in rule.options], self._style_chosen)
        if place == "counter.item":
            return make_choice(
                place, "Countertop from the list", help_of(rule), [(row.name, kind) for kind, row in lists.counters.items()], self._counter_chosen
            )
        if place == "prices":
            return make_choice(place, "Price lists", help_of(rule), [("the usual ones", None), *((name, name) for name in self._list_folders())], self._changed)
        terms = {"terms.crew": lists.company.crew, "terms.extra_trips": 0, "terms.validity_days": lists.company.validity_days}
        usual = 0 if place.endswith("].joints") else terms.get(place)
        return make_control(place, rule, self._changed, usual=usual)

    def _changed(self, place: str, typed: Any) -> None:
        if not self._updating:
            self._change({place: typed})

    def _counted(self, place: str, count: int) -> None:
        if not self._updating:
            self._change(grow_list(self._job, place, count, self._lists))

    def _parted(self, place: str, there: Any) -> None:
        if not self._updating:
            self._change({place: dict(new_part(place)) if there else None})

    def _sink_chosen(self, place: str, item: Any) -> None:
        if self._updating:
            return
        kind = self._lists.sinks.get(item)
        if kind is None:
            self._change({place: item})
            return
        mount = self._job.sink.mount if self._job.sink.mount in kind.mounts else kind.mounts[0]
        self._change(changes_for_sink(kind, mount))

    def _style_chosen(self, place: str, style: Any) -> None:
        """An apron comes and goes with its sizes: those of the kind in the list that is nearest, until it is measured."""
        if self._updating:
            return
        apron = [kind for kind in self._lists.sinks.values() if kind.style == style and kind.apron_width_in is not None]
        near = min(apron, key=lambda kind: abs(kind.body_width_in - self._job.sink.body_width_in), default=None)
        sizes = {f"sink.{name}": None for name in ("apron_width", "apron_height")}
        if style != "standard" and near is not None and not self._job.sink.is_apron:
            sizes = changes_for_sink(near, self._job.sink.mount)
            sizes = {name: sizes[name] for name in ("sink.apron_width", "sink.apron_height")}
        self._change({place: style} if self._job.sink.is_apron and style != "standard" else {place: style, **sizes})

    def _counter_chosen(self, place: str, item: Any) -> None:
        if not self._updating:
            kind = self._lists.counters.get(item)
            self._change({place: item} if kind is None else changes_for_counter(self._job, kind))
