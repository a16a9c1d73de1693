"""Mounts side by side: the same scope and counter, priced for every mount that is allowed.

What is not allowed stays in the comparison with its reason.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from kit.estimate import Estimate, estimate
from kit.job import Job, change_job
from kit.lists import Lists
from kit.money import EXACT, round_cents, to_decimal
from kit.records import Level

__all__ = ["Alternate", "compare_mounts"]

Mounting = Literal["top", "flush", "under"]


@dataclass(frozen=True, slots=True)
class Alternate:
    """One mount: whether sink and counter take it, why, who says so, and the estimate where it is allowed."""

    mount: Mounting
    level: Level
    reason: str
    source: str
    estimate: Estimate | None

    @property
    def crew_days(self) -> float | None:
        """Days that the crew is at work [d of the site's working hours], None when not priced."""
        if self.estimate is None:
            return None
        return sum(task.duration_h for task in self.estimate.tasks) / self.estimate.job.site.work_day_h

    @property
    def gross_per_crew_day(self) -> Decimal | None:
        """Price before tax collected, less direct cost, for each of those days [USD]; None when there are none."""
        days = to_decimal(self.crew_days or 0.0, 6)
        if self.estimate is None or not days:
            return None
        return round_cents(EXACT.divide(self.estimate.amount("gross"), days))


def compare_mounts(job: Job, lists: Lists) -> tuple[Alternate, ...]:
    """The job at each mount with the same sink sizes, scope and counter; the job's own mount is among them.

    Raises
    ------
    JobError, ListError, PriceError
        As `kit.estimate` does.
    """
    return tuple(_alternate(job, lists, mount) for mount in get_args(Mounting))


def _alternate(job: Job, lists: Lists, mount: Mounting) -> Alternate:
    level, reason, source = _ruling(job, lists, mount)
    priced = None if level is Level.STOP else estimate(change_job(job, {"sink.mount": mount}), lists)
    return Alternate(mount, level, reason, source, priced)


def _ruling(job: Job, lists: Lists, mount: Mounting) -> tuple[Level, str, str]:
    """What the lists say of this mount: first the kind of sink, then the material of the counter."""
    kind = lists.sinks.get(job.sink.item)
    if kind is not None and mount not in kind.mounts:
        return Level.STOP, f"this kind of sink is made for {' or '.join(kind.mounts)} mount only", "sinks.csv"
    found = lists.mounts.get((mount, job.counter.material))
    if found is None:
        return Level.UNKNOWN, f"mounts.csv says nothing of {mount} mount in {job.counter.material}", "mounts.csv"
    return found.level, found.reason, found.source
