"""Whose is the sales tax on a purchase: ours as a cost, or the customer's as part of what it is sold with? Which cost code carries what we pay?"""

from decimal import Decimal

from kit.lists.money_rows import TaxMode
from kit.money import EXACT, split_cents
from kit.pricing.priced import Priced
from kit.records import CostType, Purchase

__all__ = ["COLLECTED", "pays_tax", "sells_with_tax", "split_paid_tax", "taxed_purchases"]

COLLECTED: tuple[TaxMode, ...] = ("material-price", "everything")
_ZERO = Decimal("0.00")


def pays_tax(purchase: Purchase, tax_on: TaxMode) -> bool:
    """Whether tax on a purchase stays a cost of ours.

    Notes
    -----
    Where we pay on what material costs, that is all material. Where tax is collected from the customer, it is what the work uses up:
    that is not sold on, so the tax on it is nobody else's (derived from tx-34-3-291 and ny-st-124, which tax or credit what becomes part
    of the house or goes to the customer). An exempt job pays none.
    """
    return purchase.taxable and (tax_on == "material-cost" or (tax_on in COLLECTED and purchase.consumable))


def sells_with_tax(purchase: Purchase, tax_on: TaxMode) -> bool:
    """Whether a purchase is sold on with tax: material that becomes part of the house, where tax is collected."""
    return purchase.taxable and tax_on in COLLECTED and not purchase.consumable


def taxed_purchases(job: Priced) -> set[str]:
    """Ids of the purchases on which the build-up pays tax."""
    return {arg.removeprefix("buy:") for row in job.build_up if row.id == "taxable" for arg in row.args if arg.startswith("buy:")}


def split_paid_tax(job: Priced) -> dict[tuple[CostType, str], Decimal]:
    """The tax paid on purchases [USD] by cost type and cost code, in proportion to what was taxed; the parts sum to it to the cent."""
    amount, taxed = job.amount("tax-paid"), taxed_purchases(job)
    groups: dict[tuple[CostType, str], Decimal] = {}
    for purchase in job.purchases:
        if purchase.id in taxed:
            item = job.lists.item(purchase.item)
            key = (item.cost_type, item.cost_code)
            groups[key] = EXACT.add(groups.get(key, _ZERO), purchase.amount)
    if not amount or not any(groups.values()):
        return {}
    return dict(zip(groups, split_cents(amount, tuple(groups.values())), strict=True))
