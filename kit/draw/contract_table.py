"""The contracts of a folder as tables that can be sorted: those at work, then, folded, offers and what is closed."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from html import escape

from kit.contract.contract_rows import ContractRow
from kit.draw.folds import draw_fold
from kit.money import format_money
from kit.units import format_day

__all__ = ["OPEN", "draw_contract_rows"]

OPEN = "contract:"
"""What a row's button asks for: this, and the file of its estimate."""
_WORDS = ("Job", "Customer")
_SUMS = ("Sum", "Billed", "Paid", "Held back", "Due")
_ASIDE = ("Billed", "Paid", "Held back")


def draw_contract_rows(rows: Sequence[ContractRow], today: dt.date, number: str) -> str:
    """Each contract with a button that opens its page; `number` is the one that is open, its fold too. Nothing where there are none."""
    if not rows:
        return ""
    offers = [row for row in rows if row.state.stage == "offered"]
    closed = [row for row in rows if row.state.stage == "closed"]
    going = [row for row in rows if row.state.stage == "signed"]
    due = sum(bool(row.due) for row in going)
    says = f"{due} with something due" if due else "nothing is due"
    first = _draw_table(f"Contracts under way: {len(going)}; {says}", going, today, number) if going else "<p><b>No contract is under way.</b></p>"
    return first + "".join(
        draw_fold(f"{words}: {len(some)}", _draw_table(words, some, today, number), opened=any(row.state.number == number for row in some))
        for words, some in (("Offers, not signed", offers), ("Closed", closed))
        if some
    )


def _draw_table(words: str, rows: Sequence[ContractRow], today: dt.date, number: str) -> str:
    heads = "".join(
        f"<th scope='col'{_classes(head)} aria-sort='none'><button type='button' class='sk-sort'>{head}</button></th>" for head in (*_WORDS, *_SUMS, "State")
    )
    numbers, customers = _ranks([row.state.number for row in rows]), _ranks([row.customer for row in rows])
    urgencies = [row.urgency(today) for row in rows]
    states = _ranks(urgencies)
    body = "".join(
        _draw_row(row, today, (numbers[row.state.number], customers[row.customer], states[urgency]), chosen=row.state.number == number)
        for row, urgency in zip(rows, urgencies, strict=True)
    )
    return (
        f"<table class='sk-table sk-few' data-name='{escape(words.split(':', maxsplit=1)[0], quote=True)}'><caption>{words}</caption>"
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    )


def _classes(head: str) -> str:
    """Of a column: sums stand to the right, and what the page of a contract says too gives way on a tablet."""
    names = [name for name, those in (("sk-number", _SUMS), ("sk-aside", _ASIDE)) if head in those]
    return f" class='{' '.join(names)}'" if names else ""


def _ranks(values: Sequence[str]) -> dict[str, int]:
    """The place of each in their order: a column of words is sorted by it."""
    return {value: place for place, value in enumerate(sorted(set(values), key=str.casefold))}


def _draw_row(row: ContractRow, today: dt.date, ranks: tuple[int, int, int], *, chosen: bool) -> str:
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
        f"{cells}<td data-label='State' data-value='{ranks[2]}'>{_draw_state(row, today)}</td></tr>"
    )


def _draw_sum(head: str, amount: Decimal) -> str:
    return f"<td{_classes(head)} data-label='{head}' data-value='{amount}'>{format_money(amount) if amount else '-'}</td>"


def _draw_state(row: ContractRow, today: dt.date) -> str:
    """Where it stands; what is overdue is heavy."""
    if row.pay_by is not None and row.is_overdue(today):
        return f"{'canceled; ' if row.state.canceled else ''}<b>overdue, was due {format_day(row.pay_by)}</b>"
    return escape(_state_words(row))


def _state_words(row: ContractRow) -> str:
    state = row.state
    back = f"; {format_money(state.back_to_customer)} to pay back" if state.back_to_customer else ""
    if state.closed:
        return f"closed with {format_money(row.due)} unpaid" if row.due else f"closed{back}"
    if row.pay_by is not None:
        return f"{'canceled; ' if state.canceled else ''}to pay by {format_day(row.pay_by)}"
    if state.canceled:
        return f"canceled, to settle{back}"
    if state.signed is None:
        return "offered, not signed"
    return f"bill {len(state.bills) + 1} is next" if state.left else f"all billed and paid{back}"
