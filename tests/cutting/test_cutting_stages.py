"""The stages of the exact plan, each against a count or a solver that works another way."""

import random
from decimal import Decimal
from itertools import product
from time import monotonic

import pytest
from cutting_oracles import solve_by_arcs
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.cutting.bars import Bars, split_count
from kit.cutting.certificate import best_content, make_rule, value_tables
from kit.cutting.columns import Program, round_plan
from kit.cutting.contents import find_contents
from kit.cutting.fill import Effort, fill_set
from kit.cutting.lengths import Piece, Stock
from kit.cutting.memory import Memory
from kit.cutting.prove import prove_plan
from kit.cutting.quick import pack_set, plan_quick
from kit.cutting.reading import read_job
from kit.cutting.search import Search
from kit.cutting.sets import Rule, cheapest_sets, length_rules
from kit.cutting.sheets import Sheets
from kit.cutting.slab_rules import rounded_rules, slab_rules
from kit.cutting.solver import solve_for_set, solve_set


def random_job(seed: int, *, kinds: int = 4, most: int = 3, scarce: bool = False) -> Bars:
    """A small job in whole numbers."""
    chance = random.Random(seed)
    sizes = tuple(sorted(chance.sample(range(5, 60), kinds), reverse=True))
    demand = tuple(chance.randint(1, most) for _ in sizes)
    rooms = tuple(sorted(chance.sample(range(62, 130), 3)))
    supply = tuple(chance.randint(1, 3) if scarce else sum(demand) for _ in rooms)
    return Bars(sizes, demand, rooms, tuple(room * chance.randint(9, 11) for room in rooms), supply)


def all_contents(job: Bars) -> list[tuple[int, ...]]:
    return list(product(*(range(count + 1) for count in job.demand)))


@given(st.integers(0, 200))
def test_parts_of_a_count_make_every_number_up_to_it(count: int):
    """1, 2, 4, ... and a rest: every partial sum from 0 to the count, none beyond."""
    sums = {0}
    for part in split_count(count):
        sums |= {total + part for total in sums}
    assert sums == set(range(count + 1))


@pytest.mark.parametrize("seed", range(8))
def test_the_fullest_content_is_the_one_counted_out(seed: int):
    """Reachable sums as bits of a whole number, against every content."""
    job = random_job(seed)
    for room, fill in zip(job.rooms, job.fills, strict=True):
        assert fill == max(job.weight(content) for content in all_contents(job) if job.weight(content) <= room)


@pytest.mark.parametrize("seed", range(8))
def test_the_best_content_is_the_one_counted_out(seed: int):
    """Worth of a stick by dynamic programming, and the content read back from it, against every content."""
    job = random_job(seed)
    values = [random.Random(seed + 100).randint(0, 50) for _ in job.sizes]
    tables = value_tables(job, values)
    for room in job.rooms:
        fitting = [content for content in all_contents(job) if job.weight(content) <= room]
        hand_worth = max(sum(value * count for value, count in zip(values, content, strict=True)) for content in fitting)
        content = best_content(job, values, tables, room)
        assert int(tables[0][room]) == hand_worth == sum(value * count for value, count in zip(values, content, strict=True))
        assert job.weight(content) <= room


@pytest.mark.parametrize("scarce", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_the_cheapest_sets_are_those_counted_out(seed: int, scarce: bool):
    """Every choice of sticks that meets the rules, in order of cost; and the solver finds the same cheapest one."""
    job = random_job(seed, scarce=scarce)
    rules = length_rules(job)
    hand = sorted(
        (sum(cost * count for cost, count in zip(job.costs, counts, strict=True)), counts)
        for counts in product(*(range(supply + 1) for supply in job.supply))
        if all(rule.allows(counts) for rule in rules)
    )
    listed = cheapest_sets(job, rules, 0, None, 5)
    assert listed.complete
    if not hand:
        assert listed.sets == []
        return
    assert listed.sets == [entry for entry in hand if entry[0] <= hand[min(4, len(hand) - 1)][0]]
    assert listed.bound == hand[0][0]
    assert solve_for_set(job, rules, 0, hand[-1][0], limit_s=10.0).cost == hand[0][0]
    floor = hand[0][0] + 1
    later = next((entry[0] for entry in hand if entry[0] >= floor), None)
    assert [entry[0] for entry in cheapest_sets(job, rules, floor, None, 1).sets][:1] == ([later] if later is not None else [])


def test_too_few_steps_are_said():
    """A listing that is cut short keeps a bound that holds."""
    job = random_job(3, kinds=6, most=5)
    whole = cheapest_sets(job, length_rules(job), 0, None, 400)
    short = cheapest_sets(job, length_rules(job), 0, None, 400, steps=40)
    assert whole.complete
    assert not short.complete
    assert short.bound <= whole.bound


@pytest.mark.parametrize("seed", range(10))
def test_no_rule_bars_a_set_that_holds_the_pieces(seed: int):
    """Rules from lengths and from linear programs allow every set of sticks into which the search packs the pieces."""
    job = random_job(seed, kinds=5)
    program = Program(job, plan_quick(job).loads)  # type: ignore[union-attr]
    rules = [*length_rules(job), program.settle()]
    for counts in product(range(4), repeat=3):
        if pack_set(job, counts) is not None:
            assert all(rule is not None and rule.allows(counts) for rule in rules)


@pytest.mark.parametrize("seed", range(12))
def test_a_set_is_filled_or_refuted_as_the_solver_says(seed: int):
    """Fractions, rounding and search against the mixed-integer program, for sets around the smallest that is long enough."""
    job = random_job(seed, kinds=5)
    rules = length_rules(job)
    fit = Program(job, [], fit=True)
    for _, sticks in cheapest_sets(job, rules, 0, None, 6).sets[:6]:
        contents = find_contents(job, rules, sticks, 10_000)
        assert contents is not None
        answer = solve_set(job, contents, sticks, nodes=10_000, limit_s=10.0)
        filled = fill_set(job, rules, fit, sticks, Effort(20_000, lambda: False, monotonic() + 60, solver=False))
        assert (filled.loads is not None) == (answer.loads is not None)
        assert filled.refuted == (answer.loads is None) == answer.ended
        search = Search(job, rules, contents, 100_000, lambda: False)
        assert (search.find(job.demand, sticks) is not None) == (answer.loads is not None)
        for loads in (filled.loads, answer.loads):
            if loads is not None:
                assert [sum(column) for column in zip(*(content for _, content in loads), strict=True)] == list(job.demand)
                assert all(job.weight(content) <= job.rooms[stock] for stock, content in loads)
                assert all(sum(stock == kind for stock, _ in loads) <= sticks[kind] for kind in range(3))


@pytest.mark.parametrize("seed", range(12))
def test_the_solver_settles_what_the_search_has_no_nodes_for(seed: int):
    """Without search nodes, rounding and the solver come to the same verdict as the search."""
    job = random_job(seed, kinds=5)
    rules, fit = length_rules(job), Program(job, [], fit=True)
    for _, sticks in cheapest_sets(job, rules, 0, None, 4).sets[:4]:
        searched = fill_set(job, rules, fit, sticks, Effort(20_000, lambda: False, monotonic() + 60, solver=False))
        solved = fill_set(job, rules, fit, sticks, Effort(0, lambda: False, monotonic() + 60, solver=True))
        assert (solved.loads is None, solved.refuted) == (searched.loads is None, searched.refuted)


@pytest.mark.parametrize("seed", range(8))
def test_nodes_change_the_proof_but_not_the_cost(seed: int):
    """A plan proven without the search costs as much as one proven with it."""
    job = random_job(seed, kinds=6, most=4)
    with_search = prove_plan(job, plan_quick(job), nodes=20_000, limit_s=30.0)
    without = prove_plan(job, plan_quick(job), nodes=0, limit_s=30.0)
    assert with_search.closed
    assert without.closed
    assert without.cost == with_search.cost


def test_a_search_that_runs_out_of_nodes_says_so():
    """One node is too little for three sticks: nothing found, nothing proven."""
    job = random_job(1, kinds=5)
    cost, sticks = cheapest_sets(job, length_rules(job), 0, None, 1).sets[0]
    contents = find_contents(job, length_rules(job), sticks, 10_000)
    assert cost
    assert contents is not None
    search = Search(job, length_rules(job), contents, 0, lambda: False)
    assert search.find(job.demand, sticks) is None
    assert search.cut_short
    assert find_contents(job, length_rules(job), sticks, 0) is None


@pytest.mark.parametrize("careful", [False, True])
def test_rounded_plans_cut_exactly_what_is_wanted(careful: bool):
    """A plan rounded from fractions yields every piece once and keeps within each stick."""
    job = random_job(5, kinds=8, most=9)
    program = Program(job, plan_quick(job).loads)  # type: ignore[union-attr]
    rule = program.settle()
    assert rule is not None
    loads = round_plan(program, careful=careful, enough=0)
    assert loads is not None
    assert [sum(column) for column in zip(*(content for _, content in loads), strict=True)] == list(job.demand)
    assert all(job.weight(content) <= job.rooms[stock] for stock, content in loads)
    assert program.job is job


@pytest.mark.parametrize("seed", range(10))
def test_very_many_priced_offcuts_are_proven_through_the_solver(seed: int, monkeypatch: pytest.MonkeyPatch):
    """When sets are too many to list, the solver picks them, with the same cost in the end as a general-purpose model."""
    chance = random.Random(seed)
    pieces = [Piece(float(chance.randint(8, 60)), chance.randint(1, 3), f"{place}") for place in range(5)]
    offcuts = [Stock(float(chance.randint(20, 80)), Decimal("0.50"), f"offcut {place}", 2) for place in range(3)]
    stock = [Stock(96.0, Decimal("4.00"), "8 ft"), *offcuts]
    monkeypatch.setattr("kit.cutting.prove.cheapest_sets", lambda *given: cheapest_sets(*given, steps=2))
    job = read_job(pieces, stock, kerf_in=0.125, trim_in=0.0, least_offcut_in=0.0)
    assert job.bars is not None
    state = prove_plan(job.bars, plan_quick(job.bars), nodes=20_000, limit_s=30.0)
    assert state.closed
    assert state.proof == "solver" or state.loads == plan_quick(job.bars).loads  # type: ignore[union-attr]
    hand = solve_by_arcs(pieces, stock, 0.125)
    assert hand is not None
    assert divmod(state.cost, job.bars.count + 1) == hand


def test_memory_forgets_what_was_asked_for_longest_ago():
    """Of three answers it keeps the two asked for last."""
    memory: Memory[int] = Memory(2)
    memory.put("a", 1)
    memory.put("b", 2)
    assert memory.get("a") == 1
    memory.put("c", 3)
    assert (memory.get("a"), memory.get("b"), memory.get("c")) == (1, None, 3)
    memory.clear()
    assert memory.get("a") is None


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 20), st.integers(1, 20), st.booleans()), min_size=1, max_size=4), st.integers(20, 40), st.integers(20, 40))
def test_no_slab_rule_bars_a_slab_that_holds_its_parts(sizes: list[tuple[int, int, bool]], length: int, width: int):
    """Parts laid in one row in one slab are within every rule, turned or not."""
    row = sum(size for size, _, _ in sizes)
    deep = max(size for _, size, _ in sizes)
    room = (max(length, row), max(width, deep))
    ways = tuple(tuple({(along, across), (across, along)}) if free else ((along, across),) for along, across, free in sizes)
    job = Sheets(ways, (1,) * len(sizes), (room,), (100,), (len(sizes),))
    rules: list[Rule] = [*slab_rules(job), *rounded_rules(job)]
    assert all(rule.allows((1,)) for rule in rules)


def test_a_rule_is_made_of_the_values_given():
    """Two pieces of worth 3 and one of worth 5 in a stick that takes one of each."""
    job = Bars((6, 4), (1, 2), (10,), (1,), (3,))
    rule = make_rule(job, (5, 3), value_tables(job, (5, 3)))
    hand_worth, hand_total = 8, 11
    assert (rule.worths, rule.total) == ((hand_worth,), hand_total)
    assert not rule.allows((1,))
    assert rule.allows((2,))
