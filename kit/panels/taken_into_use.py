"""What was taken into use last, kept beside the lists, so that it can be put back; and what the disk says of what was compared."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path

from kit.errors import KitError
from kit.job import Job
from kit.lists import Lists
from kit.panels.job_files import FROM_EXAMPLES, JobFiles
from kit.panels.on_disk import FileChangedError
from kit.whole_files import explain_os_error, replace_file

__all__ = ["TakenIntoUse", "changed_on_disk", "list_unread", "note_taken", "read_taken", "undo_taken"]

_RECORD = ".taken_into_use.json"


@dataclass(frozen=True, slots=True)
class TakenIntoUse:
    """A folder of lists as it was written (fingerprint of each file), how job files name it, and the lists that each pointed job file named before."""

    folder: str
    prices: str
    files: dict[str, str]
    jobs: dict[str, str | None]


def note_taken(home: Path, folder: Path, prices: str, jobs: Mapping[str, str | None]) -> None:
    """Keep what was taken into use, after what was before it."""
    record = TakenIntoUse(folder.name, prices, _fingerprints(folder), dict(jobs))
    _keep(home, [*_records(home), record])


def read_taken(home: Path) -> TakenIntoUse | None:
    """What was taken into use last; None where nothing was, or all of it was put back or its folders are gone."""
    return next(iter(_records(home)[::-1]), None)


def _records(home: Path) -> list[TakenIntoUse]:
    """All that was taken into use and whose folder is there, the last one at the end."""
    try:
        kept = json.loads((home / _RECORD).read_text(encoding="utf-8"))
        records = [TakenIntoUse(**one) for one in (kept if isinstance(kept, list) else [kept])]  # one alone was kept at first
    except (OSError, ValueError, TypeError):
        return []
    places = [(record, home / record.folder) for record in records if Path(record.folder).name == record.folder]
    return [record for record, place in places if place.is_dir() and not place.is_symlink()]


def _keep(home: Path, records: Sequence[TakenIntoUse]) -> None:
    if records:
        replace_file(home / _RECORD, json.dumps([asdict(record) for record in records], indent=1).encode())
    else:
        (home / _RECORD).unlink(missing_ok=True)


def _fingerprints(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


def undo_taken(files: JobFiles, record: TakenIntoUse) -> list[str]:
    """Point the job files back to the lists they had, and take the folder away where it is as it was written and nobody uses it; says what was done."""
    earlier = [one for one in _records(files.home) if one != record]
    unread = list_unread(files, record)
    titles = {name: title for title, name in files.named()}
    sentences = [_point_back(files, name, before, record, titles.get(name, name)) for name, before in record.jobs.items()]
    folder = files.home / record.folder
    users = _users(files, record)
    if unread:
        sentences.append(f"{record.folder} stays: {', '.join(unread)} can't be read and may use it.")
    elif users:
        sentences.append(f"{record.folder} stays: {'; '.join(titles.get(name, name) for name in users)} {'uses' if len(users) == 1 else 'use'} it.")
    elif _fingerprints(folder) != record.files:
        sentences.append(f"{record.folder} stays: somebody has changed it. No job file uses it.")
    else:
        for path in folder.iterdir():
            path.unlink()
        folder.rmdir()
        sentences.append(f"{record.folder} is gone again. The lists before are in use.")
    with suppress(OSError):
        _keep(files.home, earlier)
    return [sentence for sentence in sentences if sentence]


def list_unread(files: JobFiles, record: TakenIntoUse) -> list[str]:
    """Job files that can't be read as such and may name the folder that was taken into use: their text holds its name, or can't be read either."""
    unread = []
    for name in files.names():
        if not name.startswith(FROM_EXAMPLES):
            try:
                files.open(name)
            except KitError:
                if _may_name(files.folder / name, record.folder):
                    unread.append(name)
    return unread


def _may_name(path: Path, folder: str) -> bool:
    try:
        return folder.encode() in path.read_bytes()
    except OSError:
        return True


def _users(files: JobFiles, record: TakenIntoUse) -> list[str]:
    users = []
    for name in files.names():
        if not name.startswith(FROM_EXAMPLES):
            with suppress(KitError):
                if files.open(name).prices == record.prices:
                    users.append(name)
    return users


def _point_back(files: JobFiles, name: str, before: str | None, record: TakenIntoUse, title: str) -> str:
    try:
        if files.open(name).prices != record.prices:
            return f"{title} uses other lists now: it stays as it is."
        files.point(name, before)
    except KitError as error:
        return f"{error} It stays as it is."
    except OSError as error:
        return f"{name} stays as it is: {explain_os_error(error)}."
    return f"{title} uses {Path(before).name if before else 'the usual lists'} again."


def changed_on_disk(files: JobFiles, jobs: Mapping[str, Job], compared: Lists, now: Lists) -> list[str]:
    """Which lists and job files are no longer what was compared, in sentences; none where all are."""
    before = {file.name: file.sha256 for file in compared.files}
    lists = [file.name for file in now.files if before.get(file.name) != file.sha256]
    changed = []
    for name, job in jobs.items():
        if not name.startswith(FROM_EXAMPLES):
            try:
                files.check(job, name)
            except FileChangedError:
                changed.append(name)
    return [
        *([f"The lists in use were changed on disk since they were compared: {', '.join(lists)}."] if lists else []),
        *([f"Changed on disk since it was priced here: {', '.join(changed)}."] if changed else []),
    ]
