"""What a screen shows of a job, in the order of measuring: fields, lists that grow and shrink, parts that may be missing."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from kit.job import Job, job_document
from kit.job.fields import Record, Rule
from kit.job.file import record_in
from kit.lists import Lists

__all__ = ["FieldEntry", "ListEntry", "PartEntry", "grow_list", "new_part", "walk_entries", "walk_fields"]

DIVIDER_IN = 1.0  # between two bowls that share a width, until they are measured
STEP_IN = 6.0  # from one reading or hole to the next, until it is measured


@dataclass(frozen=True, slots=True)
class FieldEntry:
    """A field with its rule and its value."""

    place: str
    rule: Rule
    value: Any


@dataclass(frozen=True, slots=True)
class ListEntry:
    """A list of parts: how many there are, and how few and many there may be."""

    place: str
    count: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class PartEntry:
    """A part that a job may have or not, such as a corner nearby."""

    place: str
    there: bool


Entry = FieldEntry | ListEntry | PartEntry


def walk_entries(record: Record, path: str = "") -> Iterator[Entry]:
    """Everything of a record, the parts of lists among it, in the order of measuring."""
    for name, key, rule, limits, may_be_left_out in _fields_of(type(record)):
        value, place = getattr(record, name), f"{path}.{key}" if path else key
        if rule is not None:
            yield FieldEntry(place, rule, value)
        elif isinstance(value, tuple):
            yield ListEntry(place, len(value), limits.get("min_length", 0), limits["max_length"])
            for number, part in enumerate(value, 1):
                yield from walk_entries(part, f"{place}[{number}]")
        else:
            if may_be_left_out:
                yield PartEntry(place, value is not None)
            if isinstance(value, Record):
                yield from walk_entries(value, place)


@cache
def _fields_of(kind: type[Record]) -> tuple[tuple[str, str, Rule | None, Mapping[str, int], bool], ...]:
    """Of each field its name, its key, its rule, how few and many parts a list has, and whether it is a part that a job may not have."""
    fields = []
    for name, field in kind.model_fields.items():
        limits = {key: limit for fact in field.metadata for key in ("min_length", "max_length") if (limit := getattr(fact, key, None)) is not None}
        may_be_left_out = not field.is_required() and record_in(field.annotation) is not None and type(None) in getattr(field.annotation, "__args__", ())
        fields.append((name, kind.key(name), kind.rules.get(name), limits, may_be_left_out))
    return tuple(fields)


def walk_fields(record: Record) -> Iterator[tuple[str, Rule, Any]]:
    """Place, rule and value of every field of a record, the parts of lists among them."""
    for entry in walk_entries(record):
        if isinstance(entry, FieldEntry):
            yield entry.place, entry.rule, entry.value


def grow_list(job: Job, place: str, count: int, lists: Lists) -> dict[str, Any]:
    """The changes that give a list another length: the last part is taken out, or a copy of it added, a step further on.

    Bowls share the width that they had, for a sink does not grow with its bowls.
    """
    part, _, key = place.partition(".")
    document = job_document(job)
    rows: list[dict[str, Any]] = [dict(row) for row in (document[part].get(key, []) if key else document.get(part, []))]
    rows = rows[:count]
    if place == "sink.bowls" and count > len(rows):
        outside = sum(bowl.width_in for bowl in job.sink.bowls) + DIVIDER_IN * (len(rows) - 1)
        each = math.floor((outside - DIVIDER_IN * (count - 1)) / count * 4.0) / 4.0
        return {place: [{**rows[min(number, len(rows) - 1)], "width": f"{each:g} in"} for number in range(count)]}
    while len(rows) < count:
        rows.append(_next_row(job, place, rows, lists))
    return {place: rows}


def _next_row(job: Job, place: str, rows: list[dict[str, Any]], lists: Lists) -> dict[str, Any]:
    if place == "levelness.readings":
        at = max((reading.at_in for reading in job.levelness.readings), default=-STEP_IN) + STEP_IN * (1 + len(rows) - len(job.levelness.readings))
        return {"at": f"{max(at, 0.0):g} in", "low": "0 in"}
    if place == "counter.holes":
        faucet = {"use": "faucet", "offset": "0 in"}
        return {**rows[-1], "offset": f"{STEP_IN * len(rows):g} in", "use": "dispenser"} if rows else faucet
    if place == "offcuts" and not rows:
        stock = min((item.item for item in lists.items.values() if item.cut == "length"), default="stock")
        return {"item": stock, "length": "24 in", "count": 1}
    return dict(rows[-1])


def new_part(place: str) -> Mapping[str, Any]:
    """What stands in a part that is added, until it is measured."""
    return {"cabinet.corner": {"side": "left", "distance": "12 in", "return_part": "drawer"}}[place]
