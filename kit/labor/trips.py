"""How often must our people come, how many of them, and what do the ways and the setting up cost?

Trips are counted from the order of the steps and the waits between them, before any hours: neither a weekday nor a slow step changes
the price of the ways. How often they come on a given calendar is `Schedule.trips`: a weekend may save a trip that is priced.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from kit.job import FilledJob
from kit.labor.schedule import OWN, Lead, StepLink, link_steps
from kit.lists import Lists
from kit.records import Kind, Line, Task
from kit.steps import Step
from kit.takeoff.working import Amount, counted, n, total

__all__ = ["Trip", "count_ways", "find_trips"]

SET_UP, WAY, LEAST = "trip-set-up", "trip-way", "least-visit"
HOURS_PLACES = 4
HOURS_A_DAY = 24.0


@dataclass(frozen=True, slots=True)
class Trip:
    """One coming to the house: the own steps that are done in it, first to last, its people, and how long they work [h]."""

    steps: tuple[Step, ...]
    people: int
    work_h: float

    @property
    def first(self) -> Step:
        """The step with which it begins; it names the trip."""
        return self.steps[0]

    @property
    def sets_up(self) -> bool:
        """Whether tools come along: not when somebody only measures."""
        return self.steps != (Step.VISIT,)


def find_trips(
    tasks: Sequence[Task],
    leads: Mapping[Step, tuple[Lead, ...]],
    not_before_h: Mapping[Step, float],
    wait_on_site_h: float,
    *,
    work_day_h: float,
    off_site: Collection[Step] = (Step.ORDER,),
) -> tuple[Trip, ...]:
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
    off_site
        Own steps that need no trip.

    Returns
    -------
    Trips in order. A step belongs to a new one when, all work taken as done in no time, it still must wait longer than that after the
    own step before it.
    """
    by_step = {task.step: task for task in tasks}
    ready: dict[Step, float] = {}
    groups: list[list[Task]] = []
    before = 0.0
    for step, links in link_steps(tasks, leads).items():
        ready[step] = max([not_before_h.get(step, 0.0), *(ready[link.before] + _elapsed(link, work_day_h) for link in links)])
        if by_step[step].trade == OWN and step not in off_site:
            if not groups or ready[step] - before > wait_on_site_h:
                groups.append([])
            groups[-1].append(by_step[step])
            before = ready[step]
    return tuple(Trip(tuple(task.step for task in group), max(task.crew for task in group), sum(task.duration_h for task in group)) for group in groups)


def _elapsed(link: StepLink, work_day_h: float) -> float:
    days = link.wait_h / work_day_h
    return HOURS_A_DAY * days if link.clock == "working" and days >= 1 else link.wait_h


def count_ways(job: FilledJob, trips: Sequence[Trip], lists: Lists) -> tuple[Line, ...]:
    """The `do` lines of the trips: ways, setting up, and what a short visit is paid beyond its work, each by its people.

    Trips that the terms add are one person's each.
    """
    ways = [_people(trip) for trip in trips]
    if job.terms.extra_trips:
        ways.append(counted(job.terms.extra_trips, "trip more", "trips more"))
    if not ways:
        return ()
    lines = [_line(WAY, "ways", total(ways), lists)]
    work = [trip for trip in trips if trip.sets_up]
    if work:
        lines.append(_line(SET_UP, "set up and pack up", total([_people(trip) for trip in work]), lists))
    least_h, set_up_h = lists.company.least_visit, lists.rates[SET_UP].likely
    for trip in work:
        there_h = round(trip.work_h + set_up_h, HOURS_PLACES)
        if there_h < least_h:
            short = n(trip.people, "people" if trip.people > 1 else "person") * (n(least_h, "h at least") - n(there_h, f"h there from {trip.first} on"))
            lines.append(_line(LEAST, f"from {trip.first} on", short, lists))
    return tuple(lines)


def _people(trip: Trip) -> Amount:
    return counted(trip.people, f"person from {trip.first} on", f"people from {trip.first} on")


def _line(driver: str, part: str, amount: Amount, lists: Lists) -> Line:
    step, unit = Step.TRIPS, lists.rates[driver].unit
    return Line(f"{step}/{driver}/{part}", step, Kind.DO, driver, amount.value, unit, 0.0, (), amount.text, "demo")
