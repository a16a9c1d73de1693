"""No sound job takes long to estimate: counted in calls, which no busy neighbor changes; tests/bench/slowest.py prints the seconds."""

import sys

import pytest
from random_jobs import random_estimate
from slow_jobs import slow_jobs
from work_jobs import lists

from kit.estimating import estimate
from kit.outlook import plan_schedule

MOST_CALLS = 2_000_000
"""Calls of functions written in Python; a slow core makes more than a million of them in a second (own measure)."""


def count_calls(work) -> int:
    """How many Python functions a piece of work calls."""
    calls = 0

    def note(_, event, __):
        nonlocal calls
        calls += event == "call"

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        work()
    finally:
        sys.setprofile(before)
    return calls


def test_calls_are_counted():
    """A function that calls itself twice more is three calls, and the work is one."""

    def again(times: int) -> int:
        return again(times - 1) if times else 0

    assert count_calls(lambda: again(2)) == 4


@pytest.mark.long
@pytest.mark.parametrize("kind", slow_jobs())
def test_a_job_of_a_slow_kind(kind):
    """Estimate and calendar, with all that wants the same place."""
    job = slow_jobs()[kind]
    calls = count_calls(lambda: plan_schedule(estimate(job, lists())))
    assert 1_000 < calls < MOST_CALLS


@pytest.mark.long
def test_jobs_by_chance_are_quick():
    """A hundred of every kind."""
    most = max(count_calls(lambda seed=seed: plan_schedule(random_estimate(seed))) for seed in range(600, 700))
    assert 1_000 < most < MOST_CALLS
