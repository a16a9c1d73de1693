"""Every alternate worth a look: the sink swapped to each mount, and each counter of the list, for the same scope and size.

The first row is the cheapest one that can be had. What must be measured first, what custom advises against, and what can't be built, stays with its reason.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal, get_args

from kit.compare.swaps import changes_for_carrying, changes_for_counter, changes_for_faucet, changes_for_sink, nearest_sinks
from kit.design.named_goods import counter_kind, counter_name
from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, change_job
from kit.job.field_names import lower_first, mount_words, say_choice
from kit.lists import Lists
from kit.lists.goods_rows import MOUNTS, CounterKind, MountKind, SinkKind
from kit.records import Finding, Level

__all__ = ["Option", "Standing", "compare_alternates"]

Standing = Literal["usable", "measure first", "not recommended", "can't be built"]
_CUSTOM = "mounts/material"  # the one finding that repeats the list's advice


@dataclass(frozen=True, slots=True)
class Option:
    """One alternate: its mount, sink and counter, what was swapped, what the lists say of it and who says so, and its estimate.

    `estimate` is None where no sink takes the mount or no price can be worked out; `job` is what would be built. `chosen` is the job itself.
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

    def __repr__(self) -> str:
        return f"<Option {self.name}: {self.verdict}>"

    @property
    def id(self) -> str:
        """A stable name, such as "under_stone-3cm"."""
        return f"{self.mount}_{self.counter}"

    @property
    def name(self) -> str:
        """What it is, in words."""
        return f"{mount_words(self.mount)}, {self.sink_name} in {lower_first(self.counter_name)}"

    @property
    def short_name(self) -> str:
        """The same without what all of its kind share: the mount, or the counter with its mount."""
        return mount_words(self.mount) if self.counter_kept else f"{self.counter_name}, {mount_words(self.mount)}"

    @property
    def title(self) -> str:
        """The short name as a list or a row begins with it."""
        return self.short_name[0].upper() + self.short_name[1:]

    @property
    def standing(self) -> Standing:
        """Usable; to measure first, where two things want the same place by a measure that was assumed; not recommended by custom; not to be built."""
        if self.estimate is None or _find_stop(self.estimate) is not None:
            return "can't be built"
        if self.level is Level.STOP:
            return "not recommended"
        return "usable" if _find_to_measure(self.estimate) is None else "measure first"

    @property
    def verdict(self) -> str:
        """The standing, and whether what can be had wants care by the lists."""
        return f"{self.standing}, with care" if self.usable and self.level is Level.CAUTION else self.standing

    @property
    def usable(self) -> bool:
        """Whether it can be built and nothing advises against it."""
        return self.standing == "usable"


def _find_stop(priced: Estimate) -> Finding | None:
    """The first stop that is more than the list's advice."""
    return next((finding for finding in priced.findings if finding.level is Level.STOP and finding.id != _CUSTOM), None)


def _find_to_measure(priced: Estimate) -> Finding | None:
    """The first two things that want the same place, where an assumption puts one of them there."""
    return next((finding for finding in priced.findings if finding.level is Level.UNKNOWN and finding.id.startswith("place/")), None)


def compare_alternates(job: Job, lists: Lists, *, progress: Callable[[int, int], None] | None = None) -> tuple[Option, ...]:
    """The job at each mount, its sink swapped for the nearest kind that fits, and with each counter of the list.

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
    Usable ones first, then those to measure first, those that are not recommended, and what can't be built; each by price.

    Raises
    ------
    KitError
        If the job itself can't be priced.
    """
    plans = _plans(job, lists)
    options: list[Option] = []
    for number, (mounts, kind) in enumerate(plans, 1):
        options += _first_usable(job, lists, mounts, kind)
        if progress is not None:
            progress(number, len(plans))
    return tuple(sorted(options, key=_rank))


def _rank(option: Option) -> tuple[int, bool, Decimal, str]:
    price = option.estimate.price if option.estimate is not None else Decimal(0)
    return get_args(Standing).index(option.standing), option.estimate is None, price, option.id


def _plans(job: Job, lists: Lists) -> list[tuple[tuple[MountKind, ...], CounterKind | None]]:
    """Mounts to try and counter of each alternate, None for the job's own counter.

    Each mount with that one; other counters with the job's mount, and where that can't be used with the first mount that can.
    """
    plans: list[tuple[tuple[MountKind, ...], CounterKind | None]] = [((mount,), None) for mount in MOUNTS]
    if job.counter.made_by == "stays" or not {job.scope.counter.supplied_by, job.scope.counter.installed_by} & {"us", "fabricator"}:
        return plans
    own = job.sink.mount
    others = tuple(mount for mount in MOUNTS if mount != own)
    return plans + [((own, *others), kind) for kind in lists.counters.values() if kind.item != job.counter.item]


def _first_usable(job: Job, lists: Lists, mounts: tuple[MountKind, ...], kind: CounterKind | None) -> Iterator[Option]:
    """The first mount, and where it can't be used the first of the others that can."""
    own = _option(job, lists, mounts[0], kind)
    yield own
    if not own.usable:
        others = (_option(job, lists, mount, kind) for mount in mounts[1:])
        yield from [option for option in others if option.usable][:1]


def _option(job: Job, lists: Lists, mount: MountKind, counter: CounterKind | None) -> Option:
    """The alternate with the nearest sink with which it can be built; with the nearest of all where none can."""
    tried = []
    for sink in _sinks_to_try(job, lists, mount):
        option = _design(job, lists, mount, counter, sink)
        if option.standing != "can't be built":
            return option
        tried.append(option)
    return tried[0] if tried else _refuse(job, lists, mount, counter)


def _sinks_to_try(job: Job, lists: Lists, mount: MountKind) -> list[SinkKind | None]:
    """The job's own sink as None where its kind takes the mount, else the kinds that do, nearest first; none where the sink is kept."""
    own = lists.sinks.get(job.sink.item)
    if own is None or mount in own.mounts:
        return [None]
    return [] if job.scope.sink.supplied_by in {"customer", "stays"} else [*nearest_sinks(job, lists, mount)]


def _design(job: Job, lists: Lists, mount: MountKind, counter: CounterKind | None, sink: SinkKind | None) -> Option:
    """One alternate designed and priced anew, as its own job."""
    changes: dict[str, Any] = {} if mount == job.sink.mount else {"sink.mount": mount}
    swapped: list[str] = []
    if counter is not None:
        changes |= changes_for_counter(job, counter)
        swapped.append(f"{counter.name} in place of {lower_first(lists.name_of(job.counter.item))}")
        if "counter.sub_top" in changes:
            swapped.append("a new plywood sub-top below it")
        if counter.moves and job.counter.species is None:
            swapped.append(f"taken to be {say_choice('counter.species', changes['counter.species'])}")
    if sink is not None:
        faucet = changes_for_faucet(job, sink, mount)
        changes |= changes_for_sink(sink, mount) | faucet
        swapped.append(f"{sink.name} in place of {lower_first(lists.name_of(job.sink.item))}, by its nominal sizes")
        if faucet:
            drilled = ", drilled in the countertop that stays" if job.counter.made_by == "stays" else ""
            swapped.append(f"the faucet in a hole of the countertop in place of the sink's faucet deck{drilled}")
    level, reason, source = lists.mount_rule(mount, counter if counter is not None else counter_kind(job, lists))
    built, priced = job, None
    try:
        built = change_job(job, changes) if changes else job
        priced = estimate(built, lists)
        if changes and (carried := changes_for_carrying(priced)):
            built = change_job(built, carried)
            priced = estimate(built, lists)
        if built.sink.is_apron and built.sink.carried_at != job.sink.carried_at:
            cleats = " in place of cleats under its rim" if job.sink.carried_at == "rim" else ""
            swapped.append(f"Sink carried on a platform under its bowl{cleats}")
    except KitError as error:
        if not changes:
            raise
        level, reason, source = Level.STOP, "; ".join(str(fault) for fault in error.faults[:2]), "price lists"
    stop = _find_stop(priced) if priced is not None else None
    if stop is not None:
        reason, source = f"{stop.check}: {stop.measured}{f', need {stop.limit}' if stop.limit else ''}", stop.source
    elif priced is not None and level is not Level.STOP and (measure := _find_to_measure(priced)) is not None:
        reason, source = f"{measure.check}. {measure.remedy}", measure.source
    return _describe(lists, mount, counter, built, priced, chosen=built == job, swapped=tuple(swapped), level=level, reason=reason, source=source)


def _refuse(job: Job, lists: Lists, mount: MountKind, counter: CounterKind | None) -> Option:
    """The alternate for which there is no sink."""
    own = lists.sinks[job.sink.item]
    reason = f"no sink on the list is made for {mount_words(mount)}"
    if job.scope.sink.supplied_by in {"customer", "stays"}:
        whose = "customer's" if job.scope.sink.supplied_by == "customer" else "old"
        reason = f"the {whose} sink is kept, and is made for {' or '.join(map(mount_words, own.mounts))} only"
    return _describe(
        lists, mount, counter, job, None, chosen=mount == job.sink.mount and counter is None, swapped=(), level=Level.STOP, reason=reason, source="price lists"
    )


def _describe(lists: Lists, mount: MountKind, counter: CounterKind | None, built: Job, priced: Estimate | None, **rest: Any) -> Option:
    return Option(
        mount=mount,
        counter=counter.item if counter is not None else built.counter.item,
        sink=built.sink.item,
        sink_name=lists.name_of(built.sink.item),
        counter_name=counter.name if counter is not None else counter_name(built, lists),
        counter_kept=counter is None,
        job=built,
        estimate=priced,
        **rest,
    )
