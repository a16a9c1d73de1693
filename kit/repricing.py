"""What other price lists do to the jobs on hand."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from kit.errors import KitError
from kit.estimate import Estimate, estimate
from kit.job import Job
from kit.lists import Lists
from kit.records import Finding, Level

__all__ = ["Repriced", "largest_first", "reprice_jobs"]


@dataclass(frozen=True, slots=True)
class Repriced:
    """One job under two sets of lists [USD]; `problem` says why one of them gives no price, `news` what the new lists bring up."""

    name: str
    before: Decimal | None
    after: Decimal | None
    problem: str = ""
    news: tuple[Finding, ...] = ()

    @property
    def difference(self) -> Decimal | None:
        """After less before."""
        return None if self.before is None or self.after is None else self.after - self.before


def reprice_jobs(
    jobs: Mapping[str, Job], old: Lists | Callable[[Job], Lists], new: Lists, *, advance: Callable[[int, int], None] | None = None
) -> tuple[Repriced, ...]:
    """Each job by its name at the old and at the new lists, chosen and planned anew.

    Parameters
    ----------
    jobs
        The jobs on hand by their name.
    old
        The lists in use, or what gives those of a job.
    new
        The lists that may take their place.
    advance
        Called after each job with how many are done, and of how many.
    """
    found = []
    for name, job in jobs.items():
        now, why_now = _price(job, old)
        then, why_then = _price(job, new)
        problem = "; ".join(why for why in (why_now and f"with its lists in use: {why_now}", why_then and f"with the new lists: {why_then}") if why)
        news = _news(now, then) if now and then else ()
        found.append(Repriced(name, now.price if now else None, then.price if then else None, problem, news))
        if advance is not None:
            advance(len(found), len(jobs))
    return tuple(found)


def largest_first(found: tuple[Repriced, ...]) -> tuple[Repriced, ...]:
    """Jobs that have no price any more, then those whose price moves, the largest difference first."""
    return tuple(sorted(found, key=lambda one: (one.difference is not None, -abs(one.difference or Decimal(0)), one.name)))


def _price(job: Job, lists: Lists | Callable[[Job], Lists]) -> tuple[Estimate | None, str]:
    """The estimate, or why there is none."""
    try:
        return estimate(job, lists if isinstance(lists, Lists) else lists(job)), ""
    except KitError as error:
        more = len(error.faults) - 1
        return None, f"{error.faults[0]}{f' (and {more} more)' if more else ''}"


def _news(now: Estimate, then: Estimate) -> tuple[Finding, ...]:
    """Findings beyond ok that the new lists bring or make worse."""
    before = {finding.id: finding.level for finding in now.findings}
    return tuple(finding for finding in then.findings if finding.level > before.get(finding.id, Level.OK))
