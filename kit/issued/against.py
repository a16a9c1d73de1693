"""What speaks against giving an estimate out today? Each is mended, or outweighed by a reason that is written down and kept."""

import datetime as dt
from collections.abc import Iterator, Sequence
from itertools import groupby

from kit.buying.price_ages import price_row_of
from kit.errors import Fault
from kit.estimating import Estimate
from kit.lists.goods_rows import Price
from kit.records import Level
from kit.takeoff.working import counted
from kit.units import format_day

__all__ = ["find_against"]

MOST_NAMES = 6


def find_against(estimate: Estimate, day: dt.date, *, fell_back: bool = False, after_signing: bool = False) -> list[Fault]:
    """Everything that speaks against it on a day, worst first.

    Parameters
    ----------
    estimate
        What is to be issued.
    day
        Day of issue.
    fell_back
        Whether the kit's invented lists stand in for the user's own, which were not found.
    after_signing
        Whether the contract is signed already: its days are agreed then.
    """
    days = [] if after_signing else _days(estimate, day)
    return [*_stops(estimate), *_lists(fell_back=fell_back), *_prices(estimate, day), *days]


def _stops(estimate: Estimate) -> Iterator[Fault]:
    """Findings that say stop, a scope that contradicts itself among them."""
    for finding in estimate.findings:
        if finding.level is Level.STOP:
            yield Fault(f'"{finding.check}"', f"says stop: {finding.measured}, need {finding.limit}. {finding.remedy} Or state why you issue it anyway.")


def _lists(*, fell_back: bool) -> Iterator[Fault]:
    if fell_back:
        sentence = (
            "are the kit's invented ones, because no folder price_lists lies in or beside the folder of the job. Was yours renamed or moved? Name "
            "it, or state why you issue with invented prices."
        )
        yield Fault("Price lists", sentence)


def _prices(estimate: Estimate, day: dt.date) -> Iterator[Fault]:
    company = estimate.lists.company
    price_rows = (price_row_of(purchase, estimate.lists) for purchase in estimate.purchases)
    rows = {row.id: row for row in price_rows if row is not None and row.supplier != company.name}.values()
    ended = [row for row in rows if row.effective_to is not None and row.effective_to < day]
    old = [row for row in rows if row not in ended and row.age_days(day) > company.stale_after_days]
    free = [row for row in rows if not row.price]
    if free:
        yield Fault("Prices", f"{len(free)} of {len(rows)} stand at zero: {_names(free, estimate)}. Correct them, or state why these cost nothing.")
    if ended:
        yield Fault(
            "Prices", f"{len(ended)} of {len(rows)} have ended by {format_day(day)}: {_names(ended, estimate)}. Get new ones, or state why these still hold."
        )
    if old:
        most = company.stale_after_days
        sentence = (
            f"{len(old)} of {len(rows)} are older than {most} days on {format_day(day)}: {_names(old, estimate)}. Get new ones, or state why these still hold."
        )
        yield Fault("Prices", sentence)


def _names(rows: Sequence[Price], estimate: Estimate) -> str:
    """Items, the oldest first; supplier and day once for all that share them."""
    first = sorted(rows, key=lambda row: (row.effective_to or row.effective_from, row.supplier, row.item))[:MOST_NAMES]
    words = [
        f"{supplier}, {span}: {', '.join(estimate.lists.name_of(row.item) for row in group)}"
        for (supplier, span), group in groupby(first, key=lambda row: (row.supplier, _span(row)))
    ]
    return "; ".join(words) + (f"; and {len(rows) - MOST_NAMES} more" if len(rows) > MOST_NAMES else "")


def _span(row: Price) -> str:
    return f"until {format_day(row.effective_to)}" if row.effective_to else f"since {format_day(row.effective_from)}"


def _days(estimate: Estimate, day: dt.date) -> Iterator[Fault]:
    """Every day on the papers follows from the signature: it can't lie before they are given out."""
    visit, named = estimate.job.identity.visit_date, estimate.job.terms.signed_on
    usual = estimate.lists.company.days_to_sign
    signed = named or visit + dt.timedelta(days=usual)
    if day < visit:
        yield Fault("", f"The day of issue, {format_day(day)}, is before the visit of {format_day(visit)}. Fix whichever is wrong, or state why.")
    if signed < day and named:
        sentence = (
            f"count from a signature on {format_day(signed)} (the terms say so), and it is {format_day(day)} already: work would start in the "
            "past. Enter the day you expect the signature in the terms, or state why you issue it anyway."
        )
        yield Fault("Days", sentence)
    elif signed < day:
        days = counted(usual, "day", "days").text
        sentence = (
            f"would count from a signature on {format_day(signed)} ({days} after the visit of {format_day(visit)}), and it is {format_day(day)} already: "
            f"the papers count from {format_day(day + dt.timedelta(days=usual))} instead. Enter the day you expect the signature in the terms, or state why "
            "you issue it anyway."
        )
        yield Fault("Days", sentence)
