"""A change order for the books: the same columns as the budget of an estimate, what falls away negative; they add to the budget and replace nothing."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

from kit.change.priced_change import KIND_WORDS, ChangeOrder, ChangeRow
from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.csv_text import one_line
from kit.export.handoff_rows import HandoffRow, book_row
from kit.export.papers import PaperMark, mark_of
from kit.issued import Issued
from kit.lists import Lists
from kit.money import CHARGED_PLACES, EXACT, to_decimal
from kit.pricing.taxed import pays_tax
from kit.records import CostType, Purchase
from kit.steps import Step

__all__ = ["change_rows"]


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
    mark = replace(mark_of(new, issued), day=day)
    return tuple(_row(order, row, old, new, mark) for row in order.rows)


def _row(order: ChangeOrder, row: ChangeRow, old: Estimate, new: Estimate, mark: PaperMark) -> HandoffRow:
    purchase, (quantity, unit_cost) = _purchase(row, old, new), _counted(row)
    entry = book_row(
        new,
        mark,
        f"change:{order.number}/{row.id}",
        row.cost_type or CostType.OTHER,
        _cost_code(row, new.lists),
        f"Change {order.number}, {KIND_WORDS[row.kind]}: {row.label}",
        quantity=quantity,
        unit=row.unit or "each",
        unit_cost=unit_cost,
        cost=row.cost,
        taxable=purchase is not None and pays_tax(purchase, new.terms.tax_on),
        supplier=purchase.supplier if purchase else "",
    )
    if row.kind == "tax":  # owed and no income
        entry = replace(entry, expense_account="", income_account=one_line(new.lists.books["tax-liability"].entry))
    return replace(entry, sell=row.amount, kind="change", replaces="")


def _counted(row: ChangeRow) -> tuple[Decimal, Decimal]:
    """How many more (or fewer, below 0), and what one costs; an amount that no quantity gives is one."""
    more = EXACT.subtract(to_decimal(row.after, CHARGED_PLACES), to_decimal(row.before, CHARGED_PLACES))
    if not more or (more < 0) != (row.cost < 0):
        return Decimal(1), row.cost
    return more, EXACT.divide(row.cost, more)


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
    return next((purchase for one in (new, old) for purchase in one.purchases if row.id.startswith("buy:") and purchase.item == item), None)
