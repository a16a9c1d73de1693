"""How long is the kitchen without a sink, with and without a temporary one? The spans between removing and testing."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from kit.errors import Fault, KitError
from kit.labor.schedule import Schedule
from kit.steps import Step

__all__ = ["TemporarySink", "count_days_without_sink", "find_spans_without_sink"]


@dataclass(frozen=True, slots=True)
class TemporarySink:
    """A sink lent for the time of the work: it runs from the end of one step until it stands in the way of another.

    Of `taken_out_by` the first step that the job has counts.
    """

    running_after: Step = Step.KEEP_WATER
    taken_out_by: tuple[Step, ...] = (Step.SET_COUNTER, Step.SET_SINK)


def find_spans_without_sink(schedule: Schedule, temporary: TemporarySink | None = None) -> tuple[tuple[datetime, datetime], ...]:
    """Find the spans in which the kitchen has no working sink.

    Parameters
    ----------
    schedule
        The job on the calendar.
    temporary
        The temporary sink, None for none.

    Returns
    -------
    Start and end of each span. Without a temporary sink one: from the end of `remove-sink` to the end of `fill-test`. None at all
    when the job lacks one of these steps.

    Raises
    ------
    KitError
        The job lacks the steps between which the temporary sink runs.
    """
    out, back = schedule.find(Step.REMOVE_SINK), schedule.find(Step.FILL_TEST)
    if out is None or back is None:
        return ()
    if temporary is None:
        return ((out.finish, back.finish),)
    there = schedule.find(temporary.running_after)
    gone = next((row for step in temporary.taken_out_by if (row := schedule.find(step))), None)
    if there is None or gone is None:
        lacking = temporary.running_after if there is None else " or ".join(temporary.taken_out_by)
        raise KitError(Fault("temporary sink", f"it needs the step {lacking}, which this job doesn't have."))
    if gone.start <= there.finish:
        return ((out.finish, back.finish),)
    return tuple((first, last) for first, last in ((out.finish, there.finish), (gone.start, back.finish)) if last > first)


def count_days_without_sink(schedule: Schedule, temporary: TemporarySink | None = None) -> float | None:
    """Count the days, of 24 elapsed hours, without a kitchen sink; None when no sink is removed or none is tested.

    Parameters and errors as `find_spans_without_sink`.
    """
    spans = find_spans_without_sink(schedule, temporary)
    if not spans:
        return None
    return sum((last - first for first, last in spans), timedelta()) / timedelta(days=1)
