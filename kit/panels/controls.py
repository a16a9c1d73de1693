"""One control for each field of the job, made from the field's own rule: typed measures, lists, steppers, what-if sliders."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import ipywidgets as widgets

from kit.job.fields import UNKNOWN, Record, Rule
from kit.job.file import format_value

__all__ = ["WHAT_IF", "Control", "make_control", "walk_fields"]

# what a person plays with; everything else is measured and typed. Low, high, step in the canonical unit.
WHAT_IF: dict[str, tuple[float, float, float]] = {
    "sink.bowls[1].depth": (6.0, 11.0, 0.25),
    "sink.apron_height": (7.0, 12.0, 0.25),
    "sink.weight": (20.0, 300.0, 1.0),
    "plumbing.stub_height": (8.0, 26.0, 0.25),
    "counter.runs[1].length": (12.0, 144.0, 0.5),
    "counter.runs[2].length": (12.0, 144.0, 0.5),
    "site.carry": (0.0, 200.0, 5.0),
    "terms.hours_factor": (0.5, 2.0, 0.05),
    "terms.waste": (0.0, 0.3, 0.01),
    "terms.profit": (0.0, 0.5, 0.01),
    "counter.bead": (0.125, 0.5, 0.0625),
}
_WIDE = widgets.Layout(width="auto", min_width="260px")
_STYLE = {"description_width": "180px"}
_BARE = re.compile(r"-?[0-9./\s\u00bc-\u00be\u2150-\u215e]*[0-9\u00bc-\u00be\u2150-\u215e]")


@dataclass(slots=True)
class Control:
    """A field on the screen: its place in the job, its rule, its widget, how the widget shows a value and what was typed."""

    place: str
    rule: Rule
    widget: Any
    show: Callable[[Any], None]
    typed: Callable[[], Any]


def walk_fields(record: Record, path: str = "") -> Iterator[tuple[str, Rule, Any]]:
    """Place, rule and value of every field of a record, the parts of lists among them, in the order of measuring."""
    for name in type(record).model_fields:
        value, key = getattr(record, name), record.key(name)
        place = f"{path}.{key}" if path else key
        rule = type(record).rules.get(name)
        if rule is not None:
            yield place, rule, value
        elif isinstance(value, Record):
            yield from walk_fields(value, place)
        elif isinstance(value, tuple):
            for number, part in enumerate(value, 1):
                yield from walk_fields(part, f"{place}[{number}]")


def make_control(place: str, rule: Rule, value: Any, changed: Callable[[str, Any], None]) -> Control:
    """The control for one field; `changed(place, typed)` is called with what a job file would hold."""
    if place in WHAT_IF and rule.kind in {"length", "weight", "distance", "share"}:
        control = _slider(place, rule)
    elif rule.kind in {"choice", "flag"}:
        control = _list(place, rule)
    elif rule.kind == "count":
        control = _stepper(place, rule)
    else:
        control = _text(place, rule)
    control.show(value)
    control.widget.observe(lambda _: changed(place, control.typed()), names="value")
    return control


def _readout(step: float) -> str:
    """As many decimals as the step has, four at most."""
    decimals = next(places for places in range(5) if places == 4 or abs(step * 10**places - round(step * 10**places)) < 1e-9)
    return f".{decimals}f"


def _label(place: str, unit: str = "") -> str:
    words = place.rsplit(".", maxsplit=1)[-1].replace("_", " ")
    return f"{words.capitalize()} [{unit}]" if unit else words.capitalize()


def _help(rule: Rule) -> str:
    facts = [rule.help]
    if rule.range_text:
        facts.append(f"Range {rule.range_text}.")
    if rule.assume is not None:
        facts.append(f"Unknown: {rule.assume} is assumed.")
    return " ".join(facts)


def _text(place: str, rule: Rule) -> Control:
    widget = widgets.Text(
        description=_label(place, rule.unit),
        tooltip=_help(rule),
        placeholder=UNKNOWN if rule.may_be_unknown else "",
        continuous_update=False,
        layout=_WIDE,
        style=_STYLE,
    )

    def show(value: Any) -> None:
        widget.value = "" if value is None else str(format_value(rule, value))

    def typed() -> Any:
        text = widget.value.strip()
        # the label names the unit, so a bare tape reading is one in that unit
        return f"{text} {rule.unit}" if rule.unit and _BARE.fullmatch(text) else text or None

    return Control(place, rule, widget, show, typed)


def _list(place: str, rule: Rule) -> Control:
    flags = rule.kind == "flag"
    options: list[tuple[str, Any]] = [("yes", True), ("no", False)] if flags else [(option, option) for option in rule.options]
    if rule.may_be_unknown or rule.optional:
        options.append((UNKNOWN if rule.may_be_unknown else "as usual", None))
    widget = widgets.Dropdown(options=options, description=_label(place), tooltip=_help(rule), layout=_WIDE, style=_STYLE)

    def show(value: Any) -> None:
        widget.value = value

    def typed() -> Any:
        return widget.value

    return Control(place, rule, widget, show, typed)


def _stepper(place: str, rule: Rule) -> Control:
    if rule.may_be_unknown or rule.optional:
        return _whole_text(place, rule)
    low, high = int(rule.low or 0), int(rule.high or 0)
    widget = widgets.BoundedIntText(min=low, max=high, description=_label(place), tooltip=_help(rule), layout=_WIDE, style=_STYLE)

    def show(value: Any) -> None:
        widget.value = value

    def typed() -> Any:
        return widget.value

    return Control(place, rule, widget, show, typed)


def _whole_text(place: str, rule: Rule) -> Control:
    control = _text(place, rule)

    def typed() -> Any:
        text = control.widget.value.strip()
        return int(text) if text.lstrip("-").isdecimal() else text or None

    return Control(place, rule, control.widget, control.show, typed)


def _slider(place: str, rule: Rule) -> Control:
    low, high, step = WHAT_IF[place]
    scale = 100.0 if rule.kind == "share" else 1.0
    widget = widgets.FloatSlider(
        min=low * scale,
        max=high * scale,
        step=step * scale,
        description=_label(place, rule.unit),
        tooltip=_help(rule),
        readout_format=_readout(step * scale),
        layout=_WIDE,
        style=_STYLE,
    )

    def show(value: Any) -> None:
        known = value if value is not None else rule.read(rule.assume) if rule.assume is not None else low
        widget.min, widget.max = min(low, known) * scale, max(high, known) * scale
        widget.value = known * scale

    def typed() -> Any:
        return format_value(rule, widget.value / scale)

    return Control(place, rule, widget, show, typed)
