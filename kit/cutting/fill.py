"""Does a given set of sticks hold the pieces? By packing, by fractions of sticks, by rounding, by search, by the solver."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import monotonic

from kit.cutting.bars import Bars, Load
from kit.cutting.columns import Program, round_plan
from kit.cutting.contents import find_contents
from kit.cutting.quick import pack_set
from kit.cutting.search import Search
from kit.cutting.sets import Rule
from kit.cutting.solver import solve_set

__all__ = ["Effort", "Filled", "fill_set"]

MOST_CONTENTS = 40_000
"""Contents beyond which nothing is searched."""
MANY_CONTENTS = 1500
"""Contents beyond which careful rounding comes before the search."""
SOLVER_NODES = 20_000
"""Branch nodes of the last resort."""
DEEPEST = 150
"""Sticks up to which a set is searched (one call a stick)."""


@dataclass(frozen=True, slots=True)
class Effort:
    """Search nodes, a clock, its end (`time.monotonic`) and whether the solver may be asked in the end."""

    nodes: int
    late: Callable[[], bool]
    deadline: float
    solver: bool


@dataclass(frozen=True, slots=True)
class Filled:
    """The sticks cut; or `refuted`, by a rule when there is one; or neither. `nodes` is what the search used."""

    loads: list[Load] | None = None
    refuted: bool = False
    rule: Rule | None = None
    by_solver: bool = False
    nodes: int = 0


def fill_set(job: Bars, rules: Sequence[Rule], fit: Program, sticks: tuple[int, ...], effort: Effort) -> Filled:
    """Cut all pieces from a set of sticks, or show that it does not hold them.

    Parameters
    ----------
    job, rules
        The cutting job and its rules.
    fit
        The linear program of what finds no place, for jobs with the same sizes and stocks.
    sticks
        Sticks of each stock.
    effort
        How much to try.

    Returns
    -------
    What came out.
    """
    loads = pack_set(job, sticks)
    if loads is not None:
        return Filled(loads)
    fit.remain(Bars(job.sizes, job.demand, job.rooms, (0,) * len(sticks), sticks))
    rule = fit.settle()
    if rule is not None and not rule.allows(sticks):
        return Filled(refuted=True, rule=rule)
    loads = round_plan(fit, careful=False, enough=0)
    if loads is not None:
        return Filled(loads)
    contents = find_contents(job, rules, sticks, MOST_CONTENTS)
    if contents is None or len(contents) > MANY_CONTENTS:
        loads = round_plan(fit, careful=True, enough=0)
    if loads is not None or contents is None:
        return Filled(loads)
    return search_contents(job, rules, contents, sticks, effort)


def search_contents(job: Bars, rules: Sequence[Rule], contents: Sequence[Load], sticks: tuple[int, ...], effort: Effort) -> Filled:
    """Exhaustive search among the contents, then the solver."""
    search = Search(job, rules, contents, effort.nodes, effort.late)
    if sum(sticks) <= DEEPEST and effort.nodes > 0:
        loads = search.find(job.demand, sticks)
        if loads is not None or not search.cut_short:
            return Filled(loads, refuted=loads is None, nodes=effort.nodes - search.nodes)
    if not effort.solver:
        return Filled(nodes=effort.nodes - search.nodes)
    answer = solve_set(job, contents, sticks, nodes=SOLVER_NODES, limit_s=effort.deadline - monotonic())
    return Filled(answer.loads, refuted=answer.ended, by_solver=True, nodes=effort.nodes - search.nodes)
