"""Plans against outside judges: a general-purpose solver, textbook first fit, counting out every way; and what must always hold."""

import random
from decimal import Decimal

import pytest
from cutting_jobs import KERF_IN, Lumber, lumber_jobs, offcut_jobs
from cutting_oracles import count_out, first_fit, solve_by_arcs
from hypothesis import given, settings
from hypothesis import strategies as st
from long_run import one_in
from plan_checks import certify_cuts, check_cuts

from kit.cutting.lengths import plan_cuts
from kit.cutting.plans import CutPlan, Stock
from kit.errors import CutError
from kit.records import Piece

SMALL = [*lumber_jobs(16, 11, most_pieces=14), *offcut_jobs(14, 12), *lumber_jobs(6, 13, one_stock=True)]


def cents_of(plan: CutPlan) -> int:
    return int(plan.cost * 100)


def checked(pieces: list[Piece], stock: list[Stock], kerf_in: float = KERF_IN) -> CutPlan:
    plan = plan_cuts(pieces, stock, kerf_in=kerf_in)
    check_cuts(plan, pieces, stock, kerf_in)
    return plan


@pytest.mark.parametrize("job", one_in(3, SMALL), ids=range(len(SMALL)))
def test_plans_cost_what_a_general_solver_finds(job: Lumber):
    """Cost and number of bought sticks equal the proven optimum of scipy's mixed-integer solver, and first fit is never cheaper."""
    pieces, stock = job
    plan = checked(pieces, stock)
    hand_best = solve_by_arcs(pieces, stock, KERF_IN)
    assert hand_best is not None
    assert (cents_of(plan), sum(stick.stock.price > 0 for stick in plan.cut)) == hand_best
    assert plan.proven
    fitted = first_fit(pieces, stock, KERF_IN)
    assert fitted is None or fitted >= cents_of(plan)


@pytest.mark.parametrize("job", one_in(3, [*lumber_jobs(40, 21), *offcut_jobs(20, 22, most_pieces=40)]), ids=range(60))
def test_whole_jobs_are_proven_and_no_worse_than_first_fit(job: Lumber):
    """Jobs of up to 40 pieces: verified, proven, never dearer than first fit, the certificate right."""
    pieces, stock = job
    plan = checked(pieces, stock)
    assert plan.proven
    fitted = first_fit(pieces, stock, KERF_IN)
    assert fitted is None or fitted >= cents_of(plan)
    if plan.proof in {"sizes", "values"}:
        assert certify_cuts(plan, pieces, stock, KERF_IN) == plan.bound


def tiny_job(seed: int) -> tuple[list[Piece], list[Stock], float]:
    """Up to six pieces, one or two stocks, maybe offcuts on hand."""
    chance = random.Random(seed)
    pieces = [Piece(chance.randint(12, 180) / 2, chance.randint(1, 2), f"{place}") for place in range(3)]
    stock = [Stock(float(length), Decimal(length * 5 // 12), f"{length}") for length in chance.sample([96, 120, 144, 192], chance.randint(1, 2))]
    if chance.random() < 0.6:
        stock.append(Stock(chance.randint(40, 190) / 2, chance.choice([Decimal(0), Decimal(1)]), "offcut", chance.randint(1, 2)))
    return pieces, stock, chance.choice([0.0, 0.125, 0.25])


@pytest.mark.parametrize("seed", range(40))
def test_all_three_aims_equal_those_counted_out(seed: int):
    """Cost, then bought sticks, then the longest rest of a bought stick, against every partition of the pieces onto every choice of sticks."""
    pieces, stock, kerf_in = tiny_job(seed)
    plan = checked(pieces, stock, kerf_in)
    hand_cents, hand_sticks, hand_left_in = count_out(pieces, stock, kerf_in)
    bought = [stick for stick in plan.cut if stick.stock.price]
    assert (cents_of(plan), len(bought)) == (hand_cents, hand_sticks)
    assert max((stick.left_over_in for stick in bought), default=0.0) == float(hand_left_in)


# --- what must always hold -------------------------------------------------------------------------------

LENGTHS = st.integers(6 * 8, 90 * 8).map(lambda eighths: eighths / 8)
PIECES = st.lists(st.builds(Piece, length_in=LENGTHS, count=st.integers(1, 4), name=st.sampled_from(["a", "b", "c"])), min_size=1, max_size=6)
PRICES = st.integers(200, 900).map(lambda cents: Decimal(cents).scaleb(-2))
STOCK = st.lists(PRICES, min_size=1, max_size=4).map(
    lambda prices: [Stock(length, price, f"{length:g}") for length, price in zip((96.0, 120.0, 144.0, 192.0), prices, strict=False)]
)


@settings(max_examples=60, deadline=None)
@given(PIECES, STOCK, st.builds(Piece, length_in=LENGTHS, count=st.integers(1, 3), name=st.just("more")))
def test_more_pieces_never_cost_less(pieces: list[Piece], stock: list[Stock], more: Piece):
    """What is enough for more pieces is enough for fewer."""
    assert checked([*pieces, more], stock).cost >= checked(pieces, stock).cost


@settings(max_examples=60, deadline=None)
@given(PIECES, STOCK, LENGTHS)
def test_an_offcut_for_nothing_never_costs_more(pieces: list[Piece], stock: list[Stock], length_in: float):
    """What is on hand need not be used."""
    plan = checked(pieces, stock)
    richer = checked(pieces, [*stock, Stock(length_in, Decimal(0), "offcut", 1)])
    assert (richer.cost, sum(stick.stock.price > 0 for stick in richer.cut)) <= (plan.cost, len(plan.cut))


@settings(max_examples=60, deadline=None)
@given(PIECES, STOCK)
def test_a_thinner_blade_never_costs_more(pieces: list[Piece], stock: list[Stock]):
    """Whatever can be sawn can be sheared."""
    assert checked(pieces, stock, 0.0).cost <= checked(pieces, stock, 0.125).cost


@settings(max_examples=40, deadline=None)
@given(PIECES, STOCK, st.integers(1, 5))
def test_scarce_stock_is_packed_or_refused_rightly(pieces: list[Piece], stock: list[Stock], number: int):
    """With so many sticks of each stock, a plan is found or the general solver finds none either."""
    scarce = [Stock(entry.length_in, entry.price, entry.name, number) for entry in stock]
    if solve_by_arcs(pieces, scarce, KERF_IN) is None:
        with pytest.raises(CutError, match="can't hold all"):
            plan_cuts(pieces, scarce, kerf_in=KERF_IN)
    else:
        plan = checked(pieces, scarce)
        assert plan.proven
        assert plan.cost >= checked(pieces, stock).cost


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(300, 2400), st.integers(1, 3)), min_size=1, max_size=4), st.integers(600, 2500), st.data())
def test_measures_on_no_common_grid_cost_what_is_counted_out(mixed: list[tuple[int, int]], metric: int, data: st.DataObject):
    """Tenths of a millimetre beside thirds and sevenths of an inch and a piece as long as its stock: too fine for any table, and still exact."""
    parts = [10.0 * 25.4, 3.0, 7.0]
    pieces = [Piece(length / parts[place % 3] / (1 if place % 3 == 0 else 30), 1, f"{place}") for place, (length, _) in enumerate(mixed)]
    longest = max(piece.length_in for piece in pieces)
    stock = [Stock(longest, Decimal("3.00"), "just so"), Stock(longest * 1.5 + metric / 254.0, Decimal(data.draw(st.integers(300, 900))).scaleb(-2), "longer")]
    plan = checked(pieces, stock, 0.0625)
    hand_cents, hand_sticks, _ = count_out(pieces, stock, 0.0625)
    assert plan.proven
    assert (cents_of(plan), len(plan.cut)) == (hand_cents, hand_sticks)
