"""Records of cut plans, and what their lengths and prices mean as exact numbers: what is wrong with them, which stock is worth a look."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import isfinite
from operator import ge
from typing import Literal

from kit.errors import Fault
from kit.records import Piece, PlacedPiece

__all__ = ["CutPlan", "CutStock", "Prices", "Proof", "Stock", "check_job", "read_length", "worth_keeping"]

Proof = Literal["sizes", "values", "search", "open"]
"""What proves a plan cheapest: no cheaper set of sticks or slabs is large enough; piece values bar each cheaper set; an
exhaustive search; nothing (a gap is left)."""


@dataclass(frozen=True, slots=True)
class Stock:
    """Sticks, slabs or sheets of one size at one price: what one costs, and how many there are (None: as many as wanted).

    Sticks have no `width_in`. Grain or vein of a slab runs along `length_in`; both sizes are the usable ones. Offcuts and
    remnants on hand are stock with `available`, at price 0 or at what they are worth unused.
    """

    length_in: float
    price: Decimal
    name: str
    available: int | None = None
    width_in: float = 0.0


@dataclass(frozen=True, slots=True)
class CutStock:
    """One stick or slab of a plan: its pieces in the order of cutting, and what is left beyond the last cut along its length [in].

    `usable` says whether the rest is long enough to be kept.
    """

    stock: Stock
    pieces: tuple[PlacedPiece, ...]
    left_over_in: float
    usable: bool


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to buy and how to cut it; through cuts part the pieces of a slab.

    `cut` are the sticks or slabs, largest stock first, `cost` is the price of all. No plan costs less than `bound`: it equals `cost` when the plan is
    `proven` cheapest, by `proof`. `values` are the certificate of the bound: in each row a value for each size of piece, largest first. Stock whose
    contents can't be worth as much as all pieces does not hold them; the cheapest set that no row bars costs `bound`.
    """

    cut: tuple[CutStock, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: Proof
    values: tuple[tuple[int, ...], ...]


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


class Prices:
    """Prices as whole numbers, so that the cheapest plan is also the one with the fewest bought sticks or slabs.

    A price is counted in units of its last decimal, times one more than the number of pieces, plus 1 when it isn't 0: no
    plan buys more sticks than it has pieces, so that these ones never outweigh a unit of money.
    """

    def __init__(self, prices: Iterable[Decimal], pieces: int) -> None:
        amounts = [Fraction(price) for price in prices]
        self.scale = pieces + 1
        self.places = 2
        while any((amount * 10**self.places).denominator != 1 for amount in amounts):
            self.places += 1
        wholes = [int(amount * 10**self.places) for amount in amounts]
        self.costs = tuple(whole * self.scale + (whole > 0) for whole in wholes)

    def money(self, cost: int) -> Decimal:
        """The amount of a cost, whatever the decimal context."""
        return Decimal((0, tuple(map(int, str(cost // self.scale))), -self.places))


def worth_keeping(sizes: Sequence[tuple[Fraction, ...]], stock: Sequence[Stock]) -> list[int]:
    """Places of the stock that is not outdone by an endless one as large and no dearer; smallest first."""
    useful: list[int] = []
    for place in sorted(range(len(stock)), key=lambda place: (stock[place].price, [-size for size in sizes[place]], stock[place].available is not None, place)):
        endless = (sizes[other] for other in useful if stock[other].available is None)  # whatever outdoes a stock comes before it
        if not any(all(map(ge, larger, sizes[place])) for larger in endless):
            useful.append(place)
    return sorted(useful, key=lambda place: (sizes[place], stock[place].price, place))


def check_job(pieces: Sequence[Piece], stock: Sequence[Stock], *, wide: bool, **measures: float) -> Iterator[Fault]:
    """Faults of a job's measures, which may be 0 but not less, of its pieces and of its stock; `wide` when widths count."""
    for name, measure in measures.items():
        if not isfinite(measure) or measure < 0:
            yield Fault(name, f"{measure:.10g} in is no width or length. Give 0 or more inches.")
    for piece in pieces:
        where = f"piece {piece.name}"
        yield from check_sizes(where, piece, wide=wide)
        if piece.count < 0 or piece.count != int(piece.count):
            yield Fault(where, f"{piece.count} is no count. Give a whole number, 0 or more.")
    for entry in stock:
        where = f"stock {entry.name}"
        yield from check_sizes(where, entry, wide=wide)
        if not isinstance(entry.price, Decimal) or not entry.price.is_finite() or entry.price < 0:
            yield Fault(where, f"{entry.price} is no price. Give a decimal amount, 0 or more.")
        if entry.available is not None and entry.available < 0:
            yield Fault(where, f"{entry.available} is no number of sticks or slabs. Give 0 or more, or None for as many as needed.")


def check_sizes(where: str, entry: Piece | Stock, *, wide: bool) -> Iterator[Fault]:
    """Faults of a length, and with `wide` of a width."""
    for word, size in [("length", entry.length_in), ("width", entry.width_in)][: 2 if wide else 1]:
        if not isfinite(size) or size <= 0:
            yield Fault(where, f"{size:.10g} in is no {word}. Give more than 0 inches.")
