"""The plan: runs where they lie, opening, holes, seams and strips as designed, and what fails."""

import pytest
from drawn import CORNER, FLUSH, STONE, TOP, WOOD, box, boxes, estimated, foot, marks, texts

from kit.draw.plan import draw_plan
from kit.draw.plan_places import place_runs
from kit.job import change_job
from kit.units import format_length


def inches(svg, edges):
    """Width and height [in] of a shape."""
    scale = foot(svg) / 12
    return (edges[2] - edges[0]) / scale, (edges[3] - edges[1]) / scale


def test_the_opening_and_what_stays_round_it_are_dimensioned():
    """96 in run, centre at 42 in, bowl 32 in with 1/8 in reveal: 25 7/8 left, 32 1/4 wide, 37 7/8 right; 6 3/4 behind."""
    svg = draw_plan(estimated(STONE))
    hand_left_in, hand_wide_in, hand_right_in = 42 - 32.25 / 2, 32.25, 96 - 42 - 32.25 / 2
    assert (hand_left_in, hand_right_in) == (25.875, 37.875)
    for wanted in ("25 7/8 in", "32 1/4 in", "37 7/8 in", "96 in", "25 1/2 in", "18 3/4 in", "6 3/4 in"):
        assert wanted in texts(svg)
    assert inches(svg, box(svg, "cut-out")) == pytest.approx((hand_wide_in, 18.75), abs=0.05)
    assert inches(svg, box(svg, "counter")) == pytest.approx((96, 25.5), abs=0.05)


def test_the_wall_is_above_and_the_front_below():
    """The rear strip lies between opening and wall."""
    svg = draw_plan(estimated(STONE))
    counter, opening = box(svg, "counter"), box(svg, "cut-out")
    assert (opening[1] - counter[1]) / (foot(svg) / 12) == pytest.approx(6.75, abs=0.05)
    assert opening[3] == pytest.approx(counter[3], abs=0.2)


def test_the_left_of_the_run_is_the_left_of_the_sheet():
    """The opening begins 25 7/8 in from the left end."""
    svg = draw_plan(estimated(STONE))
    assert (box(svg, "cut-out")[0] - box(svg, "counter")[0]) / (foot(svg) / 12) == pytest.approx(25.875, abs=0.05)


def test_runs_that_meet_at_a_corner_turn_there():
    """The second run begins at the front edge of the first, at its right end, with one seam as long as it is deep."""
    svg = draw_plan(estimated(TOP))
    first, second = boxes(svg, "counter")
    assert second[1] == pytest.approx(first[3], abs=0.2)
    assert second[2] == pytest.approx(first[2], abs=0.2)
    assert inches(svg, second) == pytest.approx((25.5, 54), abs=0.1)
    seams = boxes(svg, "seam")
    assert len(seams) == 1
    assert inches(svg, seams[0]) == pytest.approx((25.5, 0), abs=0.1)


def test_the_sinks_run_lies_across_the_sheet_whichever_it_is():
    """With the sink in the second run the first one turns instead."""
    counter = estimated(TOP).job.counter
    for number in (1, 2):
        places = place_runs(counter.model_copy(update={"sink_run": number}))
        assert places[number - 1].along == (1, 0)
        assert places[2 - number].along != (1, 0)


def test_a_return_on_the_left_runs_down_the_left():
    """Left end and right end say corner: the second run lies left, its right end at the first run's front."""
    runs = [
        {"length": "90 in", "depth": "25 1/2 in", "left_end": "corner", "right_end": "open"},
        {"length": "40 in", "depth": "25 1/2 in", "left_end": "open", "right_end": "corner"},
    ]
    counter = change_job(estimated(TOP).job_as_read, {"counter.runs": runs, "counter.sink_run": 1}).counter
    first, second = place_runs(counter)
    assert second.joint_with(first) == (pytest.approx((0.0, -25.5)), pytest.approx((25.5, -25.5)))
    xs, ys = zip(*second.corners, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((0.0, 25.5, -65.5, -25.5))


def test_runs_that_do_not_meet_stand_apart():
    """No joint, no overlap."""
    runs = [
        {"length": "90 in", "depth": "25 1/2 in", "left_end": "open", "right_end": "range"},
        {"length": "40 in", "depth": "25 1/2 in", "left_end": "range", "right_end": "open"},
    ]
    counter = change_job(estimated(TOP).job_as_read, {"counter.runs": runs, "counter.sink_run": 1}).counter
    first, second = place_runs(counter)
    assert second.joint_with(first) is None
    assert max(y for _, y in second.corners) < min(y for _, y in first.corners)


def test_seams_lie_where_the_design_puts_them():
    """One seam in a 150 in run, drawn and dimensioned at its place from the left end."""
    made = estimated(FLUSH)
    svg = draw_plan(made)
    at_in = made.design.top.seam_list[0].at_in
    seam, counter = box(svg, "seam"), box(svg, "counter")
    assert (seam[0] - counter[0]) / (foot(svg) / 12) == pytest.approx(at_in, abs=0.1)
    assert format_length(at_in) in texts(svg)


def test_holes_have_their_size_use_and_place():
    """Three holes on a 3 in line, 5 in to each side of the faucet."""
    svg = draw_plan(estimated(CORNER))
    holes = boxes(svg, "holes")
    assert len(holes) == 3
    middle = sorted((edges[0] + edges[2]) / 2 for edges in holes)
    assert [(place - middle[1]) / (foot(svg) / 12) for place in middle] == pytest.approx([-5, 0, 5], abs=0.1)
    told = " ".join(texts(svg))
    for wanted in ("faucet hole 1 3/8 in", "air gap hole", "dispenser hole"):
        assert wanted in told


def test_a_hole_over_the_opening_is_hatched_named_and_marked():
    """A hole 8 in from the wall with a strip of 6 3/4 in: 8 + 11/16 - 6 3/4 = 1 15/16 in too far."""
    holes = [{"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "8 in"}]
    svg = draw_plan(estimated(STONE, counter__holes=holes))
    assert "faucet hole and opening overlap by 1 15/16 in" in " ".join(texts(svg))
    assert len(boxes(svg, "overlap")) == 1
    assert marks(svg)["holes"] == "stop"


def test_a_body_wider_than_the_base_is_hatched_on_both_sides():
    """A 32 1/2 in body in a 30 in base with 1/2 in sides: (32 1/2 - 29) / 2 on each side."""
    svg = draw_plan(estimated(STONE, cabinet__width="30 in"))
    assert len(boxes(svg, "overlap")) == 2
    assert "overlap by 1 3/4 in on each side" in " ".join(texts(svg))
    assert marks(svg)["sink"] == "stop"


@pytest.mark.parametrize(("end", "wanted"), [("range", "range"), ("corner", "corner: the other run")])
def test_what_an_end_meets_is_named(end, wanted):
    """A range and a corner whose other run is not part of the job."""
    assert wanted in " ".join(texts(draw_plan(estimated(STONE, **{"counter__runs[1]__right_end": end}))))


def test_every_bowl_is_drawn():
    """Two bowls, two boxes of their size."""
    svg = draw_plan(estimated(WOOD))
    assert len(boxes(svg, "bowl")) == 2
    assert inches(svg, box(svg, "bowl")) == pytest.approx((13.5, 17), abs=0.05)
