"""How old are the prices that a job really uses?"""

import datetime as dt
from collections.abc import Sequence

from kit.checks.finding import plain_finding
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import Price
from kit.records import Finding, Level, Purchase
from kit.units import format_day

__all__ = ["check_price_ages", "price_row_of"]

LIMIT = "the limit is the company's own"
MOST_NAMES = 12


def price_row_of(purchase: Purchase, lists: Lists) -> Price | None:
    """The row of `prices.csv` that a purchase rests on; None for what the van holds, which is in no list."""
    return next((price for price in lists.prices.get(purchase.item, ()) if price.supplier == purchase.supplier and price.id == purchase.price_row), None)


def check_price_ages(job: FilledJob, purchases: Sequence[Purchase], lists: Lists) -> list[Finding]:
    """One finding for all prices in use: a caution where some are older than the company allows, counted to the day of the visit.

    Notes
    -----
    A price is as old as its row: the days from `effective_from` to the day of the visit. Rows that no purchase uses don't count, nor
    what the company charges itself, such as its trips to a shop.
    """
    day, most = job.identity.visit_date, lists.company.stale_after_days
    price_rows = ((purchase.price_row, price_row_of(purchase, lists)) for purchase in purchases if purchase.supplier != lists.company.name)
    used = {row_id: row for row_id, row in price_rows if row is not None}
    if not used:
        return []
    rows = sorted(used.values(), key=lambda row: (row.effective_from, row.item, row.supplier))
    stale = [row for row in rows if row.age_days(day) > most]
    oldest = f"{_name(rows[0], lists)} from {rows[0].supplier}, {rows[0].age_days(day)} days old (dated {format_day(rows[0].effective_from)})"
    return [
        plain_finding(
            "prices/age",
            "Age of the prices in use",
            Level.CAUTION if stale else Level.OK,
            f"{len(stale)} of {len(rows)} too old; the oldest: {oldest}" if stale else f"the oldest of {len(rows)}: {oldest}",
            f"at most {most} days old on {format_day(day)}",
            basis=_basis(stale, lists) if stale else f"{LIMIT}; days from the date of a price to the visit",
            source="demo",
            remedy="Get new prices from the stores and load them before you issue this price." if stale else "",
            margin=float(most - rows[0].age_days(day)),
            unit="days",
        )
    ]


def _name(row: Price, lists: Lists) -> str:
    return lists.item(row.item).name


def _basis(stale: Sequence[Price], lists: Lists) -> str:
    """Which prices: by age, those of one day together."""
    days: dict[dt.date, list[str]] = {}
    for row in stale:
        days.setdefault(row.effective_from, []).append(_name(row, lists))
    told_days = "; ".join(f"since {format_day(since)}: {_some(list(dict.fromkeys(names)))}" for since, names in days.items())
    shops = {name: sum(row.supplier == name for row in stale) for name in sorted({row.supplier for row in stale})}
    ask = ", ".join(f"{name} ({count})" for name, count in shops.items())
    return f"{LIMIT}; ask {ask}; {told_days}"


def _some(names: Sequence[str]) -> str:
    more = len(names[MOST_NAMES:])
    return ", ".join(names[:MOST_NAMES]) + (f" and {more} more" if more else "")
