"""The ledger's file: only ever added to, never half written, never from two at once unseen."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest
from contract_walks import promise

from kit.contract import file_system, ledger
from kit.contract.bills import next_bill
from kit.contract.events import Paid, Voided
from kit.contract.ledger import LEDGER_FILE, Ledger
from kit.contract.signing import offer_of, signature_of
from kit.errors import LedgerError

DAY = dt.date(2026, 3, 9)


@pytest.fixture
def signed(tmp_path: Path) -> Ledger:
    """A ledger with one signed contract."""
    made, issued = Ledger(tmp_path), promise("stone_apron_single_bowl")
    made.append(issued.number, offer_of(issued), DAY)
    made.append(issued.number, signature_of(issued), DAY)
    return made


def test_a_folder_without_contracts_has_no_file(tmp_path):
    """Looking writes nothing."""
    assert Ledger(tmp_path).contracts() == ()
    nothing = Ledger(tmp_path).state("DEMO-001")
    assert (nothing.stage, nothing.revision) == ("offered", 0)
    assert list(tmp_path.iterdir()) == []


def test_what_is_written_is_there_for_the_next_reader(signed, tmp_path):
    """Another ledger on the same folder reads the same state; a job number is matched whole."""
    state = signed.append("DEMO-001", next_bill(signed.state("DEMO-001"), DAY, 10), DAY)
    assert Ledger(tmp_path).state("DEMO-001") == state
    assert Ledger(tmp_path).contracts() == ("DEMO-001",)
    assert Ledger(tmp_path).events("DEMO-00") == ()


def test_the_file_says_whose_it_is(signed):
    """Bytes 68 to 71 of an SQLite file are the application's own mark (sqlite.org, Database File Format); files of today must open with every later version."""
    assert signed.path.read_bytes()[68:72] == b"SKL1"


def test_rows_can_be_neither_changed_nor_deleted(signed):
    """The file itself refuses, whoever writes."""
    connection = sqlite3.connect(signed.path)
    with pytest.raises(sqlite3.IntegrityError, match="an event is never edited"):
        connection.execute("UPDATE event SET day = '2000-01-01'")
    with pytest.raises(sqlite3.IntegrityError, match="an event is never deleted"):
        connection.execute("DELETE FROM event")
    connection.close()


def test_the_second_of_two_writers_is_told_what_changed(signed):
    """Both saw the same; one bills; the other must look again, and nothing of his is written."""
    seen = signed.state("DEMO-001").last
    signed.append("DEMO-001", next_bill(signed.state("DEMO-001"), DAY, 10), DAY, seen=seen)
    with pytest.raises(
        LedgerError, match=r"has new entries since you looked: bill 1: Deposit at signing, .*, pay by Thu, Mar 19, 2026 \(Mon, Mar 9, 2026\)\. Look again"
    ):
        signed.append("DEMO-001", Paid(amount="919.70"), DAY, seen=seen)
    assert signed.state("DEMO-001").received == 0


def test_of_many_new_entries_the_last_five_are_said(signed):
    """A bill and four payments are told; of a bill and six payments two are counted and five told."""
    seen = signed.state("DEMO-001").last
    signed.append("DEMO-001", next_bill(signed.state("DEMO-001"), DAY, 10), DAY)
    for _ in range(4):
        signed.append("DEMO-001", Paid(amount="10.00"), DAY)
    with pytest.raises(LedgerError, match=r"since you looked: bill 1: ([^;]+; ){4}[^;]+\. Look again"):
        signed.append("DEMO-001", Paid(amount="10.00"), DAY, seen=seen)
    for _ in range(2):
        signed.append("DEMO-001", Paid(amount="10.00"), DAY)
    with pytest.raises(LedgerError, match=r"since you looked: 2 earlier; ([^;]+; ){4}[^;]+\. Look again"):
        signed.append("DEMO-001", Paid(amount="10.00"), DAY, seen=seen)


def test_what_can_not_follow_is_refused_and_not_written(signed):
    """A second signature, a bill out of turn, a day before the last bill."""
    issued = promise("stone_apron_single_bowl")
    bill = next_bill(signed.state("DEMO-001"), DAY, 10)
    for what, day, said in (
        (signature_of(issued), DAY, "was signed on Mon, Mar 9, 2026"),
        (bill.model_copy(update={"number": 2}), DAY, "gets bill 1 next, not bill 2"),
        (bill.model_copy(update={"amount": bill.amount + 1}), DAY, "Bill 1 is not the next one"),
        (bill, DAY - dt.timedelta(days=1), "Sun, Mar 8, 2026 is before Mon, Mar 9, 2026"),
        (Voided(event=7, reason="a slip"), DAY, "has no entry 7"),
    ):
        with pytest.raises(LedgerError, match=said):
            signed.append("DEMO-001", what, day)
    assert len(signed.events("DEMO-001")) == 2


def test_a_slip_is_taken_back_from_its_own_day_on(signed):
    """The payment stays to be read; the day before the correction still shows it."""
    paid = signed.append("DEMO-001", Paid(amount="919.70"), DAY)
    signed.append("DEMO-001", Voided(event=paid.last, reason="another customer's check"), DAY + dt.timedelta(days=3))
    assert signed.state("DEMO-001").received == 0
    assert f"{signed.state('DEMO-001', DAY + dt.timedelta(days=2)).received}" == "919.70"
    assert [event.what.kind for event in signed.events("DEMO-001")] == ["offered", "signed", "paid", "voided"]


def test_what_others_hang_on_can_not_be_taken_back(signed):
    """A bill before another bill stays."""
    first = signed.append("DEMO-001", next_bill(signed.state("DEMO-001"), DAY, 10), DAY)
    signed.append("DEMO-001", next_bill(first, DAY, 10), DAY)
    with pytest.raises(LedgerError, match=r"Entry 3 can't be undone: later entries build on it\. Undo those first, beginning with the last, entry 4: bill 2"):
        signed.append("DEMO-001", Voided(event=first.last, reason="a slip"), DAY)


def test_a_file_of_others_or_of_a_newer_version_is_refused(tmp_path):
    """In words, and left as it is."""
    other = sqlite3.connect(tmp_path / LEDGER_FILE)
    other.execute("CREATE TABLE mine (a)")
    other.commit()
    with pytest.raises(LedgerError, match="is not a ledger of this program"):
        Ledger(tmp_path)
    other.execute("DROP TABLE mine")
    other.execute("PRAGMA user_version = 99")
    other.commit()
    other.close()
    with pytest.raises(LedgerError, match="was written by a newer version"):
        Ledger(tmp_path)
    (tmp_path / LEDGER_FILE).write_bytes(b"no database at all, only words" * 40)
    with pytest.raises(LedgerError, match="can't be read or written: it is damaged"):
        Ledger(tmp_path)


def test_a_newer_version_brings_the_file_up_after_a_copy(signed, tmp_path, monkeypatch):
    """The old one stays beside it; the events are the same."""
    before = signed.events("DEMO-001")
    monkeypatch.setattr(ledger, "_SCHEMAS", (*ledger._SCHEMAS, "ALTER TABLE event ADD COLUMN who TEXT;"))
    assert Ledger(tmp_path).events("DEMO-001") == before
    assert (tmp_path / f"contracts-version-{len(ledger._SCHEMAS) - 1}.sqlite").exists()
    monkeypatch.undo()
    with pytest.raises(LedgerError, match="was written by a newer version"):
        Ledger(tmp_path)


def test_a_backup_holds_all_and_is_never_written_over(signed, tmp_path):
    """A copy in a folder of its own reads the same."""
    copy = tmp_path / "copy"
    copy.mkdir()
    signed.back_up(copy / LEDGER_FILE)
    assert Ledger(copy).events("DEMO-001") == signed.events("DEMO-001")
    with pytest.raises(LedgerError, match="is already there"):
        signed.back_up(copy / LEDGER_FILE)


def test_a_network_drive_is_refused_in_words(tmp_path, monkeypatch):
    """By the kind of file system that the system tells."""
    mounts = tmp_path / "mounts"
    mounts.write_text(f"disk / ext4 rw 0 0\nserver:/jobs {tmp_path} nfs4 rw 0 0\n", encoding="utf-8")
    monkeypatch.setattr(file_system, "_MOUNTS", mounts)
    with pytest.raises(LedgerError, match=r"would lie on a network drive \(nfs4\)"):
        Ledger(tmp_path)


def test_an_odd_name_among_the_mounts_stops_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A name may hold what ends a line elsewhere (U+2028): the rest of its line is passed over."""
    mounts = tmp_path / "mounts"
    mounts.write_text("disk /media/our\u2028photos ext4 rw 0 0\ndisk / ext4 rw 0 0\n", encoding="utf-8")
    monkeypatch.setattr(file_system, "_MOUNTS", mounts)
    assert Ledger(tmp_path).contracts() == ()


def test_a_damaged_file_is_refused_in_words(signed: Ledger) -> None:
    """Also where the damage lies in what SQLite quotes in its own fault, which Python then can't decode."""
    signed.path.write_bytes(signed.path.read_bytes().replace(b"CREATE TABLE event", b"CREATE TABL\xc7 event"))
    with pytest.raises(LedgerError, match=r"is damaged and can't be read\. Restore the newest backup"):
        signed.contracts()
