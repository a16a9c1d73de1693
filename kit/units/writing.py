"""Printing a measure: as a tape shows it, or without loss for a file."""

import math
from collections.abc import Callable, Iterator, Sequence
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache

from kit.errors import UnitError
from kit.units.defined import BY_NAME, EXAMPLES, Dimension, canonical_unit

__all__ = [
    "CHANCE_WORDS",
    "format_amount",
    "format_exact",
    "format_exact_length",
    "format_feet",
    "format_length",
    "format_limit",
    "format_need",
    "format_quantity",
    "format_trials",
    "format_worked",
    "next_mark",
    "say_cell",
    "whole_pieces",
]

CHANCE_WORDS = {0.1: "1 in 10", 0.5: "1 in 2", 0.8: "4 in 5", 0.9: "9 in 10"}
"""The shares of trials that are told, as people say them."""
_OWN_PLACES, _OTHER_PLACES = 6, 4
_NOISE_IN = 1e-6
"""What a sum of lengths may be off in the computer [in]."""
_FINEST_PART = 12
"""Decimals that a person types in the unit of a field, and in another one; no fraction is finer than that."""


def format_trials(share: float) -> str:
    """In how many trials something holds.

    Examples
    --------
    >>> format_trials(0.8), format_trials(0.725)
    ('4 in 5 trials', '72.5% of the trials')
    """
    return f"{CHANCE_WORDS[share]} trials" if share in CHANCE_WORDS else f"{round(share * 100, 4):g}% of the trials"


def format_length(inches: float, *, denominator: int = 16) -> str:
    """Length [in] as a tape shows it, to the nearest 1/denominator: `33 1/2 in`.

    Examples
    --------
    >>> format_length(33.51)
    '33 1/2 in'
    """
    steps = _count_steps(inches, denominator)
    return f"{'-' if steps < 0 else ''}{_steps_text(abs(steps), denominator)} in"


def format_limit(inches: float, *, most: bool, denominator: int = 16) -> str:
    """A limit [in] as a tape shows it, never past what it is: down where it is the most that may be, else up.

    Examples
    --------
    >>> format_limit(2.1, most=True), format_limit(2.1, most=False)
    ('2 1/16 in', '2 1/8 in')
    """
    return format_length(next_mark(inches, denominator, down=most), denominator=denominator)


def format_side(inches: float, one_side: str, other_side: str) -> str:
    """A length [in] from a line that may lie on either side of it: nobody reads a minus off a tape.

    Examples
    --------
    >>> format_side(2.5, "above the floor", "below the floor"), format_side(-2.5, "above the floor", "below the floor")
    ('2 1/2 in above the floor', '2 1/2 in below the floor')
    """
    text = format_length(inches)
    return f"{text[1:]} {other_side}" if text.startswith("-") else f"{text} {one_side}"


@lru_cache(maxsize=4096)
def _steps_text(steps: int, denominator: int) -> str:
    """Remembered: an estimate prints some hundred lengths, most of them again and again."""
    return _mixed(Fraction(steps, denominator))


def format_worked(value: float) -> str:
    """An amount in a working that a person follows: hundredths at most, below a tenth three figures; no zeros at the end.

    Examples
    --------
    >>> [format_worked(value) for value in (173.2292, 5.368, 390.0, 1820.0, 0.0417)]
    ['173.23', '5.37', '390', '1,820', '0.0417']
    """
    text = f"{value:,.2f}" if abs(value) >= 0.1 or not value else f"{value:.3g}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def say_cell(cell: str) -> str:
    """A cell of a list as people read it: a share, typed as 5 %, without the blank."""
    return f"{cell[:-2]}%" if cell.endswith(" %") else cell


def format_amount(value: float, *, beside: float | None = None) -> str:
    """An amount in as many figures as a person can use: whole from 100 on, tenths from 1 on, else hundredths; no finer than one that stands beside it.

    Examples
    --------
    >>> [format_amount(value) for value in (142.4, 57.55, 3.713, 0.5062, 0.002)]
    ['142', '57.5', '3.7', '0.51', 'less than 0.01']
    >>> format_amount(0.36, beside=19.64), format_amount(0.36, beside=142.4)
    ('0.4', 'less than 1')
    """
    places = min(0 if abs(one) >= 100.0 else 1 if abs(one) >= 1.0 else 2 for one in (value, value if beside is None else beside))
    text = f"{value:,.{places}f}"
    text = text.rstrip("0").rstrip(".") if places else text
    return f"less than {0.1**places:.{places}f}" if value > 0.0 and text == "0" else text


def format_quantity(value: float, unit: str, *, beside: float | None = None) -> str:
    """An amount with its unit, as `format_amount`: what is counted stands bare and whole, a part of a piece as one; hours are those that are billed.

    Examples
    --------
    >>> format_quantity(72.6, "each"), format_quantity(10.125, "ft"), format_quantity(5.25, "h")
    ('73', '10.1 ft', '5.25 h')
    """
    if unit == "each":
        return f"{whole_pieces(value):,}"
    if unit == "h":
        return f"{f'{value:,.2f}'.rstrip('0').rstrip('.')} h"
    return f"{format_amount(value, beside=beside)} {unit}"


def format_need(value: float, unit: str) -> str:
    """How much of a thing is needed, as `format_quantity`; of what is cut to length less than 2 ft as a tape shows it.

    Examples
    --------
    >>> format_need(0.4635, "ft"), format_need(18.78, "ft"), format_need(2, "each")
    ('5 9/16 in', '18.8 ft', '2')
    """
    return format_length(12.0 * value) if unit == "ft" and 0.0 < value < 2.0 else format_quantity(value, unit)


def whole_pieces(quantity: float) -> int:
    """How many pieces a quantity takes: nobody uses a part of a screw.

    Examples
    --------
    >>> whole_pieces(72.6), whole_pieces(0.1 + 0.2 + 2.7)
    (73, 3)
    """
    return math.ceil(round(quantity, 6))


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


def next_mark(inches: float, denominator: int = 16, *, down: bool = False) -> float:
    """A length [in] up, or down, to the tape's next mark.

    Examples
    --------
    >>> next_mark(0.26), next_mark(0.26, down=True)
    (0.3125, 0.25)
    """
    return (math.floor((inches + _NOISE_IN) * denominator) if down else math.ceil((inches - _NOISE_IN) * denominator)) / denominator


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


def format_exact(value: float, dimension: Dimension) -> str:
    """Value [canonical unit] for a file, with its unit; `parse_quantity` gives the same float back.

    It is written as a person would have typed it: lengths and slopes as fractions where 64ths are exact, any measure with few decimals in its own unit or in
    another one, or as another fraction, such as thirds; shares in percent.

    Examples
    --------
    >>> format_exact(0.15, "share"), format_exact(838 / 25.4, "length"), format_exact(100 / 3, "length")
    ('15 %', '838 mm', '33 1/3 in')
    """
    if not math.isfinite(value):
        raise UnitError(f"{value} is not {EXAMPLES[dimension][0]}.")
    return _exact(value + 0.0, dimension)  # no minus zero


@lru_cache(maxsize=4096)
def _exact(value: float, dimension: Dimension) -> str:
    """Remembered: a change of one field writes all fields of the job, and most stay as they are."""
    if dimension in {"length", "slope"} and float(value * 64).is_integer():
        sign = "-" if value < 0 else ""
        return f"{sign}{_mixed(Fraction(abs(value)))} {canonical_unit(dimension)}"
    units = [unit for unit in BY_NAME.values() if unit.dimension == dimension and unit.name != "share"]
    typed = _find_typed(value, [(unit.name, unit.factor) for unit in units], float)
    if typed is not None:
        return typed
    number = Decimal(repr(float(value)))
    if dimension == "share":
        # The shortest decimal of a share, times 100, is the percent that reads back as the same float.
        number = Context(prec=60).multiply(number, Decimal(100))
    return f"{_plain(number)} {units[0].name}"


def format_feet(feet: float, read: Callable[[Fraction], float]) -> str:
    """A distance [ft] for a file, as a person would have typed it in feet or meters; `read` gives the distance [ft] of one in inches as the file's reader does.

    Examples
    --------
    >>> format_feet(32.808398950, lambda inches: round(float(inches) / 12.0, 9)), format_feet(70.0, lambda inches: float(inches) / 12.0)
    ('10 m', '70 ft')
    """
    units = [(name, BY_NAME[name].factor) for name in ("ft", "m")]
    return _find_typed(feet, units, read, Fraction(12)) or f"{_plain(Decimal(repr(float(feet))))} ft"


def _find_typed(value: float, units: Sequence[tuple[str, Fraction]], read: Callable[[Fraction], float], one: Fraction = Fraction(1)) -> str | None:
    """What reads as this very value: few decimals or a fraction in the first unit, else few decimals in another; None where nothing does.

    A value counts units of `one`, which `read` makes of the amount times the factor of its unit.
    """
    for text, number, factor in _list_typed(value, units, one):
        if read(number * factor) == value:
            return text
    return None


def _list_typed(value: float, units: Sequence[tuple[str, Fraction]], one: Fraction) -> Iterator[tuple[str, Fraction, Fraction]]:
    (own, own_factor), *others = units
    amount = value * float(one / own_factor)
    decimal, part = Decimal(f"{amount:.{_OWN_PLACES}f}"), Fraction(amount).limit_denominator(_FINEST_PART)
    yield f"{_plain(decimal)} {own}", Fraction(decimal), own_factor
    yield f"{'-' if part < 0 else ''}{_mixed(abs(part))} {own}", part, own_factor
    for name, factor in others:
        decimal = Decimal(f"{value * float(one / factor):.{_OTHER_PLACES}f}")
        yield f"{_plain(decimal)} {name}", Fraction(decimal), factor


def _plain(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
