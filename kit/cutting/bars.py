"""Sticks and pieces by their lengths alone, the rules that these make, and quick packing without a solver."""

from bisect import bisect_left, insort
from collections.abc import Iterator, Sequence
from functools import cached_property
from math import gcd

from kit.cutting.jobs import CutJob, Place
from kit.cutting.sets import Load, Rule, worth_of

__all__ = ["Bars", "length_rules", "pack_open", "pack_set", "split_count", "suffix_sums"]

MOST_SPACE = 300_000
"""Longest stick in units of the tables."""


class Bars:
    """A cutting job of sticks in whole numbers, without names: `sizes` of the pieces, largest first, and `rooms` of the sticks, blade included [grid units].

    Whether pieces fit a stick is asked of `sizes` and `rooms`, which are exact however fine the grid. What a stick can be
    worth is looked up in tables, which need a coarser grid: `spans` and `spaces`, all rounded down. Whatever fits the
    fine grid fits the coarse one too, so that a rule can be weaker for it but never wrong.
    """

    def __init__(self, job: CutJob) -> None:
        self.sizes = tuple(ways[0][0] for ways in job.ways)
        self.rooms = tuple(room[0] for room in job.rooms)
        self.demand, self.costs, self.supply = job.demand, job.costs, job.supply

    @cached_property
    def unit(self) -> int:
        """Fine grid units in one of the tables': what all sizes share, unless that is too fine."""
        return max(gcd(*self.sizes), -(-max(self.rooms) // MOST_SPACE))

    @cached_property
    def spans(self) -> tuple[int, ...]:
        """Piece sizes in units of the tables."""
        return tuple(size // self.unit for size in self.sizes)

    @cached_property
    def spaces(self) -> tuple[int, ...]:
        """Stick sizes in units of the tables."""
        return tuple(room // self.unit for room in self.rooms)

    @cached_property
    def fills(self) -> tuple[int, ...]:
        """The most that one stick of each stock can hold, since not every sum of pieces exists [units of the tables]."""
        sums = suffix_sums(self.spans, self.demand, max(self.spaces))[0]
        return tuple((sums & ((1 << space + 1) - 1)).bit_length() - 1 for space in self.spaces)

    def lay(self, content: Sequence[int], blade: int) -> tuple[Place, ...]:
        """The pieces of a stick one after the other, largest first."""
        places, at = list[Place](), 0
        for kind, size in ((kind, self.sizes[kind]) for kind, count in enumerate(content) for _ in range(count)):
            places.append((kind, at, 0, size, blade))
            at += size
        return tuple(places)

    def weight(self, content: Sequence[int]) -> int:
        """Total size of the pieces counted [grid units]."""
        return worth_of(self.sizes, content)


def split_count(count: int) -> Iterator[int]:
    """Parts 1, 2, 4, ... and a rest, whose partial sums are every number up to `count`."""
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2


def suffix_sums(sizes: Sequence[int], counts: Sequence[int], room: int) -> list[int]:
    """Item i: all sums of pieces of size i and on that are at most `room`, as the set bits of a whole number; the last is of no piece."""
    sums, mask = [1], (1 << room + 1) - 1
    for size, count in zip(reversed(sizes), reversed(counts), strict=True):
        reached = sums[-1]
        for part in split_count(min(count, room // size) if size else 0):
            reached |= reached << size * part & mask
        sums.append(reached)
    return sums[::-1]


# --- rules -----------------------------------------------------------------------------------------------


def length_rules(job: Bars) -> list[Rule]:
    """Rules that follow from the lengths alone.

    Length is a value: a stick is worth the most that it can hold. So is 1 for each piece longer than half the longest
    stick, since these exclude each other, and the length of only those pieces that a shorter stock can't hold.
    """
    value_rows: list[tuple[Sequence[int], Sequence[int]]] = [(job.spans, job.fills)]
    for place, size in enumerate(job.sizes):
        if 2 * size > max(job.rooms):
            value_rows.append(([int(other <= place) for other in range(len(job.sizes))], [int(room >= size) for room in job.rooms]))
    for room in sorted(set(job.rooms))[:-1]:
        longer = [span if size > room else 0 for size, span in zip(job.sizes, job.spans, strict=True)]
        value_rows.append((longer, [space if other > room else 0 for other, space in zip(job.rooms, job.spaces, strict=True)]))
    rules = [Rule(tuple(values), tuple(worths), worth_of(values, job.demand)) for values, worths in value_rows]
    return [rule for place, rule in enumerate(rules) if rule.total or not place]  # length stays first, whatever the grid


# --- packing ---------------------------------------------------------------------------------------------


def pack_open(job: Bars) -> list[Load] | None:
    """Cheapest of the plans with sticks of one stock throughout, or with all that there are; None: the supply is short, or hard to pack."""
    kinds = range(len(job.rooms))
    supplies = [tuple(supply if stock == other or not job.costs[other] else 0 for other, supply in enumerate(job.supply)) for stock in kinds]
    plans = [loads for sticks in [*supplies, job.supply] if (loads := pack_set(job, job.demand, sticks)) is not None]
    return min(plans, key=lambda loads: sum(job.costs[stock] for stock, _ in loads), default=None)


def pack_set(job: Bars, demand: Sequence[int], sticks: Sequence[int]) -> list[Load] | None:
    """Some pieces into a given set of sticks, by three rules in turn; None when none of them succeeds."""
    stocks = [stock for stock in sorted(range(len(sticks)), key=lambda stock: job.rooms[stock]) for _ in range(sticks[stock])]
    contents = pack_best_fit(job, [job.rooms[stock] for stock in stocks], demand)
    if contents is not None:
        return [(stock, content) for stock, content in zip(stocks, contents, strict=True) if any(content)]
    return pack_fullest(job, demand, stocks) or pack_fullest(job, demand, stocks[::-1])


def pack_best_fit(job: Bars, rooms: Sequence[int], demand: Sequence[int]) -> list[tuple[int, ...]] | None:
    """Pieces largest first, each into the fullest stick that still takes it: the content of each stick, or None."""
    contents = [[0] * len(job.sizes) for _ in rooms]
    left = sorted((room, stick) for stick, room in enumerate(rooms))
    for index, size in enumerate(job.sizes):
        for _ in range(demand[index]):
            at = bisect_left(left, (size, -1))
            if at == len(left):
                return None
            rest, stick = left.pop(at)
            contents[stick][index] += 1
            insort(left, (rest - size, stick))
    return [tuple(content) for content in contents]


def pack_fullest(job: Bars, demand: Sequence[int], stocks: Sequence[int]) -> list[Load] | None:
    """Stick after stick, each with the fullest content that the remaining pieces give, large pieces first."""
    remaining = list(demand)
    spare = sum(job.rooms[stock] for stock in stocks) - job.weight(demand)
    loads: list[Load] = []
    for stock in stocks:
        content = fullest(job, remaining, job.rooms[stock])
        spare -= job.rooms[stock] - job.weight(content)
        if spare < 0:
            return None
        remaining = [have - taken for have, taken in zip(remaining, content, strict=True)]
        if any(content):
            loads.append((stock, content))
    return None if any(remaining) else loads


def fullest(job: Bars, remaining: Sequence[int], room: int) -> tuple[int, ...]:
    """The content of greatest total size that fits `room`, among equals the one with the most large pieces (on a coarse grid, about so)."""
    total, content = room // job.unit, list[int]()
    sums = suffix_sums(job.spans, [min(count, room // size) for size, count in zip(job.sizes, remaining, strict=True)], total)
    total = sums[0].bit_length() - 1
    for size, span, count, after in zip(job.sizes, job.spans, remaining, sums[1:], strict=True):
        most = min(count, room // size, total // span if span else 0)
        taken = next((taken for taken in range(most, -1, -1) if after >> total - taken * span & 1), 0)
        content.append(taken)
        total, room = total - taken * span, room - taken * size
    return tuple(content)
