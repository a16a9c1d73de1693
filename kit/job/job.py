"""The job: all parts together, and the same job with what nobody could measure filled in."""

import datetime as dt
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any, Never

from pydantic import Field, PrivateAttr, model_validator

from kit.facts_html import facts_html
from kit.job.cabinet import Cabinet
from kit.job.counter import Counter
from kit.job.field_names import say_choice
from kit.job.fields import Record, Rule, count, day, measure, text
from kit.job.levelness import Levelness
from kit.job.old import Old
from kit.job.older_keys import with_todays_keys
from kit.job.open_fields import decides_price, hold_open, split_places
from kit.job.plumbing import Plumbing
from kit.job.scope import Scope
from kit.job.settled_scope import settle_counter, settle_scope
from kit.job.sink import Sink
from kit.job.site import Site
from kit.job.terms import Terms
from kit.records import Assumption
from kit.units import format_day, format_length

__all__ = ["FilledJob", "Job", "Offcut", "fill_assumptions"]


class Identity(Record):
    """Customer, address and visit."""

    job_number: str = text("Your own number for the job")
    customer: str = text("Name of the customer")
    address: str = text("Street and town where the work is done")
    tax_place: str = text("Where sales tax and permits apply, such as a county and state")
    visit_date: dt.date = day("Day of the measuring visit; every date counts from it")
    measured_by: str = text("Who held the tape")
    note: str | None = text("What the crew should know; in the shipped examples: that the scenario is invented", optional=True)


class Offcut(Record):
    """Sound left-overs of one size; `item` is the stock's own id in the items list."""

    item: str = text("What it is, as in the items list, such as lumber-2x4")
    length_in: float = measure("length", "Usable length", 3, 240)
    width_in: float | None = measure("length", "Usable width of a sheet or blank", 1, 80, optional=True)
    count: int = count("How many there are of this size", 1, 99)


class Job(Record):
    """One sink-and-counter job as measured and chosen.

    A field is None where the visit could not tell; `fill_assumptions` gives the job that design and every room after it work with.
    """

    prices: str | None = text("Folder of price lists, relative to the job file; left out: the one beside the job's folder, else the shipped one", optional=True)
    to_measure: str | None = text(
        "Fields that are still to be measured or filled in, by their place, with commas between; no price, or no paper, before. Left out: none",
        optional=True,
    )
    identity: Identity
    scope: Scope
    site: Site[None]
    cabinet: Cabinet[None]
    old: Old[None]
    sink: Sink[None]
    counter: Counter[None]
    plumbing: Plumbing[None]
    levelness: Levelness[None]
    terms: Terms = Terms()
    offcuts: tuple[Offcut, ...] = Field(default=(), max_length=24, strict=False)
    _assumed: frozenset[str] = PrivateAttr(default=frozenset())

    @model_validator(mode="before")
    @classmethod
    def _read_document(cls, document: Any) -> Any:
        if not isinstance(document, Mapping):
            return document
        todays = with_todays_keys(document)
        return hold_open(todays) if isinstance(todays.get("to_measure"), str) else todays

    @property
    def assumed(self) -> frozenset[str]:
        """Places in which something was assumed, such as `site.year_built`; none in a job as read."""
        return self._assumed

    @property
    def open_places(self) -> tuple[str, ...]:
        """Fields that are still to be measured or filled in, in the order of the visit: what stands in them means nothing."""
        return split_places(self.to_measure)

    @property
    def deciding_places(self) -> tuple[str, ...]:
        """Those of them that decide the price."""
        return tuple(place for place in self.open_places if decides_price(place))

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.identity.job_number}, {self.identity.customer}, visit of {self.identity.visit_date}>"

    def _repr_html_(self) -> str:
        identity, sink, cabinet = self.identity, self.sink, self.cabinet
        facts = [
            ("Visit", f"{format_day(identity.visit_date)}, {identity.measured_by}"),
            ("Where", identity.address),
            ("Sink", f"{say_choice('sink.style', sink.style)}, {say_choice('sink.mount', sink.mount)}"),
            ("Sink body", f"{_length(self, 'sink.body_width', sink.body_width_in)} wide"),
            ("Cabinet", f"{_length(self, 'cabinet.width', cabinet.width_in)} wide"),
            ("Countertop", f"{say_choice('counter.material', self.counter.material)}, {say_choice('counter.made_by', self.counter.made_by)}"),
            ("To measure", f"{len(self.deciding_places)} answers decide the price" if self.deciding_places else ""),
            ("Note", identity.note or ""),
        ]
        return facts_html(f"Job {identity.job_number}, {identity.customer}", facts)


def _length(job: Job, place: str, value_in: float | None) -> str:
    """A length as a tape shows it, unless it still is to be measured."""
    return "unknown" if value_in is None or place in job.open_places else format_length(value_in)


class FilledJob(Job):
    """The job that is worked with: what the visit could not tell is assumed, save what nobody may assume (`unknown_ok`): that stays None."""

    site: Site[Never]
    cabinet: Cabinet[Never]
    old: Old[Never]
    sink: Sink[Never]
    counter: Counter[Never]
    plumbing: Plumbing[Never]
    levelness: Levelness[Never]

    def note_assumed(self, places: frozenset[str]) -> None:
        """Keep in which places something was assumed: once, by whoever fills the job."""
        self._assumed = places


_SOURCES = (("common practice", "common-practice"), ("from memory", "from-memory"))


def _source_of(why: str) -> str:
    return next((key for words, key in _SOURCES if words in why), "judgement")


def _read_assumed(rule: Rule, text: str) -> Any:
    if rule.kind == "flag":
        return rule.read(text == "true")
    if rule.kind == "count":
        return rule.read(int(text))
    return rule.read(text)


def _fill(record: Record, path: str, assumed: list[Assumption]) -> Record:
    update = _values_to_assume(record, path, assumed)
    return record.model_copy(update=update) if update else record


@cache
def _parts_of(kind: type[Record]) -> tuple[str, ...]:
    """The fields of a record that hold other records: those without a rule."""
    return tuple(name for name in kind.model_fields if name not in kind.rules)


def _values_to_assume(record: Record, path: str, assumed: list[Assumption]) -> dict[str, Any]:
    update: dict[str, Any] = {}
    for name, rule in type(record).rules.items():
        if getattr(record, name) is not None:
            continue
        if rule.like is not None:
            value = getattr(record, rule.like)
            shown = "" if value is None else format_length(value)
        else:
            value, shown = None if rule.assume is None else _read_assumed(rule, rule.assume), rule.assume or ""
        if value is None:
            continue
        update[name], field = value, f"{path}.{record.key(name)}"
        assumed.append(Assumption(f"assume/{field}", field, shown, rule.why, _source_of(rule.why)))
    for name in _parts_of(type(record)):
        value, key = getattr(record, name), record.key(name)
        if isinstance(value, Record):
            filled = _fill(value, f"{path}.{key}" if path else key, assumed)
            if filled is not value:
                update[name] = filled
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            parts = tuple(_fill(part, f"{path}.{key}[{number}]", assumed) for number, part in enumerate(value, 1))
            if any(new is not old for new, old in zip(parts, value, strict=True)):
                update[name] = parts
    return update


@lru_cache(maxsize=64)
def fill_assumptions(job: Job) -> tuple[FilledJob, tuple[Assumption, ...]]:
    """The job with every assumption filled in and its scope settled, and the list of assumptions in the order of the file."""
    assumed: list[Assumption] = []
    scope = settle_scope(job.scope, sink=job.sink, counter=job.counter, plumbing=job.plumbing, old=job.old)
    values = {**dict(job), **_values_to_assume(job, "", assumed), "scope": scope}
    values["counter"] = settle_counter(values["counter"], scope)
    filled = FilledJob.model_construct(**values)  # each value has been read by its rule: no second validation
    filled.note_assumed(job.assumed.union(assumption.field for assumption in assumed))
    return filled, tuple(assumed)
