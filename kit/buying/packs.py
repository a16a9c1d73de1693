"""Packs: the cheapest whole packs of one supplier that hold the need, and what hired work and fees come to."""

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache

from kit.lists.goods_rows import Item, Price
from kit.money import CENT, CHARGED_PLACES, count_packs, round_cents, sum_money, to_charged, to_decimal
from kit.records import Line, Purchase
from kit.units import format_quantity, whole_pieces

__all__ = ["buy_by_use", "buy_packs", "make_purchase"]

_NOISE = 1e-6
"""Differences below it come from floats."""


def buy_packs(item: Item, lines: Sequence[Line], prices: Sequence[Price]) -> tuple[Purchase, ...]:
    """The cheapest packs for the need, of any sizes together; among those the fewest packs.

    Parameters
    ----------
    item, lines
        What is needed; the need is the lines' with waste, in the item's unit.
    prices
        Rows to choose from, all of one supplier.

    Notes
    -----
    Packs round up here and only here: what is still needed over the last pack, to six places, then up. A price break may be worth
    more packs than are needed.
    """
    left, bought = sum(line.need for line in lines), []
    chosen = choose_packs(left, prices)
    for price, packs in chosen:
        share = min(left, packs * price.pack)
        left -= share
        name = item.item if len(chosen) == 1 else f"{item.item}/{price.sold_as}"
        bought.append(make_purchase(name, item, lines, price, share, packs))
    return tuple(bought)


def choose_packs(need: float, prices: Sequence[Price]) -> list[tuple[Price, int]]:
    """How many of which packs, large packs first: the cheapest, then the fewest, then the first by id.

    Branch and bound: sizes from the cheapest by what a pack holds, most packs first; what is still needed costs at least its share
    of a pack of the next size.
    """
    if len(prices) == 1:
        return [(prices[0], max(count_packs(need, prices[0].pack), prices[0].least_packs or 0))]
    rates = {price.id: _rate(price.price, price.pack) for price in prices}
    rows = sorted(prices, key=lambda price: (rates[price.id], -price.pack, price.id))
    in_cents = all(price.price == round_cents(price.price) for price in prices)
    rounding = 0.0 if in_cents else float(CENT) * len(rows)
    caps = [_most_packs(row, rows[:place]) if in_cents else math.inf for place, row in enumerate(rows)]
    best: tuple[Decimal, int, tuple[str, ...]] | None = None
    cheapest: list[tuple[Price, int]] = []

    def choose(place: int, rest: float, chosen: list[tuple[Price, int]]) -> bool:
        """Choose packs from a place on; False when that, and so anything with fewer packs before it, is too dear or too little."""
        nonlocal best, cheapest
        cost, packs = sum_money([round_cents(price.price * count) for price, count in chosen]), sum(count for _, count in chosen)
        if rest <= 0.0 or (place < len(rows) and not count_packs(rest, rows[place].pack)):
            choice = sorted(chosen, key=lambda pair: (-pair[0].pack, pair[0].id))
            key = cost, packs, tuple(price.id for price, _ in choice)
            best, cheapest = (key, choice) if best is None or key < best else (best, cheapest)
            return True
        if rest > sum(cap * row.pack for cap, row in zip(caps[place:], rows[place:], strict=True)) + _NOISE:
            return False
        if best is not None:
            over = float(cost - best[0]) + rest * float(rates[rows[place].id]) - rounding
            if over > _NOISE:
                return False
            if over > _NOISE - float(CENT) and packs + count_packs(rest, max(row.pack for row in rows[place:])) > best[1]:
                return True  # as dear, with more packs
        row = rows[place]
        enough, least = count_packs(rest, row.pack), row.least_packs or 1
        for count in range(int(min(max(enough, least), caps[place])), least - 1, -1):
            if not choose(place + 1, 0.0 if count >= enough else rest - count * row.pack, [*chosen, (row, count)]):
                break
        choose(place + 1, rest, chosen)
        return True

    choose(0, need, [])
    return cheapest or [(min(rows, key=lambda row: row.id), 0)]


def _most_packs(row: Price, better: Sequence[Price]) -> float:
    """How many packs of a size can be worth buying: some of it hold as much as some of a size that is no dearer, so that fewer do."""
    most = math.inf
    for other in better:
        ratio = _ratio(row.pack, other.pack)
        times = -(-(other.least_packs or 1) // ratio.numerator)
        most = min(most, ratio.denominator * times - 1 + (row.least_packs or 0))
    return most


@cache
def _rate(price: Decimal, pack: float) -> Fraction:
    """Price of what a pack holds, by the unit."""
    return Fraction(price) / Fraction(repr(pack))


@cache
def _ratio(pack: float, other: float) -> Fraction:
    """How many of one pack another is, each taken as it prints."""
    return Fraction(repr(pack)) / Fraction(repr(other))


def buy_by_use(item: Item, lines: Sequence[Line], prices: Sequence[Price]) -> Purchase:
    """Hired work and fees: charged by the unit, nothing rounds up."""
    need = sum(line.need for line in lines)
    price = min(
        [price for price in prices if not price.least_packs] or prices, key=lambda price: (price.price / to_decimal(price.pack, CHARGED_PLACES), price.id)
    )
    return make_purchase(item.item, item, lines, price, need, 0)


def _left_over(bought: float, need: float, unit: str, pack: float) -> str:
    """What of whole packs remains, no finer than the need is said, of pieces the whole ones.

    Nothing where need and packs read alike, or where what is made to size goes by the foot.
    """
    need = whole_pieces(need) if unit == "each" else need
    alike = format_quantity(bought, unit) == format_quantity(need, unit)
    return "nothing" if alike or (unit == "sq ft" and pack == 1.0) else format_quantity(bought - need, unit, beside=need)


def make_purchase(name: str, item: Item, lines: Sequence[Line], price: Price, need: float, packs: int) -> Purchase:
    """A purchase at one price row; `need` is in the item's unit, `packs` 0 charges the need itself."""
    charged = float(packs) if packs else float(to_charged(need / price.pack))
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
        amount=round_cents(price.price * (packs or to_decimal(charged, CHARGED_PLACES))),
        taxable=item.taxable,
        used=min(1.0, need / bought) if packs else 1.0,
        left_over=_left_over(bought, need, item.unit, price.pack) if packs else "nothing",
        consumable=item.consumable,
    )
