"""Counter parts from slabs by through cuts: cases worked by hand, every small case counted out, errors."""

import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import combinations

import pytest
from cutting_jobs import Counter, kitchen_jobs, slab_of
from hypothesis import given, settings
from hypothesis import strategies as st
from long_run import one_in
from plan_checks import check_slabs, meant
from slab_oracles import first_fit_levels, solve_by_levels

from kit.cutting import slabs as slabs_room
from kit.cutting.plans import CutPlan, CutStock, Stock
from kit.cutting.slabs import plan_slabs
from kit.errors import CutError
from kit.records import Piece, PlacedPiece

BLANK = slab_of(96.0, 26.0, Decimal("300.00"), "blank")
JUMBO = slab_of(126.0, 63.0, Decimal("1200.00"), "large slab")


def checked(parts: list[Piece], slabs: list[Stock], kerf_in: float = 0.125) -> CutPlan:
    """A plan that has been followed."""
    plan = plan_slabs(parts, slabs, kerf_in=kerf_in)
    check_slabs(plan, parts, slabs, kerf_in)
    return plan


# --- boundaries ------------------------------------------------------------------------------------------


def test_two_parts_and_one_blade_fill_a_slab_exactly():
    """12 15/16 in twice and a 1/8 in cut are 26 in; a sixty-fourth more needs a second blank."""
    assert len(checked([Piece(96.0, 2, "half", 12.9375)], [BLANK]).cut) == 1
    assert len(checked([Piece(96.0, 1, "half", 12.9375), Piece(96.0, 1, "more", 12.953125)], [BLANK]).cut) == 2


def test_grain_keeps_a_part_from_being_turned():
    """A 20 x 60 in part with its grain along 20 in fits no 26 in blank; free to turn, it does."""
    with pytest.raises(CutError, match=r"piece panel: 20 x 60 in, grain along the length, fits no stock\. Sizes available: 96 x 26 in\."):
        plan_slabs([Piece(20.0, 1, "panel", 60.0)], [BLANK], kerf_in=0.125)
    plan = checked([Piece(20.0, 1, "panel", 60.0, "free")], [BLANK])
    assert plan.cut[0].pieces == (PlacedPiece("panel", 0.0, 60.0, 0.0, 20.0),)


def test_splash_comes_out_of_the_same_slab():
    """A run 25 1/2 in deep and its 4 in splash need 29 5/8 in: two rows of a 30 in blank, not of a 29 1/2 in one."""
    parts = [Piece(80.0, 1, "run", 25.5), Piece(80.0, 1, "splash", 4.0)]
    assert len(checked(parts, [slab_of(96.0, 30.0, Decimal("300.00"), "deep")]).cut) == 1
    assert len(checked(parts, [slab_of(96.0, 29.5, Decimal("300.00"), "shallow")]).cut) == 2


def test_cheapest_slabs_are_bought_not_fewest():
    """Two blanks at 300.00 beat one large slab at 1200.00; when that costs 600.00 as well, one slab is bought."""
    parts = [Piece(90.0, 2, "run", 25.5)]
    assert [cut.stock for cut in checked(parts, [BLANK, JUMBO]).cut] == [BLANK, BLANK]
    even = replace(JUMBO, price=Decimal("600.00"))
    plan = checked(parts, [BLANK, even])
    assert [cut.stock for cut in plan.cut] == [even]


def test_a_remnant_on_hand_is_used_as_often_as_it_is_there():
    """One free remnant takes one of two strips."""
    remnant = slab_of(40.0, 6.0, Decimal(0), "remnant", 1)
    plan = checked([Piece(36.0, 2, "strip", 5.0)], [BLANK, remnant])
    assert plan.cost == Decimal("300.00")
    assert checked([Piece(36.0, 1, "strip", 5.0)], [BLANK, remnant]).cost == Decimal("0.00")
    assert checked([Piece(36.0, 2, "strip", 5.0)], [BLANK, replace(remnant, available=2)]).cost == Decimal("0.00")


def test_drop_outs_are_used_only_when_given():
    """The strip behind the sink fits what drops out of the opening; without that it costs a second blank."""
    parts = [Piece(96.0, 1, "run", 25.5), Piece(30.0, 1, "strip", 3.5)]
    drop_out = slab_of(31.0, 17.0, Decimal(0), "sink drop-out", 1)
    assert checked(parts, [BLANK]).cost == Decimal("600.00")
    plan = checked(parts, [BLANK, drop_out])
    assert plan.cost == Decimal("300.00")
    assert [cut.stock for cut in plan.cut] == [BLANK, drop_out]


def test_a_pinwheel_can_not_be_cut_through():
    """Four 2 x 1 parts around a 1 x 1 fill a 3 x 3 slab that no through cut divides: the plan buys the larger slab and says for what it is optimal."""
    parts = [Piece(2.0, 2, "flat", 1.0), Piece(1.0, 2, "upright", 2.0), Piece(1.0, 1, "middle", 1.0)]
    small, large = slab_of(3.0, 3.0, Decimal("10.00"), "3 x 3"), slab_of(4.0, 3.0, Decimal("13.00"), "4 x 3")
    plan = checked(parts, [small, large], kerf_in=0.0)
    hand_through = Decimal("13.00")  # 2 x 1 on 2 x 1 beside 1 x 2 and 1 x 2, the 1 x 1 above: 4 long
    assert plan.cost == hand_through
    assert plan.proven
    assert plan.proof == "search"


def test_nothing_wanted_buys_nothing():
    """No parts make a proven plan without slabs."""
    plan = plan_slabs([Piece(20.0, 0, "none", 4.0)], [], kerf_in=0.125)
    assert (plan.cut, plan.cost, plan.proven) == ((), Decimal("0.00"), True)


# --- errors and limits -----------------------------------------------------------------------------------


def test_too_few_slabs_are_said():
    """One blank can't hold two runs, in area or by its shape."""
    for width_in in (25.5, 14.0):
        with pytest.raises(CutError, match=r"The stock available can't hold all 2 pieces\. Add to it, or name a stock without a limit"):
            plan_slabs([Piece(90.0, 2, "run", width_in)], [replace(BLANK, available=1)], kerf_in=0.125)


def test_a_pinwheel_in_the_only_slab_is_refused():
    """Only the search shows that five parts can't be cut from the one slab whose area they fill."""
    parts = [Piece(2.0, 2, "flat", 1.0), Piece(1.0, 2, "upright", 2.0), Piece(1.0, 1, "middle", 1.0)]
    with pytest.raises(CutError, match="can't hold all 5 pieces"):
        plan_slabs(parts, [slab_of(3.0, 3.0, Decimal("10.00"), "3 x 3", 1)], kerf_in=0.0)


def test_all_bad_measures_come_in_one_report():
    """Blade, parts and slabs are checked together."""
    with pytest.raises(CutError) as caught:
        plan_slabs(
            [Piece(20.0, 1, "strip"), Piece(-1.0, 1, "anti", 4.0)],
            [replace(BLANK, width_in=0.0), replace(BLANK, name="gift", price=Decimal(-5))],
            kerf_in=float("nan"),
        )
    assert [str(fault) for fault in caught.value.faults] == [
        "kerf_in: nan in is no width or length. Give 0 or more inches.",
        "piece strip: 0 in is no width. Give more than 0 inches.",
        "piece anti: -1 in is no length. Give more than 0 inches.",
        "stock blank: 0 in is no width. Give more than 0 inches.",
        "stock gift: -5 is no price. Give a decimal amount, 0 or more.",
    ]
    with pytest.raises(CutError, match="piece strip: There is no stock to cut it from"):
        plan_slabs([Piece(20.0, 1, "strip", 4.0)], [replace(BLANK, available=0)], kerf_in=0.125)


THIRDS = [Piece(6.0, 1, "half", 2.0), Piece(4.0, 3, "third", 2.0), Piece(3.0, 2, "quarter", 2.0)]
"""Strips that fill two slabs of 12 x 2 in (6 + 3 + 3 and 4 + 4 + 4), where largest first takes three (6 + 4, 4 + 4 + 3, 3)."""


def test_a_bound_that_just_meets_the_cost_is_searched_for_and_never_passed(monkeypatch: pytest.MonkeyPatch):
    """Area alone asks for two slabs, and two do; the quick plan takes three, so a bound any higher than two would call three proven."""
    slab = slab_of(12.0, 2.0, Decimal("10.00"), "12 x 2")
    hand_two, hand_three = 2 * slab.price, 3 * slab.price
    plan = checked(THIRDS, [slab], kerf_in=0.0)
    assert (plan.cost, plan.bound, plan.proven) == (hand_two, hand_two, True)
    monkeypatch.setattr(slabs_room, "NODES", -1)
    open_plan = checked(THIRDS, [slab], kerf_in=0.0)
    assert (open_plan.cost, open_plan.bound, open_plan.proven) == (hand_three, hand_two, False)


@pytest.mark.parametrize("limit", ["STEPS", "NODES"])
def test_a_plan_cut_short_shows_its_gap(limit: str, monkeypatch: pytest.MonkeyPatch):
    """Without steps the quick plan stands with its bound and says that it is not proven; with them it is proven."""
    for parts, slabs in kitchen_jobs(12, 5, parts=7):
        exact = checked(parts, slabs)
        assert exact.proven
        with monkeypatch.context() as patch:
            patch.setattr(slabs_room, limit, -1)
            plan = checked(parts, slabs)
        assert plan.bound <= exact.cost <= plan.cost
        assert plan.proven == (plan.bound == plan.cost)
        if not plan.proven:
            return
    raise AssertionError("each job was proven without a search")


def test_too_many_parts_for_the_search_still_get_a_plan_and_a_bound(monkeypatch: pytest.MonkeyPatch):
    """Thirty parts are beyond every group; what comes out is verified and says what it knows."""
    parts = [Piece(30.0 + place, 1, f"part {place}", 6.0 + place / 2) for place in range(30)]
    monkeypatch.setattr(slabs_room, "STEPS", 20_000)
    monkeypatch.setattr(slabs_room, "NODES", 1_000)
    plan = checked(parts, [JUMBO, BLANK])
    assert plan.bound <= plan.cost
    assert plan.proven == (plan.bound == plan.cost)


# --- outside judges --------------------------------------------------------------------------------------


def least_cost_counted_out(parts: list[Piece], slabs: list[Stock], kerf_in: float) -> Decimal:
    """Least cost over every way to deal the parts to slabs and every through cut at every sum of part sizes; for few parts."""
    blade = meant(kerf_in)
    sizes = [(meant(part.length_in) + blade, meant(part.width_in) + blade) for part in parts for _ in range(part.count)]
    free = [part.grain == "free" for part in parts for _ in range(part.count)]
    every = tuple(range(len(sizes)))

    def sums(group: tuple[int, ...], axis: int) -> set[Fraction]:
        found = {Fraction(0)}
        for part in group:
            options = {sizes[part][axis], sizes[part][1 - axis]} if free[part] else {sizes[part][axis]}
            found |= {total + size for total in found for size in options}
        return found - {Fraction(0)}

    def splits(group: tuple[int, ...]) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
        return [(some, tuple(part for part in group if part not in some)) for number in range(1, len(group)) for some in combinations(group, number)]

    @cache
    def fits(group: tuple[int, ...], length: Fraction, width: Fraction) -> bool:
        if len(group) == 1:
            along, across = sizes[group[0]]
            return (along <= length and across <= width) or (free[group[0]] and across <= length and along <= width)
        return any(
            any(at < length and fits(some, at, width) and fits(rest, length - at, width) for at in sums(some, 0))
            or any(at < width and fits(some, length, at) and fits(rest, length, width - at) for at in sums(some, 1))
            for some, rest in splits(group)
        )

    @cache
    def cost(group: tuple[int, ...]) -> Decimal:
        if not group:
            return Decimal(0)
        best = Decimal(10**9)
        for number in range(len(group)):
            for others in combinations(group[1:], number):
                some = (group[0], *others)
                rest = tuple(part for part in group if part not in some)
                prices = [slab.price for slab in slabs if fits(some, meant(slab.length_in) + blade, meant(slab.width_in) + blade)]
                if prices:
                    best = min(best, min(prices) + cost(rest))
        return best

    return cost(every)


def some_free(job: Counter, number: int) -> Counter:
    """The job with every third part free to turn."""
    return [replace(part, grain="free") if place % 3 == number % 3 else part for place, part in enumerate(job[0])], job[1]


SMALL = [some_free(job, number) for number, job in enumerate(kitchen_jobs(60, 9)) if len(job[0]) <= 5]


@pytest.mark.parametrize("job", one_in(12, SMALL), ids=range(len(SMALL)))
def test_small_counters_cost_what_is_counted_out(job: Counter):
    """Up to five parts, some free to turn: the proven plan costs as little as the best of every sequence of through cuts."""
    parts, slabs = job
    plan = checked(parts, slabs)
    assert plan.proven
    assert plan.cost == least_cost_counted_out(parts, slabs, 0.125)


def fine_job(seed: int) -> Counter:
    """Two to four parts and two slabs whose sizes have five to seven decimals; parts that just fill a slab are among them."""
    chance = random.Random(seed)

    def size(low: float, high: float) -> float:
        return round(chance.uniform(low, high), chance.randint(5, 7))

    parts = [Piece(size(8, 40), 1, f"{place}", size(4, 20), chance.choice(["length", "free"])) for place in range(chance.randint(2, 4))]
    snug = slab_of(round(parts[0].length_in + parts[1].length_in, 7), max(part.width_in for part in parts), Decimal(chance.randint(900, 1100)), "just two")
    return parts, [snug, slab_of(size(40, 60), size(20, 30), Decimal(chance.randint(900, 1100)), "small"), slab_of(90.0, 50.0, Decimal("1935.00"), "large")]


@pytest.mark.parametrize("seed", one_in(10, range(150)))
def test_sizes_with_many_decimals_cost_what_is_counted_out(seed: int):
    """The finest sizes that a float can mean: what is called proven is as cheap as the best of every sequence of through cuts."""
    parts, slabs = fine_job(seed)
    plan = checked(parts, slabs, kerf_in=0.0)
    assert plan.proven
    assert plan.cost == least_cost_counted_out(parts, slabs, 0.0)


@pytest.mark.parametrize("job", one_in(4, [*kitchen_jobs(20, 15), *kitchen_jobs(3, 16, parts=12)]), ids=range(23))
def test_kitchen_counters_are_proven(job: Counter):
    """Jobs of up to twelve parts are proven and verified, and cost no more with a free remnant on hand."""
    parts, slabs = job
    plan = checked(parts, slabs)
    assert plan.proven
    assert checked(parts, [*slabs, slab_of(40.0, 20.0, Decimal(0), "remnant", 1)]).cost <= plan.cost


@pytest.mark.parametrize("job", kitchen_jobs(12, 17), ids=range(12))
def test_kitchen_counters_cost_no_more_than_two_stages_or_first_fit(job: Counter):
    """Neither scipy's solver on the two-stage model nor first fit decreasing on levels finds a cheaper plan; both cut through, so the bound holds for them."""
    parts, slabs = job
    plan = checked(parts, slabs)
    solved = solve_by_levels(parts, slabs, 0.125, 20.0)
    assert solved is None or plan.bound <= plan.cost <= solved
    assert plan.cost <= first_fit_levels(parts, slabs, 0.125)


SIDES = st.integers(8, 200).map(lambda eighths: eighths / 8)
GRAINS = st.sampled_from(["length", "free"])
PART = st.builds(Piece, length_in=SIDES, count=st.integers(1, 2), name=st.sampled_from("ab"), width_in=SIDES, grain=GRAINS)
PARTS = st.lists(PART, min_size=1, max_size=4)
SHOP = [slab_of(30.0, 26.0, Decimal("20.00"), "small"), slab_of(52.0, 40.0, Decimal("50.00"), "large")]


@settings(max_examples=60, deadline=None)
@given(PARTS, st.builds(Piece, length_in=SIDES, count=st.just(1), name=st.just("more"), width_in=SIDES, grain=st.just("length")))
def test_more_parts_never_cost_less_and_leave_to_turn_never_costs_more(parts: list[Piece], more: Piece):
    """What holds more parts holds fewer; what may lie one way may be allowed two."""
    plan = checked(parts, SHOP)
    assert checked([*parts, more], SHOP).cost >= plan.cost
    assert checked([replace(part, grain="free") for part in parts], SHOP).cost <= plan.cost
    assert checked(parts, SHOP, kerf_in=0.0).cost <= plan.cost


def test_the_checks_see_a_pinwheel_and_a_part_out_of_place():
    """Parts that no through cut divides, and a part beyond the slab's edge."""
    parts = [Piece(60.0, 1, "run", 20.0), Piece(30.0, 1, "vanity", 18.0)]
    plan = plan_slabs(parts, [BLANK], kerf_in=0.125)
    cut = plan.cut[0]
    for at_in in (40.0, cut.pieces[0].at_in):
        wrong = replace(plan, cut=(replace(cut, pieces=(cut.pieces[0], replace(cut.pieces[1], at_in=at_in + 40.0))),))
        with pytest.raises(AssertionError):
            check_slabs(wrong, parts, [BLANK], 0.125)
    pinwheel = [PlacedPiece("flat", 0.0, 2.0, 0.0, 1.0), PlacedPiece("flat", 1.0, 2.0, 2.0, 1.0)]
    pinwheel += [PlacedPiece("upright", 2.0, 1.0, 0.0, 2.0), PlacedPiece("upright", 0.0, 1.0, 1.0, 2.0)]
    slab = slab_of(3.0, 3.0, Decimal("10.00"), "3 x 3")
    wrong = CutPlan((CutStock(slab, tuple(pinwheel), 0.0, usable=False),), Decimal("10.00"), Decimal("10.00"), True, "search", ())
    with pytest.raises(AssertionError, match="no through cuts"):
        check_slabs(wrong, [Piece(2.0, 2, "flat", 1.0), Piece(1.0, 2, "upright", 2.0)], [slab], 0.0)
