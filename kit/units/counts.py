"""How many whole things an amount takes."""

import math

__all__ = ["count_parts"]


def count_parts(amount: float, most: float) -> int:
    """How many parts an amount makes of which none is larger than the most one may be; less than a millionth of a part is the noise of floats.

    Examples
    --------
    >>> count_parts(96.0, 24.0), count_parts(96.000001, 24.0), count_parts(96.01, 24.0), count_parts(0.0, 24.0)
    (4, 4, 5, 0)
    """
    return math.ceil(round(amount / most, 6))
