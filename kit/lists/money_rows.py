"""The frozen rows behind burden, state presets, change orders, draws and what we pay when."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.records import CostType
from kit.steps import Step

__all__ = [
    "COUNTED_AS",
    "DRAW_PAYS",
    "NO_PRESET",
    "TAX_MODES",
    "TAX_WHEN_BOUGHT",
    "BurdenPart",
    "ChangeRule",
    "CountedAs",
    "DrawRow",
    "PayTerm",
    "StatePreset",
    "TaxMode",
    "TaxWhenBought",
    "UnitPrice",
]

TaxMode = Literal["material-cost", "material-price", "everything", "exempt"]
TaxWhenBought = Literal["resale", "credit"]
TAX_WHEN_BOUGHT = ("resale", "credit")
TAX_MODES = ("material-cost", "material-price", "everything", "exempt")
CountedAs = Literal["paid-hours", "overtime-hours", "hours-off", "pay-added", "of-pay", "of-plain-pay", "a-year", "a-worked-hour"]
COUNTED_AS = ("paid-hours", "overtime-hours", "hours-off", "pay-added", "of-pay", "of-plain-pay", "a-year", "a-worked-hour")
NO_PRESET = "none"
DRAW_PAYS = ("deposit", "progress", "hold")


@dataclass(frozen=True, slots=True)
class BurdenPart:
    """One part of what a year of one worker costs.

    `counted_as` says how: `paid-hours` at the plain wage, leave among them; `overtime-hours` beyond those, `share` of the wage paid on
    top; `hours-off`, paid and not worked; `pay-added`, money that is pay too; `of-pay`, a share of all pay up to `up_to`; `of-plain-pay`,
    a share of the pay without what overtime puts on top; `a-year` and `a-worked-hour`, plain money.
    """

    part: str
    label: str
    counted_as: CountedAs
    hours: float | None
    share: float | None
    amount: Decimal | None
    up_to: Decimal | None
    currency: str
    says: str


@dataclass(frozen=True, slots=True)
class StatePreset:
    """What a state asks of sales tax and deposit in one kind of contract, as read on a day; the user confirms it with a tax adviser.

    A deposit is at most the lesser of `deposit_share` of the contract and `deposit_amount`; None sets no such limit. With
    `draws_follow_work` no later payment may run ahead of work done and goods delivered. Where tax is collected, `tax_when_bought` says how
    material is bought that is sold on: without tax on a resale certificate, or taxed and credited afterwards; None leaves it to the
    company. Rates are the user's own.
    """

    preset: str
    state: str
    tax_on: TaxMode
    deposit_share: float | None
    deposit_amount: Decimal | None
    currency: str
    draws_follow_work: bool
    dated: dt.date
    source: str
    says: str
    tax_when_bought: TaxWhenBought | None = None


@dataclass(frozen=True, slots=True)
class ChangeRule:
    """Markup on what a change order adds and on what it takes away, for one kind of cost; 0 credits at cost."""

    rule: str
    cost_type: CostType
    on_adds: float
    on_credits: float
    source: str
    says: str


@dataclass(frozen=True, slots=True)
class UnitPrice:
    """A price agreed in advance for something that may be found; `covers` names the drivers of rates.csv whose work it pays."""

    find: str
    label: str
    unit: str
    price: Decimal
    currency: str
    covers: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class DrawRow:
    """When the customer pays: at a step's end (None: at signing), and which share of the contract is earned by then."""

    draw: str
    label: str
    pays: Literal["deposit", "progress", "hold"]
    step: Step | None
    earned: float
    says: str


@dataclass(frozen=True, slots=True)
class PayTerm:
    """When we pay for a kind of cost, or one supplier's: a share at an earlier step, the rest some days after its own step."""

    cost_type: CostType
    supplier: str | None
    deposit: float
    deposit_step: Step | None
    rest_days: int
    says: str
