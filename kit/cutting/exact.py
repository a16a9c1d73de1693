"""What lengths and prices mean as exact numbers."""

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

__all__ = ["count_places", "money", "read_length", "whole_price"]

FINEST = 20_000
"""Denominators up to this are taken for what the person meant; inch fractions, decimals and millimetres lie well below."""
SLIP = Fraction(1, 10**9)


@lru_cache(maxsize=4096)
def read_length(length_in: float) -> Fraction:
    """The fraction of an inch that a float stands for.

    Parameters
    ----------
    length_in
        Length [in].

    Returns
    -------
    The fraction with a denominator up to 20,000 that lies within a billionth of an inch; if there is none, the float itself.

    Examples
    --------
    >>> read_length(33.1)
    Fraction(331, 10)
    """
    exact = Fraction(length_in)
    if exact.denominator <= FINEST:
        return exact
    near = exact.limit_denominator(FINEST)
    return near if abs(near - exact) <= SLIP else exact


def count_places(prices: Iterable[Decimal]) -> int:
    """Decimals that all prices need, two at least."""
    amounts = [Fraction(price) for price in prices]
    places = 2
    while any((amount * 10**places).denominator != 1 for amount in amounts):
        places += 1
    return places


def whole_price(price: Decimal, places: int) -> int:
    """A price in whole units of its last decimal."""
    return int(Fraction(price) * 10**places)


def money(whole: int, places: int) -> Decimal:
    """The amount of whole units of the last decimal, whatever the decimal context."""
    return Decimal((int(whole < 0), tuple(map(int, str(abs(whole)))), -places))
