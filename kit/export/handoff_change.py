"""A change order for the books: the same columns as the hand-off of an estimate, what falls away negative."""

import datetime as dt
from decimal import Decimal

from kit.change.order import ChangeOrder, ChangeRow
from kit.errors import Fault, PriceError
from kit.estimate import Estimate
from kit.export.handoff import HandoffRow, unit_code
from kit.export.lists_used import currency_of
from kit.export.papers import mark_of
from kit.export.rows import LONGEST_TEXT, one_line
from kit.issued import Issued
from kit.lists import Lists
from kit.money import EXACT, sum_money, to_decimal
from kit.pricing.taxed import pays_tax
from kit.records import CostType, Purchase
from kit.steps import Step

__all__ = ["change_rows"]

_PLACES = 4


def change_rows(order: ChangeOrder, old: Estimate, new: Estimate, *, day: dt.date, issued: Issued | None = None) -> tuple[HandoffRow, ...]:
    """The rows of a change order: `cost` sums to what it costs us, `sell` to what it adds to the contract sum.

    Parameters
    ----------
    order
        As `kit.change.price_change` gives it for these two estimates.
    old, new
        The estimates before and after.
    day
        Day of the change.
    issued
        The issued document of the new estimate; without it the rows are of a draft.

    Raises
    ------
    PriceError
        If the order changes nothing.
    """
    if not order.rows:
        raise PriceError(Fault(f"change order {order.number}", "changes nothing: there are no rows to hand over."))
    rows = tuple(_row(order, row, old, new, day, issued) for row in order.rows)
    totals = (sum_money([row.cost for row in rows]), sum_money([row.sell for row in rows]))
    if totals != (order.cost, order.amount):
        raise PriceError(Fault(f"change order {order.number}", f"sums to {totals[0]} and {totals[1]}, not to {order.cost} and {order.amount}."))
    return rows


def _row(order: ChangeOrder, row: ChangeRow, old: Estimate, new: Estimate, day: dt.date, issued: Issued | None) -> HandoffRow:
    lists, mark, identity = new.lists, mark_of(new, issued), new.job.identity
    kind = row.cost_type or CostType.OTHER
    code = _cost_code(row, lists)
    named, account = lists.cost_codes.get(code), lists.accounts[kind]
    purchase = _purchase(row, old, new)
    supplier = one_line(purchase.supplier) if purchase else ""
    listed = lists.suppliers.get(supplier)
    taxed = purchase is not None and pays_tax(purchase, new.terms.tax_on)
    quantity, unit_cost = _counted(row)
    owed = row.kind == "tax"
    return HandoffRow(
        job=one_line(identity.job_number),
        customer=one_line(identity.customer),
        document=one_line(mark.number),
        revision=mark.revision,
        line_id=f"change:{order.number}/{row.id}",
        date=day,
        cost_code=code,
        cost_code_name=one_line(named.name) if named else "",
        cost_type=str(kind),
        expense_account="" if owed else one_line(account.expense_account),
        income_account=one_line(lists.books["tax-liability"].entry if owed else account.income_account),
        text=one_line(f"Change {order.number}, {row.kind}: {row.label}")[:LONGEST_TEXT],
        quantity=quantity,
        unit=row.unit or "each",
        unit_cost=unit_cost,
        cost=row.cost,
        sell=row.amount,
        currency=currency_of(new),
        taxable=taxed,
        tax_code=one_line(lists.books["tax-code-paid" if taxed else "tax-code-none"].entry),
        supplier=supplier,
        contractor_form="no" if not supplier else listed.contractor_form if listed else "ask",
        draw=None,
        status=mark.status,
        unit_code=unit_code("worker-hour" if row.id.startswith("task:") else row.unit or "each"),
        uniformat=(named.uniformat or "") if named else "",
        fingerprint=mark.fingerprint,
    )


def _counted(row: ChangeRow) -> tuple[Decimal, Decimal]:
    """How many more (or fewer, below 0), and what one costs; an amount that no quantity gives is one."""
    more = EXACT.subtract(to_decimal(row.after, _PLACES), to_decimal(row.before, _PLACES))
    if not more or (more < 0) != (row.cost < 0):
        return to_decimal(1, _PLACES), to_decimal(row.cost, _PLACES)
    return more, to_decimal(EXACT.divide(row.cost, more), _PLACES)


def _cost_code(row: ChangeRow, lists: Lists) -> str:
    kind, _, name = row.id.partition(":")
    if kind == "buy":
        return lists.item(name).cost_code
    if kind == "task":
        return lists.steps[Step(name)].cost_code
    return ""


def _purchase(row: ChangeRow, old: Estimate, new: Estimate) -> Purchase | None:
    """The purchase that is changed: the new one, else the one that falls away."""
    item = row.id.removeprefix("buy:")
    return next((purchase for made in (new, old) for purchase in made.purchases if row.id.startswith("buy:") and purchase.item == item), None)
