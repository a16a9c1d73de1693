"""Sheets that come in: the sheets of an XLSX file as CSV text, nothing in them run, followed or trusted."""

import csv
import datetime as dt
import io
import zipfile
from typing import Any

from kit.errors import Fault, ListError

__all__ = ["read_sheet_text", "read_sheet_texts"]

_LARGEST_UNPACKED = 60_000_000
_MOST_PARTS = 500
_MOST_ROWS = 50_000
_MOST_COLUMNS = 100
_MOST_SHEETS = 60


def read_sheet_text(content: bytes, file: str) -> str:
    """The first sheet as CSV text: values as they were last shown; formulas, links and macros are ignored.

    Raises
    ------
    ListError
        If the file is no workbook, unpacks to more than a price list can be, names parts outside itself, or holds
        XML that would grow without end.
    """
    return next(iter(_read_sheets(content, file, most=1).values()))


def read_sheet_texts(content: bytes, file: str) -> dict[str, str]:
    """Every sheet as CSV text by its name, empty ones left out; errors as in `read_sheet_text`."""
    return {name: text for name, text in _read_sheets(content, file, most=_MOST_SHEETS).items() if text.strip()}


def _read_sheets(content: bytes, file: str, *, most: int) -> dict[str, str]:
    _check_parts(content, file)
    import openpyxl
    from defusedxml.common import DefusedXmlException

    if not openpyxl.DEFUSEDXML:  # the guard that openpyxl takes from defusedxml, which is installed with the kit
        raise ListError(Fault("", "can't be read safely: defusedxml is missing from this installation.", file))
    try:
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False, keep_vba=False)
        try:
            sheets = {sheet.title: _rows(sheet) for sheet in book.worksheets[:most]}
        finally:
            book.close()
    except (DefusedXmlException, KeyError, IndexError, ValueError, TypeError, OSError, zipfile.BadZipFile, SyntaxError) as error:
        raise ListError(Fault("", f"is not a readable XLSX workbook: {type(error).__name__}.", file)) from None
    if not sheets:
        raise ListError(Fault("", "is not a readable XLSX workbook: no sheet.", file))
    if any(len(rows) > _MOST_ROWS for rows in sheets.values()):
        raise ListError(Fault("", f"has more than {_MOST_ROWS} rows.", file))
    return {name: _csv_text(rows) for name, rows in sheets.items()}


def _rows(sheet: Any) -> list[list[str]]:
    return [[_text(cell) for cell in row[:_MOST_COLUMNS]] for row in sheet.iter_rows(values_only=True, max_row=_MOST_ROWS + 1)]


def _csv_text(rows: list[list[str]]) -> str:
    """Rows as CSV; empty columns to the right of the last filled one are cut off."""
    width = max((index for row in rows for index, cell in enumerate(row, 1) if cell), default=0)
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    for row in rows:
        writer.writerow([*row, *[""] * (width - len(row))][:width])
    return text.getvalue()


def _check_parts(content: bytes, file: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = archive.infolist()
    except (OSError, zipfile.BadZipFile):
        raise ListError(Fault("", "is not an XLSX workbook.", file)) from None
    if len(parts) > _MOST_PARTS or sum(part.file_size for part in parts) > _LARGEST_UNPACKED:
        raise ListError(Fault("", "unpacks to more than a price list can be.", file))
    if any(part.filename.startswith(("/", "\\")) or ".." in part.filename.split("/") for part in parts):
        raise ListError(Fault("", "names parts outside itself.", file))


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.datetime):
        return value.date().isoformat()
    if isinstance(value, float):
        return f"{value:.12g}"
    return str(value)
