"""How a person says the quantity of a purchase: what is measured out as it is charged, whole pounds, hours to the quarter, what is counted as a whole."""

import math
from decimal import Decimal

from kit.units import format_quantity

__all__ = ["say_pack", "say_quantity"]

_HUNDREDS = "100 "  # a dump bills by the hundred; people say the pounds
_ONE = "one "  # what is lent is billed by the rental: two rentals are no second vacuum
_MEASURES = frozenset({"lb", "ft", "sq ft"})
_QUARTERS = ("", "1/4", "1/2", "3/4")


def say_quantity(quantity: Decimal, sold_as: str) -> tuple[str, str]:
    """How many, "" of what is measured out, and of what: a pack, or the measure.

    Examples
    --------
    >>> say_quantity(Decimal("6.52"), "100 lb"), say_quantity(Decimal("10.94"), "ft"), say_quantity(Decimal("5.25"), "hour")
    (('', '652 lb'), ('', '10.9 ft'), ('', '5 1/4 hours'))
    >>> say_quantity(Decimal(2), "roll of 30 ft"), say_quantity(Decimal(3), "each"), say_quantity(Decimal(2), "one rental")
    (('2', 'roll of 30 ft'), ('3', ''), ('', '2 rentals'))
    """
    if sold_as == "hour":
        return "", _hours(math.ceil(quantity * 4))
    if sold_as.startswith(_HUNDREDS):
        return "", f"{quantity * 100:,.0f} {sold_as.removeprefix(_HUNDREDS)}"
    if sold_as in _MEASURES:
        return "", format_quantity(float(quantity), sold_as)
    if sold_as.startswith(_ONE):
        once, _, where = sold_as.removeprefix(_ONE).partition(" ")
        return "", f"{math.ceil(quantity)} {once}{'s' if quantity > 1 else ''} {where}".rstrip()
    return f"{math.ceil(quantity):,}", "" if sold_as == "each" else sold_as


def say_pack(name: str, sold_as: str) -> str:
    """How goods of a name are sold, without the last word where the name says it: a strip is not "a strip, 96 in strip".

    Examples
    --------
    >>> say_pack("Filler strip 3/4 x 3 in primed", "96 in strip"), say_pack("2x4 framing lumber", "96 in stick"), say_pack("Masking tape 1 in", "180 ft")
    ('96 in', '96 in stick', '180 ft')
    """
    rest, _, last = sold_as.rpartition(" ")
    return rest if rest and last not in _MEASURES and last.casefold() in name.casefold().split() and last != "in" else sold_as


def _hours(quarters: int) -> str:
    whole, part = divmod(quarters, 4)
    words = f"{whole or ''} {_QUARTERS[part]}".strip()
    return f"{words} {'hour' if quarters <= len(_QUARTERS) else 'hours'}"
