"""A new job from a kind of job: what the lists say of its sink and counter, today's date, and all that decides the price left to be measured."""

import csv
import datetime as dt
import re
import tomllib
from collections.abc import Iterable, Sequence
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

from kit.compare.swaps import changes_for_counter, changes_for_sink
from kit.errors import KitError
from kit.job import Job, change_job, parse_job
from kit.job.field_names import mount_words
from kit.job.open_fields import open_fields
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind, MountKind, SinkKind, SinkStyle

__all__ = ["JobKind", "job_kinds", "new_job", "next_job_number"]

_HERE = Path(__file__).parent
_NUMBER = re.compile(r"(.*?)(\d+)")
Row = TypeVar("Row")
_BODY = {"body_width": "20 in", "depth": "18 in", "weight": "40 lb"}  # the row of the list writes over it


@dataclass(frozen=True, slots=True)
class JobKind:
    """A kind of job: style and mount of its sink and what carries it, material and maker of its counter, its splash, and the old sink where it says so.

    Where the counter stays, the material is that of the old one.
    """

    kind: str
    name: str
    style: SinkStyle
    mount: MountKind
    material: str
    made_by: Literal["us", "fabricator", "stays"]
    splash: Literal["none", "same"]
    old_sink: str
    carried_at: str


@cache
def job_kinds() -> tuple[JobKind, ...]:
    """The kinds that a new job can start from."""
    with (_HERE / "job_kinds.csv").open(encoding="utf-8", newline="") as file:
        return tuple(JobKind(**row) for row in csv.DictReader(file))  # type: ignore[arg-type]  # a test reads every row as a job


def new_job(kind: JobKind | str, lists: Lists, *, number: str, day: dt.date | str) -> Job:
    """A job of a kind that nobody has measured.

    Parameters
    ----------
    kind
        What is wanted, such as "apron-under-stone"; sink and counter are the first of the lists that it asks for.
    lists
        The lists that the job will use.
    number
        Its job number.
    day
        Day of the visit, as a date or as "2026-03-02".

    Raises
    ------
    KitError
        If there is no such kind of job, or the lists hold no such sink or counter.

    Examples
    --------
    >>> import kit
    >>> job = kit.new_job("drop-in-laminate", kit.load_lists(kit.shipped("price_lists")), number="K-001", day="2026-03-02")
    >>> job.sink.mount, len(job.open_places) > 0
    ('top', True)
    """
    kind = _kind_of(kind) if isinstance(kind, str) else kind
    document: dict[str, Any] = deepcopy(_blank())
    document["identity"] |= {"job_number": number, "visit_date": day}
    sink, counter = _sink_for(kind, lists), _counter_for(kind, lists)
    document["sink"] = {"item": sink.item, "style": "standard", "mount": kind.mount, "bowls": [{"width": "14 in", "front_to_back": "14 in", "depth": "8 in"}]}
    document["sink"] |= _BODY
    document["counter"] |= {"item": counter.item, "material": counter.material, "thickness": "1 in", "made_by": kind.made_by, "splash": kind.splash}
    document["to_measure"] = ", ".join(open_fields())
    job = change_job(parse_job(document), changes_for_sink(sink, kind.mount))
    chosen = {place: choice for place, choice in (("old.sink_kind", kind.old_sink), ("sink.carried_at", kind.carried_at)) if choice}
    return change_job(job, {**changes_for_counter(job, counter), **(_staying() if kind.made_by == "stays" else {}), **chosen})


def _kind_of(name: str) -> JobKind:
    known = {kind.kind: kind for kind in job_kinds()}
    if name not in known:
        raise KitError(f'"{name}" is no kind of job. Use one of: {", ".join(known)}.')
    return known[name]


@cache
def _blank() -> dict[str, Any]:
    return tomllib.loads((_HERE / "new_job.toml").read_text(encoding="utf-8"))


def _sink_for(kind: JobKind, lists: Lists) -> SinkKind:
    return _first((row for row in lists.sinks.values() if row.style == kind.style and kind.mount in row.mounts), f"{kind.style} {mount_words(kind.mount)} sink")


def _counter_for(kind: JobKind, lists: Lists) -> CounterKind:
    fits = (row for row in lists.counters.values() if row.material == kind.material and kind.made_by in {row.made_by, "stays"})
    return _first(fits, f"{kind.material} countertop")


def _first(rows: Iterable[Row], what: str) -> Row:
    row = next(iter(rows), None)
    if row is None:
        raise KitError(f"The price lists in use have no {what}: choose another kind of job.")
    return row


def _staying() -> dict[str, Any]:
    """The scope where the counter stays: it and its splash are not touched, and what hangs on a move of the drain is left out."""
    untouched = {"supplied_by": "stays", "installed_by": "nobody"}
    return {"counter.made_by": "stays", "scope.counter": dict(untouched), "scope.splash": dict(untouched), "counter.splash_thickness": None}


def next_job_number(numbers: Sequence[str], day: dt.date) -> str:
    """The number after the highest of those that end in digits, else the first of the year.

    Examples
    --------
    >>> next_job_number(["K-007", "K-012"], dt.date(2026, 3, 2))
    'K-013'
    >>> next_job_number([], dt.date(2026, 3, 2))
    '2026-001'
    """
    matches = [match for number in numbers if (match := _NUMBER.fullmatch(number))]
    if not matches:
        return f"{day.year}-001"
    last = max(matches, key=lambda match: (int(match[2]), match[1]))
    return f"{last[1]}{int(last[2]) + 1:0{len(last[2])}d}"
