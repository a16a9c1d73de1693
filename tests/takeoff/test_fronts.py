"""Doors, false front and fillers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import quantities, step_lines, step_quantities

from kit.design.doors import door_count
from kit.design.place_fillers import _strips
from kit.sources import value
from kit.takeoff.fronts import count_fronts_back, count_fronts_off
from kit.takeoff.ordering import count_ordering

DOORS, STRIPS, FIT = (f"refit-fronts/{part}" for part in ("door/on again", "filler-strip/fillers", "filler/rip and fit"))
OFF, FRONT, OUT = (f"fronts-off/{part}" for part in ("door-off/doors off", "false-front/take off for good", "base-emptied/take out"))
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}
FRAMELESS = {"cabinet.construction": "frameless", "cabinet.stile": "3/4 in", "cabinet.side_thickness": "3/4 in"}


@pytest.mark.parametrize(("width_in", "hand_doors"), [(18, 1), (24, 1), (24.0625, 2), (36, 2), (60, 2)])
def test_doors_by_width(width_in, hand_doors):
    """One door up to 24 in."""
    assert door_count(width_in) == hand_doors


def test_plain_job_by_hand():
    """33 in of apron between 1 1/2 in stiles of a 36 in base, ending 1/8 in above the doors: no gap anywhere."""
    assert step_quantities(count_fronts_off) == {OFF: 2, FRONT: 1}
    assert step_quantities(count_fronts_back) == {DOORS: 2}


@pytest.mark.parametrize(("weight", "hand_doors"), [("28 lb", 2), ("120 lb", 2)])
def test_doors_come_off_for_a_sink_that_is_raised_from_below(weight, hand_doors):
    """A light under-mount is clamped from inside the base; a heavy one stands on its frame: both want the doors off, a drop-in does not."""
    under = {**STANDARD, "sink.mount": "under", "sink.weight": weight}
    assert step_quantities(count_fronts_off, under)[OFF] == step_quantities(count_fronts_back, under)[DOORS] == hand_doors
    assert OFF not in step_quantities(count_fronts_off, {**STANDARD, "sink.mount": "top", "sink.weight": "28 lb"})


def test_side_fillers_in_a_frameless_base():
    """(36 - 33) / 2 - 3/4 leaves 3/4 in on each side: two strips as high as the apron reaches below the box top."""
    lines = step_lines(count_fronts_back, FRAMELESS)
    assert [(piece.name, piece.length_in, piece.count) for piece in lines[STRIPS].pieces] == [("side filler", 10.0, 2)]
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({DOORS: 2, STRIPS: 20 / 12, FIT: 2})
    assert (lines[STRIPS].basis, lines[FIT].basis) == ("2 side fillers x 10 in / 12 in a foot", "2 side fillers")


@pytest.mark.parametrize(("door_top", "hand_strips"), [("10 1/8 in", 0), ("10 3/16 in", 0), ("10 1/4 in", 1), ("13 1/8 in", 1), ("13 1/4 in", 2), (None, 0)])
def test_filler_above_the_doors(door_top, hand_strips):
    """More than 1/16 in beyond the reveal is filled, 3 in at a time; nothing is guessed where nobody measured."""
    assert step_quantities(count_fronts_back, {"cabinet.door_top": door_top}).get(FIT, 0) == hand_strips


def test_a_gap_of_whole_strips_takes_no_strip_for_the_noise_of_floats():
    """Exactly two strips of 3 in, two as far as floats can tell, and a 64th of an inch more; exactly the reveal that is left open, and a 64th more."""
    strip, reveal = value("site_work", "filler/strip-width"), value("site_work", "filler/gap-least")
    widths = (2 * strip, 2 * strip + 1e-9, 2 * strip + 1 / 64, reveal, reveal + 1 / 64)
    assert [len([*_strips((0.0, wide))]) for wide in widths] == [2, 2, 3, 0, 1]


def test_no_front_work_for_a_standard_top_mount():
    """Nothing cut, nothing built inside: doors stay on."""
    for count in (count_fronts_off, count_fronts_back):
        assert step_quantities(count, {**STANDARD, "sink.mount": "top", "sink.weight": "30 lb"}) == {}


def test_no_false_front_to_take_off():
    """A base without one."""
    assert FRONT not in step_quantities(count_fronts_off, {"cabinet.false_front_bottom": "0 in", "cabinet.false_front_screw": "0 in"})


@pytest.mark.parametrize(("below", "hand_parts"), [((), 0), (("bin",), 1), (("filter", "hot_tap"), 2), (("filter", "hot_tap", "bin"), 3)])
def test_what_lives_below_goes_out_and_back(below, hand_parts):
    """Filter, tank and bin are in the way of whoever works in the base."""
    changes = {f"plumbing.{part}": True for part in below}
    assert step_quantities(count_fronts_off, changes).get(OUT, 0) == hand_parts
    assert step_quantities(count_fronts_back, changes).get("refit-fronts/below-deck-part/put back", 0) == hand_parts


@given(gap=st.integers(0, 100), more=st.integers(0, 27))
def test_a_wider_gap_never_takes_fewer_strips(gap, more):
    """Lower doors, never less filler."""
    near, far = (step_quantities(count_fronts_back, {"cabinet.door_top": f"{10 + sixteenths / 16} in"}) for sixteenths in (gap, gap + more))
    assert far.get(FIT, 0) >= near.get(FIT, 0)


ORDINARY = {"cabinet.door_top": "7 1/4 in", "cabinet.hinge_bore": "4 in"}


def test_trimmed_doors_by_hand():
    """Two doors 18 in wide: 36 in of cut, taped on both sides; 3/4 in of edge sealed twice, 3 sq ft a fl oz."""
    hand = {
        "refit-fronts/masking-tape/doors' cut line": 2 * 36 / 12,
        "refit-fronts/fine-blade/doors": 36 / 60,
        "refit-fronts/edge-seal/doors' raw edge": 36 * 0.75 / 144 * 2 / 3,
        "refit-fronts/trim-door/cut to height and seal": 2,
    }
    assert step_quantities(count_fronts_back, {**ORDINARY, "cabinet.door_kind": "slab"}) == pytest.approx({DOORS: 2, **hand})


@pytest.mark.parametrize("kind", ["five-piece", "wrapped"])
def test_new_doors_by_hand(kind):
    """Two doors 18 x 19 7/8 in, charged by the square foot; no filler is left above them."""
    hand = {f"refit-fronts/new-door-{kind}/doors below the apron": 2 * 18 * 19.875 / 144, "refit-fronts/new-door/hinges and pulls moved over": 2}
    assert step_quantities(count_fronts_back, {**ORDINARY, "cabinet.door_kind": kind}) == pytest.approx(hand)
    assert step_quantities(count_fronts_off, {**ORDINARY, "cabinet.door_kind": kind})[OFF] == 2


def test_slab_doors_whose_bores_are_met_are_new_slabs():
    """A bore 3 in down is met by a cut of 2 7/8 in."""
    found = step_quantities(count_fronts_back, {**ORDINARY, "cabinet.door_kind": "slab", "cabinet.hinge_bore": "3 in"})
    assert "refit-fronts/new-door-slab/doors below the apron" in found


def test_new_doors_are_ordered_unpacked_and_the_old_ones_taken_away():
    """One order and two pieces more; two old doors of 18 x 22 3/4 x 3/4 in of plywood at 36 lb a cubic foot weigh 12.8 lb."""
    trimmed, renewed = (quantities({**ORDINARY, "cabinet.door_kind": kind}) for kind in ("slab", "five-piece"))
    assert renewed["order/order-item/orders"] - trimmed["order/order-item/orders"] == 1
    orders = step_lines(count_ordering, {**ORDINARY, "cabinet.door_kind": "five-piece"})["order/order-item/orders"]
    assert " + 1 set of cabinet doors + " in orders.basis
    assert renewed["receive/unpack-piece/unpack"] - trimmed["receive/unpack-piece/unpack"] == 2
    hand_pounds = 2 * 18 * 22.75 * 0.75 / 1728 * 36
    assert renewed["haul/haul-pound/load and dump"] - trimmed["haul/haul-pound/load and dump"] == pytest.approx(
        hand_pounds, abs=1.0
    )  # the sum is in whole pounds
