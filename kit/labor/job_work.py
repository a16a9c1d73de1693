"""All work of a job: own steps, hired trades, the order between them, the trips they take."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from kit.design.design import Design
from kit.job import FilledJob
from kit.labor.conditions import holding_conditions
from kit.labor.hours import estimate_hours, hire_trades, make_task
from kit.labor.schedule import CUSTOMERS
from kit.labor.step_names import name_steps
from kit.labor.step_order import DAY_H, find_leads, order_of_work, order_steps
from kit.labor.trips import SET_UP, Trip, count_ways, find_trips, staff_trips
from kit.lists import Lists
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step

__all__ = ["Work", "calendar_tasks", "plan_work"]


@dataclass(frozen=True, slots=True)
class Work:
    """The own tasks (the ways among them, last), the hired ones (amount 0: purchases hold their cost), the trips and their lines; what each step is called."""

    tasks: tuple[Task, ...]
    hired: tuple[Task, ...]
    trips: tuple[Trip, ...]
    trip_lines: tuple[Line, ...]
    step_names: Mapping[Step, str]


def plan_work(job: FilledJob, design: Design, lines: Sequence[Line], purchases: Sequence[Purchase], lists: Lists, rate_h: Decimal) -> Work:
    """The work of a job at a cost of an hour [USD/h]: hours first, then order, then trips from order and waits.

    Raises KitError if the order rules of the lists let steps wait for each other.
    """
    conditions = holding_conditions(job, design, lists)
    by_trades = hire_trades(job, design, lines, purchases, lists) | _customers_work(design, lists)
    present = {line.step for line in lines if line.kind is Kind.DO} | set(by_trades)
    after = order_steps(order_of_work(lists, conditions), present, lists)
    tasks = estimate_hours(job, design, lines, lists, rate_h, conditions=conditions, after=after)
    hired = tuple(replace(by_trades[step], after=before) for step, before in after.items() if step in by_trades)
    leads = find_leads(job, lines, after, lists)
    signed_h = {Step.ORDER: DAY_H * (lists.company.days_to_sign + lists.company.cooling_off_days)}
    day_h, team = job.site.work_day_h, job.terms.crew or lists.company.crew
    trips = find_trips(calendar_tasks(tasks, hired, (), lists), leads, signed_h, lists.company.wait_on_site_h, work_day_h=day_h)
    beside = [task for task in hired if task.step is not Step.ABATE]  # nobody of ours waits in a room that is closed off
    trips, tasks = staff_trips(trips, tasks, beside, team, lists, work_day_h=day_h)
    step_names = name_steps(lines, conditions, lists)
    trip_lines = count_ways(job, trips, lists, step_names)
    if trip_lines:
        crew = max((trip.people for trip in trips), default=1)
        tasks = (*tasks, make_task(job, Step.TRIPS, trip_lines, lists, rate_h, crew=crew, conditions=conditions))
    return Work(tasks, hired, trips, trip_lines, step_names)


def _customers_work(design: Design, lists: Lists) -> dict[Step, Task]:
    """What a firm of the customer's does between two steps of ours: no hour of ours and no price, only what is waited for after it."""
    if design.abatement.hired or not design.abatement.parts:
        return {}
    row, nothing = lists.steps[Step.ABATE], Decimal(0)
    return {Step.ABATE: Task(Step.ABATE, (), 0.0, 0.0, 0.0, 1, 0.0, CUSTOMERS, nothing, nothing, (), "the customer's own contract", (), row.wait_h, row.clock)}


def calendar_tasks(tasks: Sequence[Task], hired: Sequence[Task], trips: Sequence[Trip], lists: Lists) -> tuple[Task, ...]:
    """One task a step for the calendar, in the order of the trade.

    Where our people and a hired trade share a step, our people are there for as long as the longer of the two. The first step of
    a trip is lengthened by setting up; the way is outside of the hours in which the house may be worked in.
    """
    factors = next((task.factors for task in tasks if task.step is Step.TRIPS), ())
    firsts = {trip.first for trip in trips if trip.sets_up}
    own: dict[Step, Task] = {task.step: task for task in tasks if task.step is not Step.TRIPS}
    others: dict[Step, Task] = {task.step: task for task in hired}
    on_calendar = []
    for step in sorted({*own, *others}, key=lambda step: lists.steps[step].order):
        task = _together(own[step], others[step]) if step in own and step in others else own.get(step) or others[step]
        on_calendar.append(_with_set_up(task, factors, lists) if step in firsts else task)
    return tuple(on_calendar)


def _together(own: Task, other: Task) -> Task:
    """Our people's task, made as long as the hired trade's where that is longer."""
    if own.duration_h >= other.duration_h:
        return own
    low, likely, high = (hours / other.crew * own.crew for hours in (other.hours_low, other.hours_likely, other.hours_high))
    return replace(own, hours_low=low, hours_likely=likely, hours_high=high, duration_h=other.duration_h)


def _with_set_up(task: Task, factors: Sequence[tuple[str, float]], lists: Lists) -> Task:
    times, rate = math.prod([factor for _, factor in factors]), lists.rate(SET_UP)
    return replace(
        task,
        hours_low=task.hours_low + rate.low_h * times * task.crew,
        hours_likely=task.hours_likely + rate.likely_h * times * task.crew,
        hours_high=task.hours_high + rate.high_h * times * task.crew,
        duration_h=task.duration_h + rate.likely_h * times,
    )
