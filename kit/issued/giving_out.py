"""Giving out a promise: numbered, with everything that made it and everything that was sent, and never overwritten."""

import datetime as dt
import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from kit.document import document_bytes, estimate_document
from kit.errors import Fault, IssueError
from kit.estimating import Estimate, Revaluation
from kit.issued.against import find_against
from kit.issued.file_names import issued_path, kept_folder, list_issued, next_revision
from kit.issued.opening import KIND, open_issued, promise_of
from kit.issued.promise import Issued
from kit.issued.promised_figures import figures_of
from kit.issued.seals import FORMAT, seal
from kit.issued.what_changed import list_changes_since
from kit.job import job_document
from kit.job.open_fields import find_unnamed
from kit.job.prices import are_of_the_kit
from kit.units import format_day
from kit.whole_files import explain_os_error, place_file, place_folder

__all__ = ["MakeFiles", "issue_estimate", "office_day"]

MakeFiles = Callable[[Estimate, Issued], Mapping[str, bytes]]
"""Makes what is sent of an estimate, by file name: papers, workbook, rows, drawings, marked with number and revision."""


def issue_estimate(
    estimate: Estimate,
    folder: Path,
    *,
    make_files: MakeFiles | None = None,
    stop_reason: str | None = None,
    fell_back: bool = False,
    signed_on: dt.date | None = None,
    today: dt.date | None = None,
) -> Path:
    """Write the estimate as the next revision of its job number, and what is sent with it into a folder of that name; gives the file.

    Parameters
    ----------
    estimate
        An estimate whose cut plans are proven.
    folder
        Where the job file lies.
    make_files
        Makes what is sent; without it only the document is written.
    stop_reason
        Why it is issued although something speaks against it; becomes part of the document.
    fell_back
        Whether the kit's invented lists stand in for the user's own, which were not found.
    signed_on
        Day on which the contract was signed, where a change order leads to this estimate: days count from then and may lie in the past, and nothing need
        have changed.
    today
        Day of issue; the clock's when left out. No other room reads the clock.

    Raises
    ------
    IssueError
        If something speaks against it (a finding that says stop, a scope that contradicts itself, prices that ended or are too old, days in the past,
        lists that fell back) and no reason is given; whose job it is is not filled in; a cut plan is not proven; nothing changed since the last revision;
        somebody else took the number meanwhile; or it can't be written. Nothing is written then.
    """
    day, reason = today or office_day(), (stop_reason or "").strip() or None
    against = find_against(estimate, day, fell_back=fell_back, after_signing=signed_on is not None)
    _refuse(estimate, [] if reason else against)
    number = estimate.job.identity.job_number
    revision, before = next_revision(folder, number), _last_that_opens(folder, number)
    path = issued_path(folder, number, revision)
    content = _content(estimate, number, revision, day, reason, signed_on)
    issued = promise_of({**content, **seal(content)}, path)
    if before is not None:
        content["changes"] = list_changes_since(before, issued)
        if not content["changes"] and signed_on:  # a change order may only charge what was found, or be made out again
            content["changes"] = [f"nothing in job or lists since {before.document}; a change order goes with it"]
        if not content["changes"]:
            sentence = f"Nothing changed since {before.document} of {format_day(before.issued)}, so nothing is written. To send it again, state why."
            raise IssueError(Fault(number, sentence))
    content["against"] = [str(fault) for fault in against]
    issued = replace(promise_of({**content, **seal(content)}, path), work_out=lambda: estimate)
    files = {} if make_files is None else dict(make_files(estimate, issued))
    content["files"] = {name: hashlib.sha256(file).hexdigest() for name, file in files.items()}
    _place(path, document_bytes({**content, **seal(content)}), files)
    return path


def office_day() -> dt.date:
    """The day on the wall of the office. No other room reads the clock."""
    return dt.date.today()  # noqa: DTZ011 - the office's own day, wherever it lies


def _refuse(estimate: Estimate, against: list[Fault]) -> None:
    unproven = [] if estimate.proven else [Fault("cut plans", "are not all proven cheapest. List fewer offcuts or fewer sizes of stock.")]
    unwritten = [
        Fault("own takeoff step", f"{name} is in this notebook only. Put its work into the job or the lists, then issue.") for name in estimate.own_steps
    ]
    unnamed = find_unnamed(estimate.job_as_read.open_places)
    if faults := [*unnamed, *unproven, *unwritten, *against]:
        raise IssueError(faults)


def _last_that_opens(folder: Path, number: str) -> Issued | None:
    """The revision that a new one is held against; a damaged one is passed over, its number stays taken."""
    for path in reversed(list_issued(folder, number)):
        try:
            return open_issued(path)
        except IssueError:
            continue
    return None


def _content(estimate: Estimate, number: str, revision: int, day: dt.date, reason: str | None, signed_on: dt.date | None) -> dict[str, Any]:
    """The document but for what changed, the files and the fingerprints, as JSON gives it back."""
    content = {
        "kind": KIND,
        "format": FORMAT,
        "number": number,
        "revision": revision,
        "issued": day.isoformat(),
        "stop_reason": reason,
        "against": [],
        "changes": [],
        "job": job_document(estimate.job_as_read),
        "lists": {"folder": estimate.lists.folder_words, "of_the_kit": are_of_the_kit(estimate.lists), "texts": dict(estimate.lists.texts)},
        "revalued": _plain(estimate.revalued),
        "promise": figures_of(estimate, day, signed_on=signed_on).model_dump(mode="json"),
        "result": estimate_document(estimate),
    }
    plain: dict[str, Any] = json.loads(json.dumps(content, default=str))
    return plain


def _plain(revalued: Revaluation | None) -> dict[str, Any] | None:
    if revalued is None:
        return None
    prices, terms = ({name: str(value) for name, value in part.items()} for part in (revalued.prices, revalued.terms))
    return {"prices": prices, "rates": dict(revalued.rates), "terms": terms}


def _place(path: Path, document: bytes, files: Mapping[str, bytes]) -> None:
    """What was sent first, then the document: with it the promise is there, whole."""
    folder, placed = kept_folder(path), False
    try:
        if files:
            place_folder(folder, files)
            placed = True
        place_file(path, document)
    except OSError as error:
        if placed:
            _take_back(folder, files)
        if isinstance(error, FileExistsError):
            sentence = "was issued by somebody else in the meantime, so yours was not written. Look at it, then issue again."
            raise IssueError(Fault("", sentence, path.name)) from None
        raise IssueError(Fault("", f"can't be written: {explain_os_error(error)}.", str(path))) from None


def _take_back(folder: Path, files: Mapping[str, bytes]) -> None:
    for name in files:
        (folder / name).unlink(missing_ok=True)
    folder.rmdir()
