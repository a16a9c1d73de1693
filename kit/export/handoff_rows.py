"""Budget rows for the books: one plain row for each purchase, each task and the tax paid; their sums are the cost and the price.

`cost` sums to the direct cost and `sell` to the price, to the cent. What the price holds beyond direct cost (contingency,
overhead, profit) is no row of its own: the whole price is shared out over the rows in proportion to their cost, each part
rounded down to the cent, the cents left over given to the rows that lost most (`kit.money.split_cents`). Tax paid on
purchases is one row for each cost type and cost code that was taxed, shared out in the same way. Sales tax that is collected on top
is a row of its own, on the account where it waits to be paid over. Texts stand on one line.
"""

import csv
import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.csv_text import one_line, shorten
from kit.export.lists_used import currency_of, sold_as
from kit.export.papers import PaperMark, Payment, mark_of, payments_of
from kit.issued import Issued
from kit.lists.money_rows import BookUse
from kit.money import CHARGED_PLACES, EXACT, PRICE_PLACES, split_cents, sum_money, to_decimal
from kit.pricing.priced import step_of_purchase, work_order
from kit.pricing.taxed import split_paid_tax, taxed_purchases
from kit.records import CostType
from kit.steps import Step

__all__ = ["HandoffRow", "book_row", "handoff_rows"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class HandoffRow:
    """One row for the bookkeeper; the fields are the columns, in this order.

    `line_id` is stable: `buy:<purchase>`, `task:<step>`, `tax-paid:<cost type>/<cost code>`, `tax-collected`, `least-charge`;
    `change:<number>/<row>` in a change order. `kind` is budget or change. `replaces` names the document whose place a revision takes. `quantity` times
    `unit_cost` gives `cost`, but for rounding. `draw` is the payment as bills name it, "" where a row belongs to none.
    `contractor_form` is yes, no or ask. `unit_code` (UN/ECE Recommendation 20) and `uniformat` (UNIFORMAT II) are "" where there is none.
    """

    job: str
    customer: str
    document: str
    revision: int
    line_id: str
    kind: str
    replaces: str
    date: dt.date
    cost_code: str
    cost_code_name: str
    cost_type: str
    expense_account: str
    income_account: str
    text: str
    quantity: Decimal
    unit: str
    unit_cost: Decimal
    cost: Decimal
    sell: Decimal
    currency: str
    taxable: bool
    tax_words: str
    supplier: str
    contractor_form: str
    draw: str
    status: str
    unit_code: str
    uniformat: str
    fingerprint: str


def handoff_rows(estimate: Estimate, *, issued: Issued | None = None, draws: Sequence[Payment] | None = None) -> tuple[HandoffRow, ...]:
    """The rows of an estimate: purchases, work, tax paid, tax collected.

    Parameters
    ----------
    estimate
        As `kit.estimate` gives it.
    issued
        The issued document that they are of; without it they are of a draft.
    draws
        The customer's payments, planned from the lists when left out; each row has the payment before which its step is done.

    Raises
    ------
    PriceError
        If the rows would not sum to the direct cost.
    """
    mark = mark_of(estimate, issued)
    draws = payments_of(estimate) if draws is None else draws
    rows = [*_purchase_rows(estimate, mark), *_task_rows(estimate, mark), *_tax_rows(estimate, mark)]
    costs = [row.cost for row in rows]
    if sum_money(costs) != estimate.cost:
        raise PriceError(Fault("rows for the books", f"sum to {sum_money(costs)}, but the direct cost is {estimate.cost}."))
    if not any(costs):  # nothing to share the price out over
        code = estimate.lists.steps[Step.VISIT].cost_code
        rows, costs = [book_row(estimate, mark, "least-charge", CostType.OTHER, code, "Minimum charge")], [Decimal(1)]
    collected, names = estimate.amount("tax-collected"), _draw_names(estimate, draws)
    parts = split_cents(EXACT.subtract(estimate.price, collected), costs)
    rows = [replace(row, sell=part, draw=names.get(row.line_id, "")) for row, part in zip(rows, parts, strict=True)]
    if collected:
        rows.append(_owed_row(estimate, mark, "tax-collected", "Sales tax collected", collected, "tax-liability"))
    return tuple(rows)


def _draw_names(estimate: Estimate, draws: Sequence[Payment]) -> dict[str, str]:
    """The payment of each row whose step is known: the first that is due when the step is done, else the last."""
    order = work_order(estimate)
    due = sorted((order.index(draw.step), draw.number, one_line(draw.draw)) for draw in draws if draw.step in order)
    if not due:
        return {}
    steps = {f"task:{task.step}": task.step for task in estimate.tasks}
    steps |= {f"buy:{purchase.id}": step_of_purchase(estimate, purchase, order) for purchase in estimate.purchases}
    return {line_id: next((name for place, _, name in due if order.index(step) <= place), due[-1][2]) for line_id, step in steps.items() if step in order}


def book_row(
    estimate: Estimate,
    mark: PaperMark,
    line_id: str,
    kind: CostType,
    cost_code: str,
    text: str,
    *,
    quantity: float | Decimal = 1,
    unit: str = "each",
    unit_cost: Decimal = _ZERO,
    cost: Decimal = _ZERO,
    taxable: bool = False,
    supplier: str = "",
) -> HandoffRow:
    """A row with what the lists say of its cost code, kind of cost and supplier; it sells for nothing yet and belongs to no payment.

    `unit` is as people say it, `h` of a row of work among them; `supplier` is empty for the own crew.
    """
    lists, identity = estimate.lists, estimate.job.identity
    code, account, listed = lists.cost_codes.get(cost_code), lists.accounts[kind], lists.suppliers.get(supplier)
    return HandoffRow(
        job=one_line(identity.job_number),
        customer=one_line(identity.customer),
        document=one_line(mark.number),
        revision=mark.revision,
        line_id=one_line(line_id),
        kind="budget",
        replaces=one_line(mark.replaces),
        date=mark.day,
        cost_code=one_line(cost_code),
        cost_code_name=one_line(code.name) if code else "",
        cost_type=str(kind),
        expense_account=one_line(account.expense_account),
        income_account=one_line(account.income_account),
        text=shorten(one_line(text)),
        quantity=to_decimal(quantity, CHARGED_PLACES),
        unit=one_line(unit),
        unit_cost=to_decimal(unit_cost, PRICE_PLACES),
        cost=cost,
        sell=_ZERO,
        currency=currency_of(estimate),
        taxable=taxable,
        tax_words=one_line(lists.books["taxed" if taxable else "not-taxed"].entry),
        supplier=one_line(supplier),
        contractor_form="no" if not supplier else listed.contractor_form if listed else "ask",
        draw="",
        status=mark.status,
        unit_code=_unit_code("worker-hour" if "task:" in line_id else unit),
        uniformat=(code.uniformat or "") if code else "",
        fingerprint=mark.fingerprint,
    )


def _unit_code(unit: str) -> str:
    """The code of a unit in UN/ECE Recommendation 20; what is sold in packs counts as "one"."""
    return _unit_codes().get(unit, _unit_codes()["one"])


@cache
def _unit_codes() -> dict[str, str]:
    with Path(__file__).with_name("unit_codes.csv").open(encoding="utf-8", newline="") as file:
        return {row["unit"]: row["code"] for row in csv.DictReader(file)}


def _purchase_rows(estimate: Estimate, mark: PaperMark) -> Iterator[HandoffRow]:
    taxed = taxed_purchases(estimate)
    for purchase in estimate.purchases:
        item, pack = estimate.lists.item(purchase.item), sold_as(estimate, purchase)
        yield book_row(
            estimate,
            mark,
            f"buy:{purchase.id}",
            item.cost_type,
            item.cost_code,
            item.name if pack in {item.unit, "each", "hour"} else f"{item.name}, {pack}",
            quantity=purchase.charged,
            unit=pack,
            unit_cost=purchase.unit_price,
            cost=purchase.amount,
            taxable=purchase.id in taxed,
            supplier=purchase.supplier,
        )


def _task_rows(estimate: Estimate, mark: PaperMark) -> Iterator[HandoffRow]:
    for task in estimate.tasks:
        step, own = estimate.lists.steps[task.step], task.trade == "crew"
        yield book_row(
            estimate,
            mark,
            f"task:{task.step}",
            CostType.LABOR if own else CostType.HIRED,
            step.cost_code,
            estimate.step_names[task.step],
            quantity=task.hours_likely,
            unit="h",
            unit_cost=task.rate,
            cost=task.amount,
            supplier="" if own else task.trade,
        )


def _tax_rows(estimate: Estimate, mark: PaperMark) -> Iterator[HandoffRow]:
    for (kind, code), part in split_paid_tax(estimate).items():
        text = f"Sales tax paid on {kind}, cost code {code}"
        yield book_row(estimate, mark, f"tax-paid:{kind}/{code}", kind, code, text, unit_cost=part, cost=part)


def _owed_row(estimate: Estimate, mark: PaperMark, line_id: str, text: str, amount: Decimal, book: BookUse) -> HandoffRow:
    """What is owed and no income: it goes on the account where it waits."""
    row = book_row(estimate, mark, line_id, CostType.OTHER, "", text)
    return replace(row, expense_account="", income_account=one_line(estimate.lists.books[book].entry), sell=amount)
