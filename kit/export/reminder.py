"""A reminder of bills that are past due, as PDF: which, how much of each is not paid, for how many days, and how to pay.

Every figure is one that the ledger holds on that day, or follows from two of its days; nothing is added for being late. A reminder moves no money and is
not written down.
"""

import datetime as dt
from typing import Any

from kit.contract.state import BillState, ContractState
from kit.draw.tables import count_words
from kit.errors import Fault, LedgerError
from kit.export.lists_used import currency_in
from kit.export.papers import agreed_words, issued_head
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.job.field_names import lower_first
from kit.money import format_money, sum_money
from kit.units import format_day, format_long_day

__all__ = ["reminder_bytes", "reminder_document", "reminder_name"]

_TEMPLATE = "reminder.typ"


def reminder_name(number: str, day: dt.date) -> str:
    """The name of its file, such as `DEMO-001-reminder-2026-04-20.pdf`."""
    return f"{number}-reminder-{day.isoformat()}.pdf"


def reminder_bytes(issued: Issued, state: ContractState, day: dt.date) -> bytes:
    """The reminder as PDF; parameters and errors as in `reminder_document`. The same input gives the same bytes."""
    return typeset(_TEMPLATE, reminder_document(issued, state, day))


def reminder_document(issued: Issued, state: ContractState, day: dt.date) -> dict[str, Any]:
    """Every word and figure of the reminder, as the template reads it.

    Parameters
    ----------
    issued
        The estimate that was signed.
    state
        The contract as it stands.
    day
        The day of the reminder.

    Raises
    ------
    LedgerError
        If no bill is overdue on that day, or a credit note is owed first: a bill would be asked for that is owed in part only.
    """
    late, currency = state.overdue(day), currency_in(issued.lists)
    if state.credit_due:
        owed = format_money(state.credit_due, currency)
        raise LedgerError(Fault(state.number, f"owes the customer a credit of {owed}: write the credit note before you remind anyone."))
    if not late:
        raise LedgerError(Fault(state.number, f"has no bill that is overdue on {format_day(day)}: no reminder is needed."))
    name = f"{state.number}, payment reminder"
    due = format_money(sum_money([one.open for one in late]), currency)
    return {
        **issued_head(issued, day, title=name, document=name, foot=f"{issued.lists.company.name} · {name}"),
        "agreed": agreed_words(issued, state),
        "due": due,
        "lead": f"{'A bill is' if len(late) == 1 else f'{len(late)} bills are'} past due",
        "paid-head": "Paid or credited" if state.credits else "Paid",
        "words": f"Our books show {due} as not paid as of {format_long_day(day)}. Please pay it as soon as you can. "
        "If your payment is already on its way, thank you, and please set this reminder aside. "
        "If something about the bill or the work is not right, please tell us, so that we can settle it.",
        "how-to-pay": issued.lists.company.how_to_pay,
        "rows": [_row(one, day, currency) for one in late],
        "note": _note(state, day, currency),
    }


def _row(one: BillState, day: dt.date, currency: str) -> dict[str, str]:
    return {
        "bill": f"Bill {one.bill.number}: {lower_first(one.bill.label)}",
        "pay-by": format_day(one.bill.pay_by),
        "late": count_words((day - one.bill.pay_by).days, "day"),
        "amount": format_money(one.bill.amount, currency),
        "paid": format_money(one.paid, currency),
        "open": format_money(one.open, currency),
    }


def _note(state: ContractState, day: dt.date, currency: str) -> str:
    """What the reminder does not ask for: nothing for being late, and no bill whose day has not come."""
    coming = [one for one in state.bills if one.open > 0 and one.bill.pay_by >= day]
    said = [f"Bill {one.bill.number} is not part of it: {format_money(one.open, currency)} is to be paid by {format_day(one.bill.pay_by)}." for one in coming]
    return " ".join(["This reminder adds no charge for being late.", *said])
