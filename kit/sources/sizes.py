"""Sizes behind trade names: a 2x4 measures 1 1/2 x 3 1/2 in and is paid for as 2 x 4; pipe is named by its nominal size."""

import re
from fractions import Fraction

from kit.errors import UnitError
from kit.sources import value

__all__ = ["board_feet", "dressed_size", "item_size", "table_size"]

_NOMINAL = re.compile(r"(\d+)x(\d+)")


def dressed_size(nominal: str) -> tuple[float, float]:
    """Give least dressed thickness and width [in] of dry softwood lumber.

    Parameters
    ----------
    nominal
        Trade name, such as `2x4`.

    Raises
    ------
    SourceError
        A size the table does not hold.

    Notes
    -----
    American Softwood Lumber Standard (`nist-ps20-2020`). Measure the stick at hand: green lumber is larger.

    Examples
    --------
    >>> dressed_size("2x4")
    (1.5, 3.5)
    """
    return value("lumber", f"{nominal}/thickness"), value("lumber", f"{nominal}/width")


def board_feet(nominal: str, length_in: float) -> float:
    """Give board feet [1 ft x 1 ft x 1 in] of one stick, by its nominal size.

    Parameters
    ----------
    nominal
        Trade name, such as `2x4`; its numbers are the nominal thickness and width [in].
    length_in
        Length [in].

    Raises
    ------
    UnitError
        If the name is no nominal size, or the length is negative.

    Examples
    --------
    >>> board_feet("2x4", 144.0)
    8.0
    """
    match = _NOMINAL.fullmatch(nominal)
    if match is None:
        raise UnitError(f'"{nominal}" is not a nominal size. Give one, such as "2x4".')
    if not length_in >= 0:
        raise UnitError(f"{length_in} in is no length of a stick.")
    return int(match[1]) * int(match[2]) * length_in / value("lumber", "board-foot")


def item_size(nominal: str) -> str:
    """Give a pipe's nominal size as items name it: 1-1/2 becomes `1-1-2`."""
    return nominal.replace("/", "-")


def table_size(nominal: str) -> str:
    """Give a pipe's nominal size as tables name it, in decimal inches: 1-1/2 becomes `1.5`."""
    whole, _, fraction = nominal.partition("-")
    return f"{float(int(whole) + Fraction(fraction or 0)):g}"
