"""A contract as commands and screens work on it: an issued estimate in a folder, signed, billed, paid, ended; the list of contracts and what comes next."""

import datetime as dt
import re
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest

import kit
from kit.contract.backup import back_up_folder
from kit.contract.contract_file import (
    ContractFile,
    bill_contract,
    billed_state,
    cancel_contract,
    current_promise,
    offer_contract,
    open_contract,
    record_end,
    record_payment,
    sign_contract,
    take_back,
)
from kit.contract.contract_rows import list_contracts
from kit.contract.event_words import event_words
from kit.contract.ledger import LEDGER_FILE, Ledger, contract_states
from kit.contract.next_step import next_step
from kit.contract.spending import one_spent, record_spending
from kit.errors import KitError, LedgerError
from kit.issued import issue_estimate, open_issued
from kit.job import change_job
from kit.money import format_money

ISSUED, DAY, LATER = dt.date(2026, 3, 4), dt.date(2026, 3, 9), dt.date(2026, 3, 12)
JOB = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
LISTS = kit.load_lists(kit.shipped("price_lists"))
NUMBER = "DEMO-001"
CENT, NOTHING = Decimal("0.01"), Decimal("0.00")


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The example's first revision, issued once."""
    return issue_estimate(kit.estimate(JOB, LISTS), tmp_path_factory.mktemp("once"), today=ISSUED).read_bytes()


@pytest.fixture
def path(tmp_path: Path, document: bytes) -> Path:
    """It in a folder of its own."""
    (tmp_path / f"{NUMBER}-r01.json").write_bytes(document)
    return tmp_path / f"{NUMBER}-r01.json"


@pytest.fixture
def signed(path: Path) -> ContractFile:
    return sign_contract(open_contract(path), DAY, None)


def test_a_contract_goes_from_its_offer_to_its_end(path: Path) -> None:
    """What is to do next follows from what was written; every payment is billed, every bill paid, and then it is closed."""
    contract = open_contract(path)
    assert (contract.state.revision, current_promise(contract, contract.state)) == (0, contract.issued)
    contract = offer_contract(contract)
    assert offer_contract(contract).state.last == contract.state.last == 1  # offered once
    steps = [next_step(contract.state)]
    contract = sign_contract(contract, DAY, None)
    while contract.state.left:
        steps.append(next_step(contract.state))
        contract = bill_contract(contract, DAY, credit=None)
        steps.append(next_step(contract.state))
        contract = record_payment(contract, f"{contract.state.receivable} USD", DAY, how="check", back=False)
    steps.append(next_step(contract.state))
    contract = record_end(contract, "done", LATER)
    bills = len(contract.issued.figures.payments.draws)
    assert steps == ["sign", *["bill", "collect"] * bills, "close"]
    assert (next_step(contract.state), contract.state.stage) == ("nothing", "closed")
    assert contract.state.received == contract.state.billed == contract.issued.price
    assert open_contract(path).state == contract.state


def test_a_payment_entered_by_mistake_is_taken_back_and_one_too_large_goes_back(signed: ContractFile) -> None:
    """The bill is open again; what is paid beyond it is owed to the customer, and no cent more of it can go back."""
    contract = bill_contract(signed, DAY, credit=None)
    due = contract.state.receivable
    paid = record_payment(contract, f"{due} USD", DAY, how="check", back=False)
    again = take_back(paid, paid.state.last, "another customer's check", LATER)
    assert (paid.state.receivable, again.state.receivable) == (NOTHING, due)
    with pytest.raises(LedgerError, match=re.escape(f"has {format_money(due)} billed and unpaid: {format_money(due + 5)} is $5.00 more. Check the amount.")):
        record_payment(again, f"{due + 5} USD", LATER, how="check", back=False)
    over = record_payment(again, f"{due + 5} USD", LATER, how="check", back=False, overpaid=True)
    assert over.state.refund_due == 5
    with pytest.raises(LedgerError, match=r"has \$5\.00 that was paid beyond what is billed; \$5\.01 can't go back"):
        record_payment(over, "5.01 USD", LATER, how="check", back=True)
    assert record_payment(over, "5.00 USD", LATER, how="check", back=True).state.receivable == NOTHING


def test_a_contract_with_money_unpaid_is_closed_only_with_the_reason_why(signed: ContractFile) -> None:
    """Refused in words, as is a reason that is none; then amount and reason stand in the ledger, and the payment may still come in."""
    contract = bill_contract(cancel_contract(signed, "100 USD", "the customer moved", DAY), DAY, credit=None)
    with pytest.raises(LedgerError, match=r"has \$100\.00 billed and unpaid\. Record the payment first, or close it with --unpaid"):
        record_end(contract, "settled", LATER)
    with pytest.raises(LedgerError, match=r'has \$100\.00 billed and unpaid\. "Done\." is no reason why'):
        record_end(contract, "Done.", LATER, unpaid=True)
    closed = record_end(contract, "written off", LATER, unpaid=True)
    assert event_words(closed.ledger.events(closed.state.number)[-1].what) == "contract closed with $100.00 unpaid: written off"
    assert record_payment(closed, "100 USD", LATER, how="", back=False).state.left_to_pay == NOTHING


def test_a_canceled_contract_bills_the_work_done_and_pays_back_the_rest(signed: ContractFile) -> None:
    """Nothing was done: the deposit is credited, paid back, and the contract closes. What follows is what `next_step` says."""
    with pytest.raises(LedgerError, match="needs a reason to be canceled"):
        cancel_contract(signed, "0 USD", "  ", DAY)
    contract = bill_contract(signed, DAY, credit=None)
    deposit = contract.state.billed
    contract = record_payment(contract, f"{deposit} USD", DAY, how="", back=False)
    contract = cancel_contract(contract, "0 USD", "the house was sold", LATER)
    assert (next_step(contract.state), contract.state.credit_due) == ("credit", deposit)
    with pytest.raises(LedgerError, match=r"was canceled on Thu, Mar 12, 2026 \(the house was sold\): nothing in it can change"):
        cancel_contract(contract, "0 USD", "again", LATER)
    contract = bill_contract(contract, LATER, credit="the house was sold")
    assert (next_step(contract.state), contract.state.refund_due) == ("refund", deposit)
    contract = record_payment(contract, f"{deposit} USD", LATER, how="", back=True)
    assert next_step(contract.state) == "close"
    with pytest.raises(LedgerError, match=r'was canceled: it did not end as "Done\."\. Say how it was settled'):
        record_end(contract, "Done.", LATER)
    assert record_end(contract, "settled, nothing owed", LATER).state.received == NOTHING


def test_an_offer_that_nobody_signed_needs_no_canceling(path: Path) -> None:
    with pytest.raises(LedgerError, match="is not signed: an unsigned offer needs no canceling"):
        cancel_contract(offer_contract(open_contract(path)), "0 USD", "no answer", DAY)


def test_a_bill_is_overdue_from_the_day_after_its_last_one(signed: ContractFile) -> None:
    """On the day by which it is to be paid it may still come; what is paid never is overdue."""
    billed = bill_contract(signed, DAY, credit=None)
    (bill,) = billed.state.bills
    last = bill.bill.pay_by
    assert [len(billed.state.overdue(last + dt.timedelta(days=days))) for days in (0, 1)] == [0, 1]
    nearly = record_payment(billed, f"{bill.open - CENT} USD", DAY, how="", back=False)
    assert len(nearly.state.overdue(last + dt.timedelta(days=1))) == 1
    paid = record_payment(nearly, "0.01 USD", DAY, how="", back=False)
    assert paid.state.overdue(last + dt.timedelta(days=1)) == ()


def test_a_bill_made_again_is_that_of_its_day(signed: ContractFile) -> None:
    """Nothing written after it is in its state; a bill that there is none of is refused."""
    billed = bill_contract(signed, DAY, credit=None)
    after = record_payment(billed, "10 USD", LATER, how="", back=False)
    events = after.ledger.events(NUMBER)
    assert billed_state(NUMBER, events, 1) == billed.state != after.state
    with pytest.raises(LedgerError, match="has no bill 2"):
        billed_state(NUMBER, events, 2)


def test_the_signed_revision_is_opened_whichever_is_asked_for(path: Path) -> None:
    """Of two revisions the one signed counts, and no offer is written after the signature."""
    second = issue_estimate(kit.estimate(change_job(JOB, {"sink.weight": "140 lb"}), LISTS), path.parent, today=ISSUED)
    signed = sign_contract(open_contract(second), DAY, None)
    asked = open_contract(path)
    assert (asked.issued.revision, asked.issued.sha256) == (2, signed.issued.sha256)
    assert offer_contract(asked).state == signed.state
    assert current_promise(asked, asked.state).price == signed.state.contract_sum != open_issued(path).price


def test_a_document_that_is_not_the_one_signed_is_refused(signed: ContractFile, path: Path) -> None:
    """Another estimate under its name, sealed as soundly: its fingerprint is another."""
    other = path.parent / "other"
    other.mkdir()
    made = issue_estimate(kit.estimate(change_job(JOB, {"sink.weight": "140 lb"}), LISTS), other, today=ISSUED)
    path.write_bytes(made.read_bytes())
    with pytest.raises(LedgerError, match="is not the document that was signed: its fingerprint is another"):
        open_contract(path)


def test_contracts_with_something_due_come_first(path: Path) -> None:
    """By the first day to pay, then the one that was touched last; an offer has its price and nothing due."""
    names = ("DEMO-A", "DEMO-B", "DEMO-C")
    for name in names:
        job = change_job(JOB, {"identity.job_number": name, "identity.customer": f"Customer of {name} (invented)"})
        contract = offer_contract(open_contract(issue_estimate(kit.estimate(job, LISTS), path.parent, today=ISSUED)))
        if name != "DEMO-C":
            bill_contract(sign_contract(contract, DAY, None), LATER if name == "DEMO-A" else DAY, credit=None)
    rows = list_contracts(path.parent)
    hand_days = [DAY + dt.timedelta(days=10), LATER + dt.timedelta(days=10), None]  # ten days to pay, in the kit's company file
    assert [(row.state.number, row.pay_by) for row in rows] == list(zip(("DEMO-B", "DEMO-A", "DEMO-C"), hand_days, strict=True))
    assert [row.due == row.state.billed > 0 for row in rows] == [True, True, False]
    assert {(row.customer, row.price, row.file) for row in rows} == {
        (f"Customer of {name} (invented)", contract.issued.price, f"{name}-r01.json") for name in names
    }
    (path.parent / "DEMO-B-r01.json").write_text("damaged", encoding="utf-8")
    assert next(iter(list_contracts(path.parent))).customer == ""
    known = {row.state.document: row.customer for row in rows}
    assert [row.customer for row in list_contracts(path.parent, known)] == [row.customer for row in rows]


def test_a_contract_of_later_does_not_stand_there_before(signed: ContractFile) -> None:
    """The offer of the day of issue, the signature of its own day."""
    stages = [[state.stage for state in contract_states(signed.folder, day)] for day in (ISSUED - dt.timedelta(days=1), ISSUED, DAY)]
    assert stages == [[], ["offered"], ["signed"]]


def test_one_amount_is_read_like_a_row_of_a_table(signed: ContractFile) -> None:
    """Below 0 it is a credit of the supplier; faults name the column and no row."""
    cells = {"cost_code": "310", "cost_type": "material", "text": "screws", "hours": None}
    bought = one_spent(signed, "120.50 USD", LATER, cells)
    back = one_spent(signed, "-20.50 USD", LATER, cells)
    after, notes = record_spending(record_spending(signed, bought, LATER)[0], back, LATER)
    assert (notes.sentences, after.state.spent) == ((), Decimal("100.00"))
    with pytest.raises(KitError, match=r'amount: "120\.50" has no currency'):
        one_spent(signed, "120.50", LATER, cells)
    with pytest.raises(KitError, match=r"^cost_code: ") as refused:
        one_spent(signed, "120.50 USD", LATER, {**cells, "cost_code": "999"})
    assert "row 2" not in str(refused.value)


def test_decisions_are_added_by_whoever_saw_them_all(signed: ContractFile) -> None:
    """In their order; who saw fewer must look again, and nothing of his is kept."""
    ledger = signed.ledger
    ledger.add_decisions(["first", "second"], seen=0)
    with pytest.raises(LedgerError, match="Somebody else decided in the meantime"):
        ledger.add_decisions(["third"], seen=1)
    ledger.add_decisions(["third"], seen=2)
    assert Ledger(signed.folder).decisions() == ("first", "second", "third")


def test_no_event_is_taken_back_twice_or_before_its_day(signed: ContractFile) -> None:
    with pytest.raises(LedgerError, match=r"has no bill that is unpaid, and \$10\.00 would be paid beyond what is billed"):
        record_payment(signed, "10 USD", LATER, how="", back=False)
    paid = record_payment(signed, "10 USD", LATER, how="", back=False, overpaid=True)
    event = paid.state.last
    with pytest.raises(LedgerError, match=r"Mon, Mar 9, 2026 is before Thu, Mar 12, 2026, the day of the entry to undo"):
        take_back(paid, event, "a slip", DAY)
    again = take_back(paid, event, "a slip", LATER)
    with pytest.raises(LedgerError, match=f"Entry {event} is undone already"):
        take_back(again, event, "a slip", LATER)


def test_a_folder_is_packed_whole_and_never_over_a_file(signed: ContractFile, path: Path) -> None:
    """Ledger, promise and what else lies there, hidden files not; the ledger in it reads the same."""
    folder, packed = path.parent, path.parent.parent / "jobs.zip"
    (folder / "notes").mkdir()
    (folder / "notes" / "floor.txt").write_text("out of level", encoding="utf-8")
    (folder / ".unsaved.toml").write_text("", encoding="utf-8")
    assert back_up_folder(folder, packed) == 3
    with zipfile.ZipFile(packed) as archive:
        assert sorted(archive.namelist()) == sorted([LEDGER_FILE, path.name, "notes/floor.txt"])
        archive.extractall(folder / "restored")
    assert Ledger(folder / "restored").events(NUMBER) == signed.ledger.events(NUMBER)
    before = packed.read_bytes()
    with pytest.raises(LedgerError, match="is already there"):
        back_up_folder(folder, packed)
    assert packed.read_bytes() == before
    with pytest.raises(LedgerError, match="is not a folder of jobs"):
        back_up_folder(path, packed)
    with pytest.raises(LedgerError, match="There is no ledger yet"):
        Ledger(folder / "notes").back_up(folder / "copy.sqlite")
