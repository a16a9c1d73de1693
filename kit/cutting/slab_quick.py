"""The quick stage of a slab plan: parts laid one by one into free rectangles that through cuts leave, by several rules.

A free rectangle that takes a part is split at once by one through cut, so whatever comes out can be cut.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from kit.cutting.sets import Rule, cheapest_sets
from kit.cutting.sheets import Place, Sheets, SlabLoad

__all__ = ["QuickSlabs", "lay_quick"]

TRIED_SETS = 12
"""Sets of slabs that are tried."""
STEPS = 2000
"""Steps in which these sets are listed."""

Free = tuple[int, int, int, int, int]
"""A free rectangle: slab of the set, along, across, length, width."""
Rank = tuple[int, int]


@dataclass(frozen=True, slots=True)
class QuickSlabs:
    """A plan (None when none was found) and a bound on every plan, in the unit of `Sheets.costs`."""

    loads: list[SlabLoad] | None
    cost: int
    bound: int


def lay_quick(job: Sheets, rules: Sequence[Rule]) -> QuickSlabs:
    """A plan and its bound.

    Parameters
    ----------
    job, rules
        The slab job and its rules.

    Returns
    -------
    The cheapest plan found, and the cost of the cheapest set of slabs that meets the rules.
    """
    best = lay_one_kind(job)
    dear = None if best is None else job.cost_of(best)
    listed = cheapest_sets(job, rules, 0, None if dear is None else dear - 1, TRIED_SETS, STEPS)
    for _, counts in listed.sets[:TRIED_SETS]:
        loads = lay_on_set(job, counts)
        if loads is not None:
            return QuickSlabs(loads, job.cost_of(loads), min(listed.bound, job.cost_of(loads)))
    return QuickSlabs(best, dear or 0, listed.bound if dear is None else min(listed.bound, dear))


def lay_one_kind(job: Sheets) -> list[SlabLoad] | None:
    """Cheapest plan that opens slabs of one kind throughout, each then changed for the cheapest that takes its parts."""
    found = []
    for slab in range(len(job.rooms)):
        for order, choose, split in recipes(job):
            loads = lay_slab_by_slab(job, [slab] * job.count, order, choose, split)
            changed = None if loads is None else change_slabs(job, loads)
            if changed is not None:
                found.append(changed)
    return min(found, key=job.cost_of, default=None)


def change_slabs(job: Sheets, loads: Sequence[SlabLoad]) -> list[SlabLoad] | None:
    """Give each layout the cheapest slab that takes it as it lies or laid anew; None when the supply runs out."""
    supply = list(job.supply)
    changed: list[SlabLoad] = []
    for load in loads:
        taken = cheapest_slab(job, supply, load[1])
        if taken is None:
            return None
        supply[taken[0]] -= 1
        changed.append(taken)
    return changed


def cheapest_slab(job: Sheets, supply: Sequence[int], places: tuple[Place, ...]) -> SlabLoad | None:
    """The cheapest slab in supply that takes some parts, as they lie or laid anew."""
    length, width = max(place[1] + place[3] for place in places), max(place[2] + place[4] for place in places)
    area = sum(place[3] * place[4] for place in places)
    for slab in sorted(range(len(job.rooms)), key=lambda slab: (job.costs[slab], job.rooms[slab])):
        if supply[slab] and job.rooms[slab][0] * job.rooms[slab][1] >= area:
            if job.fits(length, width, slab):
                return slab, places
            kinds = [place[0] for place in places]
            for order, choose, split in recipes(job, kinds):
                loads = lay_slab_by_slab(job, [slab], order, choose, split)
                if loads is not None:
                    return loads[0]
    return None


def lay_on_set(job: Sheets, counts: Sequence[int]) -> list[SlabLoad] | None:
    """All parts onto a given set of slabs; None when no rule manages it."""
    slabs = [slab for slab, count in enumerate(counts) for _ in range(count)]
    slabs.sort(key=lambda slab: job.rooms[slab][0] * job.rooms[slab][1])
    for order, choose, split in recipes(job):
        for lay, queue in ((lay_together, slabs), (lay_slab_by_slab, slabs), (lay_slab_by_slab, slabs[::-1])):
            loads = lay(job, queue, order, choose, split)
            if loads is not None:
                return loads
    return None


# --- rules ---------------------------------------------------------------------------------------------

Choose = Callable[[int, int, int, int], Rank]
Split = Callable[[int, int, int, int], bool]


def recipes(job: Sheets, kinds: Sequence[int] | None = None) -> Iterator[tuple[list[int], Choose, Split]]:
    """Orders of the parts, how a free rectangle is chosen, how it is split; orders that are alike come once."""
    given = list(kinds) if kinds is not None else [kind for kind, count in enumerate(job.demand) for _ in range(count)]
    seen = set()
    for key in ORDERS:
        order = sorted(given, key=lambda kind: (key(*job.ways[kind][0]), kind), reverse=True)
        if tuple(order) not in seen:
            seen.add(tuple(order))
            for choose in CHOICES:
                for split in SPLITS:
                    yield order, choose, split


ORDERS: tuple[Callable[[int, int], Rank], ...] = (
    lambda length, width: (length * width, length),
    lambda length, width: (width, length),
    lambda length, width: (length, width),
    lambda length, width: (length + width, length),
    lambda length, width: (min(length, width), length),
)
CHOICES: tuple[Choose, ...] = (
    lambda free_l, free_w, length, width: (min(free_l - length, free_w - width), max(free_l - length, free_w - width)),
    lambda free_l, free_w, length, width: (free_l * free_w - length * width, min(free_l - length, free_w - width)),
)
SPLITS: tuple[Split, ...] = (
    lambda rest_l, rest_w, length, width: rest_l <= rest_w,  # noqa: ARG005
    lambda rest_l, rest_w, length, width: rest_l > rest_w,  # noqa: ARG005
    lambda rest_l, rest_w, length, width: rest_l * (width + rest_w) > rest_w * (length + rest_l),
)


# --- laying --------------------------------------------------------------------------------------------


def lay_together(job: Sheets, slabs: Sequence[int], order: Sequence[int], choose: Choose, split: Split) -> list[SlabLoad] | None:
    """Parts in order, each into the best free rectangle of all slabs; None when one finds no place."""
    free = [(place, 0, 0, *job.rooms[slab]) for place, slab in enumerate(slabs)]
    laid: list[list[Place]] = [[] for _ in slabs]
    for kind in order:
        if not lay_part(job, kind, free, laid, choose, split):
            return None
    return [(slab, tuple(places)) for slab, places in zip(slabs, laid, strict=True) if places]


def lay_slab_by_slab(job: Sheets, slabs: Sequence[int], order: Sequence[int], choose: Choose, split: Split) -> list[SlabLoad] | None:
    """Fill one slab after the other with whatever part still fits; None when parts are left over."""
    loads: list[SlabLoad] = []
    rest = list(order)
    for slab in slabs:
        if not rest:
            break
        free, laid = [(0, 0, 0, *job.rooms[slab])], list[list[Place]]([[]])
        rest = [kind for kind in rest if not lay_part(job, kind, free, laid, choose, split)]
        if laid[0]:
            loads.append((slab, tuple(laid[0])))
    return None if rest else loads


def lay_part(job: Sheets, kind: int, free: list[Free], laid: list[list[Place]], choose: Choose, split: Split) -> bool:
    """Lay one part into the best free rectangle and split that by through cuts; whether it found a place."""
    best: tuple[Rank, int, int, int] | None = None
    for place, (_, _, _, free_l, free_w) in enumerate(free):
        for length, width in job.ways[kind]:
            if length <= free_l and width <= free_w:
                rank = choose(free_l, free_w, length, width)
                if best is None or rank < best[0]:
                    best = (rank, place, length, width)
    if best is None:
        return False
    _, place, length, width = best
    slab, along, across, free_l, free_w = free.pop(place)
    laid[slab].append((kind, along, across, length, width))
    rest_l, rest_w = free_l - length, free_w - width
    full = split(rest_l, rest_w, length, width)  # the first cut runs across the whole rectangle
    if rest_l:
        free.append((slab, along + length, across, rest_l, free_w if full else width))
    if rest_w:
        free.append((slab, along, across + width, length if full else free_l, rest_w))
    return True
