"""Every field of a job, and what else could stand in it: used by tests that move one field at a time."""

import datetime as dt
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from kit.job import Job, job_document, read_job
from kit.job.fields import UNKNOWN, Record, Rule
from kit.job.file import format_value
from kit.lists import Lists
from kit.shipped_files import shipped

__all__ = ["example_paths", "field_of", "fields_of", "others", "read_example"]

# an inside corner, for jobs that have none
CORNER = {"side": "left", "distance": "15 in", "return_part": "drawer", "filler": "2 in"}
HOLE = {"use": "dispenser", "offset": "6 in"}
RUN = {"length": "40 in", "depth": "25 1/2 in", "left_end": "corner", "right_end": "wall"}
READINGS = [{"at": "0 in", "low": "0 in"}, {"at": "60 in", "low": "3/4 in"}]
STEPS = (-1.0, 1.0)


def example_paths() -> list[Path]:
    """The shipped job files."""
    return sorted(shipped("examples").glob("*.toml"))


@cache
def read_example(path: Path) -> Job:
    """A shipped job, as typed."""
    return read_job(path)


def field_of(place: str) -> str:
    """The field without the number of its part: `counter.runs[].length`."""
    return re.sub(r"\[\d+\]", "[]", place)


def fields_of(record: Record, place: str = "") -> Iterator[tuple[str, Rule, Any]]:
    """Place, rule and value of every field that is there."""
    for name in type(record).model_fields:
        key = f"{place}.{record.key(name)}" if place else record.key(name)
        value, rule = getattr(record, name), type(record).rules.get(name)
        if rule is not None:
            yield key, rule, value
        elif isinstance(value, Record):
            yield from fields_of(value, key)
        elif isinstance(value, tuple):
            for number, part in enumerate(value, 1):
                yield from fields_of(part, f"{key}[{number}]")


def others(job: Job, lists: Lists) -> list[tuple[str, dict[str, Any]]]:
    """Field and what else may be typed there, for every field and for parts that come and go.

    A choice that contradicts other fields brings them along: an apron its sizes, a counter from the list its material.
    """
    found = [
        (place, {place: typed, **_company(job, place, typed, lists)}) for place, rule, value in fields_of(job) for typed in _others(place, rule, value, lists)
    ]
    return found + [(place, {place: typed}) for place, typed in _parts(job)]


def _company(job: Job, place: str, typed: Any, lists: Lists) -> dict[str, Any]:
    """Other fields that a choice takes along."""
    if place == "sink.style":
        if typed == "standard":
            return {"sink.apron_width": None, "sink.apron_height": None}
        return {} if job.sink.is_apron else {"sink.apron_width": f"{job.sink.body_width_in:.10g} in", "sink.apron_height": "9 in"}
    if place == "counter.material":
        kind = next((kind for kind in lists.counters.values() if kind.material == typed), None)
        return {} if kind is None else {"counter.item": kind.item, **_species(typed)}
    if place == "counter.item" and typed in lists.counters:
        kind = lists.counters[typed]
        return {"counter.material": kind.material, "counter.made_by": kind.made_by, **_species(kind.material)}
    return {}


def _species(material: str) -> dict[str, Any]:
    return {"counter.species": "hard-maple"} if material == "wood" else {}


def _parts(job: Job) -> Iterator[tuple[str, Any]]:
    """Parts that come and go: corner, holes, runs, readings, bowls."""
    document = job_document(job)
    yield "cabinet.corner", None if job.cabinet.corner else CORNER
    for part, lists_of, more in (("counter", "holes", HOLE), ("counter", "runs", RUN)):
        now = document[part].get(lists_of, [])
        yield f"{part}.{lists_of}", [*now, more]
        if now:
            yield f"{part}.{lists_of}", now[:-1]
    yield "levelness.readings", [] if job.levelness.readings else READINGS
    bowls = document["sink"]["bowls"]
    half = {**bowls[0], "width": f"{job.sink.bowls[0].width_in / 2 - 0.5:.10g} in"}
    yield "sink.bowls", bowls[:-1] if len(bowls) > 1 else [half, half]


def _others(place: str, rule: Rule, value: Any, lists: Lists) -> list[Any]:
    found = _typed_others(place, rule, value, lists)
    if rule.may_be_unknown and value is not None:
        found.append(UNKNOWN)
    if rule.optional and value is not None:
        found.append(None)
    return found


def _typed_others(place: str, rule: Rule, value: Any, lists: Lists) -> list[Any]:
    match rule.kind:
        case "choice":
            return [option for option in rule.options if option != value]
        case "flag":
            return [other for other in (True, False) if other is not value]
        case "count":
            return _numbers(rule, value, whole=True)
        case "day":
            return [(value or dt.date(2026, 6, 1)) + dt.timedelta(days=days) for days in (-20, 200)]
        case "text":
            known = {"sink.item": lists.sinks, "counter.item": lists.counters}.get(place, rule.common)
            return [name for name in known if name != value] if known else ["Something else"]
        case _:
            return [format_value(rule, number) for number in _numbers(rule, value, whole=False)]


def _numbers(rule: Rule, value: Any, *, whole: bool) -> list[Any]:
    """Both limits, a place between, and small and large steps to both sides."""
    low, high = float(rule.low or 0.0), float(rule.high or 0.0)
    wanted = {low, high, low + (high - low) * 0.35}
    if value is not None:
        scale = (high - low) / 20.0 if rule.kind in {"share", "money"} else 1.0
        wanted |= {float(value) + step * scale for step in STEPS}
    exact = {round(number) if whole else round(number * 64) / 64 if rule.kind == "length" else round(number, 4) for number in wanted}
    return [number for number in sorted(exact) if low <= number <= high and number != value]
