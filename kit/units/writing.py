"""Printing a measure: as a tape shows it, or without loss for a file."""

import math
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache

from kit.errors import UnitError
from kit.units.defined import EXAMPLES, Dimension, canonical_unit

__all__ = ["format_amount", "format_exact", "format_exact_length", "format_length", "next_mark"]


def format_length(inches: float, *, denominator: int = 16) -> str:
    """Length [in] as a tape shows it, to the nearest 1/denominator: `33 1/2 in`.

    Examples
    --------
    >>> format_length(33.51)
    '33 1/2 in'
    """
    steps = _count_steps(inches, denominator)
    return f"{'-' if steps < 0 else ''}{_steps_text(abs(steps), denominator)} in"


@lru_cache(maxsize=4096)
def _steps_text(steps: int, denominator: int) -> str:
    """Remembered: an estimate prints some hundred lengths, most of them again and again."""
    return _mixed(Fraction(steps, denominator))


def format_amount(value: float) -> str:
    """An amount in as many figures as a person can use: whole from 100 on, tenths from 1 on, else hundredths.

    Examples
    --------
    >>> [format_amount(value) for value in (142.4, 57.55, 3.713, 0.5062, 0.002)]
    ['142', '57.5', '3.7', '0.51', 'less than 0.01']
    """
    places = 0 if abs(value) >= 100.0 else 1 if abs(value) >= 1.0 else 2
    text = f"{value:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if places else text
    return "less than 0.01" if value > 0.0 and text == "0" else text


def _count_steps(inches: float, denominator: int) -> int:
    """Whole steps of 1/denominator inch, halves away from zero."""
    if not math.isfinite(inches):
        raise UnitError(f"{inches} is not a length.")
    if denominator < 1:
        raise UnitError(f"A tape can't be read to 1/{denominator} in.")
    steps = math.floor(abs(inches) * denominator + 0.5)
    return -steps if inches < 0 else steps


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def next_mark(inches: float) -> float:
    """A length [in] up to the tape's next sixteenth.

    Examples
    --------
    >>> next_mark(0.26)
    0.3125
    """
    return math.ceil(inches * 16.0 - 1e-9) / 16.0


def format_exact_length(inches: float) -> str:
    """Length [in] for a file: a fraction when 64ths give it exactly, else a decimal; reading it gives the same float.

    Examples
    --------
    >>> format_exact_length(33.015625)
    '33 1/64 in'
    >>> format_exact_length(0.1)
    '0.1 in'
    """
    return format_exact(inches, "length")


def _count_millimeters(inches: float) -> Decimal | None:
    """A length [in] in millimeters with at most one decimal, where reading that gives the same float; 1 in = 25.4 mm by definition."""
    tenths = round(inches * 254.0)
    return Decimal(tenths).scaleb(-1).normalize() if tenths / 254 == inches else None


def format_exact(value: float, dimension: Dimension) -> str:
    """Value [canonical unit] for a file, with its unit; `parse_quantity` gives the same float back.

    Lengths and slopes are written as fractions where 64ths are exact, a length that was measured to a tenth of a millimeter in those, shares in percent.

    Examples
    --------
    >>> format_exact(0.15, "share"), format_exact(838 / 25.4, "length")
    ('15 %', '838 mm')
    """
    if not math.isfinite(value):
        raise UnitError(f"{value} is not {EXAMPLES[dimension][0]}.")
    if dimension in {"length", "slope"} and float(value * 64).is_integer():
        sign = "-" if value < 0 else ""
        return f"{sign}{_mixed(Fraction(abs(value)))} {canonical_unit(dimension)}"
    if dimension == "length" and (millimeters := _count_millimeters(value)) is not None:
        return f"{millimeters:f} mm"
    number = Decimal(repr(float(value)))
    if dimension == "share":
        # The shortest decimal of a share, times 100, is the percent that reads back as the same float.
        number = Context(prec=60).multiply(number, Decimal(100))
    text = f"{number:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {'%' if dimension == 'share' else canonical_unit(dimension)}"
