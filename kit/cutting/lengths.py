"""How to cut pieces from stock lengths: what to buy, what each stick yields, and the proof that nothing is cheaper.

For lumber, pipe, tube and edge strip. Saws maim: guard on, push stick at hand, both halves of the cut supported,
eyes and ears protected, blade stopped before offcuts are cleared; the saw maker's instructions come first.
"""

from collections.abc import Sequence
from itertools import takewhile

from kit.cutting.bars import Bars, length_rules, pack_open, pack_set
from kit.cutting.jobs import Answer, read_job
from kit.cutting.plans import CutPlan, Proof, Stock
from kit.cutting.search import FractionalFit, Search, find_contents
from kit.cutting.sets import Load, add_sticks, cheapest_sets, worth_of
from kit.records import Piece

__all__ = ["plan_cuts"]

NODES, PROGRAM = 20_000, 50
"""Search steps, and how many of them a linear program counts for; the slowest kitchen job measured needs a few thousand."""
MOST_CONTENTS = 40_000
"""Contents beyond which nothing is searched."""
FEW_PIECES = 10
"""Pieces up to which the search comes before the linear program."""
DEEPEST = 150
"""Sticks up to which a set is searched (one call a stick)."""
OFFCUT_TRIES, MOST_OFFERS, OFFCUT_NODES = 30, 4000, 300
"""For a longer offcut: contents tried, contents listed for a set of sticks, search nodes for each."""


def plan_cuts(pieces: Sequence[Piece], stock: Sequence[Stock], *, kerf_in: float, least_offcut_in: float = 0.0) -> CutPlan:
    """The cheapest way to cut pieces from stock lengths, with its proof.

    Cheapest purchase first; among those the fewest bought sticks; among those the longest usable offcut of a bought
    stick, as far as a short search finds it. Sticks on hand (`available`, price 0) are used wherever that saves money, a bought stick
    or length of the bought offcut. Every search ends on a count of its steps, so that the same job gives the same plan.

    Parameters
    ----------
    pieces
        Pieces wanted: length [in], count, name.
    stock
        Sticks to be had: length [in], price, name, how many there are.
    kerf_in
        Width of the cut [in].
    least_offcut_in
        Shortest left-over that is worth keeping [in].

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
    >>> len(plan.cut), plan.cost, plan.proven
    (2, Decimal('8.00'), True)
    """
    job = read_job(pieces, stock, kerf_in, least_offcut_in, wide=False)
    if not job.names:
        return job.write(Answer((), 0, 0, "sizes", ()))
    planner = Planner(Bars(job))
    bound = planner.find(job.least + job.blade)
    loads = None if planner.loads is None else tuple((stock, planner.job.lay(content, job.blade)) for stock, content in planner.loads)
    return job.write(Answer(loads, planner.cost, bound, planner.proof, tuple(planner.rules)))


class Planner:
    """Sets of sticks one by one, cheapest first, until one holds the pieces.

    A set is packed; else searched, when the pieces are few; else refuted by a rule, rounded from fractions of sticks, or searched.
    """

    def __init__(self, job: Bars) -> None:
        self.job = job
        self.rules = length_rules(job)
        self.sets = cheapest_sets(job.costs, job.supply, self.rules)
        self.proof: Proof = "sizes"
        self.fit: FractionalFit | None = None
        self.nodes = NODES
        self.loads: Sequence[Load] | None = None

    @property
    def cost(self) -> int:
        """Cost of the plan; without one, more than any plan costs."""
        job = self.job
        return worth_of(job.costs, job.supply) + 1 if self.loads is None else sum(job.costs[stock] for stock, _ in self.loads)

    def find(self, least_left: int) -> int:
        """Find the cheapest plan, of those the one with the longest offcut of a bought stick as far as a short search tells; a bound on every plan."""
        bound, sure, sticks = 0, True, None
        for least, sticks in self.sets:
            bound = least if sure else bound
            if sticks is None or self.nodes < 0:
                self.loads, sure = pack_open(self.job), False
                break
            filled = self.fill(self.job.demand, sticks, self.nodes)
            if not isinstance(filled, bool):
                self.loads = filled
                break
            sure = sure and filled
        cost = self.cost
        if self.loads is None:
            return cost if sure else bound
        if sticks is not None and bound >= cost:
            alike = takewhile(lambda one: one[0] == cost, self.sets)
            proof = self.proof
            self.loads = self.lengthen_offcut([sticks, *(more for _, more in alike if more is not None)], least_left)
            self.proof = proof
        return min(bound, cost)

    def fill(self, demand: tuple[int, ...], sticks: tuple[int, ...], nodes: int) -> list[Load] | bool:
        """A plan of some pieces from a set of sticks; True: there is none; False: neither came out."""
        loads = pack_set(self.job, demand, sticks)
        if loads is not None:
            return loads
        if sum(demand) <= FEW_PIECES:
            answer = self.search(demand, sticks, nodes)
            if answer is not False:
                return answer
        self.fit = self.fit or FractionalFit(self.job)
        self.nodes -= PROGRAM
        rule = self.fit.settle(demand, sticks)
        if rule is not None and rule.spare(sticks, demand) < 0:
            self.rules.append(rule)
            self.proof = "values" if self.proof == "sizes" else self.proof
            return True
        loads = self.fit.round_to_plan(demand, sticks)
        return self.search(demand, sticks, nodes) if loads is None else loads

    def search(self, demand: tuple[int, ...], sticks: tuple[int, ...], nodes: int) -> list[Load] | bool:
        """The same as `fill`, by the search alone."""
        contents = find_contents(self.job, self.rules, demand, sticks, MOST_CONTENTS) if sum(sticks) <= DEEPEST else None
        if contents is None:
            return False
        search = Search(self.rules, contents, nodes)
        loads = search.find(demand, sticks)
        self.nodes -= nodes - search.nodes
        if loads is None and search.ended:
            self.proof = "search"
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
        tries = 0
        for _, load, others in sorted(offers):
            rest = tuple([have - taken for have, taken in zip(job.demand, load[1], strict=True)])
            if all(rule.spare(others, rest) >= 0 for rule in self.rules):  # rules found on the way bar some
                tries += 1
                if tries > OFFCUT_TRIES:
                    break
                filled = self.fill(rest, others, OFFCUT_NODES)
                if not isinstance(filled, bool):
                    return [load, *filled]
        return loads
