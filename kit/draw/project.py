"""How do bodies look from somewhere: which stretches of their edges are seen, and which lie behind others? Exact for blocks."""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from kit.shapes import AXES, Axis, Block
from kit.solids import Body

__all__ = ["FROM_ABOVE", "FROM_FRONT", "FROM_LEFT", "ISOMETRIC", "Look", "Stroke", "project"]

Point = tuple[float, float, float]
Flat = tuple[float, float]
_HAIR_IN = 1e-4
_FAR_IN = 1e4
_EITHER_SIDE = (-_HAIR_IN, _HAIR_IN)


@dataclass(frozen=True, slots=True)
class Look:
    """A way to look: the directions to the right and up on the sheet, and towards the eye, each of length 1."""

    right: Point
    up: Point
    eye: Point

    def flat(self, point: Point) -> Flat:
        """Where a point lies on the sheet [in]."""
        return _dot(self.right, point), _dot(self.up, point)


_HALF, _SIXTH, _THIRD = math.sqrt(1 / 2), math.sqrt(1 / 6), math.sqrt(1 / 3)

FROM_FRONT = Look((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
FROM_ABOVE = Look((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
FROM_LEFT = Look((0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0))
ISOMETRIC = Look((_HALF, -_HALF, 0.0), (-_SIXTH, -_SIXTH, 2.0 * _SIXTH), (_THIRD, _THIRD, _THIRD))
"""From the front, the right and above, the same angle to all three axes (ISO 5456-3: isometric axonometry)."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A stretch of an edge of a body on the sheet [in]: seen, or hidden behind something."""

    body: Body
    start: Flat
    end: Flat
    hidden: bool


def project(bodies: Iterable[Body], look: Look) -> tuple[Stroke, ...]:
    """The edges of bodies made of blocks, cut where something comes before them; edges inside of a face are left out."""
    return _project(tuple(bodies), look)


@lru_cache(maxsize=32)
def _project(bodies: tuple[Body, ...], look: Look) -> tuple[Stroke, ...]:
    """Kept by the values of the bodies: a change of the job that moves none of them draws them again at once."""
    blocks = [(block, _frame(block, look), _nearest(block, look.eye)) for body in bodies for block in (*_blocks(body), *_seams(body))]
    strokes: dict[tuple[str, Flat, Flat], Stroke] = {}
    for body in bodies:
        for start, end in _creases(body):
            a, b = look.flat(start), look.flat(end)
            if math.dist(a, b) <= _HAIR_IN:
                continue
            room = (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
            farthest = min(_dot(start, look.eye), _dot(end, look.eye)) + _HAIR_IN
            spans = [
                _hidden_span(start, end, block, look.eye)
                for block, (left, lower, right, upper), nearest in blocks
                if nearest > farthest and room[0] < right and room[2] > left and room[1] < upper and room[3] > lower
            ]
            for low, high, hidden in _stretches(spans):
                stroke = Stroke(body, _between(a, b, low), _between(a, b, high), hidden)
                known = strokes.setdefault((body.name, _rounded(stroke.start), _rounded(stroke.end)), stroke)
                if known.hidden and not hidden:  # two edges of a body on one line of the sheet: what is seen counts
                    strokes[body.name, _rounded(stroke.start), _rounded(stroke.end)] = stroke
    return tuple(strokes.values())


def _rounded(flat: Flat) -> Flat:
    return round(flat[0], 4), round(flat[1], 4)


def _blocks(body: Body) -> list[Block]:
    return [shape for shape in body.shapes if isinstance(shape, Block)]


def _seams(body: Body) -> Iterator[Block]:
    """A sliver over each face in which two blocks of a body meet, so that no look slips through between them."""
    for one, other in itertools.combinations(_blocks(body), 2):
        common = [(max(a[0], b[0]), min(a[1], b[1])) for a, b in zip((one.x, one.y, one.z), (other.x, other.y, other.z), strict=True)]
        thin = [number for number, (low, high) in enumerate(common) if abs(high - low) <= _HAIR_IN / 2.0]
        if len(thin) == 1 and all(high - low > _HAIR_IN for number, (low, high) in enumerate(common) if number != thin[0]):
            middle = sum(common[thin[0]]) / 2.0
            common[thin[0]] = (middle - 2.0 * _HAIR_IN, middle + 2.0 * _HAIR_IN)
            yield Block(*common)


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _between(a: Flat, b: Flat, share: float) -> Flat:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _frame(block: Block, look: Look) -> tuple[float, float, float, float]:
    """The room of a block on the sheet, less a hair: what only touches hides nothing."""
    air = _HAIR_IN / 4.0
    xs, ys = zip(*(look.flat(corner) for corner in itertools.product(block.x, block.y, block.z)), strict=True)
    return min(xs) + air, min(ys) + air, max(xs) - air, max(ys) - air


def _nearest(block: Block, eye: Point) -> float:
    """How far towards the eye a block reaches; an edge that lies nearer can't be hidden by it."""
    return sum(max(low * towards, high * towards) for (low, high), towards in zip((block.x, block.y, block.z), eye, strict=True))


@lru_cache(maxsize=256)
def _creases(body: Body) -> tuple[tuple[Point, Point], ...]:
    return tuple(_find_creases(body))


def _find_creases(body: Body) -> Iterator[tuple[Point, Point]]:
    """Edges of the blocks of a body, in pieces, without those that lie in a face of all blocks together; each once."""
    blocks, seen = _blocks(body), set()
    for block, axis in itertools.product(blocks, AXES):
        one, other = [name for name in AXES if name != axis]
        low, high = getattr(block, axis)
        cuts = sorted({low, high} | {cut for each in blocks for cut in getattr(each, axis) if low < cut < high})
        for (first, last), a, b in itertools.product(itertools.pairwise(cuts), getattr(block, one), getattr(block, other)):
            place = (axis, round(first, 6), round(a, 6), round(b, 6))
            if place not in seen and (len(blocks) == 1 or _is_crease(blocks, {axis: (first + last) / 2.0, one: a, other: b}, one, other)):
                seen.add(place)
                yield _point({axis: first, one: a, other: b}), _point({axis: last, one: a, other: b})


def _point(at: dict[Axis, float]) -> Point:
    return at["x"], at["y"], at["z"]


def _is_crease(blocks: Sequence[Block], at: dict[Axis, float], one: Axis, other: Axis) -> bool:
    """Whether two faces meet there: of the four quarters around it an odd number is filled, or two that lie across."""
    filled = [_is_filled(blocks, *_point({**at, one: at[one] + da, other: at[other] + db})) for da in _EITHER_SIDE for db in _EITHER_SIDE]
    return sum(filled) in {1, 3} or filled in ([True, False, False, True], [False, True, True, False])


def _is_filled(blocks: Sequence[Block], x: float, y: float, z: float) -> bool:
    return any(b.x[0] <= x <= b.x[1] and b.y[0] <= y <= b.y[1] and b.z[0] <= z <= b.z[1] for b in blocks)


def _hidden_span(start: Point, end: Point, block: Block, eye: Point) -> Flat:
    """The stretch of an edge (shares 0 to 1) from which the way to the eye goes through a block; empty as (0, 0).

    Notes
    -----
    Along the edge t, and from there towards the eye s: each face of the block bounds a half of the plane (t, s). What is left of a large
    rectangle of that plane is convex, so its range of t is one stretch.
    """
    corners: list[Flat] = [(0.0, _HAIR_IN), (1.0, _HAIR_IN), (1.0, _FAR_IN), (0.0, _FAR_IN)]
    for number, (low, high) in enumerate((block.x, block.y, block.z)):
        from_in, along, towards = start[number], end[number] - start[number], eye[number]
        corners = _clip(corners, along, towards, low + _HAIR_IN - from_in)
        corners = _clip(corners, -along, -towards, from_in - high + _HAIR_IN)
        if not corners:
            return 0.0, 0.0
    return min(t for t, _ in corners), max(t for t, _ in corners)


def _clip(corners: list[Flat], along: float, towards: float, least: float) -> list[Flat]:
    """The part of a convex face in which `along` x t + `towards` x s is at least `least`."""
    values = [along * t + towards * s - least for t, s in corners]
    if all(value >= 0.0 for value in values):
        return corners
    corners_left = []
    for number, (corner, value) in enumerate(zip(corners, values, strict=True)):
        before, value_before = corners[number - 1], values[number - 1]
        if (value >= 0.0) != (value_before >= 0.0):
            corners_left.append(_between(before, corner, value_before / (value_before - value)))
        if value >= 0.0:
            corners_left.append(corner)
    return corners_left


def _stretches(spans: Sequence[Flat]) -> Iterator[tuple[float, float, bool]]:
    """From 0 to 1 in stretches that are seen or hidden, in order."""
    at = 0.0
    merged: list[list[float]] = []
    for low, high in sorted(span for span in spans if span[1] - span[0] > 1e-6):
        if merged and low <= merged[-1][1] + 1e-6:
            merged[-1][1] = max(merged[-1][1], high)
        else:
            merged.append([low, high])
    for low, high in merged:
        if low - at > 1e-6:
            yield at, low, False
        yield low, high, True
        at = high
    if 1.0 - at > 1e-6:
        yield at, 1.0, False
