"""How the boxes are brought level: pairs of shims at each support, or strips on top of boxes that stay fixed; and what that does to the sink base."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from kit.design.packer_strips import strips_in
from kit.design.place_run import locate_boxes
from kit.design.removal import design_removal
from kit.job import FilledJob
from kit.sources import value
from kit.spans import Span
from kit.units import count_parts

__all__ = [
    "Shims",
    "Support",
    "base_low_in",
    "box_top_lines",
    "design_shims",
    "floor_fall_in",
    "leaning_sides",
    "packed_in",
    "pair_in",
    "pairs_in",
    "raised_in",
    "stand_level",
]


_NO_SUPPORT = ("dishwasher", "range", "filler", "open")


@dataclass(frozen=True, slots=True)
class Support:
    """One support along the run: its place, how much it is low in front and at the rear, and what fills the gaps there."""

    at_in: float
    gap_in: float
    rear_gap_in: float
    pairs: int
    packer_in: float

    @property
    def worst_in(self) -> float:
        """The larger of its two gaps [in]."""
        return max(self.gap_in, self.rear_gap_in)


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
        return max((support.worst_in for support in self.supports), default=0.0)

    @property
    def worst_slope_in(self) -> float:
        """By how much a support is lower on one side than on the other, front to rear, at the most [in]."""
        return max((abs(support.gap_in - support.rear_gap_in) for support in self.supports), default=0.0)


def design_shims(job: FilledJob) -> Shims:
    """Gap at each support, in front and at the rear, from the readings; straight lines between them.

    Notes
    -----
    A pair of opposed shims fills up to the sum of its thick and thin end; a larger gap gets a solid packer below the
    pair, or a second pair where it would be too thin to rip. Supports at the ends and between them never further apart than `level/support-spacing`.
    """
    assumed, (fronts, rears), most_in = not job.levelness.readings, box_top_lines(job), pair_in()
    supports = []
    for at_in in _places(job):
        gaps = (_low_at(fronts, at_in), _low_at(rears, at_in))
        packer_in = strips_in(max(max(gaps) - most_in, 0.0))
        pairs = sum(int(value("practice", "level/pairs")) * pairs_in(gap_in - packer_in) for gap_in in gaps if gap_in > value("practice", "level/gap-least"))
        supports.append(Support(at_in, *gaps, pairs, packer_in))
    return Shims("box tops" if job.cabinet.fixed else "floor", tuple(supports), assumed)


def pair_in() -> float:
    """What a pair of opposed shims fills at the most [in]."""
    return value("shims", "thick-end") + value("shims", "thin-end")


def pairs_in(gap_in: float) -> int:
    """How many pairs of opposed shims fill a gap, one at least.

    Examples
    --------
    >>> pairs_in(0.25), pairs_in(0.4375), pairs_in(0.5)
    (1, 1, 2)
    """
    return max(count_parts(gap_in, pair_in()), 1)


def box_top_lines(job: FilledJob) -> tuple[list[Span], list[Span]]:
    """(place, low) along the front and along the rear, in the order along the run [in]; without readings the drop that is assumed, from end to end."""
    readings = sorted((reading.at_in, *reading.lows_in) for reading in job.levelness.readings)
    if not readings:
        drop_in = job.levelness.assumed_drop_in
        readings = [(0.0, 0.0, 0.0), (job.counter.run_of_sink.length_in, drop_in, drop_in)]
    return [(at_in, low_in) for at_in, low_in, _ in readings], [(at_in, low_in) for at_in, _, low_in in readings]


def leaning_sides(job: FilledJob) -> dict[str, float]:
    """How thick a packer is that brings a side of a fixed base level with its other one, below its pair of shims [in]; none where a pair does it."""
    if not job.cabinet.fixed or design_removal(job).counter_by != "us":
        return {}
    (fronts, rears), left_in, by_in = box_top_lines(job), _base_left_in(job), packed_in(job) + pair_in()
    places = {"left": left_in, "right": left_in + job.cabinet.width_in}
    low = {side: max(_low_at(fronts, at_in), _low_at(rears, at_in)) - by_in for side, at_in in places.items()}
    packers = {side: strips_in(max(low_in, 0.0)) for side, low_in in low.items()}
    return {side: packer_in for side, packer_in in packers.items() if packer_in}


def _readings(job: FilledJob) -> list[Span]:
    """(place, low) in the order along the run, each at the higher of front and rear [in]."""
    return sorted((reading.at_in, min(reading.lows_in)) for reading in job.levelness.readings)


def _base_left_in(job: FilledJob) -> float:
    """The left side of the sink base from the left end of its run [in]."""
    return job.counter.sink_center_in - job.cabinet.width_in / 2.0


def _least_low_in(job: FilledJob) -> float:
    """How low the base is where it stands highest [in]: at its sides, or at a reading between them."""
    lows, left_in = _readings(job), _base_left_in(job)
    right_in = left_in + job.cabinet.width_in
    within = [low_in for at_in, low_in in lows if left_in < at_in < right_in]
    return min([*within, _low_at(lows, left_in), _low_at(lows, right_in)]) if lows else 0.0


def base_low_in(job: FilledJob) -> float:
    """How low the sink base stands, where it stands highest, below the highest box of its run [in]; 0 without readings.

    What a tape can't tell from nothing is nothing: posts are cut to what is measured on the day.
    """
    least_in = _least_low_in(job)
    return least_in if least_in > value("checks", "tape/tolerance") else 0.0


def packed_in(job: FilledJob) -> float:
    """How far packers raise the counter, and the sink with it, above a base that stays fixed [in]."""
    return base_low_in(job) if job.cabinet.fixed and design_removal(job).counter_by == "us" else 0.0


def raised_in(job: FilledJob) -> float:
    """How far shims at the floor raise a base that is free [in]."""
    return base_low_in(job) if not job.cabinet.fixed and design_removal(job).counter_by == "us" else 0.0


def stand_level(job: FilledJob) -> FilledJob:
    """The job with its base as high as it stands once free boxes are shimmed at the floor; as it is where they stay fixed."""
    by_in = raised_in(job)
    if not by_in:
        return job
    cabinet = job.cabinet
    heights = {name: getattr(cabinet, name) + by_in for name in ("height_in", "floor_height_in", "toe_height_in")}
    return job.model_copy(update={"cabinet": cabinet.model_copy(update=heights)})


def floor_fall_in(job: FilledJob, x_in: float) -> float:
    """How far the floor below the base has fallen at a place, `x_in` from the base's left, from its highest [in]; 0 without readings.

    Nobody reads the floor below a base: it is taken to fall as the box tops do.
    """
    lows = _readings(job)
    if not lows:
        return 0.0
    fall_in = _low_at(lows, _base_left_in(job) + x_in) - _least_low_in(job)
    return fall_in if fall_in > value("practice", "level/gap-least") else 0.0


def _places(job: FilledJob) -> list[float]:
    """Where the run is supported, from its left end [in]: at its ends, or the sides of its boxes where they are listed; no further apart than the spacing."""
    length_in, spacing_in = job.counter.run_of_sink.length_in, value("practice", "level/support-spacing")
    base_in = job.counter.sink_center_in - job.cabinet.width_in / 2.0
    ends, sides = {"left": 0.0, "right": length_in}, set[float]()
    for box in locate_boxes(job.cabinet):
        x = (base_in + box.x[0], base_in + box.x[1])
        ends[box.side] = {"left": 0.0, "right": length_in}[box.side] if box.kind in _NO_SUPPORT else x[0 if box.side == "left" else 1]
        sides |= set() if box.kind in _NO_SUPPORT else {*x, base_in, base_in + job.cabinet.width_in}
    first_in, last_in = max(ends["left"], 0.0), min(ends["right"], length_in)
    fixed = sorted({first_in, last_in, *(at for at in sides if first_in < at < last_in)})
    places = fixed[:1]
    for left_in, right_in in pairwise(fixed):
        spaces = count_parts(right_in - left_in, spacing_in)
        places += [left_in + (right_in - left_in) * number / spaces for number in range(1, spaces + 1)]
    return places


def _low_at(lows: Sequence[tuple[float, float]], at_in: float) -> float:
    """How low the boxes are at a place, from (place, low) in the order along the run [in]."""
    if at_in <= lows[0][0]:
        return lows[0][1]
    for (left_in, left_low_in), (right_in, right_low_in) in pairwise(lows):
        if at_in <= right_in:
            share = (at_in - left_in) / (right_in - left_in)
            return left_low_in + share * (right_low_in - left_low_in)
    return lows[-1][1]
