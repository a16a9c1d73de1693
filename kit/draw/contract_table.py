"""The contracts of a folder as a table that can be sorted, and what is to be billed next, in words."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from html import escape

from kit.contract.bills import next_bill
from kit.contract.contract_rows import ContractRow
from kit.contract.state import ContractState
from kit.money import format_money
from kit.units import format_day

__all__ = ["OPEN", "draw_contract_rows", "draw_next_bill"]

_NUMBER = " class='sk-number'"
OPEN = "contract:"
"""What a row's button asks for: this, and the file of its estimate."""
_WORDS = ("Job", "Customer")
_SUMS = ("Sum", "Billed", "Paid", "Held back", "Due")


def draw_contract_rows(rows: Sequence[ContractRow], day: dt.date, number: str) -> str:
    """Each contract with a button that opens its page; `number` is the one that is open. Nothing where there are none."""
    if not rows:
        return ""
    due = sum(bool(row.due) for row in rows)
    heads = "".join(
        f"<th scope='col'{'' if head not in _SUMS else _NUMBER} aria-sort='none'><button type='button' class='sk-sort'>{head}</button></th>"
        for head in (*_WORDS, *_SUMS, "State")
    )
    numbers, customers = _ranks([row.state.number for row in rows]), _ranks([row.customer for row in rows])
    states = _ranks([_urgency(row, day) for row in rows])
    body = "".join(
        _draw_row(row, day, (numbers[row.state.number], customers[row.customer], states[_urgency(row, day)]), chosen=row.state.number == number) for row in rows
    )
    says = f"something is due on {due}" if due else "nothing is due"
    return (
        f"<table class='sk-table sk-cards sk-many' data-name='contracts'><caption>Contracts: {len(rows)}; {says}</caption>"
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    )


def _ranks(values: Sequence[str]) -> dict[str, int]:
    """The place of each in their order: a column of words is sorted by it."""
    return {value: place for place, value in enumerate(sorted(set(values), key=str.casefold))}


def _urgency(row: ContractRow, day: dt.date) -> str:
    """What wants doing first: overdue by its day, to be paid by its day, to settle, to bill, to sign, then what is at its end."""
    state = row.state
    if row.pay_by is not None:
        return f"{0 if row.pay_by < day else 1} {row.pay_by.isoformat()}"
    if state.closed:
        return "6"
    if state.canceled:
        return "2"
    return "4" if state.signed is None else "3" if state.left else "5"


def _draw_row(row: ContractRow, day: dt.date, ranks: tuple[int, int, int], *, chosen: bool) -> str:
    state, name = row.state, escape(row.state.number)
    sums = (row.price, state.billed, state.received, state.held, row.due)
    cells = "".join(_draw_sum(head, amount) for head, amount in zip(_SUMS, sums, strict=True))
    button = (
        f"<button type='button' class='sk-button' data-why='{escape(OPEN + row.file, quote=True)}' aria-label='Open {name}'"
        f"{' aria-current=page' if chosen else ''}>{name}</button>"
    )
    return (
        f"<tr{' class=sk-chosen' if chosen else ''}><th scope='row' data-value='{ranks[0]}'>{button}</th>"
        f"<td data-label='Customer' data-value='{ranks[1]}'>{escape(row.customer or 'not known')}</td>"
        f"{cells}<td data-label='State' data-value='{ranks[2]}'>{escape(_state_words(row, day))}</td></tr>"
    )


def _draw_sum(head: str, amount: Decimal) -> str:
    return f"<td class='sk-number' data-label='{head}' data-value='{amount}'>{format_money(amount) if amount else '-'}</td>"


def _state_words(row: ContractRow, day: dt.date) -> str:
    state = row.state
    if row.pay_by is not None:
        return f"{'overdue since' if row.pay_by < day else 'to pay by'} {format_day(row.pay_by)}"
    if state.closed:
        return "closed"
    if state.canceled:
        return "canceled, to settle"
    if state.signed is None:
        return "offered, not signed"
    return f"bill {len(state.bills) + 1} is next" if state.left else "all billed and paid"


def draw_next_bill(state: ContractState, day: dt.date, pay_within: int) -> str:
    """What is to be billed next, how much and why; where nothing is, what to do instead. `pay_within` [days]."""
    head, why = _next_words(state, day, pay_within)
    return f"{_draw_unpaid(state, day)}<p class='sk-next'><b>{escape(head)}</b><br>{escape(why)}</p>"


def _draw_unpaid(state: ContractState, day: dt.date) -> str:
    """Bills that are still to be paid, before another one is thought of: an overdue one is an alert."""
    unpaid = [one for one in state.bills if one.open > 0 and state.receivable > 0]
    late = [one for one in unpaid if one.bill.pay_by < day]
    said = [
        f"Bill {one.bill.number} {'is overdue: it was' if one in late else 'is open,'} to be paid by {format_day(one.bill.pay_by)}. "
        f"{format_money(one.open)}{f' of {format_money(one.bill.amount)}' if one.paid else ''} is not paid."
        for one in unpaid
    ]
    collect = " Ask for it before you make another bill." if late and state.left else ""
    return f"<p role='{'alert' if late else 'status'}'>{escape(' '.join(said))}{collect}</p>" if said else ""


def _next_words(state: ContractState, day: dt.date, pay_within: int) -> tuple[str, str]:
    if state.closed:
        return "Nothing more to bill", f"Closed: {state.closed}."
    if state.signed is None:
        return "Not signed yet", "Sum and payments stand from the signature on; the first bill comes after it."
    if state.credit_due:
        return f"A credit note for {format_money(state.credit_due)} is owed", "More is billed than the contract sum. Write it under Seldom needed."
    if state.left:
        return _bill_words(state, day, pay_within)
    if state.receivable > 0:
        return "All is billed", f"{format_money(state.receivable)} is not paid yet. Write it down below when it comes in."
    return "All is billed and paid", "Close the contract under Seldom needed."


def _bill_words(state: ContractState, day: dt.date, pay_within: int) -> tuple[str, str]:
    bill = next_bill(state, day, pay_within)
    whose = "the deposit that was agreed" if bill.deposit else f"payment {1 + state.draws.index(state.left[0])} of the {len(state.draws)} of the contract"
    tax = f", sales tax {format_money(bill.tax)} in it" if bill.tax else ""
    held = f" {format_money(bill.held)} stays held back until the last bill." if bill.held else ""
    before = f" Billed before: {format_money(bill.billed_before)} of {format_money(bill.contract_sum)}."
    return f"Bill {bill.number}: {bill.label}, {format_money(bill.amount)}", f"It is {whose}{tax}; to pay by {format_day(bill.pay_by)}.{held}{before}"
