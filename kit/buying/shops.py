"""Which shops to go to: every set of at most four is tried, a trip to each has its price, ties go to fewer shops."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import combinations

from kit.lists.goods_rows import Price
from kit.records import Purchase

__all__ = ["MOST_SHOPS", "choose_shops"]

MOST_SHOPS = 4

Offer = Callable[[str, Sequence[Price]], tuple[Purchase, ...]]


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
    best: tuple[Decimal, int, tuple[str, ...]] | None = None
    chosen: dict[str, tuple[Purchase, ...]] = {}
    offered: dict[tuple[str, tuple[str, ...]], tuple[Purchase, ...]] = {}
    for shops in _shop_sets(prices):
        bought = {}
        for item, rows in prices.items():
            suppliers = tuple(sorted({row.supplier for row in rows} & set(shops)))
            if (item, suppliers) not in offered:
                offered[item, suppliers] = offer(item, [row for row in rows if row.supplier in suppliers])
            bought[item] = offered[item, suppliers]
        used = sorted({purchase.supplier for purchases in bought.values() for purchase in purchases} & set(shops))
        cost = sum((purchase.amount for purchases in bought.values() for purchase in purchases), Decimal(0)) + trip * len(used)
        key = (cost, len(used), tuple(used))
        if best is None or key < best:
            best, chosen = key, bought
    return (best[2] if best else ()), chosen


def _shop_sets(prices: Mapping[str, Sequence[Price]]) -> Iterator[tuple[str, ...]]:
    """Sets of at most four shops that sell everything; when four are not enough, all that are needed."""
    sold = [{row.supplier for row in rows} for rows in prices.values()]
    if not sold:
        return
    shops = sorted(set().union(*sold))
    needed = {next(iter(suppliers)) for suppliers in sold if len(suppliers) == 1}
    free = [shop for shop in shops if shop not in needed]
    room = max(MOST_SHOPS - len(needed), 0)
    sets = [tuple(sorted(needed | set(extra))) for size in range(min(room, len(free)) + 1) for extra in combinations(free, size)]
    complete = [shops for shops in sets if all(suppliers & set(shops) for suppliers in sold)]
    yield from complete or [tuple(shops)]
