"""What a change order does to the days of the job and to the customer's payments."""

from dataclasses import dataclass
from datetime import date

from kit.change.order import ChangeOrder
from kit.errors import Fault, PriceError
from kit.estimate import Estimate
from kit.labor.job_schedule import JobSchedule
from kit.outlook import schedule_of
from kit.pricing import DrawSchedule, plan_draws

__all__ = ["ChangedDays", "change_days", "change_draws"]


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
    """The calendars of both estimates, each as if it had been the contract from the start.

    Raises
    ------
    KitError
        As `kit.outlook.schedule_of`.
    """
    before, after = schedule_of(old), schedule_of(new)
    return ChangedDays(before.finish.date(), after.finish.date(), _without_sink(old, before), _without_sink(new, after))


def _without_sink(made: Estimate, schedule: JobSchedule) -> float | None:
    """A temporary sink counts as one where it is lent."""
    return schedule.days_with_temporary_sink if made.job.terms.temporary_sink else schedule.days_without_sink


def change_draws(order: ChangeOrder, old: Estimate, new: Estimate, *, paid: int) -> tuple[DrawSchedule, DrawSchedule]:
    """The customer's payments before a change and with it; the first `paid` of them were made already and stay.

    Raises
    ------
    PriceError
        If the contract had fewer payments, or the change leaves no contract sum.
    """
    if order.contract_after <= 0:
        raise PriceError(Fault(f"change order {order.number}", f"leaves a contract sum of {order.contract_after}."))
    before = plan_draws(old, contract=order.contract_before)
    if not 0 <= paid <= len(before.draws):
        raise PriceError(Fault("payments made", f"{paid} is not from 0 to {len(before.draws)}, which the contract has."))
    return before, plan_draws(new, contract=order.contract_after, paid={draw.id: draw.due for draw in before.draws[:paid]})
