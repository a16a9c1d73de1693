"""Promises: an estimate that was given out, with everything that made it, never overwritten.

One JSON file a revision lies beside the job file. It holds the job, the text of every list and the result, so that it
can be opened and exported again with the same totals after prices have moved.
"""

import datetime as dt
import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.document import document_bytes, estimate_document, money_text
from kit.errors import Fault, IssueError, KitError
from kit.estimate import Estimate
from kit.estimate import estimate as work_out
from kit.job import Job, job_document, parse_job
from kit.lists import parse_lists
from kit.lists.changes import ListChange, list_changes
from kit.records import Level

__all__ = ["Issued", "issue_estimate", "issued_path", "list_issued", "list_job_changes", "office_day", "open_issued"]

KIND = "sinkset issued estimate"
FORMAT = 2
FIRST_FORMAT = 1  # holds the texts of lists whose columns are others now
_SAFE = re.compile(r"[^A-Za-z0-9-]+")
_REVISION = re.compile(r"-r([0-9]{2,})\.json$")


@dataclass(frozen=True, slots=True)
class Issued:
    """An issued estimate as opened: number, revision, day, why it was issued in spite of a stop, what changed, and the estimate."""

    number: str
    revision: int
    issued: dt.date
    stop_reason: str | None
    changes: tuple[str, ...]
    sha256: str
    estimate: Estimate

    @property
    def document(self) -> str:
        """Number and revision, such as `DEMO-001-r02`."""
        return f"{self.number}-r{self.revision:02d}"


def issue_estimate(estimate: Estimate, folder: Path, *, stop_reason: str | None = None, today: dt.date | None = None) -> Path:
    """Write the estimate as the next revision of its job number; gives the file.

    Parameters
    ----------
    estimate
        An estimate whose cut plans are proven.
    folder
        Where the job file lies.
    stop_reason
        Why it is issued although a finding says stop; becomes part of the document.
    today
        Day of issue; the clock's when left out. No other room reads the clock.

    Raises
    ------
    IssueError
        If a finding says stop and no reason is given, a cut plan is not proven, or the file can't be written.
    """
    _refuse(estimate, stop_reason)
    number = estimate.job.identity.job_number
    before = list_issued(folder, number)
    revision = _revision_of(before[-1]) + 1 if before else 1
    document: dict[str, Any] = {
        "kind": KIND,
        "format": FORMAT,
        "number": number,
        "revision": revision,
        "issued": (today or office_day()).isoformat(),
        "stop_reason": stop_reason,
        "changes": _changes_since(before[-1], estimate) if before else [],
        "job": json.loads(json.dumps(job_document(estimate.job_as_read), default=str)),
        "lists": {"folder": estimate.lists.folder, "texts": dict(estimate.lists.texts)},
        "result": estimate_document(estimate),
    }
    document["sha256"] = _seal(document)
    path = issued_path(folder, number, revision)
    _write_new(path, document_bytes(document))
    return path


def office_day() -> dt.date:
    """The day on the wall of the office. No other room reads the clock."""
    return dt.date.today()  # noqa: DTZ011 - the office's own day, wherever it lies


def _write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet, whole or not at all."""
    begun = False
    try:
        with path.open("xb") as file:  # "x": a file that is there is never overwritten
            begun = True
            file.write(content)
    except OSError as error:
        if begun:
            path.unlink(missing_ok=True)
        raise IssueError(Fault("", f"can't be written: {error.strerror or error}.", path.name)) from None


def issued_path(folder: Path, number: str, revision: int) -> Path:
    """The file of a revision of a job number."""
    return folder / f"{_stem(number)}-r{revision:02d}.json"


def list_issued(folder: Path, number: str) -> list[Path]:
    """The issued revisions of a job number in a folder, oldest first; the number is matched whole."""
    return sorted((path for path in folder.glob("*.json") if _REVISION.sub("", path.name) == _stem(number)), key=_revision_of)


def _revision_of(path: Path) -> int:
    """The revision that a file's name says; 0 where it says none."""
    found = _REVISION.search(path.name)
    return int(found[1]) if found else 0


def open_issued(path: Path) -> Issued:
    """Open an issued estimate and work it again from the job and lists that it holds.

    Raises
    ------
    IssueError
        If the file is not an issued estimate, is of the first format, was changed, or no longer gives the totals that were issued.
    """
    document = _read(path)
    if document["format"] == FIRST_FORMAT:
        sentence = (
            f"is {FIRST_FORMAT}, of an earlier version of the kit: this one doesn't read the price lists in it. "
            "What was sent then stays valid as it stands. To go on with the job, issue it again from its job file."
        )
        raise IssueError(Fault("format", sentence, path.name))
    try:
        again = work_out(parse_job(document["job"]), parse_lists(document["lists"]["texts"], document["lists"]["folder"]))
        issued = Issued(
            document["number"],
            document["revision"],
            dt.date.fromisoformat(document["issued"]),
            document["stop_reason"],
            tuple(document["changes"]),
            document["sha256"],
            again,
        )
        result = document["result"]
        promised = {name: Decimal(result[name]) for name in ("price", "cost")}
    except (KeyError, TypeError, ValueError, ArithmeticError) as error:
        reason = "; ".join(str(fault) for fault in error.faults) if isinstance(error, KitError) else f"{type(error).__name__}: {error}"
        raise IssueError(Fault("", f"is not a whole issued estimate: {reason}", path.name)) from None
    for name, amount in promised.items():
        if Decimal(money_text(getattr(again, name))) != amount:
            raise IssueError(Fault(name, f"was issued as {amount} and comes to {money_text(getattr(again, name))} with this version of the kit.", path.name))
    return issued


def _refuse(estimate: Estimate, stop_reason: str | None) -> None:
    faults = []
    if not estimate.proven:
        faults.append(Fault("cut plans", "are not all proven cheapest. List fewer offcuts or fewer sizes of stock."))
    stops = [finding for finding in estimate.findings if finding.level is Level.STOP]
    if stops and not (stop_reason or "").strip():
        faults += [
            Fault(finding.check, f"says stop: {finding.measured}, wanted {finding.limit}. {finding.remedy} Or state why it is issued all the same.")
            for finding in stops
        ]
    if faults:
        raise IssueError(faults)


def _stem(number: str) -> str:
    """A file name's part from a job number; two numbers that only differ in signs stay apart by a short fingerprint."""
    stem = _SAFE.sub("-", number).strip("-") or "job"
    return stem if stem == number else f"{stem}-{hashlib.sha256(number.encode()).hexdigest()[:6]}"


def _seal(document: Mapping[str, Any]) -> str:
    """Fingerprint of everything but itself."""
    return hashlib.sha256(document_bytes({key: value for key, value in document.items() if key != "sha256"})).hexdigest()


def _read(path: Path) -> dict[str, Any]:
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise IssueError(Fault("", f"can't be read: {error.strerror or error}.", path.name)) from None
    except ValueError:
        raise IssueError(Fault("", "is not an issued estimate: not JSON in UTF-8.", path.name)) from None
    if not isinstance(document, dict) or document.get("kind") != KIND:
        raise IssueError(Fault("", "is not an issued estimate.", path.name))
    if document.get("format") not in (FIRST_FORMAT, FORMAT):
        raise IssueError(Fault("format", f'"{document.get("format")}" is not known to this version of the kit.', path.name))
    if document.get("sha256") != _seal(document):
        raise IssueError(Fault("", "was changed after it was issued: its fingerprint does not fit.", path.name))
    return document


def _changes_since(path: Path, estimate: Estimate) -> list[str]:
    """What a revision changes against the one before: fields, lists, price."""
    if _read(path)["format"] == FIRST_FORMAT:
        return ["issued again with a later version of the kit; what differs from the revision before can't be listed"]
    before = open_issued(path)
    changes = [
        f"{place}: {old or 'left out'} -> {new or 'left out'}" for place, old, new in list_job_changes(before.estimate.job_as_read, estimate.job_as_read)
    ]
    changes += _list_changes(before.estimate, estimate)
    if before.estimate.price != estimate.price:
        changes.append(f"price: {money_text(before.estimate.price)} -> {money_text(estimate.price)} USD")
    return changes or ["nothing but the day of issue"]


def list_job_changes(old: Job, new: Job) -> Iterator[tuple[str, str, str]]:
    """Every field of the job file that differs: its place (`cabinet.width`), before and after as the file says them, "" where it is left out."""
    before, after = _flat(job_document(old)), _flat(job_document(new))
    for place in sorted(before.keys() | after.keys()):
        if before.get(place) != after.get(place):
            yield place, before.get(place, ""), after.get(place, "")


def _list_changes(old: Estimate, new: Estimate) -> Iterator[str]:
    """What other lists say of what this job uses, on its day; a list that only differs elsewhere is named."""
    before = {file.name: file.sha256 for file in old.lists.files}
    used = _used(old) | _used(new)
    about_job = [change for change in list_changes(old.lists, new.lists, new.job.identity.visit_date) if change.file == "company.csv" or _about(change) in used]
    yield from (f"{change.file}, {change.name}: {change.before or 'left out'} -> {change.after or 'left out'}" for change in about_job)
    named = {change.file for change in about_job}
    yield from (f"list {file.name} is another one" for file in new.lists.files if before.get(file.name) != file.sha256 and file.name not in named)


def _used(estimate: Estimate) -> set[str]:
    return {line.item for line in estimate.lines} | {str(task.step) for task in estimate.tasks} | {estimate.job.sink.item, estimate.job.counter.item}


def _about(change: ListChange) -> str:
    """What a change of a list is about: the item, rate or step at the head of its name."""
    return change.name.partition(", ")[0]


def _flat(value: Any, path: str = "") -> dict[str, str]:
    if isinstance(value, dict):
        return {place: text for key, inner in value.items() for place, text in _flat(inner, f"{path}.{key}" if path else key).items()}
    if isinstance(value, list):
        return {place: text for number, inner in enumerate(value, 1) for place, text in _flat(inner, f"{path}[{number}]").items()}
    return {path: str(value)}
