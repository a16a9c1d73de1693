"""What the customer sees: picture, parts, choices, price, dates and care. It is worked out from the words of the proposal, which hold no cost."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from html import escape

from kit.draw.tables import draw_table
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.estimating import Estimate
from kit.export.proposal import front_for_customer
from kit.export.proposal_terms import day_rows, money_words
from kit.export.proposal_words import TO_WRITE_IN, care_rows, choice_rows, scope_rows, summary_of
from kit.job import Job
from kit.money import format_money
from kit.outlook import counted_from, plan_schedule

__all__ = ["Agreed", "draw_customer_view", "draw_waiting_view"]


@dataclass(frozen=True)
class Agreed:
    """What a customer signed.

    Attributes
    ----------
    amount
        The sum of the contract, with its signed changes [USD]; of a canceled one, what is owed in all for the work done.
    signed_on
        The day of the signature, from which the days count.
    as_signed
        Whether the job on the screen is the one that was signed.
    ended
        How the contract ended: "canceled" or "closed", "" where it has not.
    """

    amount: Decimal
    signed_on: dt.date
    as_signed: bool
    ended: str


def draw_customer_view(estimate: Estimate, agreed: Agreed | None = None, on_show: OnShow = BOTH) -> str:
    """The page for the customer of a priced job; where a contract was signed its sum stands in place of the job's price.

    A canceled contract promises nothing more: nothing is left of the page but who it was and what is owed.
    """
    if agreed is not None and agreed.ended == "canceled":
        return draw_waiting_view(estimate.job_as_read, agreed)
    return (
        f"<div class='sk-customer'><h2>{escape(_name(estimate.job_as_read))}</h2><p>{escape(summary_of(estimate))}</p>"
        f"{_price(money_words(estimate, agreed.amount if agreed else estimate.price))}{_stands(agreed)}"
        f"{draw_for_widths(partial(front_for_customer, estimate), on_show)}"
        f"{_table('What you get', 'As planned', ((row['part'], _part(row)) for row in scope_rows(estimate)))}"
        f"{_table('Your choices', 'As written down', ((row['choice'], row['taken'].replace(TO_WRITE_IN, 'still to choose')) for row in choice_rows(estimate)))}"
        f"{_days(estimate, agreed)}"
        f"{_table('Care', 'How to look after it', ((row['what'], row['says']) for row in care_rows(estimate)))}</div>"
    )


def draw_waiting_view(job: Job, agreed: Agreed | None = None) -> str:
    """The page while there is no price, or no work any more; the sum of a signed contract stands all the same."""
    says = f"{_price(format_money(agreed.amount))}{_stands(agreed)}" if agreed else "<p>The price comes once everything is measured.</p>"
    return f"<div class='sk-customer'><h2>{escape(_name(job))}</h2>{says}</div>"


def _days(estimate: Estimate, agreed: Agreed | None) -> str:
    """What happens when, counted from the signature; nothing more of a contract that has ended."""
    if agreed is not None and agreed.ended:
        return ""
    if agreed is not None:
        estimate = counted_from(estimate, agreed.signed_on)
    rows = day_rows(estimate, plan_schedule(estimate), estimate.job.identity.visit_date)
    return _table("Days", "When", ((row["what"], row["when"]) for row in rows))


def _part(row: dict[str, str]) -> str:
    """What it is, and what of it is the customer's to do."""
    brings, does = row["brought"] == "you", row["fitted"] == "you"
    fits = "done by you" if row["brought"] == "–" else "installed by you"
    theirs = "supplied and installed by you" if brings and does else "supplied by you" if brings else fits if does else ""
    return f"{row['what']}; {theirs}" if theirs else row["what"]


def _price(words: str) -> str:
    return f"<p class='sk-customer-price'><b class='sk-price'>{escape(words)}</b></p>"


def _stands(agreed: Agreed | None) -> str:
    """What the sum of a contract stands for, and whether the page shows what was signed."""
    if agreed is None:
        return ""
    if agreed.ended == "canceled":
        return "<p>The contract was canceled. This is what the work done comes to in all; what you have paid counts toward it.</p>"
    if agreed.ended == "closed":
        return f"<p>This is what your contract came to; it is closed.{'' if agreed.as_signed else ' The job shown here is another one.'}</p>"
    differs = " The job shown here differs from what you signed: it waits for a change order. Until you sign one, this sum stands."
    return f"<p>This is the sum of your contract.{'' if agreed.as_signed else differs}</p>"


def _name(job: Job) -> str:
    return "" if "identity.customer" in job.open_places else job.identity.customer


def _table(caption: str, says: str, rows: Iterable[tuple[str, str]]) -> str:
    return draw_table(caption, ("What", says), list(rows), heads=True)
