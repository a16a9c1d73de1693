"""Is a job file still what was read from the disk or written to it, and if not, which fields differ?"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kit.draw.tables import draw_table
from kit.errors import Fault, KitError
from kit.estimating import Estimate
from kit.job import Job, job_document, read_job
from kit.job.field_names import label_of, say_value
from kit.money import format_money

__all__ = ["FileChangedError", "SeenFiles", "draw_file_differences", "list_changes_on_disk", "list_file_differences"]

ABSENT = "\u2014"


class FileChangedError(KitError):
    """A job file that somebody else wrote; `theirs` is the job in it, None where it can't be read any more."""

    def __init__(self, name: str, sentence: str, theirs: Job | None) -> None:
        self.name, self.sentence, self.theirs = name, sentence, theirs
        super().__init__(Fault("", sentence, name))


@dataclass(frozen=True, slots=True)
class _Seen:
    sha256: str
    job: Job


class SeenFiles:
    """The job files that a screen read or wrote, with the fingerprint they had then."""

    def __init__(self) -> None:
        self._seen: dict[Path, _Seen] = {}

    def note(self, path: Path, job: Job) -> None:
        """Remember a file as it is now: it holds this job."""
        self._seen[path] = _Seen(_fingerprint(path), job)

    def check(self, path: Path, mine: Job) -> None:
        """Whether `mine` may be written over a file without a word.

        Raises FileChangedError if there is a file that was not read here, or that has become another job since.
        """
        seen, now = self._seen.get(path), _fingerprint(path)
        if not now or (seen is not None and seen.sha256 == now):
            return
        try:
            theirs = read_job(path)
        except KitError:
            theirs = None
        if theirs is not None and (theirs == mine or (seen is not None and theirs == seen.job)):
            return  # a comment, a blank line, or the same changes
        sentence = "is there already and was not opened here." if seen is None else "was changed on disk since it was opened or saved here."
        raise FileChangedError(path.name, sentence, theirs)


def _fingerprint(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def list_file_differences(theirs: Job, mine: Job) -> list[tuple[str, str, str]]:
    """Each field that differs, by its name: what stands in the file, and what stands here."""
    there, here = _flat(job_document(theirs)), _flat(job_document(mine))
    return [
        (label_of(place), say_value(place, there.get(place, ABSENT)), say_value(place, here.get(place, ABSENT)))
        for place in {**there, **here}
        if there.get(place) != here.get(place)
    ]


def list_changes_on_disk(before: Estimate | None, now: Estimate | None) -> list[str]:
    """What has changed in a job file and its price lists since the job was worked out before, in sentences; none where nothing did."""
    if before is None or now is None or (before.job_as_read == now.job_as_read and before.lists.files == now.lists.files):
        return []
    fields = [name for name, _, _ in list_file_differences(now.job_as_read, before.job_as_read)]
    return [
        f"The job file has changed since: {'; '.join(fields)}." if fields else "",
        "The price lists have changed since." if before.lists.files != now.lists.files else "",
        f"The price was {format_money(before.price)} and is {format_money(now.price)} now.",
    ]


def _flat(value: Any, place: str = "") -> dict[str, str]:
    if isinstance(value, Mapping):
        parts = {f"{place}.{key}" if place else key: inner for key, inner in value.items()}
    elif isinstance(value, list):
        parts = {f"{place}[{number}]": inner for number, inner in enumerate(value, 1)}
    else:
        return {place: {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)}
    return {at: text for name, inner in parts.items() for at, text in _flat(inner, name).items()}


def draw_file_differences(theirs: Job | None, mine: Job, whose: str) -> str:
    """The fields that differ, as a table; `whose` says what `mine` is."""
    if theirs is None:
        return "<p>The file can't be read as a job now. To write into it again, mend it first.</p>"
    return draw_table("What differs", ("Field", "In the file", whose), list_file_differences(theirs, mine), heads=True)
