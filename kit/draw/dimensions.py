"""Where do dimensions go? Chains and tiers beside the drawing, the short ones nearest, no words beside another dimension's line without need."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, count
from typing import Literal

from kit.draw.ink import Box, Ink, words_box
from kit.draw.lettering import measure_text

__all__ = ["Side", "Size", "arrange_sizes", "draw_sizes", "mark_lines"]

Side = Literal["left", "right", "above", "below"]
Span = tuple[float, float]
Lane = tuple[int, Span, float]
"""The tier of a dimension, the room it takes along it, and the middle of its words [px]."""

FIRST_TIER, TIER = 20.0, 18.0
AIR, BESIDE = 6.0, 9.0
"""Air between two dimensions of a tier, and between a tick and words beside it [px]."""
TOUCH = 0.6
CLEAR = 2.0
"""Between words and a line that is not their own, at least [px]."""
_SLIDES = (0.0, 12.0, 24.0, 36.0, 48.0, 60.0)
"""How far words may stand from their usual place along a dimension, where another line goes through that [px]."""
_TIERS_AHEAD = 3


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
            yield from (((self.low, self.high), middle + way * slide) for slide in _SLIDES if slide <= slack for way in ((1.0, -1.0) if slide else (1.0,)))
            return
        for slide in _SLIDES:
            far = BESIDE + slide
            yield (self.low - width - far - AIR, self.high), self.low - far - width / 2.0
            yield (self.low, self.high + width + far + AIR), self.high + far + width / 2.0


def mark_lines(ink: Ink, sizes: Mapping[Side, Sequence[Size]], within: Box) -> None:
    """Mark where the thin lines of all dimensions will go, from what they measure out to the first tiers, so that no name stands there."""
    bases = {"left": (within[0], -1.0), "right": (within[2], 1.0), "above": (within[1], -1.0), "below": (within[3], 1.0)}
    for side, mine in sizes.items():
        base, way = bases[side]
        end = base + way * (FIRST_TIER + TIER * _TIERS_AHEAD)
        for along, start in {(edge, size.start) for size in mine for edge in (size.low, size.high)}:
            ink.ahead.add_line(((along, start), (along, end)) if side in ("above", "below") else ((start, along), (end, along)))


def draw_sizes(ink: Ink, sizes: Mapping[Side, Sequence[Size]], within: Box) -> None:
    """Put all dimensions round what is drawn: those above and below it next to what was drawn `within`, those beside it next to its names."""
    left, _, right, _ = ink.edges
    bases = {"left": (left, -1.0), "right": (right, 1.0), "above": (within[1], -1.0), "below": (within[3], 1.0)}
    for side, mine in sizes.items():
        flat = side in ("above", "below")
        base, way = bases[side]

        def stands_free(size: Size, lane: Lane, base: float = base, way: float = way, *, flat: bool = flat) -> bool:
            return ink.is_free(_words_room(size, lane, base + way * (FIRST_TIER + TIER * lane[0]), flat=flat))

        def stands_well(size: Size, lane: Lane, base: float = base, way: float = way, *, flat: bool = flat) -> bool:
            at = base + way * (FIRST_TIER + TIER * lane[0])
            left, upper, right, lower = _words_room(size, lane, at, flat=flat)
            room = (left - AIR, upper - CLEAR, right + AIR, lower + CLEAR) if flat else (left - CLEAR, upper - AIR, right + CLEAR, lower + AIR)
            return ink.is_free(room) and not ink.lined.is_crossed(room) and not any(ink.strikes(*line) for line in _lines(size, lane, at, way, flat=flat))

        for size, lane in zip(mine, arrange_sizes(mine, stands_free, stands_well), strict=True):
            _draw_size(ink, size, lane, base + way * (FIRST_TIER + TIER * lane[0]), way, flat=flat)


def arrange_sizes(
    sizes: Sequence[Size], stands_free: Callable[[Size, Lane], bool] = lambda *_: True, stands_well: Callable[[Size, Lane], bool] = lambda *_: True
) -> list[Lane]:
    """The tier of each dimension, 0 nearest the drawing, the room it takes along it, and where its words stand.

    Parameters
    ----------
    sizes
        The dimensions of one side.
    stands_free
        Whether the words of a dimension stand on free paper in a lane.
    stands_well
        Whether they also keep clear of lines, and the lines of the dimension of other words.

    Notes
    -----
    The short ones first, so that long dimensions stand outside; one that begins where another ends joins it in a chain. Words beside their
    ticks stand where they run along the fewest other dimensions, at equal number inwards; none stand where the thin line of another goes through
    them, as far as there is room.
    """
    center = sum(size.low + size.high for size in sizes) / (2.0 * len(sizes)) if sizes else 0.0
    tiers: list[list[Span]] = []
    lanes: dict[int, Lane] = {}
    for number in sorted(range(len(sizes)), key=lambda at: (round(sizes[at].high - sizes[at].low, 3), at)):
        size = sizes[number]
        inward = size.low + size.high < 2.0 * center

        def cost(option: tuple[Span, float], size: Size = size, *, inward: bool = inward) -> tuple[int, bool]:
            return _runs_along(sizes, size, option[0]), (option[0][0] < size.low) is inward

        options = sorted(size.lanes(), key=cost)
        chained = [level for level, tier in enumerate(tiers) if any(_touch(span, (size.low, size.high)) for span in tier)]
        levels = (*chained, *range(len(tiers) + 3))
        near = [(level, *option) for option in options for level in levels if level >= len(tiers) or _has_room(tiers[level], option[0])]
        best = next((lane for lane in near if _keeps_clear(sizes, lanes, number, lane) and stands_well(size, lane)), None)
        if best is None:
            far = ((level, *option) for level in count(len(tiers) + 3) for option in options)  # past all names, where paper is free in the end
            best = next(lane for lane in chain(near, far) if stands_free(size, lane))
        while len(tiers) <= best[0]:
            tiers.append([])
        tiers[best[0]].append(best[1])
        lanes[number] = best
    return [lanes[number] for number in range(len(sizes))]


def _keeps_clear(sizes: Sequence[Size], lanes: Mapping[int, Lane], number: int, lane: Lane) -> bool:
    """Whether no thin line of another dimension goes through the words of one, nor its own through theirs: lines cross the tiers further in."""
    mine = _words_span(sizes[number], lane[2])
    for other, size in enumerate(sizes):
        if other == number:
            continue
        tier, _, middle = lanes.get(other, (lane[0] + 1, (0.0, 0.0), 0.0))  # one still to come is longer, and stands further out
        if tier >= lane[0] and any(mine[0] < edge < mine[1] for edge in (size.low, size.high)):
            return False
        theirs = _words_span(size, middle)
        if other in lanes and tier <= lane[0] and any(theirs[0] < edge < theirs[1] for edge in (sizes[number].low, sizes[number].high)):
            return False
    return True


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


def _lines(size: Size, lane: Lane, at: float, way: float, *, flat: bool) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """From tick to tick, a little further to words outside of them; then the thin line at each end."""
    _, span, middle = lane
    half = measure_text(size.words) / 2.0
    first = max(middle + half + 3.0, span[0]) if middle < size.low else size.low
    last = min(middle - half - 3.0, span[1]) if middle > size.high else size.high
    start, end = size.start + way * 3.0, at + way * 4.0
    for (x0, y0), (x1, y1) in (((first, at), (last, at)), *(((edge, start), (edge, end)) for edge in (size.low, size.high))):
        yield ((x0, y0), (x1, y1)) if flat else ((y0, x0), (y1, x1))


def _draw_size(ink: Ink, size: Size, lane: Lane, at: float, way: float, *, flat: bool) -> None:
    for (x0, y0), (x1, y1) in _lines(size, lane, at, way, flat=flat):
        ink.lined.add_line([(x0, y0), (x1, y1)])
        ink.stroke(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}", 'stroke-width=".6"')
    for edge in (size.low, size.high):
        x, y = (edge, at) if flat else (at, edge)
        ink.stroke(f"M{x - 3.0:.1f} {y + 3.0:.1f}l6 -6", 'stroke-width="1.5"')
    x, y = (lane[2], at) if flat else (at, lane[2])
    end = at + way * 4.0
    ink.stretch((x, end, x, end) if flat else (end, y, end, y))
    ink.put(size.words, x, y, anchor="middle", turned=not flat, fields=size.fields, field=size.field)
