"""The budget for the books: one flat table of an estimate, or of a change order, as CSV, what its columns mean, and what it must sum to.

Three files: the rows (`.csv`, RFC 4180, UTF-8, every field quoted), their description (`.datapackage.json`, Data Package version 2 with
a Table Schema) and their control totals (`.control.json`). Nothing has to be typed again, and nothing is lost on the way unseen. What happens
to the contract (bills, payments, deposits) is no budget: it stands in the posting rows (`kit/export/posting_files.py`).

- A text that a spreadsheet would take for a formula has an apostrophe before it (`defuse_text`); `restore_text` takes it off. Columns of
  numbers and dates are never touched: a credit of -25.00 stays a number.
- The same document handed over again has the same `document`, `revision` and `fingerprint` in each row: refuse it, or replace what was
  imported before; `document`, `revision` and `line_id` together name a row.
- A revision says in `replaces` which document it takes the place of: take that one out, or refuse this one.
"""

import csv
import datetime as dt
import io
from collections.abc import Sequence
from dataclasses import fields
from decimal import Decimal
from typing import Any

from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.csv_text import csv_bytes, restore_text
from kit.export.handoff_rows import HandoffRow, handoff_rows
from kit.export.papers import Payment, refuse_unnamed
from kit.export.table_files import TableFacts, group_totals, table_files, table_schema
from kit.issued import Issued
from kit.money import sum_money

__all__ = ["COLUMNS", "TEXT_COLUMNS", "control_totals", "handoff_bytes", "handoff_files", "handoff_schema", "read_handoff", "row_files"]

COLUMNS = tuple(field.name for field in fields(HandoffRow))
TEXT_COLUMNS = tuple(field.name for field in fields(HandoffRow) if field.type is str)


def handoff_bytes(rows: Sequence[HandoffRow]) -> bytes:
    """The rows as CSV."""
    return csv_bytes(COLUMNS, rows)


def read_handoff(content: bytes) -> tuple[HandoffRow, ...]:
    """The rows of a CSV file that `handoff_bytes` wrote with defused texts, texts as they were before. Raises PriceError if it is no such file."""
    try:
        reader = csv.DictReader(io.StringIO(content.decode(), newline=""), strict=True)
        if tuple(reader.fieldnames or ()) != COLUMNS:
            raise ValueError("its columns are not those of a hand-off.")  # noqa: TRY301 - one report for every way to be no hand-off
        return tuple(HandoffRow(**{name: _value(name, row[name]) for name in COLUMNS}) for row in reader)
    except (ValueError, ArithmeticError, TypeError, KeyError, csv.Error) as error:
        raise PriceError(Fault("hand-off", f"can't be read: {error}")) from None


def _value(name: str, cell: str) -> Any:
    if name in TEXT_COLUMNS:
        return restore_text(cell)
    match name:
        case "date":
            return dt.date.fromisoformat(cell)
        case "taxable":
            return {"yes": True, "no": False}[cell]
        case "revision":
            return int(cell)
        case _:
            return Decimal(cell)


def control_totals(rows: Sequence[HandoffRow]) -> dict[str, Any]:
    """What an import must come to: count and sums as text with two decimals, the document's fingerprint."""
    first = rows[0]
    return {
        "document": first.document,
        "revision": first.revision,
        "job": first.job,
        "date": first.date.isoformat(),
        "status": first.status,
        "fingerprint": first.fingerprint,
        "replaces": first.replaces,
        "currency": first.currency,
        "count": len(rows),
        "sum_cost": f"{sum_money([row.cost for row in rows])}",
        "sum_sell": f"{sum_money([row.sell for row in rows])}",
        "by_account": group_totals((row.expense_account, row.cost) for row in rows),
        "by_income_account": group_totals((row.income_account, row.sell) for row in rows),
        "by_cost_code": group_totals((row.cost_code, row.cost) for row in rows),
        "by_tax": group_totals((row.tax_words, row.cost) for row in rows),
        "by_draw": group_totals((row.draw, row.sell) for row in rows),
    }


def handoff_files(estimate: Estimate, stem: str, *, issued: Issued | None = None, draws: Sequence[Payment] | None = None) -> dict[str, bytes]:
    """Name and content of the three files: rows, description, control totals. Raises IssueError if the job does not say yet whose it is."""
    refuse_unnamed(estimate)
    return row_files(handoff_rows(estimate, issued=issued, draws=draws), stem)


def row_files(rows: Sequence[HandoffRow], stem: str) -> dict[str, bytes]:
    """The same for rows that are there, such as those of a change order."""
    first = rows[0]
    title = f"Budget for the books: {first.document}, {f'revision {first.revision}' if first.revision else first.status}"
    return table_files(stem, TableFacts("budget", title, first.date, handoff_schema()), handoff_bytes(rows), control_totals(rows))


def handoff_schema() -> dict[str, Any]:
    """The Table Schema of the rows (Data Package standard, version 2)."""
    return table_schema("handoff_columns.csv", COLUMNS, ("document", "revision", "line_id"))
