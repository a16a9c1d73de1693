"""Sheets that come in: the sheets of an XLSX file as CSV text, nothing in them run, followed or trusted."""

import csv
import datetime as dt
import io
import warnings
import zipfile
from collections.abc import Sequence
from typing import Any

from kit.errors import Fault, ListError
from kit.incoming import MOST_COLUMNS, MOST_ROWS, MOST_SHEETS, MOST_TAGS, MOST_UNPACKED_BYTES, MOST_UNPACKED_PARTS

__all__ = ["read_sheet_text", "read_sheet_texts"]


def read_sheet_text(content: bytes, file: str) -> str:
    """The first sheet as CSV text: values as they were last shown; formulas, links and macros are ignored.

    Raises ListError if the file is no workbook, unpacks to more than a price list can be, names parts outside itself, or holds XML that would grow without
    end.
    """
    return next(iter(_read_sheets(content, file, most=1).values()))


def read_sheet_texts(content: bytes, file: str) -> dict[str, str]:
    """Every sheet as CSV text by its name, empty ones left out; errors as in `read_sheet_text`."""
    return {name: text for name, text in _read_sheets(content, file, most=MOST_SHEETS).items() if text.strip()}


def _read_sheets(content: bytes, file: str, *, most: int) -> dict[str, str]:
    _check_parts(content, file)
    import openpyxl

    if not openpyxl.DEFUSEDXML:  # the guard that openpyxl takes from defusedxml, which is installed with the kit
        raise ListError(Fault("", "can't be read safely: defusedxml is missing from this installation.", file))
    try:
        _check_tags(content, file)
        with warnings.catch_warnings():  # of styles that are missing and the like, which nobody reads here
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False, keep_vba=False)
        try:
            sheets = _rows_of(book.worksheets[:most], file)
        finally:
            book.close()
    except ListError:
        raise
    except Exception:  # noqa: BLE001 - the library and those below it raise what they like
        raise ListError(Fault("", "is not a readable XLSX workbook: damaged, locked with a password or packed oddly. Save it as .xlsx again.", file)) from None
    if not sheets:
        raise ListError(Fault("", "is not a readable XLSX workbook: no sheet.", file))
    return {name: _csv_text(rows) for name, rows in sheets.items()}


def _rows_of(sheets: Sequence[Any], file: str) -> dict[str, list[list[str]]]:
    """The rows of each sheet by its name; all sheets together hold no more than one table can."""
    rows_of: dict[str, list[list[str]]] = {}
    left = MOST_ROWS
    for sheet in sheets:
        rows_of[sheet.title] = [_cells(row) for row in sheet.iter_rows(values_only=True, max_row=left + 1, max_col=MOST_COLUMNS)]
        left -= len(rows_of[sheet.title])
        if left < 0:
            raise ListError(Fault("", f"has more than {MOST_ROWS} rows. Take out what stands far below the table.", file))
    return rows_of


def _cells(row: Sequence[Any]) -> list[str]:
    """The cells as text, none for an empty row: a single cell far below would else fill the memory."""
    return [_text(cell) for cell in row] if any(cell is not None for cell in row) else []


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
    except (OSError, NotImplementedError, zipfile.BadZipFile):  # the second: packed by rules of a later day
        raise ListError(Fault("", "is not an XLSX workbook.", file)) from None
    if len(parts) > MOST_UNPACKED_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED_BYTES:
        raise ListError(Fault("", "unpacks to more than a price list can be.", file))
    if any(part.filename.startswith(("/", "\\")) or ".." in part.filename.split("/") for part in parts):
        raise ListError(Fault("", "names parts outside itself.", file))


def _check_tags(content: bytes, file: str) -> None:
    """Cells, styles and shared texts without end would be read one by one, also those that no row of a list holds."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        tags = sum(archive.read(part).count(b"<") for part in archive.infolist())
    if tags > MOST_TAGS:
        raise ListError(Fault("", "holds more cells or looks than a price list needs. Leave out what no list uses, or save the list as CSV.", file))


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
