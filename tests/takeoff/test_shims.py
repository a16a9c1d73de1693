"""Shims: supports along the run, pairs, packers, worked by hand; and where nothing is leveled."""

import itertools

import pytest
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.takeoff.prepare_cabinet import count_shims

CHECK, SHIMS, PACKERS = "level/level-support/check and shim", "level/shim/pairs", "level/packer-strip/packers"
SCREWS = "level/screw-cabinet/boxes fastened again"
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}


def run(length):
    return {"counter.runs[1].length": length}


def low(*readings):
    return {"levelness.readings": [{"at": at, "low": drop} for at, drop in readings]}


def test_plain_job_by_hand():
    """96 in: supports at 0, 32, 64 and 96 in; 1/4 in low at the far end, so 0, 1/12, 1/6 and 1/4 in: three get two pairs of two."""
    shims = sheet_of({"cabinet.fixed": False}).design.shims
    assert [support.at_in for support in shims.supports] == [0, 32, 64, 96]
    assert [support.gap_in for support in shims.supports] == pytest.approx([0, 1 / 12, 1 / 6, 1 / 4])
    assert [support.pairs for support in shims.supports] == [0, 2, 2, 2]
    assert (shims.pairs, shims.worst_in, shims.where, shims.assumed) == (6, 0.25, "floor", False)
    assert step_quantities(count_shims, {"cabinet.fixed": False}) == {CHECK: 4, SHIMS: 3 * 2 * 2, SCREWS: 3 * 2}


def test_boxes_that_stay_fixed_are_not_fastened_again():
    """Strips lie on their tops; nor are level ones."""
    assert SCREWS not in step_quantities(count_shims, {"cabinet.fixed": True})
    assert SCREWS not in step_quantities(count_shims, low(("0 in", "0 in"), ("96 in", "0 in")))


@pytest.mark.parametrize(
    ("length", "hand_supports"),
    [("30 in", 2), ("36 in", 2), ("36 1/16 in", 3), ("72 in", 3), ("72 1/16 in", 4), ("72 7/8 in", 4), ("108 in", 4), ("108 1/2 in", 5), ("144 in", 5)],
)
def test_supports_are_never_further_apart_than_36_in(length, hand_supports):
    """One at each end and as few between as keep to the limit: 72 7/8 in take three spaces, since two would be 36 7/16 in wide."""
    small = {"counter.sink_center": "18 in", "cabinet.width": "24 in", "sink.body_width": "20 in", "sink.bowl_width": "19 in", "sink.apron_width": "21 in"}
    bowl = {"sink.bowls": [{"width": "17 in", "front_to_back": "15 1/2 in", "depth": "9 in"}]}
    supports = sheet_of({**run(length), **small, **bowl}).design.shims.supports
    gaps = [right.at_in - left.at_in for left, right in itertools.pairwise(supports)]
    assert len(supports) == hand_supports
    assert max(gaps) <= 36
    assert supports[0].at_in == 0
    assert sum(gaps) == pytest.approx(supports[-1].at_in)


@pytest.mark.parametrize(
    ("drop", "hand_pairs", "hand_packer"),
    [
        ("0 in", 0, 0.0),
        ("1/32 in", 0, 0.0),  # this low stays as it is
        ("3/64 in", 2, 0.0),
        ("7/16 in", 2, 0.0),  # 3/8 thick end and 1/16 thin end fill this much
        ("29/64 in", 4, 0.0),  # nobody rips a packer of 1/64 in: a second pair, in front and at the rear
        ("35/64 in", 4, 0.0),
        ("9/16 in", 2, 1 / 8),  # 1/8 in can be ripped
        ("1 1/4 in", 4, 3 / 4),  # a whole strip, and two pairs for 1/2 in
        ("1 in", 2, 9 / 16),
    ],
)
def test_pairs_and_packers_by_the_gap(drop, hand_pairs, hand_packer):
    """One support that is low, either side of each limit."""
    (*_, last) = sheet_of(low(("0 in", "0 in"), ("96 in", drop))).design.shims.supports
    assert (last.pairs, last.packer_in) == pytest.approx((hand_pairs, hand_packer))


def test_packers_are_as_long_as_they_lie():
    """1 in low all along but at the left end: on each side of the base, up to its face frame at 23 1/4; 24 in at 64 and 96 in; at 32 in is the base.

    A strip is 3/4 in thick: 1 in on the base is a whole one and one ripped to 1/4; 1 in less a pair of 7/16 is ripped to 9/16.
    """
    found = step_lines(count_shims, low(("0 in", "0 in"), ("1 in", "1 in")))
    assert {name: line.quantity for name, line in found.items()} == {CHECK: 4, SHIMS: 12, PACKERS: pytest.approx((4 * 23.25 + 2 * 24) / 12)}
    hand_pieces = [(23.25, 2, "packer"), (23.25, 2, "packer, ripped to 1/4 in thick"), (24, 2, "packer, ripped to 9/16 in thick")]
    assert [(piece.length_in, piece.count, piece.name) for piece in found[PACKERS].pieces] == hand_pieces
    assert found[SHIMS].basis == "(2 pairs + 2 pairs + 2 pairs) x 2 shims in a pair"


def test_a_fixed_base_that_leans_gets_a_packer_on_its_lower_side():
    """Level up to its left side at 24 in, 1 1/2 in low at its right one at 60: 1 1/2 less the 7/16 of a pair, on the side, which ends as much lower."""
    lean = low(("24 in", "0 in"), ("60 in", "1 1/2 in"))
    model = sheet_of(lean).design.placed.model
    packer, hand_thick = model["packer of the leaning side right"], 1.5 - 7 / 16
    assert (packer.size_in("y"), packer.size_in("z")) == (23.25, pytest.approx(hand_thick))
    assert model["side right"].span("z")[1] == pytest.approx(34.5 - hand_thick)
    assert "packer of the leaning side left" not in model
    assert (23.25, 1) in [(piece.length_in, piece.count) for piece in step_lines(count_shims, lean)[PACKERS].pieces]


def test_between_readings_the_line_is_straight_and_beyond_them_level():
    """Readings at 80, 16 and 48 in, typed in any order: 1/8, 0 and 1/2 in; supports at 0, 32, 64 and 96 in."""
    found = sheet_of(low(("80 in", "1/8 in"), ("16 in", "0 in"), ("48 in", "1/2 in"))).design.shims
    assert [support.gap_in for support in found.supports] == pytest.approx([0, 0.25, 0.3125, 0.125])
    assert found.worst_in == pytest.approx(0.3125)


def test_without_readings_a_drop_is_assumed_over_the_run():
    """Half an inch assumed: 0, 1/6, 1/3 and 1/2 in."""
    found = sheet_of({"levelness.readings": None, "levelness.assumed_drop": "1/2 in"}).design.shims
    assert found.assumed
    assert [support.gap_in for support in found.supports] == pytest.approx([0, 1 / 6, 1 / 3, 1 / 2])


def test_boxes_that_stay_fixed_are_leveled_on_their_tops():
    """Strips on the box tops in place of shims at the floor."""
    found = step_lines(count_shims, {"cabinet.fixed": True})
    assert found[CHECK].basis == "4 supports at the box tops"
    assert step_lines(count_shims, {"cabinet.fixed": False})[CHECK].basis == "4 supports at the floor"


def test_nothing_moves_under_a_counter_that_stays():
    """Nor under one that the customer sets."""
    assert step_quantities(count_shims, STAYS) == {}
    assert step_quantities(count_shims, {"scope.counter": {"supplied_by": "customer", "installed_by": "customer"}}) == {}


def test_front_and_rear_are_shimmed_each_by_its_own_reading():
    """96 in, supports at 0, 32, 64, 96: front level; rear low by 0, 1/8, 1/4, 3/8 in: three pairs behind, none in front; 3/8 in out front to rear."""
    readings = [{"at": "0 in", "low": "0 in", "rear_low": "0 in"}, {"at": "96 in", "low": "0 in", "rear_low": "3/8 in"}]
    shims = sheet_of({"levelness.readings": readings}).design.shims
    assert [support.gap_in for support in shims.supports] == [0, 0, 0, 0]
    assert [support.rear_gap_in for support in shims.supports] == pytest.approx([0, 1 / 8, 1 / 4, 3 / 8])
    assert [support.pairs for support in shims.supports] == [0, 1, 1, 1]
    assert (shims.worst_in, shims.worst_slope_in) == (0.375, 0.375)
    assert step_quantities(count_shims, {"levelness.readings": readings})[SHIMS] == 3 * 2


def test_a_support_low_at_the_rear_only_gets_a_packer_there():
    """1 in low at the rear: 9/16 in of packer below a pair of 7/16."""
    (*_, last) = sheet_of({"levelness.readings": [{"at": "96 in", "low": "0 in", "rear_low": "1 in"}]}).design.shims.supports
    assert (last.pairs, last.packer_in) == (1, pytest.approx(9 / 16))


@pytest.mark.parametrize(("drawers", "dishwasher", "hand_places"), [("left", "right", [6, 30, 66, 96]), ("right", "left", [0, 30, 66, 90])])
def test_supports_stand_at_the_sides_of_listed_boxes(drawers, dishwasher, hand_places):
    """Base of 36 in in the middle of 96 in (30 to 66); 24 in of drawers on one side (6 to 30, or 66 to 90), a dishwasher on the other."""
    boxes = [{"side": drawers, "kind": "drawer", "width": "24 in"}, {"side": dishwasher, "kind": "dishwasher", "width": "24 in"}]
    supports = sheet_of({"cabinet.boxes": boxes, "counter.sink_center": "48 in"}).design.shims.supports
    assert [support.at_in for support in supports] == hand_places


def test_what_is_too_thin_to_rip_is_filled_by_a_second_pair_that_is_bought():
    """1/2 in low at 96 in, as 64 in are by two thirds (one pair): 1/16 in more than a pair fills, so two pairs in front and two behind and no packer."""
    found = step_quantities(count_shims, {"cabinet.fixed": False, **low(("0 in", "0 in"), ("96 in", "1/2 in"))})
    assert (found[SHIMS], PACKERS in found) == ((2 + 2 + 4) * 2, False)


def test_packers_of_a_low_base_get_pairs_for_what_is_too_thin_to_rip():
    """13/16 in low from 1 in on: a whole strip on each side of the base, 1/16 in by a pair in front and one behind on each.

    Supports at 32, 64 and 96 in are as low: two pairs each; those beside the base lie on a packer of 3/8 in.
    """
    found = step_lines(count_shims, low(("0 in", "0 in"), ("1 in", "13/16 in")))
    assert found[SHIMS].basis == "(2 pairs + 2 pairs + 2 pairs + 2 sides x 2 pairs on its packer) x 2 shims in a pair"
    assert [(piece.length_in, piece.count, piece.name) for piece in found[PACKERS].pieces] == [(23.25, 2, "packer"), (24, 2, "packer, ripped to 3/8 in thick")]
