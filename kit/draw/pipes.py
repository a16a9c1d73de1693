"""The run of a waste pipe as a center line with bends, and its two edges: geometry for the section, in inches."""

import math
from collections.abc import Sequence
from itertools import pairwise

__all__ = ["Point", "trap_line", "widen"]

Point = tuple[float, float]


def trap_line(inlet: Point, outlet: Point, lowest: float) -> tuple[Point, ...]:
    """Center line of a trap seen from the side.

    Parameters
    ----------
    inlet
        Top of the down leg.
    outlet
        Where the arm begins, sideways of the inlet; the line arrives level.
    lowest
        Height of the center line at the bottom of the bend.

    Notes
    -----
    A half circle between the legs and a quarter circle into the arm; radii shrink where the legs are short.
    """
    way = 1.0 if outlet[0] >= inlet[0] else -1.0
    reach = abs(outlet[0] - inlet[0])
    turn = min(reach / 3.0, max(outlet[1] - lowest, 0.1) / 2.0)
    radius = max((reach - turn) / 2.0, 0.1)
    middle, tall = inlet[0] + way * radius, min(radius, max(outlet[1] - turn - lowest, 0.1))
    bend = [(middle - way * radius * math.cos(math.pi * step / 8.0), lowest + tall * (1.0 - math.sin(math.pi * step / 8.0))) for step in range(9)]
    up = inlet[0] + way * 2.0 * radius
    corner = [(up + way * turn * (1.0 - math.cos(math.pi * step / 8.0)), outlet[1] - turn * (1.0 - math.sin(math.pi * step / 8.0))) for step in range(5)]
    return (inlet, *bend, *corner, outlet)


def widen(line: Sequence[Point], radius: float) -> tuple[Point, ...]:
    """The outline of a pipe: its center line moved to both sides by `radius`, there and back."""
    points = [point for place, point in enumerate(line) if place == 0 or math.dist(point, line[place - 1]) > 1e-6]
    sides = [(-(last[1] - first[1]) / math.dist(first, last), (last[0] - first[0]) / math.dist(first, last)) for first, last in pairwise(points)]
    normals = [sides[0], *(_between(one, other) for one, other in pairwise(sides)), sides[-1]]
    left = [(x + radius * across, y + radius * up) for (x, y), (across, up) in zip(points, normals, strict=True)]
    right = [(x - radius * across, y - radius * up) for (x, y), (across, up) in zip(points, normals, strict=True)]
    return (*left, *reversed(right))


def _between(one: Point, other: Point) -> Point:
    """Direction in which a corner moves so that both edges keep their distance."""
    x, y = one[0] + other[0], one[1] + other[1]
    square = x * x + y * y
    if square < 0.2:
        return other
    return 2.0 * x / square, 2.0 * y / square
