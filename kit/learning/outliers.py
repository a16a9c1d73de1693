"""Does a job stand out? Grubbs's test, one value at a time, before anything is learned from it.

The test is that of the NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.17.1 (cited from memory), two-sided: G is how many standard
deviations the farthest value lies from the average; its limit follows from Student's t at chance / (2 N) with N - 2 degrees of freedom. The handbook
warns of it for six values and fewer.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from kit.learning.student_t import student_t_quantile

__all__ = ["LEAST_TESTED", "Outlier", "find_outliers", "grubbs_limit"]

LEAST_TESTED = 7
"""Fewer values are not tested: the test would flag most of them."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """The place of a value that stands out, its G and the limit that it passes."""

    place: int
    distance: float
    limit: float


def find_outliers(values: Sequence[float], chance: float) -> tuple[Outlier, ...]:
    """The values that stand out, the farthest first; each is taken out before the next one is tested.

    Parameters
    ----------
    values
        Normal by nature, such as logarithms of ratios.
    chance
        The chance that the test flags a value of a sample that has no outlier, such as 0.01.
    """
    left, outliers = list(range(len(values))), []
    while len(left) >= LEAST_TESTED:
        average = math.fsum(values[place] for place in left) / len(left)
        spread = math.sqrt(math.fsum((values[place] - average) ** 2 for place in left) / (len(left) - 1))
        farthest = max(left, key=lambda place: abs(values[place] - average))
        limit = grubbs_limit(len(left), chance)
        if not spread or (distance := abs(values[farthest] - average) / spread) <= limit:
            break
        outliers.append(Outlier(farthest, distance, limit))
        left.remove(farthest)
    return tuple(outliers)


def grubbs_limit(count: int, chance: float) -> float:
    """The limit of G for so many values (3 or more) at a two-sided chance."""
    t = student_t_quantile(1 - chance / (2 * count), count - 2)
    return (count - 1) / math.sqrt(count) * math.sqrt(t * t / (count - 2 + t * t))
