"""What holds for every contract, whatever happens to it and in whatever order: to the cent, in the ledger and on its papers."""

from decimal import Decimal

import pytest
from contract_walks import issued_of, walk

from kit.contract.contract_file import billed_state
from kit.contract.following import contract_state
from kit.export.bill import bill_document
from kit.money import format_money

ZERO = Decimal("0.00")


def check_walk(seed: int) -> int:
    """Every state of one walk; gives how many events it had."""
    bills, papers, states = {}, {}, []
    events, before = (), None
    for events, state in walk(seed):
        what = events[-1].what
        states.append((events[-1].day, state))
        if state.signed is not None:
            check_sums(state)
            check_step(before, what, state)
            check_bills(events, state, bills)
        if what.kind == "billed":
            asked = what.held + what.billed_before + what.amount
            assert what.deposit or ((asked <= what.earned if state.left else asked == what.earned) and what.earned <= what.contract_sum)
            papers[what.number] = check_paper(state, what)
        before = state
    for day, _ in states:
        last_of_day = [state for at, state in states if at == day][-1]
        assert contract_state(events[0].contract, events, day) == last_of_day
    for one in states[-1][1].bills:  # a paper made again is that of its day, whatever came since
        assert bill_document(issued_of(state), billed_state(state.number, events, one.bill.number), one.bill.number) == papers[one.bill.number]
    return len(events)


def check_sums(state) -> None:
    """Billed + held back + not yet billed = contract sum; nothing of it below 0; once closed nothing is left."""
    assert state.billed + state.held + state.not_billed - state.credit_due == state.contract_sum
    assert state.billed + sum((draw.due for draw in state.left), ZERO) == state.contract_sum + state.credit_due
    assert min(state.held, state.not_billed, state.deposits, state.credit_due) >= ZERO
    assert state.receivable == state.billed - state.received
    assert sum((one.paid for one in state.bills), ZERO) <= state.received + state.credited
    if state.stage == "closed":
        assert state.deposits == state.held == ZERO
        assert not state.left


def check_step(before, what, state) -> None:
    """Signing moves no cash; a cut beyond what was left is owed as a credit, and a credit note settles it."""
    if what.kind in {"signed", "change", "change-signed", "note", "offered"}:
        assert (state.received, state.billed, state.deposits) == (before.received, before.billed, before.deposits)
    if what.kind == "change-signed":
        assert state.credit_due == max(state.billed - state.contract_sum, ZERO)
        assert state.draws == state.changes[what.number - 1].order.draws  # as its paper said
    if what.kind == "canceled":
        assert (state.received, state.billed, state.deposits) == (before.received, before.billed, before.deposits)
        assert (state.contract_sum, state.credit_due) == (what.owed, max(state.billed - what.owed, ZERO))
        assert [draw for draw in state.draws if draw not in state.left] == [draw for draw in before.draws if draw not in before.left and draw.due]
    if what.kind == "credited":
        assert (what.amount, state.credit_due) == (before.credit_due, ZERO)
    if what.kind == "closed":
        assert state.tax_billed + what.tax == state.tax


def check_bills(events, state, bills) -> None:
    """A bill never changes."""
    taken_back = {event.what.event for event in events if event.what.kind == "voided"}
    for event in events:
        if event.what.kind == "billed" and event.id not in taken_back:
            assert bills.setdefault(event.id, event.what) in [one.bill for one in state.bills]


def check_paper(state, bill):
    """The paper of a bill says what the ledger holds on its day: what is due, every payment, how it comes together."""
    paper = bill_document(issued_of(state), state, bill.number)
    assert paper["due"] == format_money(bill.amount)
    assert paper["contract"] == format_money(state.contract_sum)
    payments = sum((amount_of(row["amount"]) for row in paper["rows"]), ZERO)
    assert payments == state.contract_sum + state.credit_due + state.credited
    assert sum((amount_of(row["amount"]) for row in paper["working"]), ZERO) == bill.amount
    standing = {row["what"]: amount_of(row["amount"]) for row in paper["standing"]}
    assert standing["Left to bill after this one"] == state.contract_sum - state.billed
    return paper


def amount_of(text: str) -> Decimal:
    return Decimal(text.replace("$", "").replace(",", ""))


@pytest.mark.parametrize("seed", range(40))
def test_every_state_of_a_contract_adds_up(seed):
    """Sums, steps, bills and papers; a later day never moves an earlier one."""
    assert check_walk(seed) >= 2


@pytest.mark.long
def test_every_state_of_a_thousand_contracts_adds_up():
    """The same of a thousand."""
    assert sum(check_walk(seed) for seed in range(1000)) > 8000
