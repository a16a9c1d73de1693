"""How to cut pieces from stock lengths: what to buy, what each stick yields, and the proof that nothing is cheaper.

For lumber, pipe, tube and edge strip. Saws maim: guard on, push stick at hand, both halves of the cut supported,
eyes and ears protected, blade stopped before offcuts are cleared; the saw maker's instructions come first.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice, takewhile
from math import lcm
from time import monotonic

from kit.cutting.bars import Bars, Load, length_rules, pack_open, pack_set
from kit.cutting.measures import Prices, check_measures, check_pieces, check_stock, read_length, worth_keeping
from kit.cutting.plans import CutPlan, Proof, Stick, Stock
from kit.cutting.search import Search, find_contents
from kit.cutting.sets import Budget, Memory, Result, add_sticks, cheapest_sets, worth_of
from kit.cutting.solver import FractionalFit, solve_cover
from kit.errors import CutError, Fault
from kit.records import Piece, PlacedPiece

__all__ = ["first_plan", "plan_cuts"]

NODES = 20_000
"""Search steps; the slowest kitchen job measured needs a few thousand."""
LIMIT_S = 2.0
FIRST_SETS = 12
"""Sets of sticks that a first plan tries."""
MOST_CONTENTS = 40_000
"""Contents beyond which nothing is searched."""
FEW_PIECES = 10
"""Pieces up to which the search comes before the linear program."""
DEEPEST = 150
"""Sticks up to which a set is searched (one call a stick)."""
OFFCUT_TRIES, MOST_OFFERS, OFFCUT_NODES = 30, 4000, 300
"""For a longer offcut: contents tried, contents listed for a set of sticks, search nodes for each."""

Answer = Result[tuple[int, ...]]
MEMORY: Memory[Answer] = Memory(256)


def plan_cuts(
    pieces: Sequence[Piece],
    stock: Sequence[Stock],
    *,
    kerf_in: float,
    limit_s: float = LIMIT_S,
    least_offcut_in: float = 0.0,
    nodes: int = NODES,
) -> CutPlan:
    """The cheapest way to cut pieces from stock lengths, with its proof.

    Cheapest purchase first; among those the fewest bought sticks; among those the longest usable offcut of a bought
    stick, as far as a short search finds it. Sticks on hand (`available`, price 0) are used wherever that saves money, a bought stick
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
    job = read_job(pieces, stock, kerf_in, least_offcut_in)
    return job.write(find_answer(job, nodes, limit_s))


def first_plan(pieces: Sequence[Piece], stock: Sequence[Stock], *, kerf_in: float, least_offcut_in: float = 0.0) -> CutPlan:
    """A good plan with a proven bound within milliseconds, for as long as a slider is dragged.

    Parameters, errors and plan are those of `plan_cuts`, whose answer comes back when it is remembered. When no plan is
    found at once, for want of sticks, the exact stage decides.
    """
    job = read_job(pieces, stock, kerf_in, least_offcut_in)
    answer = MEMORY.get((job.bars, job.least_left, NODES))
    if answer is None and job.wanted:
        answer = Planner(job.bars, Budget(0, monotonic() + LIMIT_S)).find_first()
    return job.write(answer if answer and answer.loads is not None else find_answer(job, NODES, LIMIT_S))


# --- from measures to whole numbers and back -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CutJob:
    """A cutting job in whole numbers, and the way back.

    `wanted` has the names and lengths of the pieces of each size of `bars`, `stocks` the stock meant by each of its kinds,
    `least_left` the least left-over that is usable, blade included [grid units].
    """

    bars: Bars
    wanted: tuple[tuple[tuple[str, Fraction], ...], ...]
    stocks: tuple[Stock, ...]
    prices: Prices
    least_left: int
    kerf: Fraction
    least: Fraction

    def write(self, answer: Answer) -> CutPlan:
        """The answer in inches and money, with names on the pieces."""
        queues = [list(reversed(group)) for group in self.wanted]
        sticks = []
        for stock, content in sorted(answer.loads or (), key=lambda load: (-self.stocks[load[0]].length_in, load[0], tuple(-count for count in load[1]))):
            pieces = [queues[size].pop() for size, count in enumerate(content) for _ in range(count)]
            sticks.append(self._stick(self.stocks[stock], pieces))
        cost, bound = self.prices.money(answer.cost), self.prices.money(answer.bound)
        proof: Proof = answer.proof if bound == cost else "open"
        values = tuple(rule.values for rule in answer.rules)
        return CutPlan(tuple(sticks), cost, bound, bound == cost, proof, values)

    def _stick(self, stock: Stock, pieces: list[tuple[str, Fraction]]) -> Stick:
        """One stick with its pieces laid from the first end on."""
        at, placed = Fraction(0), []
        for name, length in pieces:
            placed.append(PlacedPiece(name, float(at), float(length)))
            at += length + self.kerf
        left = max(Fraction(0), read_length(stock.length_in) - at)
        return Stick(stock, tuple(placed), float(left), usable=left >= self.least and left > 0)


def read_job(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float, least_offcut_in: float) -> CutJob:
    """Check a job and put it in whole numbers, on the grid that holds all its measures; the parameters are those of `plan_cuts`."""
    faults = [*check_measures(kerf_in=kerf_in, least_offcut_in=least_offcut_in), *check_pieces(pieces), *check_stock(stock)]
    if faults:
        raise CutError(faults)
    kerf, least = read_length(kerf_in), read_length(least_offcut_in)
    wanted = [(read_length(piece.length_in), piece) for piece in pieces if piece.count]
    on_sale = [entry for entry in stock if entry.available != 0]
    lengths = [read_length(entry.length_in) for entry in on_sale]
    faults = [too_long(piece, max(lengths, default=Fraction(0)), on_sale) for length, piece in wanted if length > max(lengths, default=0)]
    if faults:
        raise CutError(faults)
    kept = worth_keeping([(length,) for length in lengths], on_sale)
    prices = Prices([on_sale[place].price for place in kept], sum(piece.count for _, piece in wanted))
    groups: dict[Fraction, list[tuple[str, Fraction]]] = {}
    for length, piece in wanted:
        groups.setdefault(length, []).extend([(piece.name, length)] * piece.count)
    grid = lcm(kerf.denominator, least.denominator, *(length.denominator for length in (*groups, *lengths)))
    order = sorted(groups, reverse=True)
    count = prices.scale - 1
    bars = Bars(
        tuple(int((length + kerf) * grid) for length in order),
        tuple(len(groups[length]) for length in order),
        tuple(int((lengths[place] + kerf) * grid) for place in kept),
        prices.costs,
        tuple(count if (available := on_sale[place].available) is None else min(available, count) for place in kept),
    )
    names = tuple(tuple(groups[length]) for length in order)
    return CutJob(bars, names, tuple(on_sale[place] for place in kept), prices, int((least + kerf) * grid), kerf, least)


def too_long(piece: Piece, longest: Fraction, on_sale: Sequence[Stock]) -> Fault:
    """The fault of a piece that no stock can hold."""
    if longest <= 0:
        return Fault(f"piece {piece.name}", "there is no stock to cut it from.")
    name = max(on_sale, key=lambda entry: entry.length_in).name
    return Fault(f"piece {piece.name}", f"{piece.length_in:.10g} in is longer than every stock; the longest, {name}, holds {float(longest):.10g} in.")


# --- the exact stage -------------------------------------------------------------------------------------


def find_answer(job: CutJob, nodes: int, limit_s: float) -> Answer:
    """The exact answer, remembered unless the time limit cut it short."""
    if not job.wanted:
        return Result((), 0, 0, "sizes", ())
    key = (job.bars, job.least_left, nodes)
    answer = MEMORY.get(key)
    if answer is None:
        answer = Planner(job.bars, Budget(nodes, monotonic() + limit_s)).find(job.least_left)
        if not answer.timed_out:
            MEMORY.put(key, answer)
    if answer.loads is None:
        total = float(sum((length for group in job.wanted for _, length in group), Fraction(0)))
        held = "can't hold" if answer.closed else "was not found to hold"
        count = sum(job.bars.demand)
        raise CutError(f"The stock that is available {held} all {count} pieces ({total:.10g} in in all, without cuts). Add sticks, or a stock without a limit.")
    return answer


class Planner:
    """Sets of sticks one by one, cheapest first, until one holds the pieces.

    A set is packed; else searched, when the pieces are few; else refuted by a rule, rounded from fractions of sticks, searched, or
    given to the solver.
    """

    def __init__(self, job: Bars, budget: Budget) -> None:
        self.job, self.budget = job, budget
        self.rules = length_rules(job)
        self.sets = cheapest_sets(job, self.rules)
        self.proof: Proof = "sizes"
        self.fit: FractionalFit | None = None
        self.loads: Sequence[Load] | None = pack_open(job)
        self.cost = worth_of(job.costs, job.supply) + 1 if self.loads is None else self._cost(self.loads)

    def _cost(self, loads: Sequence[Load]) -> int:
        return sum(self.job.costs[stock] for stock, _ in loads)

    def _result(self, bound: int) -> Answer:
        return Result(None if self.loads is None else tuple(self.loads), self.cost, min(bound, self.cost), self.proof, tuple(self.rules), self.budget.timed_out)

    def find_first(self) -> Answer:
        """The first of the cheapest sets into which the pieces are packed at once."""
        bound = None
        for least, sticks in islice(self.sets, FIRST_SETS):
            bound = bound or least
            if least >= self.cost or sticks is None:
                break
            loads = pack_set(self.job, self.job.demand, sticks)
            if loads is not None:
                self.loads, self.cost = loads, self._cost(loads)
                break
        return self._result(self.cost if bound is None else bound)

    def find(self, least_left: int) -> Answer:
        """The cheapest plan; of those the one with the longest offcut of a bought stick, as far as a short search tells."""
        bound, sure, alike = 0, True, list[tuple[int, ...]]()
        for least, sticks in self.sets:
            bound = min(least, self.cost) if sure else bound
            if least >= self.cost or sticks is None or self.budget.late():
                alike = [sticks] if sticks is not None and least == self.cost else []
                sure = sure and least >= self.cost
                break
            found = self.fill(self.job.demand, sticks, self.budget.nodes, last_resort=True)
            if not isinstance(found, bool):
                self.loads, self.cost, alike = found, self._cost(found), [sticks]
                break
            sure = sure and found
        result = self._result(self.cost if sure else bound)
        if self.loads is None or not result.closed:
            return result
        more = takewhile(lambda one: one[0] == self.cost and one[1] is not None, self.sets)
        loads = self.lengthen_offcut([*alike, *(sticks for _, sticks in more if sticks is not None)], least_left)
        return replace(result, loads=tuple(loads), timed_out=self.budget.timed_out)

    def fill(self, demand: tuple[int, ...], sticks: tuple[int, ...], nodes: int, *, last_resort: bool) -> list[Load] | bool:
        """A plan of some pieces from a set of sticks; True: there is none; False: neither came out."""
        loads = pack_set(self.job, demand, sticks)
        if loads is not None:
            return loads
        if sum(demand) <= FEW_PIECES:
            found = self.search(demand, sticks, nodes)
            if found is not False:
                return found
        self.fit = self.fit or FractionalFit(self.job)
        rule = self.fit.settle(demand, sticks)
        if rule is not None and rule.spare(sticks, demand) < 0:
            self.rules.append(rule)
            self.proof = "values" if self.proof == "sizes" else self.proof
            return True
        loads = self.fit.round_to_plan(demand, sticks)
        if loads is not None:
            return loads
        found = self.search(demand, sticks, nodes)
        if found is False and last_resort:
            contents = find_contents(self.job, self.rules, demand, sticks, MOST_CONTENTS) or []
            loads, ended = solve_cover(self.job, contents, demand, sticks, worth_of(self.job.costs, sticks), self.budget.deadline - monotonic())
            self.proof = "solver" if ended and loads is None else self.proof
            found = ended if loads is None else loads
        return found

    def search(self, demand: tuple[int, ...], sticks: tuple[int, ...], nodes: int) -> list[Load] | bool:
        """The same by the search alone."""
        contents = find_contents(self.job, self.rules, demand, sticks, MOST_CONTENTS) if sum(sticks) <= DEEPEST else None
        if contents is None:
            return False
        search = Search(self.rules, contents, nodes, self.budget)
        loads = search.find(demand, sticks)
        self.budget.nodes -= nodes - search.nodes
        if loads is None and search.ended:
            self.proof = "search" if self.proof != "solver" else self.proof
        return search.ended if loads is None else loads

    def lengthen_offcut(self, sets: Sequence[tuple[int, ...]], least_left: int) -> Sequence[Load]:
        """A plan of the same cost with a longer usable offcut of a bought stick, from one of the sets of that cost.

        One bought stick is cut first, with as little as possible, and the others must still hold the other pieces. Contents
        are tried from the longest offcut down.
        """
        job, loads = self.job, self.loads or ()
        best = max((job.rooms[stock] - job.weight(content) for stock, content in loads if job.costs[stock]), default=None)
        if best is None:
            return loads
        offers: list[tuple[int, Load, tuple[int, ...]]] = []
        for sticks in sets:
            contents = find_contents(job, self.rules, job.demand, sticks, MOST_OFFERS, max(best + 1, least_left))
            bought = [load for load in contents or () if job.costs[load[0]] and any(load[1])]
            offers += [(job.weight(content) - job.rooms[stock], (stock, content), add_sticks(sticks, stock, -1)) for stock, content in bought]
        tries, proof = 0, self.proof
        for _, load, others in sorted(offers):
            rest = tuple([have - taken for have, taken in zip(job.demand, load[1], strict=True)])
            if all(rule.spare(others, rest) >= 0 for rule in self.rules):  # rules found on the way bar some
                tries += 1
                if tries > OFFCUT_TRIES or self.budget.late():
                    break
                found = self.fill(rest, others, OFFCUT_NODES, last_resort=False)
                if not isinstance(found, bool):
                    return [load, *found]
        self.proof = proof
        return loads
