"""Every pair of scope values: takeoff, bookings, calendar, payments and proposal say the same."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cache, lru_cache
from itertools import combinations, pairwise, product
from typing import Any, get_args

import pytest
from paper_faults import change_said_twice, said_twice
from work_jobs import example, lists

from kit.checks.scope_conflicts import find_conflicts
from kit.estimating import Estimate, estimate
from kit.export.proposal_scope import excluded_parts
from kit.job import change_job, fill_assumptions
from kit.job.scope import Installer, Scope, Supplier
from kit.steps import Step

STEM = "stone_apron_single_bowl"  # the counter is the shop's
STEMS = (STEM, "laminate_top_mount", "counter_stays_sink_only")
ITEMS = tuple(Scope.model_fields)
VALUES = tuple(product(get_args(Supplier), get_args(Installer)))  # 6 x 5
PRIME = 19  # item i of job (x, y) has value x + i y: any two items take any two values in one of the jobs
JOBS = tuple(product(range(PRIME), range(PRIME)))
ASBESTOS = {
    "old.counter_glue_tested": "asbestos",
    "old.splash_glue_tested": "asbestos",
    "old.counter_fixing": "glued",
    "site.floor_tested": "asbestos",
    "cabinet.wet_floor": True,
}
NO_NEW = ("none", "keep")
Value = tuple[str, str]
Pair = tuple[str, Value, str, Value]
AT_ONCE = 80  # jobs that `priced` keeps


def row(name: str, value: Value) -> dict[str, dict[str, str]]:
    return {f"scope.{name}": {"supplied_by": value[0], "installed_by": value[1]}}


def planned(name: str, value: Value, turn: int) -> dict[str, Any]:
    """One cell of the scope; a disposer that somebody brings is planned, and there is a dishwasher and a drain to move where they are in it."""
    cells: dict[str, Any] = row(name, value)
    if name == "disposer":
        cells["plumbing.disposer"] = NO_NEW[turn % 2] if value[0] in {"stays", "excluded"} else "new"
    return cells


@cache
def sound_values(stem: str, name: str) -> tuple[Value, ...]:
    """The values of one item that no rule stops, or makes another of, while the others stay as the example has them."""
    kept, found = {"plumbing.dishwasher": True}, []
    for value in VALUES:
        job = fill_assumptions(change_job(example(stem), kept | planned(name, value, 0)))[0]
        item = getattr(job.scope, name)
        own = value[0] in {"stays", "excluded"} or (item.supplied_by, item.installed_by) == value
        if own and name not in find_conflicts(job):
            found.append(value)
    return tuple(found)


def scope_of(stem: str, x: int, y: int) -> dict[str, Value]:
    """The scope of one job by its items."""
    found = {}
    for place, name in enumerate(ITEMS):
        values = sound_values(stem, name)
        found[name] = values[(x + place * y) % PRIME % len(values)]
    return found


def changes_of(stem: str, x: int, y: int) -> dict[str, Any]:
    """What to type for one job: its scope, a disposer that suits it, a drain that is too high in every second one, asbestos in every second other."""
    cells: dict[str, Any] = {"plumbing.dishwasher": True, **({"plumbing.stub_height": "24 in"} if (x + y) % 2 else {}), **(ASBESTOS if x % 2 else {})}
    scope = scope_of(stem, x, y)
    for name, value in scope.items():
        cells |= planned(name, value, x)
    without_counter = scope["counter"][0] in {"stays", "excluded"} and scope["splash"][0] not in {"stays", "excluded"}
    return cells | ({"counter.splash": "none"} if without_counter else {})  # else the pair is a stop, tried below


def pairs_in(scope: dict[str, Value]) -> Iterator[Pair]:
    for first, second in combinations(ITEMS, 2):
        yield first, scope[first], second, scope[second]


@lru_cache(maxsize=90)
def priced(stem: str, x: int, y: int) -> Estimate:
    """The estimate of one job: papers and change orders are read from the same."""
    return estimate(change_job(example(stem), changes_of(stem, x, y)), lists(), exact=False)


def try_changes(stem: str, jobs: Sequence[tuple[int, int]]) -> set[Pair]:
    """The pairs of values that change orders from each job to the next lead to, both free of conflicts. Papers that say two things are named together."""
    sound = [place for place in jobs if not find_conflicts(priced(stem, *place).job)]
    wrong, seen = [], set()
    for old, new in pairwise(sound):
        wrong += [f"{old} to {new}: {fault}" for fault in change_said_twice(priced(stem, *old), priced(stem, *new))]
        seen |= set(pairs_in(scope_of(stem, *new)))
    assert wrong == []
    return seen


def try_jobs(stem: str, jobs: Iterable[tuple[int, int]]) -> set[Pair]:
    """The pairs of values in jobs that no rule of the scope stops; all papers that say two things are named together."""
    wrong, seen = [], set()
    for x, y in jobs:
        found = priced(stem, x, y)
        if not find_conflicts(found.job):
            seen |= set(pairs_in(scope_of(stem, x, y)))
            wrong += [f"{x}, {y}: {fault}" for fault in said_twice(found)]
    assert wrong == []
    return seen


@pytest.mark.parametrize("stem", STEMS)
def test_a_share_of_the_pairs(stem: str) -> None:
    """Every eighteenth job."""
    assert len(try_jobs(stem, JOBS[::18])) >= 700


@pytest.mark.parametrize("stem", STEMS)
def test_a_change_order_says_what_changes(stem: str) -> None:
    """Every second of the same jobs, from each to the next: nearly every part of the scope changes hands."""
    assert len(try_changes(stem, JOBS[::36])) >= 300


@pytest.mark.long
@pytest.mark.parametrize("stem", STEMS)
def test_every_pair(stem: str) -> None:
    """All 361 jobs, and the change orders from each to the next: each two values of each two items in a proposal, and in what a change leads to."""
    seen, changed = set(), set()
    ring = (*JOBS, JOBS[0])  # a change order leads to the first one, too
    for first in range(0, len(JOBS), AT_ONCE):  # each job is priced once for both
        some = ring[first : first + AT_ONCE + 1]
        seen |= try_jobs(stem, some)
        changed |= try_changes(stem, some)
    wanted = {
        (first, one, second, other) for first, second in combinations(ITEMS, 2) for one, other in product(sound_values(stem, first), sound_values(stem, second))
    }
    assert (wanted - seen, wanted - changed) == (set(), set())


@pytest.mark.parametrize(
    ("changes", "conflict"),
    [
        (row("counter", ("stays", "nobody")), "splash"),  # a splash of its material comes with a new counter only
        ({**row("counter", ("stays", "nobody")), "counter.splash": "none"}, None),
        (row("counter", ("us", "customer")), "counter"),  # the shop's price sets it
        (row("splash", ("customer", "us")), "splash"),
        (row("splash", ("customer", "customer")), None),
        ({"plumbing.disposer": "new", **row("disposer", ("excluded", "nobody"))}, "disposer"),
        ({"plumbing.disposer": "new", **row("disposer", ("us", "us"))}, None),
        (row("faucet", ("us", "nobody")), "faucet"),
        (row("sink", ("us", "fabricator")), "sink"),
        (row("faucet", ("trade", "trade")), "faucet"),
        (row("splash", ("trade", "trade")), "splash"),
        (row("haul_away", ("fabricator", "fabricator")), "haul_away"),
        (row("asbestos", ("us", "us")), "asbestos"),
        (row("asbestos", ("customer", "fabricator")), "asbestos"),
        ({}, None),
    ],
)
def test_what_no_rule_settles_is_a_stop(changes: dict[str, object], conflict: str | None) -> None:
    """Each names its item; sound ones say nothing."""
    found = estimate(change_job(example(STEM), changes), lists(), exact=False)
    stops = [finding.id for finding in found.findings if finding.id.startswith("scope/")]
    assert stops == ([] if conflict is None else [f"scope/{conflict}"])


@pytest.mark.parametrize(
    ("changes", "item", "hand_row"),
    [
        (row("wall_repair", ("stays", "us")), "wall_repair", ("excluded", "nobody")),
        (row("asbestos", ("stays", "us")), "asbestos", ("excluded", "nobody")),
        (row("asbestos", ("us", "trade")), "asbestos", ("trade", "trade")),
        (row("asbestos", ("trade", "customer")), "asbestos", ("customer", "customer")),
        ({}, "asbestos", ("excluded", "nobody")),
        (row("haul_away", ("stays", "nobody")), "haul_away", ("excluded", "nobody")),
        (row("counter", ("us", "us")), "counter", ("us", "fabricator")),  # the shop makes it
        (row("splash", ("customer", "us")), "splash", ("customer", "fabricator")),
        ({**row("strainer", ("excluded", "nobody"))}, "strainer", ("us", "us")),  # with the new sink
        ({**row("strainer", ("stays", "nobody")), **row("sink", ("customer", "us"))}, "strainer", ("customer", "us")),
        ({"plumbing.disposer": "new", **row("disposer", ("us", "us"))}, "strainer", ("excluded", "nobody")),  # its only outlet has a disposer
        ({**row("sink", ("stays", "us")), **row("strainer", ("stays", "nobody")), "old.disposer": True}, "strainer", ("us", "us")),
        ({**row("disposer", ("us", "us"))}, "disposer", ("excluded", "nobody")),  # none planned
        ({"plumbing.dishwasher": False, **row("dishwasher", ("us", "us"))}, "dishwasher", ("excluded", "nobody")),
        ({"counter.made_by": "stays"}, "counter", ("stays", "nobody")),
        ({**row("faucet", ("excluded", "us"))}, "faucet", ("excluded", "nobody")),
    ],
)
def test_what_a_rule_settles(changes: dict[str, object], item: str, hand_row: tuple[str, str]) -> None:
    """One row for every room."""
    settled = getattr(fill_assumptions(change_job(example(STEM), changes))[0].scope, item)
    assert (settled.supplied_by, settled.installed_by) == hand_row


@pytest.mark.parametrize("value", [("stays", "nobody"), ("excluded", "nobody")])
def test_a_counter_that_is_not_renewed_is_made_by_nobody(value: Value) -> None:
    """Whatever else the job says of its maker."""
    settled = fill_assumptions(change_job(example(STEM), row("counter", value)))[0]
    assert settled.counter.made_by == "stays"


def test_a_dishwasher_left_out_is_freed_and_not_fastened_again() -> None:
    """It hangs on the counter that comes off: one step is ours, the paper says what is not."""
    found = estimate(change_job(example(STEM), row("dishwasher", ("excluded", "nobody"))), lists(), exact=False)
    steps = {line.step for line in found.lines}
    assert Step.FREE_DISHWASHER in steps
    assert Step.CONNECT_DISHWASHER not in steps
    assert "Dishwasher: unfastened from the old countertop, not fastened or connected again" in excluded_parts(found)
