"""The job: all parts together, and the same job with what nobody could measure filled in."""

from functools import lru_cache
from typing import Any

from pydantic import Field

from kit.job.cabinet import Cabinet
from kit.job.counter import Counter
from kit.job.fields import Record, Rule, text
from kit.job.identity import Identity
from kit.job.levelness import Levelness
from kit.job.offcut import Offcut
from kit.job.old import Old
from kit.job.plumbing import Plumbing
from kit.job.scope import Scope
from kit.job.sink import Sink
from kit.job.site import Site
from kit.job.terms import Terms
from kit.records import Assumption

__all__ = ["Job", "fill_assumptions"]


class Job(Record):
    """One sink-and-counter job as measured and chosen.

    Straight from a file, a field is None where the visit could not tell; `fill_assumptions` gives the job that
    every other room reads, and one `Assumption` for each value it put in.
    """

    prices: str | None = text("Folder of price lists, relative to the job file; left out: the one beside the job's folder, else the shipped one", optional=True)
    identity: Identity
    scope: Scope
    site: Site
    cabinet: Cabinet
    old: Old
    sink: Sink
    counter: Counter
    plumbing: Plumbing
    levelness: Levelness
    terms: Terms = Terms()
    offcuts: tuple[Offcut, ...] = Field(default=(), max_length=24, strict=False)


_SOURCES = (("common practice", "common-practice"), ("from memory", "from-memory"))


def _source_of(why: str) -> str:
    return next((key for words, key in _SOURCES if words in why), "judgement")


def _typed(rule: Rule, text: str) -> Any:
    if rule.kind == "flag":
        return rule.read(text == "true")
    if rule.kind == "count":
        return rule.read(int(text))
    return rule.read(text)


def _fill(record: Record, path: str, found: list[Assumption]) -> Record:
    update: dict[str, Any] = {}
    for name, rule in type(record).rules.items():
        if getattr(record, name) is not None or (rule.assume is None and rule.like is None):
            continue
        field = f"{path}.{record.key(name)}"
        if rule.like is not None:
            update[name] = getattr(record, rule.like)
            shown = f"same as {record.key(rule.like)}"
            if update[name] is None:
                continue
        else:
            assert rule.assume is not None  # noqa: S101 - for the type checker; the line above left it so
            update[name], shown = _typed(rule, rule.assume), rule.assume
        found.append(Assumption(f"assume/{field}", field, shown, rule.why, _source_of(rule.why)))
    for name in type(record).model_fields:
        value = getattr(record, name)
        key = record.key(name)
        if isinstance(value, Record):
            filled = _fill(value, f"{path}.{key}" if path else key, found)
            if filled is not value:
                update[name] = filled
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            parts = tuple(_fill(part, f"{path}.{key}[{number}]", found) for number, part in enumerate(value, 1))
            if any(new is not old for new, old in zip(parts, value, strict=True)):
                update[name] = parts
    return record.model_copy(update=update) if update else record


@lru_cache(maxsize=64)
def fill_assumptions(job: Job) -> tuple[Job, tuple[Assumption, ...]]:
    """The job with every assumption filled in, and the list of them in the order of the file."""
    found: list[Assumption] = []
    filled = _fill(job, "", found)
    assert isinstance(filled, Job)  # noqa: S101 - for the type checker; _fill copies its argument
    return filled, tuple(found)
