"""Rows for the books of what happened to a contract: each event on the accounts of the firm, dated by its day, debits = credits.

One row has both accounts; where the company file asks for one side, each row becomes two, one for each account.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, fields
from decimal import Decimal

from kit.contract.events import Billed, Credited, Event, Happening
from kit.contract.postings import BookAccount, Posting, postings_of
from kit.export.csv_text import one_line, shorten
from kit.export.lists_used import currency_in
from kit.issued import Issued
from kit.lists import Lists
from kit.money import format_money

__all__ = ["ONE_SIDED", "TWO_SIDED", "AccountRow", "PostingRow", "account_name", "one_sided", "posting_rows", "tax_in"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class PostingRow:
    """One posting with both of its accounts; the fields are the columns, in this order.

    `billed`, `cost` and `tax` say what the row adds to what is billed, to the cost of the job and to the sales tax; below 0 where it takes off.
    """

    job: str
    customer: str
    document: str
    posting: str
    date: dt.date
    kind: str
    text: str
    debit_account: str
    credit_account: str
    amount: Decimal
    currency: str
    draw: str
    bill: int | None
    billed: Decimal
    cost_code: str
    cost_type: str
    cost: Decimal
    supplier: str
    contractor_form: str
    tax_where: str
    tax: Decimal
    cancels: int | None


@dataclass(frozen=True, slots=True)
class AccountRow:
    """One side of a posting: its account, and the amount as `debit` or `credit`; the rest as in `PostingRow`, each sum on one of the two sides."""

    job: str
    customer: str
    document: str
    posting: str
    date: dt.date
    kind: str
    text: str
    account: str
    debit: Decimal
    credit: Decimal
    currency: str
    draw: str
    bill: int | None
    billed: Decimal
    cost_code: str
    cost_type: str
    cost: Decimal
    supplier: str
    contractor_form: str
    tax_where: str
    tax: Decimal
    cancels: int | None


TWO_SIDED = tuple(field.name for field in fields(PostingRow))
ONE_SIDED = tuple(field.name for field in fields(AccountRow))


def posting_rows(issued: Issued, events: Sequence[Event], *, only: frozenset[int] | None = None) -> tuple[PostingRow, ...]:
    """The rows of a contract, in the order of their days.

    Parameters
    ----------
    issued
        The estimate that was signed: its lists name the accounts.
    events
        All events of the contract, as `Ledger.events` gives them.
    only
        Ids of the events whose rows are wanted; all of them when left out.

    Raises
    ------
    LedgerError
        If an event can't follow those before it.
    """
    return tuple(_row(issued, posting) for posting in postings_of(issued.number, events) if only is None or posting.event in only)


def one_sided(rows: Sequence[PostingRow]) -> tuple[AccountRow, ...]:
    """Each row as two; what it adds to bills, cost and tax stands with the debit, so that it counts once."""
    sides = []
    for row in rows:
        shared = {name: getattr(row, name) for name in ONE_SIDED if name not in {"posting", "account", "debit", "credit", "billed", "cost", "tax"}}
        debit, credit = f"{row.posting}/debit", f"{row.posting}/credit"
        sums = {"billed": row.billed, "cost": row.cost, "tax": row.tax}
        first = AccountRow(**shared | sums, posting=debit, account=row.debit_account, debit=row.amount, credit=_ZERO)
        second = AccountRow(**shared | dict.fromkeys(sums, _ZERO), posting=credit, account=row.credit_account, debit=_ZERO, credit=row.amount)
        sides += [first, second]
    return tuple(sides)


def _row(issued: Issued, posting: Posting) -> PostingRow:
    what, lists = posting.what, issued.lists
    cost = posting.debit if posting.debit.use == "job-cost" else posting.credit if posting.credit.use == "job-cost" else None
    listed = lists.suppliers.get(cost.supplier) if cost else None
    tax = tax_in(posting)
    return PostingRow(
        job=one_line(issued.number),
        customer=one_line(issued.content["result"]["job"]["identity"]["customer"]),
        document=one_line(issued.document),
        posting=posting.id,
        date=posting.day,
        kind=posting.kind,
        text=shorten(one_line(_text(what, cancels=posting.cancels))),
        debit_account=account_name(lists, posting.debit),
        credit_account=account_name(lists, posting.credit),
        amount=posting.amount,
        currency=currency_in(lists),
        draw=one_line(what.draw) if isinstance(what, Billed) else "",
        bill=what.number if isinstance(what, Billed | Credited) else None,
        billed=_signed(posting, "receivable") if isinstance(what, Billed | Credited) else _ZERO,
        cost_code=one_line(cost.cost_code) if cost else "",
        cost_type=str(cost.cost_type) if cost else "",
        cost=_signed(posting, "job-cost"),
        supplier=one_line(cost.supplier) if cost else "",
        contractor_form="" if cost is None or not cost.supplier else listed.contractor_form if listed else "ask",
        tax_where="" if not tax else one_line(cost.supplier or "no supplier named") if cost else one_line(lists.company.region),
        tax=tax,
        cancels=posting.cancels,
    )


def account_name(lists: Lists, account: BookAccount) -> str:
    """The firm's own name of an account."""
    if account.use == "job-cost":
        return one_line(lists.accounts[account.cost_type].expense_account) if account.cost_type else ""
    return one_line(lists.books[account.use].entry)


def _signed(posting: Posting, use: str) -> Decimal:
    """The amount as what it adds to the debit of an account."""
    return posting.amount if posting.debit.use == use else -posting.amount if posting.credit.use == use else _ZERO


def tax_in(posting: Posting) -> Decimal:
    """The sales tax that a posting moves [USD]: paid with a purchase, or collected with a bill; below 0 where it goes back."""
    if posting.debit.tax or posting.credit.tax:
        return _signed(posting, "job-cost")
    return -_signed(posting, "tax-liability") if {posting.debit.use, posting.credit.use} & {"tax-liability"} else _ZERO


_WORDS = {
    "billed": "Bill {number}: {label}",
    "paid": "Payment {how}",
    "refunded": "Paid back {how}",
    "credited": "Credit note {number}: {reason}",
    "canceled": "Contract canceled: less is held back",
    "closed": "Contract closed: {reason}",
    "bought": "{text} {bill}",
    "worked": "{hours:g} h {text}",
    "change-signed": "Change order {number}: less is held back",
}


def _text(what: Happening, *, cancels: int | None) -> str:
    values = {name: format_money(value) if isinstance(value, Decimal) else value for name, value in what}
    text = _WORDS[what.kind].format_map(values)
    return f"Taken back: {text}" if cancels else text
