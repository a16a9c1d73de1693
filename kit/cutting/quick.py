"""The quick stage of a cut plan: a good plan and a proven bound in a few milliseconds, without a solver.

The pieces are packed largest first into sticks of each size, and into the cheapest sets of sticks that are
long enough. The cheapest such set is at the same time a bound: no plan costs less.
"""

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import dataclass

from kit.cutting.bars import Bars, Load, split_count
from kit.cutting.sets import cheapest_sets, length_rules

__all__ = ["Quick", "pack_set", "plan_quick"]

TRIED_SETS = 24
"""Sets of sticks that are tried; more take longer and find little."""
STEPS = 1500
"""Steps in which these sets are listed."""


@dataclass(frozen=True, slots=True)
class Quick:
    """A plan and a bound on every plan, both in the unit of `Bars.costs`."""

    loads: list[Load]
    cost: int
    bound: int


def plan_quick(job: Bars) -> Quick | None:
    """A plan and its bound; None when no plan was found (short supply)."""
    best = best_opened(job)
    dear = None if best is None else job.cost_of(best)
    listed = cheapest_sets(job, length_rules(job), 0, None if dear is None else dear - 1, TRIED_SETS, STEPS)
    for _, counts in listed.sets[: max(4, min(TRIED_SETS, 100_000 // max(job.rooms)))]:
        loads = pack_set(job, counts)
        if loads is not None:
            return Quick(loads, job.cost_of(loads), min(listed.bound, job.cost_of(loads)))
    return None if best is None or dear is None else Quick(best, dear, min(listed.bound, dear))


# --- packing ---------------------------------------------------------------------------------------------


def best_opened(job: Bars) -> list[Load] | None:
    """Cheapest of the plans that open sticks of one stock throughout, then change each for the cheapest that holds its pieces."""
    best, best_cost = None, 0
    for opened in sorted(range(len(job.rooms)), key=lambda stock: -job.rooms[stock]):
        contents = pack_open(job, job.rooms[opened])
        loads = None if contents is None else dress(job, contents)
        if loads is not None and (best is None or job.cost_of(loads) < best_cost):
            best, best_cost = loads, job.cost_of(loads)
    return best


def pack_open(job: Bars, room: int) -> list[list[int]] | None:
    """Pieces largest first into the fullest stick of one size that still takes them; None when a piece is larger."""
    if job.sizes[0] > room:
        return None
    contents: list[list[int]] = []
    left: list[tuple[int, int]] = []
    for index, size in enumerate(job.sizes):
        for _ in range(job.demand[index]):
            at = bisect_left(left, (size, -1))
            if at < len(left):
                rest, stick = left.pop(at)
            else:
                rest, stick = room, len(contents)
                contents.append([0] * len(job.sizes))
            contents[stick][index] += 1
            insort(left, (rest - size, stick))
    return contents


def dress(job: Bars, contents: list[list[int]]) -> list[Load] | None:
    """Give each content the cheapest stick that holds it, the longest contents first; None when the supply runs out."""
    loads: list[Load] = []
    supply = list(job.supply)
    order = sorted(range(len(job.rooms)), key=lambda stock: (job.costs[stock], job.rooms[stock]))
    for counts in sorted(map(tuple, contents), key=job.weight, reverse=True):
        weight = job.weight(counts)
        stock = next((stock for stock in order if supply[stock] and job.rooms[stock] >= weight), None)
        if stock is None:
            return None
        supply[stock] -= 1
        loads.append((stock, counts))
    return loads


def pack_set(job: Bars, counts: Sequence[int]) -> list[Load] | None:
    """All pieces into a given set of sticks, by three rules in turn; None when none of them succeeds."""
    sticks = [stock for stock in range(len(counts)) for _ in range(counts[stock])]
    sticks.sort(key=lambda stock: job.rooms[stock])
    return pack_best_fit(job, sticks) or pack_fullest(job, sticks) or pack_fullest(job, sticks[::-1])


def pack_best_fit(job: Bars, sticks: list[int]) -> list[Load] | None:
    """Pieces largest first, each into the fullest stick that still takes it."""
    contents = [[0] * len(job.sizes) for _ in sticks]
    left = sorted((job.rooms[stock], index) for index, stock in enumerate(sticks))
    for index, size in enumerate(job.sizes):
        for _ in range(job.demand[index]):
            at = bisect_left(left, (size, -1))
            if at == len(left):
                return None
            rest, stick = left.pop(at)
            contents[stick][index] += 1
            insort(left, (rest - size, stick))
    return [(stock, tuple(content)) for stock, content in zip(sticks, contents, strict=True) if any(content)]


def pack_fullest(job: Bars, sticks: list[int]) -> list[Load] | None:
    """Stick after stick, each with the fullest content that the remaining pieces give, large pieces first."""
    remaining = list(job.demand)
    spare = sum(job.rooms[stock] for stock in sticks) - job.need
    loads: list[Load] = []
    for stock in sticks:
        content = fullest(job, remaining, job.rooms[stock])
        spare -= job.rooms[stock] - job.weight(content)
        if spare < 0:
            return None
        remaining = [have - taken for have, taken in zip(remaining, content, strict=True)]
        if any(content):
            loads.append((stock, content))
    return None if any(remaining) else loads


def fullest(job: Bars, remaining: list[int], room: int) -> tuple[int, ...]:
    """The content of greatest total size that fits `room`; among equals the one with the most large pieces."""
    steps: list[tuple[int, int, int]] = []
    sums, mask = 1, (1 << room + 1) - 1
    for index in range(len(job.sizes) - 1, -1, -1):
        size = job.sizes[index]
        for part in split_count(min(remaining[index], room // size)):
            steps.append((index, part, sums))
            sums |= sums << size * part & mask
    total = sums.bit_length() - 1
    content = [0] * len(job.sizes)
    for index, part, before in reversed(steps):
        rest = total - job.sizes[index] * part
        if rest >= 0 and before >> rest & 1:
            content[index] += part
            total = rest
    return tuple(content)
