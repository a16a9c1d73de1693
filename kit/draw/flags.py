"""Where do the flags of findings go? At the part they are about, on blank paper: clear of words, lines and hatches, with a thin line to a part outside."""

import math
from collections.abc import Iterator, Mapping, Sequence
from html import escape

from kit.draw.ink import Box, Ink, write_sign
from kit.draw.lettering import measure_text
from kit.draw.marks import Mark

__all__ = ["draw_flags"]

SIGN, HIGH = 13.0, 14.0
"""Room that the sign of a level takes before its numbers, and height of a flag [px]."""
STEP, FARTHEST = 6.0, 40
LINE_COST = 9.0
"""So much further away [px] a flag rather stands than on one small square with a line."""
CROSSED_COST = 90.0
"""The same of a line right through it."""


def draw_flags(ink: Ink, outlines: Mapping[str, Sequence[Box]], marks: Mapping[str, Mark]) -> None:
    """At the spot of each part its level and the numbers of its findings; names and dimensions are on the sheet already."""
    for part, mark in marks.items():
        around, wide = outlines[part][0], SIGN + measure_text(mark.words)
        left, middle = _find_spot(ink, around, wide)
        box = (left - 2.0, middle - HIGH / 2.0, left + wide + 2.0, middle + HIGH / 2.0)
        if _distance(box, around) > 0.0:
            start, end = _nearest(around, box), _nearest(box, around)
            ink.lined.add_line((start, end))
            ink.stroke(f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", 'stroke-width=".55"')
        data = f'data-mark="{escape(part)}" data-level="{mark.level.word}" data-numbers="{mark.words}"'
        ink.texts.append(f"<g {data}>{write_sign(mark.level, left + 5.0, middle)}</g>")
        ink.put(mark.words, left + SIGN, middle, bold=True)
        ink.stretch(box)
        words = ink.taken.pop()
        ink.taken.append((left, words[1], words[2], words[3]))  # one room for both, since rooms that cross each other cut no gap


def _find_spot(ink: Ink, around: Box, wide: float) -> tuple[float, float]:
    """Left edge and middle of the height of a flag: the place that hides least and stands nearest."""
    drawn = ink.extent or around
    for stands in (_stands_well, _stands_free):
        best = (math.inf, 0.0, 0.0)
        for far, left, middle in _spots(around, wide):
            if far >= best[0]:
                break
            box = (left - 2.0, middle - HIGH / 2.0, left + wide + 2.0, middle + HIGH / 2.0)
            cost = far + (max(0.0, drawn[0] - box[0]) + max(0.0, box[2] - drawn[2]))
            if cost >= best[0] or not stands(ink, around, box):
                continue
            cost += LINE_COST * ink.lined.count(box)
            if cost < best[0]:
                cost += CROSSED_COST * ink.lined.is_crossed(box)
            if cost < best[0]:
                best = (cost, left, middle)
        if best[0] >= CROSSED_COST:
            best = min(best, _find_clear_spot(ink, around, wide))
        if best[0] < math.inf:
            return best[1:]
    return ink.edges[2] + 8.0, (around[1] + around[3]) / 2.0


def _spots(around: Box, wide: float) -> Iterator[tuple[float, float, float]]:
    """Places for a flag in a part and round it, each with how far out it is: in its corners, at its edges, then ever further out."""
    left, upper, right, lower = around
    if right - left >= wide + 8.0 and lower - upper >= HIGH:
        yield from _spots_inside(around, wide)
    heights = (upper + HIGH / 2.0, (upper + lower) / 2.0, lower - HIGH / 2.0)
    for number in range(1, FARTHEST):
        far = STEP * number
        beside = (right + far, left - far - wide)
        across = (right - wide, left, (left + right - wide) / 2.0, *beside)
        yield from ((far, x, y) for x in across for y in (upper - far - HIGH / 2.0, lower + far + HIGH / 2.0))
        yield from ((far, x, y) for x in beside for y in heights)


def _find_clear_spot(ink: Ink, around: Box, wide: float) -> tuple[float, float, float]:
    """How far out, left edge and middle of the nearest blank place on the sheet that is beside a part and a little above or below it."""
    left, upper, right, lower = around
    for number in range(1, FARTHEST):
        far = STEP * number
        for x in (right + far, left - far - wide):
            for y in (upper - HIGH, lower + HIGH):
                box = (x - 2.0, y - HIGH / 2.0, x + wide + 2.0, y + HIGH / 2.0)
                if ink.edges[0] <= box[0] and box[2] <= ink.edges[2] and not ink.lined.is_in(box) and _stands_well(ink, around, box):
                    return far, x, y
    return math.inf, 0.0, 0.0


def _spots_inside(around: Box, wide: float) -> Iterator[tuple[float, float, float]]:
    left, upper, right, lower = around
    deep, high = HIGH / 2.0 + 4.0, lower - upper
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
