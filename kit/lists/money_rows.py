"""What money follows: books and cost codes, suppliers, burden, state presets, change orders, agreed prices, payments; and the sentences of papers."""

import datetime as dt
from decimal import Decimal
from typing import Literal, get_args

from kit.incoming import MOST_DAYS
from kit.lists.column_rules import choice, count, currency_code, day, flag, list_row, measure, money, text, words
from kit.lists.condition_names import CONDITIONS
from kit.lists.goods_rows import UNITS
from kit.records import CostType
from kit.steps import Step

__all__ = [
    "BOOK_USES",
    "NO_PRESET",
    "Account",
    "BookEntry",
    "BookUse",
    "BurdenPart",
    "ChangeRule",
    "CostCode",
    "CountedAs",
    "DrawRow",
    "HiredAs",
    "OverheadAs",
    "PayTerm",
    "ProfitAs",
    "State",
    "StatePreset",
    "SupplierRow",
    "TaxMode",
    "TaxRounding",
    "TaxWhenBought",
    "UnitPrice",
    "Wording",
    "WordingUse",
]

ProfitAs = Literal["markup", "margin", "of-cost"]
OverheadAs = Literal["of-cost", "of-price"]
HiredAs = Literal["as-own", "handling-first", "handling-only"]
TaxRounding = Literal["invoice", "item"]
TaxMode = Literal["material-cost", "material-price", "everything", "exempt"]
TaxWhenBought = Literal["resale", "credit"]
CountedAs = Literal["paid-hours", "overtime-hours", "hours-off", "pay-added", "of-pay", "of-plain-pay", "a-year", "a-worked-hour"]
State = Literal["ca", "tx", "ny"]
ChangeFalls = Literal["by-shares", "last-draw", "own-draw"]
DepositEarned = Literal["first-bill", "by-shares", "last-bill"]
BookUse = Literal[
    "deposit-liability",
    "tax-liability",
    "taxed",
    "not-taxed",
    "receivable",
    "held-back",
    "income",
    "bank",
    "wages",
    "burden",
    "suppliers",
]
BOOK_USES: tuple[BookUse, ...] = get_args(BookUse)
WordingUse = Literal["step", "care", "right", "term", "exclusion", "notice", "yours", "crew", "wait", "change", "material", "name"]
NO_PRESET = "none"


@list_row("accounts.csv", "Accounts: where each kind of cost goes in the books")
class Account:
    """Where a cost type goes in the books."""

    cost_type: CostType = choice("Kind of cost", key=True)
    expense_account: str = text("Own expense account")
    income_account: str = text("Own income account")


@list_row("books.csv", "Books: accounts and codes for what is no cost type")
class BookEntry:
    """An account or code of the own books for what is no cost type."""

    use: BookUse = choice(
        "What the entry is for: money taken before it is earned, sales tax to pay, purchases with sales tax paid, everything else; what customers owe, what "
        "they hold back, what is earned, the bank; wages, what comes on top of them and suppliers' bills, to be paid",
        key=True,
    )
    entry: str = text("Own account or tax code")
    says: str = text("What it means")


@list_row("cost_codes.csv", "Cost codes: their names and classes")
class CostCode:
    """An own cost code."""

    cost_code: str = text("Own cost code, as items.csv and steps.csv use it", key=True)
    name: str = text("Name as people read it")
    uniformat: str | None = text("Class in UNIFORMAT II (ASTM E1557, NISTIR 6389), where it has one")
    says: str = text("Name of the class; whether it is from memory")


@list_row("suppliers.csv", "Suppliers: whether the contractor form is due")
class SupplierRow:
    """Whether payments to a supplier are reported on a contractor form."""

    supplier: str = text("Supplier as prices.csv names it", key=True)
    contractor_form: Literal["yes", "no", "ask"] = choice(
        "Whether payments are reported on a contractor form at the end of the year; a supplier without a row counts as ask"
    )
    says: str = text("Why")


@list_row("wording.csv", "Wording: sentences that proposal and crew sheet print")
class Wording:
    """A sentence that papers print when its condition holds.

    `use` says where: `step` (what is done in a step), `care` (about a material), `right`, `term`, `exclusion`, `notice` (papers handed over)
    and `yours` (the customer's part) in the proposal, `change` in a change order, `crew` (about a step, or "all") on the crew sheet;
    `wait` is no sentence but what may not happen, on that sheet, before the wait after a step is over: "before the joints get wet";
    `name` is no sentence but what a step is called where it is not as steps.csv says: the last one that holds counts.
    `material` is no sentence but what a customer calls a material whose short name is not the usual word.
    """

    wording: str = text("Own short name", key=True)
    use: WordingUse = choice("Where it is printed")
    about: str | None = text("Step for step, wait and name, material for care and material, step or all for crew, else empty")
    applies_when: str = choice("Condition of the job under which it is printed", CONDITIONS)
    says: str = text("The sentence")
    source: str = text("Key of a source")
    with_work: tuple[str, ...] | None = words("Work of the step of which some is done where the row holds; empty: any", refers="rates.csv", default=None)


@list_row("burden.csv", "Burden: what a year of one worker costs")
class BurdenPart:
    """One part of what a year of one worker costs.

    `counted_as` says how: `paid-hours` at the plain wage, leave among them; `overtime-hours` beyond those, `share` of the wage paid on
    top; `hours-off`, paid and not worked; `pay-added`, money that is pay too; `of-pay`, a share of all pay up to `up_to`; `of-plain-pay`,
    a share of the pay without what overtime puts on top; `a-year` and `a-worked-hour`, plain money.
    """

    part: str = text("Own short name", key=True)
    name: str = text("Name as people read it")
    counted_as: CountedAs = choice(
        "How it counts: hours paid at the plain wage; overtime beyond them; hours paid and not worked; money that is pay too; a share of all pay; "
        "a share of pay without what overtime puts on top; money a year; money a worked hour"
    )
    hours: float | None = measure("time", "Hours a year")
    share: float | None = measure("share", "Share of pay; for overtime what is paid on top of the wage")
    amount: Decimal | None = money("Money a year or a worked hour")
    up_to: Decimal | None = money("Pay of the year up to which the share counts; empty: no limit")
    currency: str = currency_code()
    says: str = text("What it is")


@list_row("state_presets.csv", "State presets: what tax falls on and how deposits are capped")
class StatePreset:
    """What a state asks of sales tax and deposit in one kind of contract, as read on a day; the user confirms it with a tax adviser.

    A deposit is at most the lesser of `deposit_share` of the contract and `deposit_amount`. Rates are the user's own.
    """

    preset: str = text("Own short name", key=True)
    name: str = text("Name as people read it")
    state: State = choice("State")
    tax_on: TaxMode = choice("What sales tax falls on")
    deposit_share: float | None = measure("share", "Largest deposit as a share of the contract; empty: no cap", high=1)
    deposit_amount: Decimal | None = money("Largest deposit as an amount; empty: no cap")
    currency: str = currency_code()
    draws_follow_work: bool = flag("Whether later payments may not run ahead of work done and goods delivered")
    tax_when_bought: TaxWhenBought | None = choice(
        'Where tax is collected: "resale" for material bought without tax to be sold on, "credit" for tax paid when it is bought and credited afterwards; '
        "empty for the company's own way"
    )
    dated: dt.date = day("Day as of which the rule was read")
    source: str = text("Source: a key of the sources")
    says: str = text("What it is; confirm it with your tax adviser")


@list_row("change_rules.csv", "Change rules: markup on what a change order adds and takes away")
class ChangeRule:
    """Markup on what a change order adds and on what it takes away, for one kind of cost."""

    rule: str = text("Own short name", key=True)
    cost_type: CostType = choice("Kind of cost", key=True)
    on_adds: float = measure("share", "Markup on cost that is added", high=1)
    on_credits: float = measure("share", "Markup credited with cost that falls away; 0 % credits at cost", high=1)
    source: str = text("Where the figures come from; demo: made up")
    says: str = text("What it is")


@list_row("unit_prices.csv", "Unit prices agreed in advance for what may be found")
class UnitPrice:
    """A price agreed in advance for something that may be found."""

    find: str = text("Own short name", key=True)
    name: str = text("Name as people read it")
    unit: str = choice("Unit that is priced", UNITS)
    price: Decimal = money("Price for one unit, everything included")
    currency: str = currency_code()
    covers: tuple[str, ...] = words("Drivers of the rates list whose work it pays", refers="rates.csv")
    says: str = text("What it is")


@list_row("draws.csv", "Draws: when the customer pays")
class DrawRow:
    """When the customer pays, and which share of the contract is earned by then."""

    draw: str = text("Own short name", key=True)
    name: str = text("Name as people read it")
    pays: Literal["deposit", "progress", "hold"] = choice("What it pays")
    step: Step | None = choice("The step at whose end it is due; empty: at signing", refers="steps.csv")
    earned: float = measure("share", "Share of the contract that is earned by then", high=1)
    says: str = text("What it is")


@list_row("pay_terms.csv", "Pay terms: when we pay")
class PayTerm:
    """When we pay for a kind of cost, or one supplier's: a share at an earlier step, the rest some days after its own step."""

    cost_type: CostType = choice("Kind of cost", key=True)
    supplier: str | None = text("One supplier; empty: all others", key=True, refers="suppliers.csv")
    deposit: float = measure("share", "Share paid ahead", high=1)
    deposit_step: Step | None = choice("The step at whose end it is paid ahead", refers="steps.csv")
    rest_days: int = count("Days after its own step at which the rest is paid", high=MOST_DAYS)
    says: str = text("What it is")
