"""Slabs and their parts as whole numbers: the form in which a slab plan is worked out and proven.

The blade is added once to each part and once to each slab, along and across; through cuts then need no other
allowance, and every inequality is exact.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

__all__ = ["Place", "Sheets", "SlabLoad"]

Place = tuple[int, int, int, int, int]
"""One part on a slab: its kind, then along, across, length and width as it lies, blade included [grid units]."""
SlabLoad = tuple[int, tuple[Place, ...]]
"""One slab: index of its kind, and where its parts lie."""


@dataclass(frozen=True)
class Sheets:
    """A slab job in whole numbers.

    Parameters
    ----------
    ways
        For each kind of part: the one or two ways in which it may lie, as (length, width), blade included [grid units].
    demand
        How many of each kind, 1 or more.
    rooms
        Usable (length, width) of each kind of slab, blade included [grid units].
    costs
        What one slab of each kind costs: its price times `sum(demand) + 1`, plus 1 when it has a price.
    supply
        How many slabs there are of each kind; `sum(demand)` where there is no end of them.
    """

    ways: tuple[tuple[tuple[int, int], ...], ...]
    demand: tuple[int, ...]
    rooms: tuple[tuple[int, int], ...]
    costs: tuple[int, ...]
    supply: tuple[int, ...]

    @cached_property
    def count(self) -> int:
        """Number of parts."""
        return sum(self.demand)

    @cached_property
    def areas(self) -> tuple[int, ...]:
        """Area of one part of each kind, blade included."""
        return tuple(ways[0][0] * ways[0][1] for ways in self.ways)

    @cached_property
    def unlimited(self) -> tuple[bool, ...]:
        """Which kinds of slab have no end."""
        return tuple(supply >= self.count for supply in self.supply)

    def cost_of(self, loads: Sequence[SlabLoad]) -> int:
        """Cost of a plan, in the unit of `costs`."""
        return sum(self.costs[slab] for slab, _ in loads)

    def fits(self, length: int, width: int, slab: int) -> bool:
        """Whether a box fits a slab."""
        return length <= self.rooms[slab][0] and width <= self.rooms[slab][1]
