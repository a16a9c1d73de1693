"""The one door for tables that come in: CSV and XLSX read as text cells, with row numbers and every fault of the file."""

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from kit.errors import Fault, ListError
from kit.incoming import MOST_COLUMNS, MOST_ROWS, MOST_TABLE_BYTES, UNPRINTABLE, read_file

__all__ = ["Row", "Table", "content_sheets", "content_text", "parse_table", "read_content", "read_text"]


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number in the file (the header is row 1) and its cells by column name, stripped."""

    number: int
    cells: dict[str, str]


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it came in: file name, columns, rows."""

    file: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def read_text(path: Path) -> str:
    """The text of a table's file: CSV in UTF-8, or the first sheet of an XLSX file as CSV. Raises ListError if it is unreadable, too large or not UTF-8."""
    return content_text(read_content(path), path.name)


def read_content(path: Path) -> bytes:
    """The content of a table's file as it is, within the size that is taken; errors as in `read_text`."""
    return read_file(path, MOST_TABLE_BYTES, ListError)


def content_text(content: bytes, file: str) -> str:
    """The same from the content of a file that never lay in a folder, such as an upload; `file` is its name."""
    if len(content) > MOST_TABLE_BYTES:
        raise _too_large(file)
    if Path(file).suffix.lower() == ".xlsx":
        from kit.tables.xlsx_sheets import read_sheet_text

        return read_sheet_text(content, file)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise ListError(Fault(f"byte {error.start + 1}", "is not UTF-8. Save the list as CSV in UTF-8.", file)) from None


def content_sheets(content: bytes, file: str) -> dict[str, str]:
    """The texts of all sheets of a workbook by their name, or the one text of a CSV file by ""; errors as in `read_text`."""
    if Path(file).suffix.lower() != ".xlsx" or len(content) > MOST_TABLE_BYTES:
        return {"": content_text(content, file)}
    from kit.tables.xlsx_sheets import read_sheet_texts

    return read_sheet_texts(content, file)


def _too_large(file: str) -> ListError:
    return ListError(Fault("", f"is larger than {MOST_TABLE_BYTES // 1_000_000} MB.", file))


def _without_end(row: int, cells: int, file: str) -> ListError:
    if cells > MOST_COLUMNS:
        return ListError(Fault(f"row {row}", f"has {cells} cells; {MOST_COLUMNS} are the most. Is it the right file?", file))
    return ListError(Fault("", f"has more than {MOST_ROWS} rows. Leave out what is no longer used.", file))


def parse_table(text: str, file: str) -> Table:
    """Every row of a CSV text; blank rows are passed over, row numbers stay those of the file.

    Raises ListError with every fault: empty, no header, doubled columns, rows of the wrong length; or it has more rows or columns than a table can have.
    """
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    faults: list[Fault] = []
    rows: list[Row] = []
    columns: tuple[str, ...] = ()
    try:
        for cells in reader:
            number, cells = reader.line_num, [cell.strip() for cell in cells]  # noqa: PLW2901 - stripped once, here
            if not any(cells):
                continue
            if len(cells) > MOST_COLUMNS or len(rows) >= MOST_ROWS:
                raise _without_end(number, len(cells), file)
            if UNPRINTABLE.search("".join(cells)):
                faults.append(Fault(f"row {number}", "has a character that can't be printed. Type its cells again.", file))
            if not columns:
                columns = tuple(cells)
            elif len(cells) != len(columns):
                faults.append(Fault(f"row {number}", f"has {len(cells)} {'cell' if len(cells) == 1 else 'cells'}, the header has {len(columns)}.", file))
            else:
                rows.append(Row(number, dict(zip(columns, cells, strict=True))))
    except csv.Error as error:
        faults.append(Fault(f"row {reader.line_num}", f"is not readable as CSV: {error}.", file))
    if not columns:
        faults.append(Fault("", "is empty: no header row.", file))
    if len(columns) == 1 and faults and not rows:
        raise ListError(Fault("", "holds no table: its first row is one cell, and no other row is. Is it the right file?", file))
    doubled = sorted({column for column in columns if columns.count(column) > 1})
    faults.extend(Fault("row 1", f'Column "{column}" is there twice.', file) for column in doubled)
    if faults:
        raise ListError(faults)
    return Table(file, columns, tuple(rows))
