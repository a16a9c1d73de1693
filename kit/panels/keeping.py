"""Unsaved work is kept beside the job files after every change, elsewhere where that folder can't be written to, and offered back."""

import hashlib
import json
import re
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import RLock, Timer
from typing import Any

from kit.errors import KitError
from kit.job import Job, read_job
from kit.job.file import job_text
from kit.whole_files import explain_os_error, replace_file

__all__ = ["AtWork", "Keeper", "KeptWork"]

ENDING = ".toml"
AT_WORK = ".at_work"
WINDOWS = 20  # whose notes of what is open are kept
RETRY_S = 30.0
_KEPT = re.compile(r"\.(.+)\.kept(\d*)\.toml")


@dataclass(frozen=True, slots=True)
class KeptWork:
    """Unsaved work: the job file it belongs to, and the job."""

    name: str
    job: Job
    path: Path


@dataclass(frozen=True, slots=True)
class AtWork:
    """What is open: a job file or example, the name that Save writes, what was typed and refused, by field, and the kept copy of this window.

    The copy is empty where nothing was unsaved, None where it is not known.
    """

    opened: str
    name: str
    refused: Mapping[str, Mapping[str, Any]]
    copy: str | None = None


class Keeper:
    """Keeps unsaved work of one folder of jobs.

    Parameters
    ----------
    folder
        Where job files lie.
    window
        The window of the browser, which goes on after a reload with what it had open itself; empty where there is but one.
    changed
        Called when `trouble` comes or goes.
    """

    def __init__(self, folder: Path, window: str = "", changed: Callable[[], object] = lambda: None) -> None:
        self.folder, self.changed = folder, changed
        self.window = self.came_from = f"_{window}" if window else ""
        """What ends the names of this window's notes, and of those that it went on from."""
        self.trouble = ""
        """Where unsaved work is kept instead, or why it is not; empty while all is well."""
        self._ours: dict[Path, str] = {}
        self._waiting: deque[tuple[Job, AtWork, bool]] = deque(maxlen=1)
        self._lost = False
        self._retry: Timer | None = None
        self._unkept: Job | None = None
        self._lock = RLock()  # nobody takes another lock while this one is held

    @property
    def elsewhere(self) -> Path:
        """Where unsaved work goes when the folder can't be written to: in the person's home, by the folder it belongs to."""
        return Path.home() / ".sinkset" / "kept" / hashlib.sha256(str(self.folder.resolve()).encode()).hexdigest()[:16]

    def keep(self, job: Job, at_work: AtWork, *, unsaved: bool) -> None:
        """Take what is open and, if it is `unsaved`, the job to be kept: at once, for `write` alone waits for the disk."""
        self._waiting.append((job, at_work, unsaved))

    def write(self) -> bool:
        """Write what waits; where that fails it is tried again until it works, and `trouble` says so. Gives whether all is on the disk, wherever that is."""
        with self._lock:
            if not self._waiting:
                return not self._lost
            job, at_work, unsaved = self._waiting.pop()
            self._stop_retry()
            try:
                self._keep(self.folder, job, at_work, unsaved=unsaved)
                said, self._lost = "", False
            except (OSError, KitError) as error:
                said = self._keep_elsewhere(error, job, at_work, unsaved=unsaved)
                self._unkept = job
                self._retry = Timer(RETRY_S, self._try_again, (job, at_work, unsaved))
                self._retry.daemon = True
                self._retry.start()  # every try is a sign of life besides: a server that ends idle kernels leaves this one alone
            written = not self._lost
        if said or self.trouble:
            self.trouble = said
            self.changed()
        return written

    def _try_again(self, job: Job, at_work: AtWork, unsaved: bool) -> None:  # noqa: FBT001 - what a timer hands on
        with self._lock:
            if self._unkept is job and not self._waiting:  # nothing newer came meanwhile
                self.keep(job, at_work, unsaved=unsaved)
        self.write()

    def _stop_retry(self) -> None:
        if self._retry is not None:
            self._retry.cancel()
            self._retry = None
        self._unkept = None

    def _keep_elsewhere(self, error: OSError | KitError, job: Job, at_work: AtWork, *, unsaved: bool) -> str:
        words = explain_os_error(error) if isinstance(error, OSError) else str(error)
        try:
            self._keep(self.elsewhere, job, at_work, unsaved=unsaved)
            self._lost = False
        except (OSError, KitError):
            self._lost = True
            return f"Unsaved work can't be saved for now: {words}. It tries again every half minute; keep this page open until then."
        return f"Unsaved work is kept in {self.elsewhere} for now, because {words}. It is tried again every half minute."

    def _keep(self, folder: Path, job: Job, at_work: AtWork, *, unsaved: bool) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        copy = ""
        if unsaved:
            path = self._own_copy(folder, at_work.name)
            replace_file(path, job_text(job).encode())  # nobody else writes there: nothing of what was there is to be kept, as `write_job` would
            self._ours[path], copy = _fingerprint(path), path.name
        refused = {place: dict(changes) for place, changes in at_work.refused.items()}
        text = json.dumps({"opened": at_work.opened, "name": at_work.name, "refused": refused, "copy": copy}, ensure_ascii=False, indent=1, default=str)
        replace_file(folder / f"{AT_WORK}{self.window}", text.encode())

    def _own_copy(self, folder: Path, name: str) -> Path:
        """The kept copy that this screen wrote, else a name that no other screen's copy has."""
        stem, number = name.removesuffix(ENDING), 1
        while True:
            path = folder / f".{stem}.kept{number if number > 1 else ''}{ENDING}"
            if not path.exists() or self._ours.get(path) == _fingerprint(path):
                return path
            number += 1

    def part(self, window: str) -> None:
        """Go on as another window, whose kept copies are its own: the one that these were shared with goes on with them."""
        with self._lock:
            self.window = f"_{window}"
            self._ours.clear()

    def at_work(self) -> AtWork | None:
        """What was open in this window, else in the one in which the folder was last worked in; None where nothing says so."""
        self.write()
        notes = sorted((path for folder in (self.folder, self.elsewhere) for path in folder.glob(f"{AT_WORK}*")), key=_age, reverse=True)
        for path in notes[WINDOWS:]:
            with suppress(OSError):
                path.unlink()
        for path in sorted(notes[:WINDOWS], key=lambda path: path.name != f"{AT_WORK}{self.window}"):
            try:
                note = json.loads(path.read_text(encoding="utf-8"))
                self.came_from = path.name.removeprefix(AT_WORK)
                refused = {str(place): dict(changes) for place, changes in note["refused"].items()}
                return AtWork(str(note["opened"]), str(note["name"]), refused, str(note["copy"]) if "copy" in note else None)
            except (OSError, ValueError, KeyError, TypeError, AttributeError):
                continue
        return None

    def unsaved_work(self, name: str = "") -> Iterator[KeptWork]:
        """Unsaved work that can be read, of one job file or of all, the newest first; what is given is this screen's from then on."""
        for path in self._copies(name):
            with suppress(KitError):
                yield KeptWork(f"{_stem(path)}{ENDING}", read_job(path), path)

    def is_kept(self, name: str) -> bool:
        """Whether a job file has unsaved work."""
        return bool(self._copies(name))

    def adopt(self, work: KeptWork) -> None:
        """Take a kept copy over: this screen writes it on, and drops it."""
        self._ours[work.path] = _fingerprint(work.path)

    def drop(self, work: KeptWork) -> None:
        """Drop a kept copy."""
        work.path.unlink(missing_ok=True)

    def forget(self, name: str) -> None:
        """Drop this screen's own copies of a name: nothing of it is unsaved any more, or what is was dropped."""
        with self._lock:
            copies = self._copies(name)
            self._stop_retry()
            for path in copies:
                if self._ours.get(path) == _fingerprint(path):
                    path.unlink(missing_ok=True)

    def _copies(self, name: str) -> list[Path]:
        self.write()  # what waits is one of them
        stem = name.removesuffix(ENDING)
        copies = [path for folder in (self.folder, self.elsewhere) if folder.is_dir() for path in folder.glob(f".*.kept*{ENDING}")]
        return sorted((path for path in copies if _stem(path) and stem in {"", _stem(path)}), key=_age, reverse=True)


def _stem(path: Path) -> str:
    match = _KEPT.fullmatch(path.name)
    return match[1] if match else ""


def _age(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


def _fingerprint(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""
