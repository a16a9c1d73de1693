"""Rules that a set of slabs must meet to hold all parts, however they are laid: area, rows, and what fits only some slabs."""

from collections.abc import Callable, Iterator, Sequence

from kit.cutting.bars import split_count
from kit.cutting.sets import Rule
from kit.cutting.sheets import Sheets

__all__ = ["rounded_rules", "slab_rules"]


def slab_rules(job: Sheets) -> list[Rule]:
    """Rules for every job of slabs.

    Parameters
    ----------
    job
        The slab job.

    Returns
    -------
    Area of all parts; area of the parts that fit only some slabs; and rows: parts at least so wide lie in a bounded number
    of rows on each slab, so their lengths need total length of rows (and the same the other way round).
    """
    fills = [(fill_of(job, 0, slab), fill_of(job, 1, slab)) for slab in range(len(job.rooms))]
    areas = [length * width for length, width in fills]
    homes = [frozenset(slab for slab in range(len(job.rooms)) if any(job.fits(*way, slab) for way in ways)) for ways in job.ways]
    rules = [make_rule(job, job.areas, areas)]
    for home in sorted(set(homes), key=sorted):
        if len(home) < len(job.rooms):
            values = [area if own <= home else 0 for area, own in zip(job.areas, homes, strict=True)]
            rules.append(make_rule(job, values, [area if slab in home else 0 for slab, area in enumerate(areas)]))
    for axis in (0, 1):
        across = 1 - axis
        for least in sorted({min(way[across] for way in ways) for ways in job.ways}):
            values = [min(way[axis] for way in ways) if min(way[across] for way in ways) >= least else 0 for ways in job.ways]
            rules.append(make_rule(job, values, [fill[axis] * (room[across] // least) for fill, room in zip(fills, job.rooms, strict=True)]))
    return rules


def make_rule(job: Sheets, values: Sequence[int], worths: Sequence[int]) -> Rule:
    """A rule from part values and what a slab's parts are worth at most."""
    return Rule(tuple(values), tuple(worths), sum(value * count for value, count in zip(values, job.demand, strict=True)))


def fill_of(job: Sheets, axis: int, slab: int) -> int:
    """The greatest sum of part sizes that fits a slab in one direction: no layout needs more."""
    room = job.rooms[slab][axis]
    if room > FINE:
        return room
    sums, mask = 1, (1 << room + 1) - 1
    sizes: dict[int, int] = {}
    for ways, count in zip(job.ways, job.demand, strict=True):
        for size in {way[axis] for way in ways}:
            sizes[size] = sizes.get(size, 0) + count
    for size, count in sizes.items():
        for part in split_count(min(count, room // size)):
            sums |= sums << size * part & mask
    return sums.bit_length() - 1


def rounded_rules(job: Sheets) -> list[Rule]:
    """Rules from rounded sizes for a job with one kind of slab, the strongest last.

    Sizes are rounded up by functions under which whatever fitted still fits (dual feasible functions; Fekete and
    Schepers, Mathematical Methods of Operations Research 60 (2004) 311-329; from memory). The product over both
    directions is a part's value, and that of the whole slab is its worth.
    """
    if len(job.rooms) != 1:
        return []
    length, width = job.rooms[0]
    along = [[scale(size) for size in sizes_of(job, 0)] for scale in roundings(length, sizes_of(job, 0))]
    over = [[scale(size) for size in sizes_of(job, 1)] for scale in roundings(width, sizes_of(job, 1))]
    best = Rule((), (1,), 0)
    for first in along:
        for second in over:
            rule = make_rule(job, [one * other for one, other in zip(first, second, strict=True)], [WHOLE * WHOLE])
            if rule.total > best.total:
                best = rule
    return [best]


FINE = 1_000_000
"""Rooms of more grid units than this are taken as they are."""
WHOLE = 5040
"""Rounded size of a whole slab: divisible by 1 to 10, so that equal shares are whole numbers."""


def sizes_of(job: Sheets, axis: int) -> list[int]:
    """The least size of each kind of part in one direction."""
    return [min(way[axis] for way in ways) for ways in job.ways]


def roundings(room: int, sizes: Sequence[int]) -> Iterator[Callable[[int], int]]:
    """Rounding functions: in proportion; small sizes to nothing and large ones to a whole; equal shares."""
    yield lambda size: size * WHOLE // room
    for least in sorted({size for size in sizes if 2 * size <= room} | {room - size for size in sizes if 2 * size > room and size < room}):
        yield lambda size, least=least: WHOLE if size > room - least else size * WHOLE // room if size >= least else 0  # type: ignore[misc]
        shares = room // least
        yield lambda size, least=least, shares=shares: shared(size, room, least, shares)  # type: ignore[misc]


def shared(size: int, room: int, least: int, shares: int) -> int:
    """Size in shares of the room: one share from `least` up to half, a whole less what would fit beside it above half."""
    if 2 * size > room:
        return WHOLE - (room - size) // least * (WHOLE // shares)
    return WHOLE // shares if size >= least else 0
