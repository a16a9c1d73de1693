"""One control for each field of the job, made from the field's own rule: typed measures, lists, steppers."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import ipywidgets as widgets

from kit.job.fields import UNKNOWN, Rule
from kit.job.file import format_value

__all__ = ["Changed", "Control", "help_of", "label_of", "make_choice", "make_control", "make_stepper"]

Changed = Callable[[str, Any], None]
AS_USUAL = "as usual"
ONE = {"bowls": "bowl", "runs": "run", "holes": "hole", "readings": "reading", "offcuts": "offcut"}
_BARE = re.compile(r"-?[0-9./\s\u00bc-\u00be\u2150-\u215e]*[0-9\u00bc-\u00be\u2150-\u215e]")
_NUMBERED = re.compile(r"(\w+)\[(\d+)\]")


@dataclass(slots=True)
class Control:
    """A field on the screen: its place in the job, its widget, what is laid out for it, how it shows a value, its help."""

    place: str
    widget: Any
    box: Any
    show: Callable[[Any], None]
    help: str = ""


def label_of(place: str, unit: str = "") -> str:
    """What stands before a control: the field, after the part that it belongs to where a group has several alike."""
    *way, last = place.split(".")
    way = way if way and "[" in way[0] else way[1:]  # the part itself stands above the controls already
    context = " ".join(_NUMBERED.sub(lambda found: f"{ONE.get(found[1], found[1])} {found[2]}", word).replace("_", " ") for word in way)
    name = last.replace("_", " ")
    words = f"{context}: {name}" if context else name
    return f"{words[0].upper()}{words[1:]} [{unit}]" if unit else f"{words[0].upper()}{words[1:]}"


def help_of(rule: Rule) -> str:
    """What the field is, its range, and what is assumed when the visit can't tell."""
    facts = [f"{rule.help}."]
    if rule.range_text:
        facts.append(f"Range {rule.range_text}.")
    if rule.common:
        facts.append(f"Often met (common practice, no source): {', '.join(rule.common)}; any other may be typed.")
    if rule.assume is not None:
        facts.append(f"When unknown, {rule.assume} is assumed{f': {rule.why}' if rule.why else ''}.")
    elif rule.like is not None:
        facts.append("When unknown, taken from the field that it follows.")
    elif rule.unknown_ok:
        facts.append("When unknown, nothing is assumed: what needs it answers unknown.")
    return " ".join(facts)


def make_control(place: str, rule: Rule, changed: Changed, *, usual: int | None = None) -> Control:
    """The control for one field; `changed(place, typed)` is called with what a job file would hold.

    `usual` is the whole number that an optional count stands for when the job does not say.
    """
    if rule.kind in {"choice", "flag"}:
        return _list(place, rule, changed)
    if rule.kind == "count" and not rule.may_be_unknown and (usual is not None or not rule.optional):
        return _count(place, rule, changed, usual)
    return _text(place, rule, changed)


def _facts(label: str, tip: str) -> dict[str, Any]:
    return {"description": label, "tooltip": tip, "layout": {"width": "auto"}, "style": {"description_width": "190px"}}


def _text(place: str, rule: Rule, changed: Changed) -> Control:
    assumed = f"unknown: {rule.assume} is taken" if rule.assume is not None else UNKNOWN if rule.may_be_unknown else AS_USUAL if rule.optional else ""
    facts = {"placeholder": assumed, "continuous_update": False, **_facts(label_of(place, rule.unit), help_of(rule))}
    widget = widgets.Combobox(options=list(rule.common), ensure_option=False, **facts) if rule.common else widgets.Text(**facts)

    def show(value: Any) -> None:
        widget.value = "" if value is None else str(format_value(rule, value))

    def typed() -> Any:
        text = widget.value.strip()
        if rule.kind == "count":
            return int(text) if text.lstrip("-").isdecimal() else text or None
        if rule.kind == "money" and _BARE.fullmatch(text):
            return f"{text} USD"
        # the label names the unit, so a bare tape reading is one in that unit
        return f"{text} {rule.unit}" if rule.unit and _BARE.fullmatch(text) else text or None

    widget.observe(lambda _: changed(place, typed()), names="value")
    return Control(place, widget, widget, show, help_of(rule))


def _list(place: str, rule: Rule, changed: Changed) -> Control:
    options: list[tuple[str, Any]] = [("yes", True), ("no", False)] if rule.kind == "flag" else [(option, option) for option in rule.options]
    if rule.may_be_unknown or rule.optional:
        options.append((UNKNOWN if rule.may_be_unknown else AS_USUAL, None))
    return make_choice(place, label_of(place), help_of(rule), options, changed)


def make_choice(place: str, label: str, tip: str, options: Sequence[tuple[str, Any]], changed: Changed) -> Control:
    """A drop-down list of what may stand at a place; a value that is not among the options is added when it is shown."""
    widget = widgets.Dropdown(options=list(options), **_facts(label, tip))

    def show(value: Any) -> None:
        if value not in [option for _, option in widget.options]:
            widget.options = [*widget.options, (str(value), value)]
        widget.value = value

    widget.observe(lambda _: changed(place, widget.value), names="value")
    return Control(place, widget, widget, show, tip)


def _count(place: str, rule: Rule, changed: Changed, usual: int | None) -> Control:
    def taken(place: str, value: int) -> None:
        changed(place, None if value == usual else value)

    control = make_stepper(place, label_of(place), help_of(rule), int(rule.low or 0), int(rule.high or 0), taken)
    if usual is None:
        return control
    inner = control.show

    def show(value: Any) -> None:
        inner(usual if value is None else value)

    control.show = show
    return control


def make_stepper(place: str, label: str, tip: str, low: int, high: int, changed: Callable[[str, int], None]) -> Control:
    """A whole number with steps up and down."""
    widget = widgets.BoundedIntText(min=low, max=high, **_facts(label, tip))

    def show(value: Any) -> None:
        widget.value = value

    widget.observe(lambda _: changed(place, int(widget.value)), names="value")
    return Control(place, widget, widget, show, tip)
