"""Packs: the cheapest whole packs of one supplier that hold the need, and what hired work and fees come to."""

from collections.abc import Sequence
from decimal import Decimal

from kit.lists.goods_rows import Item, Price
from kit.money import CHARGED_PLACES, count_packs, round_cents, to_decimal
from kit.records import Line, Purchase

__all__ = ["buy_by_use", "buy_packs", "make_purchase"]


def buy_packs(item: Item, lines: Sequence[Line], prices: Sequence[Price]) -> tuple[Purchase, ...]:
    """The cheapest packs for the need; packs of two sizes may be mixed when that is cheaper.

    Parameters
    ----------
    item, lines
        What is needed; the need is the lines' with waste, in the item's unit.
    prices
        Rows to choose from, all of one supplier.

    Notes
    -----
    Packs round up here and only here: the need over the pack, to six places, then up. A mix is at most two sizes: whole
    packs of one, the rest in the other. A price break may be worth more packs than are needed.
    """
    need = sum(line.need for line in lines)
    best: tuple[Decimal, int, tuple[str, ...], list[tuple[Price, int]]] | None = None
    for choice in _choices(need, prices):
        cost = sum((round_cents(price.price * packs) for price, packs in choice), Decimal(0))
        key = (cost, sum(packs for _, packs in choice), tuple(price.id for price, _ in choice), choice)
        if best is None or key[:3] < best[:3]:
            best = key
    assert best is not None  # noqa: S101 - for the type checker; every item has a price
    left, bought = need, []
    for price, packs in best[3]:
        share = min(left, packs * price.pack)
        left -= share
        name = item.item if len(best[3]) == 1 else f"{item.item}/{price.sold_as}"
        bought.append(make_purchase(name, item, lines, price, share, packs))
    return tuple(bought)


def _choices(need: float, prices: Sequence[Price]) -> list[list[tuple[Price, int]]]:
    found = [[(price, max(count_packs(need, price.pack), price.least_packs or 0))] for price in prices]
    for large in prices:
        whole = int(need / large.pack + 1e-9)
        for small in prices:
            if small.pack < large.pack and whole >= max(large.least_packs or 0, 1):
                rest = need - whole * large.pack
                if rest > 0.0:
                    found.append([(large, whole), (small, max(count_packs(rest, small.pack), small.least_packs or 0))])
    return found


def buy_by_use(item: Item, lines: Sequence[Line], prices: Sequence[Price]) -> Purchase:
    """Hired work and fees: charged by the unit, nothing rounds up."""
    need = sum(line.need for line in lines)
    price = min(
        [price for price in prices if not price.least_packs] or prices, key=lambda price: (price.price / to_decimal(price.pack, CHARGED_PLACES), price.id)
    )
    return make_purchase(item.item, item, lines, price, need, 0)


def make_purchase(name: str, item: Item, lines: Sequence[Line], price: Price, need: float, packs: int) -> Purchase:
    """A purchase at one price row; `packs` 0 charges the need itself."""
    charged = float(packs) if packs else float(to_decimal(round(need / price.pack, 12), CHARGED_PLACES))
    bought = packs * price.pack
    return Purchase(
        id=name,
        line_ids=tuple(line.id for line in lines),
        item=item.item,
        supplier=price.supplier,
        price_row=price.id,
        need=need,
        unit=item.unit,
        pack=price.pack,
        packs=packs,
        charged=charged,
        unit_price=price.price,
        amount=round_cents(price.price * to_decimal(charged, CHARGED_PLACES)),
        taxable=item.taxable,
        used=min(1.0, need / bought) if packs else 1.0,
        left_over=f"{bought - need:.4g} {item.unit}" if bought - need > 1e-9 else "nothing",
        consumable=item.consumable,
    )
