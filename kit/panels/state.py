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

    While a slider moves, nothing is tried for overlaps and `at_rest` is False; a quarter of a second after the last change
    the whole estimate takes its place (`settle`).

    Parameters
    ----------
    job
        The job to start from.
    lists_for
        Gives the price lists of a job.
    """

    def __init__(self, job: Job, lists_for: Callable[[Job], Lists]) -> None:
        self._lock = threading.RLock()
        self._listeners: list[Callable[[], None]] = []
        self._past: list[Job] = []
        self._future: list[Job] = []
        self._timer: threading.Timer | None = None
        self._lists_for = lists_for
        self.job = job
        self.lists = lists_for(job)
        self.estimate: Estimate = estimate(job, self.lists)
        self.at_rest = True
        self.faults: tuple[Fault, ...] = ()

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether there is a change that was taken back."""
        return bool(self._future)

    def listen(self, listener: Callable[[], None]) -> None:
        """Call `listener` after every change, sound or not, and when the job has come to rest."""
        self._listeners.append(listener)

    def change(self, changes: Mapping[str, Any]) -> None:
        """Change fields as typed, by their place such as "cabinet.width"."""
        with self._lock:
            try:
                self._take(change_job(self.job, changes))
            except KitError as error:
                self.faults = error.faults
            self._notify()

    def settle(self) -> None:
        """Come to rest: the estimate is worked out with everything that a moving slider leaves out."""
        with self._lock:
            self._stop_timer()
            if self.at_rest:
                return
            self.at_rest = True
            self.estimate = estimate(self.job, self.lists)
            self._notify()

    def replace(self, job: Job) -> None:
        """Put another job on the screen; undo brings the one before back.

        Raises
        ------
        KitError
            If the job can't be priced; the one on the screen stays.
        """
        with self._lock:
            self._take(job)
            self._notify()

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
        lists = self._lists_for(job)
        priced = estimate(job, lists, exact=False)
        self._past.append(self.job)
        self._future.clear()
        self._set(job, lists, priced)

    def _set(self, job: Job, lists: Lists, priced: Estimate) -> None:
        self.job, self.lists, self.estimate, self.faults = job, lists, priced, ()
        self.at_rest = False
        self._stop_timer()
        self._timer = threading.Timer(SETTLE_S, self._settle_by_itself)
        self._timer.daemon = True
        self._timer.start()

    def _settle_by_itself(self) -> None:
        try:
            self.settle()
        except Exception as error:  # noqa: BLE001 - in a thread of its own nobody else would say it
            self.faults = (Fault("", f"Not worked out to the end: {type(error).__name__}: {error}"),)
            self._notify()

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _step(self, source: list[Job], target: list[Job]) -> None:
        with self._lock:
            if not source:
                return
            job = source[-1]
            lists = self._lists_for(job)
            priced = estimate(job, lists, exact=False)
            source.pop()
            target.append(self.job)
            self._set(job, lists, priced)
            self._notify()

    def _notify(self) -> None:
        for listener in self._listeners:
            listener()
