"""The last resort: a mixed-integer program that fits the pieces into a given set of sticks."""

from collections.abc import Sequence
from dataclasses import dataclass

from kit.cutting.bars import Bars, Load

__all__ = ["Answer", "solve_set"]


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
    solver = highspy.Highs()
    options = {"output_flag": False, "mip_rel_gap": 0.0, "mip_abs_gap": 0.0, "mip_max_nodes": nodes, "time_limit": max(0.01, limit_s)}
    for name, value in options.items():
        solver.setOptionValue(name, value)
    solver.passModel(program)
    solver.run()
    status = solver.getModelStatus()
    amounts = list(solver.getSolution().col_value) if status == highspy.HighsModelStatus.kOptimal else []
    return Answer(read_plan(job, contents, sticks, amounts), status == highspy.HighsModelStatus.kInfeasible)


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
