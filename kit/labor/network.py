"""Which activity must end before which, and how late may each start? The critical path, in any one unit of time.

`pass_forward` and `pass_backward` are the two passes of the critical path method, for plain numbers as for instants of a calendar
(`kit.labor.schedule`) or arrays of trials (`kit.risk.finish`): the caller says how work and waits move an instant.
"""

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, reduce
from graphlib import CycleError, TopologicalSorter
from math import isclose, isfinite
from typing import Any, Generic, Protocol, TypeVar

from kit.errors import Fault, KitError

__all__ = ["Activity", "Link", "Network", "Times", "bridge_absent", "find_faults", "order_activities", "pass_backward", "pass_forward", "plan_network"]


class _Ordered(Protocol):
    def __lt__(self, other: Any, /) -> bool: ...


Id = TypeVar("Id", bound=Hashable)
Instant = TypeVar("Instant")
Moment = TypeVar("Moment", bound=_Ordered)

ROUNDING = 1e-9
"""Floats below this share of the whole duration are rounding of binary arithmetic."""


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
    return _order(tuple((activity, tuple(before)) for activity, before in after.items()))


@lru_cache
def _order(after: tuple[tuple[Id, tuple[Id, ...]], ...]) -> tuple[Id, ...]:
    """The order, kept: calendar, trials, trips and draws of a job ask for the same one, and so do most of its alternates."""
    needs = dict(after)
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
    place = {activity: number for number, activity in enumerate(needs)}
    ready: set[Id] = set()
    order: list[Id] = []
    while sorter.is_active():
        ready.update(sorter.get_ready())
        order.append(min(ready, key=place.__getitem__))
        ready.remove(order[-1])
        sorter.done(order[-1])
    return tuple(order)


def bridge_absent(after: Mapping[Id, Sequence[Id]], present: Collection[Id]) -> dict[Id, tuple[Id, ...]]:
    """Find what each present activity waits for when some activities are left out.

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

    Examples
    --------
    >>> bridge_absent({"cut": [], "sand": ["cut"], "oil": ["sand"]}, ["cut", "oil"])
    {'cut': (), 'oil': ('cut',)}
    """
    known = set(present)
    bridged: dict[Id, tuple[Id, ...]] = {}
    for activity in present:
        nearest: dict[Id, None] = {}
        seen: set[Id] = set()
        queue = list(after[activity])
        while queue:
            name = queue.pop(0)
            if name in known:
                nearest[name] = None
            elif name not in seen:
                seen.add(name)
                queue.extend(after[name])
        bridged[activity] = tuple(nearest)
    return bridged


LinkType = TypeVar("LinkType", bound=Link[Any])


def pass_forward(
    links: Mapping[Id, Sequence[LinkType]],
    begin: Callable[[Id], Instant],
    wait: Callable[[Instant, LinkType], Instant],
    work: Callable[[Id, Instant], Instant],
    later: Callable[[Instant, Instant], Instant],
) -> dict[Id, tuple[Instant, Instant]]:
    """Find how early each activity may start and end.

    Parameters
    ----------
    links
        What each activity waits for, in an order in which each stands behind all that must end before it.
    begin
        Earliest start of an activity, whatever it waits for.
    wait
        When the lag of a link is over, from the end before it.
    work
        End of an activity that may start at an instant.
    later
        The later of two instants: `max`, or elementwise for arrays.

    Returns
    -------
    Early start and early end of each activity.
    """
    times: dict[Id, tuple[Instant, Instant]] = {}
    for name, before in links.items():
        ready = reduce(later, (wait(times[link.before][1], link) for link in before), begin(name))
        times[name] = ready, work(name, ready)
    return times


def pass_backward(
    links: Mapping[Id, Sequence[LinkType]], finish: Moment, wait: Callable[[Moment, LinkType], Moment], work: Callable[[Id, Moment], Moment]
) -> dict[Id, tuple[Moment, Moment]]:
    """Find how late each activity may start and end for the whole to end by `finish`.

    Parameters
    ----------
    links
        As `pass_forward`.
    finish
        End of the whole.
    wait
        When the end before a link must be, from the start after it.
    work
        Start of an activity that must end by an instant. With its early start in place of the late one, the ends are those that move
        no follower.

    Returns
    -------
    Late start and late end of each activity.
    """
    ends = dict.fromkeys(links, finish)
    times: dict[Id, tuple[Moment, Moment]] = {}
    for name in reversed(list(links)):
        start = work(name, ends[name])
        times[name] = start, ends[name]
        for link in links[name]:
            ends[link.before] = min(ends[link.before], wait(start, link))
    return times


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
    faults = find_faults([(activity.id, (activity.duration, *(link.lag for link in activity.after))) for activity in activities])
    if faults:
        raise KitError(faults)
    duration = {activity.id: activity.duration for activity in activities}
    after = {activity.id: activity.after for activity in activities}
    links = {name: after[name] for name in order_activities({name: [link.before for link in before] for name, before in after.items()})}

    def back(start: float, link: Link[Id]) -> float:
        return start - link.lag

    early = pass_forward(links, lambda _: 0.0, lambda end, link: end + link.lag, lambda name, ready: ready + duration[name], max)
    finish = max((end for _, end in early.values()), default=0.0)
    late = pass_backward(links, finish, back, lambda name, end: end - duration[name])
    free = pass_backward(links, finish, back, lambda name, _: early[name][0])

    def slack(more: float) -> float:
        return 0.0 if isclose(more, 0.0, abs_tol=ROUNDING * finish) else more

    times = {name: Times(*early[name], *late[name], slack(late[name][0] - early[name][0]), slack(free[name][1] - early[name][1])) for name in links}
    return Network(times, finish, tuple(name for name in links if times[name].total_float == 0))


def find_faults(times: Iterable[tuple[Id, Sequence[float]]], unit: str = "") -> list[Fault]:
    """List activities that stand twice, and durations and lags that are below 0 or without end."""
    faults: list[Fault] = []
    seen: set[Id] = set()
    for name, spans in times:
        if name in seen:
            faults.append(Fault(str(name), "is there twice."))
        seen.add(name)
        faults += [Fault(str(name), f"A time of {span:g}{unit} can't be right. Give 0 or more.") for span in spans if not (isfinite(span) and span >= 0)]
    return faults
