"""The hand-off to the books: one flat table of an estimate as CSV, what its columns mean, and what it must sum to.

Three files: the rows (`.csv`, RFC 4180, UTF-8, every field quoted), their description (`.datapackage.json`, Data Package version 2 with
a Table Schema) and their control totals (`.control.json`). Nothing has to be typed again, and nothing is lost on the way unseen.

- `cost` sums to the direct cost, `sell` to the price. Credits are negative. A deposit stands twice, once taken (positive) and once
  earned (negative), both on its liability account, so that the sum of `sell` stays the price.
- A text that a spreadsheet would take for a formula has an apostrophe before it (`defuse_text`); `restore_text` takes it off. Columns of
  numbers and dates are never touched: a credit of -25.00 stays a number. Readers that never open a spreadsheet may ask for `raw` texts.
- The same document handed over again has the same `document`, `revision` and `fingerprint` in each row: refuse it, or replace what was
  imported before; `document`, `revision` and `line_id` together name a row.
"""

import csv
import datetime as dt
import hashlib
import io
import json
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from kit.errors import Fault, PriceError
from kit.estimate import Estimate
from kit.export.lists_used import currency_of
from kit.export.papers import PaperMark, Payment, mark_of, payments_of
from kit.export.rows import ImportRow, defuse_text, import_rows, one_line, restore_text
from kit.issued import Issued
from kit.money import round_cents, sum_money, to_decimal
from kit.pricing.priced import step_of_purchase, work_order
from kit.records import CostType

__all__ = [
    "HandoffRow",
    "control_totals",
    "handoff_bytes",
    "handoff_files",
    "handoff_rows",
    "handoff_schema",
    "read_handoff",
    "row_files",
    "unit_code",
]

_MONEY = ("unit_cost", "cost", "sell")
_QUANTITY_PLACES, _PRICE_PLACES = 4, 4
_PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"


@dataclass(frozen=True, slots=True)
class HandoffRow:
    """One row for the bookkeeper; the fields are the columns, in this order.

    `quantity` times `unit_cost` gives `cost`, but for rounding. `draw` is the number of the payment, None where a row belongs to none.
    `contractor_form` is yes, no or ask. `unit_code` (UN/ECE Recommendation 20) and `uniformat` (UNIFORMAT II) are "" where there is none.
    """

    job: str
    customer: str
    document: str
    revision: int
    line_id: str
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
    tax_code: str
    supplier: str
    contractor_form: str
    draw: int | None
    status: str
    unit_code: str
    uniformat: str
    fingerprint: str


COLUMNS = tuple(field.name for field in fields(HandoffRow))
TEXT_COLUMNS = tuple(field.name for field in fields(HandoffRow) if field.type is str)


def handoff_rows(estimate: Estimate, *, issued: Issued | None = None, draws: Sequence[Payment] | None = None) -> tuple[HandoffRow, ...]:
    """The rows of an estimate: purchases, work, tax paid, then deposits taken and earned.

    Parameters
    ----------
    estimate
        As `kit.estimate` gives it.
    issued
        The issued document that they are of; without it they are of a draft.
    draws
        The customer's payments, planned from the lists when left out; deposits among them get their two rows, and each other row the number of
        the payment before which its step is done.

    Raises
    ------
    PriceError
        If the rows would not sum to direct cost and price.
    """
    mark = mark_of(estimate, issued)
    draws = payments_of(estimate) if draws is None else draws
    numbers = _draw_numbers(estimate, draws)
    rows = [replace(_from_import(estimate, row, mark), draw=numbers.get(row.line_id)) for row in import_rows(estimate)]
    rows += [row for draw in draws if draw.deposit for row in _deposit(estimate, mark, draw, last=max(one.number for one in draws))]
    totals = (sum_money([row.cost for row in rows]), sum_money([row.sell for row in rows]))
    if totals != (estimate.cost, estimate.price):
        raise PriceError(Fault("hand-off", f"sums to {totals[0]} and {totals[1]}, but cost and price are {estimate.cost} and {estimate.price}."))
    return tuple(rows)


def _draw_numbers(estimate: Estimate, draws: Sequence[Payment]) -> dict[str, int]:
    """The payment of each row whose step is known: the first that is due when the step is done, else the last."""
    order = work_order(estimate)
    due = sorted((order.index(draw.step), draw.number) for draw in draws if draw.step in order)
    if not due:
        return {}
    steps = {f"task:{task.step}": task.step for task in estimate.tasks}
    steps |= {f"buy:{purchase.id}": step_of_purchase(estimate, purchase, order) for purchase in estimate.purchases}
    return {line_id: next((number for place, number in due if order.index(step) <= place), due[-1][1]) for line_id, step in steps.items() if step in order}


def _from_import(estimate: Estimate, row: ImportRow, mark: PaperMark) -> HandoffRow:
    lists = estimate.lists
    code, supplier = lists.cost_codes.get(row.cost_code), lists.suppliers.get(row.supplier)
    unit = "worker-hour" if row.line_id.startswith("task:") else row.unit
    form = "no" if not row.supplier else supplier.contractor_form if supplier else "ask"
    return HandoffRow(
        job=row.job,
        customer=row.customer,
        document=one_line(mark.number),
        revision=mark.revision,
        line_id=row.line_id,
        date=mark.day,
        cost_code=row.cost_code,
        cost_code_name=one_line(code.name) if code else "",
        cost_type=row.cost_type,
        expense_account=row.account,
        income_account=one_line(row.income_account),
        text=row.text,
        quantity=to_decimal(row.quantity, _QUANTITY_PLACES),
        unit=row.unit,
        unit_cost=to_decimal(row.unit_cost, _PRICE_PLACES),
        cost=row.cost,
        sell=row.sell,
        currency=currency_of(estimate),
        taxable=row.taxable,
        tax_code=one_line(lists.books["tax-code-paid" if row.taxable else "tax-code-none"].entry),
        supplier=row.supplier,
        contractor_form=form,
        draw=None,
        status=mark.status,
        unit_code=unit_code(unit),
        uniformat=(code.uniformat or "") if code else "",
        fingerprint=mark.fingerprint,
    )


def _deposit(estimate: Estimate, mark: PaperMark, draw: Payment, *, last: int) -> tuple[HandoffRow, HandoffRow]:
    """A deposit as a liability: taken at its draw, earned at the last one."""
    model = _from_import(estimate, import_rows(estimate)[0], mark)
    liability = one_line(estimate.lists.books["deposit-liability"].entry)
    taken = replace(
        model,
        line_id=f"draw:{draw.number}/taken",
        cost_code="",
        cost_code_name="",
        cost_type=str(CostType.OTHER),
        expense_account="",
        income_account=liability,
        text=f"Deposit taken: {one_line(draw.due)}",
        quantity=to_decimal(1, _QUANTITY_PLACES),
        unit="each",
        unit_cost=to_decimal(0, _PRICE_PLACES),
        cost=round_cents(Decimal(0)),
        sell=draw.amount,
        taxable=False,
        tax_code=one_line(estimate.lists.books["tax-code-none"].entry),
        supplier="",
        contractor_form="no",
        draw=draw.number,
        unit_code=unit_code("each"),
        uniformat="",
    )
    earned = replace(taken, line_id=f"draw:{draw.number}/earned", text=f"Deposit earned: {one_line(draw.due)}", sell=-draw.amount, draw=last)
    return taken, earned


def unit_code(unit: str) -> str:
    """The code of a unit in UN/ECE Recommendation 20; what is sold in packs counts as "one"."""
    return _unit_codes().get(unit, _unit_codes()["one"])


@cache
def _unit_codes() -> dict[str, str]:
    with Path(__file__).with_name("unit_codes.csv").open(encoding="utf-8", newline="") as file:
        return {row["unit"]: row["code"] for row in csv.DictReader(file)}


def handoff_bytes(rows: Sequence[HandoffRow], *, raw: bool = False) -> bytes:
    """The rows as CSV; with `raw` texts are as they were, for a reader that is no spreadsheet."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow([_cell(getattr(row, name), raw=raw) for name in COLUMNS])
    return out.getvalue().encode()


def _cell(value: object, *, raw: bool) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case Decimal():
            return f"{value:f}"
        case dt.date():
            return value.isoformat()
        case str():
            return value if raw else defuse_text(value)
        case _:
            return str(value)


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
        f"{stem}.datapackage.json": _json(_package(f"{stem}.csv", content, rows[0])),
        f"{stem}.control.json": _json(control_totals(rows, content)),
    }


def _json(document: dict[str, Any]) -> bytes:
    return (json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


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
