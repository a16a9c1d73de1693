"""What other price lists do to the jobs on hand."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from kit.errors import KitError
from kit.estimate import estimate
from kit.job import Job
from kit.lists import Lists

__all__ = ["Repriced", "reprice_jobs"]


@dataclass(frozen=True, slots=True)
class Repriced:
    """One job under two sets of lists [USD]; `problem` says why one of them gives no price."""

    name: str
    before: Decimal | None
    after: Decimal | None
    problem: str = ""

    @property
    def difference(self) -> Decimal | None:
        """After less before."""
        return None if self.before is None or self.after is None else self.after - self.before


def reprice_jobs(jobs: Mapping[str, Job], old: Lists, new: Lists) -> tuple[Repriced, ...]:
    """Each job by its name at the old and at the new lists, chosen and planned anew."""
    found = []
    for name, job in jobs.items():
        prices: list[Decimal | None] = []
        problems = []
        for lists in (old, new):
            try:
                prices.append(estimate(job, lists).price)
            except KitError as error:
                prices.append(None)
                problems.append(str(error.faults[0]))
        found.append(Repriced(name, prices[0], prices[1], "; ".join(problems)))
    return tuple(found)
