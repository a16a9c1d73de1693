"""Records of cut plans: what may be bought, what is bought, where each piece lies, what is left."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.records import PlacedPiece

__all__ = ["CutPlan", "CutSlab", "Proof", "Slab", "SlabPlan", "Stick", "Stock"]

Proof = Literal["sizes", "values", "search", "solver", "open"]
"""What proves a plan cheapest: no cheaper set of sticks or slabs is large enough; piece values bar each cheaper set; an
exhaustive search; a mixed-integer solver's word; nothing (a gap is left)."""


@dataclass(frozen=True, slots=True)
class Stock:
    """Sticks of one length at one price: what one costs, and how many there are (None: as many as wanted).

    Offcuts on hand are stock with `available`, at price 0 or at what they are worth unused.
    """

    length_in: float
    price: Decimal
    name: str
    available: int | None = None


@dataclass(frozen=True, slots=True)
class Stick:
    """One stick of a plan, its pieces in the order of cutting, and what is left after the last cut [in].

    `usable` says whether the rest is long enough to be kept.
    """

    stock: Stock
    pieces: tuple[PlacedPiece, ...]
    left_over_in: float
    usable: bool


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to buy and how to cut it.

    Parameters
    ----------
    sticks
        The sticks, longest stock first.
    cost
        Price of all sticks.
    bound
        No plan costs less; equal to `cost` when `proven`, else the gap is `cost - bound`.
    proven
        Whether the plan is proven cheapest.
    proof
        What proves it.
    values
        Certificate of the bound: in each row a value for each piece length, longest first. A set of sticks whose contents
        can't be worth as much as all pieces does not hold them; the cheapest set that no row bars costs `bound`.
    """

    sticks: tuple[Stick, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: Proof
    values: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Slab:
    """Slabs, sheets or blanks of one size at one price: what one costs, and how many there are (None: as many as wanted).

    Grain or vein runs along `length_in`; both sizes are the usable ones. Remnants on hand are slabs with `available`, at
    price 0 or at what they are worth unused.
    """

    length_in: float
    width_in: float
    price: Decimal
    name: str
    available: int | None = None


@dataclass(frozen=True, slots=True)
class CutSlab:
    """One slab of a plan, its parts where they lie; through cuts part them."""

    slab: Slab
    parts: tuple[PlacedPiece, ...]


@dataclass(frozen=True, slots=True)
class SlabPlan:
    """What to buy and how to cut it by through cuts; `cost`, `bound`, `proven` and `proof` as in `CutPlan`, slabs largest first."""

    slabs: tuple[CutSlab, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: Proof
