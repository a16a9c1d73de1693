"""How does a job stand against its budget and its dates? Earned value, by the terms of the field.

Percent complete, budget at completion (BAC), planned value (PV), earned value (EV), actual cost (AC), the variances and indices that
follow from them, and the estimate at completion (EAC). EV, CV, SV, CPI and SPI as wideman-earned-value defines them (a page of the general web);
EAC at budget and at cost performance as on the slides of dau-earned-value. From memory: EAC by both indices, VAC, and TCPI to the budget.
No worked example of EAC, VAC or TCPI was read: the tests work these by hand.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.errors import Fault, PriceError
from kit.money import EXACT, require_decimal, require_money, round_cents, sum_money, times

__all__ = ["BudgetedWork", "EarnedValue", "Remaining", "measure_earned_value", "percent_complete_by_cost"]

Remaining = Literal["at budget", "at cost performance", "at cost and schedule performance"]
"""How the work that is left will go: as it was budgeted, as it cost so far, or as it cost and lagged so far."""

ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class BudgetedWork:
    """A part of the work with its budget [USD], and the shares (0 to 1) that should be done by now and that are done."""

    name: str
    budget: Decimal
    planned: Decimal
    complete: Decimal


@dataclass(frozen=True, slots=True)
class EarnedValue:
    """Where a job stands on a day.

    Parameters
    ----------
    budget
        Budget at completion, BAC [USD].
    planned
        Planned value, PV: budget of the work that should be done by now [USD].
    earned
        Earned value, EV: budget of the work that is done [USD].
    actual
        Actual cost of the work that is done, AC [USD].

    Notes
    -----
    A figure that would be divided by nothing is None: no cost yet, nothing planned or nothing earned yet.
    """

    budget: Decimal
    planned: Decimal
    earned: Decimal
    actual: Decimal

    @property
    def percent_complete(self) -> Decimal | None:
        """EV / BAC [%]."""
        share = _divided(self.earned, self.budget)
        return None if share is None else times(share, 100)

    @property
    def cost_variance(self) -> Decimal:
        """CV = EV - AC [USD]; below 0: over cost."""
        return self.earned - self.actual

    @property
    def schedule_variance(self) -> Decimal:
        """SV = EV - PV [USD]; below 0: behind."""
        return self.earned - self.planned

    @property
    def cost_performance(self) -> Decimal | None:
        """CPI = EV / AC: what each dollar spent has earned."""
        return _divided(self.earned, self.actual)

    @property
    def schedule_performance(self) -> Decimal | None:
        """SPI = EV / PV: work done for each dollar of work planned."""
        return _divided(self.earned, self.planned)

    def estimate_at_completion(self, remaining: Remaining = "at cost performance") -> Decimal | None:
        """EAC [USD], rounded to the cent: AC + (BAC - EV), or AC + (BAC - EV) / CPI, or AC + (BAC - EV) / (CPI x SPI).

        With an estimate of what is left worked out anew (ETC), EAC is AC plus that.
        """
        left, factors = (
            self.budget - self.earned,
            {
                "at budget": (),
                "at cost performance": (self.cost_performance,),
                "at cost and schedule performance": (self.cost_performance, self.schedule_performance),
            }[remaining],
        )
        for factor in factors:
            if not factor:
                return None
            left = EXACT.divide(left, factor)
        return round_cents(self.actual + left)

    def variance_at_completion(self, remaining: Remaining = "at cost performance") -> Decimal | None:
        """VAC = BAC - EAC [USD]; below 0: more than the budget."""
        estimate = self.estimate_at_completion(remaining)
        return None if estimate is None else self.budget - estimate

    @property
    def to_complete_performance(self) -> Decimal | None:
        """TCPI = (BAC - EV) / (BAC - AC): how well the rest must go to end within the budget; None when it is spent."""
        return _divided(self.budget - self.earned, self.budget - self.actual) if self.actual < self.budget else None


def measure_earned_value(work: Sequence[BudgetedWork], actual: Decimal | str) -> EarnedValue:
    """Add up planned and earned value of the parts of a job.

    Parameters
    ----------
    work
        Parts with budget and shares.
    actual
        Cost of what is done so far [USD]: a Decimal, or text such as "600.00 USD".

    Raises
    ------
    PriceError
        A float for money or share, a share outside 0 to 1, a cost or budget below 0; all faults together.

    Examples
    --------
    >>> part = BudgetedWork("counter", Decimal(1000), planned=Decimal("0.5"), complete=Decimal("0.4"))
    >>> measure_earned_value([part], Decimal(600)).estimate_at_completion()
    Decimal('1500.00')
    """
    faults: list[Fault] = []
    for part in work:
        faults += _faults(part)
    spent = require_money(actual, "actual")
    if spent < 0:
        faults.append(Fault("actual", f"{spent} was given; give 0 or more."))
    if faults:
        raise PriceError(faults)
    planned = [round_cents(times(part.budget, part.planned)) for part in work]
    earned = [round_cents(times(part.budget, part.complete)) for part in work]
    return EarnedValue(sum_money([part.budget for part in work]), sum_money(planned), sum_money(earned), spent)


def percent_complete_by_cost(cost_to_date: Decimal, cost_to_complete: Decimal) -> Decimal:
    """Percent complete as the cost to date in the whole cost now expected [%] (cost to cost). Raises PriceError on a float, a cost below 0, or none."""
    spent, left = require_decimal(cost_to_date, "cost_to_date"), require_decimal(cost_to_complete, "cost_to_complete")
    faults = [Fault(name, f"{cost} was given; give 0 or more.") for name, cost in (("cost_to_date", spent), ("cost_to_complete", left)) if cost < 0]
    share = _divided(spent, spent + left)
    if faults or share is None:
        raise PriceError(faults or [Fault("cost_to_complete", "No cost to date and none to come: nothing to measure.")])
    return times(share, 100)


def _faults(part: BudgetedWork) -> list[Fault]:
    faults: list[Fault] = []
    for field in ("budget", "planned", "complete"):
        try:
            amount = require_decimal(getattr(part, field), f"{part.name}, {field}")
        except PriceError as error:
            faults += error.faults
            continue
        if amount < 0 or (field != "budget" and amount > ONE):
            faults.append(Fault(f"{part.name}, {field}", f"{amount} was given; give {'0 or more' if field == 'budget' else 'a share from 0 to 1'}."))
    return faults


def _divided(above: Decimal, below: Decimal) -> Decimal | None:
    return EXACT.divide(above, below) if below else None
