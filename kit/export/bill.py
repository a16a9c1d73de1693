"""A bill as PDF: the contract with its changes, what was billed before, what is due now and by when, what is left and what of it is held back.

Every figure is one that the ledger holds; nothing is worked out here. It holds what the customer pays and nothing of what it is made of: no direct
cost, wage, share or hour.
"""

import datetime as dt
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from kit.contract.events import Billed
from kit.contract.state import BillState, ContractState
from kit.errors import Fault, IssueError, LedgerError
from kit.export.lists_used import currency_in
from kit.export.papers import agreed_words, issued_head
from kit.export.proposal_terms import deposit_words
from kit.export.proposal_words import summary_of
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.job.field_names import lower_first
from kit.money import EXACT, format_money, sum_money
from kit.units import format_long_day

__all__ = ["bill_bytes", "bill_document", "sum_changes"]

_TEMPLATE = "bill.typ"


def bill_bytes(issued: Issued, state: ContractState, number: int) -> bytes:
    """The bill as PDF; parameters and errors as `bill_document`. The same input gives the same bytes."""
    return typeset(_TEMPLATE, bill_document(issued, state, number))


def bill_document(issued: Issued, state: ContractState, number: int) -> dict[str, Any]:
    """Every word and figure of the bill, as the template reads it.

    Parameters
    ----------
    issued
        The estimate that was signed.
    state
        The contract when the bill was written, as `billed_state` gives it.
    number
        Which bill, from 1.

    Raises
    ------
    LedgerError
        If the contract has no such bill.
    """
    if not 1 <= number <= len(state.bills):
        raise LedgerError(Fault(state.number, f"has no bill {number}; it has {len(state.bills)}."))
    one = state.bills[number - 1]
    bill, currency = one.bill, currency_in(issued.lists)
    name, rows = f"{state.number}, bill {number}", list(_rows(state, bill))
    which = next(place for place, (_, _, said) in enumerate(rows, 1) if said == "this bill")

    def money(amount: Decimal) -> str:
        return format_money(amount, currency)

    return {
        **issued_head(issued, one.day, title=f"Bill {name}", document=name, foot=f"{issued.lists.company.name} · Bill {name}"),
        "agreed": agreed_words(issued, state),
        "summary": _summary(issued, state, one.day),
        "lead": f"Due now, payment {which} of {len(rows)}:",
        "label": lower_first(bill.label),
        "due": money(bill.amount),
        "pay-by": f"Please pay by {format_long_day(bill.pay_by)}.",
        "earlier": _earlier(state, one, currency),
        "ahead": _ahead(state, one, currency),
        "how-to-pay": issued.lists.company.how_to_pay,
        "rows": [{"number": str(place), "label": label, "amount": money(amount), "state": said} for place, (label, amount, said) in enumerate(rows, 1)],
        "changes": [{"what": what, "amount": money(amount)} for what, amount in sum_changes(state)],
        "contract": money(bill.contract_sum),
        "working": [{"what": what, "amount": money(amount)} for what, amount in _working(bill)],
        "standing": [{"what": what, "amount": money(amount)} for what, amount in _standing(bill)],
        "note": _note(state, bill, currency),
    }


def _summary(issued: Issued, state: ContractState, day: dt.date) -> str:
    """The work as it was signed, which a later kit bills even where it can't work it out; what change orders signed since say stands in them."""
    try:
        summary = summary_of(issued.estimate)
    except IssueError:
        summary = "The work as in the estimate that was signed."
    numbers = [str(change.order.number) for change in state.changes if change.signed and change.signed <= day]
    if not numbers:
        return summary
    return f"{summary} Change {'orders' if len(numbers) > 1 else 'order'} {' and '.join(numbers)} {'say' if len(numbers) > 1 else 'says'} what changed since."


def _rows(state: ContractState, bill: Billed) -> Iterator[tuple[str, Decimal, str]]:
    """Every payment of the contract: billed ones as they were billed, the others as they are now."""
    numbers = {one.bill.draw: one for one in state.bills}
    for draw in state.draws:
        billed = numbers.get(draw.draw)
        if billed is None:
            if draw.due:
                yield draw.label, draw.due, "not due yet"
        else:
            said = "billed later" if billed.bill.number > bill.number else "billed before" if billed.open else "paid"
            yield draw.label, billed.bill.amount, "this bill" if billed.bill.number == bill.number else said


def sum_changes(state: ContractState) -> list[tuple[str, Decimal]]:
    """How the contract sum came to be: as signed, each signed change, what canceling took off; nothing where it is the one signed."""
    if state.signed is None:
        return []
    orders = [change.order for change in state.changes if change.signed]
    rows = [("Contract as signed", state.signed.contract_sum), *((f"Change order {order.number}", order.amount) for order in orders)]
    if state.canceled:
        before = orders[-1].sum_after if orders else state.signed.contract_sum
        rows.append(("Canceled: not done and not owed", EXACT.subtract(state.contract_sum, before)))
    return rows if len(rows) > 1 else []


def _working(bill: Billed) -> Iterator[tuple[str, Decimal]]:
    """How the amount comes together."""
    if bill.deposit:
        yield "Deposit as agreed, due before work starts", bill.amount
        return
    yield "Work done so far, as agreed", bill.earned
    if bill.held:
        yield "Less held back until the last bill", -bill.held
    yield "Less billed before", -bill.billed_before
    rest = EXACT.subtract(EXACT.subtract(EXACT.subtract(bill.earned, bill.held), bill.billed_before), bill.amount)
    if rest:
        yield "Less what a later bill asks for" if rest > 0 else "Plus paid ahead, as agreed", -rest


def _standing(bill: Billed) -> Iterator[tuple[str, Decimal]]:
    """Where the contract stands after this bill."""
    balance = EXACT.subtract(EXACT.subtract(bill.contract_sum, bill.billed_before), bill.amount)
    yield "Contract sum", bill.contract_sum
    yield "Billed before", bill.billed_before
    yield "Due now", bill.amount
    yield "Left to bill after this one", balance
    if bill.held and balance:
        yield "of which held back until the last bill", min(bill.held, balance)


def _earlier(state: ContractState, one: BillState, currency: str) -> str:
    """Which bills before this one are not paid, and what is due with them; "" where all are."""
    late = [earlier for earlier in state.bills if earlier.bill.number < one.bill.number and earlier.open]
    if not late:
        return ""
    bills = "; ".join(f"bill {was.bill.number}, {format_money(was.open, currency)}, due {format_long_day(was.bill.pay_by)}" for was in late)
    whole = sum_money([was.open for was in (*late, one)])
    return f"Not paid yet: {bills}. With this bill {format_money(whole, currency)} is due in all."


def _ahead(state: ContractState, one: BillState, currency: str) -> str:
    """What was paid before this bill and counts toward it, and what of it is left over."""
    words = []
    if one.paid:
        words.append(f"You have paid {format_money(one.paid, currency)} of this bill already: {format_money(one.open, currency)} is left to pay.")
    if state.refund_due:
        words.append(f"Beyond what is billed you have paid {format_money(state.refund_due, currency)}.")
    return " ".join(words)


def _note(state: ContractState, bill: Billed, currency: str) -> str:
    tax = f"Sales tax of {format_money(bill.tax, currency)} is in this bill." if bill.tax else "No sales tax is in this bill."
    deposit = f" The deposit is part of the contract sum. {deposit_words(state.signed.deposit_earned)}" if bill.deposit and state.signed else ""
    more = "Extra work is billed by change orders that both of us have signed."
    return f"{tax}{deposit} {'The contract is canceled: nothing more is done under it.' if state.canceled else more}"
