"""The bar chart of the calendar."""

import xml.etree.ElementTree as ET

import pytest

import kit
from kit.draw.calendar import draw_calendar
from kit.outlook import schedule_of

LISTS = kit.load_lists(kit.shipped("price_lists"))
EXAMPLES = sorted(kit.shipped("examples").glob("*.toml"))
LABELS = {step: row.label for step, row in LISTS.steps.items()}
SVG = "{http://www.w3.org/2000/svg}"


def chart(path):
    """The calendar of an example and its drawing."""
    planned = schedule_of(kit.estimate(kit.read_job(path), LISTS))
    return planned, draw_calendar(planned, LABELS)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_step_has_its_bar_in_the_right_order(path):
    """One bar a step; a step that starts later lies further right; the same calendar gives the same picture."""
    planned, svg = chart(path)
    root = ET.fromstring(svg)
    rows = root.findall(f"{SVG}g")
    assert len(rows) == len(planned.schedule.steps)
    lefts = [float(row.find(f"{SVG}rect").get("x")) for row in rows]
    starts = [step.start for step in planned.schedule.steps]
    assert all((lefts[i] <= lefts[j] + 0.11) for i in range(len(rows)) for j in range(len(rows)) if starts[i] <= starts[j])
    assert svg == draw_calendar(planned, LABELS)


def test_waits_hired_trades_and_days_without_a_sink_are_named():
    """What matters is written in words: who is hired, what can't slip, how long there is no sink."""
    planned, svg = chart(kit.shipped("examples") / "corner_dishwasher_drain_down.toml")
    assert f"no kitchen sink: {planned.days_without_sink:.1f} days" in svg
    assert "(plumber)" in svg
    assert svg.count("\u25c6") == 1 + len([step for step in planned.schedule.steps if step.critical])
    waits = [step for step in planned.schedule.steps if step.wait_until > step.finish]
    assert ET.fromstring(svg).findall(f"{SVG}g/{SVG}line").__len__() == len(waits) > 0


def test_labels_are_escaped():
    """A label from a list reaches the picture as text."""
    planned, _ = chart(EXAMPLES[0])
    svg = draw_calendar(planned, dict.fromkeys(LABELS, "<script>alert(1)</script>"))
    assert "<script" not in svg
    ET.fromstring(svg)
