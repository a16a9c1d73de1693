"""Blocks and rods, and how deep one stands in another: bare geometry, no trade words.

Inches. x, y and z are the axes of whoever builds with them; every block lies along them.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal

from kit.spans import TOUCH_IN, Span, spans_cross

__all__ = ["AXES", "Axis", "Block", "Point", "Rod", "Shape", "carve", "overlap_depth"]

Axis = Literal["x", "y", "z"]
Point = tuple[float, float, float]
AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")


@dataclass(frozen=True, slots=True)
class Block:
    """A box along the axes: its span on each of them, low end first [in]."""

    x: Span
    y: Span
    z: Span

    @property
    def empty(self) -> bool:
        """Whether it holds nothing: as thin as a touch on one of the axes."""
        return any(high - low <= TOUCH_IN for low, high in (self.x, self.y, self.z))


@dataclass(frozen=True, slots=True)
class Rod:
    """A round bar from the center of one end to the center of the other, for pipes and nuts [in]; its spans are worked out once."""

    start: Point
    end: Point
    radius_in: float
    x: Span = field(init=False, compare=False, repr=False)
    y: Span = field(init=False, compare=False, repr=False)
    z: Span = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Its ends are flat where it lies along an axis."""
        length = math.dist(self.start, self.end)
        for axis, one, other in zip(AXES, self.start, self.end, strict=True):
            low, high = (one, other) if one <= other else (other, one)
            across = self.radius_in if length <= TOUCH_IN else self.radius_in * math.sqrt(max(0.0, 1.0 - ((high - low) / length) ** 2))
            object.__setattr__(self, axis, (low - across, high + across))

    @property
    def along(self) -> tuple[Span, Span, Span] | None:
        """The spans of its axis, where it lies along an axis of the model; None for a rod that leans."""
        x, y, z = ((one, other) if one <= other else (other, one) for one, other in zip(self.start, self.end, strict=True))
        return (x, y, z) if sum(high > low for low, high in (x, y, z)) <= 1 else None


Shape = Block | Rod


def overlap_depth(one: Shape, other: Shape) -> float:
    """How deep two shapes stand in each other [in]; 0 where they touch or are apart.

    Notes
    -----
    Two blocks: the least common length of their spans. With a rod: no more than the radius less the distance of its axis; a rod's
    ends are flat where it lies along an axis.
    """
    if not (spans_cross(one.x, other.x) and spans_cross(one.y, other.y) and spans_cross(one.z, other.z)):
        return 0.0
    least = min(min(a[1], b[1]) - max(a[0], b[0]) for _, a, b in _pairs(one, other))
    radii_in = sum(shape.radius_in for shape in (one, other) if isinstance(shape, Rod))
    if radii_in > 0.0:
        least = min(least, radii_in - _between(one, other))
    return least if least > TOUCH_IN else 0.0


def _between(one: Shape, other: Shape) -> float:
    """From a rod's axis to a block, or from axis to axis; a search only where a rod leans."""
    spans, others = (shape.along if isinstance(shape, Rod) else (shape.x, shape.y, shape.z) for shape in (one, other))
    if spans is not None and others is not None:
        return math.hypot(*(max(low - last, 0.0, first - high) for (low, high), (first, last) in zip(spans, others, strict=True)))
    if isinstance(one, Rod):
        return _between_lines(one, other) if isinstance(other, Rod) else _to_block(one, other)
    return _between(other, one)


def _at(rod: Rod, share: float) -> Point:
    x, y, z = (low + share * (high - low) for low, high in zip(rod.start, rod.end, strict=True))
    return x, y, z


def _to_block(rod: Rod, block: Block) -> float:
    """From a rod's axis to a block: convex along the axis, so the search between the ends closes in on the least."""

    def distance(share: float) -> float:
        outside = (max(low - at, 0.0, at - high) for at, (low, high) in zip(_at(rod, share), (block.x, block.y, block.z), strict=True))
        return math.hypot(*outside)

    return _least(distance)


def _between_lines(one: Rod, other: Rod) -> float:
    """From axis to axis: the distance from one axis to the nearest point of the other is convex along it."""

    def distance(share: float) -> float:
        point = _at(one, share)
        along = [end - start for start, end in zip(other.start, other.end, strict=True)]
        length2 = sum(part * part for part in along)
        across = sum((at - start) * part for at, start, part in zip(point, other.start, along, strict=True))
        return math.dist(point, _at(other, min(1.0, max(0.0, across / length2))) if length2 else other.start)

    return _least(distance)


def _least(distance: Callable[[float], float]) -> float:
    low, high = 0.0, 1.0
    for _ in range(60):  # a third less each time: 60 leave far less than a touch of any pipe in a kitchen
        near, far = low + (high - low) / 3.0, high - (high - low) / 3.0
        low, high = (low, far) if distance(near) <= distance(far) else (near, high)
    return min(distance(0.0), distance(1.0), distance((low + high) / 2.0))


def carve(blocks: Iterable[Block], hole: Block) -> tuple[Block, ...]:
    """What is left of blocks where a hole goes through them: strips around it, none of them empty."""
    return tuple(left for block in blocks for left in _around(block, hole))


def _around(block: Block, hole: Block) -> Iterator[Block]:
    """The strips of one block, low and high on each axis in turn."""
    if not (spans_cross(block.x, hole.x) and spans_cross(block.y, hole.y) and spans_cross(block.z, hole.z)):
        yield block
        return
    common = {axis: (max(one[0], other[0]), min(one[1], other[1])) for axis, one, other in _pairs(block, hole)}
    rest: dict[Axis, Span] = {"x": block.x, "y": block.y, "z": block.z}
    for axis, (first, last) in common.items():
        low, high = rest[axis]
        for strip in ((low, first), (last, high)):
            if strip[1] - strip[0] > TOUCH_IN:
                yield Block(**{**rest, axis: strip})
        rest[axis] = (first, last)


def _pairs(one: Shape, other: Shape) -> tuple[tuple[Axis, Span, Span], ...]:
    """The spans of two shapes, axis by axis."""
    return ("x", one.x, other.x), ("y", one.y, other.y), ("z", one.z, other.z)
