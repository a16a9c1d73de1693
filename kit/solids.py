"""Where is everything, and what touches what? Bare geometry: blocks, rods, bodies and a model of them; no trade words.

Inches. x, y and z are the axes of whoever builds the model; every block lies along them.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Flag, auto
from typing import Literal

__all__ = ["AXES", "TOUCH_IN", "Axis", "Block", "Body", "Gap", "Model", "Overlap", "Rod", "Shape", "Span", "Stage"]
__all__ += ["about", "carve", "free_spans", "grown", "length_of", "lies_inside", "overlap_depth", "spans_cross"]

Axis = Literal["x", "y", "z"]
Span = tuple[float, float]
Point = tuple[float, float, float]
AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")

TOUCH_IN = 1e-6
"""Faces this close touch: far below what a tape reads, far above the error of the arithmetic."""


class Stage(Flag):
    """When a body is there: before the work, while the base is open, and when all is built."""

    TODAY = auto()
    OPENED = auto()
    BUILT = auto()
    ALL = TODAY | OPENED | BUILT


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


@dataclass(frozen=True, slots=True)
class Body:
    """One thing in the model.

    Parameters
    ----------
    name
        Stable and unique in its stage: "side cleat left".
    part
        The word by which findings and drawings mark it: "frame".
    shapes
        What it is made of. An opening is a gap between shapes.
    stages
        When it is there.
    room
        Room for a swing, a wrench or a hand: no solid may enter it, rooms may cross.
    stands_on
        Names of what it stands on or hangs from, down to the floor. A room names what it serves: that stands in it by right.
    item
        For a member that is cut: its item in the lists; `along` is the axis of its length.
    fields
        The measures of the job that fix its place: "cabinet.width".
    """

    name: str
    part: str
    shapes: tuple[Shape, ...]
    stages: Stage = Stage.ALL
    room: bool = False
    stands_on: tuple[str, ...] = ()
    item: str = ""
    along: Axis = "x"
    fields: tuple[str, ...] = ()
    spans: Mapping[Axis, Span] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Work out the spans of the whole body once."""
        (first, *more) = self.shapes
        spans: dict[Axis, Span] = {"x": first.x, "y": first.y, "z": first.z}
        if more:
            xs, ys, zs = zip(*((shape.x, shape.y, shape.z) for shape in self.shapes), strict=True)
            spans = {"x": _whole(xs), "y": _whole(ys), "z": _whole(zs)}
        object.__setattr__(self, "spans", spans)

    def is_at(self, stage: Stage) -> bool:
        """Whether it is there at a stage."""
        mine = self.stages
        return mine is stage or mine is Stage.ALL or bool(mine & stage)  # asked a thousand times an estimate: `&` of flags is slow

    def span(self, axis: Axis) -> Span:
        """From its lowest to its highest point on an axis [in]."""
        return self.spans[axis]

    def size_in(self, axis: Axis) -> float:
        """Its size on an axis [in]."""
        low, high = self.spans[axis]
        return high - low

    @property
    def middle(self) -> Point:
        """The middle of its spans [in]."""
        x, y, z = (sum(self.spans[axis]) / 2.0 for axis in AXES)
        return x, y, z

    @property
    def length_in(self) -> float:
        """Length of a member, along its own axis [in]."""
        return self.size_in(self.along)


@dataclass(frozen=True, slots=True)
class Gap:
    """A distance between two bodies along an axis [in], negative where they pass each other; where it runs, and the measures that fix it."""

    value_in: float
    axis: Axis
    span: Span
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two bodies that want the same place: how deep one stands in the other [in], the least of all ways out."""

    first: Body
    second: Body
    depth_in: float

    @property
    def fields(self) -> tuple[str, ...]:
        """The measures that fix the two."""
        return tuple(dict.fromkeys((*self.first.fields, *self.second.fields)))


@dataclass(frozen=True, slots=True)
class Model:
    """All bodies of one job, in the order in which they were placed."""

    bodies: tuple[Body, ...] = ()
    _named: Mapping[str, Body] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Index the bodies by name. Raises ValueError if two bodies have one name."""
        named: dict[str, Body] = {}
        for body in self.bodies:
            if named.setdefault(body.name, body) is not body:
                raise ValueError(f'Two bodies are called "{body.name}".')
        object.__setattr__(self, "_named", named)

    def __getitem__(self, name: str) -> Body:
        """The body of that name; KeyError where there is none."""
        return self._named[name]

    def __contains__(self, name: str) -> bool:
        """Whether a body has that name."""
        return name in self._named

    def __iter__(self) -> Iterator[Body]:
        """The bodies, as placed."""
        return iter(self.bodies)

    def __add__(self, more: Iterable[Body]) -> "Model":
        """The model with more bodies."""
        return Model((*self.bodies, *more))

    def at(self, stage: Stage) -> tuple[Body, ...]:
        """What is there at a stage."""
        return tuple(body for body in self.bodies if body.is_at(stage))

    def of_part(self, part: str, stage: Stage = Stage.ALL) -> tuple[Body, ...]:
        """The bodies of a part."""
        return tuple(body for body in self.bodies if body.part == part and body.is_at(stage))

    def members(self, item: str = "") -> tuple[Body, ...]:
        """What is cut from an item of the lists; without one, all that is cut."""
        return tuple(body for body in self.bodies if body.item and item in {"", body.item})

    def gap(self, first: str, second: str, axis: Axis, *, to: Literal["near", "middle", "far"] = "near") -> Gap:
        """The distance between two bodies along an axis, whichever comes first on it.

        From the face of the first that looks at the second: to the second's near face (the clear distance), its middle or its far face.
        """
        one, other = self._named[first], self._named[second]
        ahead = sum(other.span(axis)) >= sum(one.span(axis))
        start = one.span(axis)[1] if ahead else one.span(axis)[0]
        low, high = other.span(axis)
        end = {"near": low if ahead else high, "middle": (low + high) / 2.0, "far": high if ahead else low}[to]
        value_in = end - start if ahead else start - end
        return Gap(value_in, axis, (min(start, end), max(start, end)), tuple(dict.fromkeys((*one.fields, *other.fields))))

    def size(self, name: str, axis: Axis) -> Gap:
        """The size of a body on an axis, from face to face."""
        body = self._named[name]
        return Gap(body.size_in(axis), axis, body.span(axis), body.fields)

    def overlaps(self, stage: Stage) -> list[Overlap]:
        """Every two bodies of a stage that want the same place; two rooms never do, nor a room and what it serves."""
        overlaps = []
        rows = sorted((_low_and_high(body) for body in self.at(stage)), key=lambda row: row[0])
        for number, (_, x_high, y_low, y_high, z_low, z_high, first) in enumerate(rows, 1):
            for x_first, _, y_first, y_last, z_first, z_last, second in rows[number:]:
                if x_first >= x_high:
                    break
                if y_first >= y_high or z_first >= z_high or y_last <= y_low or z_last <= z_low or _is_free(first, second):
                    continue
                depth_in = max([overlap_depth(one, other) for one in first.shapes for other in second.shapes])
                if depth_in > TOUCH_IN:
                    overlaps.append(Overlap(first, second, depth_in))
        return overlaps

    def path_down(self, name: str, ground: Sequence[str]) -> tuple[str, ...]:
        """Names on the way of the load from a body down to the ground, each once; ends without ground where the path breaks."""
        seen: dict[str, None] = {}
        open_names = [name]
        while open_names:
            current = open_names.pop(0)
            if current in seen:
                continue
            seen[current] = None
            if current not in ground and current in self._named:
                open_names.extend(self._named[current].stands_on)
        return tuple(seen)


def _whole(spans: Sequence[Span]) -> Span:
    return min([low for low, _ in spans]), max([high for _, high in spans])


def _low_and_high(body: Body) -> tuple[float, float, float, float, float, float, Body]:
    """Where a body begins and ends on each axis, ends less a touch; thousands of pairs an estimate are told apart by these alone."""
    (x, xx), (y, yy), (z, zz) = body.spans.values()
    return x, xx - TOUCH_IN, y, yy - TOUCH_IN, z, zz - TOUCH_IN, body


def spans_cross(one: Span, other: Span) -> bool:
    """Whether two spans have more in common than a touch."""
    (low, high), (first, last) = one, other
    return high - first > TOUCH_IN and last - low > TOUCH_IN and high - low > TOUCH_IN and last - first > TOUCH_IN


def length_of(span: Span) -> float:
    """From the low end of a span to its high one [in]."""
    return span[1] - span[0]


def about(middle_in: float, wide_in: float) -> Span:
    """A span of so much with a place in its middle [in]."""
    return middle_in - wide_in / 2.0, middle_in + wide_in / 2.0


def lies_inside(at_in: float, span: Span) -> bool:
    """Whether a place is farther than a touch from both ends of a span, and between them [in].

    Examples
    --------
    >>> [lies_inside(at_in, (2.0, 5.0)) for at_in in (1.0, 2.0, 2.1, 5.0, 6.0)]
    [False, False, True, False, False]
    """
    return min(at_in - span[0], span[1] - at_in) > TOUCH_IN


def grown(span: Span, by_in: float) -> Span:
    """A span and as much again at both ends [in]."""
    return span[0] - by_in, span[1] + by_in


def free_spans(within: Span, taken: Iterable[Span]) -> list[Span]:
    """What some spans leave free of another one, in its order [in]; what is no wider than a touch is none.

    Examples
    --------
    >>> free_spans((0.0, 10.0), [(6.0, 7.0), (2.0, 3.0), (2.5, 4.0), (9.0, 12.0)])
    [(0.0, 2.0), (4.0, 6.0), (7.0, 9.0)]
    """
    free, (low_in, end_in) = list[Span](), within
    for first, last in (*sorted(taken), (end_in, end_in)):
        gap = low_in, min(first, end_in)
        if spans_cross(gap, within):
            free.append(gap)
        low_in = max(low_in, last)
    return free


def _is_free(first: Body, second: Body) -> bool:
    """Whether two bodies may cross: both are rooms, or one is a room that serves the other."""
    if first.room:
        return second.room or second.name in first.stands_on
    return second.room and first.name in second.stands_on


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
