"""How the boxes are brought level: pairs of shims at each support, or strips on top of boxes that stay fixed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from kit.job import FilledJob
from kit.sources import value

__all__ = ["Shims", "Support", "design_shims"]


@dataclass(frozen=True, slots=True)
class Support:
    """One support along the run: its place, how much it is low, and what fills the gap there."""

    at_in: float
    gap_in: float
    pairs: int
    packer_in: float


@dataclass(frozen=True, slots=True)
class Shims:
    """Every support of the run of the sink; `where` is at the floor (boxes free) or on the box tops (boxes fixed)."""

    where: Literal["floor", "box tops"]
    supports: tuple[Support, ...]
    assumed: bool

    @property
    def pairs(self) -> int:
        """Opposed pairs of shims."""
        return sum(support.pairs for support in self.supports)

    @property
    def worst_in(self) -> float:
        """The largest gap [in]."""
        return max((support.gap_in for support in self.supports), default=0.0)


def design_shims(job: FilledJob) -> Shims:
    """Gap at each support from the readings, straight lines between them.

    Notes
    -----
    A pair of opposed shims fills up to the sum of its thick and thin end; a larger gap gets a solid packer below the
    pair. Supports at the ends and between them never further apart than `level/support-spacing`.
    """
    length_in = job.counter.run_of_sink.length_in
    assumed = not job.levelness.readings
    lows = sorted((reading.at_in, reading.low_in) for reading in job.levelness.readings) or [(0.0, 0.0), (length_in, job.levelness.assumed_drop_in)]
    most_in = value("shims", "thick-end") + value("shims", "thin-end")
    spaces = max(1, math.ceil(round(length_in / value("practice", "level/support-spacing"), 6)))
    supports = []
    for number in range(spaces + 1):
        at_in = length_in * number / spaces
        gap_in = _low_at(lows, at_in)
        packer_in = gap_in - most_in if gap_in > most_in else 0.0
        pairs = int(value("practice", "level/pairs")) if gap_in > value("practice", "level/gap-least") else 0
        supports.append(Support(at_in, gap_in, pairs, packer_in))
    return Shims("box tops" if job.cabinet.fixed else "floor", tuple(supports), assumed)


def _low_at(lows: Sequence[tuple[float, float]], at_in: float) -> float:
    """How low the boxes are at a place, from (place, low) in the order along the run [in]."""
    if at_in <= lows[0][0]:
        return lows[0][1]
    for (left_in, left_low_in), (right_in, right_low_in) in pairwise(lows):
        if at_in <= right_in:
            share = (at_in - left_in) / (right_in - left_in)
            return left_low_in + share * (right_low_in - left_low_in)
    return lows[-1][1]
