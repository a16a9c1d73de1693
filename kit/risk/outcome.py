"""What do the trials say? Quantiles, contingency, the chance to lose money, and what each driver does to price and margin."""

from array import array
from bisect import bisect_right
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from kit.errors import KitError
from kit.money import CENT_PLACES, EXACT, round_cents, to_decimal

__all__ = ["CostRisk", "Driver", "DriverEffect", "add_deviation", "rank_of", "weigh_driver"]


@dataclass(frozen=True, slots=True)
class Driver:
    """What one item or site risk does to the cost.

    `share` is its part of the variance (all parts sum to 1); `mean` what it adds on average; `low` and `high` what it adds [USD] at
    its tenth and ninetieth percentile, for a site risk 0 and what it costs on average when it happens. `chance` is None for an item.
    """

    id: str
    label: str
    share: float
    mean: Decimal
    low: Decimal
    high: Decimal
    chance: float | None


@dataclass(frozen=True, slots=True)
class DriverEffect:
    """The same driver seen in the price (when the price follows the cost) and in the margin (when the price stays).

    Price changes in USD; margin changes in shares of the price (-0.02 is two points less).
    """

    id: str
    label: str
    price_low: Decimal
    price_high: Decimal
    margin_low: float
    margin_high: float


@dataclass(frozen=True, slots=True)
class CostRisk:
    """The trials of a job's cost.

    `base` is the plain estimate [USD]; `deviations` [USD] hold, sorted, how far the trials lie from it. `drivers` come with the largest
    share first; what has no spread is not among them.
    """

    base: Decimal
    seed: int
    trials: int
    correlation: float
    mean: Decimal
    deviations: "array[float]"
    drivers: tuple[Driver, ...]

    def quantile(self, chance: float) -> Decimal:
        """Get the cost [USD] that this share of the trials does not exceed (0 to 1): 0.8 gives P80."""
        return add_deviation(self.base, self.deviations[rank_of(chance, self.trials)])

    def contingency(self, confidence: float) -> Decimal:
        """Get what to add to the plain estimate [USD] to hold with that confidence (0 to 1); negative when less would do."""
        return EXACT.subtract(self.quantile(confidence), self.base)

    def chance_to_lose(self, income: Decimal) -> float:
        """Get the share of trials that cost more than the job brings in.

        Parameters
        ----------
        income
            Price before tax collected [USD]; take overhead off it first to ask whether the job carries its overhead too.
        """
        room = float(EXACT.subtract(income, self.base))
        return (self.trials - bisect_right(self.deviations, room)) / self.trials


def rank_of(chance: float, trials: int) -> int:
    """Find the place (from 0) in a sorted list of trials that this share of them does not exceed; KitError outside 0 to 1."""
    if not 0 <= chance <= 1:
        raise KitError(f"A chance of {chance:g} can't be right. Give 0 to 1.")
    return max(0, ceil(chance * trials - 1e-9) - 1)


def weigh_driver(driver: Driver, *, income: Decimal, price_per_cost: float) -> DriverEffect:
    """Say what a driver does to price and margin.

    Parameters
    ----------
    driver
        From a `CostRisk`.
    income
        Price before tax collected [USD].
    price_per_cost
        By how much that price rises for one dollar more of direct cost when the terms stay as they are.

    Raises
    ------
    KitError
        A price of nothing has no margin.
    """
    if income <= 0:
        raise KitError(f"A price of {income} USD has no margin. Give the price before tax collected.")
    low, high = float(driver.low), float(driver.high)
    return DriverEffect(
        id=driver.id,
        label=driver.label,
        price_low=to_decimal(low * price_per_cost, CENT_PLACES),
        price_high=to_decimal(high * price_per_cost, CENT_PLACES),
        margin_low=-low / float(income),
        margin_high=-high / float(income),
    )


def add_deviation(base: Decimal, deviation: float) -> Decimal:
    """Add a deviation to an amount [USD], to the cent."""
    return EXACT.add(round_cents(base), to_decimal(deviation, CENT_PLACES))
