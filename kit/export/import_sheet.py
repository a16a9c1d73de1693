"""Sheet "Import": plain values for the bookkeeper: one row of heads, no merged cells, no totals, nothing above or below."""

import datetime as dt
from decimal import Decimal

from kit.estimating import Estimate
from kit.export.handoff import COLUMNS
from kit.export.handoff_rows import handoff_rows
from kit.export.sheet_cells import Book, Page, Style, leave_unprinted, print_set_up
from kit.issued import Issued

__all__ = ["HEADS", "NAME", "write_import"]

NAME = "Import"
_WIDTHS = {
    "line_id": 34,
    "customer": 26,
    "cost_code_name": 36,
    "expense_account": 22,
    "income_account": 24,
    "text": 52,
    "unit": 24,
    "supplier": 26,
    "contractor_form": 16,
    "fingerprint": 26,
}
HEADS = {name: {"line_id": "Line", "tax_words": "Tax"}.get(name, name.replace("_", " ").capitalize()) for name in COLUMNS}
"""The columns of the CSV, as a person reads them at the head of the sheet."""
_STYLES: dict[str, Style] = {"revision": "whole", "quantity": "quantity", "unit_cost": "quantity", "cost": "amount", "sell": "amount"}
_WIDTH = 11


def write_import(book: Book, estimate: Estimate, issued: Issued | None = None) -> None:
    """The sheet; the same rows as `handoff_rows`, yes and no in words."""
    page = Page(book, NAME, book.workbook.add_worksheet(NAME))
    for column, name in enumerate(COLUMNS):
        page.sheet.set_column(column, column, _WIDTHS.get(name, _WIDTH))
        page.text(0, column, HEADS[name], "head", right=name in _STYLES)
    for row, entry in enumerate(handoff_rows(estimate, issued=issued), 1):
        for column, name in enumerate(COLUMNS):
            _write_cell(page, row, column, getattr(entry, name), _STYLES.get(name, "quantity"))
    page.sheet.freeze_panes(1, 1)
    print_set_up(page)
    leave_unprinted(page)


def _write_cell(page: Page, row: int, column: int, value: object, style: Style) -> None:
    match value:
        case bool():
            page.text(row, column, "yes" if value else "no")
        case str():
            page.text(row, column, value)
        case dt.date():
            page.date(row, column, value, "listed day")
        case int() | float() | Decimal():
            page.number(row, column, value, style)
