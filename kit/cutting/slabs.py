"""How to cut counter parts from slabs, sheets and blanks by through cuts: what to buy, and the proof that nothing is cheaper.

Stone is heavy and its dust harms the lungs for good: enough hands to carry and turn a slab, wet cutting or extraction,
a respirator that fits. Cutting stone is the fabricator's trade; plans here are for buying and talking it over.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from time import monotonic

from kit.cutting.groups import Groups, cover_parts, full_groups
from kit.cutting.measures import Prices, check_measures, check_pieces, check_stock, read_length, worth_keeping
from kit.cutting.plans import CutSlab, Proof, Slab, SlabPlan
from kit.cutting.sets import Budget, Memory, Result, Rule, cheapest_sets, worth_of
from kit.cutting.sheets import Place, Sheets, SlabLoad, lay_quick
from kit.cutting.solver import solve_cover
from kit.errors import CutError, Fault
from kit.records import Piece, PlacedPiece

__all__ = ["first_slab_plan", "plan_slabs"]

STEPS = 10_000_000
"""Pairs of boxes looked at; twelve different parts need up to about four million."""
FEW_GROUPS = 300
"""Groups up to which they are put together by dynamic programming; beyond, the solver is asked."""
LIMIT_S = 5.0
FIRST_STEPS = 20_000
"""The same for a first plan: enough for the few parts of a kitchen."""

Answer = Result[tuple[Place, ...]]
MEMORY: Memory[Answer] = Memory(128)


def plan_slabs(
    parts: Sequence[Piece],
    slabs: Sequence[Slab],
    *,
    kerf_in: float,
    limit_s: float = LIMIT_S,
    steps: int = STEPS,
) -> SlabPlan:
    """The cheapest slabs for rectangular parts, with a layout of through cuts and its proof.

    Cheapest purchase first, among those the fewest bought slabs. Splash strips and edge strips are parts like others.
    A part with a sink opening needs its full rectangle; what drops out may be handed over as a slab with `available`.

    Parameters
    ----------
    parts
        Parts wanted: length and width [in], count, name; grain "length" must lie along the slab's length, "free" may be turned.
    slabs
        Slabs to be had: length and width [in], price, name, how many there are.
    kerf_in
        Width of the cut [in].
    limit_s
        Time limit [s]; a guard only, since every search ends on a count of its steps.
    steps
        Limit of search steps.

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
    groups; all groups that fit a slab are found, and the parts are covered by the cheapest of them. A layout that no
    sequence of through cuts can make may need a cheaper slab; saws can't cut it.

    Examples
    --------
    >>> from decimal import Decimal
    >>> plan = plan_slabs([Piece(80.0, 1, "run", 25.5), Piece(80.0, 1, "splash", 4.0)], [Slab(96.0, 30.0, Decimal("300.00"), "blank")], kerf_in=0.125)
    >>> len(plan.slabs), plan.cost, plan.proven
    (1, Decimal('300.00'), True)
    """
    job = read_slab_job(parts, slabs, kerf_in)
    return job.write(find_answer(job, steps, limit_s))


def first_slab_plan(parts: Sequence[Piece], slabs: Sequence[Slab], *, kerf_in: float) -> SlabPlan:
    """A good plan with a proven bound within milliseconds, for as long as a slider is dragged.

    Parameters, errors and plan are those of `plan_slabs`, whose answer comes back when it is remembered. When no plan is
    found at once, for want of slabs, the exact stage decides.
    """
    job = read_slab_job(parts, slabs, kerf_in)
    answer = MEMORY.get((job.sheets, STEPS))
    if answer is None and job.wanted:
        answer = find_plan(job.sheets, Budget(FIRST_STEPS, monotonic() + LIMIT_S), last_resort=False)
    return job.write(answer if answer and answer.loads is not None else find_answer(job, STEPS, LIMIT_S))


# --- the exact stage -------------------------------------------------------------------------------------


def find_answer(job: "SlabJob", steps: int, limit_s: float) -> Answer:
    """The exact answer, remembered unless the time limit cut it short."""
    if not job.wanted:
        return Result((), 0, 0, "sizes", ())
    answer = MEMORY.get((job.sheets, steps))
    if answer is None:
        answer = find_plan(job.sheets, Budget(steps, monotonic() + limit_s), last_resort=True)
        if not answer.timed_out:
            MEMORY.put((job.sheets, steps), answer)
    if answer.loads is None:
        held = "can't hold" if answer.closed else "were not found to hold"
        raise CutError(f"The slabs that are available {held} all {sum(job.sheets.demand)} parts. Add slabs, or a slab without a limit.")
    return answer


def find_plan(job: Sheets, budget: Budget, *, last_resort: bool) -> Answer:
    """A quick plan against the cheapest set of slabs with enough area, then the cheapest groups of parts: by search, else by the solver."""
    loads: Sequence[SlabLoad] | None = lay_quick(job)
    cost = worth_of(job.costs, job.supply) + 1 if loads is None else sum(job.costs[slab] for slab, _ in loads)
    kinds = range(len(job.ways))
    areas = tuple(job.area([int(other == kind) for other in kinds]) for kind in kinds)
    rule = Rule(areas, tuple(length * width for length, width in job.rooms), job.area(job.demand))
    bound = min(cost, next(cheapest_sets(job, [rule]), (cost, None))[0])
    proof: Proof = "sizes"
    if bound < cost:
        groups = Groups(job, budget)
        few = groups.complete and len(groups.counts) <= FEW_GROUPS
        chosen, ended = (cover_parts(groups), True) if few else (None, False)
        proof = "search"
        if not few and last_resort:
            chosen, ended = solve_cover(job, full_groups(groups), job.demand, job.supply, cost - 1, budget.deadline - monotonic())
            proof, ended = "solver", ended and groups.complete
        if chosen is not None and (least := sum(job.costs[slab] for slab, _ in chosen)) < cost:
            loads, cost = [groups.lay(counts, slab) for slab, counts in chosen], least
        proof = proof if ended else "sizes"
        bound = cost if ended else bound
    return Result(None if loads is None else tuple(loads), cost, bound, proof, (rule,), budget.timed_out)


# --- from measures to whole numbers and back -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SlabJob:
    """A slab job in whole numbers, and the way back.

    `wanted` has the names of the parts of each kind of `sheets`, `slabs` the slab meant by each of its kinds; `grid` is grid units in an inch.
    """

    sheets: Sheets
    wanted: tuple[tuple[str, ...], ...]
    slabs: tuple[Slab, ...]
    prices: Prices
    grid: int
    kerf_in: float

    def write(self, answer: Answer) -> SlabPlan:
        """The answer in inches and money, with names on the parts."""
        queues = [list(reversed(names)) for names in self.wanted]
        kerf, cut = read_length(self.kerf_in), []
        for slab, places in sorted(answer.loads or (), key=lambda load: (-self.slabs[load[0]].length_in * self.slabs[load[0]].width_in, load)):
            parts = []
            for kind, *lies in sorted(places, key=lambda place: (place[2], place[1])):
                along, across, length, width = (Fraction(units, self.grid) for units in lies)
                parts.append(PlacedPiece(queues[kind].pop(), float(along), float(length - kerf), float(across), float(width - kerf)))
            cut.append(CutSlab(self.slabs[slab], tuple(parts)))
        cost, bound = self.prices.money(answer.cost), self.prices.money(answer.bound)
        return SlabPlan(tuple(cut), cost, bound, bound == cost, answer.proof if bound == cost else "open")


def read_slab_job(parts: Sequence[Piece], slabs: Sequence[Slab], kerf_in: float) -> SlabJob:
    """Check a job and put it in whole numbers, on the grid that holds all its measures; the parameters are those of `plan_slabs`."""
    faults = [*check_measures(kerf_in=kerf_in), *check_pieces(parts, wide=True), *check_stock(slabs)]
    if faults:
        raise CutError(faults)
    on_sale = [slab for slab in slabs if slab.available != 0]
    wanted = [part for part in parts if part.count]
    faults = [too_large(part, on_sale) for part in wanted if not any(fits(part, slab) for slab in on_sale)]
    if faults:
        raise CutError(faults)
    kerf, rooms = read_length(kerf_in), [size_of(slab) for slab in on_sale]
    grid = lcm(kerf.denominator, *(size.denominator for sizes in (*rooms, *map(size_of, wanted)) for size in sizes))

    def whole(size: Fraction) -> int:
        return int((size + kerf) * grid)

    groups: dict[tuple[tuple[int, int], ...], list[str]] = {}
    for part in wanted:
        length, width = map(whole, size_of(part))
        ways = {(length, width), (width, length)} if part.grain == "free" else {(length, width)}
        groups.setdefault(tuple(sorted(ways, reverse=True)), []).extend([part.name] * part.count)
    kinds = sorted(groups, key=lambda ways: (-ways[0][0] * ways[0][1], ways))
    kept = worth_keeping(rooms, on_sale)
    count = sum(map(len, groups.values()))
    prices = Prices([on_sale[place].price for place in kept], count)
    sheets = Sheets(
        tuple(kinds),
        tuple(len(groups[kind]) for kind in kinds),
        tuple((whole(rooms[place][0]), whole(rooms[place][1])) for place in kept),
        prices.costs,
        tuple(count if (available := on_sale[place].available) is None else min(available, count) for place in kept),
    )
    return SlabJob(sheets, tuple(tuple(groups[kind]) for kind in kinds), tuple(on_sale[place] for place in kept), prices, grid, kerf_in)


def size_of(entry: Piece | Slab) -> tuple[Fraction, Fraction]:
    """Length and width [in]."""
    return read_length(entry.length_in), read_length(entry.width_in)


def fits(part: Piece, slab: Slab) -> bool:
    """Whether a part fits a slab by itself."""
    (length, width), (along, across) = size_of(slab), size_of(part)
    return (along <= length and across <= width) or (part.grain == "free" and across <= length and along <= width)


def too_large(part: Piece, on_sale: Sequence[Slab]) -> Fault:
    """The fault of a part that fits no slab."""
    if not on_sale:
        return Fault(f"piece {part.name}", "there is no slab to cut it from.")
    sizes = ", ".join(f"{length:.10g} x {width:.10g}" for length, width in sorted({(slab.length_in, slab.width_in) for slab in on_sale}))
    grain = "" if part.grain == "free" else ", grain along the length"
    return Fault(f"piece {part.name}", f"{part.length_in:.10g} x {part.width_in:.10g} in{grain} fits no slab; there are {sizes} in.")
