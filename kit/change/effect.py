"""What a change order does to the days of the job and to the customer's payments."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kit.change.priced_change import ChangeOrder
from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.money import require_money
from kit.outlook import plan_schedule
from kit.pricing.draws import plan_draws

__all__ = ["ChangedDays", "ChangedDraw", "change_days", "change_draws"]


@dataclass(frozen=True, slots=True)
class ChangedDays:
    """What a change does to the calendar: the day on which all is done, and the days without a sink (a lent one counts), before and after."""

    done_before: date
    done_after: date
    without_sink_before: float | None
    without_sink_after: float | None

    @property
    def later(self) -> int:
        """By how many days of the calendar all is done later; below 0 for earlier."""
        return (self.done_after - self.done_before).days


def change_days(old: Estimate, new: Estimate) -> ChangedDays:
    """The calendars of both estimates, each as if it had been the contract from the start. Raises KitError as `kit.outlook.plan_schedule`."""
    before, after = plan_schedule(old), plan_schedule(new)
    return ChangedDays(last_day(before.finish), last_day(after.finish), _without_sink(old, before), _without_sink(new, after))


def _without_sink(estimate: Estimate, schedule: JobSchedule) -> float | None:
    """A temporary sink counts as one where it is lent."""
    return schedule.days_with_temporary_sink if estimate.job.terms.temporary_sink else schedule.days_without_sink


@dataclass(frozen=True, slots=True)
class ChangedDraw:
    """A payment of the customer [USD], until now and from now on; 0 where there is none. `paid` and `billed` ones stay as they are."""

    id: str
    label: str
    paid: bool
    before: Decimal
    after: Decimal
    billed: bool = False


def change_draws(order: ChangeOrder, old: Estimate, new: Estimate, *, paid: Sequence[Decimal | str] | None = None) -> tuple[ChangedDraw, ...]:
    """The customer's payments before a change and with it: together the contract sum before and after.

    Parameters
    ----------
    order, old, new
        The change order and its two estimates.
    paid
        What the customer has paid so far [USD], payment by payment; None for the deposit that the contract plans.

    Raises
    ------
    PriceError
        If as many payments were made as the contract has, one of them below 0, a float or no money, or the change leaves no contract sum.
    """
    if order.contract_after <= 0:
        raise PriceError(Fault(f"change order {order.number}", f"leaves a contract sum of {order.contract_after}."))
    planned = plan_draws(old, contract=order.contract_before).draws
    amounts = [draw.due for draw in planned if draw.step is None] if paid is None else [require_money(amount, "payments made") for amount in paid]
    if len(amounts) >= len(planned):
        raise PriceError(
            Fault("payments made", f"are {len(amounts)} of the {len(planned)} that the contract has: after the last one there is nothing to change.")
        )
    if any(amount < 0 for amount in amounts):
        raise PriceError(Fault("payments made", "One is below 0."))
    paid_by_draw = {draw.id: amount for draw, amount in zip(planned, amounts, strict=False)}
    plans = [plan_draws(one, contract=contract, paid=paid_by_draw).draws for one, contract in ((old, order.contract_before), (new, order.contract_after))]
    before, after = ({draw.id: draw.due for draw in plan} for plan in plans)
    labels = {draw.id: draw.label for plan in plans for draw in plan}  # as the changed work has it, where it still has it
    zero = Decimal("0.00")
    return tuple(
        ChangedDraw(row.draw, labels[row.draw], row.draw in paid_by_draw, before.get(row.draw, zero), after.get(row.draw, zero))
        for row in new.lists.draws
        if row.draw in labels
    )
