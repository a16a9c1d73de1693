"""Two things in one place: a stop, too close to call, or a measure that is missing; by hand on the stone example with cleats."""

import pytest

import kit
from kit.checks.overlaps import check_overlaps
from kit.design.design import design_job
from kit.job import change_job, fill_assumptions
from kit.records import Level

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
    assert finding.check == "Faucet nut and rear cross piece want the same place"


def test_faces_that_touch_and_the_joint_of_tailpiece_and_trap_are_no_finding():
    """5 1/8 in: the nut ends where the cross piece begins."""
    assert found("5 1/8 in") == {}


def test_an_assumed_measure_is_asked_for():
    """Nobody measured the rear rim, which says where the cross piece lies."""
    finding = found("6 in", **{"sink.rear_rim": "unknown"})[PIECE]
    assert finding.level is Level.UNKNOWN
    assert finding.chance is None
    assert finding.remedy == "Measure first, now assumed: sink rear rim."
