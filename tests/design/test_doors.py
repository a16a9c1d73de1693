"""What becomes of the doors below an apron, by hand: 10 in of apron below the box top, 1/8 in of reveal, doors from 7 1/4 in down to the toe space."""

import pytest
from design_jobs import sheet_of
from hypothesis import given
from hypothesis import strategies as st

from kit.solids import Stage

ORDINARY = {"cabinet.door_top": "7 1/4 in", "cabinet.hinge_bore": "4 in"}
KINDS = ("slab", "five-piece", "wrapped")
WHYS = {"five-piece": "five-piece", "wrapped": "wrapped or banded"}


def doors(changes):
    """The plan of the doors of the plain job: a 36 in base 34 1/2 in high, toe space 4 1/2 in."""
    return sheet_of({**ORDINARY, **changes}).design.doors


def test_slab_doors_are_trimmed():
    """They must start at 10 + 1/8: 2 7/8 in go, of 34 1/2 - 4 1/2 - 7 1/4 = 22 3/4 in stay 19 7/8 in."""
    plan = doors({"cabinet.door_kind": "slab"})
    assert (plan.work, plan.count, plan.width_in) == ("trim", 2, 18.0)
    assert (plan.top_in, plan.trim_in, plan.height_in) == (10.125, 2.875, 19.875)


@pytest.mark.parametrize("kind", ["five-piece", "wrapped"])
def test_other_kinds_are_replaced(kind):
    """New doors of the height that a trim would leave."""
    plan = doors({"cabinet.door_kind": kind})
    assert (plan.work, plan.height_in) == ("new", 19.875)
    assert WHYS[kind] in plan.why


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("top", "hand_lower_in"), [("10 1/8 in", 0.0), ("10 3/4 in", 0.0), ("10 1/16 in", 1 / 16)])
def test_doors_that_start_below_the_apron_stay(kind, top, hand_lower_in):
    """Apron 10 and reveal 1/8: doors at 10 1/8 stay as they are, at 10 1/16 they don't."""
    plan = doors({"cabinet.door_kind": kind, "cabinet.door_top": top})
    assert plan.trim_in == pytest.approx(hand_lower_in)
    assert (plan.work == "keep") == (hand_lower_in == 0.0)


@pytest.mark.parametrize(("bore", "hand_work"), [("3 53/64 in", "trim"), ("3 13/16 in", "new"), ("1 in", "new"), ("0 in", "trim")])
def test_a_cut_that_meets_the_hinge_bore_means_new_doors(bore, hand_work):
    """Half of a 1.378 in bore and 1/4 in of wood above it: 2 7/8 in can go where the bore's center is 3.814 in down or lower, or where there is none."""
    assert doors({"cabinet.door_kind": "slab", "cabinet.hinge_bore": bore}).work == hand_work


@pytest.mark.parametrize(("height", "hand_left_in", "hand_low"), [("14 7/8 in", 12.0, False), ("14 13/16 in", 11.9375, True), ("4 in", 1.125, True)])
def test_what_is_too_low_is_no_door(height, hand_left_in, hand_low):
    """Less than 12 in left."""
    plan = doors({"cabinet.door_kind": "slab", "cabinet.door_height": height})
    assert (plan.height_in, plan.is_too_low) == (hand_left_in, hand_low)


def test_low_doors_that_stay_are_doors():
    """The limit is for what is cut, not for what hangs there."""
    assert not doors({"cabinet.door_height": "8 in", "cabinet.door_top": "12 in"}).is_too_low


@pytest.mark.parametrize("changes", [{"cabinet.door_top": None}, *({"cabinet.door_top": top, "cabinet.height": "26 in"} for top in ("24 in", "21 1/2 in"))])
def test_nothing_is_planned_for_doors_nobody_measured_or_that_have_no_room(changes):
    """No upper edge; a box with 26 - 4 1/2 - 24 < 0 in of door, and one with just 0."""
    assert doors(changes) is None


def test_a_sink_without_an_apron_leaves_the_doors():
    """Ordinary doors stay."""
    standard = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "top"}
    assert doors({**standard, "cabinet.door_kind": "slab"}).work == "keep"


@given(kind=st.sampled_from(KINDS), height=st.integers(4 * 16, 16 * 16), more=st.integers(0, 64), bore=st.integers(0, 12 * 16))
def test_a_taller_apron_never_leaves_more_door(kind, height, more, bore):
    """By sixteenths, for each kind of door and place of the bore."""
    low, tall = (
        doors({"cabinet.door_kind": kind, "cabinet.hinge_bore": f"{bore / 16} in", "sink.apron_height": f"{sixteenths / 16} in"})
        for sixteenths in (height, min(height + more, 16 * 16))
    )
    assert tall.height_in <= low.height_in
    assert tall.top_in >= low.top_in


def test_doors_stand_as_they_are_and_as_they_will_be():
    """From 30 in down to the toe space at 4 1/2 today, up to 24 3/8 in when built, off while the base is open."""
    model = sheet_of({**ORDINARY, "cabinet.door_kind": "slab"}).design.placed.model
    today, built = model["doors today"], model["doors"]
    hand_upper_in = 34.5 - 7.25, 34.5 - 10.125
    assert (today.span("z"), built.span("z")) == ((4.5, hand_upper_in[0]), (4.5, hand_upper_in[1]))
    assert (today.stages, built.stages) == (Stage.TODAY, Stage.BUILT)
    assert model.gap("doors", "apron", "z").value_in == pytest.approx(1 / 8)


@pytest.mark.parametrize(("top", "hand_left"), [("6 3/8 in", False), ("9 7/16 in", False), ("9 1/2 in", True)])
def test_the_cut_takes_the_mid_rail_between_the_stiles(top, hand_left):
    """The cut of an overlay apron ends 9 1/2 in below the box top: a rail that starts there stays whole, one above it is cut."""
    design = sheet_of({**ORDINARY, "cabinet.mid_rail": "1 1/2 in", "cabinet.mid_rail_top": top}).design
    assert design.cut.mid_rail_removed is not hand_left
    assert ("mid rail, uncut" in design.placed.model) is not hand_left
    assert design.placed.model["mid rail"].stages & Stage.BUILT


def test_no_mid_rail_is_placed_where_there_is_none_or_nobody_measured_it():
    """None assumed; one whose place is unknown is asked for, not guessed."""
    for changes in (
        {},
        {"cabinet.mid_rail": "1 1/2 in"},
        {"cabinet.mid_rail": "1 1/2 in", "cabinet.mid_rail_top": "8 in", "cabinet.construction": "frameless"},
    ):
        design = sheet_of({**ORDINARY, **changes}).design
        assert "mid rail" not in design.placed.model
        assert not design.cut.mid_rail_removed
