"""Outside judges for the cutting tests: a general-purpose solver, textbook first fit, and counting out every way."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import lcm

import numpy as np
from plan_checks import meant
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from kit.cutting.plans import Stock
from kit.records import Piece

Whole = tuple[list[int], list[int], list[int], list[int], list[int], int]


def in_whole_numbers(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> Whole:
    """Sizes and counts of the pieces, rooms, cents and limits of the stock, grid units in an inch; the blade added once to each length."""
    blade = meant(kerf_in)
    grid = lcm(blade.denominator, *(meant(entry.length_in).denominator for entry in [*pieces, *stock]))
    wanted = [(int((meant(piece.length_in) + blade) * grid), piece.count) for piece in pieces if piece.count]
    total = sum(count for _, count in wanted)
    return (
        [size for size, _ in wanted],
        [count for _, count in wanted],
        [int((meant(entry.length_in) + blade) * grid) for entry in stock],
        [int(entry.price * 100) for entry in stock],
        [total if entry.available is None else entry.available for entry in stock],
        grid,
    )


def solve_by_arcs(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float, limit_s: float = 60.0) -> tuple[int, int] | None:
    """Least cost [cents] and then fewest priced sticks, by `scipy.optimize.milp` on the arc-flow model (Valerio de Carvalho, EJOR 141 (2002)).

    None when the solver did not finish.
    """
    sizes, counts, rooms, cents, limits, _ = in_whole_numbers(pieces, stock, kerf_in)
    order = sorted(range(len(sizes)), key=lambda place: -sizes[place])
    weight = sum(counts) + 1
    reached, arcs = {0}, list[tuple[int, int, int]]()
    for place in order:
        for start in sorted(reached):
            for number in range(counts[place]):
                end = start + (number + 1) * sizes[place]
                if end > max(rooms):
                    break
                arcs.append((end - sizes[place], end, place))
                reached.add(end)
    arcs = sorted(set(arcs))
    nodes = {node: row for row, node in enumerate(sorted(reached))}
    ends = [(node, kind) for kind, room in enumerate(rooms) for node in sorted(reached) if 0 < node <= room]
    columns = len(arcs) + len(ends)
    balance = np.zeros((len(nodes), columns))
    wanted = np.zeros((len(sizes), columns))
    used = np.zeros((len(rooms), columns))
    cost = np.zeros(columns)
    for column, (start, end, place) in enumerate(arcs):
        balance[nodes[start], column] -= 1
        balance[nodes[end], column] += 1
        wanted[place, column] = 1
    for column, (node, kind) in enumerate(ends, start=len(arcs)):
        balance[nodes[node], column] -= 1
        balance[0, column] += 1
        used[kind, column] = 1
        cost[column] = cents[kind] * weight + (cents[kind] > 0)
    answer = milp(
        cost / weight,
        constraints=[
            LinearConstraint(csr_matrix(balance), 0, 0),
            LinearConstraint(csr_matrix(wanted), counts, counts),
            LinearConstraint(csr_matrix(used), 0, limits),
        ],
        integrality=np.ones(columns),
        bounds=Bounds(0, sum(counts)),
        options={"mip_rel_gap": 0.0, "time_limit": limit_s},
    )
    if answer.status != 0:
        return None
    whole = round(float(cost @ np.round(answer.x)))
    return divmod(whole, weight)


def first_fit(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> int | None:
    """Cost [cents] of first fit decreasing: each piece into the first stick that takes it, a new stick of the best price for its length.

    Sticks with a limit come first. Each stock of the rest is tried as the only one to open; then each stick is changed for the cheapest that holds
    its pieces. None when the pieces do not fit.
    """
    sizes, counts, rooms, cents, limits, _ = in_whole_numbers(pieces, stock, kerf_in)
    queue = sorted((size for size, count in zip(sizes, counts, strict=True) for _ in range(count)), reverse=True)
    costs = [cost for opened in range(len(rooms)) if (cost := _first_fit(queue, rooms, cents, limits, opened)) is not None]
    return min(costs, default=None)


def _first_fit(queue: list[int], rooms: list[int], cents: list[int], limits: list[int], opened: int) -> int | None:
    total = len(queue)
    sticks = [[room, 0, kind] for kind, room in enumerate(rooms) if limits[kind] < total for _ in range(limits[kind])]
    for size in queue:
        stick = next((stick for stick in sticks if stick[0] - stick[1] >= size), None)
        if stick is None:
            if limits[opened] < total or rooms[opened] < size:
                return None
            stick = [rooms[opened], 0, opened]
            sticks.append(stick)
        stick[1] += size
    cost = 0
    for _, used, kind in sticks:
        if used:
            choices = [kind, *(other for other, room in enumerate(rooms) if room >= used and limits[other] >= total)]
            cost += min(cents[other] for other in choices)
    return cost


def count_out(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> tuple[int, int, Fraction]:
    """Least cost [cents], then fewest priced sticks, then longest left-over of a priced stick [in], over every way there is."""
    sizes, counts, rooms, cents, limits, grid = in_whole_numbers(pieces, stock, kerf_in)
    items = [size for size, count in zip(sizes, counts, strict=True) for _ in range(count)]
    best: tuple[int, int, int] | None = None
    for groups in _partitions(items):
        for kinds in product(range(len(rooms)), repeat=len(groups)):
            if any(kinds.count(kind) > limits[kind] for kind in set(kinds)) or any(sum(group) > rooms[kind] for group, kind in zip(groups, kinds, strict=True)):
                continue
            priced = [rooms[kind] - sum(group) for group, kind in zip(groups, kinds, strict=True) if cents[kind]]
            rank = (sum(cents[kind] for kind in kinds), len(priced), -max(priced, default=0))
            if best is None or rank < best:
                best = rank
    assert best is not None
    return best[0], best[1], max(Fraction(0), Fraction(-best[2], grid) - Fraction(kerf_in))


def _partitions(items: list[int]) -> Iterator[list[list[int]]]:
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for groups in _partitions(rest):
        yield [[first], *groups]
        for place in range(len(groups)):
            yield [*groups[:place], [first, *groups[place]], *groups[place + 1 :]]
