"""On a telephone each drawing is as wide as the telephone: what is long and low stands on its end, or lists what has no room; nothing is left out."""

import re
from collections.abc import Iterator
from functools import partial

import pytest
from drawn import CORNER, STONE, boxes, estimated, extent, foot, view, words
from long_run import one_in
from random_jobs import random_estimate

from kit.draw.cuts import draw_cut_plans
from kit.draw.drawings import list_views
from kit.draw.front_elevation import draw_front
from kit.draw.level_profile import draw_level_profile
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.set_out import draw_set_out
from kit.draw.sink_sizes import draw_sink_sizes
from kit.draw.today import draw_today
from kit.draw.way_in_picture import draw_way_in
from kit.draw.widths import PHONE
from kit.estimating import Estimate

FIELD = re.compile(r'data-field="([^"]*)"')


def every_drawing(estimate: Estimate, *, narrow: bool) -> Iterator[tuple[str, str]]:
    """Name and SVG of all that the estimator's screen shows of a job as a drawing."""
    for sheet, svg in enumerate(draw_set_out(estimate, narrow=narrow), 1):
        yield f"set-out-{sheet}", svg
    yield from list_views(estimate, narrow=narrow)
    for name, draw in (("way-in", draw_way_in), ("today", draw_today), ("sink", draw_sink_sizes), ("level", draw_level_profile)):
        yield name, partial(draw, estimate)(narrow=narrow)
    yield from draw_cut_plans(estimate, narrow=narrow)


def test_every_drawing_of_the_examples_fits_a_telephone(example_estimate):
    """Its letters are as large as at a desk."""
    drawn = list(every_drawing(example_estimate, narrow=True))
    assert len(drawn) > 8
    for name, svg in drawn:
        left, _, right, _ = view(svg)
        assert right - left <= PHONE + 20.5, name
        assert 'font-size="11"' in svg


def test_both_layouts_have_ids_of_their_own(example_estimate):
    """Both stand in the page, one hidden: hatch and clip of the one on show must not be looked for in it."""
    ids = re.compile(r' id="([^"]+)"')
    desk, phone = (dict(every_drawing(example_estimate, narrow=narrow)) for narrow in (False, True))
    mine = {name: set(ids.findall(svg)) for name, svg in phone.items()}
    assert len(mine["way-in"]) >= 4
    for name, found in mine.items():
        assert not found & set(ids.findall(desk[name])), name


@pytest.mark.parametrize("seed", one_in(6, range(0, 60, 2)))
def test_what_is_drawn_stays_large_on_a_telephone(seed):
    """However many dimensions and flags stand around it: 12 in are 26 px in the elevation and the section, and both are no wider than the telephone."""
    estimate = random_estimate(seed)
    for draw in (draw_front, draw_section):
        svg = draw(estimate, narrow=True)
        left, _, right, _ = view(svg)
        assert right - left <= PHONE + 20.5
        assert foot(svg) >= 26.0


def test_what_is_typed_at_a_desk_is_typed_on_a_telephone(example_estimate):
    """Each field that stands in a drawing at a desk stands in the narrow one, which also has gaps too thin to show."""
    desk, phone = (dict(every_drawing(example_estimate, narrow=narrow)) for narrow in (False, True))
    assert desk.keys() == {*phone, *(name for name in desk if name.startswith("set-out-"))}
    asked = {name: set(FIELD.findall(svg)) for name, svg in phone.items()}
    assert len(asked["level"]) >= 6
    for name, fields in asked.items():
        assert set(FIELD.findall(desk[name])) <= fields, name


def test_the_plan_stands_on_its_end():
    """A run of 96 x 25 1/2 in with the sink's middle 42 in from its left end: at the top is the left end, on the right the wall."""
    svg = draw_plan(estimated(STONE), narrow=True)
    scale = foot(svg) / 12.0
    counter, sink = extent(svg, "counter"), extent(svg, "apron")
    assert (counter[3] - counter[1]) / scale == pytest.approx(96.0, abs=0.3)
    assert (counter[2] - counter[0]) / scale == pytest.approx(25.5, abs=0.3)
    assert ((sink[1] + sink[3]) / 2.0 - counter[1]) / scale == pytest.approx(42.0, abs=0.3)
    assert abs(sink[0] - counter[0]) < abs(counter[2] - sink[2])  # the apron is at the front, on the left
    assert max(edges[2] for edges in boxes(svg, "wall")) > counter[2] + 5.0


def test_the_plan_on_its_end_has_the_dimensions_of_the_other():
    """The same lengths in both; those along the run are turned, those across it level."""
    desk, phone = (draw_plan(estimated(CORNER), narrow=narrow) for narrow in (False, True))
    on_desk, on_phone = (set(re.findall(r"\d[\d /]* in\b", " ".join(word.words for word in words(svg)))) for svg in (desk, phone))
    assert len(on_desk) > 9
    assert on_desk == on_phone
    long = next(word.box for word in words(phone) if word.words == "110 in")
    assert long[3] - long[1] > long[2] - long[0]


def test_more_readings_than_the_profile_has_room_for_are_listed():
    """Twenty readings at 5 in: each has its row."""
    readings = [{"at": f"{5 * number} in", "low": f"{number}/32 in"} for number in range(20)]
    svg = draw_level_profile(estimated(STONE, levelness__readings=readings), narrow=True)
    for number in (1, 7, 20):
        assert f'data-field="levelness.readings[{number}].low"' in svg
        assert f'data-field="levelness.readings[{number}].at"' in svg
