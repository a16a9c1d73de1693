"""Whose is the sales tax on a purchase: ours as a cost, or the customer's as part of what it is sold with?"""

from kit.lists import TaxMode
from kit.records import Purchase

__all__ = ["COLLECTED", "pays_tax", "sells_with_tax"]

COLLECTED: tuple[TaxMode, ...] = ("material-price", "everything")


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
