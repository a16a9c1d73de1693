"""What did finished jobs take, against what today's lists say of the same work? Hours by step, goods by item, days of waiting by row of the waits.

Each job is held against today's lists, not against those of its own day, so that jobs priced by older rates teach the rates in use.
"""

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from kit.archive.spent import SpentRow
from kit.labor.calendar import WorkCalendar, is_working_day
from kit.learning.job_rows import JobRow, PlannedStep
from kit.learning.kinds_apart import kinds_apart
from kit.lists import Lists
from kit.lists.goods_rows import Item
from kit.lists.work_rows import LeadTime
from kit.money import NOISE_PLACES
from kit.records import CostType

__all__ = ["Observation", "Subject", "SubjectKind", "has_waste", "observe_jobs"]

SubjectKind = Literal["hours", "waste", "days"]
_DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Subject:
    """What something is learned about: hours of a step, waste of an item, or days of a row of lead_times.csv; `row` is its id, `name` for people.

    Of hours, `rates` are the kinds of work that its jobs had (none where no promise says). Where a step has kinds of work that never met in one job,
    each group of them is a subject of its own: its `row` is the step and the kind that took most, such as `seal/seal-foot`.
    """

    kind: SubjectKind
    row: str
    name: str
    rates: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """By what a person calls it on the command line, such as `hours/build-frame`."""
        return f"{self.kind}/{self.row}"

    @property
    def step(self) -> str:
        """The step of hours, such as `hours/seal`, also of a subject that is only a part of it."""
        return f"{self.kind}/{self.row.partition('/')[0]}"


@dataclass(frozen=True, slots=True)
class Observation:
    """One finished job: what today's lists expect of its work and what it took, in one unit: worker-hours, the item's unit, or days.

    Days are counted with the day of the order among them, so that a delivery on the same day is one day. `work` are the hours that today's rates give
    each kind of work of a step, before the factors of the house; empty where the promise doesn't say.
    """

    job: str
    ended: dt.date
    expected: float
    actual: float
    work: tuple[tuple[str, float], ...] = ()

    @property
    def value(self) -> float:
        """Logarithm of what it took over what was expected; 0 where the lists were right."""
        return math.log(self.actual / self.expected)


def observe_jobs(jobs: Sequence[JobRow], lists: Lists) -> dict[Subject, tuple[Observation, ...]]:
    """What each finished job says of each subject, the job that ended first first.

    Parameters
    ----------
    jobs
        Rows of a folder; only finished ones are read.
    lists
        The lists in use.

    Notes
    -----
    Hours that were written down without a step count for the step only where it is the one own step of their cost code; elsewhere that job teaches
    nothing of these steps. Kinds of work that never met in one job are subjects of their own.
    Call-backs are no part of a rate. What the firm pays whatever the work took (`Rate.is_policy`) is none either: it is taken off both sides.
    Waste needs the quantity and what was left of every purchase of the item that brought some, and an item
    that no cut plan divides and that is more than a counted piece. Of several deliveries by one row the last counts, as the calendar waits for it.
    Of a shop's counter the row with its area says when it was templated (the day of the order) and set (the day of delivery).
    """
    finished = sorted((job for job in jobs if job.stage == "finished" and job.ended), key=lambda job: (job.ended or dt.date.min, job.number))
    calendar = WorkCalendar(dt.time(8), 8.0, lists.company.work_days, *lists.company.holidays)
    observations: dict[Subject, list[Observation]] = {}
    for job in finished:
        for subject, seen in (*_hours(job, lists), *_waste(job, lists), *_days(job, lists, calendar)):
            if seen.expected > 0 and seen.actual > 0:
                observations.setdefault(subject, []).append(seen)
    return {subject: tuple(seen) for whole, jobs_of_it in observations.items() for subject, seen in _by_work(whole, jobs_of_it, lists)}


def _by_work(whole: Subject, seen: Sequence[Observation], lists: Lists) -> Iterator[tuple[Subject, Sequence[Observation]]]:
    """A subject, of hours apart for the kinds of work that never met in one job; a job that doesn't say its work teaches only where all met."""
    groups = kinds_apart(dict(one.work) for one in seen)
    if not groups:
        yield whole, seen
    for group in groups:
        own = seen if len(groups) == 1 else [one for one in seen if group & {driver for driver, _ in one.work}]
        hours = {driver: math.fsum(h for one in own for kind, h in one.work if kind == driver) for driver in lists.rates if driver in group}
        main = max(hours, key=lambda driver: hours[driver])
        apart = replace(whole, row=f"{whole.row}/{main}", name=f"{whole.name}: {lists.rates[main].name}") if len(groups) > 1 else whole
        yield replace(apart, rates=tuple(hours)), own


def _seen(job: JobRow, expected: float, actual: float, work: tuple[tuple[str, float], ...] = ()) -> Observation:
    return Observation(job.number, job.ended or dt.date.min, expected, actual, work)


def _hours(job: JobRow, lists: Lists) -> Iterator[tuple[Subject, Observation]]:
    labor = [row for row in job.spent if row.cost_type is CostType.LABOR and not row.call_back]
    sharing: dict[str, list[str]] = {}
    for name, step in job.plan.steps.items():
        sharing.setdefault(step.cost_code, []).append(name)
    unnamed = {row.cost_code for row in labor if row.step is None}
    for name, step in job.plan.steps.items():
        if step.cost_code in unnamed and len(sharing[step.cost_code]) > 1:
            continue
        hours = sum(row.hours for row in labor if row.step == name or (row.step is None and row.cost_code == step.cost_code))
        row = next((row for key, row in lists.steps.items() if key == name), None)
        if row is not None:
            known = [(lists.rates[driver], quantity * lists.rates[driver].likely_h) for driver, quantity in step.work if driver in lists.rates]
            paid = math.fsum(hours for rate, hours in known if rate.is_policy) * step.factor
            work = tuple((rate.driver, hours) for rate, hours in known if not rate.is_policy)
            yield Subject("hours", name, row.name), _seen(job, _hours_today(step, lists) - paid, round(hours - paid, NOISE_PLACES), work)


def _hours_today(step: PlannedStep, lists: Lists) -> float:
    """Hours of the step's work by the rates in use, the house's factors as promised; as promised where today's lists lack one of its rates."""
    if not step.work or any(driver not in lists.rates for driver, _ in step.work):
        return step.hours
    return math.fsum(quantity * lists.rates[driver].likely_h for driver, quantity in step.work) * step.factor


def _waste(job: JobRow, lists: Lists) -> Iterator[tuple[Subject, Observation]]:
    bought: dict[str, list[SpentRow]] = {}
    for row in job.spent:
        if row.item and not row.call_back:
            bought.setdefault(row.item, []).append(row)
    for item, rows in bought.items():
        planned, listed = job.plan.items.get(item), lists.items.get(item)
        if planned is None or listed is None or planned.planned_pieces or not has_waste(listed) or any(row.quantity is None for row in rows):
            continue
        if all(row.left is not None or (row.quantity or 0) <= 0 for row in rows):
            used = math.fsum((row.quantity or 0.0) - (row.left or 0.0) for row in rows)
            yield Subject("waste", item, listed.name), _seen(job, planned.net * (1 + listed.waste), used)


def has_waste(item: Item) -> bool:
    """Whether more of it may be needed than the net quantity: it isn't cut by a plan, and it is no counted piece that is listed without waste."""
    return item.cut == "no" and (item.waste > 0 or item.unit != "each")


def _days(job: JobRow, lists: Lists, calendar: WorkCalendar) -> Iterator[tuple[Subject, Observation]]:
    slowest: dict[str, int] = {}
    for row in job.spent:
        lead = _lead_of(row, job, lists)
        if lead is not None and row.order_day and row.delivery_day and row.delivery_day >= row.order_day:
            slowest[lead.what] = max(slowest.get(lead.what, 0), _count_days(lead, row.order_day, row.delivery_day, calendar))
    for what, days in slowest.items():
        lead = lists.lead_times[what]
        yield Subject("days", what, lead.name), _seen(job, lead.likely_days + 1, days + 1)


def _lead_of(row: SpentRow, job: JobRow, lists: Lists) -> LeadTime | None:
    """The row of a wait: of its item, of goods else of their cost code or of goods in general, of a shop's counter that of its fabrication.

    What else is hired, and papers, have one where their item has, such as a permit or a laboratory's test.
    """
    names: tuple[str, ...] = (row.item,)
    counter = lists.counters.get(job.counter)
    if row.cost_type is CostType.MATERIAL:
        names = lists.waits_for_goods(row.item, row.cost_code)
    elif counter is not None and row.item and row.item == counter.area_item:
        names = (row.item, job.counter, counter.material, "fabrication")
    return next((lists.lead_times[name] for name in names if name in lists.lead_times), None)


def _count_days(lead: LeadTime, ordered: dt.date, delivered: dt.date, calendar: WorkCalendar) -> int:
    days = (delivered - ordered).days
    return days if lead.days == "elapsed" else sum(is_working_day(calendar, ordered + number * _DAY) for number in range(1, days + 1))
