"""Outside judges for slab plans: textbook first fit on levels, and the two-stage model for a general-purpose solver."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from kit.cutting.plans import Stock
from kit.records import Piece


def turned(parts: Sequence[Piece], slabs: Sequence[Stock], kerf_in: float) -> Iterator[tuple[list[tuple[float, float]], list[tuple[float, float]]]]:
    """Sizes with the blade added, as they are and with both axes exchanged: levels along the slab, then across it."""
    sizes = [(part.length_in + kerf_in, part.width_in + kerf_in) for part in parts for _ in range(part.count)]
    rooms = [(slab.length_in + kerf_in, slab.width_in + kerf_in) for slab in slabs]
    yield sizes, rooms
    yield [size[::-1] for size in sizes], [room[::-1] for room in rooms]


def first_fit_levels(parts: Sequence[Piece], slabs: Sequence[Stock], kerf_in: float) -> Decimal:
    """Least cost of first fit decreasing height on levels, over both directions and each slab as the only kind; each slab then changed for the cheapest."""
    best = Decimal(10**9)
    for sizes, rooms in turned(parts, slabs, kerf_in):
        for length, width in rooms:
            if any(size[0] > length or size[1] > width for size in sizes):
                continue
            opened: list[list[list[float]]] = []  # slabs of levels: height, length used
            for along, across in sorted(sizes, key=lambda size: (-size[1], -size[0])):
                place = next((level for levels in opened for level in levels if level[0] >= across and level[1] + along <= length), None)
                if place is not None:
                    place[1] += along
                    continue
                levels = next((levels for levels in opened if sum(level[0] for level in levels) + across <= width), None)
                if levels is None:
                    levels = []
                    opened.append(levels)
                levels.append([across, along])
            needs = [(max(level[1] for level in levels), sum(level[0] for level in levels)) for levels in opened]
            prices = [[slab.price for slab, room in zip(slabs, rooms, strict=True) if room[0] >= need[0] and room[1] >= need[1]] for need in needs]
            best = min(best, sum((min(prices_of_one) for prices_of_one in prices), Decimal(0)))
    return best


def solve_by_levels(parts: Sequence[Piece], slabs: Sequence[Stock], kerf_in: float, limit_s: float) -> Decimal | None:
    """Least cost of two-stage plans (levels on slabs, both directions), by `scipy.optimize.milp` (model of Lodi, Martello and Vigo; from memory).

    Each part may open a level, each level a slab of some kind. None when the solver did not finish.
    """
    best = None
    for sizes, rooms in turned(parts, slabs, kerf_in):
        order = sorted(sizes, key=lambda size: (-size[1], -size[0]))
        answer = _solve_levels(order, rooms, [float(slab.price) for slab in slabs], limit_s)
        if answer is None:
            return None
        best = answer if best is None else min(best, answer)
    return None if best is None or best == float("inf") else Decimal(round(best * 100)).scaleb(-2)


def _solve_levels(  # noqa: C901, PLR0912 - the model row by row
    order: list[tuple[float, float]], rooms: list[tuple[float, float]], prices: list[float], limit_s: float
) -> float | None:
    """The model in one direction; parts by falling height. Level j is opened by part j, slab k by level k."""
    count, kinds = len(order), len(rooms)
    columns: dict[tuple[str, int, int, int], int] = {}
    for level in range(count):
        for part in range(level, count):
            columns["part", part, level, 0] = len(columns)
    for slab in range(count):
        for level in range(slab, count):
            for kind in range(kinds):
                columns["level", level, slab, kind] = len(columns)
    rows: list[dict[int, float]] = []
    lower, upper = list[float](), list[float]()

    def add(row: dict[int, float], least: float, most: float) -> None:
        rows.append(row)
        lower.append(least)
        upper.append(most)

    for part in range(count):
        add({columns["part", part, level, 0]: 1.0 for level in range(part + 1)}, 1, 1)
    for level in range(count):
        row = {columns["level", level, slab, kind]: 1.0 for slab in range(level + 1) for kind in range(kinds)}
        add({**row, columns["part", level, level, 0]: -1.0}, 0, 0)
        row = {columns["level", level, slab, kind]: rooms[kind][0] for slab in range(level + 1) for kind in range(kinds)}
        add({**row, **{columns["part", part, level, 0]: -order[part][0] for part in range(level, count)}}, 0, np.inf)
    for slab in range(count):
        for kind in range(kinds):
            row = {columns["level", level, slab, kind]: order[level][1] for level in range(slab + 1, count)}
            add({**row, columns["level", slab, slab, kind]: order[slab][1] - rooms[kind][1]}, -np.inf, 0)
    cost, tops = np.zeros(len(columns)), np.ones(len(columns))
    for slab in range(count):
        for kind in range(kinds):
            cost[columns["level", slab, slab, kind]] = prices[kind]
            if order[slab][1] > rooms[kind][1]:
                tops[columns["level", slab, slab, kind]] = 0
    matrix = np.zeros((len(rows), len(columns)))
    for number, row in enumerate(rows):
        for column, factor in row.items():
            matrix[number, column] = factor
    answer = milp(
        cost,
        constraints=LinearConstraint(csr_matrix(matrix), lower, upper),
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, tops),
        options={"mip_rel_gap": 0.0, "time_limit": limit_s},
    )
    if answer.status == 2:
        return float("inf")
    return float(answer.fun) if answer.status == 0 else None
