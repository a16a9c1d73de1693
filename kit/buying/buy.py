"""From lines to purchases: goods from the cheapest set of at most four shops, a trip to each has its price; the rest by the unit, with minimum charges."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import combinations
from operator import itemgetter

from kit.buying.minimums import charge_minimums
from kit.buying.packs import buy_by_use, buy_packs, make_purchase
from kit.buying.pieces_to_cut import pieces_of, plan_pieces
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import Price
from kit.money import sum_money
from kit.records import Kind, Line, Purchase

__all__ = ["MOST_SHOPS", "SHOP_TRIP", "choose_shops", "plan_purchases"]

SHOP_TRIP = "shop-trip"
MOST_SHOPS = 4

Offer = Callable[[str, Sequence[Price]], tuple[Purchase, ...]]


def plan_purchases(job: FilledJob, lines: Sequence[Line], lists: Lists) -> tuple[Purchase, ...]:
    """Purchases in the order of the takeoff, the trips to the shops last.

    Raises ListError if an item has no price in force on the day of the visit. Raises CutError if a piece fits no stock.
    """
    lines_by_item: dict[str, list[Line]] = {}
    for line in lines:
        if line.kind is not Kind.DO:
            lines_by_item.setdefault(line.item, []).append(line)
    day = job.identity.visit_date
    prices = lists.prices_of(lines_by_item, day)
    goods = {item: rows for item, rows in prices.items() if lines_by_item[item][0].kind is Kind.BUY}
    shops, bought = _shop(job, lines_by_item, goods, lists)
    purchases: list[Purchase] = []
    for item, mine in lines_by_item.items():
        purchases.extend(bought[item] if item in goods else (buy_by_use(lists.item(item), mine, prices[item]),))
    purchases += charge_minimums(purchases, lists, day)
    if shops:
        row = lists.prices_on(SHOP_TRIP, day)[0]
        purchases.append(make_purchase(SHOP_TRIP, lists.item(SHOP_TRIP), (), row, float(len(shops)), 0))  # follows from the shops, from no line
    return tuple(purchases)


def _shop(
    job: FilledJob, lines_by_item: Mapping[str, Sequence[Line]], goods: Mapping[str, Sequence[Price]], lists: Lists
) -> tuple[tuple[str, ...], dict[str, tuple[Purchase, ...]]]:
    def offer(name: str, rows: Sequence[Price]) -> tuple[Purchase, ...]:
        item, mine = lists.item(name), lines_by_item[name]
        if item.cut != "no" and pieces_of(mine):
            return plan_pieces(item, mine, rows, [offcut for offcut in job.offcuts if offcut.item == name])
        shops = sorted({row.supplier for row in rows})
        offers = [buy_packs(item, mine, [row for row in rows if row.supplier == shop]) for shop in shops]
        return min(offers, key=lambda bought: (_cost(bought), bought[0].supplier))

    trip = lists.prices_on(SHOP_TRIP, job.identity.visit_date)[0].price
    return choose_shops(goods, offer, trip)


def choose_shops(prices: Mapping[str, Sequence[Price]], offer: Offer, trip: Decimal) -> tuple[tuple[str, ...], dict[str, tuple[Purchase, ...]]]:
    """The cheapest set of shops and what is bought there.

    Parameters
    ----------
    prices
        For each item the price rows that hold, of every supplier.
    offer
        Buys an item from the rows given.
    trip
        Cost of a trip to one shop [USD].

    Returns
    -------
    The shops, and the purchases by item. A plan may mix the stock of two shops of the set; packs come from one shop.
    """
    choices: list[tuple[tuple[Decimal, int, tuple[str, ...]], dict[str, tuple[Purchase, ...]]]] = []
    offered: dict[tuple[str, tuple[str, ...]], tuple[Purchase, ...]] = {}
    sellers = {item: {row.supplier for row in rows} for item, rows in prices.items()}
    for shops in _shop_sets(sellers.values()):
        bought = {}
        for item, rows in prices.items():
            suppliers = tuple(sorted(sellers[item].intersection(shops)))
            if (item, suppliers) not in offered:
                offered[item, suppliers] = offer(item, [row for row in rows if row.supplier in suppliers])
            bought[item] = offered[item, suppliers]
        used = sorted({purchase.supplier for purchases in bought.values() for purchase in purchases} & set(shops))
        cost = sum(map(_cost, bought.values()), trip * len(used))
        choices.append(((cost, len(used), tuple(used)), bought))
    if not choices:
        return (), {}
    (_, _, chosen), bought = min(choices, key=itemgetter(0))
    return chosen, bought


def _cost(purchases: Sequence[Purchase]) -> Decimal:
    return sum_money([purchase.amount for purchase in purchases])


def _shop_sets(sellers: Collection[set[str]]) -> Iterator[tuple[str, ...]]:
    """Sets of at most four shops that sell everything; when four are not enough, all that are needed. `sellers` are those of each item."""
    if not sellers:
        return
    shops = sorted(set().union(*sellers))
    needed = {next(iter(suppliers)) for suppliers in sellers if len(suppliers) == 1}
    free = [shop for shop in shops if shop not in needed]
    room = max(MOST_SHOPS - len(needed), 0)
    sets = [tuple(sorted(needed | set(extra))) for size in range(room + 1) for extra in combinations(free, size)]
    complete = [shops for shops in sets if all(not suppliers.isdisjoint(shops) for suppliers in sellers)]
    yield from complete or [tuple(shops)]
