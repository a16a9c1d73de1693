"""The plan: runs where they lie, opening, holes, seams and strips as designed, and what fails."""

import pytest
from drawn import CORNER, FLUSH, STONE, SVG, TOP, WOOD, box, boxes, estimated, extent, foot, marks, root, texts, words

from kit.design.run_places import place_runs
from kit.draw.plan import draw_plan
from kit.job import change_job
from kit.units import format_length


def inches(svg, edges):
    """Width and height [in] of a shape."""
    scale = foot(svg) / 12
    return (edges[2] - edges[0]) / scale, (edges[3] - edges[1]) / scale


# By hand: sink's front 24 3/4 from the wall, its back 6 3/4, inside of the bowl 2 in further, less 1/8 reveal.
HAND_REAR_IN = 24 + 0.75 - 18 + 2 - 0.125
HAND_WIDE_IN = 29.5 + 2 * 0.125
HAND_LEFT_IN = 42 - HAND_WIDE_IN / 2


def upright_strokes(svg):
    """Places of the counter's edges that run from the wall to the front, from the run's left end [in]."""
    left = extent(svg, "counter")[0]
    return {round((one[0] - left) / (foot(svg) / 12), 2) for one in boxes(svg, "counter") if one[2] - one[0] < 0.2}


def test_the_opening_and_what_stays_round_it_are_dimensioned():
    """96 in run, center at 42 in, bowl 29 1/2 in inside with 1/8 in reveal: 27 1/8 left, 29 3/4 wide, 39 1/8 right; 8 5/8 from the wall."""
    svg = draw_plan(estimated(STONE))
    assert (HAND_REAR_IN, HAND_WIDE_IN, HAND_LEFT_IN) == (8.625, 29.75, 27.125)
    for wanted in ("27 1/8 in", "29 3/4 in", "39 1/8 in", "96 in", "25 1/2 in", "16 7/8 in", "8 5/8 in", "1/8 in"):
        assert wanted in texts(svg)
    assert "rear strip 8 1/2 in" in " ".join(texts(svg))
    counter = extent(svg, "counter")
    assert (counter[2] - counter[0]) / (foot(svg) / 12) == pytest.approx(96, abs=0.05)
    assert sorted(place for place in upright_strokes(svg) if 10 < place < 90) == pytest.approx([27.125, 56.875], abs=0.05)


def test_no_line_crosses_an_opening_that_is_open_to_the_front():
    """Along the counter's front edge there is counter left and right of the opening and none before it."""
    svg = draw_plan(estimated(STONE))
    left, _, _, front = extent(svg, "counter")
    scale = foot(svg) / 12
    along = sorted(((one[0] - left) / scale, (one[2] - left) / scale) for one in boxes(svg, "counter") if one[1] > front - 0.2)
    assert along[0][0] == pytest.approx(0, abs=0.05)
    assert max(end for start, end in along if start < 40) == pytest.approx(27.125, abs=0.05)
    assert min(start for start, end in along if end > 40) == pytest.approx(56.875, abs=0.05)


def test_a_top_mount_covers_its_opening_all_round():
    """The rim is drawn whole, before and behind; the counter's front edge goes through."""
    svg = draw_plan(estimated(TOP))
    left, upper, right, lower = extent(svg, "rim")
    for height in (upper, lower):
        mine = [one for one in boxes(svg, "rim") if one[3] - one[1] < 0.2 and one[1] == pytest.approx(height, abs=0.2)]
        assert sum(one[2] - one[0] for one in mine) == pytest.approx(right - left, abs=0.5)
    front = max(one[3] for one in boxes(svg, "counter") if one[3] - one[1] < 0.2)
    mine = [one for one in boxes(svg, "counter") if one[1] > front - 0.2 and one[3] - one[1] < 0.2]
    assert sum(max(0, min(one[2], right) - max(one[0], left)) for one in mine) == pytest.approx(right - left, abs=0.5)


def test_the_wall_is_above_and_the_front_below():
    """The rear strip lies between opening and wall, 8 5/8 from it."""
    svg = draw_plan(estimated(STONE))
    scale, left = foot(svg) / 12, extent(svg, "counter")[0]
    middle = left + 42 * scale
    heights = {round(one[1], 1) for one in boxes(svg, "counter") if one[3] - one[1] < 0.2 and one[0] < middle + 60 and one[2] > middle - 60}
    wall = max(one[3] for one in boxes(svg, "wall") if one[2] - one[0] > 500)
    assert [(height - wall) / scale for height in heights if height > wall + 20] == pytest.approx([HAND_REAR_IN], abs=0.05)


def test_every_dimension_of_the_sink_knows_the_measures_that_fix_it():
    """The distance from the wall names the rear rim, the width the bowls and the reveal."""
    svg = draw_plan(estimated(STONE))
    fields = {"".join(group.itertext()): group.get("data-fields").split() for group in root(svg).iter(f"{SVG}g") if group.get("data-fields")}
    assert {"sink.rear_rim", "sink.depth", "cabinet.depth", "counter.reveal"} <= set(fields["8 5/8 in"])
    assert {"sink.bowls", "counter.reveal"} <= set(fields["29 3/4 in"])
    assert "counter.sink_center" in fields["27 1/8 in"]


def test_runs_that_meet_at_a_corner_turn_there():
    """The second run begins at the front edge of the first, at its right end less its gap of 1/8 in at the wall, with one seam as long as it is deep."""
    svg = draw_plan(estimated(TOP))
    second = next(one for one in boxes(svg, "counter") if one[2] - one[0] > 1 and one[3] - one[1] > 1)  # a face; the first run is made of edges
    first = [one for one in boxes(svg, "counter") if one != second]
    assert second[1] == pytest.approx(max(one[3] for one in first), abs=0.2)
    assert second[2] == pytest.approx(max(one[2] for one in first) - foot(svg) / 12 / 8, abs=0.2)
    assert inches(svg, second) == pytest.approx((25.5 - 1 / 8, 54), abs=0.1)
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
    seam, counter = box(svg, "seam"), extent(svg, "counter")
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
    """A hole 9 in from the wall with the opening 8 5/8 in from it: 9 + 11/16 - 8 5/8 = 1 1/16 in too far."""
    holes = [{"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "9 in"}]
    svg = draw_plan(estimated(STONE, counter__holes=holes))
    assert "faucet hole and opening overlap by 1 1/16 in" in " ".join(texts(svg))
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
    """Two bowls of 13 1/2 in: outlets 7 in to both sides, as measured, and their size in words."""
    made = estimated(WOOD)
    svg = draw_plan(made)
    outlets = [element for element in root(svg).iter(f"{SVG}circle") if float(element.get("r")) / (foot(svg) / 12) == pytest.approx(1.75, abs=0.02)]
    places = sorted(float(element.get("cx")) / (foot(svg) / 12) for element in outlets)
    assert places[1] - places[0] == pytest.approx(2 * 7, abs=0.02)
    assert " ".join(texts(svg)).count("13 1/2 in x") == 2


def test_what_stands_beside_the_base_is_named_as_one_says_it_and_a_dishwasher_lies_there_dashed():
    """A drawer base on the left, of a width that nobody listed; on the right a dishwasher of the usual 24 in."""
    svg = draw_plan(estimated(FLUSH))
    assert {"drawer base", "dishwasher"} <= set(texts(svg))
    left, _, right, _ = extent(svg, "dishwasher")
    assert (right - left) / (foot(svg) / 12) == pytest.approx(24, abs=0.1)


def test_names_on_one_line_are_not_read_on_into_each_other():
    """Between the words of two names there is more than one letter's room."""
    for name in (FLUSH, TOP, CORNER):
        found = [word.box for word in words(draw_plan(estimated(name))) if word.box[2] - word.box[0] > word.box[3] - word.box[1]]
        gaps = [other[0] - one[2] for one in found for other in found if one[3] > other[1] and other[3] > one[1] and other[0] >= one[2]]
        assert min(gaps) > 7
