"""Where do dimensions go? Chains and tiers beside the drawing, the short ones nearest, no words beside another dimension's line without need."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Literal

from kit.draw.ink import Box, Ink, words_box
from kit.draw.lettering import SIZE, measure_text
from kit.draw.paper_cells import crosses

__all__ = ["Side", "Size", "arrange_sizes", "draw_sizes", "mark_lines"]

Side = Literal["left", "right", "above", "below"]
Span = tuple[float, float]
Line = tuple[tuple[float, float], tuple[float, float]]
Lane = tuple[int, Span, float]
"""The tier of a dimension, the room it takes along it, and the middle of its words [px]."""

FIRST_TIER, TIER, CLOSE_TIER = 20.0, 18.0, 9.0
"""How far the first tier of dimensions stands from what is drawn, and the next from it, also where the sheet has little room [px]."""
TAIL = 2.0 / 9.0
"""How far thin lines go on past a dimension [of a tier]: to no words of the next."""
AIR, BESIDE = 6.0, 9.0
"""Air between two dimensions of a tier, and between a tick and words beside it [px]."""
TOUCH = 0.6
WORDS_HALF = SIZE * 0.6
"""Half the height of words [px]."""
CLEAR = 2.0
"""Between words and a line that is not their own, at least [px]."""
_SLIDES = (0.0, 12.0, 24.0, 36.0, 48.0, 60.0)
"""How far words may stand from their usual place along a dimension, where another line goes through that [px]."""
_TIERS_AHEAD = 5


@dataclass(frozen=True, slots=True)
class Size:
    """One dimension: from and to along its axis, where its thin lines start across it [px], its words, the measures that fix it, and the one that it is."""

    low: float
    high: float
    start: float
    words: str
    fields: tuple[str, ...] = ()
    field: str = ""

    def lanes(self) -> Iterator[tuple[Span, float]]:
        """Room along the tier and the middle of the words: between the ticks where they fit, else before the first or after the last; the usual place first."""
        width = measure_text(self.words)
        slack = (self.high - self.low - width - BESIDE) / 2.0
        if slack >= 0.0:
            middle = (self.low + self.high) / 2.0
            slides = dict.fromkeys((*(slide for slide in _SLIDES if slide <= slack), min(slack, _SLIDES[-1])))
            yield from (((self.low, self.high), middle + way * slide) for slide in slides for way in ((1.0, -1.0) if slide else (1.0,)))
            return
        for slide in _SLIDES:
            far = BESIDE + slide
            yield (self.low - width - far - AIR, self.high), self.low - far - width / 2.0
            yield (self.low, self.high + width + far + AIR), self.high + far + width / 2.0


def mark_lines(ink: Ink, sizes: Mapping[Side, Sequence[Size]], within: Box) -> None:
    """Mark where the thin lines of all dimensions will go, from what they measure out to the first tiers, so that no name stands there."""
    for side in sizes:
        for line in _lines_ahead(sizes, side, within):
            ink.ahead.add_line(line)


def _lines_ahead(sizes: Mapping[Side, Sequence[Size]], side: Side, within: Box) -> Iterator[Line]:
    """The thin lines of the dimensions of a side out to the first tiers."""
    base, way = {"left": (within[0], -1.0), "right": (within[2], 1.0), "above": (within[1], -1.0), "below": (within[3], 1.0)}[side]
    end = base + way * (FIRST_TIER + TIER * _TIERS_AHEAD)
    for along, start in {(edge, size.start) for size in sizes[side] for edge in (size.low, size.high)}:
        yield ((along, start), (along, end)) if side in ("above", "below") else ((start, along), (end, along))


def draw_sizes(ink: Ink, sizes: Mapping[Side, Sequence[Size]], within: Box, widest: float = math.inf) -> None:
    """Put all dimensions round what is drawn: those above and below it next to what was drawn `within`, those beside it next to its names.

    Where the sheet is to be no wider than `widest` [px], those beside it stand closer to each other, and words above and below stand within it as far
    as there is room.
    """
    left, _, right, _ = ink.edges
    bases = {"left": (left, -1.0), "right": (right, 1.0), "above": (within[1], -1.0), "below": (within[3], 1.0)}
    beside: list[Side] = [side for side in sizes if side in ("left", "right")]
    ahead = [line for side in sizes if side not in beside for line in _lines_ahead(sizes, side, within)]
    tier, lanes = TIER, {side: _arrange(ink, sizes[side], *bases[side], TIER, ahead) for side in beside}
    if right - left + sum(FIRST_TIER + TIER * max(level for level, *_ in mine) + WORDS_HALF for mine in lanes.values()) > widest:
        tier, lanes = CLOSE_TIER, {side: _arrange(ink, sizes[side], *bases[side], CLOSE_TIER, ahead) for side in beside}
    for side in beside:
        _draw_side(ink, sizes[side], lanes[side], *bases[side], tier, flat=False)
    for side in (side for side in sizes if side not in beside):
        left, _, right, _ = ink.edges
        more = max(widest - (right - left), 0.0) / 2.0
        flat = _arrange(ink, sizes[side], *bases[side], TIER, (), (left - more, right + more))
        _draw_side(ink, sizes[side], flat, *bases[side], TIER, flat=True)


def _arrange(ink: Ink, sizes: Sequence[Size], base: float, way: float, tier: float, ahead: Sequence[Line], sheet: Span | None = None) -> list[Lane]:
    """The lanes of the dimensions of one side on the paper that is free there, clear of lines to come; those above and below know where the `sheet` ends."""
    flat = sheet is not None

    def stands_free(size: Size, lane: Lane) -> bool:
        return ink.is_free(_words_room(size, lane, base + way * (FIRST_TIER + tier * lane[0]), flat=flat))

    def strikes(size: Size, lane: Lane) -> Iterator[bool]:
        at = base + way * (FIRST_TIER + tier * lane[0])
        left, upper, right, lower = _words_room(size, lane, at, flat=flat)
        room = (left - AIR, upper - CLEAR, right + AIR, lower + CLEAR) if flat else (left - CLEAR, upper - AIR, right + CLEAR, lower + AIR)
        yield not ink.is_free(room)
        yield from ink.lined.crossing(room)
        yield from (crosses((*start, *end), room) for start, end in ahead)
        yield from (ink.strikes(*line) for line in _lines(size, lane, at, way, tier, flat=flat))

    return arrange_sizes(sizes, stands_free, strikes, tier=tier, sheet=sheet or (-math.inf, math.inf))


def _draw_side(ink: Ink, sizes: Sequence[Size], lanes: Sequence[Lane], base: float, way: float, tier: float, *, flat: bool) -> None:
    for size, lane in zip(sizes, lanes, strict=True):
        _draw_size(ink, size, lane, base + way * (FIRST_TIER + tier * lane[0]), way, tier, flat=flat)


def arrange_sizes(
    sizes: Sequence[Size],
    stands_free: Callable[[Size, Lane], bool] = lambda *_: True,
    strikes: Callable[[Size, Lane], Iterable[bool]] = lambda *_: (),
    *,
    tier: float = TIER,
    sheet: Span = (-math.inf, math.inf),
) -> list[Lane]:
    """The tier of each dimension, 0 nearest the drawing, the room it takes along it, and where its words stand.

    Parameters
    ----------
    sizes
        The dimensions of one side.
    stands_free
        Whether the words of a dimension stand on free paper in a lane.
    strikes
        Whether each line of other things goes through its words there, and each of its own through other words.
    tier
        From one tier to the next [px].
    sheet
        Where the sheet ends along the dimensions: no words stand beyond it, as far as there is room [px].

    Notes
    -----
    The short ones first, so that long dimensions stand outside; one that begins where another ends joins it in a chain. Words beside their
    ticks stand where they run along the fewest other dimensions, at equal number inwards; none stand where the thin line of another goes through
    them, as far as there is room: one that finds none there stands outside of all.
    """
    center = sum(size.low + size.high for size in sizes) / (2.0 * len(sizes)) if sizes else 0.0
    tiers: list[list[Span]] = []
    lanes: dict[int, Lane] = {}
    order = sorted(range(len(sizes)), key=lambda at: (round(sizes[at].high - sizes[at].low, 3), at))
    for turn, number in enumerate(waiting := list(order)):  # what finds no room comes once more, when all others stand
        size = sizes[number]
        inward = size.low + size.high < 2.0 * center

        def cost(option: tuple[Span, float], size: Size = size, *, inward: bool = inward) -> tuple[float, int, bool]:
            past = max(sheet[0] - option[0][0], option[0][1] - sheet[1], 0.0)
            return past, _runs_along(sizes, size, option[0]), (option[0][0] < size.low) is inward

        options = sorted(size.lanes(), key=cost)
        chained = [level for level, tier in enumerate(tiers) if any(_touch(span, (size.low, size.high)) for span in tier)]
        levels = tuple(dict.fromkeys((*chained, *range(len(tiers) + 3))))
        near = [(level, *option) for option in options for level in levels if level >= len(tiers) or _has_room(tiers[level], option[0])]
        near = [lane for lane in near if _reads_apart(sizes, lanes, number, lane, tier)]
        best = next((lane for lane in near if not any(_struck(sizes, lanes, number, lane)) and not any(strikes(size, lane))), None)
        if best is None and turn < len(order):
            waiting.append(number)
            continue
        if best is None:
            free = (lane for lane in near if stands_free(size, lane))
            far = ((level, *option) for level in count(len(tiers) + 3) for option in options)  # past all names, where paper is free in the end
            best = min(free, key=lambda lane: sum(_struck(sizes, lanes, number, lane)) + sum(strikes(size, lane)), default=None)
            best = best or next(lane for lane in far if stands_free(size, lane))
        while len(tiers) <= best[0]:
            tiers.append([])
        tiers[best[0]].append(best[1])
        lanes[number] = best
    return [lanes[number] for number in range(len(sizes))]


def _struck(sizes: Sequence[Size], lanes: Mapping[int, Lane], number: int, lane: Lane) -> Iterator[bool]:
    """Whether each thin line of other dimensions goes through the words of one, and each of its own through theirs: lines cross the tiers further in."""
    mine = _words_span(sizes[number], lane[2])
    for other, size in enumerate(sizes):
        if other == number:
            continue
        tier, _, middle = lanes.get(other, (lane[0] + 1, (0.0, 0.0), 0.0))  # one still to come is longer, and stands further out
        if tier >= lane[0]:
            yield mine[0] < size.low < mine[1] or mine[0] < size.high < mine[1]
        theirs = _words_span(size, middle)
        if other in lanes and tier <= lane[0]:
            yield theirs[0] < sizes[number].low < theirs[1] or theirs[0] < sizes[number].high < theirs[1]


def _reads_apart(sizes: Sequence[Size], lanes: Mapping[int, Lane], number: int, lane: Lane, tier: float) -> bool:
    """Whether the words of a dimension stand beside no other's where tiers are closer than words are high."""
    low, high = _words_span(sizes[number], lane[2])
    beside = (_words_span(sizes[other], middle) for other, (level, _, middle) in lanes.items() if 0.0 < abs(level - lane[0]) * tier < 2.0 * WORDS_HALF)
    return all(high < other_low or other_high < low for other_low, other_high in beside)


def _words_span(size: Size, middle: float) -> Span:
    half = measure_text(size.words) / 2.0 + CLEAR
    return middle - half, middle + half


def _runs_along(sizes: Sequence[Size], size: Size, span: Span) -> int:
    """How many other dimensions stand beside the words of one that are outside of its ticks."""
    words = (span[0], size.low) if span[0] < size.low else (size.high, span[1])
    return sum(other is not size and other.low < words[1] - TOUCH and words[0] + TOUCH < other.high for other in sizes)


def _touch(one: Span, other: Span) -> bool:
    return abs(one[0] - other[1]) < TOUCH or abs(one[1] - other[0]) < TOUCH


def _has_room(tier: Sequence[Span], span: Span) -> bool:
    return all(_touch(span, other) or span[1] + AIR <= other[0] or other[1] + AIR <= span[0] for other in tier)


def _words_room(size: Size, lane: Lane, at: float, *, flat: bool) -> Box:
    x, y = (lane[2], at) if flat else (at, lane[2])
    return words_box(size.words, x, y, anchor="middle", turned=not flat)


def _lines(size: Size, lane: Lane, at: float, way: float, tier: float, *, flat: bool) -> Iterator[Line]:
    """From tick to tick, a little further to words outside of them; then the thin line at each end."""
    _, span, middle = lane
    half = measure_text(size.words) / 2.0
    first = max(middle + half + 3.0, span[0]) if middle < size.low else size.low
    last = min(middle - half - 3.0, span[1]) if middle > size.high else size.high
    start, end = size.start + way * 3.0, at + way * tier * TAIL
    for (x0, y0), (x1, y1) in (((first, at), (last, at)), *(((edge, start), (edge, end)) for edge in (size.low, size.high))):
        yield ((x0, y0), (x1, y1)) if flat else ((y0, x0), (y1, x1))


def _draw_size(ink: Ink, size: Size, lane: Lane, at: float, way: float, tier: float, *, flat: bool) -> None:
    for (x0, y0), (x1, y1) in _lines(size, lane, at, way, tier, flat=flat):
        ink.lined.add_line([(x0, y0), (x1, y1)])
        ink.stretch((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))
        ink.stroke(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}", 'stroke-width=".6"')
    for edge in (size.low, size.high):
        x, y = (edge, at) if flat else (at, edge)
        ink.lined.add_line([(x - 3.0, y + 3.0), (x + 3.0, y - 3.0)])
        ink.stroke(f"M{x - 3.0:.1f} {y + 3.0:.1f}l6 -6", 'stroke-width="1.5"')
    x, y = (lane[2], at) if flat else (at, lane[2])
    ink.put(size.words, x, y, anchor="middle", turned=not flat, fields=size.fields, field=size.field)
