"""What can turn out otherwise? Quantities with a spread, and events with a chance."""

from dataclasses import dataclass
from decimal import Decimal

from kit.errors import Fault
from kit.money import EXACT
from kit.records import Purchase, Task
from kit.steps import Step

__all__ = ["RiskItem", "SiteRisk", "check_site_risk", "price_item", "task_item", "waste_item"]


@dataclass(frozen=True, slots=True)
class RiskItem:
    """A quantity that the estimate takes at its likely value.

    `low`, `likely` and `high` are in `unit` (h, USD, or the unit of a purchase), each of which costs `cost_per_unit` [USD]; what
    the estimate holds for it is `base` [USD]. Items of one `group` move together as far as the correlation says; "" moves alone.
    When `pack` is more than 0, it is bought in whole packs of that size at `cost_per_unit` a pack, and `packs` of them are in `base`:
    only what goes beyond these costs more, and nothing is given back.
    """

    id: str
    label: str
    low: float
    likely: float
    high: float
    unit: str
    cost_per_unit: Decimal
    base: Decimal
    group: str = ""
    pack: float = 0.0
    packs: int = 0


@dataclass(frozen=True, slots=True)
class SiteRisk:
    """Something that the house may hold in store: a chance, and what it costs in money and worker-hours if it happens.

    `chance` is 0 to 1, costs are in USD (the hours not among them), hours are worker-hours. `applies_when` says in which jobs the row
    counts; choosing them is the caller's. For the finish: `step` takes the hours and is followed by `delay_days` elapsed days (a
    damaged sink is ordered again); without a step of this job the last own step does.
    """

    id: str
    label: str
    chance: float
    cost_low: Decimal
    cost_likely: Decimal
    cost_high: Decimal
    hours_low: float = 0.0
    hours_likely: float = 0.0
    hours_high: float = 0.0
    applies_when: str = ""
    step: Step | None = None
    delay_days: float = 0.0


def task_item(task: Task) -> RiskItem:
    """Make an item of a task's worker-hours at its rate, around its amount; all tasks are in the group "hours"."""
    return RiskItem(
        id=f"task:{task.step}",
        label=task.step.value,
        low=task.hours_low,
        likely=task.hours_likely,
        high=task.hours_high,
        unit="h",
        cost_per_unit=task.rate,
        base=task.amount,
        group="hours",
    )


def price_item(purchase: Purchase, spread: tuple[float, float], tax: Decimal = Decimal(0)) -> RiskItem:
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
        unit="USD",
        cost_per_unit=EXACT.add(Decimal(1), tax) if purchase.taxable else Decimal(1),
        base=purchase.amount,
        group="prices",
    )


def waste_item(purchase: Purchase, spread: tuple[float, float], tax: Decimal = Decimal(0)) -> RiskItem:
    """Make an item of how much of a purchase is needed, less and more by shares of that (-0.05, 0.10); it moves alone. Tax as above."""
    need = purchase.need
    return RiskItem(
        id=f"buy:{purchase.id}/waste",
        label=purchase.item,
        low=need * (1 + spread[0]),
        likely=need,
        high=need * (1 + spread[1]),
        unit=purchase.unit,
        cost_per_unit=EXACT.multiply(purchase.unit_price, EXACT.add(Decimal(1), tax)) if purchase.taxable else purchase.unit_price,
        base=Decimal(0),
        pack=purchase.pack,
        packs=purchase.packs,
    )


def check_site_risk(risk: SiteRisk) -> list[Fault]:
    """List what is wrong with a row: a chance outside 0 to 1, points below 0 or out of order, a delay below 0."""
    faults = []
    if not 0 <= risk.chance <= 1:
        faults.append(Fault(risk.id, f"a chance of {risk.chance:g} makes no sense. Wanted: 0 to 1."))
    costs = (float(risk.cost_low), float(risk.cost_likely), float(risk.cost_high))
    for what, points in (("cost", costs), ("hours", (risk.hours_low, risk.hours_likely, risk.hours_high))):
        if not 0 <= points[0] <= points[1] <= points[2] < float("inf"):
            faults.append(Fault(risk.id, f"{what} {points[0]:g}, {points[1]:g}, {points[2]:g}: wanted are low, likely and high, 0 or more, in this order."))
    if not 0 <= risk.delay_days < float("inf"):
        faults.append(Fault(risk.id, f"a delay of {risk.delay_days:g} days makes no sense. Wanted: 0 or more."))
    return faults
