"""How to cut counter parts from slabs, sheets and blanks by through cuts: what to buy, and the proof that nothing is cheaper.

Stone is heavy and its dust harms the lungs for good: enough hands to carry and turn a slab, wet cutting or extraction,
a respirator that fits. Cutting stone is the fabricator's trade; plans here are for buying and talking it over.
"""

from collections.abc import Callable, Sequence

from kit.cutting.groups import Groups
from kit.cutting.jobs import Answer, CutJob, Place, read_job
from kit.cutting.plans import CutPlan, Proof, Stock
from kit.cutting.search import Search
from kit.cutting.sets import Load, Rule, cheapest_sets, worth_of
from kit.records import Piece

__all__ = ["plan_slabs"]

STEPS = 5_000_000
"""Pairs of boxes looked at; twelve different parts need up to about four million."""
NODES = 2_000
"""Search steps; kitchen jobs need a hundred, the hardest published one 1,500."""


def plan_slabs(parts: Sequence[Piece], slabs: Sequence[Stock], *, kerf_in: float) -> CutPlan:
    """The cheapest slabs for rectangular parts, with a layout of through cuts and its proof.

    Cheapest purchase first, among those the fewest bought slabs. Splash strips and edge strips are parts like others.
    A part with a sink opening needs its full rectangle; what drops out may be handed over as a slab with `available`.
    Every search ends on a count of its steps, so that the same job gives the same plan.

    Parameters
    ----------
    parts
        Parts wanted: length and width [in], count, name; grain "length" must lie along the slab's length, "free" may be turned.
    slabs
        Slabs to be had: length and width [in], price, name, how many there are.
    kerf_in
        Width of the cut [in].

    Returns
    -------
    The plan; one without slabs when no parts are wanted.

    Raises
    ------
    CutError
        A part fits no slab; the slabs available can't hold all parts; a measure or price makes no sense.

    Notes
    -----
    A first through cut parts each rectangle into two, so the boxes of a group of parts come from those of two smaller
    groups; all groups that fit a slab are found, and sets of slabs are searched, cheapest first, for one that such groups
    fill. A layout that no sequence of through cuts can make may need a cheaper slab; saws can't cut it.

    Examples
    --------
    >>> from decimal import Decimal
    >>> parts = [Piece(80.0, 1, "run", 25.5), Piece(80.0, 1, "splash", 4.0)]
    >>> plan = plan_slabs(parts, [Stock(96.0, Decimal("300.00"), "blank", width_in=30.0)], kerf_in=0.125)
    >>> len(plan.cut), plan.cost, plan.proven
    (1, Decimal('300.00'), True)
    """
    job = read_job(parts, slabs, kerf_in, 0.0, wide=True)
    return job.write(find_slabs(job) if job.names else Answer((), 0, 0, "sizes", ()))


def find_slabs(job: CutJob) -> Answer:
    """A quick plan against the cheapest set of slabs with enough area; then sets of slabs, cheapest first, until groups of the parts fill one."""
    loads: Sequence[SlabLoad] | None = lay_quick(job)
    cost = worth_of(job.costs, job.supply) + 1 if loads is None else sum(job.costs[slab] for slab, _ in loads)
    rules = [area_rule(job)]
    bound = min(cost, next(cheapest_sets(job.costs, job.supply, rules), (cost, None))[0])
    proof: Proof = "sizes"
    if bound < cost:
        groups = Groups(job, STEPS)
        contents = groups.full()
        rules += group_rules(job, contents) if groups.complete else []
        chosen, bound = search_sets(job, rules, contents, cost, complete=groups.complete)
        proof = "search"
        if chosen is not None:
            loads, cost = [(slab, groups.lay(counts, slab)) for slab, counts in chosen], sum(job.costs[slab] for slab, _ in chosen)
    return Answer(None if loads is None else tuple(loads), cost, bound, proof, tuple(rules[:1]))


def search_sets(job: CutJob, rules: Sequence[Rule], contents: Sequence[Load], cost: int, *, complete: bool) -> tuple[list[Load] | None, int]:
    """The cheapest slabs below a cost that hold all parts, with the counts that each yields, None when there are none; and a bound on every plan."""
    bound, sure, nodes = 0, True, NODES
    for least, sticks in cheapest_sets(job.costs, job.supply, rules):
        bound = min(least, cost) if sure else bound
        if least >= cost or sticks is None or nodes < 0:
            return None, bound
        search = Search(rules, contents, nodes)
        chosen = search.find(job.demand, sticks)
        if chosen is not None:
            return chosen, bound
        nodes = search.nodes
        sure = sure and complete and search.ended
    return None, cost if sure else bound


def area_rule(job: CutJob) -> Rule:
    """Area is a value: a slab is worth its own."""
    areas = tuple(ways[0][0] * ways[0][1] for ways in job.ways)
    return Rule(areas, tuple(length * width for length, width in job.rooms), job.area(job.demand))


def group_rules(job: CutJob, contents: Sequence[Load]) -> list[Rule]:
    """Rules by what groups of parts the slabs can yield: the area of the fullest group, and the most parts that are as large as some kind or larger."""
    kinds = range(len(job.ways))
    values = [area_rule(job).values, *(tuple(int(other <= kind) for other in kinds) for kind in kinds)]
    best = [[max((worth_of(row, counts) for slab, counts in contents if slab == room), default=0) for room in range(len(job.rooms))] for row in values]
    return [Rule(row, tuple(worths), worth_of(row, job.demand)) for row, worths in zip(values, best, strict=True)]


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
        free, places, left = [(0, 0, *room)], list[Place](), list[int]()
        for kind in rest:
            place = lay_part(job, kind, free, split)
            if place is None:
                left.append(kind)
            else:
                places.append(place)
        if not places:
            return []
        slabs.append(places)
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
