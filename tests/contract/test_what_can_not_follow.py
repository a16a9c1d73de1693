"""What can't follow the events of a contract is refused in words, and nothing of it is written."""

import datetime as dt
from decimal import Decimal
from pathlib import Path

import pytest
from contract_walks import promise

from kit.contract.bills import next_bill
from kit.contract.events import Canceled, ChangeSigned, Closed, Credited, Happening, Paid, Refunded
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of, signature_of
from kit.contract.state import ContractState
from kit.errors import LedgerError

DAY, CENT, NOTHING = dt.date(2026, 3, 9), Decimal("0.01"), Decimal("0.00")


@pytest.fixture
def ledger(tmp_path: Path) -> Ledger:
    """One signed contract; its deposit is billed."""
    made, issued = Ledger(tmp_path), promise("stone_apron_single_bowl")
    made.append_all(issued.number, [(offer_of(issued), DAY), (signature_of(issued), DAY)])
    made.append(issued.number, next_bill(made.state(issued.number), DAY, 10), DAY)
    return made


def what_fails(state: ContractState) -> dict[str, Happening]:
    """What can't be written now, under the words with which it is refused."""
    bill, whole = next_bill(state, DAY, 10), state.contract_sum
    canceling = Canceled(owed=NOTHING, tax=NOTHING, sum_before=whole, billed=state.billed, draws=(), reason="wish")
    return {
        "gets bill 2 next, not bill 4": bill.model_copy(update={"number": 4}),
        r"Bill 2 is not the next one: .* Write it again": bill.model_copy(update={"amount": bill.amount + CENT}),
        "Bill 2 earns more of the deposit than there is": bill.model_copy(update={"deposit": False, "deposit_earned": state.billed + CENT}),
        "gets credit note 1 next, not credit note 2": Credited(number=2, amount=CENT, tax=NOTHING, of_deposit=NOTHING, reason="x"),
        r"owes a credit of \$0\.00, not of \$0\.01": Credited(number=1, amount=CENT, tax=NOTHING, of_deposit=NOTHING, reason="x"),
        r"has \$0\.00 that was paid beyond what is billed; \$0\.01 can't go back": Refunded(amount=CENT),
        "can't be owed for a part of it": canceling.model_copy(update={"owed": whole + CENT}),
        "differs from the one it was canceled with": canceling.model_copy(update={"sum_before": whole + CENT}),
        "left to bill. Bill it, take it out": Closed(reason="done", deposit_earned=NOTHING, tax=NOTHING, after_canceling=False),
        "has no change order 7": ChangeSigned(number=7),
    }


def test_each_is_refused_and_nothing_is_written(ledger: Ledger) -> None:
    before = ledger.events("DEMO-001")
    for words, what in what_fails(ledger.state("DEMO-001")).items():
        with pytest.raises(LedgerError, match=words):
            ledger.append("DEMO-001", what, DAY)
    assert ledger.events("DEMO-001") == before


def test_what_is_owed_beyond_what_was_billed_is_given_back_no_deeper_than_the_deposit(ledger: Ledger) -> None:
    """Canceled for less than was billed, all paid: the credit is owed, and its part of the deposit is the deposit at most."""
    state = ledger.state("DEMO-001")
    ledger.append("DEMO-001", Paid(amount=state.billed), DAY)
    draws = tuple(draw.model_copy(update={"due": bill.bill.amount}) for draw, bill in zip(state.draws, state.bills, strict=False))
    canceled = Canceled(owed=NOTHING, tax=NOTHING, sum_before=state.contract_sum, billed=state.billed, draws=draws, reason="wish")
    ledger.append("DEMO-001", canceled, DAY)
    credit = Credited(number=1, amount=state.billed, tax=NOTHING, of_deposit=state.billed + CENT, reason="wish")
    with pytest.raises(LedgerError, match="gives back more of the deposit than there is"):
        ledger.append("DEMO-001", credit, DAY)
    with pytest.raises(LedgerError, match="owes the customer a credit of"):
        ledger.append("DEMO-001", Closed(reason="canceled", deposit_earned=NOTHING, tax=NOTHING, after_canceling=True), DAY)


def test_money_before_the_signature_is_refused(tmp_path: Path) -> None:
    made, issued = Ledger(tmp_path), promise("stone_apron_single_bowl")
    made.append(issued.number, offer_of(issued), DAY)
    with pytest.raises(LedgerError, match="First record that the customer signed"):
        made.append(issued.number, Paid(amount=CENT), DAY)
