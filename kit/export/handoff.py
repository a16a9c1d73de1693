"""The hand-off to the books: one flat table of an estimate as CSV, what its columns mean, and what it must sum to.

Three files: the rows (`.csv`, RFC 4180, UTF-8, every field quoted), their description (`.datapackage.json`, Data Package version 2 with
a Table Schema) and their control totals (`.control.json`). Nothing has to be typed again, and nothing is lost on the way unseen.

- A text that a spreadsheet would take for a formula has an apostrophe before it (`defuse_text`); `restore_text` takes it off. Columns of
  numbers and dates are never touched: a credit of -25.00 stays a number.
- The same document handed over again has the same `document`, `revision` and `fingerprint` in each row: refuse it, or replace what was
  imported before; `document`, `revision` and `line_id` together name a row.
"""

import csv
import datetime as dt
import hashlib
import io
from collections.abc import Sequence
from dataclasses import fields
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.document import document_bytes
from kit.errors import Fault, PriceError
from kit.estimate import Estimate
from kit.export.csv_text import csv_bytes, restore_text
from kit.export.handoff_rows import HandoffRow, handoff_rows
from kit.export.papers import Payment
from kit.issued import Issued
from kit.money import sum_money

__all__ = ["COLUMNS", "TEXT_COLUMNS", "control_totals", "handoff_bytes", "handoff_files", "handoff_schema", "read_handoff", "row_files"]

_PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
COLUMNS = tuple(field.name for field in fields(HandoffRow))
TEXT_COLUMNS = tuple(field.name for field in fields(HandoffRow) if field.type is str)


def handoff_bytes(rows: Sequence[HandoffRow]) -> bytes:
    """The rows as CSV."""
    return csv_bytes(COLUMNS, rows)


def read_handoff(content: bytes) -> tuple[HandoffRow, ...]:
    """The rows of a CSV file that `handoff_bytes` wrote with defused texts, texts as they were before.

    Raises
    ------
    PriceError
        If it is no such file.
    """
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
        case "draw":
            return int(cell) if cell else None
        case _:
            return Decimal(cell)


def control_totals(rows: Sequence[HandoffRow], content: bytes) -> dict[str, Any]:
    """What an import must come to: count and sums as text with two decimals, fingerprints of document and file."""
    first = rows[0]
    return {
        "document": first.document,
        "revision": first.revision,
        "job": first.job,
        "date": first.date.isoformat(),
        "status": first.status,
        "fingerprint": first.fingerprint,
        "currency": first.currency,
        "count": len(rows),
        "sum_cost": f"{sum_money([row.cost for row in rows])}",
        "sum_sell": f"{sum_money([row.sell for row in rows])}",
        "file_sha256": hashlib.sha256(content).hexdigest(),
    }


def handoff_files(estimate: Estimate, stem: str, *, issued: Issued | None = None, draws: Sequence[Payment] | None = None) -> dict[str, bytes]:
    """Name and content of the three files: rows, description, control totals."""
    return row_files(handoff_rows(estimate, issued=issued, draws=draws), stem)


def row_files(rows: Sequence[HandoffRow], stem: str) -> dict[str, bytes]:
    """The same for rows that are there, such as those of a change order."""
    content = handoff_bytes(rows)
    return {
        f"{stem}.csv": content,
        f"{stem}.datapackage.json": document_bytes(_package(f"{stem}.csv", content, rows[0])),
        f"{stem}.control.json": document_bytes(control_totals(rows, content)),
    }


def _package(file: str, content: bytes, row: HandoffRow) -> dict[str, Any]:
    return {
        "$schema": _PROFILE,
        "name": "hand-off",
        "title": f"Hand-off to the books: {row.document}, {f'revision {row.revision}' if row.revision else row.status}",
        "created": f"{row.date.isoformat()}T00:00:00Z",
        "resources": [
            {
                "name": "rows",
                "type": "table",
                "path": file,
                "format": "csv",
                "mediatype": "text/csv",
                "encoding": "utf-8",
                "bytes": len(content),
                "hash": f"sha256:{hashlib.sha256(content).hexdigest()}",
                "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True, "header": True},
                "schema": handoff_schema(),
            }
        ],
    }


def handoff_schema() -> dict[str, Any]:
    """The Table Schema of the rows (Data Package standard, version 2)."""
    with Path(__file__).with_name("handoff_columns.csv").open(encoding="utf-8", newline="") as file:
        said = {row["column"]: row for row in csv.DictReader(file)}
    return {
        "fields": [_field(name, said[name]) for name in COLUMNS],
        "primaryKey": ["document", "revision", "line_id"],
        "missingValues": [""],
    }


def _field(name: str, said: dict[str, str]) -> dict[str, Any]:
    field: dict[str, Any] = {"name": name, "type": said["type"], "description": said["says"]}
    rules: dict[str, Any] = {}
    if said["required"] == "yes":
        rules["required"] = True
    if said["words"]:
        rules["enum"] = said["words"].split()
    if said["type"] == "boolean":
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if name == "revision":
        rules["minimum"] = 0
    return field | ({"constraints": rules} if rules else {})
