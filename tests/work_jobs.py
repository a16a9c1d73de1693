"""The shipped examples as jobs and as estimates, a few fields changed where a test wants that."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from kit.estimating import Estimate, estimate
from kit.job import Job, change_job, read_job
from kit.lists import Lists, load_lists
from kit.shipped_files import shipped

__all__ = ["EXAMPLES", "STEMS", "STONE", "estimated", "example", "lists"]

EXAMPLES = sorted(shipped("examples").glob("*.toml"))
STEMS = tuple(path.stem for path in EXAMPLES)
STONE = "stone_apron_single_bowl"


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
