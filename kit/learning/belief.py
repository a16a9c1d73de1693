"""What is believed of a figure before and after some jobs: the usual conjugate rule for normal values whose mean and spread are both unknown.

The figures are logarithms of "what it took / what the list says", so that twice as long and half as long lie equally far from the list, and hours or
minutes give the same answer. Before any job the list is believed as if some imagined jobs had come out at it, with a usual spread.

Rule: normal-inverse-gamma prior and its update, in the form with mean, weight, degrees of freedom and variance (Gelman and others, Bayesian Data
Analysis, third edition, section 3.3; cited from memory, a test works it out by numerical integration).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from kit.errors import KitError
from kit.learning.student_t import student_t_quantile

__all__ = ["NOTHING_KNOWN", "SHARE_INSIDE", "Belief", "Interval", "update_belief"]

SHARE_INSIDE = 0.9
"""Share of the cases that an interval is to hold: learned intervals are 90 % intervals, by definition of what is shown."""

Of = Literal["rate", "next job"]


@dataclass(frozen=True, slots=True)
class Interval:
    """Two limits, and of what: of the rate itself, or of what the next job takes."""

    low: float
    high: float
    of: Of

    def __contains__(self, value: float) -> bool:
        """Whether a value lies between the limits."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Belief:
    """Mean of a normal value, the jobs that it weighs, degrees of freedom and variance of one job around it."""

    mean: float
    jobs: int
    freedom: int
    variance: float

    @property
    def spread(self) -> float:
        """Standard deviation of one job around the mean."""
        return math.sqrt(self.variance)

    def interval(self, of: Of, share: float = SHARE_INSIDE) -> Interval:
        """The central interval that holds a share of the chance.

        Parameters
        ----------
        of
            "rate": the mean itself, Student's t with variance / jobs. "next job": one more value, with variance x (1 + 1 / jobs).
        share
            Between 0 and 1.

        Raises
        ------
        KitError
            If nothing is believed yet: no degree of freedom.
        """
        if self.freedom < 1:
            raise KitError("Nothing is known yet: an interval needs more jobs.")
        scale = self.variance / self.jobs if of == "rate" else self.variance * (1 + 1 / self.jobs)
        reach = student_t_quantile(0.5 + share / 2, self.freedom) * math.sqrt(scale)
        return Interval(self.mean - reach, self.mean + reach, of)


NOTHING_KNOWN = Belief(0.0, 0, -1, 0.0)
"""What leaves all to the values: after n of them, Student's t with n - 1 degrees of freedom around their average."""


def update_belief(before: Belief, values: Sequence[float]) -> Belief:
    """What is believed after some values.

    Notes
    -----
    With k, v and s2 the jobs, degrees of freedom and variance before: k' = k + n; mean' = (k x mean + sum) / k'; v' = v + n;
    v' x s2' = v x s2 + sum of squares around the average + (k x n / k') x (average - mean)^2.
    """
    if not values:
        return before
    count, average = len(values), math.fsum(values) / len(values)
    jobs, freedom = before.jobs + count, before.freedom + count
    squares = math.fsum((value - average) ** 2 for value in values)
    away = before.jobs * count / jobs * (average - before.mean) ** 2
    mean = (before.jobs * before.mean + count * average) / jobs
    return Belief(mean, jobs, freedom, (before.freedom * before.variance + squares + away) / freedom if freedom else 0.0)
