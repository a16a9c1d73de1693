"""From lines to purchases: goods from the cheapest set of shops, hired work and fees by the unit."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from kit.buying.packs import buy_by_use, buy_packs, make_purchase
from kit.buying.plans import pieces_of, plan_pieces
from kit.buying.shops import choose_shops
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import Price
from kit.records import Kind, Line, Purchase

__all__ = ["SHOP_TRIP", "plan_purchases"]

SHOP_TRIP = "shop-trip"


def plan_purchases(job: FilledJob, lines: Sequence[Line], lists: Lists, *, exact: bool = True) -> tuple[Purchase, ...]:
    """Purchases in the order of the takeoff, the trips to the shops last.

    With `exact` cut plans are proven; otherwise they are first plans with their bounds, for as long as a slider moves.

    Raises
    ------
    ListError
        If an item has no price that holds on the day of the visit.
    CutError
        If a piece fits no stock.
    """
    wanted: dict[str, list[Line]] = {}
    for line in lines:
        if line.kind is not Kind.DO:
            wanted.setdefault(line.item, []).append(line)
    day = job.identity.visit_date
    prices = lists.prices_of(wanted, day)
    goods = {item: rows for item, rows in prices.items() if wanted[item][0].kind is Kind.BUY}
    shops, bought = _shop(job, wanted, goods, lists, exact=exact)
    purchases: list[Purchase] = []
    for item, mine in wanted.items():
        purchases.extend(bought[item] if item in goods else (buy_by_use(lists.item(item), mine, prices[item]),))
    if shops:
        row = lists.prices_on(SHOP_TRIP, day)[0]
        purchases.append(make_purchase(SHOP_TRIP, lists.item(SHOP_TRIP), (), row, float(len(shops)), 0))  # follows from the shops, from no line
    return tuple(purchases)


def _shop(
    job: FilledJob, wanted: Mapping[str, Sequence[Line]], goods: Mapping[str, Sequence[Price]], lists: Lists, *, exact: bool
) -> tuple[tuple[str, ...], dict[str, tuple[Purchase, ...]]]:
    def offer(name: str, rows: Sequence[Price]) -> tuple[Purchase, ...]:
        item, mine = lists.item(name), wanted[name]
        if item.cut != "no" and pieces_of(mine):
            return plan_pieces(item, mine, rows, [offcut for offcut in job.offcuts if offcut.item == name], exact=exact)
        shops = sorted({row.supplier for row in rows})
        return min(
            (buy_packs(item, mine, [row for row in rows if row.supplier == shop]) for shop in shops),
            key=lambda bought: (sum((purchase.amount for purchase in bought), Decimal(0)), bought[0].supplier),
        )

    trip = lists.prices_on(SHOP_TRIP, job.identity.visit_date)[0].price
    return choose_shops(goods, offer, trip)
