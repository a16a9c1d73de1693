"""Piece values by column generation (Gilmore and Gomory 1961), and plans rounded from its fractions.

A linear program over stick contents gives each piece a value; the content of greatest value is found by dynamic
programming and joins the program, until no content is worth more than its stick.
"""

from collections.abc import Iterable, Sequence

from kit.cutting.bars import Bars, Load
from kit.cutting.certificate import best_content, make_rule, value_tables
from kit.cutting.quick import plan_quick
from kit.cutting.sets import Rule

__all__ = ["Program", "round_plan"]

ROUNDS = 400
"""Rounds of new contents at most; remodelling jobs need three to thirty."""
WHOLE = 2.0**60
"""What all pieces together are worth at most in whole numbers: all that 64 bits hold with room to spare."""
INFINITE = 1e30


class Program:
    """The linear program over the contents made so far.

    It finds the least cost of the job's pieces, or with `fit` the least length of pieces that find no place in the
    job's sticks, whatever these cost.
    """

    def __init__(self, job: Bars, start: Iterable[Load], *, fit: bool = False) -> None:
        import highspy

        self.job, self.fit = job, fit
        self.unit = float(job.count + 1)
        self.known: dict[Load, None] = {}
        self.grown = False
        self.solver = highspy.Highs()  # type: ignore[no-untyped-call]
        self.solver.setOptionValue("output_flag", False)  # noqa: FBT003
        self.solver.setOptionValue("presolve", "off")
        for demand in job.demand:
            self.solver.addRow(float(demand), INFINITE, 0, [], [])
        for supply in job.supply:
            self.solver.addRow(-INFINITE, float(supply), 0, [], [])
        for index, size in enumerate(job.sizes):
            self.solver.addCol(float(size), 0.0, INFINITE if fit else 0.0, 1, [index], [1.0])
        self.add([*start, *single_sizes(job)])

    def add(self, loads: Sequence[Load]) -> bool:
        """Add contents as columns; whether any was new."""
        fresh = [load for load in dict.fromkeys(loads) if load not in self.known]
        for stock, content in fresh:
            rows = [index for index, count in enumerate(content) if count]
            counts = [float(content[index]) for index in rows]
            cost = 0.0 if self.fit else self.job.costs[stock] / self.unit
            self.solver.addCol(cost, 0.0, INFINITE, len(rows) + 1, [*rows, len(content) + stock], [*counts, 1.0])
            self.known[stock, content] = None
        return bool(fresh)

    def remain(self, job: Bars) -> None:
        """Ask for the pieces and sticks of `job`, which has the same sizes and stocks."""
        self.job = job
        for index, demand in enumerate(job.demand):
            self.solver.changeRowBounds(index, float(demand), INFINITE)
        for stock, supply in enumerate(job.supply):
            self.solver.changeRowBounds(len(job.sizes) + stock, -INFINITE, float(supply))

    def improve(self) -> Rule | None:
        """Solve, make the rule of the values found, and add the contents worth more than their sticks; None: no solution."""
        import highspy

        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        job, sizes = self.job, len(self.job.sizes)
        duals = list(self.solver.getSolution().row_dual)
        worth = [max(0.0, dual) if demand else 0.0 for dual, demand in zip(duals[:sizes], job.demand, strict=True)]
        scale = WHOLE / max(1.0, sum(value * demand for value, demand in zip(worth, job.demand, strict=True)))
        values = [int(value * scale) for value in worth]
        tables = value_tables(job, values)
        rule = make_rule(job, values, tables)
        fresh = []
        for stock, room in enumerate(job.rooms):
            price = (0.0 if self.fit else job.costs[stock] / self.unit) + max(0.0, -duals[sizes + stock])
            if rule.worths[stock] / scale > price * (1 + 1e-9) + 1e-7:
                fresh.append((stock, best_content(job, values, tables, room)))
        self.grown = self.add(fresh)
        return rule

    def settle(self) -> Rule | None:
        """Improve until no content is worth more than its stick; None when there is no solution."""
        rule = self.improve()
        for _ in range(ROUNDS):
            if rule is None or not self.grown or (self.fit and not rule.allows(self.job.supply)):
                break
            rule = self.improve()
        return rule

    def used(self) -> list[tuple[float, Load]]:
        """Contents that the last solution cuts, with how many of each, most first."""
        amounts = list(self.solver.getSolution().col_value)[len(self.job.sizes) :]
        return sorted(((amount, load) for load, amount in zip(self.known, amounts, strict=False) if amount > 1e-9), key=lambda pair: (-pair[0], pair[1]))


def single_sizes(job: Bars) -> list[Load]:
    """One content a size: as many as fit the stick that is the best value for it."""
    loads = []
    for index, size in enumerate(job.sizes):
        held = [(min(job.demand[index], room // size), stock) for stock, room in enumerate(job.rooms)]
        fits = [(job.costs[stock] / count, stock, count) for count, stock in held if count]
        if fits:
            _, stock, count = min(fits)
            loads.append((stock, tuple(count if place == index else 0 for place in range(len(job.sizes)))))
    return loads


def round_plan(program: Program, *, careful: bool, enough: int) -> list[Load] | None:
    """A plan from the program's fractions: fix whole sticks, solve for what remains, and so on.

    Parameters
    ----------
    program
        The solved program; it is asked for all pieces again in the end.
    careful
        Fix one content at a time, not all whole parts at once: slower, and often one stick better.
    enough
        Stop at a plan of this cost, in the unit of `Bars.costs`.

    Returns
    -------
    The best plan met on the way; None when the supply ran out.
    """
    whole = program.job
    left, fixed = whole, list[Load]()
    best: list[Load] | None = None
    while left.count:
        taken = take_sticks(left, program.used(), careful=careful)
        if not taken:
            break
        fixed += taken
        left = left.without(taken)
        rest = complete(left)
        if rest is not None and (best is None or whole.cost_of(fixed + rest) < whole.cost_of(best)):
            best = fixed + rest
            if whole.cost_of(best) <= enough:
                break
        program.remain(left)
        if program.improve() is None:
            break
    program.remain(whole)
    return best


def take_sticks(left: Bars, used: list[tuple[float, Load]], *, careful: bool) -> list[Load]:
    """Whole parts of the fractions (at least one stick of the most used content), cut down to what remains."""
    demand, supply = list(left.demand), list(left.supply)
    taken: list[Load] = []
    for amount, (stock, content) in used:
        cut = tuple(map(min, content, demand))
        if not any(cut):
            continue
        most = min(supply[stock], *(have // count for have, count in zip(demand, cut, strict=True) if count))
        count = min(most, max(int(amount + 1e-6), 0 if taken else 1))
        taken += [(stock, cut)] * count
        supply[stock] -= count
        demand = [have - count * one for have, one in zip(demand, cut, strict=True)]
        if careful and taken:
            break
    return taken


def complete(left: Bars) -> list[Load] | None:
    """Quick plan of what remains, counted by the sizes of the whole job."""
    places = [index for index, count in enumerate(left.demand) if count]
    if not places:
        return []
    part = Bars(tuple(left.sizes[index] for index in places), tuple(left.demand[index] for index in places), left.rooms, left.costs, left.supply)
    quick = plan_quick(part)
    if quick is None:
        return None
    loads = []
    for stock, content in quick.loads:
        counts = dict(zip(places, content, strict=True))
        loads.append((stock, tuple(counts.get(index, 0) for index in range(len(left.sizes)))))
    return loads
