"""What of a price is an allowance?"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from kit.lists import Lists
from kit.money import EXACT, round_cents, sum_money, times
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step
from kit.takeoff.sheet import ALLOWANCE

__all__ = ["Allowance", "list_allowances"]


@dataclass(frozen=True, slots=True)
class Allowance:
    """A line that nobody measured: its quantity was taken, not found. `cost` is its part of our direct cost [USD], tax left aside."""

    line_id: str
    step: Step
    item: str
    quantity: float
    unit: str
    basis: str
    cost: Decimal


def list_allowances(lines: Sequence[Line], purchases: Sequence[Purchase], tasks: Sequence[Task], lists: Lists) -> tuple[Allowance, ...]:
    """The lines whose source is `allowance`; each takes its share of what its purchase or task costs."""
    by_id = {line.id: line for line in lines}
    return tuple(
        Allowance(line.id, line.step, line.item, line.quantity, line.unit, line.basis, _cost(line, by_id, purchases, tasks, lists))
        for line in lines
        if line.source == ALLOWANCE
    )


def _cost(line: Line, by_id: dict[str, Line], purchases: Sequence[Purchase], tasks: Sequence[Task], lists: Lists) -> Decimal:
    if line.kind is Kind.DO:
        mine = [(task.amount, task.line_ids) for task in tasks if line.id in task.line_ids]
        weigh = {line_id: by_id[line_id].quantity * lists.rates[by_id[line_id].item].likely_h for _, ids in mine for line_id in ids}
    else:
        mine = [(purchase.amount, purchase.line_ids) for purchase in purchases if line.id in purchase.line_ids]
        weigh = {line_id: by_id[line_id].need for _, ids in mine for line_id in ids}
    whole = sum(weigh.values())
    amount = sum_money([amount for amount, _ in mine])
    return round_cents(EXACT.divide(times(amount, weigh[line.id]), Decimal(repr(whole)))) if whole else Decimal("0.00")
