"""Supply, and the counter's parts: seams, bolts, strips, fasteners, movement, an opening that stays."""

import math
from dataclasses import replace

import pytest
from design_jobs import lists, sheet_of
from hypothesis import given
from hypothesis import strategies as st

from kit.design.named_goods import counter_kind
from kit.design.top import design_top

OWN = {
    "counter.made_by": "us",
    "counter.item": "wood-maple-own",
    "counter.material": "wood",
    "counter.species": "hard-maple",
    "counter.thickness": "1 1/2 in",
}
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "top", "sink.bowl_width": "31 1/4 in"}
STAYS = {**STANDARD, "counter.made_by": "stays", "scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "sink.depth": "22 in"}


def supply(changes=None):
    return sheet_of(changes).design.supply


def top(changes=None):
    return sheet_of(changes).design.top


def run(length="96 in", left="wall", right="open", depth="24 in"):
    return {"length": length, "depth": depth, "left_end": left, "right_end": right}


@pytest.mark.parametrize(("stub", "short"), [("2 in", 0), ("1 in", 0), ("15/16 in", 0), ("29/32 in", 2), ("0 in", 2), ("unknown", 2)])
def test_a_push_fit_stop_needs_its_depth_of_clean_stub(stub, short):
    """15/16 in (general web; the maker sets it): either side, and unknown is taken as none."""
    found = supply({"plumbing.clean_stub": stub})
    assert found.short_stubs == found.couplings == len(found.tube_pieces_in) == short
    assert (found.transition is not None) is bool(short)


def test_no_stop_renewed_nothing_to_lengthen():
    """Stubs stay as they are under stops that stay."""
    found = supply({"plumbing.stops_to_renew": 0, "plumbing.clean_stub": "0 in"})
    assert (found.stops, found.short_stubs, found.dual_stops) == (0, 0, 0)


@pytest.mark.parametrize(("stops", "dishwasher", "dual"), [(2, True, 1), (1, True, 1), (2, False, 0), (0, True, 0)])
def test_the_dishwasher_hangs_on_one_of_the_new_stops(stops, dishwasher, dual):
    """A second outlet, where a stop is renewed at all."""
    assert supply({"plumbing.stops_to_renew": stops, "plumbing.dishwasher": dishwasher}).dual_stops == dual


@pytest.mark.parametrize(
    ("by", "stops", "hoses", "connections"),
    [
        (("us", "us"), 0, 2, 2),
        (("customer", "us"), 0, 2, 2),
        (("stays", "us"), 0, 0, 2),
        (("stays", "us"), 1, 1, 2),
        (("stays", "us"), 4, 2, 2),
        (("us", "trade"), 2, 0, 0),
        (("customer", "customer"), 2, 0, 0),
        (("excluded", "nobody"), 2, 0, 0),
    ],
)
def test_hoses_new_with_faucet_or_stop(by, stops, hoses, connections):
    """Both lines are joined again by whoever fits the faucet."""
    found = supply({"scope.faucet": {"supplied_by": by[0], "installed_by": by[1]}, "plumbing.stops_to_renew": stops})
    assert (found.hoses, found.connections) == (hoses, connections)


@pytest.mark.parametrize(("filter_", "hot", "tees"), [(False, False, 0), (True, False, 1), (False, True, 1), (True, True, 2)])
def test_a_tee_for_each_branch(filter_, hot, tees):
    """Filter and hot-water tank."""
    assert supply({"plumbing.filter": filter_, "plumbing.hot_tap": hot}).tees == tees


def test_a_long_run_is_seamed_clear_of_the_sink():
    """132 in of at most 110: the middle, 66 in, is clear of an opening from 26 to 58 in with its 3 in."""
    found = top({"counter.runs": [run("132 in")], "cabinet.right.kind": "door"})
    assert [(seam.at_in, seam.length_in) for seam in found.seam_list] == [(66, 24)]
    assert (found.seams, found.seam_in, found.bolts) == (1, 24, 3)


def test_no_seam_over_the_dishwasher():
    """Base from 24 to 60 in, dishwasher from there to 84 in: a seam that would fall at 75 in moves to its edge."""
    found = top({"counter.runs": [run("150 in")]})
    assert [seam.at_in for seam in found.seam_list] == [84]


def test_a_seam_moves_to_the_edge_of_a_dishwasher_where_the_countertop_begins_off_the_wall():
    """1 in from the wall to 150: the middle, 75 1/2 in, lies over the dishwasher from 60 to 84, as far from the wall as without the gap."""
    found = top({"counter.runs": [{**run("150 in"), "left_gap": "1 in"}]})
    assert [seam.at_in for seam in found.seam_list] == [84]
    assert [piece.length_in for piece in found.pieces] == [83, 66]


def test_one_seam_at_each_corner():
    """Two runs that meet; a single run against something that stays has none of ours."""
    two = [run("96 in", right="corner"), run("50 in", left="corner")]
    three = [run("96 in", right="corner"), run("50 in", left="corner", right="corner"), run("30 in", left="corner")]
    assert top({"counter.runs": two}).seams == 1
    assert top({"counter.runs": three}).seams == 2
    assert top({"counter.runs": [run(right="corner")]}).seams == 0


@pytest.mark.parametrize(("depth", "rows"), [("24 in", 1), ("36 in", 1), ("36 1/8 in", 2), ("60 in", 2)])
def test_a_deep_counter_is_joined_from_blanks_side_by_side(depth, rows):
    """Blanks are 36 in deep at most; a seam along the run for each row more."""
    found = top({**OWN, "counter.runs": [run(depth=depth)]})
    assert [piece.count for piece in found.pieces] == [rows]
    assert found.pieces[0].width_in * rows == pytest.approx(float(sheet_of({"counter.runs": [run(depth=depth)]}).job.counter.runs[0].depth_in))
    assert found.seams == rows - 1


@pytest.mark.parametrize(("length", "hand_bolts"), [("12 in", 2), ("16 in", 2), ("16 1/8 in", 3), ("24 in", 3), ("25 in", 4)])
def test_bolts_across_a_seam(length, hand_bolts):
    """Every 8 in, at least two: either side of 16 and 24 in."""
    two = [run("96 in", right="corner", depth=length), run("50 in", left="corner", depth=length)]
    assert top({"counter.runs": two, "sink.depth": "10 in", "sink.bowls[1].front_to_back": "9 in", "sink.outlet_setback": "5 in"}).bolts == hand_bolts


def test_strips_cover_the_front_and_open_ends():
    """Front of 96 in, 29 1/2 of it open for the apron, and one open end of 24 in; a closed front is one strip."""
    assert sum(piece.length_in for piece in top().strips) == pytest.approx(96 - 29.5 + 24)
    assert [piece.name for piece in top().strips] == ["front strip 1 left", "front strip 1 right", "end strip 1 right"]
    assert sorted(piece.length_in for piece in top(STANDARD).strips) == [24, 96]


def test_a_corner_by_hand():
    """Runs of 100 x 24 and 60 x 26 in, round a corner to the right: the second covers 26 in of the first's front, whose end lies at the wall.

    Front 100 - 26 + 60, open ends 24 + 26; walls behind 100 + 60, and 24 at the first's end; the seam is as long as the second is deep.
    """
    runs = [run("100 in", left="open", right="corner"), run("60 in", left="corner", right="open", depth="26 in")]
    found = top({**STANDARD, "counter.runs": runs})
    assert (found.front_edge_in, found.wall_in, found.seam_in) == (100 - 26 + 60 + 24 + 26, 100 + 60 + 24, 26)
    assert sum(piece.length_in for piece in found.splash) == found.wall_in
    turned = [run("100 in", left="corner", right="open"), run("60 in", left="open", right="corner", depth="26 in")]
    other = top({**STANDARD, "counter.runs": turned})
    assert (other.front_edge_in, other.wall_in, other.seam_in) == (found.front_edge_in, found.wall_in, found.seam_in)


def test_a_u_of_three_runs_by_hand():
    """100, 60 and 70 in, all 24 deep, two corners: two squares less of front, two more of wall, wall at both far ends."""
    runs = [run("100 in", right="corner"), run("60 in", left="corner", right="corner"), run("70 in", left="corner", right="wall")]
    found = top({**STANDARD, "counter.runs": runs})
    assert found.front_edge_in == 100 - 24 + 60 - 24 + 70
    assert found.wall_in == 100 + 60 + 70 + 4 * 24


def test_a_corner_whose_other_run_is_no_part_of_the_job_has_neither_edge_nor_wall():
    """The other counter goes on there."""
    found = top({**STANDARD, "counter.runs": [run("96 in", left="wall", right="corner")]})
    assert (found.front_edge_in, found.wall_in, found.seams) == (96, 96 + 24, 0)


def test_fasteners_of_our_own_counter():
    """Two rows: one every 24 in and one more in each."""
    rows = top(OWN).fasteners
    assert [(row.name, row.count) for row in rows] == [("front row", 5), ("rear row", 5)]
    assert top().fasteners == ()


def test_wood_is_slotted_behind_and_held_in_front():
    """Slot = movement over the depth x share behind the fixed row + shank + 1/16 in."""
    found = top(OWN)
    assert found.movement is not None
    front, rear = found.fasteners
    assert front.slot_in == 0
    assert rear.slot_in == pytest.approx(found.movement.design_in * (23.5 - 3.5) / 24 + 0.19 + 1 / 16)


def test_movement_between_a_dry_and_a_damp_season():
    """Hard maple 24 in, 25 to 60 % humidity: about 5.36 to 10.97 % moisture (simpson-1998), 0.00353 a percent; the curved rule differs by little."""
    found = top(OWN).movement
    assert found is not None
    assert found.design_in == pytest.approx(24 * 0.00353 * (10.97 - 5.36), rel=0.03)


def test_the_gap_at_the_wall_takes_what_grows_behind_the_front_row():
    """From 8 % indoors (as quoted by wood-forum) to 10.97 %: 24 x 0.00353 x 2.97 = 0.25 in, 20 1/2 of 24 in lie behind the front row."""
    hand_growth = 24 * 0.00353 * (10.97 - 8) * 20.5 / 24
    assert hand_growth == pytest.approx(0.215, abs=0.001)
    assert top(OWN).wall_gap_in == 1 / 4


@pytest.mark.parametrize("species", ["hard-maple", "red-oak", "white-oak", "black-walnut", "black-cherry", "yellow-birch", "beech", "teak"])
def test_every_wood_that_a_job_may_name_has_its_movement(species):
    """No option without coefficients."""
    assert top({**OWN, "counter.species": species}).movement is not None


def test_other_materials_do_not_move():
    """No slot and no gap for stone."""
    assert (top().movement, top().wall_gap_in) == (None, 0.0)


@pytest.mark.parametrize(
    ("old_width", "old_depth", "enlarged"),
    [("32 1/2 in", "22 in", False), ("32 7/16 in", "22 in", True), ("34 in", "21 15/16 in", True), ("34 in", "24 in", False)],
)
def test_a_counter_that_stays_is_cut_only_where_the_opening_is_too_small(old_width, old_depth, enlarged):
    """New opening 31 1/2 x 21 in by the maker's template; the old one is half an inch inside the old rim: both sides of both sizes."""
    found = top({**STAYS, "sink.template_depth": "21 in", "old.sink_width": old_width, "old.sink_depth": old_depth})
    assert (found.cut_out.width_in, found.cut_out.front_to_back_in) == (31.5, 21)
    assert found.enlarged_in == (105 if enlarged else 0)


def test_a_counter_without_an_opening_is_cut_whole():
    """It stays, and no sink was in it."""
    found = top({**STAYS, "sink.template_depth": "21 in", "old.sink_kind": "none"})
    assert found.enlarged_in == found.cut_out.edge_in == 105


def test_an_apron_opens_a_closed_counter():
    """A counter that stays round an old top-mount sink must be cut to its front."""
    stays = {"counter.made_by": "stays", "scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}}
    assert top(stays).enlarged_in > 0
    assert top({**stays, "old.sink_kind": "apron"}).enlarged_in == 0


def test_a_new_counter_has_nothing_to_enlarge():
    """It is cut once."""
    assert top().enlarged_in == 0


@given(st.floats(min_value=60, max_value=240))
def test_splash_and_strips_can_be_cut_from_what_is_sold(length):
    """No piece longer than the longest of its kind, and nothing lost."""
    found = top({**OWN, "counter.runs": [run(f"{length:.3f} in")]})
    longest = lists().counters["wood-maple-own"].longest_piece_in
    for pieces in (found.pieces, found.splash, found.strips):
        assert max(piece.length_in for piece in pieces) <= longest + 1e-6
    assert math.fsum(piece.length_in * piece.count for piece in found.pieces) == pytest.approx(length, abs=1e-3)


@pytest.mark.parametrize(
    ("step", "hand_billed"),
    [
        (None, [16.25]),  # 97 1/2 x 24 in
        (1.0, [17.0]),
        (0.5, [16.5]),
        (5.0, [20.0]),
        (0.25, [16.25]),  # on a step: nothing more
    ],
)
def test_a_fabricator_rounds_each_piece_up_to_his_step(step, hand_billed):
    """To a multiple of the row's step, not to whole square feet."""
    sheet = sheet_of({"counter.runs": [run("97 1/2 in")]})
    kind = replace(counter_kind(sheet.job, sheet.lists), round_up_sqft=step, longest_piece_in=120.0)
    assert design_top(sheet.job, kind, sheet.design.placed.opening).billed_sqft == pytest.approx(hand_billed)


def test_pieces_side_by_side_are_rounded_each():
    """60 in deep from two pieces of 97 1/2 x 30 in: 20.3125, 20.5 each (hand)."""
    sheet = sheet_of({"counter.runs": [run("97 1/2 in", depth="60 in")]})
    kind = replace(counter_kind(sheet.job, sheet.lists), round_up_sqft=0.5, longest_piece_in=120.0, deepest_piece_in=36.0)
    assert design_top(sheet.job, kind, sheet.design.placed.opening).billed_sqft == pytest.approx([41.0])


def test_gaps_at_the_ends_shorten_the_counter_by_hand():
    """96 in between wall and open end, 1/8 in free at the wall: a piece of 95 7/8 in, a front of 95 7/8; the splash covers the gap and stays 96 in."""
    found = sheet_of({**STANDARD, "counter.runs[1].left_gap": "1/8 in"}).design
    (piece,) = found.top.pieces
    assert piece.length_in == 95.875
    assert found.top.front_edge_in == 95.875 + 24
    assert max(piece.length_in for piece in found.top.splash) == 96
    assert found.placed.model["counter"].size_in("x") == 95.875


def test_a_dishwasher_is_kept_clear_of_seams_where_it_was_listed():
    """Base 36 in at 66 to 102 of 168 in: 18 in of drawers, then a dishwasher from 120 to 144."""
    boxes = [{"side": "right", "kind": "drawer", "width": "18 in"}, {"side": "right", "kind": "dishwasher", "width": "24 in"}]
    job = {"counter.runs[1].length": "168 in", "counter.sink_center": "84 in", "counter.runs[1].joints": 1, "cabinet.right.kind": "drawer"}
    listed = [seam.at_in for seam in top({**job, "cabinet.boxes": boxes}).seam_list]
    assert all(at <= 120 or at >= 144 for at in listed)
    assert listed


def test_boxes_stand_beside_the_base_by_hand():
    """A 3 in filler and 18 in of doors on the left of a 36 in base: from -3 to 0 and from -21 to -3; drawers of 15 in on its right from 36 to 51."""
    boxes = [
        {"side": "left", "kind": "filler", "width": "3 in"},
        {"side": "right", "kind": "drawer", "width": "15 in"},
        {"side": "left", "kind": "door", "width": "18 in"},
    ]
    model = sheet_of({"cabinet.boxes": boxes}).design.placed.model
    hand = {"filler box 1 on the left": (-3, 0), "door box 2 on the left": (-21, -3), "drawer box 1 on the right": (36, 51)}
    assert {body.name: body.span("x") for body in model.of_part("run boxes")} == hand
    assert model["filler box 1 on the left"].size_in("y") == 0.75
