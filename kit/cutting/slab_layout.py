"""From where the parts lie to the cuts that part them, in order, and to what is left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kit.cutting.sheets import Place

__all__ = ["Line", "Rectangle", "part_slab"]

Rectangle = tuple[int, int, int, int]
"""Along, across, length, width, blade included at the far sides [grid units]."""


@dataclass(frozen=True, slots=True)
class Line:
    """A cut through a rectangle: axis 0 parts its length, axis 1 its width; `at` is the far edge of the blade's path."""

    axis: int
    at: int
    region: Rectangle


def part_slab(region: Rectangle, places: Sequence[Place]) -> tuple[list[Line], list[Rectangle]]:
    """Cuts in order and rectangles left, for parts that through cuts can part.

    Parameters
    ----------
    region
        The slab's usable rectangle.
    places
        Where its parts lie.

    Returns
    -------
    The cuts, and the rectangles without a part; large strips are cut off first and whole.
    """
    if not places:
        return [], [region]
    lines = list(lines_through(region, places))
    if not lines:
        return [], []
    line = max(lines, key=lambda line: (empty_area(line, places), -line.axis, -line.at))
    near, far = halves(line)
    near_cuts, near_left = part_slab(near, [place for place in places if place[1 + line.axis] < line.at])
    far_cuts, far_left = part_slab(far, [place for place in places if place[1 + line.axis] >= line.at])
    return [line, *near_cuts, *far_cuts], [*near_left, *far_left]


def lines_through(region: Rectangle, places: Sequence[Place]) -> Iterator[Line]:
    """The cuts along the edges of parts that cross no part."""
    for axis in (0, 1):
        for at in sorted({edge for place in places for edge in (place[1 + axis], place[1 + axis] + place[3 + axis])}):
            crosses = any(place[1 + axis] < at < place[1 + axis] + place[3 + axis] for place in places)
            if region[axis] < at < region[axis] + region[2 + axis] and not crosses:
                yield Line(axis, at, region)


def halves(line: Line) -> tuple[Rectangle, Rectangle]:
    """The rectangles on both sides of a cut."""
    along, across, length, width = line.region
    if line.axis == 0:
        return (along, across, line.at - along, width), (line.at, across, along + length - line.at, width)
    return (along, across, length, line.at - across), (along, line.at, length, across + width - line.at)


def empty_area(line: Line, places: Sequence[Place]) -> int:
    """Area of the strip on one side of the cut when no part lies there."""
    beyond = sum(place[1 + line.axis] >= line.at for place in places)
    strips = [half[2] * half[3] for half, count in zip(halves(line), (len(places) - beyond, beyond), strict=True) if not count]
    return max(strips, default=0)
