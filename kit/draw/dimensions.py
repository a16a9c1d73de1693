"""Where do dimensions go? Chains and tiers beside the drawing, the short ones nearest, no words beside another dimension's line without need."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, count
from typing import Literal

from kit.draw.ink import Box, Ink, words_box
from kit.draw.lettering import measure_text

__all__ = ["Side", "Size", "arrange_sizes", "draw_sizes"]

Side = Literal["left", "right", "above", "below"]
Span = tuple[float, float]

FIRST_TIER, TIER = 20.0, 18.0
AIR, BESIDE = 6.0, 9.0
"""Air between two dimensions of a tier, and between a tick and words beside it [px]."""
TOUCH = 0.6


@dataclass(frozen=True, slots=True)
class Size:
    """One dimension: from and to along its axis, where its thin lines start across it [px], its words, the measures that fix it, and the one that it is."""

    low: float
    high: float
    start: float
    words: str
    fields: tuple[str, ...] = ()
    field: str = ""

    def spans(self) -> tuple[Span, ...]:
        """Room along the tier: from tick to tick where the words fit between them, else with the words before the first or after the last."""
        width = measure_text(self.words)
        if self.high - self.low >= width + BESIDE:
            return ((self.low, self.high),)
        return (self.low - width - BESIDE - AIR, self.high), (self.low, self.high + width + BESIDE + AIR)


def draw_sizes(ink: Ink, sizes: Mapping[Side, Sequence[Size]], within: Box) -> None:
    """Put all dimensions round what is drawn: those above and below it next to what was drawn `within`, those beside it next to its names."""
    left, _, right, _ = ink.edges
    bases = {"left": (left, -1.0), "right": (right, 1.0), "above": (within[1], -1.0), "below": (within[3], 1.0)}
    for side, mine in sizes.items():
        flat = side in ("above", "below")
        base, way = bases[side]

        def stands_free(size: Size, span: Span, tier: int, base: float = base, way: float = way, *, flat: bool = flat) -> bool:
            return ink.is_free(_words_room(size, span, base + way * (FIRST_TIER + TIER * tier), flat=flat))

        for size, (tier, span) in zip(mine, arrange_sizes(mine, stands_free), strict=True):
            _draw_size(ink, size, span, base + way * (FIRST_TIER + TIER * tier), way, flat=flat)


def arrange_sizes(sizes: Sequence[Size], stands_free: Callable[[Size, Span, int], bool] = lambda *_: True) -> list[tuple[int, Span]]:
    """The tier of each dimension, 0 nearest the drawing, and the room it takes along it.

    Parameters
    ----------
    sizes
        The dimensions of one side.
    stands_free
        Whether the words of a dimension with its room stand on free paper in a tier.

    Notes
    -----
    The short ones first, so that long dimensions stand outside; one that begins where another ends joins it in a chain. Words beside their
    ticks stand where they run along the fewest other dimensions, at equal number inwards.
    """
    center = sum(size.low + size.high for size in sizes) / (2.0 * len(sizes)) if sizes else 0.0
    tiers: list[list[Span]] = []
    lanes: list[tuple[int, Span]] = [(0, (0.0, 0.0))] * len(sizes)
    for number in sorted(range(len(sizes)), key=lambda at: (round(sizes[at].high - sizes[at].low, 3), at)):
        size = sizes[number]
        options = sorted(size.spans(), key=lambda span: (_runs_along(sizes, size, span), (span[0] < size.low) is (size.low + size.high < 2.0 * center)))
        chained = [level for level, tier in enumerate(tiers) if any(_touch(span, (size.low, size.high)) for span in tier)]
        near = ((level, span) for span in options for level in (*chained, *range(len(tiers) + 3)))
        far = ((level, span) for level in count(len(tiers) + 3) for span in options)  # past all names, where paper is free in the end
        place, span = next(
            (level, span) for level, span in chain(near, far) if (level >= len(tiers) or _has_room(tiers[level], span)) and stands_free(size, span, level)
        )
        while len(tiers) <= place:
            tiers.append([])
        tiers[place].append(span)
        lanes[number] = (place, span)
    return lanes


def _runs_along(sizes: Sequence[Size], size: Size, span: Span) -> int:
    """How many other dimensions stand beside the words of one that are outside of its ticks."""
    words = (span[0], size.low) if span[0] < size.low else (size.high, span[1])
    return sum(other is not size and other.low < words[1] - TOUCH and words[0] + TOUCH < other.high for other in sizes)


def _touch(one: Span, other: Span) -> bool:
    return abs(one[0] - other[1]) < TOUCH or abs(one[1] - other[0]) < TOUCH


def _has_room(tier: Sequence[Span], span: Span) -> bool:
    return all(_touch(span, other) or span[1] + AIR <= other[0] or other[1] + AIR <= span[0] for other in tier)


def _middle(size: Size, span: Span) -> float:
    """Where the words of a dimension stand along it."""
    width = measure_text(size.words)
    if span[0] < size.low:
        return size.low - BESIDE - width / 2.0
    return size.high + BESIDE + width / 2.0 if span[1] > size.high else (size.low + size.high) / 2.0


def _words_room(size: Size, span: Span, at: float, *, flat: bool) -> Box:
    x, y = (_middle(size, span), at) if flat else (at, _middle(size, span))
    return words_box(size.words, x, y, anchor="middle", turned=not flat)


def _draw_size(ink: Ink, size: Size, span: Span, at: float, way: float, *, flat: bool) -> None:
    first, last = size.low - AIR * (span[0] < size.low), size.high + AIR * (span[1] > size.high)
    start, end = size.start + way * 3.0, at + way * 4.0
    lines = [((first, at), (last, at)), *(((edge, start), (edge, end)) for edge in (size.low, size.high))]
    for line in lines:
        (x0, y0), (x1, y1) = line if flat else [(y, x) for x, y in line]
        ink.lined.add_line([(x0, y0), (x1, y1)])
        ink.stroke(f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}", 'stroke-width=".6"')
    for edge in (size.low, size.high):
        x, y = (edge, at) if flat else (at, edge)
        ink.stroke(f"M{x - 3.0:.1f} {y + 3.0:.1f}l6 -6", 'stroke-width="1.5"')
    middle = _middle(size, span)
    x, y = (middle, at) if flat else (at, middle)
    ink.stretch((x, end, x, end) if flat else (end, y, end, y))
    ink.put(size.words, x, y, anchor="middle", turned=not flat, fields=size.fields, field=size.field)
