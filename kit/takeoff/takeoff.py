"""The takeoff: every trade step's function in the order of the work."""

from collections.abc import Callable

from kit.design import Design
from kit.job import Job
from kit.lists import Lists
from kit.records import Line
from kit.takeoff.counter import count_counter
from kit.takeoff.frame import count_frame
from kit.takeoff.sheet import Sheet
from kit.takeoff.shims import count_shims
from kit.takeoff.sink import count_sink

__all__ = ["TRADE_STEPS", "take_off"]

TRADE_STEPS: tuple[Callable[[Sheet], list[Line]], ...] = (
    count_shims,
    count_frame,
    count_sink,
    count_counter,
)


def take_off(job: Job, design: Design, lists: Lists) -> tuple[Line, ...]:
    """Every line of the job; lines of nothing are left out."""
    sheet = Sheet(job, design, lists)
    return tuple(line for count in TRADE_STEPS for line in count(sheet) if line.quantity > 0.0)
