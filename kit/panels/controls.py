"""One control for each field of the job, made from the field's own rule: typed measures, lists, steppers, what-if sliders.

What was measured is typed; a slider shows the same field of the same job and moves it in steps.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.job import Job
from kit.job.field_names import label_of, say_choice
from kit.job.fields import UNKNOWN, Rule
from kit.job.file import format_value
from kit.lists import Lists
from kit.panels.entries import walk_fields
from kit.panels.screen import Updating
from kit.panels.slider import Slider

__all__ = [
    "NOT_SAID",
    "WHAT_IF",
    "Control",
    "OnChange",
    "help_of",
    "make_choice",
    "make_control",
    "make_slider",
    "make_stepper",
    "profit_label",
    "slider_fields",
    "typed_dollars",
    "usual_value",
]

OnChange = Callable[[str, Any], None]
"""Called with the place of a field and what was typed."""
AS_USUAL, NOT_SAID = "as usual", ""
AT, REFUSED = "sk-at:", "sk-refused"  # classes by which the page finds the control of a place, and those with a refused entry
_SHORT = 19  # letters of a choice that stand beside their label; longer ones, and names, stand below it where a picture takes the room
_BARE_AMOUNT = re.compile(r"-?[0-9][0-9,]*(\.[0-9]*)?")
_BARE = re.compile(r"-?[0-9./\s\u00bc-\u00be\u2150-\u215e]*[0-9\u00bc-\u00be\u2150-\u215e]")
# low, high, step in the canonical unit; a number in brackets stands for each bowl or run
WHAT_IF: dict[str, tuple[float, float, float]] = {
    "sink.bowls[].depth": (6.0, 11.0, 0.25),
    "sink.apron_height": (7.0, 12.0, 0.25),
    "sink.weight": (20.0, 300.0, 1.0),
    "plumbing.stub_height": (8.0, 26.0, 0.25),
    "counter.runs[].length": (12.0, 144.0, 0.5),
    "site.carry": (0.0, 200.0, 5.0),
    "counter.bead": (0.125, 0.5, 0.0625),
    "terms.hours_factor": (0.5, 2.0, 0.05),
    "terms.waste": (0.0, 0.3, 0.01),
    "terms.profit": (0.0, 0.5, 0.01),
    "terms.overhead": (0.0, 0.5, 0.01),
}
_NUMBER = re.compile(r"\[\d+\]")
ITEMS_OWN = "each item's own"


@dataclass(slots=True)
class Control:
    """A field on the screen: its place in the job, its widget, what is laid out for it, how it shows a value, its help.

    An entry that is refused stays in it, marked, with the reason below it (`rows`), until `show` shows a sound value.
    """

    place: str
    widget: Any
    box: Any
    show: Callable[[Any], None]
    help: str = ""
    read: Callable[[str], Any] | None = None
    """What a job file would hold for a typed text; None where nothing is typed."""
    fault: Any = None  # made when it is first wanted

    def __post_init__(self) -> None:
        self.widget.add_class(f"{AT}{self.place}")

    @property
    def rows(self) -> tuple[Any, ...]:
        """What is laid out: the box and, after a refused entry, what is wrong with it."""
        return (self.box, self.fault) if self.fault is not None and self.fault.value else (self.box,)

    def refuse(self, typed: Any, message: str) -> None:
        """Show what was typed, though it is not taken over, and why."""
        if isinstance(self.widget, widgets.Text):
            text = "" if typed is None else str(typed)
            if self.widget.value.strip() not in {text, text.rpartition(" ")[0]}:  # what the person typed stands there, the unit is in the label
                self.widget.value = text
        elif not isinstance(self.widget, Slider):
            self.show(typed)
        self.widget.add_class(REFUSED)
        self.fault = self.fault or widgets.HTML()
        self.fault.value = f"<p class='sk-fault'>{escape(message)}</p>"

    def enter(self, text: str) -> None:
        """Type a text, or choose what is listed under it, as a person does."""
        if isinstance(self.widget, widgets.Text):
            self.widget.value = text
        elif isinstance(self.widget, widgets.Dropdown):
            self.widget.value = next((value for label, value in self.widget.options if label == text), self.widget.value)
        elif isinstance(self.widget, widgets.BoundedIntText) and text.lstrip("-").isdecimal():
            self.widget.value = int(text)

    def accept(self, value: Any) -> None:
        """Show a value of the job; nothing is wrong with the entry any more."""
        if self.fault is not None and self.fault.value:
            self.fault.value = ""
            self.widget.remove_class(REFUSED)
        self.show(value)


def help_of(place: str, rule: Rule) -> str:
    """What the field is, its range, and what is assumed when the visit can't tell."""
    facts = [f"{rule.help}."]
    if rule.range_text:
        facts.append(f"Range {rule.range_text}.")
    if rule.common:
        facts.append(f"Common (common practice, no source): {', '.join(rule.common)}; type any other.")
    if rule.assume is not None:
        facts.append(f"When unknown, {_assumed_words(place, rule)} is assumed{f': {rule.why}' if rule.why else ''}.")
    elif rule.like is not None:
        facts.append("When unknown, it is taken from the field it follows.")
    elif rule.unknown_ok:
        facts.append("When unknown, nothing is assumed: checks that need it say so.")
    return " ".join(facts)


def make_control(place: str, rule: Rule, on_change: OnChange, *, usual: int | None = None) -> Control:
    """The control for one field; `on_change(place, typed)` is called with what a job file would hold.

    `usual` is the whole number that an optional count stands for when the job does not say.
    """
    if rule.kind in {"choice", "flag"}:
        return _list(place, rule, on_change)
    if rule.kind == "count" and not rule.may_be_unknown and (usual is not None or not rule.optional):
        return _count(place, rule, on_change, usual)
    return _text(place, rule, on_change)


def _facts(label: str, tip: str) -> dict[str, Any]:
    return {"description": label, "tooltip": tip, "layout": {"width": "auto"}, "style": {"description_width": "190px"}}


def _text(place: str, rule: Rule, on_change: OnChange) -> Control:
    assumed = (
        f"{UNKNOWN}: use {_assumed_words(place, rule)}" if rule.assume is not None else UNKNOWN if rule.may_be_unknown else AS_USUAL if rule.optional else ""
    )
    facts = {"placeholder": assumed, "continuous_update": False, **_facts(label_of(place, rule.unit), help_of(place, rule))}
    widget = widgets.Combobox(options=list(rule.common), ensure_option=False, **facts) if rule.common else widgets.Text(**facts)
    if rule.kind == "text":
        widget.add_class("sk-long")

    def show(value: Any) -> None:
        widget.value = "" if value is None else str(format_value(rule, value))

    def read(text: str) -> Any:
        text = text.strip()
        if rule.kind == "count":
            return int(text) if text.lstrip("-").isdecimal() else text or None
        if rule.kind == "money":
            return typed_dollars(text) or None
        # the label names the unit, so a bare tape reading is one in that unit
        return f"{text} {rule.unit}" if rule.unit and _BARE.fullmatch(text) else text or None

    widget.observe(lambda change: on_change(place, read(change.new)), names="value")  # by now another thread may show the old one again
    return Control(place, widget, widget, show, help_of(place, rule), read)


def _list(place: str, rule: Rule, on_change: OnChange) -> Control:
    options: list[tuple[str, Any]] = [("yes", True), ("no", False)] if rule.kind == "flag" else [(say_choice(place, option), option) for option in rule.options]
    if rule.may_be_unknown or rule.optional:
        options.append((_unknown_words(place, rule) if rule.may_be_unknown else AS_USUAL, None))
    return make_choice(place, label_of(place), help_of(place, rule), options, on_change)


def _unknown_words(place: str, rule: Rule) -> str:
    """What "unknown" stands for in a list: the value that is taken then."""
    return UNKNOWN if rule.assume is None else f"{UNKNOWN}: use {_assumed_words(place, rule)}"


def _assumed_words(place: str, rule: Rule) -> str:
    """What is taken in the place of an answer, as people say it."""
    assumed = rule.assume or ""
    return {"true": "yes", "false": "no"}.get(assumed) or (say_choice(place, assumed) if rule.options else assumed)


def make_choice(place: str, label: str, tip: str, options: Sequence[tuple[str, Any]], on_change: OnChange) -> Control:
    """A drop-down list of what may stand at a place, None for nothing; a value that is not among the options is added when it is shown."""
    listed = [(words, NOT_SAID if option is None else option) for words, option in options]  # a list that holds None shows nothing for it
    widget = widgets.Dropdown(options=listed, **_facts(label, tip))
    if any(len(words) > _SHORT for words, _ in listed):
        widget.add_class("sk-long")

    def show(value: Any) -> None:
        shown = NOT_SAID if value is None else value
        if shown not in [option for _, option in widget.options]:
            widget.options = [*widget.options, (str(value), shown)]
        widget.value = shown

    widget.observe(lambda change: on_change(place, None if change.new == NOT_SAID else change.new), names="value")
    return Control(place, widget, widget, show, tip)


def _count(place: str, rule: Rule, on_change: OnChange, usual: int | None) -> Control:
    def taken(place: str, value: int) -> None:
        on_change(place, None if value == usual else value)

    control = make_stepper(place, label_of(place), help_of(place, rule), int(rule.low or 0), int(rule.high or 0), taken)
    if usual is None:
        return control
    inner = control.show

    def show(value: Any) -> None:
        inner(usual if value is None else value)

    control.show = show
    return control


def make_stepper(place: str, label: str, tip: str, low: int, high: int, on_change: Callable[[str, int], None]) -> Control:
    """A whole number with steps up and down."""
    widget = widgets.BoundedIntText(min=low, max=high, **_facts(label, tip))

    def show(value: Any) -> None:
        widget.value = value

    widget.observe(lambda change: on_change(place, int(change.new)), names="value")
    return Control(place, widget, widget, show, tip)


def profit_label(profit_as: str) -> str:
    """What a slider of the profit is called: margin and markup are not the same, so which of them it is stands at the field."""
    return f"Profit, {say_choice('terms.profit_as', profit_as)} [%]"


def slider_fields(job: Job) -> Iterator[tuple[str, Rule, Any]]:
    """Place, rule and value of the fields that get a slider; an apron that the sink does not have gets none."""
    for place, rule, value in walk_fields(job):
        if _pattern(place) in WHAT_IF and not (place == "sink.apron_height" and value is None):
            yield place, rule, value


def usual_value(place: str, lists: Lists) -> float | None:
    """What holds when the job's terms don't say: the company's figure; None where each item has its own."""
    company = lists.company
    return {"terms.hours_factor": 1.0, "terms.profit": company.profit, "terms.overhead": company.overhead}.get(place)


def _pattern(place: str) -> str:
    return _NUMBER.sub("[]", place)


def make_slider(place: str, rule: Rule, on_change: OnChange, *, usual: float | None = None) -> Control:
    """A slider; where the value may be left open a box beside it says so, and moving the slider fills it in."""
    low, high, step = WHAT_IF[_pattern(place)]
    scale = 100.0 if rule.kind == "share" else 1.0
    word = UNKNOWN if rule.may_be_unknown else ITEMS_OWN if usual is None and rule.optional and place.startswith("terms.") else ""
    stand_in = usual if usual is not None or rule.assume is None else rule.read(rule.assume)
    own: float | None = None  # what the job says
    at, showing = low, Updating()

    def lay(value: float | None) -> None:
        """Stand at a value; at one that is left open, where it is taken for something that has a figure."""
        nonlocal at
        taken = stand_in if value is None else value
        at = at if taken is None else taken
        slider.show(at * scale, "-" if taken is None else str(format_value(rule, taken)))
        with showing:
            if left_open is not None:
                left_open.value = value is None

    def show(value: Any) -> None:
        nonlocal own
        own = value
        lay(value)

    def moved(to: float) -> None:
        value = float(round(Decimal(to) / Decimal(str(step * scale))) * Decimal(str(step)))  # whole steps, without what floats leave behind
        lay(value)
        as_usual = usual is not None and abs(value - usual) < 1e-9 and own != usual
        on_change(place, None if as_usual else format_value(rule, value))

    def opened(change: Any) -> None:
        if not showing:
            value = None if change.new else at
            lay(value)
            on_change(place, None if value is None else format_value(rule, value))

    slider = Slider(label_of(place, rule.unit), help_of(place, rule), (low * scale, high * scale), step * scale, moved)
    left_open = None
    if not word:
        return Control(place, slider, slider, show, help_of(place, rule))
    beside: dict[str, Any] = {"layout": {"width": "auto", "flex": "0 0 auto", "margin": "0 0 0 12px"}}
    left_open = widgets.Checkbox(description=word, indent=False, tooltip=f"{label_of(place, rule.unit)}: {word}", **beside)
    left_open.observe(opened, names="value")
    box = widgets.HBox([slider, left_open])
    box.add_class("sk-slider-row")
    return Control(place, slider, box, show, help_of(place, rule))


def typed_dollars(text: str) -> str:
    """What was typed into a field whose label names US dollars: a bare number is in these."""
    text = text.strip()
    return f"{text} USD" if _BARE_AMOUNT.fullmatch(text) else text
