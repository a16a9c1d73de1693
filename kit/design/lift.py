"""Who lifts what, along which way."""

from dataclasses import dataclass

from kit.errors import Fault, ListError
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import Lifters

__all__ = ["Lift", "design_lift", "lifter_row"]


@dataclass(frozen=True, slots=True)
class Lift:
    """The lift of the sink: weight [lb], people by the crew table, whether a machine is asked for, and the way in."""

    weight_lb: float
    lifters: int
    mechanical: bool
    says: str
    way_ft: float
    stair_steps: int


def lifter_row(weight_lb: float, lists: Lists) -> Lifters:
    """The row of the crew table for a weight; the last one beyond the table's end."""
    return next((row for row in lists.lifters if weight_lb <= row.up_to_lb), lists.lifters[-1])


def design_lift(job: FilledJob, lists: Lists) -> Lift:
    """People for the sink by the crew table in the lists (common practice, no source; editable).

    Raises ListError if the sink is heavier than the table goes.
    """
    row = lifter_row(job.sink.weight_lb, lists)
    if job.sink.weight_lb > row.up_to_lb:
        raise ListError(Fault("", f"ends at {row.up_to_lb:g} lb; the sink weighs {job.sink.weight_lb:g} lb. Add a row for it.", "lifters.csv"))
    return Lift(job.sink.weight_lb, row.lifters, row.mechanical, row.says, job.site.carry_ft, job.site.stair_steps)
