"""What does a contract cost, and what will it leave? Estimated with its changes against spent, by cost code and step; earned value; margin.

A step counts as done when a bill has gone out for a payment that is due with it or later, all of them when everything is billed or the contract is closed.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from kit.archive.compare_spent import SpentComparison, compare_spent
from kit.archive.spent import SpentRow
from kit.contract.events import Event
from kit.contract.following import contract_state
from kit.contract.spending import spent_rows
from kit.contract.state import ContractState
from kit.earned_value import BudgetedWork, EarnedValue, measure_earned_value
from kit.estimating import Estimate
from kit.labor.hours import HOURS_PLACES
from kit.money import EXACT, format_money, sum_money
from kit.outlook import counted_from, plan_schedule
from kit.pricing.priced import step_of_goods, step_of_purchase, work_order
from kit.steps import Step

__all__ = ["JobCost", "StepCost", "job_cost"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class StepCost:
    """One step [USD; worker-hours h]: its budget, work and what is bought for it; how much of that should be done by the day and how much is.

    `estimated` and `spent` are own work alone, changes among it: what is bought is known by cost code and not by step.
    """

    step: Step
    name: str
    budget: Decimal
    planned: Decimal
    earned: Decimal
    estimated: Decimal
    spent: Decimal
    hours_estimated: float
    hours_spent: float

    @property
    def done(self) -> bool:
        """Whether it counts as done."""
        return self.earned == self.budget


@dataclass(frozen=True, slots=True)
class JobCost:
    """A contract's costs on a day [USD].

    `by_code` holds what the contract's estimate, changes among it, says against what was spent; `steps` are those of the work in its order;
    `committed` is ordered and not billed yet, by cost code; `call_backs` is what of the spending was done again; `revenue` is the contract sum
    without its sales tax, or before the signature (`offered`) the price without it.
    """

    by_code: SpentComparison
    steps: tuple[StepCost, ...]
    earned: EarnedValue
    committed: dict[str, Decimal]
    call_backs: Decimal
    revenue: Decimal
    offered: bool
    closed: bool
    canceled: bool

    @property
    def at_completion(self) -> Decimal:
        """What it will have cost: by cost code the larger of what was estimated and what is spent and ordered; once it has ended, what was spent.

        Of a canceled one nothing more is done: what is spent and ordered.
        """
        if self.closed:
            return self.by_code.total.spent
        if self.canceled:
            return sum_money([self.by_code.total.spent, *self.committed.values()])
        spent = {row.code: EXACT.add(row.spent, self.committed.get(row.code, _ZERO)) for row in self.by_code.codes}
        others = [amount for code, amount in self.committed.items() if code not in spent]
        return sum_money([*(max(row.estimated, spent[row.code]) for row in self.by_code.codes), *others])

    @property
    def by_performance(self) -> Decimal | None:
        """What it will have cost if the rest goes like the billed work.

        None of a canceled one, and where more is spent than that work's budget and the cost codes that are over explain: then goods were bought or hours
        worked ahead of the bills, and what is spent says nothing of how the billed work went.
        """
        over = sum_money([max(row.difference, _ZERO) for row in self.by_code.codes])
        ahead = EXACT.subtract(self.by_code.total.spent, EXACT.add(self.earned.earned, over))
        return None if self.canceled or ahead > 0 else self.earned.estimate_at_completion()

    @property
    def without_step(self) -> str:
        """How many of the hours name no step, in a sentence; "" where all do."""
        spent = self.by_code.total.hours_spent
        left = round(spent - sum(row.hours_spent for row in self.steps), HOURS_PLACES)
        if not left:
            return ""
        if left == round(spent, HOURS_PLACES):
            return f"None of the {spent:,.2f} hours spent names a step: they stand by cost code only."
        return f"{left:,.2f} of {spent:,.2f} hours spent name no step: they stand by cost code only."

    def spent_on(self, step: StepCost) -> tuple[str, str]:
        """Own work spent on a step, and its hours; a dash for each where no row names it and hours without a step may be its own."""
        unknown = bool(self.without_step) and not (step.spent or step.hours_spent)
        return ("-", "-") if unknown else (format_money(step.spent), f"{step.hours_spent:.2f}")

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

    @property
    def outcome(self) -> tuple[tuple[str, Decimal], ...]:
        """What it costs and what is left, in words and amounts; nothing that there is none of, and nothing of what is to come once it has ended."""
        if self.closed:
            margin = None if self.canceled else self.margin_estimated
            ended = (
                ("Contract sum without its sales tax", self.revenue),
                ("Spent", self.by_code.total.spent),
                ("Ordered and not billed yet", sum_money(list(self.committed.values())) or None),
                ("Spent on call-backs", self.call_backs or None),
                ("Margin", self.margin_so_far),
                ("Margin as estimated, changes included", margin),
            )
            return tuple((what, amount) for what, amount in ended if amount is not None)
        sum_words = f"{'Price offered' if self.offered else 'Contract sum'} without its sales tax"
        rows = (
            (sum_words, self.revenue),
            ("Spent so far", self.by_code.total.spent),
            ("Ordered and not billed yet", sum_money(list(self.committed.values())) or None),
            ("Spent so far on call-backs", self.call_backs or None),
            ("Budget of the steps due by now (planned value)", self.earned.planned),
            ("Budget of the steps billed so far (earned value)", self.earned.earned),
            (f"Cost when all is done{'' if self.canceled else ': each cost code at least as estimated'}", self.at_completion),
            ("Cost when all is done, if the rest goes like the work billed so far", self.by_performance),
            (f"{sum_words}, less what was spent so far", self.margin_so_far),
            ("Margin when all is done", self.margin_at_completion),
            ("Margin as estimated, changes included", None if self.canceled else self.margin_estimated),
        )
        return tuple((what, amount) for what, amount in rows if amount is not None)


def job_cost(estimate: Estimate, events: Sequence[Event], day: dt.date) -> JobCost:
    """Where the costs of a contract stand.

    Parameters
    ----------
    estimate
        What the contract stands for on that day, signed changes among it.
    events
        The contract's events up to that day.
    day
        Up to which work should be done by the estimate's calendar, counted from the signature.

    Raises
    ------
    KitError
        As `plan_schedule`; LedgerError if an event can't follow those before it.

    Notes
    -----
    Earned value as in `kit.earned_value`: the budget of a step is its work and what is bought for it.
    """
    rows = spent_rows(events)
    state = contract_state(estimate.job.identity.job_number, events)
    done = _steps_done(estimate, state)
    spent = sum_money([row.amount for row in rows])
    work = _budgets(counted_from(estimate, state.signed_on) if state.signed_on else estimate, done, day)
    by_code = compare_spent(estimate, rows)
    revenue = EXACT.subtract(state.contract_sum, state.tax) if state.signed else by_code.revenue
    return JobCost(
        by_code=replace(by_code, revenue=revenue),
        steps=tuple(_step_cost(estimate, one, rows) for one in work),
        earned=measure_earned_value(work, max(spent, _ZERO)),
        committed=_committed(state),
        call_backs=sum_money([row.amount for row in rows if row.call_back]),
        revenue=revenue,
        offered=not state.signed,
        closed=bool(state.closed),
        canceled=bool(state.canceled),
    )


def _step_cost(estimate: Estimate, work: BudgetedWork, rows: Sequence[SpentRow]) -> StepCost:
    step = Step(work.name)
    own = [task for task in estimate.tasks if task.step is step and task.trade == "crew"]
    spent = [row for row in rows if row.step is step]
    return StepCost(
        step=step,
        name=estimate.step_names[step],
        budget=work.budget,
        planned=EXACT.multiply(work.budget, work.planned),
        earned=EXACT.multiply(work.budget, work.complete),
        estimated=sum_money([task.amount for task in own]),
        spent=sum_money([row.amount for row in spent]),
        hours_estimated=sum(task.hours_likely for task in own),
        hours_spent=sum(row.hours for row in spent),
    )


def _steps_done(estimate: Estimate, state: ContractState) -> set[Step]:
    order = work_order(estimate)
    billed = {one.bill.draw for one in state.bills}
    reached = [_place_of(draw.step, order, estimate) for draw in state.draws if draw.draw in billed and draw.step]
    if not state.canceled and (state.closed or (reached and not state.left)):  # the ways come after the last step that a payment waits for
        return set(order)
    return set(order[: max(reached, default=0)])


def _place_of(step: Step, order: Sequence[Step], estimate: Estimate) -> int:
    """How many steps are done with this one; where a change took it away, those that usually come before it."""
    if step in order:
        return order.index(step) + 1
    rows = estimate.lists.steps
    return max((place for place, one in enumerate(order, 1) if rows[one].order < rows[step].order), default=0)


def _budgets(estimate: Estimate, done: set[Step], day: dt.date) -> list[BudgetedWork]:
    """Every step with its work and purchases; tax paid on purchases is due when the goods are received."""
    order, schedule = work_order(estimate), plan_schedule(estimate).schedule
    ends = {row.step: row.finish.date() for row in schedule.steps}  # what stands on no calendar, such as ways, is done with the whole
    planned = {step: ends.get(step, schedule.finish.date()) <= day for step in order}
    amounts: dict[Step, list[Decimal]] = {step: [] for step in order}
    for task in estimate.tasks:
        amounts[task.step].append(task.amount)
    for purchase in estimate.purchases:
        amounts[step_of_purchase(estimate, purchase, order)].append(purchase.amount)
    tax = EXACT.subtract(estimate.cost, sum_money([amount for parts in amounts.values() for amount in parts]))
    amounts[step_of_goods(order)].append(tax)

    return [BudgetedWork(step, sum_money(parts), Decimal(planned[step]), Decimal(step in done)) for step, parts in amounts.items() if parts]


def _committed(state: ContractState) -> dict[str, Decimal]:
    """What is ordered and not billed yet, by cost code: each order less the purchases under its number."""
    orders: dict[tuple[str, str], Decimal] = {}
    for one in state.ordered:
        key = (one.order, one.cost_code)
        orders[key] = EXACT.add(orders.get(key, _ZERO), one.amount)
    committed: dict[str, Decimal] = {}
    for (order, code), amount in orders.items():
        billed = sum_money([one.amount for one in state.bought if (one.order, one.cost_code) == (order, code)])
        left = max(EXACT.subtract(amount, billed), _ZERO)
        committed[code] = EXACT.add(committed.get(code, _ZERO), left)
    return {code: amount for code, amount in committed.items() if amount}
