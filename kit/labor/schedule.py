"""When does each step start and end, how late may it be, how often does the crew come? The steps on the calendar.

Floats under two clocks: the passes go through the same calendar, forward with "start at the next working instant", backward with
"end at the last working instant before". A float is the working time between the earliest and the latest start: exactly the
delay that leaves the finish (total) or every follower (free) where it is. A wait that ends in the night or on a weekend gives the
steps before it float, so the steps without float need not form one chain; `Schedule.deciding` is the chain that sets the finish.

A longer step never ends the job earlier: every end is a non-decreasing function of the ends before it and of its own hours, and
the order of the crew's steps hangs on the links alone, never on the hours. Trips, crew days and days without a sink have no such rule.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Literal

from kit.errors import Fault, KitError
from kit.labor.calendar import (
    WorkCalendar,
    add_working_hours,
    count_working_hours,
    is_working_day,
    next_working_instant,
    previous_working_instant,
    subtract_working_hours,
)
from kit.labor.network import order_activities
from kit.records import Task
from kit.steps import Step

__all__ = ["Lead", "LeadTimes", "Schedule", "ScheduledStep", "StepLink", "link_steps", "plan_schedule"]

OWN = "crew"
Clock = Literal["working", "elapsed"]


@dataclass(frozen=True, slots=True)
class Lead:
    """Something that is waited for after a step: how long [h, on its clock], at best, as a rule and at worst."""

    what: str
    hours_low: float
    hours_likely: float
    hours_high: float
    clock: Clock = "elapsed"


LeadTimes = Mapping[Step, float | tuple[Lead, ...]]


@dataclass(frozen=True, slots=True)
class StepLink:
    """A step that must end first, and the time that must pass after its end [h], on that clock; `lead` names what is waited for."""

    before: Step
    wait_h: float = 0.0
    clock: Clock = "working"
    lead: str = ""


@dataclass(frozen=True, slots=True)
class ScheduledStep:
    """One step on the calendar.

    `float_h` and `free_float_h` are working hours. `held_by` is the step whose end or wait decides the start, None when the job's
    own start or an earliest date does. `wait_until` is when the wait after the step is over, its finish when there is none.
    """

    step: Step
    trade: str
    crew: int
    start: datetime
    finish: datetime
    latest_start: datetime
    latest_finish: datetime
    float_h: float
    free_float_h: float
    held_by: Step | None
    wait_until: datetime

    @property
    def critical(self) -> bool:
        """Whether any delay of the step delays the job."""
        return self.float_h == 0


@dataclass(frozen=True, slots=True)
class Schedule:
    """The job on the calendar, steps in an order that can be worked.

    `crew_days` are the dates with own work on site. A new trip begins when the crew comes back on a later date after working time
    has passed without work for it (a cure, a hired trade, a delivery); a night, a weekend or a holiday alone begins none.
    Hours are worker-hours.
    """

    steps: tuple[ScheduledStep, ...]
    start: datetime
    finish: datetime
    crew_days: int
    trips: int
    own_hours: float
    hired_hours: float

    def find(self, step: Step) -> ScheduledStep | None:
        """Find a step on the calendar; None when the job doesn't have it."""
        return next((row for row in self.steps if row.step is step), None)

    @property
    def critical(self) -> tuple[Step, ...]:
        """The steps without float."""
        return tuple(row.step for row in self.steps if row.critical)

    @property
    def deciding(self) -> tuple[Step, ...]:
        """The chain that sets the finish: each step is held by the one before it."""
        chain: list[Step] = []
        row = max(self.steps, key=lambda row: row.finish, default=None)
        while row is not None:
            chain.append(row.step)
            row = self.find(row.held_by) if row.held_by else None
        return tuple(reversed(chain))


def link_steps(tasks: Sequence[Task], lead_days: LeadTimes | None = None) -> dict[Step, tuple[StepLink, ...]]:
    """Tell what each step waits for: its own forerunners and the step its people do before it.

    Parameters
    ----------
    tasks
        In the order of the trade. Own people and each hired trade do one step at a time, in this order as far as `after` allows.
    lead_days
        What must pass after a step besides the task's own wait: elapsed days, or leads (delivery, fabrication) on their clocks.

    Returns
    -------
    The links of each step, in an order that can be worked. The link between two steps of the same people carries no wait.

    Raises
    ------
    KitError
        A step that stands twice, waits for one the job doesn't have or for itself in a ring; a time below 0; a lead after no step.
    """
    leads = lead_days or {}
    by_step = {task.step: task for task in tasks}
    faults = [Fault(task.step, "stands twice among the tasks.") for n, task in enumerate(tasks) if any(task.step is other.step for other in tasks[:n])]
    faults += [
        Fault(task.step, f"a time of {hours:g} h makes no sense. Wanted: 0 or more.")
        for task in tasks
        for hours in (task.duration_h, task.wait_h, *(lead.hours_likely for lead in _leads_of(leads, task.step)))
        if not 0 <= hours < float("inf")
    ]
    faults += [Fault(step, "has a lead time, but the job has no such step.") for step in leads if step not in by_step]
    if faults:
        raise KitError(faults)
    links: dict[Step, tuple[StepLink, ...]] = {}
    last_of: dict[str, Step] = {}
    for step in order_activities({task.step: task.after for task in tasks}):
        task = by_step[step]
        found = [StepLink(name, by_step[name].wait_h, by_step[name].clock) for name in task.after]
        found += [StepLink(name, lead.hours_likely, lead.clock, lead.what) for name in task.after for lead in _leads_of(leads, name)]
        if task.trade in last_of:
            found.append(StepLink(last_of[task.trade]))
        last_of[task.trade] = step
        links[step] = tuple(found)
    return links


def plan_schedule(
    tasks: Sequence[Task],
    calendar: WorkCalendar,
    start: date,
    *,
    lead_days: LeadTimes | None = None,
    not_before: Mapping[Step, datetime] | None = None,
    off_site: Collection[Step] = (Step.ORDER,),
) -> Schedule:
    """Put the steps of a job on the calendar, each as early as it can be.

    Parameters
    ----------
    tasks
        In the order of the trade; one task a step.
    calendar
        Working time of own people and hired trades alike.
    start
        Day (from the start of work) or naive instant from which everything counts.
    lead_days
        As `link_steps`: delivery after `order`, fabrication after `template`.
    not_before
        Earliest instant of a step, such as the end of the cooling-off span for `order`.
    off_site
        Own steps that need no trip to the house.

    Returns
    -------
    Start, finish and floats of each step, finish of the job, crew days and trips.

    Raises
    ------
    KitError
        As `link_steps`; or an earliest instant of a step that the job doesn't have.
    """
    earliest = not_before or {}
    unknown = [Fault(step, "has an earliest date, but the job has no such step.") for step in earliest if step not in {task.step for task in tasks}]
    if unknown:
        raise KitError(unknown)
    links = link_steps(tasks, lead_days)
    by_step = {task.step: task for task in tasks}
    begin = start if isinstance(start, datetime) else datetime.combine(start, calendar.start_of_day)
    starts: dict[Step, datetime] = {}
    ends: dict[Step, datetime] = {}
    held: dict[Step, Step | None] = {}
    for step, before in links.items():
        ready, held[step] = max(begin, earliest.get(step, begin)), None
        for link in before:
            free = _pass(calendar, ends[link.before], link)
            if free > ready:
                ready, held[step] = free, link.before
        hours = by_step[step].duration_h
        ends[step] = add_working_hours(calendar, ready, hours)
        starts[step] = next_working_instant(calendar, ready) if hours else ends[step]
    finish = max(ends.values(), default=begin)
    latest = _latest(calendar, by_step, links, finish)
    rows = tuple(
        ScheduledStep(
            step=step,
            trade=by_step[step].trade,
            crew=by_step[step].crew,
            start=starts[step],
            finish=ends[step],
            latest_start=latest[step][0],
            latest_finish=latest[step][1],
            float_h=count_working_hours(calendar, starts[step], latest[step][0]),
            free_float_h=count_working_hours(calendar, ends[step], _free_end(calendar, links, step, starts, finish)),
            held_by=held[step],
            wait_until=max((_pass(calendar, ends[step], link) for link in _waits(by_step[step], lead_days or {})), default=ends[step]),
        )
        for step in links
    )
    on_site = [row for row in rows if row.trade == OWN and row.step not in off_site and by_step[row.step].duration_h > 0]
    return Schedule(
        steps=rows,
        start=min(starts.values(), default=begin),
        finish=finish,
        crew_days=len({day for row in on_site for day in _days(calendar, row)}),
        trips=_count_trips(calendar, on_site),
        own_hours=sum(task.hours_likely for task in tasks if task.trade == OWN),
        hired_hours=sum(task.hours_likely for task in tasks if task.trade != OWN),
    )


def _pass(calendar: WorkCalendar, end: datetime, link: StepLink) -> datetime:
    if not link.wait_h:
        return end
    return end + timedelta(hours=link.wait_h) if link.clock == "elapsed" else add_working_hours(calendar, end, link.wait_h)


def _pass_back(calendar: WorkCalendar, start: datetime, link: StepLink) -> datetime:
    if not link.wait_h:
        return start
    return start - timedelta(hours=link.wait_h) if link.clock == "elapsed" else subtract_working_hours(calendar, start, link.wait_h)


def _waits(task: Task, leads: LeadTimes) -> Iterator[StepLink]:
    yield StepLink(task.step, task.wait_h, task.clock)
    yield from (StepLink(task.step, lead.hours_likely, lead.clock, lead.what) for lead in _leads_of(leads, task.step))


def _leads_of(leads: LeadTimes, step: Step) -> tuple[Lead, ...]:
    found = leads.get(step, ())
    return found if isinstance(found, tuple) else (Lead("", 24 * found, 24 * found, 24 * found),)


def _latest(
    calendar: WorkCalendar, by_step: Mapping[Step, Task], links: dict[Step, tuple[StepLink, ...]], finish: datetime
) -> dict[Step, tuple[datetime, datetime]]:
    bounds = dict.fromkeys(links, finish)
    latest: dict[Step, tuple[datetime, datetime]] = {}
    for step in reversed(links):
        hours = by_step[step].duration_h
        start = subtract_working_hours(calendar, bounds[step], hours)
        latest[step] = start, previous_working_instant(calendar, bounds[step]) if hours else start
        for link in links[step]:
            bounds[link.before] = min(bounds[link.before], _pass_back(calendar, start, link))
    return latest


def _free_end(calendar: WorkCalendar, links: Mapping[Step, tuple[StepLink, ...]], step: Step, starts: Mapping[Step, datetime], finish: datetime) -> datetime:
    return min((_pass_back(calendar, starts[next_], link) for next_, before in links.items() for link in before if link.before is step), default=finish)


def _days(calendar: WorkCalendar, row: ScheduledStep) -> Iterator[date]:
    for n in range((row.finish.date() - row.start.date()).days + 1):
        day = row.start.date() + timedelta(days=n)
        if is_working_day(calendar, day):
            yield day


def _count_trips(calendar: WorkCalendar, on_site: Sequence[ScheduledStep]) -> int:
    rows = sorted(on_site, key=lambda row: row.start)
    pauses = pairwise(rows)
    return bool(rows) + sum(later.start.date() > row.finish.date() and count_working_hours(calendar, row.finish, later.start) > 0 for row, later in pauses)
