"""Counter parts from slabs by through cuts: cases worked by hand, every small case counted out, errors."""

from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import combinations

import pytest
from cutting_jobs import Counter, kitchen_jobs
from hypothesis import given, settings
from hypothesis import strategies as st
from slab_oracles import first_fit_levels, solve_by_levels

from kit.cutting.slabs import Piece, Slab, SlabPlan, ThroughCut, first_slab_plan, plan_slabs
from kit.cutting.verify_slabs import verify_slabs
from kit.errors import CutError
from kit.records import PlacedPiece

BLANK = Slab(96.0, 26.0, Decimal("300.00"), "blank")
JUMBO = Slab(126.0, 63.0, Decimal("1200.00"), "large slab")


def checked(parts: list[Piece], slabs: list[Slab], kerf_in: float = 0.125, cut_outs: tuple[Slab, ...] = (), **options: float) -> SlabPlan:
    """A plan that the verifier has passed."""
    plan = plan_slabs(parts, slabs, kerf_in=kerf_in, cut_outs=cut_outs, **options)
    verify_slabs(plan, parts, [*slabs, *cut_outs], kerf_in)
    return plan


# --- boundaries ------------------------------------------------------------------------------------------


def test_two_parts_and_one_blade_fill_a_slab_exactly():
    """12 15/16 in twice and a 1/8 in cut are 26 in; a sixty-fourth more needs a second blank."""
    assert len(checked([Piece(96.0, 2, "half", 12.9375)], [BLANK]).slabs) == 1
    assert len(checked([Piece(96.0, 1, "half", 12.9375), Piece(96.0, 1, "more", 12.953125)], [BLANK]).slabs) == 2


def test_grain_keeps_a_part_from_being_turned():
    """A 20 x 60 in part with its grain along 20 in fits no 26 in blank; free to turn, it does."""
    with pytest.raises(CutError, match=r"part panel: 20 x 60 in, grain along the length fits no slab; usable are 96 x 26 in"):
        plan_slabs([Piece(20.0, 1, "panel", 60.0)], [BLANK], kerf_in=0.125)
    plan = checked([Piece(20.0, 1, "panel", 60.0, "free")], [BLANK])
    assert plan.slabs[0].parts == (PlacedPiece("panel", 0.0, 60.0, 0.0, 20.0),)


def test_the_margin_is_not_used():
    """With a rim of 1/2 in, 25 in of 26 in are left across, and parts start inside it."""
    rough = replace(BLANK, margin_in=0.5)
    assert checked([Piece(95.0, 1, "run", 25.0)], [rough]).slabs[0].parts == (PlacedPiece("run", 0.5, 95.0, 0.5, 25.0),)
    with pytest.raises(CutError, match=r"part run: 95 x 25\.0625 in, grain along the length fits no slab; usable are 95 x 25 in"):
        plan_slabs([Piece(95.0, 1, "run", 25.0625)], [rough], kerf_in=0.125)


def test_splash_comes_out_of_the_same_slab():
    """A run 25 1/2 in deep and its 4 in splash need 29 5/8 in: two rows of a 30 in blank, not of a 29 1/2 in one."""
    parts = [Piece(80.0, 1, "run", 25.5), Piece(80.0, 1, "splash", 4.0)]
    assert len(checked(parts, [Slab(96.0, 30.0, Decimal("300.00"), "deep")]).slabs) == 1
    assert len(checked(parts, [Slab(96.0, 29.5, Decimal("300.00"), "shallow")]).slabs) == 2


def test_cheapest_slabs_are_bought_not_fewest():
    """Two blanks at 300.00 beat one large slab at 1200.00; when that costs 600.00 as well, one slab is bought."""
    parts = [Piece(90.0, 2, "run", 25.5)]
    assert checked(parts, [BLANK, JUMBO]).tally == ((BLANK, 2),)
    even = replace(JUMBO, price=Decimal("600.00"))
    plan = checked(parts, [BLANK, even])
    assert plan.tally == ((even, 1),)
    assert plan.fewest_proven


def test_a_remnant_on_hand_is_used_as_often_as_it_is_there():
    """One free remnant takes one of two strips."""
    remnant = Slab(40.0, 6.0, Decimal(0), "remnant", 1)
    plan = checked([Piece(36.0, 2, "strip", 5.0)], [BLANK, remnant])
    assert plan.cost == Decimal("300.00")
    assert checked([Piece(36.0, 1, "strip", 5.0)], [BLANK, remnant]).cost == Decimal("0.00")
    assert checked([Piece(36.0, 2, "strip", 5.0)], [BLANK, replace(remnant, available=2)]).cost == Decimal("0.00")


def test_drop_outs_are_used_only_when_given():
    """The strip behind the sink fits what drops out of the opening; without leave it costs a second blank."""
    parts = [Piece(96.0, 1, "run", 25.5), Piece(30.0, 1, "strip", 3.5)]
    drop_out = Slab(31.0, 17.0, Decimal(0), "sink drop-out", 1)
    assert checked(parts, [BLANK]).cost == Decimal("600.00")
    plan = checked(parts, [BLANK], cut_outs=(drop_out,))
    assert plan.cost == Decimal("300.00")
    assert dict(plan.tally) == {BLANK: 1, drop_out: 1}
    with pytest.raises(CutError, match=r"cut-out sink drop-out: there is no number of them\. Give `available`"):
        plan_slabs(parts, [BLANK], kerf_in=0.125, cut_outs=(replace(drop_out, available=None),))


def test_a_pinwheel_can_not_be_cut_through():
    """Four 2 x 1 parts around a 1 x 1 fill a 3 x 3 slab that no through cut divides: the plan buys the larger slab and says for what it is optimal."""
    parts = [Piece(2.0, 2, "flat", 1.0), Piece(1.0, 2, "upright", 2.0), Piece(1.0, 1, "middle", 1.0)]
    small, large = Slab(3.0, 3.0, Decimal("10.00"), "3 x 3"), Slab(4.0, 3.0, Decimal("13.00"), "4 x 3")
    plan = checked(parts, [small, large], kerf_in=0.0)
    hand_through = Decimal("13.00")  # 2 x 1 on 2 x 1 beside 1 x 2 and 1 x 2, the 1 x 1 above: 4 long
    assert plan.cost == hand_through
    assert plan.statement == "optimal for through cuts"
    assert plan.proof == "search"


def test_cuts_and_remnants_account_for_the_slab():
    """One run from a blank: an end cut, a cut along, and two rests listed from the least side on."""
    plan = checked([Piece(60.0, 1, "run", 20.0)], [BLANK])
    assert plan.slabs[0].cuts == (ThroughCut("across", 60.0, 0.0, 26.0), ThroughCut("along", 20.0, 0.0, 60.0))
    hand_rests = [(35.875, 26.0), (60.0, 5.875)]
    assert [(rest.length_in, rest.width_in) for rest in plan.slabs[0].remnants] == hand_rests
    assert len(checked([Piece(60.0, 1, "run", 20.0)], [BLANK], least_remnant_in=6.0).slabs[0].remnants) == 1


def test_nothing_wanted_buys_nothing():
    """No parts make a proven plan without slabs."""
    for planner in (plan_slabs, first_slab_plan):
        plan = planner([Piece(20.0, 0, "none", 4.0)], [], kerf_in=0.125)
        assert (plan.slabs, plan.cost, plan.proven, plan.tally) == ((), Decimal("0.00"), True, ())


# --- errors and limits -----------------------------------------------------------------------------------


def test_too_few_slabs_are_said():
    """One blank can't hold two runs, in area or by its shape."""
    for width_in in (25.5, 14.0):
        with pytest.raises(CutError, match=r"The slabs that are available can't hold all 2 parts\. Add slabs, or a slab without a limit"):
            plan_slabs([Piece(90.0, 2, "run", width_in)], [replace(BLANK, available=1)], kerf_in=0.125)


def test_a_pinwheel_in_the_only_slab_is_refused():
    """Only the search shows that five parts can't be cut from the one slab whose area they fill."""
    parts = [Piece(2.0, 2, "flat", 1.0), Piece(1.0, 2, "upright", 2.0), Piece(1.0, 1, "middle", 1.0)]
    for planner in (plan_slabs, first_slab_plan):
        with pytest.raises(CutError, match="can't hold all 5 parts"):
            planner(parts, [Slab(3.0, 3.0, Decimal("10.00"), "3 x 3", 1)], kerf_in=0.0)


def test_all_bad_measures_come_in_one_report():
    """Blade, parts and slabs are checked together."""
    with pytest.raises(CutError) as caught:
        plan_slabs(
            [Piece(20.0, 1, "strip"), Piece(-1.0, 1, "anti", 4.0)],
            [replace(BLANK, width_in=0.0), replace(BLANK, name="rim", margin_in=13.0), replace(BLANK, name="gift", price=Decimal(-5))],
            kerf_in=float("nan"),
        )
    assert [str(fault) for fault in caught.value.faults] == [
        "kerf_in: nan in is no width or length. Give 0 or more inches.",
        "piece anti: -1 in is no length. Give more than 0 inches.",
        "part strip: 0 in is no width. Give more than 0 inches.",
        "stock gift: -5 is no price. Give a decimal amount, 0 or more.",
        "slab blank: 0 in is no width. Give more than 0 inches.",
        "slab rim: 13 in is no margin. Give 0 or more inches, less than half the slab.",
    ]
    with pytest.raises(CutError, match="part strip: there is no slab to cut it from"):
        plan_slabs([Piece(20.0, 1, "strip", 4.0)], [replace(BLANK, available=0)], kerf_in=0.125)


def test_a_plan_cut_short_shows_its_gap():
    """With a few steps only, the quick plan stands with its bound and says that it is not proven; with more it is proven."""
    parts, slabs = next(job for job in kitchen_jobs(40, 5) if not first_slab_plan(*job, kerf_in=0.125).proven)
    early = first_slab_plan(parts, slabs, kerf_in=0.125)
    plan = checked(parts, slabs, limit_s=0.0)
    assert not plan.proven
    assert plan.statement == f"not proven: the cheapest plan of through cuts may cost as little as {plan.bound}, this one costs {plan.cost}"
    exact = checked(parts, slabs)
    assert exact.proven
    assert early.bound <= plan.bound <= exact.cost <= plan.cost <= early.cost
    assert first_slab_plan(parts, slabs, kerf_in=0.125) == exact


def test_too_many_parts_for_the_search_still_get_a_plan_and_a_bound():
    """Thirty parts are beyond every group; what comes out is verified and says what it knows."""
    parts = [Piece(30.0 + place, 1, f"part {place}", 6.0 + place / 2) for place in range(30)]
    plan = checked(parts, [JUMBO, BLANK], steps=20_000)
    assert plan.bound <= plan.cost
    assert plan.proven == (plan.bound == plan.cost)


# --- outside judges --------------------------------------------------------------------------------------


def least_cost_counted_out(parts: list[Piece], slabs: list[Slab], kerf_in: float) -> Decimal:
    """Least cost over every way to deal the parts to slabs and every through cut at every sum of part sizes; for few parts."""
    sizes = [(part.length_in + kerf_in, part.width_in + kerf_in) for part in parts for _ in range(part.count)]
    free = [part.grain == "free" for part in parts for _ in range(part.count)]
    every = tuple(range(len(sizes)))

    def sums(group: tuple[int, ...], axis: int) -> set[float]:
        found = {0.0}
        for part in group:
            options = {sizes[part][axis], sizes[part][1 - axis]} if free[part] else {sizes[part][axis]}
            found |= {total + size for total in found for size in options}
        return found - {0.0}

    def splits(group: tuple[int, ...]) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
        return [(some, tuple(part for part in group if part not in some)) for number in range(1, len(group)) for some in combinations(group, number)]

    @cache
    def fits(group: tuple[int, ...], length: float, width: float) -> bool:
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
                prices = [slab.price for slab in slabs if fits(some, slab.length_in + kerf_in, slab.width_in + kerf_in)]
                if prices:
                    best = min(best, min(prices) + cost(rest))
        return best

    return cost(every)


def some_free(job: Counter, number: int) -> Counter:
    """The job with every third part free to turn."""
    return [replace(part, grain="free") if place % 3 == number % 3 else part for place, part in enumerate(job[0])], job[1]


SMALL = [some_free(job, number) for number, job in enumerate(kitchen_jobs(60, 9)) if len(job[0]) <= 5]


@pytest.mark.parametrize("job", SMALL, ids=range(len(SMALL)))
def test_small_counters_cost_what_is_counted_out(job: Counter):
    """Up to five parts, some free to turn: the proven plan costs as little as the best of every sequence of through cuts."""
    parts, slabs = job
    early = first_slab_plan(parts, slabs, kerf_in=0.125)
    verify_slabs(early, parts, slabs, 0.125)
    plan = checked(parts, slabs)
    assert plan.proven
    assert plan.cost == least_cost_counted_out(parts, slabs, 0.125)
    assert early.bound <= plan.cost <= early.cost


@pytest.mark.parametrize("job", [*kitchen_jobs(20, 15), *kitchen_jobs(3, 16, parts=12)], ids=range(23))
def test_kitchen_counters_are_proven(job: Counter):
    """Jobs of up to twelve parts are proven and verified, and cost no more with a free remnant on hand."""
    parts, slabs = job
    plan = checked(parts, slabs)
    assert plan.proven
    assert checked(parts, [*slabs, Slab(40.0, 20.0, Decimal(0), "remnant", 1)]).cost <= plan.cost


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
SHOP = [Slab(30.0, 26.0, Decimal("20.00"), "small"), Slab(52.0, 40.0, Decimal("50.00"), "large")]


@settings(max_examples=60, deadline=None)
@given(PARTS, st.builds(Piece, length_in=SIDES, count=st.just(1), name=st.just("more"), width_in=SIDES, grain=st.just("length")))
def test_more_parts_never_cost_less_and_leave_to_turn_never_costs_more(parts: list[Piece], more: Piece):
    """What holds more parts holds fewer; what may lie one way may be allowed two."""
    plan = checked(parts, SHOP)
    assert checked([*parts, more], SHOP).cost >= plan.cost
    assert checked([replace(part, grain="free") for part in parts], SHOP).cost <= plan.cost
    assert checked(parts, SHOP, kerf_in=0.0).cost <= plan.cost


# --- the verifier ----------------------------------------------------------------------------------------

RUNS = [Piece(60.0, 1, "run", 20.0), Piece(30.0, 1, "vanity", 18.0)]
PLAN = plan_slabs(RUNS, [BLANK], kerf_in=0.125)
CUT = PLAN.slabs[0]


def with_cut(**changes: object) -> SlabPlan:
    """The sound plan with its slab changed."""
    return replace(PLAN, slabs=(replace(CUT, **changes),))


def moved(number: int, **changes: object) -> SlabPlan:
    """The sound plan with one part changed."""
    return with_cut(parts=tuple(replace(part, **changes) if place == number else part for place, part in enumerate(CUT.parts)))


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (moved(0, at_in=40.0), "lies outside the usable rectangle"),
        (moved(1, at_in=CUT.parts[0].length_in), "overlap or leave no room for the blade"),
        (moved(1, at_in=CUT.parts[1].at_in + 1.0), "does not come out of the cuts"),
        (moved(1, length_in=18.0, width_in=30.0), r"part vanity: 18 x 30 in as it lies is not wanted"),
        (moved(1, name="island"), "part island: 30 x 18 in as it lies is not wanted"),
        (with_cut(parts=CUT.parts[:1]), "part vanity: 30 x 18 in: 1 missing"),
        (with_cut(parts=()), "slab 1: yields no part"),
        (with_cut(cuts=CUT.cuts[:-1]), "does not come out of the cuts"),
        (with_cut(cuts=(replace(CUT.cuts[0], end_in=13.0), *CUT.cuts[1:])), "slab 1: cut 1 is not through"),
        (with_cut(remnants=(replace(CUT.remnants[0], length_in=50.0),)), "the remnant of 50 x .* in does not come out of the cuts"),
        (with_cut(slab=replace(BLANK, name="dream")), "slab dream: is not on offer"),
        (replace(PLAN, slabs=(CUT, CUT)), "part run: 60 x 20 in as it lies is not wanted, or not once more"),
        (replace(PLAN, cost=Decimal("299.00")), r"cost: says 299\.00, the slabs cost 300\.00"),
        (replace(PLAN, proven=False), r"bound: says 300\.00, not proven, at a cost of 300\.00"),
    ],
)
def test_each_fault_of_a_slab_plan_is_found(wrong: SlabPlan, message: str):
    """One thing is changed in a sound plan; the verifier names it."""
    verify_slabs(PLAN, RUNS, [BLANK], 0.125)
    with pytest.raises(CutError, match=message):
        verify_slabs(wrong, RUNS, [BLANK], 0.125)


def test_more_slabs_than_there_are_is_a_fault():
    """Two slabs are cut where one was on hand."""
    one = replace(BLANK, available=1)
    plan = checked([Piece(90.0, 2, "run", 25.5)], [BLANK])
    wrong = replace(plan, slabs=tuple(replace(cut, slab=one) for cut in plan.slabs))
    with pytest.raises(CutError, match="slab blank: 2 are cut, there are 1"):
        verify_slabs(wrong, [Piece(90.0, 2, "run", 25.5)], [one], 0.125)
