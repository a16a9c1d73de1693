"""Price lists as a workbook to edit and bring back: one sheet a list, the header in row 1, every cell as the list reader wants it."""

import csv
import datetime as dt
import io
from collections.abc import Sequence
from typing import Any

from kit.lists import Lists
from kit.lists.columns import amount, day, number, whole
from kit.lists.list_files import LISTS

__all__ = ["list_sheets_bytes"]

_OPTIONS = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
_NARROWEST, _WIDEST = 8, 60
_LONGEST_SHEET_NAME = 31


def list_sheets_bytes(lists: Lists, files: Sequence[str]) -> bytes:
    """The named lists, each on a sheet of its name; the same lists give the same bytes.

    Measures stay text with their unit (`0.25 h`, `5 %`) and are marked as text, so that a sheet program leaves them so; plain numbers
    are numbers, dates are dates. Brought back, the workbook gives the same lists.
    """
    from xlsxwriter import Workbook

    buffer = io.BytesIO()
    with Workbook(buffer, dict(_OPTIONS)) as book:
        book.set_properties({"title": "Price lists", "author": lists.company.name, "created": _created(lists)})
        looks = {
            "head": book.add_format({"bold": True, "bottom": 2, "num_format": "@"}),
            "text": book.add_format({"num_format": "@"}),
            "date": book.add_format({"num_format": "yyyy-mm-dd", "align": "left"}),
        }
        for file in files:
            _write_sheet(book.add_worksheet(file.removesuffix(".csv")[:_LONGEST_SHEET_NAME]), file, lists.texts[file], looks)
    return buffer.getvalue()


def _created(lists: Lists) -> dt.datetime:
    return dt.datetime.combine(dt.date.fromisoformat(lists.company.price_date), dt.time())


def _write_sheet(sheet: Any, file: str, text: str, looks: dict[str, Any]) -> None:
    rows = list(csv.reader(io.StringIO(text, newline="")))
    readers = {column.name: column.read for column in LISTS[file].columns} if file in LISTS else {}
    header = [cell.strip() for cell in rows[0]] if rows else []
    for place, row in enumerate(rows):
        for column, cell in enumerate(row):
            read = readers.get(header[column]) if place and column < len(header) else None
            _write_cell(sheet, place, column, cell.strip(), read, looks["text" if place else "head"], looks["date"])
    for column in range(len(header)):
        longest = max((len(row[column]) for row in rows if column < len(row)), default=0)
        sheet.set_column(column, column, min(max(longest + 2, _NARROWEST), _WIDEST))
    sheet.freeze_panes(1, 1)


def _write_cell(sheet: Any, row: int, column: int, cell: str, read: Any, text: Any, date: Any) -> None:
    if not cell:
        sheet.write_blank(row, column, None, None if read in {number, whole, amount} else text)
    elif read is day:
        sheet.write_datetime(row, column, dt.datetime.fromisoformat(cell), date)
    elif read in {number, whole, amount}:
        sheet.write_number(row, column, float(cell))
    else:
        sheet.write_string(row, column, cell, text)
