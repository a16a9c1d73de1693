"""The side section: heights of rim, bowl, frame, trap and stub as designed, and what fails."""

import math

import pytest
from drawn import CORNER, FLUSH, STONE, TOP, WOOD, box, boxes, cut_faces, estimated, extent, foot, marks, texts

from kit.draw.pipes import trap_line, widen
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.set_out_figures import list_figures
from kit.units import format_length


def height_of(svg, y):
    """Height above the floor [in] of a place on the sheet."""
    return (box(svg, "floor")[1] - y) / (foot(svg) / 12)


def test_heights_are_those_of_the_design():
    """Box 34 1/2, bowl 9 deep with a 5/8 bottom under it, cleat 5/8 below the box top, stub at 17 in."""
    svg = draw_section(estimated(STONE))
    hand_bowl_underside_in = 34.5 - 9.0 - 0.625
    hand_cleat_in = 34.5 - 0.625
    hand_apron_in = 34.5 - 10.0
    found = texts(svg)
    for wanted in ("35 11/16 in", "33 7/8 in", "24 1/2 in", "17 in", "5 in"):
        assert wanted in found
    assert height_of(svg, extent(svg, "apron")[3]) == pytest.approx(hand_apron_in, abs=0.02)
    assert height_of(svg, extent(svg, "frame")[1]) == pytest.approx(hand_cleat_in, abs=0.02)
    assert height_of(svg, box(svg, "strainer")[1]) == pytest.approx(hand_bowl_underside_in + 0.625, abs=0.02)


def test_depths_are_those_of_the_design():
    """Sink's back 6 3/4 from the wall, rear rim 2, reveal 1/8: the opening begins 8 5/8 from the wall and is open over 16 7/8."""
    made = estimated(STONE, counter__holes=[{"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "3 in"}])
    svg = draw_section(made)
    hand_rear_in = 24 + 0.75 - 18 + 2 - 0.125
    assert made.design.top.cut_out.front_to_back_in == 25.5 - hand_rear_in
    for wanted in ("8 5/8 in", "16 7/8 in", "3 in"):
        assert wanted in texts(svg)


def test_the_rear_cross_piece_lies_under_the_rear_rim():
    """1/8 in behind the bowl's rear wall, 1 1/2 in thick: its place is dimensioned from the wall."""
    made = estimated(STONE)
    cross = made.design.placed.model["rear cross piece"]
    wall_in = (32 - 29.5) / 2  # walls of the bowl, all alike
    hand_front_in = 8.75 - wall_in - 0.125
    assert cross.span("y") == pytest.approx((hand_front_in - 1.5, hand_front_in))
    assert format_length(hand_front_in - 1.5) in texts(draw_section(made))


def test_a_stub_that_stays_is_drawn_once_at_its_height():
    """17 in above the floor, solid, and the highest that drains beside it."""
    made = estimated(STONE)
    svg = draw_section(made)
    stub = boxes(svg, "stub")
    assert len(stub) == 1
    assert height_of(svg, (stub[0][1] + stub[0][3]) / 2) == pytest.approx(17.0, abs=0.05)
    assert "stub stays at 17 in" in " ".join(texts(svg))


def test_a_stub_that_must_come_down_is_drawn_today_and_needed():
    """Both heights, how far it comes down, and a mark."""
    made = estimated(CORNER)
    svg = draw_section(made)
    today, needed = boxes(svg, "stub")
    assert height_of(svg, (today[1] + today[3]) / 2) == pytest.approx(18.0, abs=0.05)
    assert height_of(svg, (needed[1] + needed[3]) / 2) == pytest.approx(made.design.drain.stub_max_in - 0.5, abs=0.05)
    told = " ".join(texts(svg))
    assert f"stub today 18 in, comes down {format_length(18.0 - made.design.drain.stub_max_in + 0.5)}" in told
    assert f"stub needed {format_length(made.design.drain.stub_max_in - 0.5)}, at most 15 15/16 in" in told  # 15.97 in, below
    assert marks(svg)["stub"] in {"caution", "stop"}


def test_the_crew_sets_the_stub_at_the_chosen_height():
    """Half an inch below the highest that drains, 15.97 in; the limit and today's height beside it."""
    words = {figure.what: figure.words for figure in list_figures(estimated(CORNER))}
    # outlet 14 3/4 in from the wall, the trap 4 + 0.95 + 1/2 in beside it and 1.45 in from the stub: the bend of 5 in is swung back to it
    hand_arm_in = 14.75 - (5**2 - 1.45**2) ** 0.5
    hand_highest_in = 34.5 - 9 - 0.625 - 9.5 + 1.61 / 2 - 0.25 * hand_arm_in / 12
    hand_chosen_in = hand_highest_in - 0.5
    hand_read_in = math.floor(hand_highest_in * 16) / 16
    assert words["Stub, center above the floor"] == f"{format_length(hand_chosen_in)}, at most {format_length(hand_read_in)}; today 18 in"


def test_a_stub_nobody_measured_is_said_to_be_unknown():
    """It is drawn dotted at the highest place that drains, and marked unknown."""
    svg = draw_section(estimated(STONE, plumbing__stub_height="unknown"))
    assert "stub not measured; highest" in " ".join(texts(svg))
    assert marks(svg)["stub"] == "unknown"


def test_a_trap_below_the_cabinet_floor_is_hatched_and_named():
    """A stub at 6 in drags the trap into the cabinet floor."""
    svg = draw_section(estimated(STONE, plumbing__stub_height="6 in"))
    assert len(boxes(svg, "overlap")) == 1
    assert "trap and cabinet floor overlap by" in " ".join(texts(svg))
    assert boxes(draw_section(estimated(STONE)), "overlap") == []


def test_where_the_sink_is_carried_shows():
    """Cleats under a rim, a platform under a bowl, and a stop where nobody knows."""
    rim, bowl = (" ".join(texts(draw_section(estimated(STONE, sink__carried_at=at)))) for at in ("rim", "bowl"))
    assert "cleat under the rim" in rim
    assert "platform under the" in bowl
    assert marks(draw_section(estimated(STONE, sink__carried_at="unknown")))["frame"] == "stop"


def test_a_platform_lies_under_the_bowl():
    """Its upper edge is the underside of the bowl."""
    svg = draw_section(estimated(STONE, sink__carried_at="bowl"))
    assert height_of(svg, extent(svg, "frame")[1]) == pytest.approx(34.5 - 9.625, abs=0.02)


@pytest.mark.parametrize(("disposer", "wanted"), [("none", "strainer and tailpiece"), ("keep", "disposer, kept"), ("new", "disposer, new")])
def test_strainer_or_disposer(disposer, wanted):
    """What hangs below the outlet has its name."""
    assert wanted in " ".join(texts(draw_section(estimated(STONE, plumbing__disposer=disposer))))


@pytest.mark.parametrize(("name", "changes", "words"), [(STONE, {"plumbing__stub_offset": "8 in"}, "trap, turned along the wall"), (FLUSH, {}, "trap")])
def test_a_trap_is_turned_to_a_stub_far_aside_and_kept_out_of_the_wall(name, changes, words):
    """8 in aside: along the wall. The kept disposer of the flush example leaves 6 1/2 in to the wall, so it is swung; nothing is drawn into the wall."""
    svg = draw_section(estimated(name, **changes))
    wall = box(svg, "wall")[0]
    assert words in " ".join(texts(svg))
    assert all(edges[2] <= wall + 0.5 for edges in boxes(svg, "trap"))


def test_a_top_mount_rim_lies_on_the_counter():
    """Two strips of counter are cut, before and behind the bowl; the rim is cut above both."""
    svg = draw_section(estimated(TOP))
    strips, rim = cut_faces(svg, "counter"), cut_faces(svg, "rim")
    bowl = extent(svg, "bowl")
    assert any(one[2] <= bowl[0] + 0.5 for one in strips)
    assert any(one[0] >= bowl[2] - 0.5 for one in strips)
    assert max(one[3] for one in rim) == pytest.approx(min(one[1] for one in strips), abs=0.2)
    assert "rim, top mount" in texts(svg)


def test_a_widened_line_keeps_its_distance():
    """Both edges of a level pipe lie a radius away; a trap's lowest edge is a radius below its center line."""
    assert widen(((0.0, 0.0), (4.0, 0.0)), 0.5) == ((0.0, 0.5), (4.0, 0.5), (4.0, -0.5), (0.0, -0.5))
    line = trap_line((0.0, 10.0), (5.0, 8.0), 3.0)
    assert min(y for _, y in line) == pytest.approx(3.0)
    assert min(y for _, y in widen(line, 0.75)) == pytest.approx(2.25, abs=0.02)
    assert (line[0], line[-1]) == ((0.0, 10.0), (5.0, 8.0))


def test_the_pipe_of_a_drain_through_the_floor_is_drawn_and_set_out():
    """9 in high, 13 in from the base's left, 8 in from the wall: section, plan and the sheet to set out by say so; no trap, no arm."""
    pipe = {"floor_pipe_from_left": "13 in", "floor_pipe_from_wall": "8 in", "floor_pipe_top": "9 in"}
    made = estimated(STONE, plumbing__drain_leaves="floor", **{f"plumbing__{name}": typed for name, typed in pipe.items()})
    svg = draw_section(made)
    assert height_of(svg, box(svg, "stub")[1]) == pytest.approx(9, abs=0.02)
    assert not boxes(svg, "trap")
    assert not boxes(svg, "arm")
    assert "13 in from the base's left, 8 in from the wall" in " ".join(texts(draw_plan(made)))
    (figure,) = [figure for figure in list_figures(made) if figure.what == "Pipe in the floor, center"]
    assert figure.words == "13 in from the base's left end, 8 in from the wall, 9 in high: keep clear of it"


def test_the_waste_from_the_other_bowl_is_drawn_on_the_trap():
    """Seen from its end: 1 1/2 in across, its underside on the top of the trap's inlet."""
    made = estimated(WOOD)
    low, high = made.design.placed.model["continuous waste"].span("z")
    assert high - low == pytest.approx(1.5)
    assert low == pytest.approx(made.design.placed.model["trap"].span("z")[1])
    assert "waste from the other" in texts(draw_section(made))
