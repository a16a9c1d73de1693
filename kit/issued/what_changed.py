"""What does a revision change against the one before: fields of the job, lists, prices entered by hand, the price?"""

import datetime as dt
from collections.abc import Iterator, Mapping
from typing import Any

from kit.errors import KitError
from kit.issued.promise import Issued
from kit.job import Job, job_document
from kit.job.field_names import label_of
from kit.lists import parse_lists
from kit.lists.list_changes import list_changes
from kit.lists.older import promised_texts
from kit.money import format_money
from kit.units import say_cell

__all__ = ["list_changes_since", "list_job_changes"]


def list_changes_since(before: Issued, after: Issued) -> list[str]:
    """What differs, in words; empty where nothing does but the day."""
    old, new = before.content, after.content
    changes = [f"{label_of(place)}: {was or 'left out'} -> {now or 'left out'}" for place, was, now in _differing(old["job"], new["job"])]
    changes += _changed_lists(old, new)
    if old.get("revalued") != new.get("revalued"):
        changes.append("Prices, hours or terms entered by hand")
    if before.stop_reason != after.stop_reason:
        changes.append(f"Reason: {before.stop_reason or 'none'} -> {after.stop_reason or 'none'}")
    if not changes and _results(old) != _results(new):
        changes.append("Worked out by a later version of the kit")
    if before.price != after.price:
        changes.append(f"Price: {format_money(before.price)} -> {format_money(after.price)}")
    return changes


def list_job_changes(old: Job, new: Job) -> Iterator[tuple[str, str, str]]:
    """Every field of the job file that differs: its place (`cabinet.width`), before and after as the file says them, "" where it is left out."""
    return _differing(job_document(old), job_document(new))


def _differing(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    before, after = _flat(old), _flat(new)
    for place in sorted(before.keys() | after.keys()):
        if before.get(place) != after.get(place):
            yield place, before.get(place, ""), after.get(place, "")


def _results(content: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in content["result"].items() if key != "lists"}


def _changed_lists(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[str]:
    """What other lists say of what this job uses, on its day; a list that only differs elsewhere, or can't be read any more, is named."""
    before, after = old["lists"]["texts"], new["lists"]["texts"]
    if before == after:
        return
    used, day = _used(old) | _used(new), new["job"]["identity"]["visit_date"]
    try:
        read = [parse_lists(promised_texts(lists["texts"]), lists["folder"]) for lists in (old["lists"], new["lists"])]
        changes = list_changes(read[0], read[1], dt.date.fromisoformat(day), coming=False)
    except KitError:
        changes = ()
    changed = [change for change in changes if change.file == "company.csv" or change.about in used]
    yield from (f"{change.file}, {change.name}: {say_cell(change.before) or 'left out'} -> {say_cell(change.after) or 'left out'}" for change in changed)
    named = {change.file for change in changed}
    yield from (f"list {name} is another one" for name, text in after.items() if before.get(name) != text and name not in named)


def _used(content: Mapping[str, Any]) -> set[str]:
    result, job = content["result"], content["result"]["job"]
    lines, tasks = ({row[key] for row in result[part]} for part, key in (("lines", "item"), ("tasks", "step")))
    return {*lines, *tasks, job["sink"]["item"], job["counter"]["item"]}


def _flat(value: Any, path: str = "") -> dict[str, str]:
    if isinstance(value, dict):
        return {place: text for key, inner in value.items() for place, text in _flat(inner, f"{path}.{key}" if path else key).items()}
    if isinstance(value, list):
        return {place: text for number, inner in enumerate(value, 1) for place, text in _flat(inner, f"{path}[{number}]").items()}
    return {path: str(value)}
