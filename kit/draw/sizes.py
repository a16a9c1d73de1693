"""Dimension lines: tiers beside the drawing, a tick at each end, the measure between them or, where that is too tight, beside them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kit.draw.ink import Ink
from kit.draw.lettering import measure_text
from kit.draw.spread import pack_tiers

__all__ = ["Side", "Size", "draw_sizes"]

Side = Literal["left", "right", "above", "below"]

FIRST_TIER, TIER = 20.0, 18.0
AIR = 6.0


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
