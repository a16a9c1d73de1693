"""The one door for tables: what it lets in, and what it says of the rest."""

import datetime as dt
from pathlib import Path

import pytest

from kit.errors import ListError
from kit.tables import Table, content_sheets, content_text, parse_table, read_text


def read_table(path: Path) -> Table:
    return parse_table(read_text(path), path.name)


def test_rows_keep_their_numbers_and_cells_their_column() -> None:
    """Blanks around cells go, blank rows are passed over, the header is row 1."""
    table = parse_table(" a , b \n1, x y \n\n,,\n2,\n".replace(",,", ","), "t.csv")
    assert table.columns == ("a", "b")
    assert [(row.number, row.cells) for row in table.rows] == [(2, {"a": "1", "b": "x y"}), (5, {"a": "2", "b": ""})]


def test_a_cell_may_hold_commas_quotes_and_line_ends() -> None:
    """RFC 4180: quoted cells; the row's number is that of its last line."""
    table = parse_table('a,b\n"1,5","say ""so""\nnext"\n', "t.csv")
    assert table.rows[0].cells == {"a": "1,5", "b": 'say "so"\nnext'}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", "t.csv is empty: no header row."),
        ("\n\n", "t.csv is empty: no header row."),
        ("a,b,a\n1,2,3\n", 't.csv, row 1: Column "a" is there twice.'),
        ("a,b\n1\n", "t.csv, row 2 has 1 cell, the header has 2."),
        ("a,b\n1,2,3\n", "t.csv, row 2 has 3 cells, the header has 2."),
        ("[identity]\na = 1, 2\nb = 3, 4\n", "t.csv holds no table: its first row is one cell, and no other row is. Is it the right file?"),
        ('a,b\n"1,2\n', "t.csv, row 2 is not readable as CSV"),
    ],
)
def test_a_table_that_is_none_is_refused(text: str, wanted: str) -> None:
    """Empty, doubled columns, rows of the wrong length, open quotes."""
    with pytest.raises(ListError) as caught:
        parse_table(text, "t.csv")
    assert str(caught.value).startswith(wanted)


def test_all_rows_of_the_wrong_length_are_said_at_once() -> None:
    """One report."""
    with pytest.raises(ListError, match=r"(?s)row 2 has 1 cell.*row 4 has 3 cells"):
        parse_table("a,b\n1\n1,2\n1,2,3\n", "t.csv")


def test_files_that_can_not_be_read_are_said(tmp_path: Path) -> None:
    """Not there, a folder, not UTF-8, too large."""
    with pytest.raises(ListError, match=r"no\.csv can't be read: No such file"):
        read_table(tmp_path / "no.csv")
    with pytest.raises(ListError, match="is a folder"):
        read_table(tmp_path)
    (tmp_path / "latin.csv").write_bytes("a\nsp\u00fcle\n".encode("latin-1"))
    with pytest.raises(ListError, match=r"latin\.csv, byte 5 is not UTF-8"):
        read_table(tmp_path / "latin.csv")
    (tmp_path / "large.csv").write_bytes(b"a\n" + b"x" * 5_000_000)
    with pytest.raises(ListError, match=r"large\.csv is larger than 5 MB"):
        read_table(tmp_path / "large.csv")


def test_content_that_never_lay_in_a_folder_is_read_alike(tmp_path: Path) -> None:
    """An upload and the same file on disk give the same text: CSV, and the first sheet of a workbook."""
    from openpyxl import Workbook

    book = Workbook()
    for row in (["date", "amount", "text"], [dt.date(2026, 3, 2), 12.5, "=1+1 is text"], [None, 0.1 + 0.2, "b"]):
        book.active.append(row)
    book.active["C2"].data_type = "s"
    path = tmp_path / "a.xlsx"
    book.save(path)
    hand_text = "date,amount,text\n2026-03-02,12.5,=1+1 is text\n,0.3,b\n"
    assert content_text(path.read_bytes(), "upload.XLSX") == read_text(path) == hand_text
    assert content_text("\ufeffa\nü\n".encode(), "u.csv") == "a\nü\n"


@pytest.mark.parametrize(
    ("content", "file", "wanted"),
    [
        (b"x" * 5_000_001, "u.csv", r"u\.csv is larger than 5 MB"),
        (b"a\n\xff\n", "u.csv", r"u\.csv, byte 3 is not UTF-8"),
        (b"PK no zip", "u.xlsx", r"u\.xlsx is not an XLSX workbook"),
    ],
)
def test_content_that_is_no_table_is_refused(content: bytes, file: str, wanted: str) -> None:
    """Too large, not UTF-8, no workbook: each with the name of the upload."""
    with pytest.raises(ListError, match=wanted):
        content_text(content, file)


def test_every_sheet_of_a_workbook_is_read_by_its_name() -> None:
    """Empty sheets and empty columns to the right are left out; a CSV file is one table without a name."""
    import io

    from openpyxl import Workbook

    book = Workbook()
    book.active.title = "one"
    for row in (["a", "b", None], [1, None, None]):
        book.active.append(row)
    book.create_sheet("nothing")
    book.create_sheet("two").append(["c"])
    content = io.BytesIO()
    book.save(content)
    assert content_sheets(content.getvalue(), "x.xlsx") == {"one": "a,b\n1,\n", "two": "c\n"}
    assert content_sheets(b"a\n1\n", "x.csv") == {"": "a\n1\n"}
    with pytest.raises(ListError, match=r"x\.xlsx is larger than 5 MB"):
        content_sheets(b"x" * 5_000_001, "x.xlsx")
