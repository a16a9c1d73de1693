"""From lines to purchases: packs round up here and only here; pieces go through a cut plan."""

from collections.abc import Sequence

from kit.job import Job
from kit.lists import Item, Lists, Price
from kit.money import count_packs, round_cents, to_decimal
from kit.records import Kind, Line, Purchase

__all__ = ["plan_purchases"]

CHARGED_PLACES = 4


def plan_purchases(job: Job, lines: Sequence[Line], lists: Lists) -> tuple[Purchase, ...]:
    """One purchase for each item (for planned pieces: for each stock bought), hired work and fees among them."""
    wanted: dict[str, list[Line]] = {}
    for line in lines:
        if line.kind is not Kind.DO:
            wanted.setdefault(line.item, []).append(line)
    purchases: list[Purchase] = []
    for name, mine in wanted.items():
        item = lists.item(name)
        prices = lists.prices_on(name, job.identity.visit_date)
        purchases.append(_packed(item, mine, prices))
    return tuple(purchases)


def _packed(item: Item, lines: Sequence[Line], prices: Sequence[Price]) -> Purchase:
    need = sum(line.need for line in lines)
    goods = lines[0].kind is Kind.BUY
    choices = []
    for price in prices:
        packs = count_packs(need, price.pack) if goods else 0
        charged = float(packs) if goods else round(need / price.pack, CHARGED_PLACES)
        amount = round_cents(price.price * to_decimal(charged, CHARGED_PLACES))
        choices.append((amount, price.id, packs, charged, price))
    amount, _, packs, charged, price = min(choices)
    bought = packs * price.pack
    return Purchase(
        id=item.item,
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
        amount=amount,
        taxable=item.taxable,
        used=need / bought if bought else 1.0,
        left_over=f"{bought - need:.6g} {item.unit}" if bought > need else "nothing",
    )
