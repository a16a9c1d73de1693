"""The file in which contracts are kept: SQLite, one row for each event, only ever added to."""

import datetime as dt
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from pydantic import ValidationError

from kit.contract.event_words import entry_words
from kit.contract.events import Event, Happening, Offered, Signed, Voided, happening_from_json, happening_to_json
from kit.contract.file_system import require_own_disk
from kit.contract.following import contract_state, standing_events
from kit.contract.state import ContractState
from kit.errors import Fault, LedgerError
from kit.incoming import MOST_WAIT_S
from kit.units import format_day

__all__ = ["LEDGER_FILE", "Ledger", "contract_states"]

LEDGER_FILE = "contracts.sqlite"
_APPLICATION = 0x534B4C31  # marks the file as ours (SQLite's application_id)
_MOST_SAID = 5  # entries of another writer that are said one by one
_DAMAGED = "it is damaged. Restore the newest backup"
_CLOSED = "its folder or disk is read-only. Get permission to write there, or move the jobs to another folder"
_WORDS = {
    sqlite3.SQLITE_BUSY: "somebody else is writing to it. Try again in a moment",
    sqlite3.SQLITE_FULL: "the disk is full. Free some space and try again",
    sqlite3.SQLITE_IOERR: "the disk reports an error. Check whether it is full or faulty, then try again",
    **dict.fromkeys((sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM), _CLOSED),
    **dict.fromkeys((sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT), _DAMAGED),
}
_SCHEMAS = (
    """
    CREATE TABLE event (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        contract TEXT NOT NULL,
        day TEXT NOT NULL,
        written TEXT NOT NULL,
        what TEXT NOT NULL
    );
    CREATE INDEX event_of_contract ON event (contract, id);
    CREATE TRIGGER event_stays BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'an event is never edited'); END;
    CREATE TRIGGER event_is_kept BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'an event is never deleted'); END;
    """,
    """
    CREATE TABLE decision (id INTEGER PRIMARY KEY AUTOINCREMENT, written TEXT NOT NULL, what TEXT NOT NULL);
    CREATE TRIGGER decision_stays BEFORE UPDATE ON decision BEGIN SELECT RAISE(ABORT, 'a decision is never edited'); END;
    CREATE TRIGGER decision_is_kept BEFORE DELETE ON decision BEGIN SELECT RAISE(ABORT, 'a decision is never deleted'); END;
    """,
    "",  # an event more, "canceled": a version that does not know it says so
    "",  # a change order says which payments it moves
)
"""What brings a ledger from one version to the next; the version of a file is how many of these it has seen."""


class Ledger:
    """The contracts of one folder of jobs.

    Parameters
    ----------
    folder
        Where job files and issued estimates lie; the ledger is `contracts.sqlite` beside them, made when the first event is written.

    Raises
    ------
    LedgerError
        If the folder lies on a network drive, the file is no ledger, or a newer version of the kit wrote it.
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / LEDGER_FILE
        require_own_disk(folder, LEDGER_FILE)
        if self.path.exists():
            with self._connect() as connection:
                self._bring_up(connection)

    def contracts(self) -> tuple[str, ...]:
        """The job numbers that have a contract or an offer, the one that was touched last first."""
        rows = self._rows("SELECT contract, max(id) AS last FROM event GROUP BY contract ORDER BY last DESC", ())
        return tuple(row[0] for row in rows)

    def events(self, contract: str) -> tuple[Event, ...]:
        """The events of one contract in the order of writing."""
        return tuple(self._event(row) for row in self._rows("SELECT id, contract, day, written, what FROM event WHERE contract = ? ORDER BY id", (contract,)))

    def state(self, contract: str, day: dt.date | None = None) -> ContractState:
        """Where a contract stands at the end of a day, now where none is given."""
        return contract_state(contract, self.events(contract), day)

    def append(self, contract: str, what: Happening, day: dt.date, *, seen: int | None = None) -> ContractState:
        """Write down one event; gives the state after it.

        Parameters
        ----------
        contract
            Job number, matched whole.
        what
            What happened.
        day
            The day for which it holds.
        seen
            Id of the last event of this contract that the writer knew, 0 for none; left out, nothing is compared.

        Raises
        ------
        LedgerError
            If somebody else wrote since, the event can't follow those before it, or the file can't be written. Nothing is written then.
        """
        return self.append_all(contract, ((what, day),), seen=seen)

    def append_all(self, contract: str, happenings: Sequence[tuple[Happening, dt.date]], *, seen: int | None = None) -> ContractState:
        """Write down several events, all of them or none; parameters and errors as `append`."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        with self._connect() as connection:
            self._bring_up(connection)
            connection.execute("BEGIN IMMEDIATE")
            rows = connection.execute("SELECT id, contract, day, written, what FROM event WHERE contract = ? ORDER BY id", (contract,)).fetchall()
            known = [self._event(row) for row in rows]
            _require_seen(contract, known, seen)
            now = dt.datetime.now(dt.UTC)
            for what, day in happenings:
                written = (contract, day.isoformat(), now.isoformat(), happening_to_json(what))
                connection.execute("INSERT INTO event (contract, day, written, what) VALUES (?, ?, ?, ?)", written)
                (number,) = connection.execute("SELECT last_insert_rowid()").fetchone()
                event = Event(number, contract, day, now, what)
                _require_order(contract, known, event)
                known.append(event)
            try:
                state = contract_state(contract, known)  # refuses what can't follow; nothing is kept then
            except LedgerError:
                if undone := [what.event for what, _ in happenings if isinstance(what, Voided)]:
                    raise LedgerError(Fault(contract, _built_on(undone[0], known[: -len(happenings)]))) from None
                raise
            connection.execute("COMMIT")
        return state

    def decisions(self) -> tuple[str, ...]:
        """What people decided about what finished jobs teach, oldest first, as `kit.learning.decisions` wrote it."""
        return tuple(row[0] for row in self._rows("SELECT what FROM decision ORDER BY id", ()))

    def add_decisions(self, decisions: Sequence[str], *, seen: int) -> None:
        """Write down decisions, all of them or none, where the writer knew the first `seen` of them; errors as in `append`."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        with self._connect() as connection:
            self._bring_up(connection)
            connection.execute("BEGIN IMMEDIATE")
            if connection.execute("SELECT count(*) FROM decision").fetchone()[0] != seen:
                raise LedgerError(Fault("", "Somebody else decided in the meantime. Look again at what the jobs teach, then decide.", self.path.name))
            now = dt.datetime.now(dt.UTC).isoformat()
            connection.executemany("INSERT INTO decision (written, what) VALUES (?, ?)", [(now, what) for what in decisions])
            connection.execute("COMMIT")

    def back_up(self, path: Path) -> None:
        """Copy the whole ledger into a new file, as it stands in one moment. Raises LedgerError if there is no ledger, or the file is there already."""
        if not self.path.exists():
            raise LedgerError(Fault("", "There is no ledger yet.", str(self.path)))
        if path.exists():
            raise LedgerError(Fault("", "is already there. Give another name.", str(path)))
        with self._connect() as connection:
            _copy(connection, path)

    def _bring_up(self, connection: sqlite3.Connection) -> None:
        """Bring an older file to this version, after a copy beside it; a new file gets all of it."""
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        mark = connection.execute("PRAGMA application_id").fetchone()[0]
        empty = not connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        if mark != _APPLICATION and not empty:
            raise LedgerError(Fault("", "is not a ledger of this program.", self.path.name))
        if version > len(_SCHEMAS):
            raise LedgerError(Fault("", f"was written by a newer version of this program (ledger {version}, known {len(_SCHEMAS)}).", self.path.name))
        if version == len(_SCHEMAS):
            return
        if not empty:
            _copy(connection, self.path.with_name(f"{self.path.stem}-version-{version}.sqlite"))
        steps = "".join(_SCHEMAS[version:])
        connection.executescript(f"BEGIN EXCLUSIVE; {steps} PRAGMA application_id = {_APPLICATION}; PRAGMA user_version = {len(_SCHEMAS)}; COMMIT;")

    def _rows(self, query: str, values: tuple[str, ...]) -> list[tuple[str, ...]]:
        if not self.path.exists():
            return []
        with self._connect() as connection:
            return connection.execute(query, values).fetchall()

    @contextmanager
    def _connect(self) -> Iterator[sqlite3.Connection]:
        if self.path.exists() and not self.path.is_file():
            raise LedgerError(Fault("", "is a folder, a pipe or a device, not a ledger. Move it away, or restore the newest backup.", self.path.name))
        try:
            with closing(sqlite3.connect(self.path, timeout=MOST_WAIT_S, isolation_level=None)) as connection:
                connection.execute("PRAGMA synchronous = EXTRA")  # a confirmed event outlives a power cut
                yield connection
        except sqlite3.Error as error:
            words = _WORDS.get(getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF, str(error))  # the low byte is the kind of refusal
            raise LedgerError(Fault("", f"can't be read or written: {words}.", self.path.name)) from None
        except UnicodeDecodeError:  # how SQLite's faults reach us where damage lies in the words of the fault
            raise LedgerError(Fault("", "is damaged and can't be read. Restore the newest backup.", self.path.name)) from None

    def _event(self, row: tuple[str, ...]) -> Event:
        number, contract, day, written, what = row
        try:
            return Event(int(number), contract, dt.date.fromisoformat(day), dt.datetime.fromisoformat(written), happening_from_json(what))
        except (TypeError, ValueError, ValidationError):
            raise LedgerError(Fault(f"event {number}", "can't be read.", self.path.name)) from None


def contract_states(folder: Path, day: dt.date | None = None) -> tuple[ContractState, ...]:
    """Where every contract and offer of a folder stands at the end of a day, now where none is given: the one touched last first.

    Raises LedgerError if the ledger can't be read.
    """
    ledger = Ledger(folder)
    states = (ledger.state(number, day) for number in ledger.contracts())
    return tuple(state for state in states if state.last)  # what came later did not stand there on that day


def _copy(connection: sqlite3.Connection, path: Path) -> None:
    with closing(sqlite3.connect(path)) as copy:
        connection.backup(copy)


def _require_seen(contract: str, before: Sequence[Event], seen: int | None) -> None:
    """Somebody who saw less than there is must look again."""
    newer = [] if seen is None else [event for event in before if event.id > seen]
    if newer:
        words = [f"{entry_words(event, before)} ({format_day(event.day)})" for event in newer[-_MOST_SAID:]]
        earlier = len(newer[:-_MOST_SAID])
        more = f"{earlier} earlier; " if earlier else ""
        raise LedgerError(Fault(contract, f"has new entries since you looked: {more}{'; '.join(words)}. Look again, then repeat what you did."))


_OWN_DAY = {"paid", "bought", "ordered", "worked", "note", "voided"}  # may be put down later than they happened: no figure of another event hangs on them


def _built_on(entry: int, events: Sequence[Event]) -> str:
    """Why an entry can't be undone, and with which one to begin: the last that still holds."""
    last = max(standing_events(events), key=lambda event: event.id)
    return f"Entry {entry} can't be undone: later entries build on it. Undo those first, beginning with the last, entry {last.id}: {entry_words(last, events)}."


def _require_order(contract: str, before: Sequence[Event], event: Event) -> None:
    """What freezes figures comes after whatever froze figures before it; a correction not before what it corrects."""
    frozen = [one.day for one in before if one.what.kind not in _OWN_DAY - {"voided"}]  # what was taken back still stood until that day
    if event.what.kind not in _OWN_DAY and frozen and event.day < max(frozen):
        raise LedgerError(
            Fault(contract, f"{format_day(event.day)} is before {format_day(max(frozen))}, the day of the last entry. Give that day or a later one.")
        )
    if isinstance(event.what, Voided):
        target = next((one for one in before if one.id == event.what.event), None)
        if target is None or isinstance(target.what, Voided):
            raise LedgerError(Fault(contract, f"has no entry {event.what.event} that can be undone."))
        if any(isinstance(one.what, Voided) and one.what.event == target.id for one in before):
            raise LedgerError(Fault(contract, f"Entry {target.id} is undone already."))
        if isinstance(target.what, Offered) and target.what.document in {one.what.document for one in standing_events(before) if isinstance(one.what, Signed)}:
            raise LedgerError(Fault(contract, _built_on(target.id, before)))
        if event.day < target.day:
            raise LedgerError(Fault(contract, f"{format_day(event.day)} is before {format_day(target.day)}, the day of the entry to undo."))
