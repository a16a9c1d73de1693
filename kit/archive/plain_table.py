"""Tables as people's programs write them, made plain: semicolons, tabs, a comma for the decimals, a title above the header, several sheets."""

import csv
import io
import re
from collections.abc import Sequence
from pathlib import Path

from kit.errors import Fault, ListError
from kit.tables import content_sheets

__all__ = ["plain_text"]

_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # first bytes of a compound file, [MS-CFB] 2.2; from memory
_OTHERS = {".xls": "an .xls", ".xlsm": "an .xlsm", ".xlsb": "an .xlsb", ".ods": "an .ods", ".numbers": "a .numbers file", ".pdf": "a PDF"}
_SIGNS = ",;\t"
_COMMA = re.compile(r"[-−]?[0-9]+,[0-9]{1,2}")


def plain_text(content: bytes, file: str, required: Sequence[str], numbers: Sequence[str]) -> str:
    """The table of a file as CSV text with commas and decimal points; rows keep their numbers, blank ones standing for a title.

    Parameters
    ----------
    content, file
        The file and its name.
    required
        Columns that the header must have to be known as one.
    numbers
        Columns in which a comma is a decimal point, unless commas part the cells.

    Raises
    ------
    ListError
        A file of another kind, said by its name; one without any of the columns; several sheets that hold such a table; what `kit.tables.content_text`
        refuses.
    """
    ending = Path(file).suffix.lower()
    if ending in _OTHERS or content.startswith(_OLD_WORKBOOK):
        raise ListError(Fault("", f"This is {_OTHERS.get(ending, 'an .xls')}: save it as .xlsx.", file))
    texts = {name: _made_plain(text, required, numbers) for name, text in content_sheets(content, file).items()}
    filled = {name: text for name, text in texts.items() if text is not None}
    if len(filled) > 1:
        raise ListError(Fault("", f"has this table on several sheets: {', '.join(filled)}. Keep one of them in the file.", file))
    found = next(iter(filled.values()), None) or next(iter(content_sheets(content, file).values()), "")
    if found.strip() and not {cell.strip() for cell in re.split(rf"[{_SIGNS}\r\n]", found)} & {*required}:
        raise ListError(Fault("", f"holds no such table: no row has the columns {', '.join(required)}.", file))
    return found  # without a header that is known, the reader of tables says what it misses


def _made_plain(text: str, required: Sequence[str], numbers: Sequence[str]) -> str | None:
    """None where no row of it is the header."""
    for sign in _SIGNS:
        try:
            rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True))
        except csv.Error:
            continue
        header = next((place for place, row in enumerate(rows) if len({*required} & {cell.strip() for cell in row}) >= len(required) - 1), None)
        if header is not None:
            if sign == "," and header == 0:
                return text
            return _written(rows, header, numbers if sign != "," else ())
    return None


def _written(rows: list[list[str]], header: int, numbers: Sequence[str]) -> str:
    columns = [cell.strip() for cell in rows[header]]
    while columns and not columns[-1]:
        columns.pop()
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    for place, row in enumerate(rows):
        cells = [] if place < header else row[: len(columns)] if not any(cell.strip() for cell in row[len(columns) :]) else row
        writer.writerow([_point(cell) if name in numbers else cell for name, cell in zip(columns, cells, strict=False)] + cells[len(columns) :])
    return out.getvalue()


def _point(cell: str) -> str:
    return cell.replace(",", ".") if _COMMA.fullmatch(cell.strip()) else cell
