"""What does a contract cost, and what will it leave? Estimated with its changes against spent, by cost code and step; earned value; margin.

A step counts as done when a bill has gone out for a payment that is due with it or later, all of them when the contract is closed.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from kit.archive.compare_spent import SpentComparison, compare_spent
from kit.contract.events import Event
from kit.contract.spending import spent_rows
from kit.contract.state import ContractState, contract_state
from kit.earned_value import BudgetedWork, EarnedValue, measure_earned_value
from kit.estimate import Estimate
from kit.money import EXACT, sum_money
from kit.outlook import schedule_of
from kit.pricing.priced import step_of_purchase, work_order
from kit.steps import Step

__all__ = ["JobCost", "StepCost", "job_cost"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class StepCost:
    """Own work of one step: estimated with changes and spent [USD; worker-hours h], whether it is done."""

    step: Step
    name: str
    done: bool
    estimated: Decimal
    spent: Decimal
    hours_estimated: float
    hours_spent: float


@dataclass(frozen=True, slots=True)
class JobCost:
    """A contract's costs on a day [USD].

    `by_code` holds what the contract's estimate, changes among it, says against what was spent; `steps` the same of own work that names its step;
    `committed` is ordered and not billed yet, by cost code; `call_backs` is what of the spending was done again.
    """

    by_code: SpentComparison
    steps: tuple[StepCost, ...]
    earned: EarnedValue
    committed: dict[str, Decimal]
    call_backs: Decimal
    revenue: Decimal
    closed: bool

    @property
    def at_completion(self) -> Decimal:
        """What it will have cost: by cost code the larger of what was estimated and what is spent and ordered; what was spent, once it is closed."""
        if self.closed:
            return self.by_code.total.spent
        spent = {row.code: EXACT.add(row.spent, self.committed.get(row.code, _ZERO)) for row in self.by_code.codes}
        others = [amount for code, amount in self.committed.items() if code not in spent]
        return sum_money([*(max(row.estimated, spent[row.code]) for row in self.by_code.codes), *others])

    @property
    def margin_so_far(self) -> Decimal:
        """What the contract sum without its sales tax leaves over what was spent."""
        return EXACT.subtract(self.revenue, self.by_code.total.spent)

    @property
    def margin_at_completion(self) -> Decimal:
        """What it will leave over what it will have cost."""
        return EXACT.subtract(self.revenue, self.at_completion)

    @property
    def margin_estimated(self) -> Decimal:
        """What it leaves over direct cost as estimated with the changes."""
        return EXACT.subtract(self.revenue, self.by_code.total.estimated)


def job_cost(estimate: Estimate, events: Sequence[Event], day: dt.date) -> JobCost:
    """Where the costs of a contract stand.

    Parameters
    ----------
    estimate
        What the contract stands for on that day, signed changes among it.
    events
        The contract's events up to that day.
    day
        Up to which work should be done by the estimate's calendar.

    Raises
    ------
    KitError
        As `schedule_of`; LedgerError if an event can't follow those before it.

    Notes
    -----
    Earned value as in `kit.earned_value`: the budget of a step is its work and what is bought for it.
    """
    rows = spent_rows(events)
    state = contract_state(estimate.job.identity.job_number, events)
    done = _steps_done(estimate, state)
    spent = sum_money([row.amount for row in rows])
    work = list(_budgets(estimate, done, day))
    return JobCost(
        by_code=compare_spent(estimate, rows),
        steps=tuple(
            StepCost(
                step=task.step,
                name=estimate.lists.steps[task.step].name,
                done=task.step in done,
                estimated=task.amount,
                spent=sum_money([row.amount for row in rows if row.step == task.step]),
                hours_estimated=task.hours_likely,
                hours_spent=sum(row.hours for row in rows if row.step == task.step),
            )
            for task in estimate.tasks
            if task.trade == "crew"
        ),
        earned=measure_earned_value(work, max(spent, _ZERO)),
        committed=_committed(state),
        call_backs=sum_money([row.amount for row in rows if row.call_back]),
        revenue=EXACT.subtract(state.contract_sum, state.tax),
        closed=bool(state.closed),
    )


def _steps_done(estimate: Estimate, state: ContractState) -> set[Step]:
    order = work_order(estimate)
    if state.closed:
        return set(order)
    billed = {one.bill.draw for one in state.bills}
    reached = [order.index(draw.step) for draw in state.draws if draw.draw in billed and draw.step in order]
    return set(order[: max(reached) + 1]) if reached else set()


def _budgets(estimate: Estimate, done: set[Step], day: dt.date) -> list[BudgetedWork]:
    """Every step with its work and purchases; tax paid on purchases is due when the goods are received."""
    order, schedule = work_order(estimate), schedule_of(estimate).schedule
    ends = {row.step: row.finish.date() for row in schedule.steps}  # what stands on no calendar, such as ways, is done with the whole
    planned = {step: ends.get(step, schedule.finish.date()) <= day for step in order}
    amounts: dict[Step, list[Decimal]] = {step: [] for step in order}
    for task in estimate.tasks:
        amounts[task.step].append(task.amount)
    for purchase in estimate.purchases:
        amounts[step_of_purchase(estimate, purchase, order)].append(purchase.amount)
    tax = EXACT.subtract(estimate.cost, sum_money([amount for parts in amounts.values() for amount in parts]))
    amounts[Step.RECEIVE if Step.RECEIVE in amounts else order[0]].append(tax)

    return [BudgetedWork(step, sum_money(parts), Decimal(planned[step]), Decimal(step in done)) for step, parts in amounts.items() if parts]


def _committed(state: ContractState) -> dict[str, Decimal]:
    """What is ordered and not billed yet, by cost code: each order less the purchases under its number."""
    orders: dict[tuple[str, str], Decimal] = {}
    for one in state.ordered:
        key = (one.order, one.cost_code)
        orders[key] = EXACT.add(orders.get(key, _ZERO), one.amount)
    found: dict[str, Decimal] = {}
    for (order, code), amount in orders.items():
        billed = sum_money([one.amount for one in state.bought if (one.order, one.cost_code) == (order, code)])
        left = max(EXACT.subtract(amount, billed), _ZERO)
        found[code] = EXACT.add(found.get(code, _ZERO), left)
    return {code: amount for code, amount in found.items() if amount}
