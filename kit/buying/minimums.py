"""Minimum charges: what a hired trade, a shop or the dump bills for a job at least, however little there is to do."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from kit.buying.packs import make_purchase
from kit.lists import Lists
from kit.lists.goods_rows import Price
from kit.money import round_cents, sum_money, times
from kit.records import Purchase

__all__ = ["charge_minimums", "is_idle", "top_up", "with_idle_minimums", "without_idle_minimums"]


def charge_minimums(purchases: Sequence[Purchase], lists: Lists, day: dt.date) -> list[Purchase]:
    """One purchase for each supplier whose hired work and fees fall short of its minimum for a job on that day.

    Goods that a shop sells don't count: the minimum is for work, and for what is tipped.
    """
    return [purchase for purchase in _find_minimums(purchases, lists, day) if purchase.amount]


def with_idle_minimums(purchases: Sequence[Purchase], lists: Lists, day: dt.date) -> tuple[Purchase, ...]:
    """These purchases and, at nothing, each minimum that they reach: another price by hand may fall short of it."""
    known = {purchase.id for purchase in purchases}
    return (*purchases, *(minimum for minimum in _find_minimums(purchases, lists, day) if minimum.id not in known))


def without_idle_minimums(purchases: Sequence[Purchase]) -> tuple[Purchase, ...]:
    """These purchases without the minimums that they reach."""
    return tuple(purchase for purchase in purchases if not is_idle(purchase))


def is_idle(purchase: Purchase) -> bool:
    """Whether it is a minimum charge that is reached, and so charges nothing."""
    return purchase.least is not None and not purchase.amount


def _find_minimums(purchases: Sequence[Purchase], lists: Lists, day: dt.date) -> list[Purchase]:
    """The minimum of each supplier with hired work or fees, short of it or not."""
    minimums = []
    for row in (row for rows in lists.prices.values() for row in rows if row.least_charge is not None):
        mine = [purchase for purchase in purchases if purchase.supplier == row.supplier and not purchase.packs and purchase.least is None]
        if row.least_charge is not None and mine and row.holds_on(day):
            minimums.append(_short_of(row, mine, row.least_charge, lists))
    return minimums


def _short_of(row: Price, mine: Sequence[Purchase], least: Decimal, lists: Lists) -> Purchase:
    blank = make_purchase(row.item, lists.item(row.item), (), row, 0.0, 0)
    line_ids = tuple(line_id for purchase in mine for line_id in purchase.line_ids)
    return top_up(replace(blank, line_ids=line_ids, least=least, tops_up=tuple(purchase.id for purchase in mine)), mine)


def top_up(minimum: Purchase, purchases: Sequence[Purchase]) -> Purchase:
    """The minimum charge beside these purchases: what they fall short of it, nothing where they reach it."""
    if minimum.least is None:
        return minimum
    charged = sum_money([purchase.amount for purchase in purchases if purchase.id in minimum.tops_up])
    short = max(minimum.least - charged, Decimal("0.00"))
    return replace(minimum, need=float(short), charged=float(short), amount=round_cents(times(minimum.unit_price, short)))
