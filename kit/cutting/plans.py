"""Records of cut plans for stock lengths."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

__all__ = ["CutPiece", "CutPlan", "Proof", "Stick", "Stock"]

Proof = Literal["lengths", "values", "search", "solver", "open"]
"""What proves a plan cheapest: no cheaper set of sticks is long enough; piece values bar each cheaper set; an
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
class CutPiece:
    """One piece on its stick; it starts `start_in` from the stick's first end [in]."""

    name: str
    length_in: float
    start_in: float


@dataclass(frozen=True, slots=True)
class Stick:
    """One stick of a plan, its pieces in the order of cutting, and what is left after the last cut [in].

    `usable` says whether the rest is long enough to be kept.
    """

    stock: Stock
    pieces: tuple[CutPiece, ...]
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
    fewest_proven
        Whether no plan as cheap buys fewer sticks (free sticks don't count).
    offcut_proven
        Whether no plan as cheap with as few sticks leaves a longer usable offcut of a bought stick.
    values
        Certificate of the bound: in each row a value for each piece length, longest first (`kit.cutting.verify.certify_cuts`).
    kerf_in, trim_in, least_offcut_in
        What the plan was made for [in].
    """

    sticks: tuple[Stick, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: Proof
    fewest_proven: bool
    offcut_proven: bool
    values: tuple[tuple[int, ...], ...]
    kerf_in: float
    trim_in: float = 0.0
    least_offcut_in: float = 0.0

    @property
    def tally(self) -> tuple[tuple[Stock, int], ...]:
        """How many sticks of each stock, in the order of the sticks."""
        counts: dict[Stock, int] = {}
        for stick in self.sticks:
            counts[stick.stock] = counts.get(stick.stock, 0) + 1
        return tuple(counts.items())

    @property
    def offcuts_in(self) -> tuple[float, ...]:
        """Usable offcuts, longest first [in]."""
        return tuple(sorted((stick.left_over_in for stick in self.sticks if stick.usable), reverse=True))
