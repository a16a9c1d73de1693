"""Where is everything, and what touches what? Bodies of blocks and rods, and a model of them; no trade words.

Inches. x, y and z are the axes of whoever builds the model.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Flag, auto
from typing import Literal

from kit.shapes import AXES, Axis, Point, Shape, overlap_depth
from kit.spans import TOUCH_IN, Span

__all__ = ["Body", "Gap", "Model", "Overlap", "Stage"]


class Stage(Flag):
    """When a body is there: before the work, while the base is open, and when all is built."""

    TODAY = auto()
    OPENED = auto()
    BUILT = auto()
    ALL = TODAY | OPENED | BUILT


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


def _is_free(first: Body, second: Body) -> bool:
    """Whether two bodies may cross: both are rooms, or one is a room that serves the other."""
    if first.room:
        return second.room or second.name in first.stands_on
    return second.room and first.name in second.stands_on
