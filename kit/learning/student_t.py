"""How far out does a value of Student's t lie? For whole degrees of freedom, by its finite sums.

The sums are those of Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 (odd) and 26.7.4 (even); the numbers of the formulas are
from memory. A test holds them against scipy.
"""

import math
from functools import cache

from kit.errors import KitError

__all__ = ["student_t_quantile"]


@cache
def student_t_quantile(chance: float, freedom: int) -> float:
    """The value that Student's t stays below with a chance.

    Parameters
    ----------
    chance
        Above 0 and below 1.
    freedom
        Degrees of freedom, a whole number from 1.

    Raises
    ------
    KitError
        For any other chance or freedom.
    """
    if not 0 < chance < 1 or freedom < 1:
        raise KitError(f"Student's t has no quantile for a chance of {chance:g} and {freedom} degrees of freedom.")
    inside = abs(2 * chance - 1)
    low, high = 0.0, math.pi / 2
    while low < (angle := (low + high) / 2) < high:  # until no number lies between them
        low, high = (angle, high) if _within(angle, freedom) < inside else (low, angle)
    return math.copysign(math.sqrt(freedom) * math.tan(low), chance - 0.5)


def _within(angle: float, freedom: int) -> float:
    """The chance that t lies within plus and minus sqrt(freedom) x tan(angle)."""
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = freedom % 2
    term, total = (cosine, 0.0) if odd else (1.0, 0.0)
    for power in range(odd, freedom - 1, 2):  # cosine^power, each term from the one before it
        total += term
        term *= cosine * cosine * (power + 1) / (power + 2)
    return 2 / math.pi * (angle + sine * total) if odd else sine * total
