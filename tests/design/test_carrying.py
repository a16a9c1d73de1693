"""How each sink is carried, by mount, style, weight and what the job says; and the members that this asks for, by hand."""

from dataclasses import replace

import pytest
from design_jobs import changed, sheet_of
from hypothesis import given
from hypothesis import strategies as st

from kit.checks.beams import span_uniform
from kit.checks.wood_members import Service, load_duration, member_use, support_limit
from kit.checks.wood_values import dressed_section, lowest_values
from kit.design.carrying import choose_carrying
from kit.design.frame_load import Load
from kit.design.levels import design_levels
from kit.design.place_cleats import _middle_post
from kit.design.place_frame import place_frame
from kit.design.place_room import GROUND
from kit.shapes import Block
from kit.solids import Body
from kit.sources import value

STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "counter.holes": []}


def design(changes):
    return sheet_of(changes).design


@pytest.mark.parametrize(
    ("mount", "carried_at", "way", "touches"),
    [("under", "rim", "cleats", False), ("under", "bowl", "platform", False), ("flush", "bowl", "platform", False), ("top", "rim", "counter", True)],
)
def test_an_apron_sink(mount, carried_at, way, touches):
    """118 lb and 148 lb of water: on cleats or a platform; laid on the counter it is touched from below."""
    found = design({"sink.mount": mount, "sink.carried_at": carried_at}).placed.carrying
    assert (found.way, found.touches) == (way, touches)


def test_a_light_apron_sink_laid_on_the_counter_needs_no_frame():
    """40 lb and its water are less than 250 lb."""
    found = design({"sink.mount": "top", "sink.weight": "40 lb"})
    assert (found.placed.carrying.way, found.placed.frame) == ("counter", None)


@pytest.mark.parametrize(("wide", "most"), [(36.0, 250.0), (36.01, 125.0)])
def test_what_the_edge_of_the_opening_carries_without_a_frame(wide, most):
    """By the rows of the practice table: 250 lb, half of it where the opening is wider than 36 in; exactly as much still hangs."""
    job = changed({**STANDARD, "sink.mount": "top"})
    placed = design({**STANDARD, "sink.mount": "top"}).placed
    opening = replace(placed.opening, x=(0.0, wide))
    for hung, touches in ((most, False), (most + 0.1, True)):
        found = choose_carrying(job, design_levels(job), Load(hung, 0.0, 0.0, 0.0, 0.0), placed.sink, opening)
        assert (found.way, found.touches, found.hung_lb, found.most_lb) == ("counter", touches, hung, 250.0)


def test_half_of_the_load_decides_on_a_third_post():
    """More than 400 lb on the rear cross piece, half of what the frame carries: 800 lb in all stand on two posts, 802 on three."""
    job, found = changed(), design({})
    for load, posts in ((800.0, 2), (802.0, 3)):
        frame = place_frame(job, found.levels, found.placed.sink, found.cut, found.placed.carrying, Load(load, 0.0, 0.0, 0.0, 0.0), ())
        (cross,) = (body for body in frame.bodies if body.name == "rear cross piece")
        assert len(cross.stands_on) == posts


def test_posts_stand_on_the_subfloor_where_the_cabinets_floor_lies_on_it():
    """A floor of 1 in whose top is 1 in above the room's: no block below the posts, and none to cut."""
    found = design({"cabinet.floor_height": "1 in", "cabinet.floor_thickness": "1 in"})
    assert (found.frame.of("block below post"), found.frame.toe_board_off) == (None, False)
    assert found.placed.model["post front left"].stands_on == ("subfloor",)


def test_a_rim_that_ends_before_the_cleats_rests_on_none_of_them():
    """A body 30 in wide between cleats that may reach in no further than the bowl leaves: nothing lies on them, never less."""
    found = design(
        {"sink.apron_width": "30 in", "sink.body_width": "28 1/2 in", "sink.bowl_width": "28 1/2 in", "sink.bowls[1].width": "27 in", "cabinet.width": "42 in"}
    ).frame
    assert (found.rim_on_cleat_in, found.carried_at) == (0.0, "rim")


def test_a_support_is_brought_up_to_touch():
    """Counter and platform carry together: the panel's top is the bowl's underside, nothing overlaps, all arrives at the floor."""
    model = design({**STANDARD, "sink.mount": "top"}).placed.model
    assert model["sink rim"].stands_on == ("counter", "platform panel")
    assert model["platform panel"].span("z")[1] == model["sink bowl"].span("z")[0]
    assert not [found for found in model.overlaps(model["sink rim"].stages) if "frame" in {found.first.part, found.second.part}]


@pytest.mark.parametrize(("way", "parts"), [("rails", ["sink rail left", "sink rail right"]), ("cradle", ["cradle bar rear", "cradle bar front"])])
def test_bars_hold_the_sink_from_the_box(way, parts):
    """They touch what they carry and hand it on to the sides."""
    model = design({**STANDARD, "sink.mount": "under", "sink.held_by": way, "sink.bowl_width": "30 1/4 in"}).placed.model
    carried = "sink rim" if way == "rails" else "sink bowl"
    assert [body.name for body in model.of_part("frame")] == parts
    assert all(model[name].span("z")[1] == model[carried].span("z")[0] for name in parts)
    assert set(model.path_down("sink rim", GROUND)) & set(GROUND)


@given(st.floats(5, 200), st.floats(0, 150))
def test_a_heavier_sink_never_goes_back_to_clips(weight, more):
    """Once on a frame, every heavier one stands on a frame."""

    def framed(pounds):
        return design({**STANDARD, "sink.mount": "under", "sink.weight": f"{pounds:.3f} lb"}).placed.carrying.on_frame

    assert framed(weight + more) >= framed(weight)


# --- members ---


def test_three_joists_carry_both_edges_and_the_middle():
    """Panel from 7 3/8 to the posts at 20 1/4: the outlet at 14 3/4 takes 12 1/2 to 17, so the third lies right behind it."""
    model = design({"sink.carried_at": "bowl", "sink.bowl_width": "30 3/4 in"}).placed.model
    rear, middle, front = (model[f"platform joist {where}"].span("y") for where in ("rear", "middle", "front"))
    assert rear[0] == model["platform panel"].span("y")[0]
    assert front[1] == 20.25
    assert middle == pytest.approx((11, 12.5))


def test_a_third_lies_in_the_middle_where_nothing_is_in_the_way():
    """An outlet near the back leaves the middle free."""
    model = design({"sink.carried_at": "bowl", "sink.outlet_setback": "3 in"}).placed.model
    rear, middle, front = (model[f"platform joist {where}"].span("y") for where in ("rear", "middle", "front"))
    assert middle[0] - rear[1] == pytest.approx(front[0] - middle[1])


@pytest.mark.parametrize(("diameter", "hand_beside"), [("8 in", 0.5), ("8 1/2 in", 0.25), ("9 in", 0)])
def test_a_front_joist_stands_past_its_posts_where_a_disposer_leaves_no_other_place(diameter, hand_beside):
    """Outlet at 14 3/4: 8 in of disposer end at 18 3/4. The joist lies from 19 1/4 to 20 3/4, its posts end at 20 1/4 behind the toe board."""
    model = design({"sink.carried_at": "bowl", "plumbing.disposer": "keep", "plumbing.disposer_diameter": diameter}).placed.model
    assert model["platform joist front"].span("y") == pytest.approx((19.25, 20.75))
    assert model["post front left"].span("y") == pytest.approx((18.75, 20.25))
    assert model.gap("disposer", "platform joist front", "y").value_in == pytest.approx(hand_beside)


WIDE = {
    "sink.apron_width": "45 in",
    "sink.body_width": "44 1/2 in",
    "sink.bowl_width": "42 in",
    "sink.bowls": [{"width": "41 in", "front_to_back": "15 1/2 in", "depth": "9 in"}],
    "plumbing.stub_offset": "12 in",
}


@pytest.mark.parametrize(("width", "hand_posts"), [("40 in", 2), ("48 in", 3)])
def test_a_long_rear_cross_piece_gets_a_post_near_its_middle(width, hand_posts):
    """48 - 2 x 1/2 less two cleats is more than 36 in; 40 - 1 - 2 x 1 1/2 - 1/8 is less."""
    model = design({"cabinet.width": width, **(WIDE if width == "48 in" else {})}).placed.model
    cross = model["rear cross piece"]
    assert len(cross.stands_on) == hand_posts
    if hand_posts == 3:
        third_in, (low, high) = cross.length_in / 3, model["post rear middle"].span("x")
        assert cross.span("x")[0] + third_in <= (low + high) / 2 <= cross.span("x")[1] - third_in
        assert model["post rear middle"].span("z")[1] == cross.span("z")[0]


def test_a_middle_post_steps_aside_within_the_middle_third():
    """48 in of cross piece: its middle third ends 8 in from the middle. The post steps by half inches past a pipe, as far as the end of the third."""
    job, block = changed(), Block((0.0, 48.0), (8.0, 9.5), (20.0, 23.5))
    half = value("lumber", "2x4/width") / 2.0

    def middle_with(*taken):
        x = _middle_post(job, block, [Body("pipe", "stub", (Block(span, (0.0, 10.0), (0.0, 30.0)),)) for span in taken])
        return x and (x[0] + x[1]) / 2.0

    assert middle_with() == 24.0
    assert middle_with((22.0, 24.0)) == 26.0  # 24 + half of 3 1/2 is 25 3/4: the next half inch
    assert middle_with((24.0, 26.0)) == 22.0
    assert middle_with((0.0, 32.0 - half)) == 32.0
    assert middle_with((0.0, 32.01 - half)) is None


def test_the_rows_for_a_middle_post_are_within_what_the_wood_allows():
    """Weakest listed wood, 36 in and 400 lb, under a counter that cracks."""
    span_in, load_lb, section = value("practice", "frame/cross-span"), value("practice", "frame/cross-load"), dressed_section("2x4")
    values = lowest_values(section)
    effects = span_uniform(load_lb / span_in, span_in, values.elasticity_psi * section.inertia_in4)
    use = member_use(
        values, section, effects, Service(duration=load_duration("ten-year")), bearing_length_in=1.5, deflection_limit_in=support_limit(span_in, stone=True)
    )
    assert max(use.shares.values()) <= 1


def test_a_sub_top_is_open_where_cleats_reach_into_it():
    """Rim 5/8 in thick under a sub-top of 3/4 in: the cleats end 1/8 in above the box."""
    model = design({"counter.sub_top": "new"}).placed.model
    assert model["side cleat left"].span("z")[1] == pytest.approx(34.5 + 0.75 - 0.625)
    assert not [found for found in model.overlaps(model["sink rim"].stages) if "sub-top" in {found.first.name, found.second.name}]
