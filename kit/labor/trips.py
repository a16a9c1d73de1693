"""How often must our people come, how many of them, and what do the ways and the setting up cost?

Trips are counted from the order of the steps and the waits between them, before any hours: neither a weekday nor a slow step adds
one. Who travels follows from what a step asks for and from the hours of a working day. How often they come on a given calendar is
`Schedule.trips`: a weekend may save a trip that is priced.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from kit.job import FilledJob
from kit.job.field_names import lower_first
from kit.labor.hours import HOURS_PLACES
from kit.labor.network import pass_forward
from kit.labor.schedule import OFF_SITE, OWN, LeadTimes, StepLink, link_steps
from kit.labor.step_order import DAY_H
from kit.lists import Lists
from kit.records import Kind, Line, Task
from kit.steps import Step
from kit.takeoff.working import Amount, counted, number, total

__all__ = ["Trip", "count_ways", "explain_people", "explain_wait", "find_trips", "staff_trips"]

SET_UP, WAY, LEAST = "trip-set-up", "trip-way", "least-visit"
SIGNING = "signing"
"""What is waited for where nothing is delivered, made or left to dry in between: no list has a time for it."""


@dataclass(frozen=True, slots=True)
class Trip:
    """One coming to the house: the own steps that are done in it, first to last, its people, and how long they work [h].

    Who travels: as many as the step `crowded` asks for; more of the crew where these would need more than a working day (`too_long`).
    Why: `waits_for` is the step, and `lead` what is waited for after it (an id of lead_times.csv, `SIGNING` or ""), that ended the trip before;
    None for the first.
    """

    steps: tuple[Step, ...]
    people: int
    work_h: float
    crowded: Step
    waits_for: Step | None = None
    lead: str = ""
    too_long: bool = False

    @property
    def first(self) -> Step:
        """The step with which it begins; it names the trip."""
        return self.steps[0]

    @property
    def sets_up(self) -> bool:
        """Whether tools come along: not when somebody only measures."""
        return self.steps != (Step.VISIT,)


def find_trips(tasks: Sequence[Task], leads: LeadTimes, not_before_h: Mapping[Step, float], wait_on_site_h: float, *, work_day_h: float) -> tuple[Trip, ...]:
    """Group the own steps by the waits between them.

    Parameters
    ----------
    tasks, leads
        As for the schedule.
    not_before_h
        How long after the start a step may begin at the earliest [h].
    wait_on_site_h
        A wait up to this long is sat out in the house [h].
    work_day_h
        Hours of a working day: a wait of a working day or more is as long as its nights too.

    Returns
    -------
    Trips in order, each by the most people that one of its steps has. A step belongs to a new one when, all work taken as done in no
    time, it still must wait longer than that after the own step before it. Ordering needs none.
    """

    def wait(end: float, link: StepLink) -> float:
        days = link.lag / work_day_h
        return end + (DAY_H * days if link.clock == "working" and days >= 1 else link.lag)

    by_step = {task.step: task for task in tasks}
    links = link_steps(tasks, leads)
    ready = pass_forward(links, lambda step: not_before_h.get(step, 0.0), wait, lambda _, at: at, max)
    groups: list[list[Task]] = []
    before = -math.inf
    for step, (at, _) in ready.items():
        if by_step[step].trade == OWN and step not in OFF_SITE:
            if at - before > wait_on_site_h:
                groups.append([])
            groups[-1].append(by_step[step])
            before = at

    def held(step: Step) -> StepLink | None:
        """The longest wait that leads to a step, along forerunners that themselves take no time."""
        held_by = max(links[step], key=lambda link: wait(ready[link.before][1], link), default=None)
        return held_by if held_by is None or held_by.lag else held(held_by.before)

    def why(number: int) -> tuple[Step | None, str]:
        if not number:
            return None, ""
        link = held(groups[number][0].step)
        return (groups[number - 1][-1].step, SIGNING) if link is None else (link.before, link.lead)

    return tuple(_trip(group, why(number)) for number, group in enumerate(groups))


def _trip(group: Sequence[Task], why: tuple[Step | None, str]) -> Trip:
    crowded = max(group, key=lambda task: task.crew)
    return Trip(tuple(task.step for task in group), crowded.crew, sum(task.duration_h for task in group), crowded.step, *why)


def staff_trips(
    trips: Sequence[Trip], tasks: Sequence[Task], hired: Sequence[Task], team: int, lists: Lists, *, work_day_h: float
) -> tuple[tuple[Trip, ...], tuple[Task, ...]]:
    """The trips with their people, and the tasks with them at work.

    Parameters
    ----------
    trips
        As `find_trips` gives them, with no more people than a step asks for.
    tasks
        Each with the fewest people.
    hired
        Work of hired trades: our people are there for as long as they share a step.
    team
        People of the crew. More of them come than a step asks for where these would need more than a working day: as many as fit the work
        into one, all where none do. So more work never sends fewer.
    lists
        For how many can work at a step at once.
    work_day_h
        Hours of a working day.
    """
    by_step, beside_h = {task.step: task for task in tasks}, {task.step: task.duration_h for task in hired}

    def there_h(tasks: Sequence[Task]) -> float:
        return sum(max(task.duration_h, beside_h.get(task.step, 0.0)) for task in tasks)

    def at_work(trip: Trip, people: int) -> list[Task]:
        mine = [by_step[step] for step in trip.steps]
        return [_worked_by(task, max(task.crew, min(team, people, lists.steps[task.step].crew_most))) for task in mine]

    staffed = []
    for trip in trips:
        set_up_h = lists.rate(SET_UP).likely_h if trip.sets_up else 0.0
        at_it = at_work(trip, trip.people)
        for more in range(trip.people + 1, team + 1):
            if there_h(at_it) + set_up_h <= work_day_h:
                break
            at_it = at_work(trip, more)
        people = max(task.crew for task in at_it)
        by_step |= {task.step: task for task in at_it}
        staffed.append(replace(trip, people=people, work_h=there_h(at_it), too_long=people > trip.people))
    return tuple(staffed), tuple(by_step.values())


def _worked_by(task: Task, crew: int) -> Task:
    return task if crew == task.crew else replace(task, crew=crew, duration_h=task.hours_likely / crew)


def explain_people(trip: Trip, step_names: Mapping[Step, str]) -> str:
    """Who travels, and the step that asks for them, as in 2 people, for "Set the sink"; or how much work there is for them."""
    if trip.people == 1:
        return "1 person"
    what = f"{trip.work_h:.1f} h of work together" if trip.too_long else f'"{step_names[trip.crowded]}"'
    return f"{trip.people} people, for {what}"


def explain_wait(trip: Trip, step_names: Mapping[Step, str], lists: Lists) -> str:
    """What ended the trip before, such as 24 h after a step, by its name; "" for the first trip."""
    if trip.waits_for is None:
        return ""
    if trip.lead == SIGNING:
        return "the customer's signature, and the end of the time to cancel"
    if trip.lead in lists.lead_times:
        return lower_first(lists.lead_times[trip.lead].name)
    what = f'{lists.steps[trip.waits_for].wait_h:g} h after "{step_names[trip.waits_for]}"'
    return lower_first(what)


def count_ways(job: FilledJob, trips: Sequence[Trip], lists: Lists, step_names: Mapping[Step, str]) -> tuple[Line, ...]:
    """The `do` lines of the trips: ways, setting up, and what a short visit is paid beyond its work, each by its people.

    Extra trips that the job asks for are one person's each.
    """
    ways = [_people(trip, step_names) for trip in trips]
    if job.terms.extra_trips:
        ways.append(counted(job.terms.extra_trips, "extra trip", "extra trips"))
    if not ways:
        return ()
    lines = [_line(WAY, "ways", total(ways), lists)]
    work = [trip for trip in trips if trip.sets_up]
    if work:
        lines.append(_line(SET_UP, "set up and pack up", total([_people(trip, step_names) for trip in work]), lists))
    least_h, set_up_h = lists.company.least_visit_h, lists.rate(SET_UP).likely_h
    for trip in work:
        there_h = round(trip.work_h + set_up_h, HOURS_PLACES)
        if there_h < least_h:
            short = number(least_h, "h at least") - number(there_h, f"h there for {_named(trip, step_names)}")
            lines.append(_line(LEAST, f"from {trip.first} on", counted(trip.people, "person", "people") * short, lists))
    return tuple(lines)


def _people(trip: Trip, step_names: Mapping[Step, str]) -> Amount:
    return counted(trip.people, f"person for {_named(trip, step_names)}", f"people for {_named(trip, step_names)}")


def _named(trip: Trip, step_names: Mapping[Step, str]) -> str:
    """What a trip begins with, as people read it."""
    return f'"{step_names[trip.first].lower()}" and what follows'


def _line(driver: str, part: str, amount: Amount, lists: Lists) -> Line:
    step, unit = Step.TRIPS, lists.rate(driver).unit
    return Line(f"{step}/{driver}/{part}", step, Kind.DO, driver, amount.value, unit, 0.0, (), amount.text, "demo")
