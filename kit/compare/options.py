"""Every alternate worth a look: the sink swapped to each mount, and each counter of the list, for the same scope and size.

The first row is the cheapest lawful one that keeps the counter. What is not allowed stays with its reason.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from itertools import islice
from typing import Any

from kit.compare.swaps import changes_for_counter, changes_for_sink, nearest_sink
from kit.design.names import counter_kind
from kit.errors import KitError
from kit.estimate import Estimate, estimate
from kit.job import Job, change_job
from kit.lists import Lists
from kit.lists.goods_rows import MOUNTS, CounterKind, MountKind
from kit.money import EXACT, round_cents, to_decimal
from kit.outlook import cash_of, risk_of, schedule_of
from kit.records import Finding, Level

__all__ = ["Figures", "Option", "compare_alternates", "weigh_option", "weigh_terms"]

P80 = 0.8
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Option:
    """One alternate: its mount, sink and counter, what was swapped, whether it is allowed and who says so, and its estimate.

    `estimate` is None where the lists don't allow it or no price can be worked out; `job` is what would be built. `chosen` is the job itself.
    """

    mount: MountKind
    counter: str
    sink: str
    counter_name: str
    sink_name: str
    chosen: bool
    counter_kept: bool
    swapped: tuple[str, ...]
    level: Level
    reason: str
    source: str
    job: Job
    estimate: Estimate | None

    @property
    def id(self) -> str:
        """A stable name, such as "under_stone-3cm"."""
        return f"{self.mount}_{self.counter}"

    @property
    def name(self) -> str:
        """What it is, in words."""
        return f"{self.mount} mount, {self.sink_name} in {self.counter_name}"

    @property
    def lawful(self) -> bool:
        """Whether the lists allow it and no finding says stop."""
        return self.level is not Level.STOP and self.estimate is not None and self.estimate.buildable


@dataclass(frozen=True, slots=True)
class Figures:
    """What an owner weighs [USD, h, days].

    `per_crew_day` is the margin for each day that the crew works; `fronted` the most of our own
    money in the job on any day; `p80` the direct cost that four of five trials don't exceed; `lead_days` from ordering to done.
    """

    price: Decimal
    cost: Decimal
    gross: Decimal
    margin: Decimal
    crew_days: float
    per_crew_day: Decimal | None
    own_hours: float
    hired: Decimal
    trips: int
    fronted: Decimal
    p80: Decimal
    days_without_sink: float | None
    lead_days: float
    worst: Finding | None
    cut_out_by: str


def weigh_option(priced: Estimate) -> Figures:
    """The figures of an estimate: the calendar, the cash and the trials are worked out for it.

    Raises
    ------
    KitError
        As `kit.outlook.schedule_of`.
    """
    schedule = schedule_of(priced)
    crew_days = sum(task.duration_h for task in priced.tasks) / priced.job.site.work_day_h
    start = schedule.ordered or schedule.schedule.start
    return Figures(
        price=priced.price,
        cost=priced.cost,
        gross=priced.amount("gross"),
        margin=priced.margin,
        crew_days=crew_days,
        per_crew_day=_per_crew_day(priced, crew_days),
        own_hours=priced.hours,
        hired=priced.amount("hired"),
        trips=len(priced.trips) + (priced.job.terms.extra_trips or 0),
        fronted=cash_of(priced).most_fronted,
        p80=risk_of(priced).cost_at(P80),
        days_without_sink=schedule.days_without_sink,
        lead_days=(schedule.finish - start) / _DAY,
        worst=priced.worst,
        cut_out_by=_cut_out_by(priced.job),
    )


def weigh_terms(figures: Figures, priced: Estimate) -> Figures:
    """The figures of the same work at other terms: price, margin and cash are worked out again; cost, hours and calendar stay as they were."""
    return replace(
        figures,
        price=priced.price,
        gross=priced.amount("gross"),
        margin=priced.margin,
        per_crew_day=_per_crew_day(priced, figures.crew_days),
        fronted=cash_of(priced).most_fronted,
    )


def _per_crew_day(priced: Estimate, crew_days: float) -> Decimal | None:
    """Margin for each day that the crew works [USD]; None where it doesn't."""
    days = to_decimal(crew_days, 6)
    return round_cents(EXACT.divide(priced.amount("gross"), days)) if days else None


def compare_alternates(job: Job, lists: Lists, *, progress: Callable[[int, int], None] | None = None) -> tuple[Option, ...]:
    """The job at each mount, its sink swapped for the nearest kind that takes it, and with each counter of the list.

    Parameters
    ----------
    job
        The job; it is among the alternates.
    lists
        Its price lists.
    progress
        Called with how many are done and how many there are.

    Returns
    -------
    Lawful ones first: with the counter kept by price, then with other counters by price; then those that a finding stops, then
    those that the lists don't allow.

    Raises
    ------
    KitError
        If the job itself can't be priced.
    """
    plans = list(_plans(job, lists))
    options = []
    for number, (mount, kind) in enumerate(plans, 1):
        options.append(_option(job, lists, mount, kind))
        if progress is not None:
            progress(number, len(plans))
    return tuple(sorted(options, key=_rank))


def _rank(option: Option) -> tuple[bool, bool, bool, Decimal, str]:
    price = option.estimate.price if option.estimate is not None else Decimal(0)
    return option.estimate is None, not option.lawful, not option.counter_kept, price, option.id


def _plans(job: Job, lists: Lists) -> Iterator[tuple[MountKind, CounterKind | None]]:
    """Mount and counter of each alternate, None for the job's own counter.

    Each mount with that one; other counters with the job's mount, and where that is not allowed with the first mount that is.
    """
    yield from ((mount, None) for mount in MOUNTS)
    if job.counter.made_by == "stays" or not {job.scope.counter.supplied_by, job.scope.counter.installed_by} & {"us", "fabricator"}:
        return
    for kind in lists.counters.values():
        if kind.item == job.counter.item:
            continue
        yield job.sink.mount, kind
        if lists.mount_rule(job.sink.mount, kind)[0] is Level.STOP:
            allowed = (mount for mount in MOUNTS if lists.mount_rule(mount, kind)[0] is not Level.STOP)
            yield from ((mount, kind) for mount in islice(allowed, 1))


def _option(job: Job, lists: Lists, mount: MountKind, counter: CounterKind | None) -> Option:
    changes: dict[str, Any] = {}
    swapped: list[str] = []
    if counter is not None:
        changes |= changes_for_counter(job, counter)
        swapped.append(f"counter {counter.name} in place of {lists.name_of(job.counter.item)}")
        if counter.moves and job.counter.species is None:
            swapped.append(f"species taken as {changes['counter.species']}")
    level, reason, source = lists.mount_rule(mount, counter if counter is not None else counter_kind(job, lists))
    blocked = _swap_sink(job, lists, mount, changes, swapped)
    if blocked:
        level, reason, source = Level.STOP, blocked, "sinks.csv"
    built, priced = job, None
    try:
        built = change_job(job, changes) if changes else job
        priced = None if level is Level.STOP else estimate(built, lists)
    except KitError as error:
        if built is job and not changes:
            raise
        level, reason, source = Level.STOP, "; ".join(str(fault) for fault in error.faults[:2]), "price lists"
    if priced is not None and not priced.buildable and priced.worst is not None:
        reason, source = f"{priced.worst.check}: {priced.worst.measured}", priced.worst.source
    return Option(
        mount=mount,
        counter=counter.item if counter is not None else job.counter.item,
        sink=built.sink.item,
        sink_name=lists.name_of(built.sink.item),
        counter_name=counter.name if counter is not None else lists.name_of(job.counter.item),
        chosen=built == job,
        counter_kept=counter is None,
        swapped=tuple(swapped),
        level=level,
        reason=reason,
        source=source,
        job=built,
        estimate=priced,
    )


def _swap_sink(job: Job, lists: Lists, mount: MountKind, changes: dict[str, Any], swapped: list[str]) -> str:
    """Add what the mount asks of the sink to the changes; the reason where no sink takes it, else ""."""
    if mount != job.sink.mount:
        changes["sink.mount"] = mount
    own = lists.sinks.get(job.sink.item)
    if own is None or mount in own.mounts:
        return ""
    if job.scope.sink.supplied_by in {"customer", "stays"}:
        whose = "customer's" if job.scope.sink.supplied_by == "customer" else "old"
        return f"the {whose} sink is kept, and is made for {' or '.join(own.mounts)} mount only"
    kind = nearest_sink(job, lists, mount)
    if kind is None:
        return f"no sink of the list is made for {mount} mount"
    changes |= changes_for_sink(kind, mount)
    swapped.append(f"sink {kind.name} in place of {lists.name_of(job.sink.item)}, nominal sizes")
    return ""


def _cut_out_by(job: Job) -> str:
    """Who cuts the opening for the sink, and answers for it."""
    if job.counter.made_by != "stays" and job.scope.counter.installed_by in {"customer", "trade"}:
        return f"the {job.scope.counter.installed_by}"
    return {"us": "us", "fabricator": "the fabricator", "stays": "us, in the counter that stays"}[job.counter.made_by]
