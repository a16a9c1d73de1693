"""The one place where a screen's job lives: change, undo, redo, and who wants to know."""

import threading
from collections.abc import Callable, Mapping
from typing import Any

from kit.errors import Fault, KitError
from kit.estimate import Estimate, estimate
from kit.job import Job, change_job
from kit.lists import Lists

__all__ = ["JobState"]

SETTLE_S = 0.25


class JobState:
    """The job on the screen, its estimate, and its history.

    A change makes a new job through the full validation of the record; the new job makes a new estimate. A change that
    breaks a rule leaves job and estimate as they were and is kept in `faults` until the next change. Callbacks may
    arrive in another thread (a notebook's kernel uses several), so every change holds a lock.

    While a slider moves, cut plans are first plans; a quarter of a second after the last change the proven ones take
    their place (`settle`).
    """

    def __init__(self, job: Job, lists: Lists) -> None:
        self._lock = threading.RLock()
        self._listeners: list[Callable[[], None]] = []
        self._past: list[Job] = []
        self._future: list[Job] = []
        self._timer: threading.Timer | None = None
        self.lists = lists
        self.job = job
        self.estimate: Estimate = estimate(job, lists)
        self.faults: tuple[Fault, ...] = ()

    def listen(self, listener: Callable[[], None]) -> None:
        """Call `listener` after every change, sound or not."""
        self._listeners.append(listener)

    def change(self, changes: Mapping[str, Any]) -> None:
        """Change fields as typed, by their place such as "cabinet.width"."""
        with self._lock:
            try:
                self._take(change_job(self.job, changes))
            except KitError as error:
                self.faults = error.faults
            self._tell()

    def settle(self) -> None:
        """Put the proven cut plans in the place of first plans; nothing happens when they are proven already."""
        with self._lock:
            if self._timer is not None:
                self._timer.cancel()
                self._timer = None
            if not self.estimate.proven:
                self.estimate = estimate(self.job, self.lists)
                self._tell()

    def replace(self, job: Job) -> None:
        """Put another job on the screen; the one before can be had back by undo."""
        with self._lock:
            self._take(job)
            self._tell()

    def undo(self) -> None:
        """Take the last change back."""
        self._step(self._past, self._future)

    def redo(self) -> None:
        """Do again what was taken back."""
        self._step(self._future, self._past)

    def _take(self, job: Job) -> None:
        if job == self.job:
            self.faults = ()
            return
        made = estimate(job, self.lists, exact=False)
        self._past.append(self.job)
        self._future.clear()
        self.job, self.estimate, self.faults = job, made, ()
        if not made.proven:
            if self._timer is not None:
                self._timer.cancel()
            self._timer = threading.Timer(SETTLE_S, self.settle)
            self._timer.daemon = True
            self._timer.start()

    def _step(self, source: list[Job], target: list[Job]) -> None:
        with self._lock:
            if not source:
                return
            job = source.pop()
            target.append(self.job)
            self.job, self.estimate, self.faults = job, estimate(job, self.lists), ()
            self._tell()

    def _tell(self) -> None:
        for listener in self._listeners:
            listener()
