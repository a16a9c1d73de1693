"""Where is the paper blank? Small squares in which something lies, as rows of bits, so that a place is asked in a microsecond."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

__all__ = ["PaperCells", "crosses"]

CELL = 5.0
_FARTHEST = 20_000.0
"""Nothing further away is kept [px]: no drawing is so large."""
_LEFTMOST = int(_FARTHEST // CELL)
"""So many squares left of zero have a bit of their own."""

Box = tuple[float, float, float, float]


class PaperCells:
    """Squares of `CELL` pixels; a square counts as a whole when anything reaches into it. Where that is too coarse, lines are known exactly."""

    __slots__ = ("_across", "_rows", "_upright")

    def __init__(self) -> None:
        self._rows: dict[int, int] = {}
        self._across: dict[int, list[Box]] = {}  # from and to of level lines and slopes, by each row of squares that they reach into
        self._upright: dict[int, list[Box]] = {}  # of upright ones, by column

    def add_box(self, edges: Box, but: Sequence[Box] = ()) -> None:
        """All squares that a box reaches into, but for those well within the boxes laid into it."""
        left, upper, right, lower = _squares(edges)
        bare = [_squares((one[0] + CELL, one[1] + CELL, one[2] - CELL, one[3] - CELL)) for one in but]
        whole, rows = _bits(left, right), self._rows
        for y in range(upper, lower + 1):
            bits = whole
            for x0, y0, x1, y1 in bare:
                if x0 <= x1 and y0 <= y <= y1:
                    bits &= ~_bits(x0, x1)
            rows[y] = rows.get(y, 0) | bits

    def add_line(self, points: Sequence[tuple[float, float]]) -> None:
        """The squares along a line through points."""
        for (x0, y0), (x1, y1) in pairwise([(_held(x), _held(y)) for x, y in points]):
            line = (x0, y0, x1, y1)
            if x0 == x1:
                self._upright.setdefault(int(x0 // CELL), []).append(line)
            else:
                for row in range(int(min(y0, y1) // CELL), int(max(y0, y1) // CELL) + 1):
                    self._across.setdefault(row, []).append(line)
            if x0 == x1 or y0 == y1:
                self.add_box((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))
                continue
            steps = math.ceil(max(abs(x1 - x0), abs(y1 - y0)) / CELL * 2.0)
            for step in range(steps + 1):
                x, y = int((x0 + (x1 - x0) * step / steps) // CELL), int((y0 + (y1 - y0) * step / steps) // CELL)
                self._rows[y] = self._rows.get(y, 0) | _bits(x, x)

    def is_crossed(self, edges: Box) -> bool:
        """Whether a line goes through a box; a hatch does not."""
        return any(self.crossing(edges))

    def crossing(self, edges: Box) -> Iterator[bool]:
        """Whether each line near a box goes through it, a slope once in each row of squares."""
        if not self.is_in(edges):
            return
        left, upper, right, lower = _squares(edges)
        for lines, first, last in ((self._across, upper, lower), (self._upright, left, right)):
            for at in range(first, last + 1):
                for line in lines.get(at, ()):
                    yield crosses(line, edges)

    def count(self, edges: Box) -> int:
        """How many of these squares a box reaches into."""
        left, upper, right, lower = _squares(edges)
        bits, rows = _bits(left, right), self._rows
        return sum((rows.get(y, 0) & bits).bit_count() for y in range(upper, lower + 1))

    def is_in(self, edges: Box) -> bool:
        """Whether a box reaches into one of these squares."""
        left, upper, right, lower = edges
        if not (-_FARTHEST < left <= right < _FARTHEST and -_FARTHEST < upper <= lower < _FARTHEST):
            return self.count(edges) > 0
        first, rows = int(left // CELL), self._rows
        bits = ((1 << (int(right // CELL) - first + 1)) - 1) << (first + _LEFTMOST)
        for y in range(int(upper // CELL), int(lower // CELL) + 1):  # noqa: SIM110 - asked thousands of times a drawing
            if y in rows and rows[y] & bits:
                return True
        return False

    def count_at(self, x: float, y: float) -> int:
        """1 where a point lies in one of these squares, else 0."""
        if -_FARTHEST < x < _FARTHEST and -_FARTHEST < y < _FARTHEST:
            return self._rows.get(int(y // CELL), 0) >> (int(x // CELL) + _LEFTMOST) & 1
        return self.count((x, y, x, y))


def crosses(line: Box, box: Box) -> bool:
    """Whether a straight line, given by the place where it begins and that where it ends, goes through a box."""
    x0, y0, x1, y1 = line
    left, upper, right, lower = box
    if x0 <= left >= x1 or x0 >= right <= x1 or y0 <= upper >= y1 or y0 >= lower <= y1:
        return False
    if x0 == x1 or y0 == y1:
        return True
    sides = [(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for x in (left, right) for y in (upper, lower)]
    return min(sides) < 0.0 < max(sides)


def _squares(edges: Box) -> tuple[int, int, int, int]:
    left, upper, right, lower = edges
    if -_FARTHEST < left <= right < _FARTHEST and -_FARTHEST < upper <= lower < _FARTHEST:
        return int(left // CELL), int(upper // CELL), int(right // CELL), int(lower // CELL)
    return int(_held(left) // CELL), int(_held(upper) // CELL), int(_held(right) // CELL), int(_held(lower) // CELL)


def _held(at: float) -> float:
    """A place within what is kept; one that is no number lies at its end."""
    return at if -_FARTHEST < at < _FARTHEST else max(-_FARTHEST, min(_FARTHEST, at))


def _bits(left: int, right: int) -> int:
    """The bits of the squares from one to another in a row."""
    return ((1 << (right - left + 1)) - 1) << (left + _LEFTMOST) if right >= left else 0
