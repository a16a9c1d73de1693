"""Lists of other dates and other forms: spans of dates, workbooks, what changed, and what it does to jobs."""

import datetime as dt
import shutil
import zipfile
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

import kit
from kit.errors import ListError
from kit.lists.list_changes import list_changes
from kit.repricing import reprice_jobs
from kit.tables import Table, parse_table, read_text

SHIPPED = kit.shipped("price_lists")
LISTS = kit.load_lists(SHIPPED)
DAY = dt.date(2026, 3, 2)


def read_table(path: Path) -> Table:
    return parse_table(read_text(path), path.name)


@pytest.fixture
def folder(tmp_path):
    """A copy of the shipped lists."""
    return shutil.copytree(SHIPPED, tmp_path / "lists")


def edit(folder, file, old, new):
    """Replace one text in a list."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


SHIM = "shim,Invented Lumber Yard,2026-01-01,,bundle of 14,14,,,3.80,USD"


def test_spans_of_dates_may_neither_overlap_nor_leave_a_gap(folder):
    """Overlap and gap are told by row; neighbors without a day between are sound."""
    sound = "shim,Invented Lumber Yard,2026-01-01,2026-06-30,bundle of 14,14,,,3.80,USD,,\nshim,Invented Lumber Yard,2026-07-01,,bundle of 14,14,,,4.10,USD"
    edit(folder, "prices.csv", SHIM, sound)
    lists = kit.load_lists(folder)
    assert lists.prices_on("shim", dt.date(2026, 6, 30))[0].price == Decimal("3.80")
    assert lists.prices_on("shim", dt.date(2026, 7, 1))[0].price == Decimal("4.10")
    edit(folder, "prices.csv", "2026-06-30", "2026-07-01")
    with pytest.raises(ListError, match="overlaps the price of 2026-01-01"):
        kit.load_lists(folder)
    edit(folder, "prices.csv", "2026-01-01,2026-07-01", "2026-01-01,2026-06-15")
    with pytest.raises(ListError, match="leaves a gap: no price from 2026-06-16 to 2026-06-30"):
        kit.load_lists(folder)


def test_a_day_without_price_is_told(folder):
    """A job measured before the first price names item and day."""
    with pytest.raises(ListError, match="has no price in force on Wed, Dec 31, 2025"):
        LISTS.prices_on("shim", dt.date(2025, 12, 31))


def as_workbook(path, rows):
    """Write rows as the first sheet."""
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    book.save(path)


def test_a_list_may_be_a_workbook(folder):
    """The same prices as XLSX give the same estimate."""
    table = read_table(folder / "prices.csv")
    rows = [list(table.columns)] + [
        [float(row.cells[column]) if column in {"pack", "price"} else row.cells[column] or None for column in table.columns] for row in table.rows
    ]
    for row in rows[1:]:
        row[2] = dt.datetime.fromisoformat(row[2])
    as_workbook(folder / "prices.xlsx", rows)
    (folder / "prices.csv").unlink()
    job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    assert kit.estimate(job, kit.load_lists(folder)).price == kit.estimate(job, LISTS).price


def test_formulas_and_links_of_a_workbook_are_ignored(tmp_path):
    """A formula without a stored value is an empty cell; nothing is worked out or fetched."""
    as_workbook(tmp_path / "a.xlsx", [["key", "value", "note"], ["crew", "=1+1", '=HYPERLINK("http://example.invalid")']])
    cells = read_table(tmp_path / "a.xlsx").rows[0].cells
    assert cells == {"key": "crew", "value": "", "note": ""}


def test_hostile_and_broken_workbooks_are_refused(tmp_path):
    """No workbook, parts outside, an unpacked size without end, and XML that grows: one sentence each."""
    path = tmp_path / "a.xlsx"
    path.write_bytes(b"not a zip")
    with pytest.raises(ListError, match="is not an XLSX workbook"):
        read_table(path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("../outside.xml", "x")
    with pytest.raises(ListError, match="names parts outside itself"):
        read_table(path)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"0" * 61_000_000)
    with pytest.raises(ListError, match="unpacks to more"):
        read_table(path)
    as_workbook(path, [["a"], ["b"]])
    bomb = (
        '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1">'
        '<c r="A1" t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>'
    )
    with zipfile.ZipFile(path) as archive:
        parts = {part: archive.read(part) for part in archive.namelist()}
    with zipfile.ZipFile(path, "w") as archive:
        for part, content in parts.items():
            archive.writestr(part, bomb if part == "xl/worksheets/sheet1.xml" else content)
    with pytest.raises(ListError, match="is not a readable XLSX workbook"):
        read_table(path)


def test_what_changed_names_price_rate_and_company(folder):
    """Each change once, with before, after and the share by which a price moved per unit."""
    edit(folder, "prices.csv", SHIM, SHIM.replace("14,14,,,3.80", "14,14,,,4.18"))
    edit(folder, "prices.csv", ",120 in stick,10,120 in,,6.75", ",120 in stick,10,120 in,,7.25")
    edit(
        folder,
        "rates.csv",
        "frame-member,Cut and fit a frame member,build-frame,each,0.15 h,0.25 h",
        "frame-member,Cut and fit a frame member,build-frame,each,0.15 h,0.3 h",
    )
    edit(folder, "company.csv", "wage,34.00 USD", "wage,36.00 USD")
    changes = {change.name: change for change in list_changes(LISTS, kit.load_lists(folder), DAY)}
    stick = "2x4 framing lumber, 120 in stick, Invented Lumber Yard"
    shim, member = "Tapered wood shim, bundle of 14, Invented Lumber Yard", "Cut and fit a frame member, likely"
    assert {name: (change.file, change.about) for name, change in changes.items()} == {
        shim: ("prices.csv", "shim"),
        stick: ("prices.csv", "lumber-2x4"),
        member: ("rates.csv", "frame-member"),
        "wage": ("company.csv", ""),
    }
    hand_share = Decimal("0.1")  # 4.18 / 3.80
    assert (changes[shim].before, changes[shim].after, changes[shim].share) == ("$3.80 for 14", "$4.18 for 14", hand_share)
    assert (changes[stick].before, changes[stick].after) == ("$6.75 for 10 ft", "$7.25 for 10 ft")
    assert (changes[member].before, changes[member].after) == ("0.25 h", "0.3 h")
    assert (changes["wage"].before, changes["wage"].after) == ("34.00 USD", "36.00 USD")
    assert list_changes(LISTS, LISTS, DAY) == ()


def test_what_it_does_to_the_jobs_on_hand(folder):
    """A dearer wage makes each job dearer; a job that a list no longer serves says why."""
    jobs = {path.stem: kit.read_job(path) for path in sorted(kit.shipped("examples").glob("*.toml"))[:2]}
    edit(folder, "company.csv", "wage,34.00 USD", "wage,36.00 USD")
    for repriced in reprice_jobs(jobs, LISTS, kit.load_lists(folder)):
        assert repriced.before == kit.estimate(jobs[repriced.name], LISTS).price
        assert repriced.difference > 0
    edit(folder, "prices.csv", SHIM, SHIM.replace("2026-01-01", "2027-01-01"))
    apron = {"stone": kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")}
    (repriced,) = reprice_jobs(apron, LISTS, kit.load_lists(folder))
    assert repriced.after is None
    assert repriced.difference is None
    assert "has no price in force" in repriced.problem


def test_row_numbers_stay_those_of_the_file():
    """Blank rows are passed over without shifting the numbers."""
    table = parse_table("a,b\n\n1,2\n,\n3,4\n", "x.csv")
    assert [row.number for row in table.rows] == [3, 5]


def test_what_changed_tells_every_list_in_the_words_of_its_file(folder):
    """Rows that come and go, cells with their unit, whatever the list; another way to write the same is no change."""
    edit(folder, "burden.csv", "vacation,Vacation,hours-off,80 h", "vacation,Vacation,hours-off,120 h")
    edit(folder, "lifters.csv", "50 lb,1,no", "50.0 lb,1,no")
    with (folder / "suppliers.csv").open("a", encoding="utf-8") as file:
        file.write("Invented Test Yard,no,goods (invented)\n")
    edit(folder, "pay_terms.csv", "material,,100 %", "material,,50 %")
    found = {(change.file, change.name): (change.before, change.after) for change in list_changes(LISTS, kit.load_lists(folder), DAY)}
    assert found == {
        ("burden.csv", "Vacation, hours"): ("80 h", "120 h"),
        ("suppliers.csv", "Invented Test Yard"): ("", "there"),
        ("pay_terms.csv", "material, deposit"): ("100 %", "50 %"),
    }


def test_what_changed_names_the_item_and_the_step_of_a_row_without_a_name(folder):
    """Hired trades and orders are rows of an item or a step: a person reads its name, never its id."""
    edit(folder, "hired.csv", "wall-trade,patch-wall,wall trade,sq ft,1,", "wall-trade,patch-wall,wall trade,sq ft,2,")
    edit(folder, "order_rules.csv", "template-first,template,receive,", "template-first,template,receive protect,")
    assert {(change.file, change.name) for change in list_changes(LISTS, kit.load_lists(folder), DAY)} == {
        ("hired.csv", "Wall patch by a hired trade, Patch the wall, crew"),
        ("order_rules.csv", "template first, Template by the countertop shop, after"),
    }
