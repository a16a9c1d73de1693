"""Where do names go so that none touches another? In what they name, on blank paper near it, or in columns beside the drawing, with leaders."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise
from typing import Literal

from kit.draw.ink import Box, Ink
from kit.draw.lettering import SIZE, letter_of, measure_text, wrap_text

__all__ = ["Keyed", "Name", "draw_column", "draw_letters", "place_inside", "place_near", "spread_column"]

LINE = 13.5
COLUMN = 150.0
AWAY = 26.0
INSIDE_LINES = 3
NEAREST, FARTHEST, STEP = 10.0, 150.0, 12.0
"""How near and how far from its point a name may stand on blank paper [px]."""
NARROW = (180.0, 110.0)
AIR = 12.0
EDGE = 2.5
"""Between words and the edge of what they stand in, at least [px]."""
_SHARES = (0.0, -0.33, 0.33, -0.66, 0.66, -1.0, 1.0)
_CLEAR = (SIZE * 0.6, SIZE * 0.5)
"""How far the middle of words in a column stands from a line, and where there is no such place [px]."""
_BENDS = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where a leader may bend on its way from the column to its point."""
_DIRECTIONS = [
    (right, down, max(-1.0, min(1.0, 2.0 * right)), max(-1.0, min(1.0, 2.0 * down)))
    for right, down in ((math.cos(step * math.pi / 8.0), math.sin(step * math.pi / 8.0)) for step in range(16))
]
"""Ways from a point: to the right, down, and where a box's middle lies beyond its nearest spot [of half its width and height]."""

Keyed = tuple[str, str, tuple[str, ...]]
"""A letter, the words it stands for, and the job's fields that they say."""


@dataclass(frozen=True, slots=True)
class Name:
    """A name, the point it means, its leader's side (None: the nearer), the free room round the point (width, height) [px], and the fields that it says."""

    part: str
    words: str
    x: float
    y: float
    side: Literal["left", "right"] | None
    room: tuple[float, float] | None = None
    bold: bool = False
    fields: tuple[str, ...] = ()


def place_inside(ink: Ink, name: Name) -> bool:
    """Write a name round its point; False when it does not fit there or would touch other words."""
    if name.room is None:
        return False
    wide, tall = name.room
    for lines in dict.fromkeys(wrap_text(name.words, width - 2.0 * EDGE) for width in (wide, wide / 2.0)):
        half, high = max(measure_text(line) for line in lines) / 2.0 + EDGE, LINE * len(lines) / 2.0
        if len(lines) <= INSIDE_LINES and " ".join(lines) == name.words:
            for x, y in _spots_inside(name, wide / 2.0 - half, tall / 2.0 - high):
                if ink.is_clear((x - half, y - high, x + half, y + high)):
                    _write_lines(ink, name, lines, x, y)
                    return True
    long, thick = measure_text(name.words) / 2.0 + EDGE, SIZE * 0.6
    for x, y in _spots_inside(name, wide / 2.0 - thick, tall / 2.0 - long):
        if ink.is_clear((x - thick, y - long, x + thick, y + long)):
            ink.put(name.words, x, y, turned=True, bold=name.bold, fields=name.fields)
            return True
    return False


def _spots_inside(name: Name, aside: float, along: float) -> Iterator[tuple[float, float]]:
    """Middles for words that may move so far to each side of their point, the point first; none where they don't fit."""
    if min(aside, along) >= 0.0:
        shares = sorted(((right, down) for right in _SHARES for down in _SHARES), key=lambda share: abs(share[0] * aside) + abs(share[1] * along))
        yield from ((name.x + right * aside, name.y + down * along) for right, down in shares)


def _write_lines(ink: Ink, name: Name, lines: Sequence[str], x: float, y: float) -> None:
    """Lines of words, one below the other, their middle at a point."""
    for number, line in enumerate(lines):
        ink.put(line, x, y + LINE * (number - (len(lines) - 1) / 2.0), anchor="middle", bold=name.bold, fields=name.fields)


def place_near(ink: Ink, name: Name, within: Box) -> bool:
    """Write a name on blank paper near its point, inside of what was drawn, with a leader; False where there is none."""
    best: tuple[float, tuple[str, ...], float, float] | None = None
    for lines in dict.fromkeys(wrap_text(name.words, width) for width in NARROW):
        half, high = max(measure_text(line) for line in lines) / 2.0 + 2.0, LINE * len(lines) / 2.0
        for far, x, y in _spots_near(name, half, high, within):
            if best is not None and far >= best[0]:
                break
            box = (x - half, y - high, x + half, y + high)
            if ink.lined.is_in(box) or ink.ahead.is_in(box) or not ink.is_free(_with_air(box)):
                continue
            crossed = _crossed_by(ink, name, box)
            if crossed is not None and far + 3.0 * crossed < (FARTHEST if best is None else best[0]):
                best = (far + 3.0 * crossed, lines, x, y)
    if best is None:
        return False
    _, lines, x, y = best
    first = len(ink.taken)
    _write_lines(ink, name, lines, x, y)
    starts = [(min(max(name.x, box[0] - 3.0), box[2] + 3.0), min(max(name.y, box[1]), box[3])) for box in ink.taken[first:]]
    _draw_line_to(ink, name, min(starts, key=lambda start: math.dist(start, (name.x, name.y))))
    return True


def _with_air(box: Box) -> Box:
    """A box with the room that keeps its words from being read on into its neighbor's."""
    return box[0] - AIR, box[1] - 2.0, box[2] + AIR, box[3] + 2.0


def _spots_near(name: Name, half: float, high: float, within: Box) -> Iterator[tuple[float, float, float]]:
    """Centers for a box of half width and height round a point and inside of what was drawn, with their distance, the nearest first."""
    left, upper, right, lower = within
    ways = [(across, down, half * aside, high * below) for across, down, aside, below in _DIRECTIONS]
    far = NEAREST if 2.0 * half < right - left else FARTHEST
    while far < FARTHEST:
        for across, down, aside, below in ways:
            x = name.x + across * far + aside
            if left < x - half and x + half < right:
                y = name.y + down * far + below
                if upper < y - high and y + high < lower:
                    yield far, x, y
        far += STEP


def _crossed_by(ink: Ink, name: Name, box: Box) -> int | None:
    """How many lines a leader from a box to the point of its name crosses, about; None where it would cross words."""
    x0, y0 = min(max(name.x, box[0]), box[2]), min(max(name.y, box[1]), box[3])
    steps = max(1, math.ceil(math.dist((x0, y0), (name.x, name.y)) / 4.0))
    spots = [(x0 + (name.x - x0) * step / steps, y0 + (name.y - y0) * step / steps) for step in range(steps)]
    if any(ink.worded.count_at(x, y) for x, y in spots):
        return None
    return sum(ink.lined.count_at(x, y) for x, y in spots if math.dist((x, y), (name.x, name.y)) > 6.0)


def _draw_line_to(ink: Ink, name: Name, *points: tuple[float, float]) -> None:
    """A thin line through points to a dot at what a name means."""
    way = [*points, (name.x, name.y)]
    ink.lined.add_line(way)
    ink.stroke("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in way), 'stroke-width=".55"')
    ink.stroke(f"M{name.x - 1.8:.1f} {name.y:.1f}a1.8 1.8 0 1 1 3.6 0a1.8 1.8 0 1 1 -3.6 0Z", 'fill="currentColor" stroke="none"')


def draw_column(ink: Ink, names: Sequence[Name], side: Literal["left", "right"], within: Box, lines_at: Sequence[float] = ()) -> None:
    """Names in a column, in the order of the points they mean, so that leaders don't cross without need.

    Parameters
    ----------
    ink
        The sheet, dimensions not yet on it: they stand beside the names, so that no leader crosses a number.
    names
        Names of this side.
    side
        Side of the column.
    within
        What was drawn before the dimensions: the column starts beside it, no higher and no lower as far as there is room.
    lines_at
        Heights at which thin lines of dimensions cross the column [px]: no line of words stands on one, as far as there is room.
    """
    left, _, right, _ = ink.edges
    way, edge = (1.0, right + AWAY) if side == "right" else (-1.0, left - AWAY)
    order = sorted(range(len(names)), key=lambda label: (names[label].y, -way * names[label].x, label))
    lines = [wrap_text(names[label].words, COLUMN) for label in order]
    heights = [LINE * len(plain) + 6.0 for plain in lines]
    wished = [min(max(names[label].y, within[1]), within[3]) for label in order]
    lowest = -math.inf
    for label, plain, center, height in zip(order, lines, spread_column(wished, heights), heights, strict=True):
        upper = max(center - LINE * (len(plain) - 1) / 2.0, lowest)
        spots = ((upper + float(down), clear) for clear in _CLEAR for down in range(30))
        upper = next((at for at, clear in spots if not _strikes(lines_at, at, len(plain), clear)), upper)
        lowest = upper + height
        _draw_line_to(ink, names[label], (edge - way * 4.0, upper), *_bend(ink, names[label], edge - way * 12.0, upper))
        for number, line in enumerate(plain):
            ink.put(line, edge, upper + LINE * number, anchor="start" if way > 0 else "end", bold=names[label].bold, fields=names[label].fields)


def _bend(ink: Ink, name: Name, x: float, y: float) -> Sequence[tuple[float, float]]:
    """Where a leader that leaves the column there turns to its point: near the column, elsewhere where it would go through words."""
    end = (name.x, name.y)
    straight = [((x + (name.x - x) * share, y),) for share in _BENDS]
    ways = chain(straight, (((x, y), (x, name.y)),), _ways_round(ink, x, end))
    return next((way for way in ways if not any(ink.strikes(*leg) for leg in pairwise(((x, y), *way, end)))), straight[0])


def _ways_round(ink: Ink, x: float, end: tuple[float, float]) -> Iterator[tuple[tuple[float, float], ...]]:
    """Ways above and below what stands between two points, close by it."""
    for box in ink.taken:
        if min(x, end[0]) < box[2] and box[0] < max(x, end[0]):
            sides = (box[2] + 3.0, box[0] - 3.0) if x > end[0] else (box[0] - 3.0, box[2] + 3.0)
            for at in sorted((box[1] - 3.0, box[3] + 3.0), key=lambda at: abs(at - end[1])):
                yield tuple((side, at) for side in sides)


def _strikes(lines_at: Sequence[float], upper: float, count: int, clear: float) -> bool:
    """Whether a line goes nearer than that to the middle of one of some lines of words."""
    return any(abs(at - (upper + LINE * number)) < clear for at in lines_at for number in range(count))


def draw_letters(ink: Ink, names: Sequence[Name], within: Box) -> tuple[Keyed, ...]:
    """A letter near the point that each name means, from left to right and top to bottom; gives each letter with its words and fields.

    One letter stands for all names of the same words.
    """
    key: dict[str, tuple[str, tuple[str, ...]]] = {}
    for name in sorted(names, key=lambda name: (round(name.x), name.y)):
        letter, _ = key.setdefault(name.words, (letter_of(len(key)), name.fields))
        half = measure_text(letter) / 2.0 + 2.0
        x, y = _near(ink, name, half, within)
        _draw_line_to(ink, name, (x, y))
        ink.put(letter, x, y, anchor="middle", bold=True)
    return tuple((letter, words, fields) for words, (letter, fields) in key.items())


BESIDE = 5.0
"""Between a letter and words beside it, so that they don't read as one [px]."""
NEAR, OVER = 110.0, 10.0
"""How far from its point a letter stands as far as there is room, and how far beside what is drawn: dimensions stand there [px]."""
_STAGES = (  # whether it keeps clear of lines, how far it may stand, over what is drawn, its air, whether its leader may go through words
    (True, NEAR, OVER, BESIDE, False),
    (True, 2.0 * NEAR, 2.0 * OVER, 1.0, False),
    (False, NEAR, OVER, BESIDE, False),
    (False, 3.0 * NEAR, 2.0 * OVER, 1.0, False),
    (False, 3.0 * NEAR, 2.0 * OVER, 1.0, True),
)
_MORE_WAYS = tuple((math.cos(step * math.pi / 12.0), math.sin(step * math.pi / 12.0)) for step in range(24))
_WAYS = ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (0.0, -1.4), (0.0, 1.4), (1.4, 0.0), (-1.4, 0.0))


def _near(ink: Ink, name: Name, half: float, within: Box) -> tuple[float, float]:
    """The nearest place round a point where a letter touches no words, clear of lines if there is one anywhere, and with a leader through no words."""
    for stands, most, over, air, through in _STAGES:
        for far in range(8, int(most), 4):
            for right, down in _WAYS if far < NEAR else _MORE_WAYS:
                x, y = name.x + right * far, name.y + down * far
                if not within[0] - over < x < within[2] + over:
                    continue
                box = (x - half, y - LINE / 2.0, x + half, y + LINE / 2.0)
                around = (box[0] - air, box[1] - 2.0, box[2] + air, box[3] + 2.0)
                if ink.is_free(around) and (not stands or ink.is_clear(box)) and (through or not ink.strikes((x, y), (name.x, name.y))):
                    return x, y
    return name.x + 200.0, name.y


def spread_column(wishes: Sequence[float], heights: Sequence[float]) -> tuple[float, ...]:
    """Centers of labels in a column, in the given order, none touching the next, each as near its wish as can be.

    Parameters
    ----------
    wishes
        Wished centers [px], ascending.
    heights
        Height of each label, its air included [px].

    Notes
    -----
    Least sum of squared moves: labels that would touch form a block, which stands where its mean move is zero.
    """
    blocks: list[tuple[float, float, list[int]]] = []  # sum of wishes for the block's upper edge, height, labels
    for number, (wish, height) in enumerate(zip(wishes, heights, strict=True)):
        total, tall, mine = wish - height / 2.0, height, [number]
        while blocks and blocks[-1][0] / len(blocks[-1][2]) + blocks[-1][1] > total / len(mine):
            before_total, before_tall, before = blocks.pop()
            total += before_total - before_tall * len(mine)
            tall += before_tall
            mine = before + mine
        blocks.append((total, tall, mine))
    centers = [0.0] * len(wishes)
    for total, _, mine in blocks:
        upper = total / len(mine)
        for number in mine:
            centers[number] = upper + heights[number] / 2.0
            upper += heights[number]
    return tuple(centers)
