"""Records of cut plans: what may be bought, what is bought, where each piece lies, what is left."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.records import PlacedPiece

__all__ = ["CutPlan", "CutStock", "Proof", "Stock"]

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

    Parameters
    ----------
    cut
        The sticks or slabs, largest stock first.
    cost
        Price of all of them.
    bound
        No plan costs less; equal to `cost` when `proven`, else the gap is `cost - bound`.
    proven
        Whether the plan is proven cheapest.
    proof
        What proves it.
    values
        Certificate of the bound: in each row a value for each size of piece, largest first. Stock whose contents can't be
        worth as much as all pieces does not hold them; the cheapest set that no row bars costs `bound`.
    """

    cut: tuple[CutStock, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: Proof
    values: tuple[tuple[int, ...], ...]
