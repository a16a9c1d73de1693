"""The last resort: mixed-integer programs, for pieces that must fit a set of sticks and for the cheapest set that meets all rules."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kit.cutting.bars import Bars, Load
from kit.cutting.sets import Rule

if TYPE_CHECKING:
    import highspy

__all__ = ["Answer", "SetAnswer", "solve_for_set", "solve_set"]

SET_NODES = 100_000
"""Branch nodes for one set of sticks."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A plan when one was found; `ended` when there is none as far as the solver's arithmetic goes."""

    loads: list[Load] | None
    ended: bool


def solve_set(job: Bars, contents: Sequence[Load], sticks: Sequence[int], *, nodes: int, limit_s: float) -> Answer:
    """A plan that cuts all pieces from the given sticks.

    Parameters
    ----------
    job, contents
        The cutting job and the contents that a plan with these sticks can use.
    sticks
        Sticks of each stock.
    nodes, limit_s
        Limits: branch nodes, and time [s].

    Returns
    -------
    The plan, rechecked in whole numbers, or none.
    """
    import highspy
    import numpy as np

    starts, rows, factors = [0], list[int](), list[float]()
    for stock, content in contents:
        entries = [(index, float(count)) for index, count in enumerate(content) if count]
        rows += [index for index, _ in entries] + [len(job.sizes) + stock]
        factors += [count for _, count in entries] + [1.0]
        starts.append(len(rows))
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = len(contents), len(job.sizes) + len(sticks)
    program.col_cost_ = np.zeros(len(contents))
    program.col_lower_ = np.zeros(len(contents))
    program.col_upper_ = np.array([float(sticks[stock]) for stock, _ in contents])
    program.row_lower_ = np.array([*map(float, job.demand), *[-highspy.kHighsInf] * len(sticks)])
    program.row_upper_ = np.array([*[highspy.kHighsInf] * len(job.sizes), *map(float, sticks)])
    program.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    program.a_matrix_.start_, program.a_matrix_.index_, program.a_matrix_.value_ = starts, rows, factors
    program.integrality_ = [highspy.HighsVarType.kInteger] * len(contents)
    amounts, ended = run_solver(program, nodes, limit_s)
    return Answer(read_plan(job, contents, sticks, amounts), ended and not amounts)


def run_solver(program: "highspy.HighsLp", nodes: int, limit_s: float) -> tuple[list[float], bool]:
    """The best amounts, empty when there are none; and whether the solver came to an end."""
    import highspy

    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    # the solver's own default would call a plan optimal that is 1e-4 of its cost too dear
    options = {"output_flag": False, "mip_rel_gap": 0.0, "mip_abs_gap": 0.0, "mip_max_nodes": nodes, "time_limit": max(0.01, limit_s)}
    for name, value in options.items():
        solver.setOptionValue(name, value)
    solver.passModel(program)
    solver.run()
    status = solver.getModelStatus()
    solved = status == highspy.HighsModelStatus.kOptimal
    return list(solver.getSolution().col_value) if solved else [], solved or status == highspy.HighsModelStatus.kInfeasible


def read_plan(job: Bars, contents: Sequence[Load], sticks: Sequence[int], amounts: Sequence[float]) -> list[Load] | None:
    """Sticks of the solver's answer with surplus pieces taken off; None when there is none or rounding broke a rule."""
    left, supply = list(job.demand), list(sticks)
    loads: list[Load] = []
    for (stock, content), amount in zip(contents, amounts, strict=False):
        for _ in range(round(amount)):
            cut = tuple(map(min, content, left))
            left = [have - taken for have, taken in zip(left, cut, strict=True)]
            if any(cut):
                supply[stock] -= 1
                loads.append((stock, cut))
    return None if any(left) or min(supply) < 0 else loads


@dataclass(frozen=True, slots=True)
class SetAnswer:
    """The cheapest set of sticks found and its cost; none and `ended` when no set in the window meets the rules."""

    sticks: tuple[int, ...] | None
    cost: int
    ended: bool


def solve_for_set(job: Bars, rules: Sequence[Rule], floor: int, ceiling: int, *, limit_s: float) -> SetAnswer:
    """The cheapest set of sticks that meets all rules.

    Parameters
    ----------
    job, rules
        The cutting job and its rules.
    floor, ceiling
        Window of the cost, in the unit of `Bars.costs`.
    limit_s
        Time limit [s].

    Returns
    -------
    The set found.
    """
    import highspy
    import numpy as np

    unit, stocks = float(job.count + 1), len(job.rooms)
    rows = [[worth / rule.total for worth in rule.worths] for rule in rules if rule.total > 0] + [[cost / unit for cost in job.costs]]
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = stocks, len(rows)
    program.col_cost_ = np.array([cost / unit for cost in job.costs])
    program.col_lower_ = np.array([0.0 if cost else float(supply) for cost, supply in zip(job.costs, job.supply, strict=True)])
    program.col_upper_ = np.array([float(supply) for supply in job.supply])
    # a hair less than the whole worth, so that rounding never bars a set that meets a rule just so
    program.row_lower_ = np.array([*[1.0 - 1e-7] * (len(rows) - 1), (floor - 0.5) / unit])
    program.row_upper_ = np.array([*[highspy.kHighsInf] * (len(rows) - 1), (ceiling + 0.5) / unit])
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = list(range(0, stocks * len(rows) + 1, stocks))
    program.a_matrix_.index_ = list(range(stocks)) * len(rows)
    program.a_matrix_.value_ = [factor for row in rows for factor in row]
    program.integrality_ = [highspy.HighsVarType.kInteger] * stocks
    amounts, ended = run_solver(program, SET_NODES, limit_s)
    if not amounts:
        return SetAnswer(None, 0, ended)
    sticks = tuple(round(amount) for amount in amounts)
    return SetAnswer(sticks, sum(cost * count for cost, count in zip(job.costs, sticks, strict=True)), ended)
