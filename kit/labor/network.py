"""Which activity must end before which, and how late may each start? The critical path, in any one unit of time."""

from collections.abc import Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush
from math import isfinite
from typing import Generic, TypeVar

from kit.errors import Fault, KitError

__all__ = ["Activity", "Link", "Network", "Times", "bridge_absent", "order_activities", "plan_network"]

Id = TypeVar("Id", bound=Hashable)

ROUNDING = 1e-9
"""Floats below this share of the whole duration are the dust of binary arithmetic."""


@dataclass(frozen=True, slots=True)
class Link(Generic[Id]):
    """Something that must end first, and the time that must pass after its end (`lag`, 0 or more)."""

    before: Id
    lag: float = 0.0


@dataclass(frozen=True, slots=True)
class Activity(Generic[Id]):
    """One activity: how long it lasts (0 for a milestone) and what must end before it starts."""

    id: Id
    duration: float
    after: tuple[Link[Id], ...] = ()


@dataclass(frozen=True, slots=True)
class Times:
    """When an activity may and must happen, counted from the start of the whole.

    `total_float` is how far it may slip without moving the end of the whole; `free_float` how far without moving
    any follower.
    """

    early_start: float
    early_finish: float
    late_start: float
    late_finish: float
    total_float: float
    free_float: float


@dataclass(frozen=True, slots=True)
class Network(Generic[Id]):
    """The times of every activity in an order that can be worked, the end of the whole, and the activities without float."""

    times: Mapping[Id, Times]
    finish: float
    critical: tuple[Id, ...]


def order_activities(after: Mapping[Id, Iterable[Id]]) -> tuple[Id, ...]:
    """Put activities in an order in which each stands behind all that must end before it.

    Parameters
    ----------
    after
        For each activity those that must end first. Where several could come next, the one that stands first here does.

    Returns
    -------
    All activities, each once.

    Raises
    ------
    KitError
        An activity waits for an unknown one, or some wait for each other in a ring; each is named.

    Examples
    --------
    >>> order_activities({"wash": ["sand"], "sand": [], "oil": ["wash"]})
    ('sand', 'wash', 'oil')
    """
    needs = {activity: tuple(before) for activity, before in after.items()}
    unknown = [
        Fault(str(activity), f'waits for "{name}", which is not among the activities.')
        for activity, names in needs.items()
        for name in names
        if name not in needs
    ]
    if unknown:
        raise KitError(unknown)
    sorter = TopologicalSorter(needs)
    try:
        sorter.prepare()
    except CycleError as error:
        ring = " -> ".join(str(activity) for activity in error.args[1])
        raise KitError(Fault("", f"These wait for each other, so none can start: {ring}. Take one of the links out.")) from error
    ids = tuple(needs)
    place = {activity: n for n, activity in enumerate(ids)}
    ready: list[int] = []
    order: list[Id] = []
    while sorter.is_active():
        for activity in sorter.get_ready():
            heappush(ready, place[activity])
        order.append(ids[heappop(ready)])
        sorter.done(order[-1])
    return tuple(order)


def bridge_absent(after: Mapping[Id, Sequence[Id]], present: Collection[Id]) -> dict[Id, tuple[Id, ...]]:
    """Tell what each present activity waits for when some activities are left out.

    An absent activity is replaced by those that it waits for itself, so the order it stood for still holds.

    Parameters
    ----------
    after
        For each activity of the trade, present or not, those that must end first.
    present
        The activities that are done; the result keeps their order.

    Returns
    -------
    For each present activity the present ones that must end first, nearest first, each once.

    Raises
    ------
    KitError
        An activity is not a key of `after`.

    Examples
    --------
    >>> bridge_absent({"cut": [], "sand": ["cut"], "oil": ["sand"]}, ["cut", "oil"])
    {'cut': (), 'oil': ('cut',)}
    """
    known = set(present)
    names = known.union(*after.values())
    unknown = [Fault("", f'"{name}" is not among the activities.') for name in sorted(map(str, names - set(after)))]
    if unknown:
        raise KitError(unknown)
    bridged: dict[Id, tuple[Id, ...]] = {}
    for activity in present:
        found: dict[Id, None] = {}
        seen: set[Id] = set()
        queue = list(after[activity])
        while queue:
            name = queue.pop(0)
            if name in known:
                found[name] = None
            elif name not in seen:
                seen.add(name)
                queue.extend(after[name])
        bridged[activity] = tuple(found)
    return bridged


def plan_network(activities: Sequence[Activity[Id]]) -> Network[Id]:
    """Find the critical path of activities that start when all their forerunners have ended and the lags have passed.

    Parameters
    ----------
    activities
        Durations and lags in one unit of time; any order.

    Returns
    -------
    Early and late times, floats, the end of the whole (a lag after the last activity doesn't count) and the critical
    activities: those with no total float.

    Raises
    ------
    KitError
        Two activities of one id, a negative or endless time, an unknown forerunner, a ring.

    Notes
    -----
    ES = max(EF of forerunners + lag), EF = ES + duration; backward LF = min(LS of followers - lag), LS = LF - duration;
    total float = LS - ES, free float = min(ES of followers - lag) - EF. EF is an instant at the end of the work: an activity
    that starts on day 0 and lasts 3 days fills the days 0, 1, 2.

    Examples
    --------
    >>> plan_network([Activity("dig", 2.0), Activity("pour", 1.0, (Link("dig"),)), Activity("post", 5.0)]).times["dig"].total_float
    2.0
    """
    _check(activities)
    by_id = {activity.id: activity for activity in activities}
    order = order_activities({activity.id: [link.before for link in activity.after] for activity in activities})
    followers: dict[Id, list[tuple[Id, float]]] = {activity: [] for activity in order}
    start: dict[Id, float] = {}
    end: dict[Id, float] = {}
    for name in order:
        activity = by_id[name]
        start[name] = max((end[link.before] + link.lag for link in activity.after), default=0.0)
        end[name] = start[name] + activity.duration
        for link in activity.after:
            followers[link.before].append((name, link.lag))
    finish = max(end.values(), default=0.0)
    late_end: dict[Id, float] = {}
    times: dict[Id, Times] = {}
    for name in reversed(order):
        late_end[name] = min((late_end[next_] - by_id[next_].duration - lag for next_, lag in followers[name]), default=finish)
        late_start = late_end[name] - by_id[name].duration
        free = min((start[next_] - lag for next_, lag in followers[name]), default=finish) - end[name]
        times[name] = Times(start[name], end[name], late_start, late_end[name], _clean(late_start - start[name], finish), _clean(free, finish))
    return Network({name: times[name] for name in order}, finish, tuple(name for name in order if times[name].total_float == 0))


def _clean(slack: float, finish: float) -> float:
    return 0.0 if abs(slack) <= ROUNDING * finish else slack


def _check(activities: Sequence[Activity[Id]]) -> None:
    faults: list[Fault] = []
    seen: set[Id] = set()
    for activity in activities:
        if activity.id in seen:
            faults.append(Fault(str(activity.id), "stands twice among the activities."))
        seen.add(activity.id)
        faults.extend(
            Fault(str(activity.id), f"a time of {time:g} makes no sense. Wanted: 0 or more.")
            for time in (activity.duration, *(link.lag for link in activity.after))
            if not (isfinite(time) and time >= 0)
        )
    if faults:
        raise KitError(faults)
