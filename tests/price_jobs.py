"""Jobs far from the examples under terms drawn by chance, for the tests and the bench of the price."""

import random
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any

from work_jobs import EXAMPLES, wander

from kit import Estimate, estimate
from kit.job import change_job

__all__ = ["CHOICES", "COMPANIES", "far_job"]

CHOICES: dict[str, tuple[Any, ...]] = {
    "terms.overhead_as": ("of-cost", "of-price"),
    "terms.profit_as": ("markup", "margin", "of-cost"),
    "terms.hired_as": ("as-own", "handling-first", "handling-only"),
    "terms.tax_on": ("material-cost", "material-price", "everything", "exempt"),
    "terms.tax_rounding": ("invoice", "item"),
    "terms.packs_charged": ("whole", "by-use"),
    "terms.round_to": ("0.01 USD", "1.00 USD", "5.00 USD", "10.00 USD"),
    "terms.overhead": ("0 %", "22 %", "17.35 %"),
    "terms.profit": ("0 %", "12 %", "8.25 %"),
    "terms.warranty": ("0 %", "1.5 %"),
    "terms.handling": ("0 %", "7.5 %"),
    "terms.contingency_amount": (None, "512.34 USD"),
    "terms.state_preset": ("none", "ca-lump-sum"),
    "terms.deposit": ("0 %", "10 %", "33.3 %"),
    "terms.hold": ("0 %", "10 %", "5 %"),
}

COMPANIES: dict[str, tuple[Any, ...]] = {
    "wage": (Decimal("34.00"), Decimal("27.35")),
    "burden": (0.0, 0.38, 0.4137),
    "least_charge": (Decimal("450.00"), Decimal("450.00"), Decimal("19876.54")),
    "tax_when_bought": ("resale", "credit"),
    "burden_from": ("share", "parts"),
}


@cache
def far_job(seed: int) -> Estimate:
    """An example with fields moved by chance, under terms drawn by chance, for a company drawn by chance; the same seed gives the same job."""
    chance = random.Random(seed)
    made = wander(EXAMPLES[seed % len(EXAMPLES)], seed)
    drawn = {place: chance.choice(options) for place, options in CHOICES.items()}
    if drawn["terms.state_preset"] != "none":
        drawn |= {"site.state": "ca"}
    company = replace(made.lists.company, **{name: chance.choice(options) for name, options in COMPANIES.items()})
    return estimate(change_job(made.job_as_read, drawn), replace(made.lists, company=company), exact=False)
