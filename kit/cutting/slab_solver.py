"""The last resort for slabs: a mixed-integer program over the groups of parts that fit one slab."""

from kit.cutting.sheets import Sheets, SlabLoad
from kit.cutting.slab_boxes import Boxes
from kit.cutting.solver import run_solver

__all__ = ["solve_groups"]

NODES = 20_000
"""Branch nodes."""
MOST_GROUPS = 60_000
"""Groups beyond which the program is not tried."""


def solve_groups(job: Sheets, boxes: Boxes, floor: int, ceiling: int, limit_s: float) -> tuple[list[SlabLoad] | None, bool]:
    """The cheapest plan from the groups known.

    Parameters
    ----------
    job, boxes
        The slab job and its groups.
    floor, ceiling
        Window of the cost, in the unit of `Sheets.costs`.
    limit_s
        Time limit [s].

    Returns
    -------
    The plan, and whether the solver came to an end: without a plan, the groups then give none in the window.
    """
    import highspy
    import numpy as np

    columns = [(slab, group) for group in boxes.boxes for slab in boxes.homes[group] if is_full(job, boxes, group, slab)]
    if len(columns) > MOST_GROUPS:
        return None, False
    kinds, unit = len(job.ways), float(job.count + 1)
    starts, rows, factors = [0], list[int](), list[float]()
    for slab, group in columns:
        counts = boxes.counts[group]
        entries = [(kind, float(count)) for kind, count in enumerate(counts) if count]
        entries += [(kinds + slab, 1.0), (kinds + len(job.rooms), job.costs[slab] / unit)]
        rows += [row for row, _ in entries]
        factors += [factor for _, factor in entries]
        starts.append(len(rows))
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = len(columns), kinds + len(job.rooms) + 1
    program.col_cost_ = np.array([job.costs[slab] / unit for slab, _ in columns])
    program.col_lower_ = np.zeros(len(columns))
    program.col_upper_ = np.array([float(job.supply[slab]) for slab, _ in columns])
    program.row_lower_ = np.array([*map(float, job.demand), *[-highspy.kHighsInf] * len(job.rooms), (floor - 0.5) / unit])
    program.row_upper_ = np.array([*[highspy.kHighsInf] * kinds, *map(float, job.supply), (ceiling + 0.5) / unit])
    program.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    program.a_matrix_.start_, program.a_matrix_.index_, program.a_matrix_.value_ = starts, rows, factors
    program.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    amounts, ended = run_solver(program, NODES, limit_s)
    chosen = [column for column, amount in zip(columns, amounts, strict=False) for _ in range(round(amount))]
    return (read_groups(job, boxes, chosen) if chosen else None), ended


def is_full(job: Sheets, boxes: Boxes, group: int, slab: int) -> bool:
    """Whether no group of one part more is known to fit the slab: only full groups are needed."""
    grown = (group + boxes.units[kind] for kind, count in enumerate(boxes.counts[group]) if count < job.demand[kind])
    return not any(slab in boxes.homes.get(larger, ()) for larger in grown)


def read_groups(job: Sheets, boxes: Boxes, chosen: list[tuple[int, int]]) -> list[SlabLoad] | None:
    """Layouts of the chosen groups with surplus parts taken off; None when rounding broke a rule."""
    left, supply = list(job.demand), list(job.supply)
    loads: list[SlabLoad] = []
    for slab, group in chosen:
        taken = [min(count, have) for count, have in zip(boxes.counts[group], left, strict=True)]
        left = [have - count for have, count in zip(left, taken, strict=True)]
        if any(taken):
            supply[slab] -= 1
            loads.append((slab, boxes.lay(sum(unit * count for unit, count in zip(boxes.units, taken, strict=True)), slab)))
    return None if any(left) or min(supply) < 0 else loads
