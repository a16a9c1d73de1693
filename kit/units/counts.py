"""Counting and comparing without the noise of floats."""

import math

__all__ = ["count_parts", "exceeds", "without_noise"]


def count_parts(amount: float, most: float) -> int:
    """How many parts an amount makes of which none is larger than the most one may be, but for a millionth.

    Examples
    --------
    >>> count_parts(96.0, 24.0), count_parts(96.000001, 24.0), count_parts(96.01, 24.0), count_parts(0.0, 24.0)
    (4, 4, 5, 0)
    """
    return math.ceil(round(amount / most, 6))


def exceeds(one: float, other: float) -> bool:
    """Whether one number is more than another, by a millionth at the least.

    Examples
    --------
    >>> exceeds(0.1 + 0.2, 0.3), exceeds(0.3001, 0.3), exceeds(0.3, 0.3001)
    (False, True, False)
    """
    return one - other > 1e-6


def without_noise(number: float) -> float:
    """A number to a billionth, such as one by which things are told apart.

    Examples
    --------
    >>> without_noise(0.1 + 0.2)
    0.3
    """
    return round(number, 9)
