"""Tables as people's programs write them: read where clear, named where not."""

import io
import re

import openpyxl
import pytest

from kit.archive.spent import parse_spent, spent_text
from kit.errors import ListError

HEAD = ["date", "cost_code", "cost_type", "text", "amount", "currency", "hours"]
ROW = ["2026-03-17", "310", "labor", "Frame, both sides", "1093.84", "USD", "23.5"]
COMMA = [*ROW[:4], "1093,84", "USD", "23,5"]


def written(*rows, sign=","):
    return "".join(sign.join(f'"{cell}"' if sign in cell else cell for cell in row) + "\r\n" for row in rows).encode()


def sheets(*tables) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for number, rows in enumerate(tables):
        sheet = book.create_sheet(f"Sheet {number + 1}")
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "file", "hand_row"),
    [
        (written(HEAD, ROW), "s.csv", 2),
        (written(HEAD, ROW, sign=";"), "s.csv", 2),
        (written(HEAD, COMMA, sign=";"), "s.csv", 2),
        (written(HEAD, COMMA, sign="\t"), "s.txt", 2),
        (written(["Job 12, what we spent"], [""], HEAD, ROW), "s.csv", 4),
        (written(["Job 12"], HEAD, COMMA, sign=";"), "s.csv", 3),
        (b"\xef\xbb\xbf" + written(HEAD, ROW, sign=";"), "s.csv", 2),
        (sheets([HEAD, ROW]), "s.xlsx", 2),
        (sheets([["Job 12"], [], HEAD, ROW]), "s.xlsx", 4),
        (sheets([["notes"], ["call the shop"]], [HEAD, ROW]), "s.xlsx", 2),
    ],
)
def test_the_same_row_is_read_whatever_wrote_it(lists, content, file, hand_row):
    """Day, amount and hours; the row's number is that of the file."""
    (row,) = parse_spent(spent_text(content, file), file, lists)
    assert (row.number, row.text, f"{row.amount}", row.hours) == (hand_row, "Frame, both sides", "1093.84", 23.5)


@pytest.mark.parametrize(
    ("content", "file", "said"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "s.xls", "This is an .xls: save it as .xlsx"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "s.csv", "This is an .xls: save it as .xlsx"),
        (b"PK", "s.ods", "This is an .ods: save it as .xlsx"),
        (b"%PDF-1.7", "s.pdf", "This is a PDF: save it as .xlsx"),
        (sheets([HEAD, ROW], [HEAD, ROW]), "s.xlsx", "has this table on several sheets: Sheet 1, Sheet 2. Keep one of them"),
        (written(["when", "what"], ["today", "sink"]), "s.csv", "holds no such table: no row has the columns date"),
        (written(HEAD, [*ROW[:4], "1.093,84", "USD", "2"], sign=";"), "s.csv", 'row 2, amount: "1.093,84" is not an amount'),
        (written(HEAD, [*COMMA, "more"], sign=";"), "s.csv", "row 2 has 8 cells, the header has 7"),
        (b"", "s.csv", "is empty"),
    ],
)
def test_what_is_not_clear_is_named(lists, content, file, said):
    """Another kind of file, the table twice, no header, a point that could be either."""
    with pytest.raises(ListError, match=re.escape(said)):
        parse_spent(spent_text(content, file), file, lists)


def test_formulas_give_the_values_that_were_stored(lists, tmp_path):
    """A workbook as a spreadsheet program saves it: the value beside the formula is read, nothing is worked out."""
    import xlsxwriter

    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, HEAD)
        sheet.write_row(1, 0, ROW)
        sheet.write_formula(1, 4, "=1000+93.84", None, 1093.84)
        sheet.write_formula(1, 6, "=20+3.5", None, 23.5)
    (row,) = parse_spent(spent_text(path.read_bytes(), path.name), path.name, lists)
    assert (f"{row.amount}", row.hours) == ("1093.84", 23.5)
