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

OPEN = "contract:"
"""What a row's button asks for: this, and the file of its estimate."""
_SUMS = ("Sum", "Billed", "Paid", "Held back", "Due")


def draw_contract_rows(rows: Sequence[ContractRow], day: dt.date, number: str) -> str:
    """Each contract with a button that opens its page; `number` is the one that is open. Nothing where there are none."""
    if not rows:
        return ""
    due = sum(bool(row.due) for row in rows)
    heads = "".join(f"<th scope='col' class='sk-number' aria-sort='none'><button type='button' class='sk-sort'>{head}</button></th>" for head in _SUMS)
    body = "".join(_draw_row(row, day, chosen=row.state.number == number) for row in rows)
    return (
        f"<table class='sk-table sk-cards' data-name='contracts'><caption>Contracts: {len(rows)}; something is due on {due or 'none'}</caption>"
        f"<thead><tr><th scope='col'>Job</th><th scope='col'>Customer</th>{heads}<th scope='col'>State</th></tr></thead><tbody>{body}</tbody></table>"
    )


def _draw_row(row: ContractRow, day: dt.date, *, chosen: bool) -> str:
    state, name = row.state, escape(row.state.number)
    sums = (row.price, state.billed, state.received, state.held, row.due)
    cells = "".join(_draw_sum(head, amount) for head, amount in zip(_SUMS, sums, strict=True))
    button = (
        f"<button type='button' class='sk-button' data-why='{escape(OPEN + row.file, quote=True)}' aria-label='Open {name}'"
        f"{' aria-current=page' if chosen else ''}>{name}</button>"
    )
    return (
        f"<tr{' class=sk-chosen' if chosen else ''}><th scope='row'>{button}</th><td data-label='Customer'>{escape(row.customer or 'not known')}</td>"
        f"{cells}<td data-label='State'>{escape(_state_words(row, day))}</td></tr>"
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
    return f"<p class='sk-next'><b>{escape(head)}</b><br>{escape(why)}</p>"


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
