"""What was promised, as numbers: they stand in the document and hold whatever later code works out."""

import datetime as dt
from decimal import Decimal

from pydantic import BaseModel, ConfigDict

from kit.estimating import Estimate
from kit.labor.clock import last_day
from kit.lists.money_rows import ChangeFalls, DepositEarned
from kit.outlook import ahead_of, counted_from, plan_schedule
from kit.pricing.draws import DrawSchedule, plan_draws
from kit.pricing.planned_costs import cost_by_code
from kit.steps import Step

__all__ = ["PromisedFigures", "figures_of"]


class PromisedFigures(BaseModel):
    """Price, direct cost, sales tax collected with the price [USD], own hours, payments as planned, planned cost and hours, the rules of that day.

    `cost_by_code` sums to the cost. `change_falls`, `deposit_earned` and `pay_within_days` are the company's when it was issued.
    `starts_on` and `done_by` are the days on which work in the house was to start and all to be done, as the papers say; formats 1 to 3 hold neither.
    """

    model_config = ConfigDict(frozen=True, extra="ignore", allow_inf_nan=False)

    price: Decimal
    cost: Decimal
    tax_collected: Decimal
    hours: float
    payments: DrawSchedule
    cost_by_code: dict[str, Decimal]
    hours_by_step: dict[Step, float]
    change_falls: ChangeFalls
    deposit_earned: DepositEarned
    pay_within_days: int
    starts_on: dt.date | None = None
    done_by: dt.date | None = None


def figures_of(estimate: Estimate, day: dt.date, *, signed_on: dt.date | None = None) -> PromisedFigures:
    """The figures of an estimate as they are promised on the day of issue; its days count from the signature where the contract is signed already."""
    company, schedule = estimate.lists.company, plan_schedule(counted_from(estimate, signed_on) if signed_on else ahead_of(estimate, day))
    return PromisedFigures(
        price=estimate.price,
        cost=estimate.cost,
        tax_collected=estimate.amount("tax-collected"),
        hours=estimate.hours,
        payments=plan_draws(estimate),
        cost_by_code=cost_by_code(estimate),
        hours_by_step={task.step: task.hours_likely for task in estimate.tasks},
        change_falls=company.change_falls,
        deposit_earned=company.deposit_earned,
        pay_within_days=company.pay_within_days,
        starts_on=schedule.house_start,
        done_by=last_day(schedule.finish),
    )
