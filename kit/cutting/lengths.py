"""How to cut pieces from stock lengths: what to buy, what each stick yields, and the proof that nothing is cheaper.

For lumber, pipe, tube and edge strip. Saws maim: guard on, push stick at hand, both halves of the cut supported,
eyes and ears protected, blade stopped before offcuts are cleared; the saw maker's instructions come first.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kit.cutting.bars import Bars, Load
from kit.cutting.exact import money, read_length
from kit.cutting.memory import Memory
from kit.cutting.offcut import lengthen_offcut
from kit.cutting.plans import CutPiece, CutPlan, Proof, Stick, Stock
from kit.cutting.prove import prove_plan
from kit.cutting.quick import plan_quick
from kit.cutting.reading import CutJob, read_job
from kit.cutting.sets import length_rules
from kit.errors import CutError
from kit.records import Piece

__all__ = ["CutPiece", "CutPlan", "Piece", "Stick", "Stock", "first_plan", "plan_cuts"]

NODES = 20_000
"""Search steps; the slowest kitchen job measured needs a few thousand."""
LIMIT_S = 2.0


@dataclass(frozen=True, slots=True)
class Answer:
    """Plan and bound in whole numbers, in the unit of `Bars.costs`."""

    loads: tuple[Load, ...]
    cost: int
    bound: int
    proof: Proof
    offcut_proven: bool
    values: tuple[tuple[int, ...], ...]
    timed_out: bool = False


MEMORY: Memory[Answer] = Memory(256)


def plan_cuts(
    pieces: Sequence[Piece],
    stock: Sequence[Stock],
    *,
    kerf_in: float,
    limit_s: float = LIMIT_S,
    least_offcut_in: float = 0.0,
    trim_in: float = 0.0,
    nodes: int = NODES,
) -> CutPlan:
    """The cheapest way to cut pieces from stock lengths, with its proof.

    Cheapest purchase first; among those the fewest bought sticks; among those the longest usable offcut of a bought
    stick. The plan says which of the three are proven: the first two nearly always are, and together; the third when a
    short search gets through. Sticks on hand (`available`, price 0) are used wherever that saves money, a bought stick
    or length of the bought offcut.

    Parameters
    ----------
    pieces
        Pieces wanted: length [in], count, name.
    stock
        Sticks to be had: length [in], price, name, how many there are.
    kerf_in
        Width of the cut [in].
    limit_s
        Time limit [s]; a guard only, since every search ends on a count of its steps.
    least_offcut_in
        Shortest left-over that is worth keeping [in].
    trim_in
        What squaring the first end takes off each stick, the cut itself apart [in].
    nodes
        Limit of search steps.

    Returns
    -------
    The plan; one without sticks when no pieces are wanted.

    Raises
    ------
    CutError
        A piece is longer than every stock; the stock on hand can't hold all pieces; a measure or price makes no sense.

    Notes
    -----
    Give each piece a value: sticks whose contents can't be worth as much as all pieces do not hold them. Values come
    from column generation (Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963); from memory) and every
    bound is worked out again in whole numbers.

    Examples
    --------
    >>> from decimal import Decimal
    >>> plan = plan_cuts([Piece(24.0, 4, "cleat")], [Stock(96.0, Decimal("4.00"), "8 ft")], kerf_in=0.125)
    >>> len(plan.sticks), plan.cost, plan.proven
    (2, Decimal('8.00'), True)
    """
    job = read_job(pieces, stock, kerf_in=kerf_in, trim_in=trim_in, least_offcut_in=least_offcut_in)
    answer = find_answer(job, nodes, limit_s)
    return write_plan(job, answer, kerf_in, trim_in, least_offcut_in)


def first_plan(pieces: Sequence[Piece], stock: Sequence[Stock], *, kerf_in: float, least_offcut_in: float = 0.0, trim_in: float = 0.0) -> CutPlan:
    """A good plan with a proven bound within milliseconds, for as long as a slider is dragged.

    Parameters, errors and plan are those of `plan_cuts`, whose answer comes back when it is remembered. When no plan is
    found at once, for want of sticks, the exact stage decides.
    """
    job = read_job(pieces, stock, kerf_in=kerf_in, trim_in=trim_in, least_offcut_in=least_offcut_in)
    answer = None if job.bars is None else MEMORY.get((job.bars, job.loose, job.least_left, NODES))
    quick = None if job.bars is None or job.loose is not None or answer is not None else plan_quick(job.bars)
    if answer is None and quick is not None and job.bars is not None:
        proof: Proof = "lengths" if quick.bound >= quick.cost else "open"
        values = tuple(rule.values for rule in length_rules(job.bars))
        answer = Answer(tuple(quick.loads), quick.cost, quick.bound, proof, offcut_proven=False, values=values)
    return write_plan(job, answer or find_answer(job, NODES, LIMIT_S), kerf_in, trim_in, least_offcut_in)


def find_answer(job: CutJob, nodes: int, limit_s: float) -> Answer:
    """The exact answer, remembered unless the time limit cut it short."""
    if job.bars is None:
        return Answer((), 0, 0, "lengths", offcut_proven=True, values=())
    key = (job.bars, job.loose, job.least_left, nodes)
    answer = MEMORY.get(key)
    if answer is None:
        answer = work_out(job, job.bars, nodes, limit_s)
        if not answer.timed_out:
            MEMORY.put(key, answer)
    return answer


def work_out(job: CutJob, bars: Bars, nodes: int, limit_s: float) -> Answer:
    """Quick stage, exact stage, and the longest offcut."""
    state = prove_plan(bars, plan_quick(bars), nodes=nodes, limit_s=limit_s)
    if not state.loads:
        raise CutError(short_stock(job, proven=state.closed and job.loose is None))
    loads, offcut_proven = lengthen_offcut(state, job.least_left)
    bound, proof = state.bound, state.proof
    if job.loose is not None:
        ideal = prove_plan(job.loose, plan_quick(job.loose), nodes=nodes, limit_s=limit_s)
        bound = min(ideal.bound, state.cost)
        proof, offcut_proven = (proof if bound == state.cost else "open"), False
    values = () if job.loose is not None else tuple(rule.values for rule in state.rules)
    return Answer(tuple(loads), state.cost, bound, proof, offcut_proven and bound == state.cost, values, state.timed_out)


def short_stock(job: CutJob, *, proven: bool) -> str:
    """The sentence for stock that does not hold all pieces."""
    number = sum(map(len, job.wanted))
    length = float(sum((length for group in job.wanted for _, length in group), Fraction(0)))
    held = "can't hold" if proven else "was not found to hold"
    return f"The stock that is available {held} all {number} pieces ({length:.10g} in in all, without cuts). Add sticks, or a stock without a limit."


def write_plan(job: CutJob, answer: Answer, kerf_in: float, trim_in: float, least_offcut_in: float) -> CutPlan:
    """The answer in inches and money, with names on the pieces."""
    queues = [list(reversed(group)) for group in job.wanted]
    order = sorted(answer.loads, key=lambda load: (-job.stocks[load[0]].length_in, load[0], tuple(-count for count in load[1])))
    sticks = []
    for stock, content in order:
        pieces = [queues[size].pop() for size, count in enumerate(content) for _ in range(count)]
        sticks.append(write_stick(job, job.stocks[stock], pieces, read_length(least_offcut_in)))
    scale = sum(map(len, job.wanted)) + 1
    cost, bound = money(answer.cost // scale, job.places), money(answer.bound // scale, job.places)
    fewest = answer.bound >= answer.cost
    proof = answer.proof if bound == cost else "open"
    return CutPlan(tuple(sticks), cost, bound, bound == cost, proof, fewest, answer.offcut_proven, answer.values, kerf_in, trim_in, least_offcut_in)


def write_stick(job: CutJob, stock: Stock, pieces: list[tuple[str, Fraction]], least: Fraction) -> Stick:
    """One stick with its pieces laid from the first end on."""
    at = job.trim + job.kerf if job.trim else Fraction(0)
    placed = []
    for name, length in pieces:
        placed.append(CutPiece(name, float(length), float(at)))
        at += length + job.kerf
    left = max(Fraction(0), read_length(stock.length_in) - at)
    return Stick(stock, tuple(placed), float(left), usable=left >= least and left > 0)
