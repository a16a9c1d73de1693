"""The picture as a form: what can be typed in it is the very field, and what is typed there goes the way of the field."""

import json
import re
from dataclasses import replace
from html import unescape

import pytest

from kit import estimate, load_lists, read_job, shipped
from kit.draw.front_elevation import draw_front
from kit.draw.level_profile import draw_level_profile
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.sink_sizes import draw_sink_sizes
from kit.draw.today import draw_today
from kit.draw.way_in_picture import draw_way_in
from kit.errors import KitError
from kit.job import change_job
from kit.panels.entries import walk_fields
from kit.panels.estimator import Estimator
from kit.panels.picture_form import make_fillable
from kit.units import format_length

FILL = re.compile(r'<g class="sk-fill" role="button" tabindex="0" aria-label="([^"]*)" data-fields="[^"]*" data-field="([^"]*)">.*?<text[^>]*>(.*?)</text>')
MOVED_IN = 0.25
DRAWN = (draw_way_in, draw_front, draw_today, draw_sink_sizes, draw_plan, draw_section, draw_level_profile)
COUNTED = {"site.carry", "site.stair_steps", "site.floor"}
"""What is typed in feet, or counted."""


def fills(job, lists):
    """The words of each dimension that can be typed, by its field, in all pictures of a job."""
    priced = estimate(job, lists)
    drawn = "".join(make_fillable(draw(priced), job) for draw in DRAWN)
    return {field: re.sub(r"<[^>]*>", "", words) for _, field, words in FILL.findall(drawn)}


@pytest.mark.parametrize("name", ["corner_dishwasher_drain_down", "wood_apron_two_bowl"])
def test_what_can_be_typed_is_the_field_and_moves_with_it(name, lists):
    """Each field moved by a quarter inch: its dimension moves by as much, or is no longer one that can be typed."""
    job = read_job(shipped("examples") / f"{name}.toml")
    values = {place: value for place, rule, value in walk_fields(job) if rule.kind == "length"}
    shown = fills(job, lists)
    assert {"site.narrowest_door", "site.narrowest_turn", "levelness.readings[2].low", *COUNTED} <= set(shown)
    shown = {field: words for field, words in shown.items() if field not in COUNTED}
    assert {"cabinet.width", "cabinet.height", "sink.apron_height", "plumbing.stub_height", "counter.runs[1].length", "counter.wall_gap"} <= set(shown)
    assert {"old.sink_width", "old.counter_thickness", "old.splash_height"} <= set(shown)
    assert {"sink.body_width", "sink.depth", "sink.rear_rim", "sink.outlet_setback"} <= set(shown)
    assert {f"sink.bowls[1].{name}" for name in ("width", "front_to_back", "depth")} <= set(shown)
    followed = 0
    for field, words in shown.items():
        assert values[field] is None or format_length(values[field]) == words
        moved = (values[field] or 0.0) + MOVED_IN
        try:
            now = fills(change_job(job, {field: f"{moved} in"}), lists)
        except KitError:
            continue  # a sound part that would contradict itself is refused
        followed += now.get(field) == format_length(moved)
        assert now.get(field, format_length(moved)) == format_length(moved)
    assert followed >= len(shown) - 2


def test_other_dimensions_name_what_fixes_them(lists):
    job = read_job(shipped("examples") / "wood_apron_two_bowl.toml")
    drawn = make_fillable(draw_section(estimate(job, lists)), job)
    assert drawn.count('role="group"') == 1  # the drawing itself: what stands in an image has no name of its own
    assert re.search(r'role="img" aria-label="[\d /]+ in: follows from [^"]*sink base height', drawn)
    assert "cabinet.height" not in re.sub(r'data-fields?="[^"]*"', "", drawn)


def test_figures_in_words_name_what_they_follow_from(lists):
    """A focus on the field lights them up as it does a dimension."""
    job = read_job(shipped("examples") / "stone_apron_single_bowl.toml")
    priced = estimate(job, lists)
    for draw, words, field in (
        (draw_front, "cabinet: stile", "cabinet.stile"),
        (draw_front, "gap 1/8 in", "cabinet.right.gap"),
        (draw_front, "toe space", "cabinet.toe_height"),
        (draw_today, "1 1/2 in", "old.counter_thickness"),
        (draw_plan, "countertop, stone", "counter.thickness"),
        (draw_plan, "backsplash", "counter.splash_thickness"),
        (draw_plan, "faucet hole", "counter.holes"),
        (draw_section, "arm, ", "sink.outlet_setback"),
        (draw_section, "stub stays at 17 in", "plumbing.stub_height"),
    ):
        named = re.findall(rf'<g [^>]*data-fields="([^"]*)"[^>]*>(?:<title>[^<]*</title>)?<text[^>]*>[^<]*{words}', make_fillable(draw(priced), job))
        assert any(field in one.split() for one in named), (words, named)


UNDRAWN = re.compile(
    r"old\.(dishwasher_fixing|drain_photographed)|plumbing\.(supply_|stop|outlet_cable|dishwasher|hose_run|filter|hot_tap|bin|faucet_holes)|cabinet\.left\.|cabinet\.right\."
)
"""What no picture of these steps shows."""


@pytest.mark.parametrize("name", ["corner_dishwasher_drain_down", "stone_apron_single_bowl", "laminate_top_mount"])
def test_every_field_lights_its_figure_or_its_part(name, lists):
    job = read_job(shipped("examples") / f"{name}.toml")
    priced = estimate(job, lists)
    lacks = {"disposer", "apron", "splash"}
    for part, draw in {"cabinet": draw_front, "old": draw_today, "sink": draw_sink_sizes, "counter": draw_plan, "plumbing": draw_section}.items():
        drawn = make_fillable(draw(priced), job)
        lights = json.loads(unescape(re.search(r'data-lights="([^"]*)"', drawn)[1]))
        figures = {field for fields in re.findall(r'data-fields="([^"]*)"', drawn) for field in fields.split()}
        parts = set(re.findall(r'data-part="([^"]*)"', drawn))
        assert set(lights) <= parts
        for place in (place for place, _, _ in walk_fields(job) if place.startswith(f"{part}.") and not UNDRAWN.match(place)):
            absent = any(word in place and word not in parts for word in lacks)
            assert absent or place in figures or any(place in places for places in lights.values()), (draw, place)
    assert "plumbing.stub_offset" in lights["stub"]
    assert not any("plumbing.stub_height" in places for places in lights.values())


def test_a_measure_that_is_assumed_can_be_typed_and_says_so(lists):
    job = change_job(read_job(shipped("examples") / "wood_apron_two_bowl.toml"), {"cabinet.floor_height": None})
    drawn = make_fillable(draw_section(estimate(job, lists)), job)
    assert 'class="sk-fill sk-assumed" role="button" tabindex="0" aria-label="Room floor up to cabinet floor, 5 in, assumed: type another measure"' in drawn
    assert drawn.count("sk-assumed") == 2  # the figure, and the line below that says how it is marked
    assert drawn.endswith("under a figure: assumed, not measured.</p>")
    assert "sk-assumed" not in make_fillable(draw_section(estimate(job, lists)), change_job(job, {"cabinet.floor_height": "5 in"}))


def test_typing_in_the_picture_goes_the_way_of_the_field(tmp_path):
    screen = Estimator(shipped("examples") / "wood_apron_two_bowl.toml", load_lists(shipped("price_lists")), tmp_path / "jobs")
    screen.go("cabinet")
    screen.content.picture._receive(None, {"type": "typed", "field": "cabinet.door_top", "text": "9 3/4"}, None)
    assert screen.job.cabinet.door_top_in == 9.75
    assert 'aria-label="Cabinet top to top of doors, 9 3/4 in' in screen.content.picture.value
    screen.content.picture._receive(None, {"type": "typed", "field": "cabinet.width", "text": "wide"}, None)
    assert screen.job.cabinet.width_in == 33.0
    assert "cabinet.width" in screen.state.refused
    assert re.search(r'class="sk-fill sk-faulty"[^>]*data-field="cabinet.width"', screen.content.picture.value)
    assert screen.panel.controls["cabinet.width"].widget.value == "wide"


def test_the_signs_of_a_drawing_are_explained_beside_it():
    """Each sign that it has, and no other: decisions at the sink of the example; a base that is too narrow stops it. Without findings nothing is said."""
    job, lists = read_job(shipped("examples") / "stone_apron_single_bowl.toml"), load_lists(shipped("price_lists"))
    made = estimate(job, lists)
    decided = make_fillable(draw_section(made), job)
    assert ">\u25b3 to decide. The numbers are those of the list in Check.<" in decided
    narrow = change_job(job, {"cabinet.width": "33 in"})
    assert "\u25a0 can't be built" in make_fillable(draw_section(estimate(narrow, lists)), narrow)
    assert "list in Check" not in make_fillable(draw_section(replace(made, findings=())), job)
