"""How the work goes: steps, hours, order, hired trades, what is waited for, what the house may hold in store."""

import math
from decimal import Decimal
from typing import Literal

from kit.incoming import MOST_DAYS, MOST_HOURS, MOST_PEOPLE, MOST_TIMES
from kit.lists.column_rules import choice, count, currency_code, list_row, measure, money, number, text, words
from kit.lists.condition_names import CONDITIONS
from kit.lists.goods_rows import UNITS
from kit.steps import Step
from kit.units import format_amount

__all__ = ["ALL_STEPS", "LEADS", "STEPS", "Factor", "Hired", "LeadTime", "OrderRule", "Rate", "SiteRiskRow", "StepRow"]

STEPS = tuple(str(step) for step in Step)
ALL_STEPS = "all"
LEADS = (
    "goods",
    "customer-goods",
    "abatement-firm",
    "clearance",
    "customer-firm",
    "permit",
    "inspection",
    "fabrication",
    "blank-coats",
    "coat-dry",
    "curing",
    "bed-sets",
    "grout-cures",
)  # what is waited for that is neither an item nor a cost code
Clock = Literal["working", "elapsed"]


@list_row("steps.csv", "Steps of the work: exactly one row each")
class StepRow:
    """The trade's data of one step."""

    step: Step = choice("The step", key=True)
    name: str = text("Name as people read it")
    order: int = count("Place in the usual order")
    crew: int = count("Least people", low=1, high=MOST_PEOPLE)
    crew_most: int = count("Most people who can work at it at once", low=1, high=MOST_PEOPLE)
    after: tuple[str, ...] | None = words("Steps that must end first", STEPS)
    wait_h: float = measure("time", "Time that must pass after the step")
    clock: Clock = choice("Whether that time runs in working hours or around the clock")
    cost_code: str = text("Own cost code", refers="cost_codes.csv")
    trade: str = text("crew, or the trade that is hired for it")
    tools: str = text("Tools to bring, for the crew sheet", default="")


_WHOLE_FROM = 10.0


@list_row("rates.csv", "Rates: worker-hours for one unit of work")
class Rate:
    """Worker-hours for one unit of a `do` line's item."""

    driver: str = text("Own short name of the work", key=True)
    name: str = text("Name as people read it")
    step: Step = choice("The step it belongs to", refers="steps.csv")
    unit: str = choice("Unit in which it is counted", UNITS)
    low_h: float = measure("time", "Worker-hours for one unit when all goes well", high=MOST_HOURS)
    likely_h: float = measure("time", "Worker-hours for one unit as a rule", high=MOST_HOURS)
    high_h: float = measure("time", "Worker-hours for one unit when it goes badly", high=MOST_HOURS)
    crew: int = count("Least people", low=1, high=MOST_PEOPLE)
    source: str = text("Where the figure comes from; demo: made up")
    says: str = text("What is counted, in the plural, as a crew says it behind a number: doors hung; of old sealant cut")
    says_one: str | None = text("The same for one, where it is counted by the piece: door hung", default=None)

    @property
    def is_policy(self) -> bool:
        """Whether it is counted in hours itself, such as the minimum of a short visit: the firm chose it, no work takes longer or shorter by it."""
        return self.unit == "h"

    def count_words(self, quantity: float) -> str:
        """A quantity as a crew says it: "560 ft carrying goods in"; to the foot or pound from ten on, to the half below, half up; below one foot in inches."""
        if self.unit == "each":
            return f"{format_amount(quantity)} {(self.says_one if quantity == 1 else None) or self.says}"
        if self.unit == "ft" and quantity < 1.0:
            return f"{max(1, _half_up(quantity * 12.0))} in {self.says}"
        if quantity >= _WHOLE_FROM:
            return f"{_half_up(quantity):,} {self.unit} {self.says}"
        whole, half = divmod(max(1, _half_up(quantity * 2.0)), 2)
        return f"{f'{whole} 1/2' if whole and half else whole or '1/2'} {self.unit} {self.says}"


def _half_up(value: float) -> int:
    return math.floor(value + 0.5)


@list_row("factors.csv", "Factors: what a condition of the job does to the hours of some steps")
class Factor:
    """What a condition of the job does to the hours of some steps."""

    factor: str = choice("The condition", CONDITIONS, key=True)
    name: str = text("Name as people read it")
    steps: tuple[str, ...] = words("Steps it touches; all: every step", (*STEPS, ALL_STEPS))
    times: float = number("Hours are multiplied by this", "1", high=MOST_TIMES)
    says: str = text("The condition in words")


@list_row("order_rules.csv", "Order rules: in which jobs a step comes after other steps than usual")
class OrderRule:
    """In jobs where a condition holds, a step comes after other steps than steps.csv says; the last row that holds counts."""

    rule: str = choice("The condition under which the row holds; the last one that holds counts", CONDITIONS, key=True)
    step: Step = choice("The step", key=True, refers="steps.csv")
    after: tuple[str, ...] = words("Steps that must end first in these jobs", STEPS)
    says: str = text("Why")


@list_row("hired.csv", "Hired trades: worker-hours for one unit of what is hired, for the calendar only")
class Hired:
    """Worker-hours of a hired trade for one unit of a `hire` line, and its people."""

    driver: str = text("The item that is hired, or the column of counters.csv that names it", key=True)
    step: Step | None = choice("The step in which it counts; empty: every step", key=True)
    trade: str = text("The trade")
    unit: str = choice("Unit in which it is counted", UNITS)
    crew: int = count("People of the trade", low=1, high=MOST_PEOPLE)
    low_h: float = measure("time", "Worker-hours for one unit when all goes well", high=MOST_HOURS)
    likely_h: float = measure("time", "Worker-hours for one unit as a rule", high=MOST_HOURS)
    high_h: float = measure("time", "Worker-hours for one unit when it goes badly", high=MOST_HOURS)
    source: str = text("Where the figure comes from; demo: made up")
    says: str = text("What the work is")


@list_row("lead_times.csv", "Lead times: days from asking to having")
class LeadTime:
    """Days from asking to having, counted as working or elapsed days."""

    what: str = text(f"An item, a cost code, a countertop or its material; or {', '.join(LEADS)}", key=True)
    name: str = text("Name as people read it")
    low_days: float = number("When all goes well", "days", high=MOST_DAYS)
    likely_days: float = number("As a rule", "days", high=MOST_DAYS)
    high_days: float = number("When it goes badly", "days", high=MOST_DAYS)
    days: Clock = choice("Whether working days or all days are counted")
    says: str = text("What is waited for")


@list_row("site_risks.csv", "Site risks: what a house may hold in store")
class SiteRiskRow:
    """Something the house may hold in store: its chance, cost and worker-hours if it happens, the step it strikes, the delay."""

    risk: str = text("Own short name", key=True)
    name: str = text("Name as people read it")
    chance: float = measure("share", "Chance that it happens", high=1)
    cost_low: Decimal = money("Cost when it goes well, hours not among it")
    cost_likely: Decimal = money("Cost as a rule")
    cost_high: Decimal = money("Cost when it goes badly")
    currency: str = currency_code()
    hours_low: float = measure("time", "Worker-hours when it goes well", high=MOST_HOURS)
    hours_likely: float = measure("time", "Worker-hours as a rule", high=MOST_HOURS)
    hours_high: float = measure("time", "Worker-hours when it goes badly", high=MOST_HOURS)
    applies_when: str = choice("The condition of the job under which it counts", CONDITIONS)
    step: Step | None = choice("The step that it strikes; empty: the last own step", refers="steps.csv")
    delay_days: float = number("Delay that follows the step", "days", high=MOST_DAYS)
    source: str = text("Where the figures come from; demo: made up")
    says: str = text("What it is")
    borne_by: Literal["customer", "us"] = choice(
        "Who pays when it happens: customer: it is in the house, and stands in the proposal; us: our own slip or our supplier's", default="customer"
    )
    agreed: str | None = text(
        "The row of the prices agreed in advance by which it is charged; empty: priced when it turns up", refers="unit_prices.csv", default=None
    )
