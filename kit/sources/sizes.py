"""A pipe's nominal size, as a job names it (1-1/2), as items name it and as tables name it."""

from fractions import Fraction
from functools import cache

__all__ = ["item_size", "table_size"]


def item_size(nominal: str) -> str:
    """Give a pipe's nominal size as items name it: 1-1/2 becomes `1-1-2`."""
    return nominal.replace("/", "-")


@cache
def table_size(nominal: str) -> str:
    """Give a pipe's nominal size as tables name it, in decimal inches: 1-1/2 becomes `1.5`."""
    whole, _, fraction = nominal.partition("-")
    return f"{float(int(whole) + Fraction(fraction or 0)):g}"
