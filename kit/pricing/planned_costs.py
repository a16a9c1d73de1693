"""Which parts of the direct cost are planned under which cost code? The same cents as the rows for the books."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from kit.money import EXACT
from kit.pricing.priced import Priced
from kit.pricing.taxed import split_paid_tax
from kit.records import CostType, Task

__all__ = ["PlannedCost", "cost_by_code", "plan_costs"]


@dataclass(frozen=True, slots=True)
class PlannedCost:
    """A part of the direct cost [USD], and the task whose hours are in it, if any."""

    cost_code: str
    cost_type: CostType
    amount: Decimal
    task: Task | None = None


def plan_costs(job: Priced) -> Iterator[PlannedCost]:
    """The parts of the direct cost: purchases, own work, tax paid; they sum to it to the cent."""
    lists = job.lists
    for purchase in job.purchases:
        item = lists.item(purchase.item)
        yield PlannedCost(item.cost_code, item.cost_type, purchase.amount)
    for task in job.tasks:
        yield PlannedCost(lists.steps[task.step].cost_code, CostType.LABOR, task.amount, task)
    for (kind, code), amount in split_paid_tax(job).items():
        yield PlannedCost(code, kind, amount)


def cost_by_code(job: Priced) -> dict[str, Decimal]:
    """The direct cost [USD] by cost code, in the order in which the job meets them."""
    costs: dict[str, Decimal] = {}
    for part in plan_costs(job):
        costs[part.cost_code] = EXACT.add(costs.get(part.cost_code, Decimal("0.00")), part.amount)
    return costs
