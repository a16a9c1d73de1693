"""The fields of the job on the estimator's screen, step by step: those that decide first, the rest under "More", each with its help."""

import csv
import re
from collections.abc import Callable, Mapping
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.compare.swaps import changes_for_counter, changes_for_sink
from kit.draw.tables import count_words
from kit.errors import KitError
from kit.job import Job, change_job
from kit.job.field_names import label_of, say_choice
from kit.lists import Lists
from kit.panels.controls import NOT_SAID, Control, help_of, make_choice, make_control, make_stepper
from kit.panels.day_control import make_day
from kit.panels.entries import FieldEntry, ListEntry, PartEntry, grow_list, new_part, walk_entries
from kit.panels.faults import explain_refused
from kit.panels.job_state import Refused
from kit.panels.screen import Updating, close_widgets, lay_box, make_button
from kit.panels.visit_steps import part_of

__all__ = ["FieldPanel", "comes_first"]

_NOT_TYPED = {"to_measure"}
_NUMBER = re.compile(r"\[\d+\]")
_SIGNS = re.compile(r"[^A-Za-z0-9]+")

Change = Callable[[Mapping[str, Any]], None]
Entry = FieldEntry | ListEntry | PartEntry


@cache
def _first_fields() -> frozenset[str]:
    with (Path(__file__).parent / "first_fields.csv").open(encoding="utf-8", newline="") as file:
        return frozenset(row["place"] for row in csv.DictReader(file))


def comes_first(place: str) -> bool:
    """Whether a field stands open in its step, and not under "More"."""
    return _NUMBER.sub("[]", place) in _first_fields() or part_of(place) in _first_fields()


class FieldPanel:
    """Controls for the fields of the step on show.

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
        self._parts: tuple[str, ...] = ()
        self._more_open = False
        self._refused: Mapping[str, Refused] = {}
        self.controls: dict[str, Control] = {}
        """By place, for the steps that were on show."""
        self._rows: dict[str, tuple[Any, Any]] = {}
        self.more = make_button("More", "Show or hide the other fields of this step", lambda _: self.fold(open_more=not self._more_open))
        self.more.add_class("sk-more")
        self.box = lay_box("sk-fields")

    def turn(self, parts: tuple[str, ...], *, seek: str = "") -> None:
        """Show the fields of these parts of the job; folded unless the place that is sought is under "More"."""
        self._more_open = (parts == self._parts and self._more_open) or (bool(seek) and not comes_first(seek))
        self._parts = parts
        self._lay_out()

    def fold(self, *, open_more: bool) -> None:
        """Show what is under "More", or fold it away."""
        self._more_open = open_more
        self._lay_out()

    def refresh(self, job: Job, lists: Lists, refused: Mapping[str, Refused]) -> None:
        """Show another job: values in their controls, refused entries in theirs, and controls that come and go with lists."""
        if lists is not self._lists or not set(job.open_places) <= set(self._job.open_places):
            self.controls.clear()
            self._rows.clear()
        self._job, self._lists, self._refused = job, lists, refused
        self._lay_out()

    def list_new(self, typed: Mapping[str, str]) -> list[str]:
        """The places, of those that a browser remembers a typed text for, where the job holds something else."""
        with self._updating:
            return [entry.place for entry in walk_entries(self._job) if entry.place in typed and self._is_new(entry, typed[entry.place])]

    def _is_new(self, entry: Entry, text: str) -> bool:
        control = self._control(entry)
        if control.read is None:
            return isinstance(control.widget, widgets.Dropdown) and text != control.widget.label
        try:
            return change_job(self._job, {entry.place: control.read(text)}) != self._job
        except KitError:
            return entry.place not in self._refused

    def enter(self, typed: Mapping[str, str]) -> None:
        """Type texts into their fields, as a person does."""
        for entry in [entry for entry in walk_entries(self._job) if entry.place in typed]:
            with self._updating:
                control = self._control(entry)
            control.enter(typed[entry.place])

    def clear(self) -> None:
        """Close every control: nothing of the job is left in the page."""
        self.box.children = ()
        for control in self.controls.values():
            close_widgets(control.box, *([control.fault] if control.fault else []))
        close_widgets(*(row for row, _ in self._rows.values()))
        self.controls.clear()
        self._rows.clear()

    def _lay_out(self) -> None:
        """The controls of the step on show, with the job's values; a control that stays keeps its place and the cursor."""
        first: list[Any] = []
        rest: list[Any] = []
        with self._updating:
            for entry in walk_entries(self._job):
                if part_of(entry.place) in self._parts and entry.place not in _NOT_TYPED:
                    (first if comes_first(entry.place) else rest).append(entry)
            children = [self._row(entry) for entry in (*first, *(rest if self._more_open else ()))]
            if rest:
                count = count_words(len(rest), "field")
                self.more.description = f"Hide {count}" if self._more_open else f"More: {count}" if first else f"Terms, offcuts and price lists: {count}"
                children.insert(len(first), self.more)
            if tuple(children) != self.box.children:
                self.box.children = children

    def _row(self, entry: Entry) -> Any:
        """The control of a field with its help behind a "?"; in the page it is found by its place."""
        control = self._control(entry)
        row, tip = self._rows.get(entry.place) or self._new_row(control)
        children = (*control.rows, tip)
        if row.children != children:
            row.children = children
        return row

    def _new_row(self, control: Control) -> tuple[Any, Any]:
        says = f"<details><summary aria-label='Help: {escape(control.widget.description, quote=True)}'>?</summary><p>{escape(control.help)}</p></details>"
        tip = lay_box("sk-tip", widgets.HTML(says if control.help else ""))
        row_and_tip = self._rows[control.place] = lay_box(f"sk-field sk-place-{_SIGNS.sub('-', control.place)}"), tip
        return row_and_tip

    def _control(self, entry: Entry) -> Control:
        control = self.controls.get(entry.place)
        if control is None:
            control = self.controls[entry.place] = self._make(entry)
        match entry:
            case FieldEntry():
                self._show(control, None if entry.place in self._job.open_places else entry.value)
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

    def _make(self, entry: Entry) -> Control:
        """The control of an entry; where the job still waits for the answer, it asks for it."""
        control = self._make_known(entry)
        if entry.place in self._job.open_places:
            if isinstance(control.widget, widgets.Dropdown):
                control.widget.options = [("choose", NOT_SAID), *control.widget.options]
            else:
                control.widget.placeholder = "measure this" if isinstance(entry, FieldEntry) and entry.rule.unit else "fill this in"
        return control

    def _make_known(self, entry: Entry) -> Control:
        place = entry.place
        if isinstance(entry, ListEntry):
            tip = f"From {entry.low} to {entry.high}. Up adds a copy of the last one, down takes the last one out."
            return make_stepper(place, label_of(place), tip, entry.low, entry.high, self._counted)
        if isinstance(entry, PartEntry):
            return make_choice(place, label_of(place), "Yes adds its fields.", [("no", False), ("yes", True)], self._parted)
        rule, lists = entry.rule, self._lists
        if place == "sink.item":
            return make_choice(place, label_of(place), help_of(place, rule), [(row.name, kind) for kind, row in lists.sinks.items()], self._sink_chosen)
        if place == "sink.style":
            return make_choice(place, label_of(place), help_of(place, rule), [(say_choice(place, style), style) for style in rule.options], self._style_chosen)
        if place == "counter.item":
            return make_choice(place, label_of(place), help_of(place, rule), [(row.name, kind) for kind, row in lists.counters.items()], self._counter_chosen)
        if place == "prices":
            folders = [(Path(name).name, name) for name in self._list_folders()]
            return make_choice(place, label_of(place), help_of(place, rule), [("the usual ones", None), *folders], self._changed)
        if rule.kind == "day":
            return make_day(place, rule, self._changed)
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
