"""The calendar as a chart: sound SVG, every step on it, nothing told by color alone."""

import xml.etree.ElementTree as ET

from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated

from kit.draw.calendar_chart import draw_calendar
from kit.draw.day_columns import find_spans
from kit.outlook import plan_schedule
from kit.steps import Step
from kit.units import format_instant

SVG = "{http://www.w3.org/2000/svg}"


def drawn(found, labels=None):
    names = labels or {step: row.name for step, row in found.lists.steps.items()}
    return ET.fromstring(draw_calendar(plan_schedule(found), names))


def texts(picture):
    return ["".join(text.itertext()) for text in picture.iter(f"{SVG}text")]


def test_every_step_has_its_row():
    """A name and a bar with its dates, in jobs of every kind; all inside of the picture."""
    for found in (*map(estimated, STEMS), *map(random_estimate, range(24))):
        picture, plan = drawn(found), plan_schedule(found).schedule
        told = [title.text for title in picture.iter(f"{SVG}title")]
        assert len(told) == len(plan.steps)
        for row, words in zip(plan.steps, told, strict=True):
            assert f"{format_instant(row.start)} to {format_instant(row.finish)}" in words
            assert ("no spare time" in words) is row.critical
        width = float(picture.get("width"))
        for bar in picture.iter(f"{SVG}rect"):
            assert 0 <= float(bar.get("x")) <= float(bar.get("x")) + float(bar.get("width")) <= width


def test_own_hired_waits_and_spare_time_differ_in_shape():
    """Filled or outlined, a line with an end or a flat box, bold or not; nothing is dashed, no color but the text's."""
    picture = drawn(estimated(STONE))
    bars = [bar for group in picture.iter(f"{SVG}g") for bar in group.iter(f"{SVG}rect")]
    assert {bar.get("fill") for bar in bars} == {"currentColor", "none"}
    assert {path.get("data-what") for path in picture.iter(f"{SVG}path")} >= {"wait", "spare"}
    assert not [element for element in picture.iter() if element.get("stroke-dasharray")]
    colors = {element.get(name) for element in picture.iter() for name in ("fill", "stroke")} - {None}
    assert colors <= {"currentColor", "none", "url(#sk-off)"}
    assert "Set the countertop (countertop shop)" in " ".join(texts(picture))


def test_a_step_over_a_weekend_has_two_bars():
    """Begun on a Friday and done on the Monday: nothing is drawn over the days without work."""
    found = [(one, row) for one in map(estimated, STEMS) for row in plan_schedule(one).schedule.steps if row.start.weekday() == 4 and row.finish.weekday() == 0]
    assert found
    for one, row in found:
        assert (row.finish.date() - row.start.date()).days == 3
        name = one.lists.steps[row.step].name
        group = next(group for group in drawn(one).iter(f"{SVG}g") if group.find(f"{SVG}title").text.startswith(name))
        assert len(group.findall(f"{SVG}rect")) == 2


def test_the_days_without_a_sink_are_bracketed():
    """With their number; no bracket where no sink is taken out."""
    assert any(text.startswith("No kitchen sink: 1") for text in texts(drawn(estimated(STONE))))
    assert not any("No kitchen sink" in text for text in texts(drawn(estimated(STONE, {"old.sink_kind": "none"}))))


def test_every_label_is_whole():
    """In a fixed-width typeface no text leaves the picture, none runs into the bars' columns, however long the lists' names are."""
    long = {step: f"{row.name} and then some more of it until nobody would read on" for step, row in estimated(STONE).lists.steps.items()}
    for found, labels in ((estimated(STONE), long), *((found, None) for found in (*map(estimated, STEMS), *map(random_estimate, range(12))))):
        picture = drawn(found, labels)
        left, right = 0.0, float(picture.get("width"))
        size = float(picture.get("font-size"))
        for text in picture.iter(f"{SVG}text"):
            wide, x = len("".join(text.itertext())) * 0.602 * size, float(text.get("x"))
            start = x - wide if text.get("text-anchor") == "end" else x
            assert left <= start
            assert start + wide <= right


def test_every_day_that_is_worked_has_its_date():
    """Also on a long job, whose days are narrow columns: weekday, month and day stand on three lines."""
    found = estimated("corner_dishwasher_drain_down")
    schedule = plan_schedule(found)
    days = {span[0].date() for row in schedule.schedule.steps for span in find_spans(schedule.calendar, row)}
    words = texts(drawn(found))
    assert sum(word in {"Mon", "Tue", "Wed", "Thu", "Fri"} for word in words) >= len(days) > 10
    assert {str(day.day) for day in days} <= set(words)


def test_names_are_escaped():
    """Whatever the lists call a step."""
    picture = drawn(estimated(STONE), {Step.SEAL: "<b>&'seal'"})
    assert "<b>&'seal'" in texts(picture)
