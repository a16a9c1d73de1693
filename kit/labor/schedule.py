"""When does each step start and end, how late may it be, how often does the crew come? The steps on the calendar.

Floats under two clocks: the passes go through the same calendar, forward with "start at the next working instant", backward with
"end at the last working instant before". A float is the working time between the earliest and the latest start: exactly the
delay that leaves the finish (total) or every follower (free) where it is. A wait that ends in the night or on a weekend gives the
steps before it float, so the steps without float need not form one chain; `ScheduledStep.held_by` leads back along the chain that sets
the finish.

A longer step never ends the job earlier: every end is a non-decreasing function of the ends before it and of its own hours, and
the order of the crew's steps hangs on the links alone, never on the hours. Trips, crew days and days without a sink have no such rule.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Literal

from kit.errors import Fault, KitError
from kit.labor.calendar import WorkCalendar, is_working_day
from kit.labor.clock import (
    add_working_hours,
    count_working_hours,
    last_day,
    next_working_instant,
    previous_working_instant,
    subtract_working_hours,
)
from kit.labor.network import Link, find_faults, order_activities, pass_backward, pass_forward
from kit.records import Task
from kit.steps import Step

__all__ = ["CUSTOMERS", "OWN", "Lead", "LeadTimes", "Schedule", "ScheduledStep", "StepLink", "link_steps", "performer_name", "plan_early", "plan_tasks"]

OWN = "crew"
CUSTOMERS = "customer's firm"
_PERFORMERS = {OWN: "our crew", "fabricator": "countertop shop"}
OFF_SITE = frozenset({Step.ORDER, Step.REST_BLANK, Step.COAT_BLANK})
"""Own work that needs no trip to the house: in the office, in the shop."""

Clock = Literal["working", "elapsed"]


@dataclass(frozen=True, slots=True)
class Lead:
    """Something that is waited for after a step: how long [h, on its clock], at best, as a rule and at worst."""

    what: str
    hours_low: float
    hours_likely: float
    hours_high: float
    clock: Clock = "elapsed"


LeadTimes = Mapping[Step, tuple[Lead, ...]]


@dataclass(frozen=True, slots=True)
class StepLink(Link[Step]):
    """A step that must end first, and the time that must pass after its end [h], on that clock; `lead` names what is waited for."""

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
    """

    steps: tuple[ScheduledStep, ...]
    start: datetime
    finish: datetime
    crew_days: int
    trips: int

    def find(self, step: Step) -> ScheduledStep | None:
        """Find a step on the calendar; None when the job doesn't have it."""
        return next((row for row in self.steps if row.step is step), None)


def link_steps(tasks: Sequence[Task], leads: LeadTimes | None = None) -> dict[Step, tuple[StepLink, ...]]:
    """Find what each step waits for: its own forerunners and the step its people do before it.

    Parameters
    ----------
    tasks
        In the order of the trade. Own people and each hired trade do one step at a time, in this order as far as `after` allows.
    leads
        What is waited for after a step besides the task's own wait: delivery, fabrication, papers.

    Returns
    -------
    The links of each step, in an order that can be worked. The link between two steps of the same people carries no wait.

    Raises
    ------
    KitError
        A step that stands twice, waits for one the job doesn't have or for itself in a ring; a time below 0; a lead after no step.
    """
    leads = leads or {}
    by_step = {task.step: task for task in tasks}
    faults = find_faults([(task.step, (task.duration_h, *(link.lag for link in _waits(task, leads)))) for task in tasks], " h")
    faults += [Fault(step, "has a lead time, but the job has no such step.") for step in leads if step not in by_step]
    if faults:
        raise KitError(faults)
    links: dict[Step, tuple[StepLink, ...]] = {}
    last_of: dict[str, Step] = {}
    for step in order_activities({task.step: task.after for task in tasks}):
        task = by_step[step]
        waits = [_waits(by_step[name], leads) for name in task.after]
        same_people = [StepLink(last_of[task.trade])] if task.trade in last_of else []
        links[step] = (*(own for own, *_ in waits), *(lead for _, *own_leads in waits for lead in own_leads), *same_people)
        last_of[task.trade] = step
    return links


def performer_name(trade: str) -> str:
    """Who does a step, as people call them: our crew, the countertop shop, or the hired trade by its name."""
    return _PERFORMERS.get(trade, trade)


def plan_early(
    tasks: Sequence[Task], calendar: WorkCalendar, begin: datetime, *, leads: LeadTimes | None = None, not_before: Mapping[Step, datetime] | None = None
) -> tuple[dict[Step, tuple[StepLink, ...]], dict[Step, tuple[datetime, datetime]]]:
    """What each step waits for, and the earliest instant from which it is free to start and at which it ends; parameters and errors as `plan_tasks`."""
    by_step = {task.step: task for task in tasks}
    unknown = [Fault(step, "has an earliest date, but the job has no such step.") for step in not_before or {} if step not in by_step]
    if unknown:
        raise KitError(unknown)
    links = link_steps(tasks, leads)
    earliest = {step: max(begin, (not_before or {}).get(step, begin)) for step in links}
    early = pass_forward(
        links,
        earliest.__getitem__,
        lambda end, link: _wait(calendar, end, link),
        lambda step, ready: add_working_hours(calendar, ready, by_step[step].duration_h),
        max,
    )
    return links, early


def _wait(calendar: WorkCalendar, end: datetime, link: StepLink) -> datetime:
    """When the lag of a link is over, from the end before it."""
    if not link.lag:
        return end
    return end + timedelta(hours=link.lag) if link.clock == "elapsed" else add_working_hours(calendar, end, link.lag)


def plan_tasks(
    tasks: Sequence[Task], calendar: WorkCalendar, start: date, *, leads: LeadTimes | None = None, not_before: Mapping[Step, datetime] | None = None
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
    leads
        As `link_steps`: delivery after `order`, fabrication after `template`.
    not_before
        Earliest instant of a step, such as the end of the cooling-off span for `order`.

    Returns
    -------
    Start, finish and floats of each step, finish of the job, crew days and trips.

    Raises
    ------
    KitError
        As `link_steps`; or an earliest instant of a step that the job doesn't have.
    """
    by_step = {task.step: task for task in tasks}
    begin = start if isinstance(start, datetime) else datetime.combine(start, calendar.start_of_day)
    links, early = plan_early(tasks, calendar, begin, leads=leads, not_before=not_before)
    earliest = {step: max(begin, (not_before or {}).get(step, begin)) for step in links}

    def wait(end: datetime, link: StepLink) -> datetime:
        return _wait(calendar, end, link)

    def wait_back(begins: datetime, link: StepLink) -> datetime:
        if not link.lag:
            return begins
        return begins - timedelta(hours=link.lag) if link.clock == "elapsed" else subtract_working_hours(calendar, begins, link.lag)

    finish = max((end for _, end in early.values()), default=begin)
    starts = {step: next_working_instant(calendar, ready) if by_step[step].duration_h else end for step, (ready, end) in early.items()}
    late = pass_backward(links, finish, wait_back, lambda step, end: subtract_working_hours(calendar, end, by_step[step].duration_h))
    free = pass_backward(links, finish, wait_back, lambda step, _: starts[step])

    def held_by(step: Step) -> Step | None:
        ready = early[step][0]
        holding = (link.before for link in links[step] if wait(early[link.before][1], link) == ready)
        return next(holding, None) if ready > earliest[step] else None

    rows = tuple(
        ScheduledStep(
            step=step,
            trade=by_step[step].trade,
            crew=by_step[step].crew,
            start=starts[step],
            finish=end,
            latest_start=late[step][0],
            latest_finish=previous_working_instant(calendar, late[step][1]) if by_step[step].duration_h else late[step][0],
            float_h=count_working_hours(calendar, starts[step], late[step][0]),
            free_float_h=count_working_hours(calendar, end, free[step][1]),
            held_by=held_by(step),
            wait_until=max(wait(end, link) for link in _waits(by_step[step], leads or {})),
        )
        for step, (_, end) in early.items()
    )
    on_site = [row for row in rows if row.trade == OWN and row.step not in OFF_SITE and by_step[row.step].duration_h > 0]
    return Schedule(
        steps=rows,
        start=min(starts.values(), default=begin),
        finish=finish,
        crew_days=len({day for row in on_site for day in _days(calendar, row)}),
        trips=_count_trips(calendar, on_site),
    )


def _waits(task: Task, leads: LeadTimes) -> tuple[StepLink, ...]:
    """The task's own wait, then what is waited for after it."""
    return (StepLink(task.step, task.wait_h, task.clock), *(StepLink(task.step, lead.hours_likely, lead.clock, lead.what) for lead in leads.get(task.step, ())))


def _days(calendar: WorkCalendar, row: ScheduledStep) -> Iterator[date]:
    for later in range((last_day(row.finish) - row.start.date()).days + 1):
        day = row.start.date() + timedelta(days=later)
        if is_working_day(calendar, day):
            yield day


def _count_trips(calendar: WorkCalendar, on_site: Sequence[ScheduledStep]) -> int:
    rows = sorted(on_site, key=lambda row: row.start)
    pauses = pairwise(rows)
    return bool(rows) + sum(later.start.date() > last_day(row.finish) and count_working_hours(calendar, row.finish, later.start) > 0 for row, later in pauses)
