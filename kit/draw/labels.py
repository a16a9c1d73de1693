"""Where do dimensions and names go so that none touches another? Tiers beside the drawing, columns of names with leaders."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kit.draw.ink import Box, Ink, write_sign
from kit.draw.lettering import SIZE, measure_text, wrap_text
from kit.draw.marks import Mark

__all__ = ["Name", "Side", "Size", "draw_column", "draw_sizes", "pack_tiers", "place_inside", "spread_column"]

Side = Literal["left", "right", "above", "below"]

FIRST_TIER, TIER = 20.0, 18.0
AIR = 6.0
LINE = 13.5
COLUMN = 190.0
AWAY = 26.0
SIGN = 14.0
INSIDE_LINES = 3


@dataclass(frozen=True, slots=True)
class Size:
    """One dimension: from and to along its axis, where its thin lines start across it, and its words [px]."""

    low: float
    high: float
    start: float
    words: str

    def span(self, *, before: bool) -> tuple[float, float]:
        """Room along the tier, the words included where they stand beside the ticks: before the first or after the last."""
        width = measure_text(self.words) + AIR
        if self.high - self.low >= width + AIR:
            return self.low, self.high
        return (self.low - width - AIR, self.high) if before else (self.low, self.high + width + AIR)


def draw_sizes(ink: Ink, sizes: Mapping[Side, Sequence[Size]]) -> None:
    """Put all dimensions round what is drawn, the short ones nearest."""
    left, upper, right, lower = ink.edges
    bases = {"left": (left, -1.0), "right": (right, 1.0), "above": (upper, -1.0), "below": (lower, 1.0)}
    for side, mine in sizes.items():
        flat = side in ("above", "below")
        base, way = bases[side]
        centre = (left + right) / 2.0 if flat else (upper + lower) / 2.0
        spans = [size.span(before=size.low + size.high > 2.0 * centre) for size in mine]  # words beside their ticks stand inwards
        tiers = pack_tiers(spans, [size.high - size.low for size in mine], AIR)
        for size, span, tier in zip(mine, spans, tiers, strict=True):
            _draw_size(ink, size, span, base + way * (FIRST_TIER + TIER * tier), way, flat=flat)


def _draw_size(ink: Ink, size: Size, span: tuple[float, float], at: float, way: float, *, flat: bool) -> None:
    width = measure_text(size.words)
    before, after = span[0] < size.low, span[1] > size.high
    middle = span[0] + width / 2.0 if before else span[1] - width / 2.0 if after else (size.low + size.high) / 2.0
    first, last = size.low - AIR * before, size.high + AIR * after
    start, end = size.start + way * 3.0, at + way * 4.0
    if flat:
        path = f"M{first:.1f} {at:.1f}H{last:.1f}M{size.low:.1f} {start:.1f}V{end:.1f}M{size.high:.1f} {start:.1f}V{end:.1f}"
        ticks = f"M{size.low - 3.0:.1f} {at + 3.0:.1f}l6 -6M{size.high - 3.0:.1f} {at + 3.0:.1f}l6 -6"
    else:
        path = f"M{at:.1f} {first:.1f}V{last:.1f}M{start:.1f} {size.low:.1f}H{end:.1f}M{start:.1f} {size.high:.1f}H{end:.1f}"
        ticks = f"M{at - 3.0:.1f} {size.low + 3.0:.1f}l6 -6M{at - 3.0:.1f} {size.high + 3.0:.1f}l6 -6"
    ink.stroke(path, 'stroke-width=".6"')
    ink.stroke(ticks, 'stroke-width="1.5"')
    ink.stretch((middle, end, middle, end) if flat else (end, middle, end, middle))
    x, y = (middle, at) if flat else (at, middle)
    ink.put(size.words, x, y, anchor="middle", turned=not flat)


def pack_tiers(spans: Sequence[tuple[float, float]], lengths: Sequence[float], gap: float) -> tuple[int, ...]:
    """The tier of each span, 0 nearest the drawing: short ones first, so that long dimensions stand outside.

    Parameters
    ----------
    spans
        From and to of each [px].
    lengths
        What is dimensioned, without the room of its words; the order in which tiers are filled [px].
    gap
        Air wanted between two spans of one tier [px].
    """
    tiers: list[list[tuple[float, float]]] = []
    places = [0] * len(spans)
    for number in sorted(range(len(spans)), key=lambda n: (round(lengths[n], 3), n)):
        low, high = spans[number]
        free = (n for n, tier in enumerate(tiers) if all(high + gap <= first or last + gap <= low for first, last in tier))
        place = next(free, len(tiers))
        if place == len(tiers):
            tiers.append([])
        tiers[place].append((low, high))
        places[number] = place
    return tuple(places)


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
    marked_lines = [wrap_text(marks[n].words, COLUMN - SIGN) if n in marks else () for n in order]
    heights = [LINE * (len(plain) + len(marked)) + 6.0 for plain, marked in zip(lines, marked_lines, strict=True)]
    wished = [min(max(names[n].y, within[1]), within[3]) for n in order]
    for n, plain, marked, centre in zip(order, lines, marked_lines, spread_column(wished, heights), strict=True):
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


def spread_column(wanted: Sequence[float], heights: Sequence[float]) -> tuple[float, ...]:
    """Centres of labels in a column, in the given order, none touching the next, each as near its wish as can be.

    Parameters
    ----------
    wanted
        Wished centres [px], ascending.
    heights
        Height of each label, its air included [px].

    Notes
    -----
    Least sum of squared moves: labels that would touch form a block, which stands where its mean move is zero.
    """
    blocks: list[tuple[float, float, list[int]]] = []  # sum of wishes for the block's upper edge, height, labels
    for number, (wish, height) in enumerate(zip(wanted, heights, strict=True)):
        total, tall, mine = wish - height / 2.0, height, [number]
        while blocks and blocks[-1][0] / len(blocks[-1][2]) + blocks[-1][1] > total / len(mine):
            before_total, before_tall, before = blocks.pop()
            total += before_total - before_tall * len(mine)
            tall += before_tall
            mine = before + mine
        blocks.append((total, tall, mine))
    centres = [0.0] * len(wanted)
    for total, _, mine in blocks:
        upper = total / len(mine)
        for number in mine:
            centres[number] = upper + heights[number] / 2.0
            upper += heights[number]
    return tuple(centres)
