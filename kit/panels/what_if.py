"""Sliders to play with: what if the bowl were deeper, the walk longer, the crew slower?

What was measured is typed; a slider shows the same field of the same job and moves it in steps.
"""

import re
from collections.abc import Iterator
from typing import Any

import ipywidgets as widgets

from kit.job import Job
from kit.job.fields import UNKNOWN, Rule
from kit.job.file import format_value
from kit.lists import Lists
from kit.panels.controls import Changed, Control, help_of, label_of
from kit.panels.entries import walk_fields

__all__ = ["WHAT_IF", "make_slider", "slider_fields", "usual_value"]

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


def _readout(step: float) -> str:
    """As many decimals as the step has, four at most."""
    decimals = next(places for places in range(5) if places == 4 or abs(step * 10**places - round(step * 10**places)) < 1e-9)
    return f".{decimals}f"


def make_slider(place: str, rule: Rule, changed: Changed, *, usual: float | None = None) -> Control:
    """A slider; where the value may be left open a box beside it says so, and moving the slider fills it in."""
    low, high, step = WHAT_IF[_pattern(place)]
    scale = 100.0 if rule.kind == "share" else 1.0
    slider = widgets.FloatSlider(
        min=low * scale,
        max=high * scale,
        step=step * scale,
        description=_name(place, rule),
        tooltip=help_of(rule),
        readout_format=_readout(step * scale),
        layout={"width": "auto", "flex": "1 1 auto"},
        style={"description_width": "190px"},
    )
    word = UNKNOWN if rule.may_be_unknown else ITEMS_OWN if usual is None and rule.optional and place.startswith("terms.") else ""
    left_open = widgets.Checkbox(description=word, indent=False, tooltip=f"{_name(place, rule)}: {word}", layout={"width": "auto", "flex": "0 0 auto"})
    showing = False

    def show(value: Any) -> None:
        nonlocal showing
        showing = True
        known = next(number for number in (value, usual, rule.read(rule.assume) if rule.assume is not None else None, low) if number is not None)
        slider.min, slider.max = min(low, known) * scale, max(high, known) * scale
        slider.value = known * scale
        left_open.value = bool(word) and value is None
        showing = False

    def moved(_: Any) -> None:
        if not showing:
            value = slider.value / scale
            changed(place, None if usual is not None and abs(value - usual) < 1e-9 else format_value(rule, value))

    def opened(_: Any) -> None:
        if not showing:
            changed(place, None if left_open.value else format_value(rule, slider.value / scale))

    slider.observe(moved, names="value")
    left_open.observe(opened, names="value")
    box = widgets.HBox([slider, left_open]) if word else slider
    return Control(place, slider, box, show, help_of(rule))


def _name(place: str, rule: Rule) -> str:
    """The label, with the part of the job in front: sliders of all parts stand together."""
    part, label = place.partition(".")[0], label_of(place, rule.unit)
    return label if part in {"terms", "plumbing", "site"} or "[" in place else f"{part.capitalize()}: {label[0].lower()}{label[1:]}"
