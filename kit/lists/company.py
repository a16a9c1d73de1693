"""The company file: wage, burden, overhead, profit, tax and terms, so that a job file doesn't repeat them."""

import datetime as dt
from decimal import Decimal
from typing import Any, Literal

from kit.errors import Fault, KitError
from kit.incoming import MOST_DAYS, MOST_PEOPLE
from kit.lists.column_rules import choice, columns_of, count, frozen_row, measure, text, typed
from kit.lists.columns import day
from kit.lists.money_rows import ChangeFalls, DepositEarned, HiredAs, OverheadAs, ProfitAs, TaxMode, TaxRounding, TaxWhenBought
from kit.money import parse_money
from kit.tables import Table
from kit.units import format_day, parse_quantity

__all__ = ["COMPANY_COLUMNS", "COMPANY_FILE", "Company", "read_company"]

COMPANY_FILE = "company.csv"
COMPANY_COLUMNS = {"key": "What is set", "value": "Its value with its unit or currency", "note": "What it means"}
_WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _price_date(cell: str) -> str:
    return day(cell).isoformat()


def _spread(cell: str) -> tuple[float, float]:
    less, separator, more = cell.partition(" to ")
    if not separator:
        raise ValueError(f'"{cell}" is not a span. Give it as "-3 % to 8 %".')
    low, high = parse_quantity(less, "share", signed=True), parse_quantity(more, "share", signed=True)
    if not -1 <= low <= 0 <= high:
        raise ValueError(f'"{cell}" must go from -100 % or more, down to up, with 0 % between.')
    return low, high


def _week_days(cell: str) -> frozenset[int]:
    if any(name not in _WEEK for name in cell.split()):
        raise ValueError(f'"{cell}" must name days of the week: {", ".join(_WEEK)}.')
    return frozenset(_WEEK.index(name) for name in cell.split())


def _holidays(cell: str) -> tuple[str, str]:
    if cell == "none":
        return "", ""
    country, _, region = cell.partition("-")
    if not (len(country) == 2 and country.isalpha() and country.isupper()):
        raise ValueError(f'"{cell}" is not a country such as US, a state such as US-MA, or none.')
    if cell != "US":
        from holidays import country_holidays  # slow to import

        try:
            country_holidays(country, subdiv=region or None)
        except NotImplementedError as error:
            raise ValueError(f'There is no list of holidays for "{cell}". Give a country such as US, a state such as US-MA, or none.') from error
    return country, region


@frozen_row
class Company:
    """What the company charges and how it works.

    `work_days` are days of the week, Monday 0; `holidays` country and region, both "" for none; the spreads say how far something
    may go down and up.
    """

    name: str = text("Name of the company")
    region: str = text("Where it works")
    price_date: str = typed(_price_date, "Date of the prices")
    wage: Decimal = typed(parse_money, "Plain wage per hour of our crew")
    burden: float = measure("share", "Taxes, insurance and paid leave on the wage")
    overhead: float = measure("share", "Overhead, counted as overhead_as says")
    profit: float = measure("share", "Profit, counted as profit_as says")
    profit_as: ProfitAs = choice("markup: on cost with overhead; margin: share of the price; of-cost: share of direct cost")
    contingency: float = measure("share", "Contingency on direct cost")
    tax: float = measure("share", "Rate of sales tax; ask your tax adviser")
    tax_on: TaxMode = choice("What sales tax falls on")
    deposit: float = measure("share", "Deposit at signing, of the price; local law may cap it", high=1)
    validity_days: int = count("Days for which a price holds", high=MOST_DAYS)
    crew: int = count("People of our crew", high=MOST_PEOPLE)
    least_load_lb: float = measure("weight", "Least load that a sink frame is designed for")
    least_charge: Decimal = typed(parse_money, "Smallest price of a job")
    work_days: frozenset[int] = typed(_week_days, "Days of the week on which the crew works")
    holidays: tuple[str, str] = typed(_holidays, "Country, or country and state, whose public holidays are kept")
    wait_on_site_h: float = measure("time", "A wait up to this long is sat out in the house; a longer one ends the trip")
    least_visit_h: float = measure("time", "A trip with less work than this is paid as this for each person")
    days_to_sign: int = count("Days from the visit to the customer's signature", high=MOST_DAYS)
    cooling_off_days: int = count("Business days in which a customer may cancel", high=MOST_DAYS)
    risk_confidence: float = measure("share", "Share of trials that the contingency is to hold in", high=1)
    risk_correlation: float = measure("share", "How far hours of different steps, and prices, go wrong together", high=1)
    risk_seed: int = count("Any whole number; the same one gives the same trials")
    price_spread: tuple[float, float] = typed(_spread, "How far a supplier's price may go down and up")
    waste_spread: tuple[float, float] = typed(_spread, "How much less and more of a material may be needed")
    burden_from: Literal["share", "parts"] = choice("share: the burden above; parts: worked out from burden.csv")
    overhead_as: OverheadAs = choice("of-cost: share of direct cost; of-price: share of the price before tax collected")
    hired_as: HiredAs = choice("What is charged on hired trades: as on own work, handling too, or handling only")
    handling: float = measure("share", "Handling of hired trades, of what they cost us", high=1)
    warranty: float = measure("share", "Reserve on material, labor and hired work", high=1)
    packs_charged: Literal["whole", "by-use"] = choice("Whether an opened pack is charged in full or by the share that the job uses")
    round_to: Decimal = typed(parse_money, "The price before tax collected is rounded to the nearest of these")
    tax_rounding: TaxRounding = choice("Whether tax is rounded once on the whole or on each purchase")
    material_markup: float = measure("share", "Markup in the stated price of material, when tax falls on that price")
    state_preset: str = text("Row of state_presets.csv, or none")
    hold: float = measure("share", "Held back from each draw until the punch list is done", high=1)
    change_rule: str = text("Rule of change_rules.csv for change orders")
    stale_after_days: int = count("Days after which a price in use counts as too old", high=MOST_DAYS)
    tax_when_bought: TaxWhenBought = choice("Where tax is collected: bought without tax on a resale certificate, or taxed and credited")
    change_falls: ChangeFalls = choice(
        "Which payments a change order moves: all that are left by their shares, the last one, or one of its own", default="by-shares"
    )
    deposit_earned: DepositEarned = choice(
        "When a deposit becomes income: with the first bill after it, by shares of later bills, or with the last", default="first-bill"
    )
    posting_sides: Literal["both", "one"] = choice(
        "How posting rows name accounts: both: debit and credit account in one row; one: a row for each account", default="both"
    )
    learn_from_jobs: int = count("Finished jobs from which on something is proposed", low=2, default=8)
    learn_prior_jobs: int = count("How many finished jobs the figure in the lists weighs before any job", low=1, default=5)
    learn_spread_hours: float = measure("share", "How far the hours of a single job usually lie from the lists'", default=0.3)
    learn_spread_waste: float = measure("share", "How far what a single job uses usually lies from the lists' quantity with waste", default=0.1)
    learn_spread_days: float = measure("share", "How far the days of a single wait usually lie from the lists'", default=0.5)
    outlier_chance: float = measure("share", "Chance that the test of outliers flags a job though none stands out", high=0.2, default=0.01)
    pay_within_days: int = count("Days from the date of a bill in which it is to be paid", default=10, high=MOST_DAYS)
    address: str = text("Address, printed on papers", default="")
    phone: str = text("Phone, printed on papers", default="")
    how_to_pay: str = text("How customers pay, printed on bills", default="")
    licenses: str = text("Licenses, printed on papers", default="")
    insurance: str = text("Insurance, printed on proposals", default="")
    warranty_words: str = text("What we warrant and for how long, printed on proposals", default="")

    @property
    def dated(self) -> str:
        """The day of the prices as people write it; the file may also say it in words."""
        try:
            return format_day(dt.date.fromisoformat(self.price_date))
        except ValueError:
            return self.price_date


def read_company(table: Table, faults: list[Fault]) -> Company | None:
    """The company in a table of `key,value,note`; what is wrong is added to `faults` and None comes back."""
    if set(table.columns) != set(COMPANY_COLUMNS):
        faults.append(Fault("row 1", f"has the columns {', '.join(table.columns)}. Needed: {', '.join(COMPANY_COLUMNS)}.", table.file))
        return None
    known = {column.name: column for column in columns_of(Company)}
    values: dict[str, Any] = {}
    before = len(faults)
    for row in table.rows:
        key = row.cells["key"]
        if key not in known:
            faults.append(Fault(f"row {row.number}", f'"{key}" is not a known key. Known: {", ".join(known)}.', table.file))
        elif known[key].attribute in values:
            faults.append(Fault(f"row {row.number}", f'"{key}" is there twice.', table.file))
        else:
            try:
                values[known[key].attribute] = known[key].read_cell(row.cells["value"])
            except ValueError as error:
                message = error.faults[0].message if isinstance(error, KitError) else str(error)
                faults.append(Fault(f"row {row.number}, {key}", message, table.file))
                values[known[key].attribute] = None
    lacking = [column.name for column in known.values() if not column.may_be_absent and column.attribute not in values]
    faults.extend(Fault("", f'Key "{name}" is missing.', table.file) for name in lacking)
    return Company(**values) if len(faults) == before else None
