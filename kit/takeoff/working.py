"""Numbers that carry their working: "2 side cleats x 20 1/2 in + 1 rear cross piece x 34 3/4 in".

The working that a person reads comes from the same place as the number. Its language is small, so that it can be
worked out again: numbers with fractions ("20 1/2" is twenty and a half), the signs x + - / with blanks round them,
brackets, `round up (...)`, and words without digits, signs that stand alone or brackets, which mean nothing to the sum.
x and / bind before + and -, each from left to right.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from kit.records import Piece
from kit.units import count_parts, format_length

__all__ = ["Amount", "counted", "named", "number", "pieces_length", "round_up", "total", "working_words"]

_HEAD = re.compile(r"^.+?(?= (?:above|below|between|for|to|with) |$)")
_LONG = re.compile(r"\d*\.\d+( in\b)|\d*\.\d{4,}")  # a working holds every digit, so that it can be worked out again


@dataclass(frozen=True, slots=True)
class Amount:
    """A value with its working; `is_sum` says that the text is a sum and needs brackets in a product."""

    value: float
    text: str
    is_sum: bool = False

    def __add__(self, other: "Amount") -> "Amount":
        return Amount(self.value + other.value, f"{self.text} + {other.text}", is_sum=True)

    def __sub__(self, other: "Amount") -> "Amount":
        return Amount(self.value - other.value, f"{self.text} - {other.as_factor}", is_sum=True)

    def __mul__(self, other: "Amount") -> "Amount":
        return Amount(self.value * other.value, f"{self.as_factor} x {other.as_factor}")

    def __truediv__(self, other: "Amount") -> "Amount":
        return Amount(self.value / other.value, f"{self.as_factor} / {other.as_factor}")

    @property
    def as_factor(self) -> str:
        """The working as a factor of a product: in brackets when it is a sum."""
        return f"({self.text})" if self.is_sum else self.text


def number(value: float, words: str = "") -> Amount:
    """A number and what it counts or measures."""
    return Amount(float(value), f"{_figure(value)} {words}" if words else _figure(value))


def counted(value: float, singular: str, plural: str) -> Amount:
    """A number and what it counts, in the form that fits it: "1 stop", "2 stops".

    Examples
    --------
    >>> counted(1, "stop", "stops").text, counted(0, "stop", "stops").text
    ('1 stop', '0 stops')
    """
    return number(value, singular if value == 1 else plural)


def named(count: int, name: str) -> Amount:
    """A number of things that go by one name: "1 post", "4 posts".

    Examples
    --------
    >>> named(1, "post").text, named(4, "block below post").text, named(2, "arm to the elbow").text
    ('1 post', '4 blocks below post', '2 arms to the elbow')
    """
    return counted(count, name, _HEAD.sub(lambda head: f"{head[0]}s", name))


def total(amounts: list[Amount]) -> Amount:
    """The sum of several amounts; nothing gives 0."""
    if not amounts:
        return number(0)
    if len(amounts) == 1:
        return amounts[0]
    return Amount(math.fsum(amount.value for amount in amounts), " + ".join(amount.text for amount in amounts), is_sum=True)


def round_up(amount: Amount) -> Amount:
    """The next whole number, a hair above a whole number counted as that number."""
    return Amount(float(count_parts(amount.value, 1.0)), f"round up ({amount.text})")


def working_words(working: str) -> str:
    """A working as a person reads it: lengths as a tape shows them, other long figures in four digits.

    Examples
    --------
    >>> working_words("1 arm x 7.964866773 in / 12 in a foot x 1.8046875 cu in")
    '1 arm x 7 15/16 in / 12 in a foot x 1.805 cu in'
    """
    return _LONG.sub(lambda match: format_length(float(match[0].removesuffix(" in"))) if match[1] else f"{float(match[0]):.4g}", working)


def pieces_length(pieces: Sequence[Piece]) -> Amount:
    """Length of all pieces [in]."""
    return total([number(piece.length_in, "in") if piece.count == 1 else number(piece.count, "pieces") * number(piece.length_in, "in") for piece in pieces])


@lru_cache(maxsize=4096)
def _figure(value: float) -> str:
    if value == int(value):
        return str(int(value))
    sixty_fourths = value * 64.0
    if value > 0 and sixty_fourths == int(sixty_fourths):
        whole, part = divmod(int(sixty_fourths), 64)
        common = part & -part  # 64 is a power of two, so the largest power in the part is what both share
        fraction = f"{part // common}/{64 // common}"
        return f"{whole} {fraction}" if whole else fraction
    return f"{Decimal(f'{value:.10g}'):f}"  # never 1e-05: the language has no powers
