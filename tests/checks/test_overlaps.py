"""Two things in one place: a stop, too close to call, or a measure that is missing; by hand on the stone example with cleats."""

import pytest

import kit
from kit.checks.overlaps import check_earlier_overlaps, check_overlaps
from kit.design.design import design_job
from kit.job import change_job, fill_assumptions
from kit.records import Level
from kit.shapes import Block, overlap_depth
from kit.solids import Stage
from kit.units import format_length

LISTS = kit.load_lists(kit.shipped("price_lists"))
STONE = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
# back of the sink 24 + 3/4 - 18 = 6 3/4, inside of the bowl 1 7/8 further, wall 5/8, 1/8 of air: the cross piece begins 6 3/8 from the wall
CLEATS = {"sink.carried_at": "rim", "sink.rear_rim": "1 7/8 in"}
PIECE = "place/faucet-nut-rear-cross-piece"


def found(setback, **changes):
    """The overlaps with the faucet's hole so far from the wall; its nut with room for a wrench reaches 1 1/4 in around it."""
    filled, assumptions = fill_assumptions(change_job(STONE, {**CLEATS, "counter.holes[1].setback": setback, **changes}))
    return {finding.id: finding for finding in check_overlaps(design_job(filled, LISTS), assumptions)}


@pytest.mark.parametrize(
    ("setback", "level", "hand_margin"), [("6 in", Level.STOP, -0.875), ("5 1/4 in", Level.STOP, -0.125), ("5 3/16 in", Level.CAUTION, -0.0625)]
)
def test_what_was_measured_is_a_stop_or_too_close_to_call(setback, level, hand_margin):
    """Within the tape's 1/8 in the chance that it fits stands beside it."""
    finding = found(setback)[PIECE]
    assert (finding.level, finding.margin) == (level, pytest.approx(hand_margin))
    assert 0 <= finding.chance < 0.5
    assert finding.check == "Faucet nut and rear cross piece are in the same place"


def test_faces_that_touch_and_the_joint_of_tailpiece_and_trap_are_no_finding():
    """5 1/8 in: the nut ends where the cross piece begins."""
    assert found("5 1/8 in") == {}


def test_an_assumed_measure_is_asked_for():
    """Nobody measured the rear rim, which says where the cross piece lies."""
    finding = found("6 in", **{"sink.rear_rim": "unknown"})[PIECE]
    assert finding.level is Level.UNKNOWN
    assert finding.chance is None
    assert finding.remedy == "Measure first what was assumed: rear rim to inside of bowl."


@pytest.mark.parametrize(
    ("holes", "hand_words"),
    [(1, "hole 1: wall to center"), (2, "holes 1 and 2: wall to center"), (3, "holes 1, 2 and 3: wall to center")],
)
def test_an_assumed_measure_of_holes_is_named_and_not_the_list_they_stand_in(holes, hand_words):
    """Where each center was left open, all are asked for by one name; in a shallow base the 2 1/2 in that is taken meets the cross piece."""
    first = {"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "unknown"}
    rows = [first, {**first, "use": "dispenser", "offset": "6 in"}, {**first, "use": "filter-tap", "offset": "-6 in"}][:holes]
    changes = {**CLEATS, "sink.rear_rim": "3/4 in", "cabinet.depth": "22 in", "counter.holes": rows}
    filled, assumptions = fill_assumptions(change_job(STONE, changes))
    finding = {one.id: one for one in check_overlaps(design_job(filled, LISTS), assumptions)}[PIECE]
    assert finding.remedy == f"Measure first what was assumed: {hand_words}."


def earlier(**changes):
    """Overlaps of today and of the opened base, with so much changed in the stone example."""
    filled, assumptions = fill_assumptions(change_job(STONE, {name.replace("__", "."): typed for name, typed in changes.items()}))
    design = design_job(filled, LISTS)
    return {finding.id: finding for finding in check_earlier_overlaps(design, assumptions)}, {one.id: one for one in check_overlaps(design, assumptions)}


def test_the_example_has_nothing_in_the_same_place_at_any_stage():
    """Sound as shipped."""
    assert earlier() == ({}, {})


def test_what_stands_there_today_names_the_two_measures_to_take_again():
    """Doors from 7 1/4 in, a false front down to 8 in: one of them was read wrong; the false front comes out, so nothing is in the way later."""
    before, built = earlier(cabinet__false_front_bottom="8 in")
    finding = before["place/doors-today-false-front"]
    assert (finding.level, finding.margin) == (Level.UNKNOWN, pytest.approx(-0.75))
    assert finding.remedy == "Both are there today, so a measure is wrong. Measure again: cabinet top to false front bottom; cabinet top to top of doors."
    assert built == {}


@pytest.mark.parametrize(("apart", "hand_away"), [("11 in", None), ("9 in", 4.5 - 2 - 0.875 - 0.95), ("8 in", 4 - 2 - 0.875 - 0.95)])
def test_no_room_for_a_wrench_is_said_with_the_distance(apart, hand_away):
    """Stub 2 in to the right, its pipe 0.95 in around it; valves as high, the handle 7/8 in around its middle; a wrench needs 1 in around a body of 5/8 in."""
    _, built = earlier(plumbing__stop_height="17 in", plumbing__stops_apart=apart)
    finding = built.get("place/a-wrench-at-the-right-shutoff-valve-arm")
    if hand_away is None:
        assert built == {}
    else:
        assert finding is not None
        assert finding.check == "Room for a wrench at the right shutoff valve"
        assert (finding.level, finding.measured) == (Level.CAUTION, f"arm is {format_length(hand_away)} away")


def test_a_room_is_silent_where_what_it_serves_is_in_trouble_itself():
    """A valve in the arm: one caution, that of the valve, of a usual size that nobody measured."""
    _, built = earlier(plumbing__stop_height="17 in", plumbing__stops_apart="4 in")
    assert built["place/arm-right-shutoff-valve"].level is Level.CAUTION
    assert "place/a-wrench-at-the-right-shutoff-valve-arm" not in built


@pytest.mark.parametrize(
    ("depth", "wide", "hand_room"), [("8 in", "33 in", (6.5, 16.0)), ("9 in", "36 in", (10.0, 34.5 - 9 - 0.625 - 0.75 - 3.5 - 5)), ("9 in", "23 in", None)]
)
def test_a_bin_without_room_is_told_how_large_it_may_be(depth, wide, hand_room):
    """A disposer in the middle: 12 in leave 16 1/2 - 6 less 1/2 in of side and 3 1/2 of post; 8 in leave it its 10 below a joist that lies too low."""
    size = "12 in" if wide == "33 in" else "8 in"
    changes = {"sink.carried_at": "bowl", "cabinet.width": wide, "plumbing.disposer": "new", "plumbing.disposer_diameter": size, "plumbing.bin": True}
    filled, assumptions = fill_assumptions(change_job(STONE, {**changes, "plumbing.stub_offset": "0 in", "sink.bowls[1].depth": depth}))
    design = design_job(filled, LISTS)
    finding = next(finding for finding in check_overlaps(design, assumptions) if "pull-out-bin" in finding.id)
    if hand_room is None:
        assert finding.remedy == "Keep the pull-out bin elsewhere: there is no room for it below the sink."
        return
    hand_wide, hand_high = hand_room
    assert f"at most {format_length(hand_wide)} wide and {format_length(hand_high)} high" in finding.remedy
    thing, post = design.placed.model["pull-out bin"], design.placed.model["post front left"]
    as_told = Block((post.span("x")[1], post.span("x")[1] + hand_wide), thing.span("y"), (5.0, 5.0 + hand_high))
    others = [body for body in design.placed.model.at(Stage.BUILT) if body.name != "pull-out bin"]
    assert not any(overlap_depth(as_told, shape) for body in others for shape in body.shapes)
