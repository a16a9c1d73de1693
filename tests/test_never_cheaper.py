"""More to lift, carry, climb, scrape off or lower never costs less: the law over random jobs, and what may fall for a reason."""

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import Any

import pytest
from random_jobs import random_job
from work_jobs import lists

from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, change_job

QUICK, MANY = range(20), range(2000, 2100)
HEAVIEST_LB, LONGEST_FT, MOST_STEPS, HIGHEST_IN = 350, 900, 300, 36
# what a higher stub itself may shorten: the tube down to it, with the joints of a tube less, and an air gap's hose to its trap
SHORTER_TUBE = {"connect-drain", "fill-test", "connect-dishwasher"}
# what a higher splash may save: the patch that it covers
COVERED = {"patch-wall", "finish-wall", "paint-wall"}
# what comes with sanding a patch in sight: the trip for it, and the dust wall hung again
WITH_SANDING = {"trips", "protect"}
# a short visit that grows is paid less for being short
SHORT_VISIT = "trips/least-visit/"
DOORS = {"door", "door-off", "trim-door", "new-door"}

Change = Callable[[Job], Mapping[str, Any] | None]


def heavier_sink(job: Job) -> Mapping[str, Any] | None:
    weight_lb = job.sink.weight_lb * 1.3
    return {"sink.weight": f"{weight_lb:.2f} lb"} if weight_lb <= HEAVIEST_LB else None


def longer_carry(job: Job) -> Mapping[str, Any] | None:
    feet = (job.site.carry_ft or 50.0) + 60.0
    return {"site.carry": f"{feet:.2f} ft"} if feet <= LONGEST_FT and job.site.carry_ft is not None else None


def more_stairs(job: Job) -> Mapping[str, Any] | None:
    steps = job.site.stair_steps + 8
    return {"site.stair_steps": steps} if steps <= MOST_STEPS else None


def glued_counter(job: Job) -> Mapping[str, Any] | None:
    return {"old.counter_fixing": "glued"} if job.old.counter_fixing == "screwed" else None


def higher_drain(job: Job) -> Mapping[str, Any] | None:
    stub_in = job.plumbing.stub_height_in
    return {"plumbing.stub_height": f"{stub_in + 3:.4f} in"} if stub_in is not None and stub_in + 3 <= HIGHEST_IN else None


def wider_base(job: Job) -> Mapping[str, Any] | None:
    return {"cabinet.width": f"{job.cabinet.width_in + 6:.4f} in"}


def higher_splash(job: Job) -> Mapping[str, Any] | None:
    high_in = job.counter.splash_height_in
    return {"counter.splash_height": f"{high_in + 4:.4f} in"} if high_in is not None and job.counter.splash != "none" and 0 < high_in <= 16 else None


@lru_cache(maxsize=256)
def as_drawn(seed: int) -> Estimate | None:
    """The estimate of a random job, made once for all changes; None where it has no price."""
    try:
        return estimate(random_job(seed), lists(), exact=False)
    except KitError:
        return None


def pairs(seeds: range, change: Change) -> Iterator[tuple[Estimate, Estimate]]:
    """Each random job that can be changed so, before and after; a change that its part refuses is passed over."""
    for seed in seeds:
        job = random_job(seed)
        changes, before = change(job), as_drawn(seed)
        if changes is None or before is None:
            continue
        try:
            after = estimate(change_job(job, changes), lists(), exact=False)
        except KitError:
            continue
        yield before, after


def fallen(before: Estimate, after: Estimate) -> list[str]:
    """Lines that are less or gone, by their ids, but for what a short visit is paid beyond its work."""
    left = {line.id: line.quantity for line in after.lines}
    return [line.id for line in before.lines if left.get(line.id, 0.0) < line.quantity - 1e-9 and not line.id.startswith(SHORT_VISIT)]


def fallen_steps(before: Estimate, after: Estimate) -> set[str]:
    """The steps of the lines that fell."""
    return {name.partition("/")[0] for name in fallen(before, after)}


def joists(found: Estimate) -> list[str]:
    """The joists of a platform."""
    return [body for member in found.design.frame.members if member.name == "platform joist" for body in member.bodies]


def strip_cleats(found: Estimate) -> list[tuple[float, int]]:
    """Lengths [in] and numbers of the pieces of the cleat behind a sink: pipes part it or end it."""
    return sorted((member.length_in, member.count) for member in found.design.frame.members if member.name == "strip cleat")


def fits_fewer(before: Estimate, after: Estimate) -> bool:
    """Whether a trip to which one more came because its work was too long for a day now fits fewer people."""
    people = {trip.first: trip.people for trip in after.trips}
    return any(trip.too_long and people.get(trip.first, trip.people) < trip.people for trip in before.trips)


def check_never_cheaper(seeds: range, least: int) -> None:
    """A heavier sink, a longer carry, more stairs, a glued counter: neither the cost nor our hours fall."""
    for change in (heavier_sink, longer_carry, more_stairs, glued_counter):
        tried = 0
        for before, after in pairs(seeds, change):
            tried += 1
            who = f"{change.__name__} of {before.job.identity.job_number}"
            assert after.cost >= before.cost, who
            assert after.hours >= before.hours - 1e-9, who
        assert tried >= least, change.__name__


def check_reasons(seeds: range, least: int) -> None:
    """A higher stub shortens tube and hose, takes a joist's place or that of a piece of cleat; a wider base has no door less; a higher splash saves its patch.

    What is shorter may fit a day with fewer people.
    """
    tried = 0
    for before, after in pairs(seeds, higher_drain):
        tried += 1
        gave_way = len(joists(after)) < len(joists(before)) or strip_cleats(after) != strip_cleats(before)
        steps = fallen_steps(before, after)
        reasons = SHORTER_TUBE | ({"build-frame"} if gave_way else set()) | ({"trips"} if fits_fewer(before, after) else set())
        assert steps <= reasons, (before.job.identity.job_number, steps)
    for before, after in pairs(seeds, wider_base):
        tried += 1
        gone = [name for name in fallen(before, after) if name.split("/")[1] in DOORS]
        assert not gone, (before.job.identity.job_number, gone)
    for before, after in pairs(seeds, higher_splash):
        tried += 1
        steps = fallen_steps(before, after)
        assert steps <= COVERED | (WITH_SANDING if "finish-wall" in steps else set()), (before.job.identity.job_number, steps)
    assert tried >= least


def test_more_of_a_burden_is_never_cheaper():
    """Twenty random jobs for each."""
    check_never_cheaper(QUICK, 5)


def test_what_falls_has_its_reason():
    """Twenty random jobs for each."""
    check_reasons(QUICK, 25)


@pytest.mark.long
def test_more_of_a_burden_is_never_cheaper_in_many_jobs():
    """A hundred for each."""
    check_never_cheaper(MANY, 30)


@pytest.mark.long
def test_what_falls_has_its_reason_in_many_jobs():
    """A hundred for each."""
    check_reasons(MANY, 150)
