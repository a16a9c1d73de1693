"""Terms of this job that differ from the company's own. What is left out is the company's."""

import datetime as dt
from decimal import Decimal
from typing import Literal

from kit.job.fields import Record, choice, count, day, flag, measure, money

__all__ = ["Terms"]


class Terms(Record):
    """Every field is optional: empty means "as in the company file".

    A contingency as an amount stands in place of the share; confidence and seed say which trials gave it.
    """

    overhead_share: float | None = measure("share", "Overhead on direct cost", 0, 1, optional=True)
    profit_share: float | None = measure("share", "Profit, as the company's way of counting it says", 0, 0.9, optional=True)
    profit_as: Literal["markup", "margin"] | None = choice("Profit as markup on cost, or as margin on price", "markup", "margin", optional=True)
    contingency_share: float | None = measure("share", "Contingency on direct cost", 0, 0.5, optional=True)
    contingency_amount: Decimal | None = money("Contingency as an amount, in place of the share", 100_000, optional=True)
    contingency_confidence_share: float | None = measure("share", "Share of the trials in which that amount is enough", 0, 1, optional=True)
    contingency_seed: int | None = count("Seed of the trials that gave that amount", 0, 2_147_483_647, optional=True)
    waste_share: float | None = measure("share", "Waste on every bought quantity, in place of each item's own", 0, 0.3, optional=True)
    hours_factor: float | None = measure("share", "All hours times this; 100 % leaves them", 0.5, 2, optional=True)
    tax_share: float | None = measure("share", "Sales-tax rate", 0, 0.2, optional=True)
    tax_on: Literal["material-cost", "exempt"] | None = choice("What sales tax falls on", "material-cost", "exempt", optional=True)
    deposit_share: float | None = measure("share", "Deposit asked from the customer", 0, 0.5, optional=True)
    validity_days: int | None = count("Days for which the price holds", 1, 90, optional=True)
    crew: int | None = count("People in the crew", 1, 6, optional=True)
    extra_trips: int | None = count("Trips beyond what the steps need", 0, 10, optional=True)
    temporary_sink: bool = flag("A temporary sink is lent while the kitchen waits for its counter", default=False)
    signed_on: dt.date | None = day("Day on which the customer signed, once it is known; until then the company's days after the visit", optional=True)
    permit_fee: Decimal | None = money("Permit fee of this place", 5000, optional=True)
