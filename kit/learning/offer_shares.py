"""Which mounts and counters get signed, and what do they leave? Share of offers signed and margin, with intervals, where there are enough jobs."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from kit.labor.three_point import beta_pert_quantiles
from kit.learning.belief import NOTHING_KNOWN, SHARE_INSIDE, Belief, update_belief
from kit.learning.job_rows import JobRow
from kit.learning.learn import Learning

__all__ = ["OfferShare", "offer_shares"]


@dataclass(frozen=True, slots=True)
class OfferShare:
    """Offers of one mount or counter that are decided (signed, or no longer valid), and margins of its finished jobs.

    `signed_low` and `signed_high` are the 90 % interval of the share itself; `margin` is what is believed of the margin, a share of the revenue. Both
    are None where there are fewer than the company asks for.
    """

    by: str
    name: str
    decided: int
    signed: int
    signed_low: float | None
    signed_high: float | None
    finished: int
    margin: Belief | None

    @property
    def share(self) -> float:
        """Share of the decided offers that was signed."""
        return self.signed / self.decided


def offer_shares(learning: Learning) -> tuple[OfferShare, ...]:
    """Shares and margins by mount, then by counter, the most offers first.

    Notes
    -----
    Before any offer each share is as likely as any other; after some, the share follows a beta distribution with 1 + signed and 1 + not signed. Of the
    margin nothing is known before.
    """
    least = learning.lists.company.learn_from_jobs
    ways: tuple[tuple[str, Callable[[JobRow], str]], ...] = (("mount", lambda job: job.mount), ("counter", lambda job: job.counter_name))
    shares = []
    for by, name_of in ways:
        decided: dict[str, list[JobRow]] = {}
        for job in learning.jobs:
            if _is_decided(job, learning.day):
                decided.setdefault(name_of(job), []).append(job)
        shares += sorted((_share(by, name, jobs, least) for name, jobs in decided.items()), key=lambda one: (-one.decided, one.name))
    return tuple(shares)


def _is_decided(job: JobRow, day: dt.date) -> bool:
    return job.stage != "offered" or job.valid_until < day


def _share(by: str, name: str, jobs: Sequence[JobRow], least: int) -> OfferShare:
    count, signed = len(jobs), sum(job.signed is not None for job in jobs)
    margins = [margin for job in jobs if (margin := job.margin_real) is not None]
    low, high = _limits(signed, count) if count >= least else (None, None)
    return OfferShare(by, name, count, signed, low, high, len(margins), update_belief(NOTHING_KNOWN, margins) if len(margins) >= least else None)


def _limits(signed: int, count: int) -> tuple[float, float]:
    """Limits of the beta distribution with 1 + signed and 1 + not signed: the shape of a three-point estimate from 0 to 1 with that mode and weight."""
    outside = (1 - SHARE_INSIDE) / 2
    low, high = beta_pert_quantiles(0.0, signed / count, 1.0, [outside, 1 - outside], weight=count)
    return float(low), float(high)
