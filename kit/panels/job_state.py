"""The one place where a screen's job lives: change, undo, redo, what was refused, and who wants to know."""

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from kit.errors import Fault, JobError, KitError
from kit.estimating import Estimate, estimate, with_overlaps
from kit.failures import keep_details
from kit.job import Job, change_job
from kit.lists import Lists

__all__ = ["SETTLE_S", "JobState", "PriceMove", "Refused"]

SETTLE_S = 0.25


@dataclass(frozen=True, slots=True)
class Refused:
    """An entry that breaks a rule: what was typed, by place, and what is wrong with it."""

    changes: Mapping[str, Any]
    faults: tuple[Fault, ...]

    @property
    def stays(self) -> bool:
        """Whether it waits in its field to be mended; a list of parts that was refused is as it was, for its parts change meanwhile."""
        return not any(isinstance(typed, list) for typed in self.changes.values())


@dataclass(frozen=True, slots=True)
class PriceMove:
    """The price of one job before and after its price lists were read anew."""

    before: Decimal
    after: Decimal


Entries = Mapping[str, Refused]
NO_ENTRIES: Entries = MappingProxyType({})


class JobState:
    """The job on the screen, its estimate, its history, and the entries that were refused.

    A change makes a new job through the full validation of the record; the new job makes a new estimate. A change that
    breaks a rule leaves job and estimate as they were and waits in `refused` until it is mended, taken back, or sound
    together with a later one. Callbacks may arrive in another thread (a notebook's kernel uses several), so every change
    holds a lock.

    While a slider moves, nothing is tried for overlaps and `at_rest` is False; a quarter of a second after the last change
    that is made up for (`settle`). What moves one field until then is one step of the history.

    Parameters
    ----------
    job
        The job to start from.
    lists_for
        Gives the price lists of a job, as they are on the disk.
    """

    def __init__(self, job: Job, lists_for: Callable[[Job], Lists]) -> None:
        self._lock = threading.RLock()
        self._listeners: list[Callable[[], None]] = []
        self._afterwards: list[Callable[[], None]] = []
        self._past: list[tuple[Job, Entries]] = []
        self._future: list[tuple[Job, Entries]] = []
        self._moving = ""  # the place that the last step of the history changed, while it still moves
        self._timer: threading.Timer | None = None
        self._lists_for = lists_for
        self.job = job
        self.lists = lists_for(job)
        self.priced = _price(job, self.lists)
        """The estimate; None while what decides its price is still to be measured."""
        self.at_rest = True
        self.refused: Entries = NO_ENTRIES
        """What was typed and not taken over, by the place of its field."""
        self.trouble: tuple[Fault, ...] = ()
        """What could not be worked out to the end."""

    @property
    def estimate(self) -> Estimate:
        """The estimate of the job.

        Raises
        ------
        JobError
            If what decides its price is still to be measured.
        """
        if self.priced is None:
            raise JobError(Fault("", f"There is no price yet: {len(self.job.deciding_places)} answers that decide it are missing."))
        return self.priced

    @property
    def faults(self) -> tuple[Fault, ...]:
        """All that is wrong with what was typed, and what could not be worked out."""
        return (*(fault for entry in self.refused.values() for fault in entry.faults), *self.trouble)

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

    def listen_at_rest(self, listener: Callable[[], None]) -> None:
        """Call `listener` once the job rests and the lock is free again: what it waits for, such as a disk, keeps no entry waiting."""
        self._afterwards.append(listener)

    def change(self, changes: Mapping[str, Any]) -> None:
        """Change fields as typed, by their place such as "cabinet.width"; the first is the field that was typed in.

        What was refused before is tried again with it: two entries that are only sound together are both taken.
        """
        with self._lock:
            place = next(iter(changes))
            waiting = {at: entry for at, entry in self.refused.items() if at != place and entry.stays}
            try:
                self._move(place, *self._try(changes, waiting))
            except KitError as error:
                self._move(place, self.job, {**waiting, place: Refused(dict(changes), error.faults)})
            self._notify()
        self._rest()

    def _try(self, changes: Mapping[str, Any], waiting: Entries) -> tuple[Job, Entries]:
        """The job with the changes and with what can now be taken of what waited, and what still waits."""
        if not waiting:
            return change_job(self.job, changes), NO_ENTRIES
        together = {at: typed for entry in waiting.values() for at, typed in entry.changes.items()}
        try:
            return self._priced(change_job(self.job, {**together, **changes})), NO_ENTRIES
        except KitError:
            job, still = change_job(self.job, changes), {}
        for at, entry in waiting.items():
            try:
                job = self._priced(change_job(job, entry.changes))
            except KitError as error:
                still[at] = Refused(entry.changes, error.faults)
        return job, still

    def _priced(self, job: Job) -> Job:
        """The same job, if it can be priced."""
        _price(job, self._lists_of(job), exact=False)
        return job

    def settle(self) -> None:
        """Come to rest: the estimate is worked out with everything that a moving slider leaves out."""
        with self._lock:
            self._stop_timer()
            if self.at_rest:
                return
            self.at_rest, self._moving = True, ""
            self.priced = None if self.priced is None else with_overlaps(self.priced)
            self._notify()
        self._rest()

    def renew(self) -> PriceMove | None:
        """Read the job's price lists anew; what became of the price where they are others now, else None.

        Raises KitError if the lists have faults or can't price the job any more; those that were read before stay in use.
        """
        with self._lock:
            lists = self._lists_for(self.job)
            if lists.files == self.lists.files:
                return None
            before, self.priced = self.priced, _price(self.job, lists)
            self._stop_timer()
            self.lists, self.at_rest = lists, True
            self._notify()
            return None if before is None or self.priced is None else PriceMove(before.price, self.priced.price)

    def start(self, job: Job) -> None:
        """Put the job of another file on the screen: its history begins here. Raises KitError if the job can't be priced; the one on the screen stays."""
        with self._lock:
            self._set(job, NO_ENTRIES)
            self._past.clear()
            self._future.clear()
            self._notify()
        self._rest()

    def replace(self, job: Job) -> None:
        """Put another version of the job on the screen; undo brings the one before back.

        Raises KitError if the job can't be priced; the one on the screen stays.
        """
        with self._lock:
            self._move("", job, NO_ENTRIES)
            self._notify()
        self._rest()

    def undo(self) -> None:
        """Take the last change back, a refused one among them."""
        self._step(self._past, self._future)

    def redo(self) -> None:
        """Do again what was taken back."""
        self._step(self._future, self._past)

    def _move(self, place: str, job: Job, refused: Entries) -> None:
        """Go on to a job and its refused entries, as a step of the history unless the field of the last step is still moving."""
        now = self.job, self.refused
        if (job, refused) == now:
            return
        self._set(job, refused)
        if job == now[0] and not all(entry.stays for entry in refused.values()):
            return
        if not place or place != self._moving:
            self._past.append(now)
            self._future.clear()
        self._moving = place

    def _set(self, job: Job, refused: Entries) -> None:
        lists = self._lists_of(job)
        if job != self.job or lists is not self.lists:
            priced = _price(job, lists, exact=False, near=self.priced)
            self.job, self.lists, self.priced, self.at_rest = job, lists, priced, False
            self._stop_timer()
        self.refused, self.trouble = refused, ()

    def _lists_of(self, job: Job) -> Lists:
        """The lists in use go on while the job names the same: `renew` reads them anew, and says so."""
        return self.lists if job.prices == self.job.prices else self._lists_for(job)

    def _settle_by_itself(self) -> None:
        try:
            self.settle()
        except Exception as error:  # noqa: BLE001 - in a thread of its own nobody else would say it
            self.trouble = (Fault("", f"Not worked out to the end, the program's fault, not yours. {keep_details(error)}"),)
            self._notify()

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _step(self, source: list[tuple[Job, Entries]], target: list[tuple[Job, Entries]]) -> None:
        with self._lock:
            if not source:
                return
            now, (job, refused) = (self.job, self.refused), source[-1]
            self._set(job, refused)
            self._moving = ""
            source.pop()
            target.append(now)
            self._notify()
        self._rest()

    def _notify(self) -> None:
        """Show what has changed; only then wait for rest, since to start a thread takes a while."""
        try:
            for listener in self._listeners:
                listener()
        finally:
            if not self.at_rest and self._timer is None:
                self._timer = threading.Timer(SETTLE_S, self._settle_by_itself)
                self._timer.daemon = True
                self._timer.start()

    def _rest(self) -> None:
        if self.at_rest:
            for listener in self._afterwards:
                listener()


def _price(job: Job, lists: Lists, *, exact: bool = True, near: Estimate | None = None) -> Estimate | None:
    return None if job.deciding_places else estimate(job, lists, exact=exact, near=near)
