"""What of a price is an allowance, and what is left out of it?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from kit.job import FilledJob
from kit.lists import Lists
from kit.money import EXACT, round_cents, times
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step

__all__ = ["ALLOWANCE", "Allowance", "Exclusion", "list_allowances", "list_exclusions"]

ALLOWANCE = "allowance"
_LEFT_OUT = {"excluded": "not part of this price", "stays": "what is there stays", "customer": "supplied by the customer"}


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


@dataclass(frozen=True, slots=True)
class Exclusion:
    """An item of the scope table that the price does not hold, or not whole."""

    item: str
    supplied_by: str
    installed_by: str
    says: str


def list_allowances(lines: Sequence[Line], purchases: Sequence[Purchase], tasks: Sequence[Task], lists: Lists) -> tuple[Allowance, ...]:
    """The lines whose source is `allowance`; each takes its share of what its purchase or task costs."""
    by_id = {line.id: line for line in lines}
    return tuple(
        Allowance(line.id, line.step, line.item, line.quantity, line.unit, line.basis, _cost(line, by_id, purchases, tasks, lists))
        for line in lines
        if line.source == ALLOWANCE
    )


def list_exclusions(job: FilledJob) -> tuple[Exclusion, ...]:
    """Items that are excluded, stay, are the customer's to supply, or are put in by the customer; in the order of the scope table."""
    return tuple(_exclusions(job))


def _exclusions(job: FilledJob) -> Iterator[Exclusion]:
    for name in type(job.scope).model_fields:
        row = getattr(job.scope, name)
        says = _LEFT_OUT.get(row.supplied_by, "")
        if row.installed_by == "customer":
            says = f"{says}, put in by the customer" if says else "put in by the customer"
        if says:
            yield Exclusion(name, row.supplied_by, row.installed_by, says)


def _cost(line: Line, by_id: dict[str, Line], purchases: Sequence[Purchase], tasks: Sequence[Task], lists: Lists) -> Decimal:
    if line.kind is Kind.DO:
        mine = [(task.amount, task.line_ids) for task in tasks if line.id in task.line_ids]
        weigh = {line_id: by_id[line_id].quantity * lists.rates[by_id[line_id].item].likely for _, ids in mine for line_id in ids}
    else:
        mine = [(purchase.amount, purchase.line_ids) for purchase in purchases if line.id in purchase.line_ids]
        weigh = {line_id: by_id[line_id].need for _, ids in mine for line_id in ids}
    whole = sum(weigh.values())
    amount = sum((amount for amount, _ in mine), Decimal(0))
    return round_cents(EXACT.divide(times(amount, weigh[line.id]), Decimal(repr(whole)))) if whole else Decimal("0.00")
