"""What "33 1/2 in" means.

Text with a unit comes in, a plain float in the canonical unit goes out: inches, pounds, hours, square
inches, fluid ounces. Reading is exact (fractions, one rounding at the end) and cached, since it lies on
the path of every slider; pint is imported only by the functions that hand out quantities.
"""

from kit.units.counts import count_parts, exceeds, without_noise
from kit.units.days import format_day, format_days, format_half_day, format_hour, format_instant, format_long_day, round_up_days
from kit.units.defined import convert
from kit.units.quantities import from_quantity, to_quantity
from kit.units.reading import parse_quantity
from kit.units.writing import (
    CHANCE_WORDS,
    format_amount,
    format_exact,
    format_exact_length,
    format_feet,
    format_length,
    format_limit,
    format_need,
    format_quantity,
    format_side,
    format_trials,
    format_worked,
    next_mark,
    say_cell,
    whole_pieces,
)

__all__ = [
    "CHANCE_WORDS",
    "convert",
    "count_parts",
    "exceeds",
    "format_amount",
    "format_day",
    "format_days",
    "format_exact",
    "format_exact_length",
    "format_feet",
    "format_half_day",
    "format_hour",
    "format_instant",
    "format_length",
    "format_limit",
    "format_long_day",
    "format_need",
    "format_quantity",
    "format_side",
    "format_trials",
    "format_worked",
    "from_quantity",
    "next_mark",
    "parse_quantity",
    "round_up_days",
    "say_cell",
    "to_quantity",
    "whole_pieces",
    "without_noise",
]
