"""How often and how long is lifted: the frequency multiplier of the revised lifting equation, and the class of a day.

Waters, Putz-Anderson and Garg, Applications Manual for the Revised NIOSH Lifting Equation (DHHS (NIOSH) 94-110, 1994,
revised 2021), Table 5.
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from kit.design.require import require
from kit.errors import Fault, JobError
from kit.sources import value

__all__ = ["Duration", "lifting_duration", "lifting_frequency_factor"]

_TABLE = "lifting"
Duration = Literal["short", "moderate", "long"]


def lifting_duration(blocks: Sequence[tuple[float, float]]) -> Duration:
    """Class the duration of a day given as (work, rest after it) pairs [h] (manual, 2021 revision).

    Blocks run together unless the rest between them is long enough: as long as the work after up to one hour of it,
    0.3 of the work after up to two.
    """
    if not blocks:
        raise JobError(Fault("blocks", "no work was given; wanted is at least one pair of work and rest, in hours."))
    for number, (work, rest) in enumerate(blocks, 1):
        require(positive={f"work of block {number}": work}, not_negative={f"rest of block {number}": rest})
    longest = running = 0.0
    for work, rest in blocks:
        running += work
        longest = max(longest, running)
        if rest >= _needed_rest(running):
            running = 0.0
    if longest > value(_TABLE, "duration/long"):
        raise JobError(Fault("blocks", f"{longest:g} h was given; the lifting equation ends at {value(_TABLE, 'duration/long'):g} h."))
    if longest > value(_TABLE, "duration/moderate"):
        return "long"
    return "moderate" if longest > value(_TABLE, "duration/short") else "short"


def _needed_rest(work_h: float) -> float:
    if work_h <= value(_TABLE, "duration/short"):
        return value(_TABLE, "recovery/short") * work_h
    if work_h <= value(_TABLE, "duration/moderate"):
        return value(_TABLE, "recovery/moderate") * work_h
    return float("inf")


def lifting_frequency_factor(per_min: float, duration: Duration, height_in: float) -> float:
    """Look up the frequency multiplier (manual, Table 5), straight between rows; 0 above a column's last row.

    `per_min` are lifts a minute, `height_in` the hands' height at the origin [in]. Fewer than 0.2 count as 0.2.
    """
    require(not_negative={"per_min": per_min, "height_in": height_in})
    column = _frequency_column(duration, "low" if height_in < value(_TABLE, "vertical/base") else "high")
    rate = max(per_min, column[0][0])
    for (low, at_low), (high, at_high) in pairwise(column):
        if rate <= high:
            return at_low + (at_high - at_low) * (rate - low) / (high - low)
    return 0.0


@lru_cache(maxsize=8)
def _frequency_column(duration: Duration, band: str) -> tuple[tuple[float, float], ...]:
    last = {"short/low": 12, "short/high": 15, "moderate/low": 10, "moderate/high": 12, "long/low": 8, "long/high": 10}[f"{duration}/{band}"]
    return tuple((float(rate), value("lifting_frequency", f"{duration}/{band}/{rate}")) for rate in ("0.2", "0.5", *range(1, last + 1)))
