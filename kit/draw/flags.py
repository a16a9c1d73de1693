"""Where do the flags of findings go? At the part they are about, on blank paper: clear of words, lines and hatches, with a thin line to a part outside."""

import math
from collections.abc import Iterator, Mapping, Sequence
from html import escape

from kit.draw.ink import Box, Ink, write_sign
from kit.draw.lettering import measure_text, wrap_text
from kit.draw.marks import Mark
from kit.spans import Span

__all__ = ["NUMBERS_WIDE", "draw_flags"]

SIGN, HIGH, LINE = 13.0, 14.0, 12.0
"""Room that the sign of a level takes before its numbers, height of a flag, and of each further line of numbers [px]."""
NUMBERS_WIDE, NUMBERS_NARROW = 90.0, 52.0
"""How wide a line of numbers may be, also where a sheet may not get wider [px]."""
STEP, FARTHEST, RING = 6.0, 40, 8.0
LINE_COST, MOST_LINED = 9.0, 12
"""So much further away [px] a flag rather stands than on one small square with a line, and how many of these count."""
CROSSED_COST = 600.0
"""The same of a line right through it."""


def draw_flags(ink: Ink, outlines: Mapping[str, Sequence[Box]], marks: Mapping[str, Mark], widest: float = math.inf) -> None:
    """At the spot of each part its level and the numbers of its findings; names and dimensions are on the sheet already.

    Where the sheet is to be no wider than `widest` [px], no flag makes it wider.
    """
    for part, mark in marks.items():
        lines = wrap_text(mark.words, NUMBERS_WIDE if widest == math.inf else NUMBERS_NARROW)
        around, wide, tall = outlines[part][0], SIGN + max(map(measure_text, lines)), HIGH + LINE * (len(lines) - 1)
        left, middle = _find_spot(ink, around, (wide, tall), widest)
        box = _box(left, middle, wide, tall)
        if _distance(box, around) > 0.0:
            start, end = _nearest(around, box), _nearest(box, around)
            ink.lined.add_line((start, end))
            ink.stroke(f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", 'stroke-width=".55"')
        first, upper = len(ink.taken), middle - (tall - HIGH) / 2.0
        data = f'data-mark="{escape(part)}" data-level="{mark.level.word}" data-numbers="{mark.words}"'
        ink.texts.append(f"<g {data}>{write_sign(mark.level, left + 5.0, upper)}</g>")
        for number, line in enumerate(lines):
            ink.put(line, left + SIGN, upper + LINE * number, bold=True)
        ink.stretch(box)
        words = ink.taken[first:]
        ink.taken[first:] = [(left, words[0][1], left + wide, words[-1][3])]  # one room for all, since rooms that cross each other cut no gap


def _box(left: float, middle: float, wide: float, tall: float) -> Box:
    """The room of a flag, with a little air beside it."""
    return left - 2.0, middle - tall / 2.0, left + wide + 2.0, middle + tall / 2.0


def _find_spot(ink: Ink, around: Box, size: tuple[float, float], widest: float) -> tuple[float, float]:
    """Left edge and middle of the height of a flag of that width and height: the place that hides least and stands nearest."""
    drawn = ink.extent or around
    more = max(widest - (drawn[2] - drawn[0]), 0.0)
    sheet = (drawn[0] - more, drawn[2] + more)
    for stands in (_stands_well, _stands_free):
        best = (math.inf, 0.0, 0.0)
        for far, left, middle in _spots(around, size, sheet):
            if far >= best[0]:
                break
            box = _box(left, middle, *size)
            cost = far + (max(0.0, drawn[0] - box[0]) + max(0.0, box[2] - drawn[2]))
            if cost >= best[0] or not stands(ink, around, box):
                continue
            cost += LINE_COST * min(ink.lined.count(box), MOST_LINED)
            if cost < best[0]:
                cost += CROSSED_COST * ink.lined.is_crossed(box)
            if cost < best[0]:
                best = (cost, left, middle)
        if best[0] >= CROSSED_COST:
            best = min(best, _find_clear_spot(ink, around, size, (ink.edges[0], ink.edges[2]) if widest == math.inf else sheet))
        if best[0] < math.inf:
            return best[1:]
    return (drawn[0] + 2.0, drawn[3] + size[1]) if widest < math.inf else (drawn[2] + 8.0, (around[1] + around[3]) / 2.0)


def _spots(around: Box, size: tuple[float, float], sheet: Span) -> Iterator[tuple[float, float, float]]:
    """Places for a flag in a part and round it, each with how far out it is: in its corners, at its edges, then ever further out."""
    (left, upper, right, lower), (wide, tall), (first, last) = around, size, (sheet[0] + 2.0, sheet[1] - size[0] - 2.0)
    if right - left >= wide + 8.0 and lower - upper >= tall:
        yield from _spots_inside(around, size)
    heights = (upper + tall / 2.0, (upper + lower) / 2.0, lower - tall / 2.0)
    for number in range(1, FARTHEST):
        far = STEP * number
        beside = (right + far, left - far - wide)
        across = [max(min(x, last), first) for x in (right - wide, left, (left + right - wide) / 2.0, *beside)]
        yield from ((far, x, y) for x in across for y in (upper - far - tall / 2.0, lower + far + tall / 2.0))
        yield from ((far, x, y) for x in beside if first <= x <= last for y in heights)


def _find_clear_spot(ink: Ink, around: Box, size: tuple[float, float], sheet: Span) -> tuple[float, float, float]:
    """How far out, left edge and middle of the nearest blank place on the sheet round a part."""
    for is_lined in (ink.lined.is_in, ink.lined.is_crossed):  # blank, or else with no more than a hatch
        for number in range(1, FARTHEST):
            for far, x, y in _ring(around, size, STEP * number):
                box = _box(x, y, *size)
                if sheet[0] <= box[0] and box[2] <= sheet[1] and not is_lined(box) and _stands_well(ink, around, box):
                    return far, x, y
    return math.inf, 0.0, 0.0


def _ring(around: Box, size: tuple[float, float], far: float) -> Iterator[tuple[float, float, float]]:
    """Places for a flag that are so far from a part above, below and beside it, the nearest to its middle first."""
    (left, upper, right, lower), (wide, tall) = around, size
    middle, x0 = (upper + lower) / 2.0, (left + right - wide) / 2.0
    for step in range(int(((right - left + wide) / 2.0 + far) / RING) + 1):
        yield from ((far + RING * step, x0 + way * RING * step, y) for way in (-1.0, 1.0) for y in (upper - far - tall / 2.0, lower + far + tall / 2.0))
    for step in range(int(((lower - upper + tall) / 2.0 + far) / RING) + 1):
        yield from ((far + RING * step, x, middle + way * RING * step) for way in (-1.0, 1.0) for x in (left - far - wide, right + far))


def _spots_inside(around: Box, size: tuple[float, float]) -> Iterator[tuple[float, float, float]]:
    (left, upper, right, lower), (wide, tall) = around, size
    deep, high = tall / 2.0 + 4.0, lower - upper
    quarters = (left + (right - left) * share - wide / 2.0 for share in (0.5, 0.25, 0.75))
    across = [x for x in (right - wide - 5.0, left + 5.0, *quarters) if left + 2.0 <= x <= right - wide - 2.0]
    heights = (upper + deep, lower - deep, *(upper + high * share for share in (0.5, 0.25, 0.75)))
    yield from ((0.0, x, y) for y in heights for x in across)


def _stands_free(ink: Ink, _: Box, box: Box) -> bool:
    """Whether a flag hides no words."""
    return ink.is_free(box)


def _stands_well(ink: Ink, around: Box, box: Box) -> bool:
    """Whether neither a flag nor its line to the part hides words."""
    return ink.is_free((box[0] - 2.0, box[1], box[2] + 2.0, box[3])) and not ink.strikes(_nearest(around, box), _nearest(box, around))


def _nearest(to: Box, box: Box) -> tuple[float, float]:
    """The point of a box nearest to another, in the middle of what they share along an edge."""
    return _near(box[0], box[2], to[0], to[2]), _near(box[1], box[3], to[1], to[3])


def _near(low: float, high: float, to_low: float, to_high: float) -> float:
    if high < to_low:
        return high
    return low if low > to_high else (max(low, to_low) + min(high, to_high)) / 2.0


def _distance(one: Box, other: Box) -> float:
    """How far two boxes stand apart; nothing where they touch."""
    return max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3], 0.0)
