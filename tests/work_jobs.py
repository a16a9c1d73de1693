"""Jobs for the tests of the work: the shipped examples, and jobs far from them."""

import random
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from kit.errors import KitError
from kit.estimate import Estimate, estimate
from kit.job import Job, change_job, read_job
from kit.lists import Lists, load_lists
from kit.shipped import shipped

__all__ = ["EXAMPLES", "STONE", "estimated", "lists", "wander"]

EXAMPLES = sorted(shipped("examples").glob("*.toml"))
STONE = "stone_apron_single_bowl"

# what moves order, waits, people or trades
MOVES: tuple[Mapping[str, Any], ...] = (
    {"sink.mount": "top"},
    {"sink.mount": "flush"},
    {"sink.mount": "under"},
    {"sink.weight": "22 lb"},
    {"sink.weight": "190 lb"},
    {"site.occupied": False},
    {"site.stair_steps": 18, "site.floor": 2},
    {"site.work_day": "5 h"},
    {"site.start_hour": 10},
    {"site.main_shutoff_closes": False},
    {"identity.visit_date": "2026-12-18"},
    {"identity.visit_date": "2026-06-27"},
    {"plumbing.stub_height": "24 in"},
    {"plumbing.stub_height": "unknown"},
    {"plumbing.stops_to_renew": 0},
    {"plumbing.disposer": "new", "scope.disposer": {"supplied_by": "us", "installed_by": "us"}},
    {"plumbing.dishwasher": False},
    {"cabinet.wet_floor": True},
    {"cabinet.swollen_sides": True},
    {"old.counter_fixing": "glued"},
    {"old.sink_kind": "none"},
    {"scope.drain_move": {"supplied_by": "us", "installed_by": "us"}},
    {"scope.drain_move": {"supplied_by": "excluded", "installed_by": "nobody"}},
    {"scope.sink": {"supplied_by": "customer", "installed_by": "us"}},
    {"scope.sink": {"supplied_by": "us", "installed_by": "trade"}},
    {"scope.faucet": {"supplied_by": "stays", "installed_by": "nobody"}},
    {"scope.wall_repair": {"supplied_by": "trade", "installed_by": "trade"}},
    {"scope.haul_away": {"supplied_by": "trade", "installed_by": "trade"}},
    {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"},
    {"terms.temporary_sink": True},
    {"terms.extra_trips": 2},
    {"terms.crew": 1},
    {"terms.crew": 4},
    {"terms.hours_factor": "160 %"},
    {"terms.signed_on": "2026-07-01"},
)


@cache
def lists() -> Lists:
    """The shipped lists."""
    return load_lists(shipped("price_lists"))


@cache
def example(stem: str) -> Job:
    """A shipped job, as typed."""
    return read_job(next(path for path in EXAMPLES if path.stem == stem))


def estimated(stem: str, changes: Mapping[str, Any] | None = None, lists_used: Lists | None = None) -> Estimate:
    """The estimate of a shipped job with some fields changed."""
    job = example(stem)
    return estimate(change_job(job, changes) if changes else job, lists_used or lists(), exact=False)


def wander(path: Path, seed: int) -> Estimate:
    """A shipped job with several fields moved by chance, estimated; a move that it refuses is not made."""
    chance, job = random.Random(seed), example(path.stem)
    for changes in chance.sample(MOVES, 6):
        try:
            job = change_job(job, changes)
        except KitError:
            continue
    return estimate(job, lists(), exact=False)
