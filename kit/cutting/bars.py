"""Stock lengths as whole numbers: the form in which a cut plan is worked out and proven.

n pieces from one stick need n - 1 cuts between them, so that with a blade k
`sum(l) + (n - 1) k <= L` is the same as `sum(l + k) <= L + k`: the blade is added once to each piece and
once to each stick, and every inequality that follows is exact, also where the rest is thinner than the blade.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import gcd

__all__ = ["Bars", "Load"]

Load = tuple[int, tuple[int, ...]]
"""One stick: index of its stock, and how many pieces of each size it yields."""


@dataclass(frozen=True)
class Bars:
    """A cutting job in whole numbers.

    Parameters
    ----------
    sizes
        Piece sizes, blade included, no two alike, largest first [grid units].
    demand
        How many of each size, 1 or more.
    rooms
        Stick sizes, blade included [grid units].
    costs
        What one stick of each stock costs: its price times `sum(demand) + 1`, plus 1 when it has a price.
        A least-cost plan is then the cheapest, and among the cheapest one with the fewest bought sticks.
    supply
        How many sticks there are of each stock; `sum(demand)` where there is no end of them.
    tails, unit
        A stick of stock k is `rooms[k] * unit + tails[k]` fine grid units long, blade included.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    supply: tuple[int, ...]
    tails: tuple[int, ...] = ()
    unit: int = 1

    def __hash__(self) -> int:
        """Hash of the numbers (identical demand is remembered under it)."""
        return hash((self.sizes, self.demand, self.rooms, self.costs, self.supply, self.tails, self.unit))

    @cached_property
    def count(self) -> int:
        """Number of pieces."""
        return sum(self.demand)

    @cached_property
    def need(self) -> int:
        """Total size of all pieces [grid units]."""
        return sum(size * count for size, count in zip(self.sizes, self.demand, strict=True))

    @cached_property
    def fills(self) -> tuple[int, ...]:
        """The most that one stick of each stock can hold, since not every sum of pieces exists [grid units]."""
        sums = self.subset_sums(self.demand, max(self.rooms))
        return tuple((sums & ((1 << room + 1) - 1)).bit_length() - 1 for room in self.rooms)

    @cached_property
    def unlimited(self) -> tuple[bool, ...]:
        """Which stocks have no end."""
        return tuple(supply >= self.count for supply in self.supply)

    def subset_sums(self, counts: tuple[int, ...] | list[int], room: int) -> int:
        """All sums of the given pieces that are at most `room`, as the set bits of a whole number."""
        sums, mask = 1, (1 << room + 1) - 1
        for size, count in zip(self.sizes, counts, strict=True):
            for part in split_count(min(count, room // size)):
                sums |= sums << size * part & mask
        return sums

    def cost_of(self, loads: list[Load] | tuple[Load, ...]) -> int:
        """Cost of a plan, in the unit of `costs`."""
        return sum(self.costs[stock] for stock, _ in loads)

    def weight(self, counts: tuple[int, ...]) -> int:
        """Total size of the pieces counted [grid units]."""
        return sum(size * count for size, count in zip(self.sizes, counts, strict=True))

    def left(self, stock: int, content: tuple[int, ...]) -> int:
        """What a stick leaves, before the blade that parts it [fine grid units]."""
        tail = self.tails[stock] if self.tails else 0
        return (self.rooms[stock] - self.weight(content)) * self.unit + tail

    def most_leaving(self, stock: int, least: int) -> int:
        """Total size up to which a stick leaves at least `least` fine grid units; negative when none does."""
        tail = self.tails[stock] if self.tails else 0
        return self.rooms[stock] - -(-(least - tail) // self.unit)

    def without(self, loads: list[Load]) -> "Bars":
        """What remains of pieces and limited sticks after some sticks are cut; sizes may then have no demand."""
        demand, supply = list(self.demand), list(self.supply)
        for stock, content in loads:
            supply[stock] -= not self.unlimited[stock]
            demand = [have - count for have, count in zip(demand, content, strict=True)]
        return Bars(self.sizes, tuple(demand), self.rooms, self.costs, tuple(supply))

    def reduced(self) -> "Bars":
        """The same job on the coarsest grid that the pieces lie on; sticks are rounded down to it, which loses nothing."""
        unit = gcd(*self.sizes)
        sizes = tuple(size // unit for size in self.sizes)
        return Bars(sizes, self.demand, tuple(room // unit for room in self.rooms), self.costs, self.supply, tuple(room % unit for room in self.rooms), unit)


def split_count(count: int) -> Iterator[int]:
    """Parts 1, 2, 4, ... and a rest, whose partial sums are every number up to `count`."""
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2
