"""Rows for the books: one plain row for each purchase, each task and the tax paid; their sums are the cost and the price.

`cost` sums to the direct cost and `sell` to the price, to the cent. What the price holds beyond direct cost (contingency,
overhead, profit) is no row of its own: the whole price is shared out over the rows in proportion to their cost, each part
rounded down to the cent, the cents left over given to the rows that lost most (`kit.money.split_cents`). Tax paid on
purchases is one row for each cost type and cost code that was taxed, shared out in the same way. Sales tax that is collected on top
is a row of its own, on the account where it waits to be paid over.

Texts stand on one line. A workbook keeps them as text whatever they begin with. A CSV file can't: there `defuse_text` puts an
apostrophe before a text that a spreadsheet would take for a formula, and `restore_text` takes it off again. Numbers are never
touched, so that a credit of -25.00 stays a number.
"""

import datetime as dt
from dataclasses import dataclass, replace
from decimal import Decimal

from kit.errors import Fault, PriceError
from kit.estimate import Estimate
from kit.export.lists_used import sold_as
from kit.money import EXACT, split_cents, sum_money
from kit.pricing.taxed import split_paid_tax, taxed_purchases
from kit.records import CostType, Purchase, Task
from kit.steps import Step

__all__ = ["LONGEST_TEXT", "ImportRow", "defuse_text", "import_rows", "one_line", "restore_text"]

LONGEST_TEXT = 100
_FORMULA_SIGNS = ("=", "+", "-", "@", "＝", "＋", "－", "＠")  # the wide ones are read as formulas in East Asian settings
_CONTROL_SIGNS = ("\t", "\r", "\n")
_MARK = "'"
_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class ImportRow:
    """One row for the bookkeeper; the fields are the columns, in this order. Money is in the currency of the lists.

    `line_id` is stable: `buy:<purchase>`, `task:<step>`, `tax-paid:<cost type>/<cost code>`, `tax-collected`, `least-charge`. `quantity` times `unit_cost`
    gives `cost`. `taxable` tells whether we pay sales tax on the purchase. `supplier` is empty for the own crew.
    """

    line_id: str
    job: str
    customer: str
    date: dt.date
    cost_code: str
    cost_type: str
    account: str
    income_account: str
    text: str
    quantity: float
    unit: str
    unit_cost: Decimal
    cost: Decimal
    sell: Decimal
    taxable: bool
    supplier: str


def import_rows(estimate: Estimate) -> tuple[ImportRow, ...]:
    """The rows of an estimate: purchases, then tasks, then tax paid.

    Raises
    ------
    PriceError
        If the rows would not sum to the direct cost.
    """
    taxed = taxed_purchases(estimate)
    rows = [_purchase_row(estimate, purchase, taxable=purchase.id in taxed) for purchase in estimate.purchases]
    rows += [_task_row(estimate, task) for task in estimate.tasks]
    rows += _tax_rows(estimate)
    costs = [row.cost for row in rows]
    if sum_money(costs) != estimate.cost:
        raise PriceError(Fault("rows for the books", f"sum to {sum_money(costs)}, but the direct cost is {estimate.cost}."))
    if not any(costs):
        rows, costs = [_least_charge_row(estimate)], [Decimal(1)]
    collected = next((row.amount for row in estimate.build_up if row.id == "tax-collected"), _ZERO)
    sold = EXACT.subtract(estimate.price, collected)
    shared = [replace(row, sell=part) for row, part in zip(rows, split_cents(sold, costs), strict=True)]
    return tuple(shared + ([_tax_collected_row(estimate, collected)] if collected else []))


def _row(estimate: Estimate, line_id: str, cost_type: CostType, cost_code: str, text: str) -> ImportRow:
    identity = estimate.job.identity
    return ImportRow(
        line_id=one_line(line_id),
        job=one_line(identity.job_number),
        customer=one_line(identity.customer),
        date=identity.visit_date,
        cost_code=one_line(cost_code),
        cost_type=str(cost_type),
        account=one_line(estimate.lists.accounts[cost_type].expense_account),
        income_account=one_line(estimate.lists.accounts[cost_type].income_account),
        text=_shorten(one_line(text)),
        quantity=1.0,
        unit="each",
        unit_cost=_ZERO,
        cost=_ZERO,
        sell=_ZERO,
        taxable=False,
        supplier="",
    )


def _purchase_row(estimate: Estimate, purchase: Purchase, *, taxable: bool) -> ImportRow:
    item, pack = estimate.lists.item(purchase.item), sold_as(estimate, purchase)
    text = item.name if pack in {item.unit, "each"} else f"{item.name}, {pack}"
    return replace(
        _row(estimate, f"buy:{purchase.id}", item.cost_type, item.cost_code, text),
        quantity=purchase.charged,
        unit=one_line(pack),
        unit_cost=purchase.unit_price,
        cost=purchase.amount,
        taxable=taxable,
        supplier=one_line(purchase.supplier),
    )


def _task_row(estimate: Estimate, task: Task) -> ImportRow:
    step = estimate.lists.steps[task.step]
    own = task.trade == "crew"
    return replace(
        _row(estimate, f"task:{task.step}", CostType.LABOUR if own else CostType.HIRED, step.cost_code, step.label),
        quantity=task.hours_likely,
        unit="h",
        unit_cost=task.rate,
        cost=task.amount,
        supplier="" if own else one_line(task.trade),
    )


def _tax_rows(estimate: Estimate) -> list[ImportRow]:
    return [
        replace(_row(estimate, f"tax-paid:{kind}/{code}", kind, code, f"Sales tax paid on {kind}, cost code {code}"), unit_cost=part, cost=part)
        for (kind, code), part in split_paid_tax(estimate).items()
    ]


def _least_charge_row(estimate: Estimate) -> ImportRow:
    """The one row of a job without direct cost: there is nothing to share the price out over."""
    return _row(estimate, "least-charge", CostType.OTHER, estimate.lists.steps[Step.VISIT].cost_code, "Least charge")


def _tax_collected_row(estimate: Estimate, amount: Decimal) -> ImportRow:
    """Sales tax on top of the price is owed and no income: it goes on the account where it waits."""
    row = _row(estimate, "tax-collected", CostType.OTHER, "", "Sales tax collected")
    return replace(row, account="", income_account=one_line(estimate.lists.books["tax-liability"].entry), sell=amount)


def one_line(text: str) -> str:
    """The text with every run of blanks, tabs and line breaks as one blank, other control signs gone."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def _shorten(text: str) -> str:
    return text if len(text) <= LONGEST_TEXT else f"{text[: LONGEST_TEXT - 3].rstrip()}..."


def defuse_text(text: str) -> str:
    """The text for a CSV file: with an apostrophe before it when a spreadsheet would take it for a formula.

    That is a text whose first sign, blanks left aside, is one of = + - @ (narrow or wide); one that begins with a tab or a
    line break; and one that begins with an apostrophe itself, so that `restore_text` gives back what went in. It is for text
    columns only. Separators, quotes and line breaks inside are the business of the CSV writer, which must quote the field.

    Notes
    -----
    OWASP, "CSV Injection" (key owasp-csv-injection) lists the signs; that blanks before them don't
    help is common practice, no source.

    Examples
    --------
    >>> defuse_text("=1+2")
    "'=1+2"
    """
    risky = text.startswith((*_CONTROL_SIGNS, _MARK)) or text.lstrip().startswith(_FORMULA_SIGNS)
    return _MARK + text if risky else text


def restore_text(text: str) -> str:
    """The text that `defuse_text` was given.

    Examples
    --------
    >>> restore_text("'=1+2")
    '=1+2'
    """
    return text.removeprefix(_MARK)
