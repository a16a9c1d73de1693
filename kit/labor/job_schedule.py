"""When is this job done? Its calendar, its steps on it, and how long the kitchen goes without a sink."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from kit.job import FilledJob
from kit.labor.calendar import WorkCalendar, cooling_off_end
from kit.labor.leads import find_leads
from kit.labor.schedule import OWN, Lead, Schedule, plan_schedule
from kit.labor.trips import Trip
from kit.labor.without_sink import TemporarySink, count_days_without_sink
from kit.labor.work import calendar_tasks
from kit.lists import Company, Lists
from kit.records import Line, Task
from kit.steps import Step

__all__ = ["JobPlan", "JobSchedule", "job_calendar", "plan_job", "schedule_job"]

LENT_AFTER = (Step.INSPECT, Step.STOPS, Step.ROUGH_DRAIN, Step.KEEP_WATER, Step.REMOVE_SINK)


@dataclass(frozen=True, slots=True)
class JobPlan:
    """What the calendar needs of a job: the tasks on it, its working time, its first day, what is waited for, earliest instants."""

    tasks: tuple[Task, ...]
    calendar: WorkCalendar
    start: date
    leads: Mapping[Step, tuple[Lead, ...]]
    not_before: Mapping[Step, datetime]


@dataclass(frozen=True, slots=True)
class JobSchedule:
    """A job on the calendar.

    `own_hours` are those of the estimate, ways among them; `trips` are those that are priced, while `schedule.trips` are those that
    fall on this calendar. `sink_out` is when the old sink is out, `sink_back` when the new one is tested; the days without a sink
    are days of 24 hours, None where no sink is taken out or none is tested, and the same with a temporary sink lent between.
    """

    schedule: Schedule
    calendar: WorkCalendar
    trips: tuple[Trip, ...]
    own_hours: float
    hired_hours: float
    ordered: datetime | None
    sink_out: datetime | None
    sink_back: datetime | None
    days_without_sink: float | None
    days_with_temporary_sink: float | None

    @property
    def finish(self) -> datetime:
        """When the last step ends."""
        return self.schedule.finish


def job_calendar(job: FilledJob, company: Company) -> WorkCalendar:
    """The hours in which the house may be worked in, on the days and without the holidays of the company."""
    country, region = company.holidays
    return WorkCalendar(time(job.site.start_hour), job.site.work_day_h, company.work_days, country, region)


def plan_job(job: FilledJob, lines: Sequence[Line], tasks: Sequence[Task], hired: Sequence[Task], trips: Sequence[Trip], lists: Lists) -> JobPlan:
    """Lay out what the calendar needs; everything counts from the day of the visit.

    Nothing is ordered before the customer has signed and may no longer cancel: `days_to_sign` after the visit, or the day that the
    terms name, and the business days of the company file after that.
    """
    company, visited = lists.company, job.identity.visit_date
    signed = job.terms.signed_on or visited + timedelta(days=company.days_to_sign)
    on_calendar = calendar_tasks(tasks, hired, trips, lists)
    after = {task.step: task.after for task in on_calendar}
    country, region = company.holidays
    free = cooling_off_end(signed, days=company.cooling_off_days, country=country or "US", region=region)
    return JobPlan(
        tasks=on_calendar,
        calendar=job_calendar(job, company),
        start=visited,
        leads=find_leads(job, lines, after, lists),
        not_before={Step.ORDER: free} if Step.ORDER in after else {},
    )


def schedule_job(plan: JobPlan, tasks: Sequence[Task], hired: Sequence[Task], trips: Sequence[Trip]) -> JobSchedule:
    """Put a planned job on its calendar."""
    found = plan_schedule(plan.tasks, plan.calendar, plan.start, lead_days=plan.leads, not_before=plan.not_before)
    ordered, out, back = (found.find(step) for step in (Step.ORDER, Step.REMOVE_SINK, Step.FILL_TEST))
    return JobSchedule(
        schedule=found,
        calendar=plan.calendar,
        trips=tuple(trips),
        own_hours=round(sum(task.hours_likely for task in tasks if task.trade == OWN), 4),
        hired_hours=round(sum(task.hours_likely for task in hired), 4),
        ordered=ordered.start if ordered else None,
        sink_out=out.finish if out else None,
        sink_back=back.finish if back else None,
        days_without_sink=count_days_without_sink(found),
        days_with_temporary_sink=_days_with_temporary_sink(found),
    )


def _days_with_temporary_sink(schedule: Schedule) -> float | None:
    """With a sink lent from the last of the steps that make water and drain ready, until counter or sink take its place."""
    taken = (Step.SET_COUNTER, Step.SET_SINK)
    gone = next((row for step in taken if (row := schedule.find(step))), None)
    if gone is None:
        return count_days_without_sink(schedule)
    rows = [row for step in LENT_AFTER if (row := schedule.find(step)) and row.finish <= gone.start]
    ready = max(rows, key=lambda row: row.finish, default=None)
    return count_days_without_sink(schedule, None if ready is None else TemporarySink(ready.step, taken))
