"""Quick layouts of parts on slabs by through cuts."""

from collections.abc import Callable, Sequence

from kit.cutting.jobs import CutJob, Place

__all__ = ["SlabLoad", "lay_quick"]

SlabLoad = tuple[int, tuple[Place, ...]]
"""One slab: index of its kind, and where its parts lie."""
ORDERS: tuple[Callable[[int, int], tuple[int, int]], ...] = (
    lambda length, width: (length * width, length),
    lambda length, width: (width, length),
    lambda length, width: (length, width),
    lambda length, width: (min(length, width), length),
)
"""What makes a part large; large parts are laid first."""
Split = Callable[[int, int, int, int], bool]
SPLITS: tuple[Split, ...] = (
    lambda rest_l, rest_w, length, width: rest_l <= rest_w,  # noqa: ARG005
    lambda rest_l, rest_w, length, width: rest_l > rest_w,  # noqa: ARG005
    lambda rest_l, rest_w, length, width: rest_l * (width + rest_w) > rest_w * (length + rest_l),
)
"""Whether the first cut beside a part runs across the whole rectangle, by what is left beside it and its size."""


def lay_quick(job: CutJob) -> list[SlabLoad] | None:
    """Cheapest plan of those that fill slabs of one kind one by one, each then changed for the cheapest that takes its parts; None: short supply."""
    plans = []
    parts = [kind for kind, count in enumerate(job.demand) for _ in range(count)]
    for large in ORDERS:
        order = sorted(parts, key=lambda kind: (large(*job.ways[kind][0]), kind), reverse=True)
        for split in SPLITS:
            for room in job.rooms:
                loads = change_slabs(job, fill_slabs(job, room, order, split))
                plans += [] if loads is None else [loads]
    return min(plans, key=lambda loads: sum(job.costs[slab] for slab, _ in loads), default=None)


def fill_slabs(job: CutJob, room: tuple[int, int], order: Sequence[int], split: Split) -> list[list[Place]]:
    """Fill one slab after the other with whatever part still fits; nothing when a part is too large."""
    slabs: list[list[Place]] = []
    rest = list(order)
    while rest:
        free, laid, left = [(0, 0, *room)], list[Place](), list[int]()
        for kind in rest:
            place = lay_part(job, kind, free, split)
            if place is None:
                left.append(kind)
            else:
                laid.append(place)
        if not laid:
            return []
        slabs.append(laid)
        rest = left
    return slabs


def lay_part(job: CutJob, kind: int, free: list[tuple[int, int, int, int]], split: Split) -> Place | None:
    """Lay one part into the tightest free rectangle and split that by through cuts; None when it finds no place."""
    tries = []
    for place, (_, _, free_l, free_w) in enumerate(free):
        for length, width in job.ways[kind]:
            if length <= free_l and width <= free_w:
                rest = free_l - length, free_w - width
                tries.append((min(rest), max(rest), place, length, width))
    if not tries:
        return None
    _, _, place, length, width = min(tries)
    along, across, free_l, free_w = free.pop(place)
    rest_l, rest_w = free_l - length, free_w - width
    whole = split(rest_l, rest_w, length, width)
    if rest_l:
        free.append((along + length, across, rest_l, free_w if whole else width))
    if rest_w:
        free.append((along, across + width, length if whole else free_l, rest_w))
    return kind, along, across, length, width


def change_slabs(job: CutJob, layouts: Sequence[Sequence[Place]]) -> list[SlabLoad] | None:
    """Give each layout the cheapest slab that takes it; None without layouts or when the supply runs out."""
    supply, loads = list(job.supply), list[SlabLoad]()
    for places in layouts:
        box = max(place[1] + place[3] for place in places), max(place[2] + place[4] for place in places)
        offers = [(job.costs[slab], job.rooms[slab], slab) for slab in range(len(supply)) if supply[slab] and job.fits(*box, slab)]
        if not offers:
            return None
        slab = min(offers)[2]
        supply[slab] -= 1
        loads.append((slab, tuple(places)))
    return loads or None
