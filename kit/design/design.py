"""Everything that will be built, carried and disturbed, designed once and read by checks, takeoff and hours."""

from dataclasses import dataclass

from kit.design.drain import DrainRoute, design_drain
from kit.design.duties import Duties, design_duties
from kit.design.frame import Frame, design_frame
from kit.design.front import FrontCut, design_front
from kit.design.levels import Levels, design_levels
from kit.design.lift import Lift, design_lift
from kit.design.load import Load, design_load
from kit.design.shims import Shims, design_shims
from kit.design.supply import Supply, design_supply
from kit.design.top import Top, design_top
from kit.errors import Fault, JobError
from kit.job import Job
from kit.lists import CounterKind, Lists

__all__ = ["Design", "counter_kind", "design_job"]


@dataclass(frozen=True, slots=True)
class Design:
    """The design of one job."""

    levels: Levels
    load: Load
    cut: FrontCut | None
    frame: Frame
    drain: DrainRoute
    supply: Supply
    top: Top
    shims: Shims
    lift: Lift
    duties: Duties


def counter_kind(job: Job, lists: Lists) -> CounterKind:
    """The job's counter in the list of counters.

    Raises
    ------
    JobError
        If the list doesn't hold it.
    """
    kind = lists.counters.get(job.counter.item)
    if kind is None:
        raise JobError(Fault("counter.item", f'"{job.counter.item}" is not in counters.csv. Known: {", ".join(lists.counters)}.'))
    if kind.material != job.counter.material:
        raise JobError(Fault("counter.item", f'"{job.counter.item}" is {kind.material}, but counter.material says {job.counter.material}.'))
    return kind


def design_job(job: Job, lists: Lists) -> Design:
    """The design of a job whose assumptions are filled in. Never raises on parts that are sound but don't fit together."""
    levels = design_levels(job)
    cut = design_front(job, levels)
    drain = design_drain(job, levels, lists)
    return Design(
        levels=levels,
        load=design_load(job, lists.company.least_load),
        cut=cut,
        frame=design_frame(job, levels, cut),
        drain=drain,
        supply=design_supply(job, lists),
        top=design_top(job, counter_kind(job, lists)),
        shims=design_shims(job),
        lift=design_lift(job, lists),
        duties=design_duties(job, drain, cut),
    )
