"""When is this job done? Its calendar, its steps on it, and how long the kitchen goes without a sink."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from kit.facts_html import rows_html
from kit.job import FilledJob
from kit.labor.calendar import DAY, WorkCalendar, cooling_off_end
from kit.labor.hours import HOURS_PLACES
from kit.labor.job_work import calendar_tasks
from kit.labor.schedule import OWN, LeadTimes, Schedule, plan_tasks
from kit.labor.step_order import find_leads
from kit.labor.trips import Trip
from kit.lists import Lists
from kit.lists.company import Company
from kit.records import Line, Task
from kit.steps import Step
from kit.units import format_days, format_half_day

__all__ = ["JobPlan", "JobSchedule", "find_spans_without_sink", "job_calendar", "plan_job", "schedule_job", "signing_day"]

LENT_AFTER = (Step.INSPECT, Step.STOPS, Step.ROUGH_DRAIN, Step.KEEP_WATER, Step.REMOVE_SINK)
"""Steps that make water and drain ready: a temporary sink runs from the last of them on."""

IN_THE_HOUSE = (Step.RECEIVE, Step.PROTECT, Step.REMOVE_SINK, Step.TEMPLATE)
"""Steps with one of which the work in the house starts."""

TAKEN_OUT_BY = (Step.LAY_BACKER, Step.SET_COUNTER, Step.SET_SINK)
"""Steps that need its place: it runs until the first of them that the job has."""


@dataclass(frozen=True, slots=True)
class JobPlan:
    """What the calendar needs of a job: the tasks on it, its working time, its first day, what is waited for, earliest instants, names of the steps."""

    tasks: tuple[Task, ...]
    calendar: WorkCalendar
    start: date
    leads: LeadTimes
    not_before: Mapping[Step, datetime]
    step_names: Mapping[Step, str]


@dataclass(frozen=True, slots=True)
class JobSchedule:
    """A job on the calendar; `plan` is what was put there.

    `own_hours` are those of the estimate, ways among them; `trips` are those by the order of the work, `trips_priced` counts with them
    those that the terms add, while `schedule.trips` are those that fall on this calendar. `sink_out` is when the old sink is out,
    `sink_back` when the new one is tested; the days without a sink are days of 24 hours, None where no sink is taken out or none is
    tested, and the same with a temporary sink lent between.
    """

    schedule: Schedule
    plan: JobPlan
    trips: tuple[Trip, ...]
    trips_priced: int
    own_hours: float
    hired_hours: float
    ordered: datetime | None
    sink_out: datetime | None
    sink_back: datetime | None
    days_without_sink: float | None
    days_with_temporary_sink: float | None

    def __repr__(self) -> str:
        return f"<JobSchedule of {len(self.schedule.steps)} steps in {len(self.trips)} trips, done {format_half_day(self.finish)}>"

    def _repr_html_(self) -> str:
        steps = [(self.plan.step_names[row.step], format_half_day(row.start), format_half_day(row.finish)) for row in self.schedule.steps]
        days = "" if self.days_without_sink is None else f", {format_days(self.days_without_sink)} without a sink"
        return rows_html(f"Done {format_half_day(self.finish)}: {len(self.trips)} trips{days}", ("Step", "From", "To"), steps)

    @property
    def calendar(self) -> WorkCalendar:
        """The working time that it was planned with."""
        return self.plan.calendar

    @property
    def finish(self) -> datetime:
        """When the last step ends."""
        return self.schedule.finish

    @property
    def house_start(self) -> date | None:
        """The day on which the work in the house starts."""
        starts = [row.start for step in IN_THE_HOUSE if (row := self.schedule.find(step))]
        return min(starts).date() if starts else None


def job_calendar(job: FilledJob, company: Company) -> WorkCalendar:
    """The hours in which the house may be worked in, on the days and without the holidays of the company."""
    return _calendar(job.site.start_hour, job.site.work_day_h, company.work_days, *company.holidays)


@lru_cache
def _calendar(start_hour: int, work_day_h: float, work_days: frozenset[int], country: str, region: str) -> WorkCalendar:
    """The same object for the same hours: its working days are then found at once, without comparing calendars."""
    return WorkCalendar(time(start_hour), work_day_h, work_days, country, region)


def signing_day(job: FilledJob, company: Company) -> date:
    """The day on which the customer signs: what the terms name, else as long after the visit as the company file expects."""
    return job.terms.signed_on or job.identity.visit_date + timedelta(days=company.days_to_sign)


def plan_job(
    job: FilledJob, lines: Sequence[Line], tasks: Sequence[Task], hired: Sequence[Task], trips: Sequence[Trip], lists: Lists, step_names: Mapping[Step, str]
) -> JobPlan:
    """Lay out what the calendar needs; everything counts from the day of the visit.

    Nothing is ordered before the customer has signed and may no longer cancel: `days_to_sign` after the visit, or the day that the
    terms name, and the business days of the company file after that.
    """
    company = lists.company
    on_calendar = calendar_tasks(tasks, hired, trips, lists)
    after = {task.step: task.after for task in on_calendar}
    country, region = company.holidays
    free = cooling_off_end(signing_day(job, company), days=company.cooling_off_days, country=country or "US", region=region)
    return JobPlan(
        tasks=on_calendar,
        calendar=job_calendar(job, company),
        start=job.identity.visit_date,
        leads=find_leads(job, lines, after, lists),
        not_before={Step.ORDER: free} if Step.ORDER in after else {},
        step_names={step: step_names[step] for step in after},
    )


def schedule_job(plan: JobPlan, tasks: Sequence[Task], hired: Sequence[Task], trips: Sequence[Trip], trips_priced: int) -> JobSchedule:
    """Put a planned job on its calendar."""
    schedule = plan_tasks(plan.tasks, plan.calendar, plan.start, leads=plan.leads, not_before=plan.not_before)
    ordered, out, back = (schedule.find(step) for step in (Step.ORDER, Step.REMOVE_SINK, Step.FILL_TEST))
    return JobSchedule(
        schedule=schedule,
        plan=plan,
        trips=tuple(trips),
        trips_priced=trips_priced,
        own_hours=round(sum(task.hours_likely for task in tasks if task.trade == OWN), HOURS_PLACES),
        hired_hours=round(sum(task.hours_likely for task in hired), HOURS_PLACES),
        ordered=ordered.start if ordered else None,
        sink_out=out.finish if out else None,
        sink_back=back.finish if back else None,
        days_without_sink=_count_days(find_spans_without_sink(schedule)),
        days_with_temporary_sink=_count_days(find_spans_without_sink(schedule, lent=True)),
    )


def find_spans_without_sink(schedule: Schedule, *, lent: bool = False) -> tuple[tuple[datetime, datetime], ...]:
    """Find the spans in which the kitchen has no working sink.

    Parameters
    ----------
    schedule
        The job on the calendar.
    lent
        With a temporary sink, from the last of the steps that make water and drain ready until counter or sink take its place.

    Returns
    -------
    Start and end of each span: one from the end of `remove-sink` to the end of `fill-test`, or what a temporary sink leaves of it.
    None at all when the job lacks one of these steps.
    """
    out, back = schedule.find(Step.REMOVE_SINK), schedule.find(Step.FILL_TEST)
    if out is None or back is None:
        return ()
    sink_out = next((row.start for step in TAKEN_OUT_BY if (row := schedule.find(step))), None)
    ready = [row.finish for step in LENT_AFTER if (row := schedule.find(step)) and sink_out and row.finish <= sink_out]
    if not lent or sink_out is None or max(ready, default=sink_out) == sink_out:
        return ((out.finish, back.finish),)
    return tuple((first, last) for first, last in ((out.finish, max(ready)), (sink_out, back.finish)) if last > first)


def _count_days(spans: Sequence[tuple[datetime, datetime]]) -> float | None:
    """Days of 24 elapsed hours; None for no span."""
    return sum((last - first for first, last in spans), timedelta()) / DAY if spans else None
