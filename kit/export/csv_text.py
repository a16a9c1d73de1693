"""Tables as CSV (RFC 4180, UTF-8, every field quoted, texts on one line), and texts that no spreadsheet takes for a formula.

A workbook keeps texts as text whatever they begin with. A CSV file can't: there `defuse_text` puts an apostrophe before a text that a
spreadsheet would take for a formula, and `restore_text` takes it off again. Numbers are never touched, so that a credit of -25.00 stays a
number.
"""

import csv
import datetime as dt
import io
from collections.abc import Sequence
from decimal import Decimal

__all__ = ["LONGEST_TEXT", "csv_bytes", "defuse_text", "one_line", "restore_text", "shorten"]

LONGEST_TEXT = 100
_FORMULA_SIGNS = ("=", "+", "-", "@", "＝", "＋", "－", "＠")  # the wide ones are read as formulas in East Asian settings
_CONTROL_SIGNS = ("\t", "\r", "\n")
_MARK = "'"


def csv_bytes(columns: Sequence[str], rows: Sequence[object]) -> bytes:
    """Records as CSV, each column from the attribute of its name, texts defused."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_cell(getattr(row, name)) for name in columns])
    return out.getvalue().encode()


def _cell(value: object) -> str:
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
            return defuse_text(one_line(value))
        case _:
            return str(value)


def one_line(text: str) -> str:
    """The text with every run of blanks, tabs and line breaks as one blank, other control signs gone."""
    plain = text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)
    return " ".join(plain.split())


def shorten(text: str) -> str:
    """The text cut to what a column of the books holds, with dots where it was cut."""
    return text if len(text) <= LONGEST_TEXT else f"{text[: LONGEST_TEXT - 3].rstrip()}..."


def defuse_text(text: str) -> str:
    """The text for a CSV file: with an apostrophe before it when a spreadsheet would take it for a formula.

    That is a text whose first sign, blanks left aside, is one of = + - @ (narrow or wide); one that begins with a tab or a
    line break; and one that begins with an apostrophe itself, so that `restore_text` gives back what went in. It is for text
    columns only. Separators, quotes and line breaks inside are the business of the CSV writer, which must quote the field.

    Notes
    -----
    OWASP, "CSV Injection" (key owasp-csv-injection) lists the signs; that blanks before them don't
    help is common practice, no source.

    Examples
    --------
    >>> defuse_text("=1+2")
    "'=1+2"
    """
    risky = text.startswith((*_CONTROL_SIGNS, _MARK)) or text.lstrip().startswith(_FORMULA_SIGNS)
    return _MARK + text if risky else text


def restore_text(text: str) -> str:
    """The text that `defuse_text` was given.

    Examples
    --------
    >>> restore_text("'=1+2")
    '=1+2'
    """
    return text.removeprefix(_MARK)
