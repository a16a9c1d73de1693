"""Names of parts: where there is room they stand on the part, else in a column beside the drawing with a leader."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kit.draw.ink import Ink
from kit.draw.lettering import SIZE, measure_text, wrap_text
from kit.draw.marks import Mark
from kit.draw.spread import Box, spread_column
from kit.draw.strokes import write_sign

__all__ = ["Name", "draw_column", "place_inside"]

LINE = 13.5
COLUMN = 190.0
AWAY = 26.0
SIGN = 14.0
INSIDE_LINES = 3


@dataclass(frozen=True, slots=True)
class Name:
    """A name, the point it means, the side its leader may go to (None: the nearer), and the free room round the point (width, height) [px]."""

    part: str
    words: str
    x: float
    y: float
    side: Literal["left", "right"] | None
    room: tuple[float, float] | None = None
    bold: bool = False


def place_inside(ink: Ink, name: Name) -> bool:
    """Write a name round its point; False when it does not fit there or would touch other words."""
    if name.room is None:
        return False
    wide, tall = name.room
    lines = wrap_text(name.words, wide - 4.0)
    if len(lines) <= INSIDE_LINES and " ".join(lines) == name.words:
        half, high = max(measure_text(line) for line in lines) / 2.0 + 2.0, LINE * len(lines)
        if high <= tall and ink.is_free((name.x - half, name.y - high / 2.0, name.x + half, name.y + high / 2.0)):
            for number, line in enumerate(lines):
                ink.put(line, name.x, name.y + LINE * (number - (len(lines) - 1) / 2.0), anchor="middle", bold=name.bold)
            return True
    long, thick = measure_text(name.words) + 4.0, SIZE * 1.2
    if thick <= wide and long <= tall and ink.is_free((name.x - thick / 2.0, name.y - long / 2.0, name.x + thick / 2.0, name.y + long / 2.0)):
        ink.put(name.words, name.x, name.y, turned=True, bold=name.bold)
        return True
    return False


def draw_column(ink: Ink, names: Sequence[Name], marks: Mapping[int, Mark], side: Literal["left", "right"], within: Box) -> None:
    """Names in a column, in the order of the points they mean, so that leaders don't cross without need.

    Parameters
    ----------
    ink
        The sheet, dimensions already on it.
    names
        Names of this side.
    marks
        Mark to write below a name, by its place in `names`.
    side
        Side of the column.
    within
        What was drawn before the dimensions: the column starts beside it, no higher and no lower as far as there is room.
    """
    left, _, right, _ = ink.edges
    way, edge = (1.0, right + AWAY) if side == "right" else (-1.0, left - AWAY)
    order = sorted(range(len(names)), key=lambda n: (names[n].y, -way * names[n].x, n))
    lines = [wrap_text(names[n].words, COLUMN) for n in order]
    told = [wrap_text(marks[n].words, COLUMN - SIGN) if n in marks else () for n in order]
    heights = [LINE * (len(plain) + len(marked)) + 6.0 for plain, marked in zip(lines, told, strict=True)]
    wished = [min(max(names[n].y, within[1]), within[3]) for n in order]
    for n, plain, marked, centre in zip(order, lines, told, spread_column(wished, heights), strict=True):
        upper = centre - LINE * (len(plain) + len(marked) - 1) / 2.0
        _draw_leader(ink, names[n], edge, upper, way)
        for number, line in enumerate(plain):
            ink.put(line, edge, upper + LINE * number, anchor="start" if way > 0 else "end", bold=n in marks)
        for number, line in enumerate(marked, len(plain)):
            start = edge if way > 0 else edge - SIGN - measure_text(line)
            if number == len(plain):
                ink.texts.append(write_sign(marks[n].level, start + 5.0, upper + LINE * number))
            ink.put(line, start + SIGN, upper + LINE * number, bold=True)


def _draw_leader(ink: Ink, name: Name, edge: float, y: float, way: float) -> None:
    ink.stroke(f"M{edge - way * 4.0:.1f} {y:.1f}L{edge - way * 12.0:.1f} {y:.1f}L{name.x:.1f} {name.y:.1f}", 'stroke-width=".55"')
    ink.stroke(f"M{name.x - 1.8:.1f} {name.y:.1f}a1.8 1.8 0 1 1 3.6 0a1.8 1.8 0 1 1 -3.6 0Z", 'fill="currentColor" stroke="none"')
