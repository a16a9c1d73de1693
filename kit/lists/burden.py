"""What an hour of the own crew costs, from its parts: a year of one worker over the hours worked in it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from kit.errors import ListError
from kit.lists.money_rows import BurdenPart
from kit.money import EXACT, round_cents, sum_money, times, to_decimal

__all__ = ["Burden", "add_up_burden"]

SHARE_PLACES = 6
_ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class Burden:
    """A year of one worker [USD, h]: the hours worked, all pay, and each further part by its name, to the cent."""

    wage: Decimal
    worked_h: float
    pay: Decimal
    parts: tuple[tuple[str, Decimal], ...]

    @property
    def total(self) -> Decimal:
        """Pay and parts."""
        return EXACT.add(self.pay, sum_money([amount for _, amount in self.parts]))

    @property
    def cost_of_hour(self) -> Decimal:
        """The total over the worked hours [USD/h], not rounded."""
        return EXACT.divide(self.total, to_decimal(self.worked_h, SHARE_PLACES))

    @property
    def share(self) -> Decimal:
        """What comes on the wage, as a share of it, to six places."""
        return to_decimal(EXACT.subtract(EXACT.divide(self.cost_of_hour, self.wage), Decimal(1)), SHARE_PLACES)


@lru_cache(maxsize=32)
def add_up_burden(wage: Decimal, parts: Sequence[BurdenPart]) -> Burden:
    """The year of one worker.

    Parameters
    ----------
    wage
        Plain wage [USD/h], more than 0.
    parts
        A tuple of rows as `burden.csv` holds them.

    Raises
    ------
    ListError
        If no hours are left that are worked, or the wage is nothing.

    Notes
    -----
    Taxes that stop at a limit (`up_to`) are money a year, so that no constant share of the wage gives them; everything is divided by the
    hours worked, not by the hours paid.
    """
    of = {kind: [part for part in parts if part.counted_as == kind] for kind in ("paid-hours", "overtime-hours", "hours-off", "pay-added")}
    paid_h, off_h, overtime_h = (sum_money([_exact(part.hours) for part in of[kind]]) for kind in ("paid-hours", "hours-off", "overtime-hours"))
    at_wage_h = EXACT.add(paid_h, overtime_h)
    worked_h = EXACT.subtract(at_wage_h, off_h)
    if worked_h <= 0 or wage <= 0:
        raise ListError(f"A year of {float(worked_h):g} worked hours at a wage of {wage} has no cost per hour: both must be above 0.")
    added = sum_money([part.amount or _ZERO for part in of["pay-added"]])
    plain = round_cents(EXACT.add(times(wage, at_wage_h), added))
    on_top = sum_money([times(times(wage, _exact(part.hours)), _exact(part.share)) for part in of["overtime-hours"]])
    pay = round_cents(EXACT.add(plain, on_top))
    further = [(part.part, _cost(part, pay, plain, worked_h)) for part in parts if part.counted_as not in of]
    return Burden(wage, float(worked_h), pay, tuple((name, round_cents(amount)) for name, amount in further))


def _cost(part: BurdenPart, pay: Decimal, plain: Decimal, worked_h: Decimal) -> Decimal:
    """What a part costs in the year [USD]."""
    if part.counted_as in {"of-pay", "of-plain-pay"}:
        base = pay if part.counted_as == "of-pay" else plain
        return times(base if part.up_to is None else min(base, part.up_to), _exact(part.share))
    amount = part.amount or _ZERO
    return times(amount, worked_h) if part.counted_as == "a-worked-hour" else amount


def _exact(value: float | None) -> Decimal:
    return to_decimal(value or 0.0, SHARE_PLACES)
