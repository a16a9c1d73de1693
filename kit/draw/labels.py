"""Where do dimensions and names go so that none touches another? Tiers beside the drawing, columns of names with leaders."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kit.draw.ink import Box, Ink
from kit.draw.lettering import SIZE, letter_of, measure_text, wrap_text

__all__ = ["Name", "Side", "Size", "draw_column", "draw_letters", "draw_sizes", "pack_tiers", "place_inside", "spread_column"]

Side = Literal["left", "right", "above", "below"]

FIRST_TIER, TIER = 20.0, 18.0
AIR = 6.0
LINE = 13.5
COLUMN = 150.0
AWAY = 26.0
INSIDE_LINES = 3


@dataclass(frozen=True, slots=True)
class Size:
    """One dimension: from and to along its axis, where its thin lines start across it [px], its words, and the measures that fix it."""

    low: float
    high: float
    start: float
    words: str
    fields: tuple[str, ...] = ()

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
    ink.put(size.words, x, y, anchor="middle", turned=not flat, fields=size.fields)


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


def draw_column(ink: Ink, names: Sequence[Name], side: Literal["left", "right"], within: Box) -> None:
    """Names in a column, in the order of the points they mean, so that leaders don't cross without need.

    Parameters
    ----------
    ink
        The sheet, dimensions already on it.
    names
        Names of this side.
    side
        Side of the column.
    within
        What was drawn before the dimensions: the column starts beside it, no higher and no lower as far as there is room.
    """
    left, _, right, _ = ink.edges
    way, edge = (1.0, right + AWAY) if side == "right" else (-1.0, left - AWAY)
    order = sorted(range(len(names)), key=lambda n: (names[n].y, -way * names[n].x, n))
    lines = [wrap_text(names[n].words, COLUMN) for n in order]
    heights = [LINE * len(plain) + 6.0 for plain in lines]
    wished = [min(max(names[n].y, within[1]), within[3]) for n in order]
    for n, plain, centre in zip(order, lines, spread_column(wished, heights), strict=True):
        upper = centre - LINE * (len(plain) - 1) / 2.0
        _draw_leader(ink, names[n], edge, upper, way)
        for number, line in enumerate(plain):
            ink.put(line, edge, upper + LINE * number, anchor="start" if way > 0 else "end", bold=names[n].bold)


def draw_letters(ink: Ink, names: Sequence[Name]) -> tuple[tuple[str, str], ...]:
    """A letter near the point that each name means, from left to right and top to bottom; gives each letter with its words.

    One letter stands for all names of the same words.
    """
    key: dict[str, str] = {}
    for name in sorted(names, key=lambda name: (round(name.x), name.y)):
        letter = key.setdefault(name.words, letter_of(len(key)))
        half = measure_text(letter) / 2.0 + 2.0
        x, y = _near(ink, name, half)
        ink.stroke(f"M{x:.1f} {y:.1f}L{name.x:.1f} {name.y:.1f}", 'stroke-width=".55"')
        ink.stroke(f"M{name.x - 1.8:.1f} {name.y:.1f}a1.8 1.8 0 1 1 3.6 0a1.8 1.8 0 1 1 -3.6 0Z", 'fill="currentColor" stroke="none"')
        ink.put(letter, x, y, anchor="middle", bold=True)
    return tuple((letter, words) for words, letter in key.items())


_WAYS = ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (0.0, -1.4), (0.0, 1.4), (1.4, 0.0), (-1.4, 0.0))


def _near(ink: Ink, name: Name, half: float) -> tuple[float, float]:
    """The nearest place round a point where a letter touches no words."""
    for far in range(10, 200, 6):
        for right, down in _WAYS:
            x, y = name.x + right * far, name.y + down * far
            if ink.is_free((x - half, y - LINE / 2.0, x + half, y + LINE / 2.0)):
                return x, y
    return name.x + 200.0, name.y


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
