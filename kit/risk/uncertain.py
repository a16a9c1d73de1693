"""What can turn out otherwise? Quantities of an estimate with their spread; events with a chance are rows of `site_risks.csv`."""

from dataclasses import dataclass
from decimal import Decimal

from kit.money import EXACT
from kit.records import Purchase, Task

__all__ = ["RiskItem", "price_item", "task_item", "waste_item"]


@dataclass(frozen=True, slots=True)
class RiskItem:
    """A quantity that the estimate takes at its likely value.

    Each unit of `low`, `likely` and `high` (an hour, a dollar, a unit of a purchase) costs `cost_per_unit` [USD]; what the estimate
    holds for it is `base` [USD]. Items of one `group` move together as far as the correlation says; "" moves alone.
    When `pack` is more than 0, it is bought in whole packs of that size at `cost_per_unit` a pack, and `packs` of them are in `base`:
    only what goes beyond these costs more, and nothing is given back.
    """

    id: str
    label: str
    low: float
    likely: float
    high: float
    cost_per_unit: Decimal = Decimal()
    base: Decimal = Decimal()
    group: str = ""
    pack: float = 0.0
    packs: int = 0


def task_item(task: Task) -> RiskItem:
    """Make an item of a task's worker-hours at its rate, around its amount; all tasks are in the group "hours"."""
    return RiskItem(
        id=f"task:{task.step}",
        label=task.step.value,
        low=task.hours_low,
        likely=task.hours_likely,
        high=task.hours_high,
        cost_per_unit=task.rate,
        base=task.amount,
        group="hours",
    )


def price_item(purchase: Purchase, spread: tuple[float, float], tax: Decimal) -> RiskItem:
    """Make an item of a purchase's amount, which may go down and up by shares of itself (-0.05, 0.10); all are in the group "prices".

    Where it is taxable, a dollar more costs the tax on it too; the tax on the amount itself is not among `base`.
    """
    likely = float(purchase.amount)
    return RiskItem(
        id=f"buy:{purchase.id}/price",
        label=purchase.item,
        low=likely + abs(likely) * spread[0],
        likely=likely,
        high=likely + abs(likely) * spread[1],
        cost_per_unit=EXACT.add(Decimal(1), tax) if purchase.taxable else Decimal(1),
        base=purchase.amount,
        group="prices",
    )


def waste_item(purchase: Purchase, spread: tuple[float, float], tax: Decimal) -> RiskItem:
    """Make an item of how much of a purchase is needed, less and more by shares of that (-0.05, 0.10); it moves alone. Tax as above."""
    need = purchase.need
    return RiskItem(
        id=f"buy:{purchase.id}/waste",
        label=purchase.item,
        low=need * (1 + spread[0]),
        likely=need,
        high=need * (1 + spread[1]),
        cost_per_unit=EXACT.multiply(purchase.unit_price, EXACT.add(Decimal(1), tax)) if purchase.taxable else purchase.unit_price,
        pack=purchase.pack,
        packs=purchase.packs,
    )
