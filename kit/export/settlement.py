"""A credit note, and the paper that ends a canceled or an overpaid contract, as PDF: what is owed, what was billed and paid, and who pays whom.

Every figure is one that the ledger holds, or the difference of two of them. Like the bill, they hold nothing of what the price is made of.
"""

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from kit.contract.events import Canceled, Closed, Credited
from kit.contract.state import ContractState
from kit.export.bill import sum_changes
from kit.export.lists_used import currency_in
from kit.export.papers import agreed_words, issued_head
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.money import EXACT, format_money, sum_money
from kit.units import format_long_day

__all__ = ["settlement_bytes", "settlement_document"]

_TEMPLATE = "settlement.typ"
_LAW = "State law may say when a contract can be canceled, what may be kept of a deposit and how soon money goes back. Where it does, the law comes first."


def settlement_bytes(issued: Issued, state: ContractState, what: Credited | Canceled | Closed, day: dt.date) -> bytes:
    """The paper as PDF; parameters as in `settlement_document`. The same input gives the same bytes."""
    return typeset(_TEMPLATE, settlement_document(issued, state, what, day))


def settlement_document(issued: Issued, state: ContractState, what: Credited | Canceled | Closed, day: dt.date) -> dict[str, Any]:
    """Every word and figure of the paper, as the template reads it.

    Parameters
    ----------
    issued
        The estimate that was signed.
    state
        The contract as it stood when this was written down, with it.
    what
        The credit note, the canceling, or the end of a contract that was paid beyond its bills.
    day
        The day for which it was written down.
    """
    if isinstance(what, Closed):
        said = _closed(issued, state)
    else:
        said = _credit(issued, state, what, day) if isinstance(what, Credited) else _canceled(issued, state, what, day)
    name = f"{state.number}, {said['name']}"
    return {
        **issued_head(issued, day, title=name, document=name, foot=f"{issued.lists.company.name} · {name}"),
        "agreed": agreed_words(issued, state),
        "reason": f"{'How the contract ended' if isinstance(what, Closed) else 'Why'}: {what.reason}",
        **said,
    }


def _credit(issued: Issued, state: ContractState, what: Credited, day: dt.date) -> dict[str, Any]:
    currency, billed = currency_in(issued.lists), EXACT.add(state.billed, what.amount)
    rows = [("Billed to date", billed), ("Less the contract sum, as it is now", -state.contract_sum)]
    if state.credit_due:
        rows.append(("Less what is still to be credited", -state.credit_due))
    return {
        "heading": "Credit note",
        "name": f"credit note {what.number}",
        "lead": "Credit to you",
        "amount": format_money(what.amount, currency),
        "tables": [*_sum_tables(state, currency), _table("How we figured this credit", rows, ("This credit", what.amount), currency), _money(state, currency)],
        "next": [_balance_words(state, currency), *_pay_words(issued, state, state.receivable, day), *([_LAW] if state.canceled else [])],
        "note": _tax_words("credit", what.tax, currency),
        "agree": "",
    }


def _canceled(issued: Issued, state: ContractState, what: Canceled, day: dt.date) -> dict[str, Any]:
    currency = currency_in(issued.lists)
    owed, left = format_money(what.owed, currency), EXACT.subtract(what.owed, state.received)
    rows = [("Owed in all, for what was done", what.owed), ("Less what you paid", -state.received)]
    standing = _table("Where your payments stand", rows, _left_to_pay(left), currency)
    return {
        "heading": "Contract canceled",
        "name": "contract canceled",
        "lead": "Owed in all for what was done, before your payments",
        "amount": owed,
        "tables": [*_sum_tables(state, currency), standing],
        "next": ["Nothing more is ordered or done under this contract.", _settling_words(state, what, currency), *_pay_words(issued, state, left, day), _LAW],
        "note": _tax_words("amount", what.tax, currency),
        "agree": f"We agree that this contract ended on {format_long_day(day)} and that {owed} is owed in all for what was done. "
        "A right to cancel that the law gives you needs no signature.",
    }


def _closed(issued: Issued, state: ContractState) -> dict[str, Any]:
    """The end of a contract that was paid beyond its bills: what goes back."""
    currency = currency_in(issued.lists)
    return {
        "heading": "Contract closed",
        "name": "contract closed",
        "lead": "We pay back to you",
        "amount": format_money(state.refund_due, currency),
        "tables": [*_sum_tables(state, currency), _money(state, currency)],
        "next": ["Nothing more is billed under this contract.", _balance_words(state, currency)],
        "note": _tax_words("contract sum", state.tax, currency),
        "agree": "",
    }


def _table(heading: str, rows: Iterable[tuple[str, Decimal]], total: tuple[str, Decimal], currency: str) -> dict[str, Any]:
    said = [{"what": what, "amount": format_money(amount, currency)} for what, amount in (*rows, total)]
    return {"heading": heading, "rows": said[:-1], "total": said[-1]}


def _sum_tables(state: ContractState, currency: str) -> list[dict[str, Any]]:
    """How the contract sum came to be, as the bills say it; nothing where it is the one signed."""
    total = ("Owed in all" if state.canceled else "Contract sum now", state.contract_sum)
    rows = sum_changes(state)
    return [_table("Contract sum and changes", rows, total, currency)] if rows else []


def _money(state: ContractState, currency: str) -> dict[str, Any]:
    rows = [("Billed, less credits" if state.credits else "Billed", state.billed), ("Less what you paid", -state.received)]
    return _table("Where your payments stand", rows, _left_to_pay(state.receivable), currency)


def _left_to_pay(left: Decimal) -> tuple[str, Decimal]:
    return ("Paid beyond that", -left) if left < 0 else ("Left to pay", left)


def _balance_words(state: ContractState, currency: str) -> str:
    """Who pays whom after a credit."""
    if state.refund_due:
        more = "It counts toward the next bill, or goes back to you." if state.left else "We pay it back to you."
        return f"You have paid {format_money(state.refund_due, currency)} more than is billed. {more}"
    if state.receivable:
        return f"The credit comes off what you owe: {format_money(state.receivable, currency)} is left to pay."
    return "Nothing is left to pay."


def _pay_words(issued: Issued, state: ContractState, left: Decimal, day: dt.date) -> list[str]:
    """By when, on which bills and how what is left is to be paid, as the bills that are open say; a last bill that follows says its own day."""
    unpaid = [one for one in state.bills if one.open]
    if left <= 0 or not unpaid:
        return []
    last, latest = max(one.bill.pay_by for one in unpaid), format_long_day(max(one.bill.pay_by for one in unpaid))
    words = f"Please pay what is left by {latest}." if last >= day else f"What is left was due {latest}: please pay it now."
    currency, together = currency_in(issued.lists), sum_money([one.open for one in unpaid])
    bills = " and ".join(f"bill {one.bill.number} ({format_money(one.open, currency)})" for one in unpaid)
    if together > left:
        which = f"Open {'is' if len(unpaid) == 1 else 'are'} {bills}: after the credit {format_money(left, currency)} of that is left."
    else:
        which = f"It is for {bills}{' and for the last bill' if together < left else ''}."
    return [f"{words} {which} {issued.lists.company.how_to_pay}".rstrip()]


def _settling_words(state: ContractState, what: Canceled, currency: str) -> str:
    """What settles a canceled contract: a last bill, or a credit note and money back."""
    bill, credit = EXACT.subtract(what.owed, what.billed), EXACT.subtract(what.billed, what.owed)
    back = EXACT.subtract(state.received, what.owed)
    if bill > 0:
        return f"A last bill for {format_money(bill, currency)} follows: it is owed and not billed yet."
    words = (
        f"A credit note for {format_money(credit, currency)} follows: that much was billed beyond what is owed." if credit else "All that is owed is billed."
    )
    return f"{words} We pay {format_money(back, currency)} back to you." if back > 0 else words


def _tax_words(of: str, tax: Decimal, currency: str) -> str:
    return f"Sales tax of {format_money(tax, currency)} is in this {of}." if tax else f"No sales tax is in this {of}."
