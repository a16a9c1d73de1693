"""Records of slab plans: what to buy, where each part lies, which cuts part them and what is left."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.records import PlacedPiece

__all__ = ["CutSlab", "Remnant", "Slab", "SlabPlan", "SlabProof", "ThroughCut"]

SlabProof = Literal["areas", "search", "solver", "open"]
"""What proves a plan cheapest: no cheaper set of slabs has the area or rows; an exhaustive search; a mixed-integer
solver's word; nothing (a gap is left)."""


@dataclass(frozen=True, slots=True)
class Slab:
    """Slabs, sheets or blanks of one size at one price: what one costs, and how many there are (None: as many as wanted).

    Grain or vein runs along `length_in`. `margin_in` is the unusable rim on all four sides, the blade that parts it
    included [in]. Remnants on hand are slabs with `available`, at price 0 or at what they are worth unused.
    """

    length_in: float
    width_in: float
    price: Decimal
    name: str
    available: int | None = None
    margin_in: float = 0.0


@dataclass(frozen=True, slots=True)
class ThroughCut:
    """One cut through a whole rectangle, from `start_in` to `end_in` [in].

    It runs "along" the slab's length or "across" it; `at_in` is the near edge of the blade's path, measured across the slab
    for a cut along it and along the slab for a cut across it.
    """

    runs: Literal["along", "across"]
    at_in: float
    start_in: float
    end_in: float


@dataclass(frozen=True, slots=True)
class Remnant:
    """A rectangle that is left: its corner nearest to the slab's, along and across, and its size [in]."""

    at_in: float
    across_in: float
    length_in: float
    width_in: float


@dataclass(frozen=True, slots=True)
class CutSlab:
    """One slab of a plan: its parts where they lie, the cuts in order (the rim is cut off first), and what is left."""

    slab: Slab
    parts: tuple[PlacedPiece, ...]
    cuts: tuple[ThroughCut, ...]
    remnants: tuple[Remnant, ...]


@dataclass(frozen=True, slots=True)
class SlabPlan:
    """What to buy and how to cut it by through cuts.

    Parameters
    ----------
    slabs
        The slabs, largest first.
    cost
        Price of all slabs.
    bound
        No plan of through cuts costs less; equal to `cost` when `proven`, else the gap is `cost - bound`.
    proven
        Whether the plan is proven cheapest for through cuts.
    proof
        What proves it.
    fewest_proven
        Whether no plan as cheap buys fewer slabs (free ones don't count).
    kerf_in
        Width of the cut the plan was made for [in].
    """

    slabs: tuple[CutSlab, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    proof: SlabProof
    fewest_proven: bool
    kerf_in: float

    @property
    def statement(self) -> str:
        """What the plan claims, in words."""
        if self.proven:
            return "optimal for through cuts"
        return f"not proven: the cheapest plan of through cuts may cost as little as {self.bound}, this one costs {self.cost}"

    @property
    def tally(self) -> tuple[tuple[Slab, int], ...]:
        """How many slabs of each kind, in the order of the slabs."""
        counts: dict[Slab, int] = {}
        for cut in self.slabs:
            counts[cut.slab] = counts.get(cut.slab, 0) + 1
        return tuple(counts.items())
