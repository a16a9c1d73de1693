"""Which purchases do we pay sales tax on, and which part of that tax belongs to which cost code?"""

from decimal import Decimal

from kit.money import EXACT, split_cents
from kit.pricing.priced import Priced
from kit.records import CostType

__all__ = ["split_paid_tax", "taxed_purchases"]

_ZERO = Decimal("0.00")


def taxed_purchases(job: Priced) -> set[str]:
    """Ids of the purchases on which the build-up pays tax."""
    args = next((row.args for row in job.build_up if row.id == "taxable"), ())
    return {arg.removeprefix("buy:") for arg in args}


def split_paid_tax(job: Priced) -> dict[tuple[CostType, str], Decimal]:
    """The tax paid on purchases [USD] by cost type and cost code, in proportion to what was taxed; the parts sum to it to the cent."""
    amount, taxed = next((row.amount for row in job.build_up if row.id == "tax-paid"), _ZERO), taxed_purchases(job)
    groups: dict[tuple[CostType, str], Decimal] = {}
    for purchase in job.purchases:
        if purchase.id in taxed:
            item = job.lists.item(purchase.item)
            key = (item.cost_type, item.cost_code)
            groups[key] = EXACT.add(groups.get(key, _ZERO), purchase.amount)
    if not amount or not any(groups.values()):
        return {}
    return dict(zip(groups, split_cents(amount, tuple(groups.values())), strict=True))
