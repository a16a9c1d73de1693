"""The bill for a draw as PDF: the contract, what was billed before, what is due now, what is left and what of it is held back.

It holds what the customer pays and nothing of what it is made of: no direct cost, wage, share or hour.
"""

import datetime as dt
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from kit.errors import Fault, IssueError
from kit.export.lists_used import currency_of
from kit.export.papers import day_words, mark_of, paper_head, refuse_unsound
from kit.export.proposal_words import summary_of
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.money import format_money
from kit.pricing.draws import Bill, DrawSchedule, list_bills, plan_draws

__all__ = ["bill_bytes", "bill_document", "bill_stem", "bills_of"]

_TEMPLATE = "bill.typ"


def bills_of(issued: Issued, draws: DrawSchedule | None = None) -> tuple[Bill, ...]:
    """The bills of an issued estimate, one a draw, planned from its lists when no draws are given; none where the price is nothing."""
    if draws is None and not issued.estimate.price:
        return ()
    return list_bills(draws or plan_draws(issued.estimate))


def bill_stem(issued: Issued, number: int) -> str:
    """The name of a bill's file without its ending, such as `DEMO-001-r01-bill-2`."""
    return f"{mark_of(issued.estimate, issued).file_stem}-bill-{number}"


def bill_bytes(issued: Issued, number: int, day: dt.date, *, draws: DrawSchedule | None = None) -> bytes:
    """The bill as PDF; parameters and errors as `bill_document`. The same input gives the same bytes."""
    return typeset(_TEMPLATE, bill_document(issued, number, day, draws=draws))


def bill_document(issued: Issued, number: int, day: dt.date, *, draws: DrawSchedule | None = None) -> dict[str, Any]:
    """Every word and figure of the bill, as the template reads it.

    Parameters
    ----------
    issued
        The issued estimate: nothing is billed from a draft.
    number
        Which draw is billed, from 1.
    day
        Date of the bill.
    draws
        The draws of the contract, such as one with change orders carried forward; planned from the estimate's lists when left out.

    Raises
    ------
    IssueError
        If there is no such draw, the day lies before the day of issue, or the estimate could not be put before the customer.
    """
    estimate, bills = issued.estimate, bills_of(issued, draws)
    refuse_unsound(estimate, issued)
    if not 1 <= number <= len(bills):
        raise IssueError(Fault("draw", f"{number} is none of this contract, which has {len(bills)}.", issued.number))
    if day < issued.issued:
        raise IssueError(Fault("date", f"{day.isoformat()} lies before the day of issue, {issued.issued.isoformat()}.", issued.number))
    bill, mark, currency = bills[number - 1], mark_of(estimate, issued), currency_of(estimate)
    name = f"{mark.number}, draw {number}"

    def money(amount: Decimal) -> str:
        return format_money(amount, currency)

    return {
        **paper_head(
            estimate,
            day,
            title=f"Bill {name}",
            document=f"{name} of {len(bills)}",
            foot=f"{estimate.lists.company.name} · Bill {name} of {len(bills)}",
        ),
        "agreed": f"Estimate {mark.number}, {mark.words}, of {day_words(issued.issued)}",
        "summary": summary_of(estimate),
        "label": bill.label,
        "due": money(bill.due),
        "rows": [{"number": str(one.number), "label": one.label, "amount": money(one.due), "state": _state(one, bill)} for one in bills],
        "contract": money(bill.contract),
        "working": [{"what": what, "amount": money(amount)} for what, amount in _working(bill)],
        "standing": [{"what": what, "amount": money(amount)} for what, amount in _standing(bill)],
        "note": _note(bill, estimate.amount("tax-collected"), currency),
    }


def _state(one: Bill, bill: Bill) -> str:
    return "this bill" if one.number == bill.number else "billed before" if one.number < bill.number else "not due yet"


def _working(bill: Bill) -> Iterator[tuple[str, Decimal]]:
    """How the amount comes together."""
    if bill.deposit:
        yield "Deposit as agreed, taken before work starts", bill.due
        return
    yield "Earned of the contract by then, as agreed", bill.earned
    if bill.held:
        yield "Less what is held back of it", -bill.held
    yield "Less what was billed before", -bill.billed_before
    if bill.later:
        yield "Less what waits until work and goods have caught up", -bill.later


def _standing(bill: Bill) -> Iterator[tuple[str, Decimal]]:
    """Where the contract stands after this bill."""
    yield "Contract sum", bill.contract
    yield "Billed before", bill.billed_before
    yield "Due now", bill.due
    yield "Balance after this bill", bill.balance
    if bill.held:
        yield "of which held back until the last draw", bill.held


def _note(bill: Bill, collected: Decimal, currency: str) -> str:
    tax = f"Sales tax of {format_money(collected, currency)} is in the contract sum." if collected else "No sales tax is added to the contract sum."
    deposit = " A deposit counts toward the contract sum." if bill.deposit else ""
    return f"{tax}{deposit} Extra work is billed by change orders that both of us have signed."
