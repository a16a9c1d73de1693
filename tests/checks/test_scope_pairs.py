"""Every pair of scope values: takeoff, bookings, calendar, payments and proposal say the same."""

from functools import cache
from itertools import product
from typing import get_args

import pytest
from work_jobs import example

from kit.checks.scope_conflicts import find_conflicts
from kit.estimate import Estimate, estimate
from kit.export.proposal_scope import excluded_parts
from kit.export.proposal_words import scope_rows
from kit.job import change_job, fill_assumptions
from kit.job.scope import Installer, Scope, Supplier
from kit.lists import load_lists
from kit.money import sum_money
from kit.pricing.draws import plan_draws
from kit.records import Kind
from kit.shipped import shipped

STEM = "stone_apron_single_bowl"
ITEMS = tuple(Scope.model_fields)
VALUES = tuple(product(get_args(Supplier), get_args(Installer)))  # 6 x 5
PRIME = 31  # item i of job (x, y) has value x + i y: any two items take any two values in one of the jobs
JOBS = tuple(product(range(PRIME), range(PRIME)))
GOODS = {"sink": "fired-clay-apron-33", "faucet": "faucet", "strainer": "strainer", "disposer": "disposer", "dishwasher": "dishwasher"}
TRADES = {"plumber": "hire-plumber", "electrician": "hire-electrician", "haulier": "haul-trade", "other trade": "wall-trade"}


@cache
def sound_values(name: str) -> tuple[tuple[str, str], ...]:
    """The values of one item that no rule stops while the others stay as the example has them."""
    return tuple(value for value in VALUES if name not in find_conflicts(fill_assumptions(change_job(example(STEM), row(name, value)))[0]))


def row(name: str, value: tuple[str, str]) -> dict[str, dict[str, str]]:
    return {f"scope.{name}": {"supplied_by": value[0], "installed_by": value[1]}}


def scope_of(x: int, y: int) -> dict[str, object]:
    """The scope of one job, and a disposer or none."""
    rows: dict[str, dict[str, str]] = {}
    for place, name in enumerate(ITEMS):
        values = sound_values(name)
        rows |= row(name, values[(x + place * y) % PRIME % len(values)])
    return rows | {
        "plumbing.disposer": "new" if rows["scope.disposer"]["supplied_by"] in {"us", "customer"} else ("none", "keep")[x % 2],
        "plumbing.stub_height": "24 in",
    }


def faults(found: Estimate) -> list[str]:
    """What two papers of one job say differently."""
    scope, lines = found.job.scope, found.lines
    bought, hired = {line.item for line in lines if line.kind is Kind.BUY}, {line.item for line in lines if line.kind is Kind.HIRE}
    said = []
    for name, item in GOODS.items():
        wanted = getattr(scope, name).ours_to_supply and (name != "disposer" or found.job.plumbing.disposer == "new")
        if (item in bought) != wanted:
            said.append(f"{name}: {'not ' if wanted else ''}bought")
    booked = next((line.basis for line in lines if line.item == "book-party"), "")
    said += [f"{name}: booked or priced alone" for name, item in TRADES.items() if (name in booked) != (item in hired)]
    named, out = {row["part"] for row in scope_rows(found)}, excluded_parts(found)
    said += [f"{part}: in the job and excluded" for part in named if any(text.startswith(f"{part}:") for text in out)]
    removal = found.design.removal
    said += [
        f"{text}, but it comes off"
        for text, by in (("Splash: not touched", removal.splash_by), ("Sink: not touched", removal.sink_by))
        if text in out and by != "nobody"
    ]
    steps = {line.step for line in lines}
    draws = plan_draws(found)
    said += [f"paid at {draw.label}" for draw in draws.draws[:-1] if draw.step is not None and draw.step not in steps]
    said += ["payments don't add up"] if sum_money([draw.due for draw in draws.draws]) != found.price else []
    said += [
        f"{task.step}: on the calendar and not hired" for task in found.hired if not {line.step for line in lines if line.kind is Kind.HIRE} >= {task.step}
    ]
    return said


def try_jobs(jobs: tuple[tuple[int, int], ...]) -> int:
    """How many of the jobs can be built as far as the scope goes; all that fail are named together."""
    lists, wrong, sound = load_lists(shipped("price_lists")), [], 0
    for x, y in jobs:
        found = estimate(change_job(example(STEM), scope_of(x, y)), lists, exact=False)
        if not any(finding.id.startswith("scope/") for finding in found.findings):
            sound += 1
            wrong += [f"{x}, {y}: {fault}" for fault in faults(found)]
    assert wrong == []
    return sound


def test_a_share_of_the_pairs() -> None:
    """Every fifteenth job; nothing stops most of them."""
    assert try_jobs(JOBS[::15]) >= 40


@pytest.mark.long
def test_every_pair() -> None:
    """All 961 jobs."""
    assert try_jobs(JOBS) >= 600


@pytest.mark.parametrize(
    ("changes", "conflict"),
    [
        ({"plumbing.disposer": "new", **row("disposer", ("excluded", "nobody"))}, "disposer"),
        ({"plumbing.disposer": "new", **row("disposer", ("us", "us"))}, None),
        (row("faucet", ("us", "nobody")), "faucet"),
        (row("sink", ("us", "fabricator")), "sink"),
        (row("faucet", ("trade", "trade")), "faucet"),
        (row("splash", ("trade", "trade")), "splash"),
        (row("haul_away", ("fabricator", "fabricator")), "haul_away"),
        ({}, None),
    ],
)
def test_what_no_rule_settles_is_a_stop(changes: dict[str, object], conflict: str | None) -> None:
    """Each names its item; sound ones say nothing."""
    found = estimate(change_job(example(STEM), changes), load_lists(shipped("price_lists")), exact=False)
    stops = [finding.id for finding in found.findings if finding.id.startswith("scope/")]
    assert stops == ([] if conflict is None else [f"scope/{conflict}"])


@pytest.mark.parametrize(
    ("changes", "item", "hand_row"),
    [
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
