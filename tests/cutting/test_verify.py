"""The verifier catches each way in which a plan can be wrong, and the certificate proves no more than it may."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kit.cutting.lengths import CutPiece, CutPlan, Piece, Stick, Stock, plan_cuts
from kit.cutting.verify import certify_cuts, verify_cuts
from kit.errors import CutError

PIECES = [Piece(30.0, 2, "cross piece"), Piece(20.5, 2, "cleat")]
STOCK = [Stock(96.0, Decimal("4.00"), "8 ft"), Stock(31.0, Decimal(0), "offcut", 1)]
PLAN = plan_cuts(PIECES, STOCK, kerf_in=0.125)


def with_first(plan: CutPlan, **changes: object) -> CutPlan:
    """The plan with its first stick changed."""
    return replace(plan, sticks=(replace(plan.sticks[0], **changes), *plan.sticks[1:]))


FIRST = PLAN.sticks[0]


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (with_first(PLAN, pieces=FIRST.pieces[:-1]), r"wanted, \d cut"),
        (with_first(PLAN, pieces=(*FIRST.pieces, FIRST.pieces[0])), r"stick 1: needs \d+"),
        (with_first(PLAN, pieces=(replace(FIRST.pieces[0], length_in=29.0), *FIRST.pieces[1:])), r"piece cross piece: 29 in: 0 wanted, 1 cut"),
        (with_first(PLAN, pieces=(replace(FIRST.pieces[0], name="beam"), *FIRST.pieces[1:])), r"piece beam: 30 in: 0 wanted, 1 cut"),
        (with_first(PLAN, pieces=(FIRST.pieces[0], replace(FIRST.pieces[1], start_in=30.0), *FIRST.pieces[2:])), r"starts at 30 in, it must at 30\.125 in"),
        (with_first(PLAN, left_over_in=FIRST.left_over_in + 0.125), r"stick 1: says .* in are left"),
        (with_first(PLAN, usable=not FIRST.usable), r"stick 1: its rest is wrongly called usable or not"),
        (with_first(PLAN, pieces=()), r"stick 1: yields no piece"),
        (with_first(PLAN, stock=Stock(96.0, Decimal("3.00"), "dream")), r"stock dream: is not on offer"),
        (replace(PLAN, sticks=(*PLAN.sticks, PLAN.sticks[-1])), r"stock offcut: 2 sticks are cut, there are 1"),
        (replace(PLAN, cost=PLAN.cost + Decimal("0.01")), r"cost: says 4\.01, the sticks cost 4\.00"),
        (replace(PLAN, bound=PLAN.cost + Decimal("0.01")), r"bound: says 4\.01, proven, at a cost of 4\.00"),
        (replace(PLAN, proven=False), r"bound: says 4\.00, not proven, at a cost of 4\.00"),
    ],
)
def test_each_fault_is_found(wrong: CutPlan, message: str):
    """One thing is changed in a sound plan; the verifier names it."""
    verify_cuts(PLAN, PIECES, STOCK, 0.125)
    with pytest.raises(CutError, match=message):
        verify_cuts(wrong, PIECES, STOCK, 0.125)


def test_a_forgotten_blade_is_found():
    """Four 24 in pieces in 96 in are refused with a blade and pass without."""
    pieces = tuple(CutPiece("cleat", 24.0, 24.0 * place) for place in range(4))
    stock = Stock(96.0, Decimal("4.00"), "8 ft")
    plan = CutPlan((Stick(stock, pieces, 0.0, usable=False),), Decimal("4.00"), Decimal("4.00"), True, "search", True, False, (), 0.0)
    verify_cuts(plan, [Piece(24.0, 4, "cleat")], [stock], 0.0)
    with pytest.raises(CutError, match=r"stick 1: needs 96\.375 in, the stick has 96 in"):
        verify_cuts(plan, [Piece(24.0, 4, "cleat")], [stock], 0.125)


def test_a_wrong_certificate_proves_less_not_more():
    """Values of one kind of piece only prove only what these need."""
    pieces, stock = [Piece(60.0, 3, "long"), Piece(30.0, 3, "short")], [Stock(96.0, Decimal("4.00"), "8 ft")]
    plan = plan_cuts(pieces, stock, kerf_in=0.125)
    hand_long, hand_short = Decimal("12.00"), Decimal("4.00")  # one stick a long piece; three short ones in one stick
    assert certify_cuts(plan, pieces, stock, 0.125) == hand_long == plan.bound
    assert certify_cuts(replace(plan, values=((1, 0),)), pieces, stock, 0.125) == hand_long
    assert certify_cuts(replace(plan, values=((0, 1),)), pieces, stock, 0.125) == hand_short
    assert certify_cuts(replace(plan, values=((0, 0),)), pieces, stock, 0.125) == Decimal(0)
