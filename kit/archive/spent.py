"""What was really spent on a job: one table of bills, receipts and hours, read with every fault at once.

The columns are those of `spent_columns.csv`. Money is an amount with its currency in a column of its own, as in the price lists.
"""

import csv
import datetime as dt
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.archive.plain_table import plain_text
from kit.errors import Fault, ListError, UnitError
from kit.lists import Lists
from kit.lists.columns import Column, currency, day, one_of, read_rows, text, yes_no
from kit.money import to_decimal
from kit.records import CostType
from kit.steps import Step
from kit.tables import Row, Table, parse_table, read_content
from kit.units import parse_quantity

__all__ = ["SpentRow", "empty_spent_table", "explain_spent_columns", "find_doubled_rows", "parse_spent", "read_spent", "spent_text"]

_PLACES = 2
_MOST_DIGITS = 9
_MOST_HOURS = 10_000
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_CLOCK = re.compile(r"(?P<sign>-?)(?P<hours>[0-9]+):(?P<minutes>[0-5][0-9])(?::00)?(?: ?(?:h|hrs?|hours?))?", re.ASCII)  # a spreadsheet adds seconds
_NUMBERS = ("amount", "hours", "tax", "burden", "quantity", "left")
_ROW = re.compile(r"row (\d+)")


@dataclass(frozen=True, slots=True)
class SpentRow:
    """One bill, receipt, time sheet or credit: its row in the file, and its cells.

    `amount` [currency] is below 0 for a credit; `tax` is the sales tax in it, `burden` what of it comes on top of wages, None where nobody said.
    `hours` are worker-hours [h], 0 where it is no labor. `order` is the number under which it was ordered; with `ordered` it is an order only and
    nothing is spent yet. `call_back` marks what was redone after the work was finished. `quantity` of an `item` came in, in the unit of items.csv
    (below 0: it went back), and `left` of it was left over; `order_day` and `delivery_day` are when it was ordered and delivered.
    """

    number: int
    date: dt.date
    cost_code: str
    cost_type: CostType
    text: str
    amount: Decimal
    hours: float
    supplier: str
    document: str
    step: Step | None = None
    tax: Decimal = Decimal("0.00")
    burden: Decimal | None = None
    order: str = ""
    ordered: bool = False
    call_back: bool = False
    item: str = ""
    quantity: float | None = None
    left: float | None = None
    order_day: dt.date | None = None
    delivery_day: dt.date | None = None


def read_spent(path: Path, lists: Lists, *, job: str | None = None) -> tuple[SpentRow, ...]:
    """The rows of a CSV or XLSX file; errors as in `parse_spent`."""
    return parse_spent(spent_text(read_content(path), path.name), path.name, lists, job=job)


def spent_text(content: bytes, file: str) -> str:
    """The content of a file as the CSV text that `parse_spent` reads: plain comma, decimal point; what can't be read is named, as in `plain_text`."""
    return plain_text(content, file, [name for name, required, _ in explain_spent_columns() if required != "no"], _NUMBERS)


def parse_spent(content: str, file: str, lists: Lists, *, job: str | None = None) -> tuple[SpentRow, ...]:
    """The rows of a CSV text.

    Parameters
    ----------
    content
        CSV, such as `spent_text` gives it.
    file
        Name of the file, for the report.
    lists
        The price lists of the estimate: they hold the cost codes.
    job
        Job number that rows must have where they give one.

    Raises
    ------
    ListError
        With every fault of every row: a missing or unknown column, an unknown cost code, a wrong date, amount or currency, an amount below zero that
        is no credit, labor without hours, hours of what is no labor, another job.
    """
    table = parse_table(content, file)
    faults: list[Fault] = []
    rows = read_rows(table, _columns(lists), dict, faults)
    faults += [fault for row in table.rows for fault in _check_row(table, row, job)]
    if faults:
        raise ListError(sorted(faults, key=_row_number))
    columns = {field.name for field in fields(SpentRow)}
    empty = {field.name: field.default for field in fields(SpentRow) if field.default is not MISSING} | {"hours": 0.0, "supplier": "", "document": ""}
    with_defaults = ((row.number, empty | {name: cell for name, cell in cells.items() if name in columns and cell is not None}) for row, cells in rows)
    return tuple(SpentRow(number, **cells) for number, cells in with_defaults)


def find_doubled_rows(rows: Sequence[SpentRow]) -> tuple[tuple[int, int], ...]:
    """Pairs of row numbers that say the same of the same document: perhaps one bill entered twice."""
    seen: dict[tuple[object, ...], int] = {}
    pairs = []
    for row in rows:
        key = (row.date, row.cost_code, row.cost_type, row.text, row.amount, row.hours, row.supplier, row.document)
        if row.document and key in seen:
            pairs.append((seen[key], row.number))
        seen.setdefault(key, row.number)
    return tuple(pairs)


def explain_spent_columns() -> tuple[tuple[str, str, str], ...]:
    """Name, whether it is required (yes, no or "with labor"), and meaning of each column."""
    with Path(__file__).with_name("spent_columns.csv").open(encoding="utf-8", newline="") as file:
        return tuple((row["column"], row["required"], row["says"]) for row in csv.DictReader(file))


def empty_spent_table() -> bytes:
    """A table with its header only, as CSV, to fill in."""
    return (",".join(name for name, _, _ in explain_spent_columns()) + "\r\n").encode()


def _columns(lists: Lists) -> tuple[Column, ...]:
    may: dict[str, Any] = {"may_be_empty": True, "may_be_absent": True}
    return (
        Column("date", day),
        Column("cost_code", _known_code(lists)),
        Column("cost_type", one_of(CostType)),
        Column("text", text),
        Column("amount", _amount),
        Column("currency", currency),
        Column("hours", _hours, may_be_empty=True),
        Column("supplier", text, **may),
        Column("document", text, **may),
        Column("step", one_of(Step), **may),
        Column("tax", _amount, **may),
        Column("burden", _amount, **may),
        Column("order", text, **may),
        Column("ordered", yes_no, **may),
        Column("call_back", yes_no, **may),
        Column("item", _known_item(lists), **may),
        Column("quantity", _quantity, **may),
        Column("left", _quantity, **may),
        Column("order_day", day, **may),
        Column("delivery_day", day, **may),
        Column("credit", yes_no, **may),
        Column("job", text, **may),
    )


def _known_code(lists: Lists) -> Callable[[str], str]:
    def read(cell: str) -> str:
        if cell not in lists.cost_codes:
            raise ValueError(f'"{cell}" is not a cost code of these lists. Known: {", ".join(lists.cost_codes)}.')
        return cell

    return read


def _known_item(lists: Lists) -> Callable[[str], str]:
    def read(cell: str) -> str:
        if cell not in lists.items:
            raise ValueError(f'"{cell}" is in no list. Give an item of items.csv, or leave the cell empty.')
        return cell

    return read


def _quantity(cell: str) -> float:
    """A quantity of either sign, in the unit of the item."""
    plain = cell.replace("−", "-")
    if not _NUMBER.fullmatch(plain):
        raise ValueError(f'"{cell}" is not a quantity. Give it as a plain number in the unit of items.csv, such as 24 or 7.5.')
    return float(plain)


def _amount(cell: str) -> Decimal:
    """An amount to the cent, of either sign."""
    plain = cell.replace("−", "-")
    if not _NUMBER.fullmatch(plain):
        raise ValueError(f'"{cell}" is not an amount. Give it as 1250.00, with no sign of the currency and no comma.')
    value = Decimal(plain)
    if value.adjusted() >= _MOST_DIGITS:  # before it is rounded, which has a limit of its own
        raise ValueError(f'"{cell}" is too large.')
    if value != round(value, _PLACES):
        raise ValueError(f'"{cell}" has more than two decimals.')
    return to_decimal(value, _PLACES)


def _hours(cell: str) -> float:
    """Worker-hours [h], of either sign, as people write them: 6.5, 6 1/2, 6:30, 6.5 hours, 6 h 30 min."""
    plain = cell.replace("−", "-").strip()
    clock = _CLOCK.fullmatch(plain)
    if clock:
        plain = f"{clock['sign']}{clock['hours']} h {clock['minutes']} min"
    elif plain and not any(letter.isalpha() for letter in plain):
        plain = f"{plain} h"
    try:
        hours = parse_quantity(plain, "time", signed=True)
    except UnitError:
        raise ValueError(f'"{cell}" is not a number of hours. Give it as 6.5, 6 1/2, 6:30 or 6 h 30 min.') from None
    if abs(hours) > _MOST_HOURS:
        raise ValueError(f'"{cell}" is more than {_MOST_HOURS} hours.')
    return hours


def _above_zero(column: str, cell: str) -> bool:
    """Whether a cell is a sound number above zero; one that is none is refused by the reader of its column."""
    try:
        return bool(cell) and (_hours(cell) if column == "hours" else _amount(cell)) > 0
    except ValueError:
        return False


def _check_row(table: Table, row: Row, job: str | None) -> Iterator[Fault]:
    """What two cells of one row say of each other, whatever else is wrong with it."""
    cells = {name: row.cells.get(name, "").replace("−", "-") for name in ("cost_type", "amount", "hours", "credit", "job")}

    def fault(column: str, sentence: str) -> Fault:
        return Fault(f"row {row.number}, {column}", sentence, table.file)

    credit, hours = cells["credit"] == "yes", cells["hours"]
    for column in ("amount", "hours"):
        cell = cells[column]
        if cell.startswith("-") and not credit:
            yield fault(column, f'"{cell}" is negative. Only a credit is: say yes in the column credit.')
        elif credit and _above_zero(column, cell):
            yield fault(column, f'"{cell}" is a credit and must be below zero, such as -{cell}.')
    if "hours" in table.columns:
        if cells["cost_type"] == CostType.LABOR and not hours:
            yield fault("hours", "is empty. Labor needs its hours, such as 6.5.")
        elif hours and cells["cost_type"] in set(CostType) - {CostType.LABOR}:
            yield fault("hours", f'"{hours}" stands with {cells["cost_type"]}. Only labor has hours; leave it empty.')
    yield from (fault(column, sentence) for column, sentence in (*_odd_parts(row.cells), *_odd_goods(row.cells)))
    if job is not None and cells["job"] and cells["job"] != job:
        yield fault("job", f'"{cells["job"]}" is another job. The estimate is of {job}.')


def _odd_parts(cells: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Tax, burden, step and order where they can't be, or more of them than the amount."""
    labor = cells.get("cost_type") == CostType.LABOR
    for column, wrong in (("tax", labor), ("order", labor), ("burden", not labor), ("step", not labor)):
        cell = cells.get(column, "").replace("−", "-")
        if cell and wrong:
            yield column, f'"{cell}" stands with {cells.get("cost_type")}. {"Only labor has it" if not labor else "Labor has none"}; leave it empty.'
        elif _NUMBER.fullmatch(cell) and _NUMBER.fullmatch(cells.get("amount", "")) and abs(float(cell)) > abs(float(cells["amount"])):
            yield column, f'"{cell}" is more than the amount that it is in.'
    if cells.get("ordered") == "yes" and not cells.get("order"):
        yield "order", "is empty. What is only ordered needs the number of the order."


def _odd_goods(cells: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Quantities and days of delivery that can't be."""
    said = {name: cell for name in ("item", "quantity", "left", "order_day", "delivery_day") if (cell := cells.get(name, "").replace("−", "-"))}
    if cells.get("cost_type") == CostType.LABOR:
        yield from ((column, f'"{cell}" stands with labor. Labor has none; leave it empty.') for column, cell in said.items())
    if "quantity" in said and "item" not in said:
        yield "item", "is empty. A quantity needs the item that it is of."
    if "left" in said and "quantity" not in said:
        yield "quantity", "is empty. What was left over needs the quantity that it is of."
    if said.get("quantity", "").startswith("-") and cells.get("credit") != "yes":
        yield "quantity", f'"{said["quantity"]}" is negative. Only goods that went back are: say yes in the column credit.'
    quantity, left = (said.get(name, "") for name in ("quantity", "left"))
    if _NUMBER.fullmatch(left) and (left.startswith("-") or (_NUMBER.fullmatch(quantity) and float(left) > max(float(quantity), 0.0))):
        yield "left", f'"{left}" is more than was bought, or below zero.'
    if said.get("delivery_day", "9") < said.get("order_day", ""):
        yield "delivery_day", f'"{said["delivery_day"]}" is before the day of the order.'


def _row_number(fault: Fault) -> int:
    match = _ROW.match(fault.place)
    return int(match[1]) if match else 0
