"""Terms of this job that differ from the company's own. What is left out is the company's."""

import datetime as dt
from decimal import Decimal
from typing import Literal

from kit.job.fields import Record, choice, count, day, flag, measure, money, text
from kit.lists.money_rows import HiredAs, OverheadAs, ProfitAs, TaxMode, TaxRounding

__all__ = ["Terms"]


class Terms(Record):
    """Every field is optional: empty means "as in the company file".

    A contingency as an amount stands in place of the share; confidence and seed say which trials gave it.
    """

    overhead_share: float | None = measure("share", "Overhead on direct cost", 0, 1, optional=True)
    overhead_as: OverheadAs | None = choice("Overhead as a share of direct cost, or of the price before tax collected", optional=True)
    profit_share: float | None = measure("share", "Profit, as the company's way of counting it says", 0, 0.9, optional=True)
    profit_as: ProfitAs | None = choice(
        "Profit as markup on cost with overhead, as margin on price, or as a share of direct cost beside overhead", optional=True
    )
    hired_as: HiredAs | None = choice(
        "Hired trades: overhead and profit as on own work, the same with handling added first, or handling in their place", optional=True
    )
    handling_share: float | None = measure("share", "Handling on what hired trades cost us", 0, 0.5, optional=True)
    warranty_share: float | None = measure("share", "Warranty reserve on material, labor and hired work", 0, 0.2, optional=True)
    contingency_share: float | None = measure("share", "Contingency on direct cost", 0, 0.5, optional=True)
    contingency_amount: Decimal | None = money("Contingency as an amount, in place of the share", 100_000, optional=True)
    contingency_confidence_share: float | None = measure("share", "Share of the trials in which that amount is enough", 0, 1, optional=True)
    contingency_seed: int | None = count("Number that started the trials that gave that amount", 0, 2_147_483_647, optional=True)
    waste_share: float | None = measure("share", "Waste on every bought quantity, in place of each item's own", 0, 0.3, optional=True)
    hours_factor: float | None = measure("share", "All hours times this; 100 % leaves them", 0.5, 2, optional=True)
    tax_share: float | None = measure("share", "Sales-tax rate", 0, 0.2, optional=True)
    tax_on: TaxMode | None = choice("What sales tax falls on: what material costs us, its stated price, the whole price, or nothing", optional=True)
    tax_rounding: TaxRounding | None = choice("Sales tax rounded once on the whole, or on each purchase", optional=True)
    material_markup_share: float | None = measure("share", "Markup in the stated price of material on which tax falls", 0, 1, optional=True)
    state_preset: str | None = text("Row of the list of state presets that says what tax falls on and caps the deposit, or none", optional=True)
    packs_charged: Literal["whole", "by-use"] | None = choice("Opened packs charged whole, or by the share that the job uses", optional=True)
    round_to: Decimal | None = money("The price before tax collected is rounded to the nearest of these; 0.01 USD leaves it to the cent", 1000, optional=True)
    hold_share: float | None = measure("share", "Held back from each draw until the punch list is done", 0, 0.5, optional=True)
    deposit_share: float | None = measure("share", "Deposit asked from the customer", 0, 0.5, optional=True)
    validity_days: int | None = count("Days for which the price holds", 1, 90, optional=True)
    crew: int | None = count("People in the crew", 1, 6, optional=True)
    extra_trips: int | None = count("Trips beyond what the steps need", 0, 10, optional=True)
    temporary_sink: bool = flag("A temporary sink on loan while the kitchen waits for its countertop", default=False)
    signed_on: dt.date | None = day("Day on which the customer signed, once it is known; until then the company's days after the visit", optional=True)
    permit_fee: Decimal | None = money("Permit fee of this place", 5000, optional=True)
