"""Lists as a workbook to edit: brought back they are the same lists."""

import datetime as dt
import io

import openpyxl
import pytest

import kit
from kit.export.list_sheets import list_sheets_bytes
from kit.lists import parse_lists
from kit.lists.list_changes import list_changes
from kit.lists.list_files import FILES
from kit.lists.take_in import take_in

LISTS = kit.load_lists(kit.shipped("price_lists"))
DAY = dt.date(2026, 3, 2)


def test_all_lists_come_back_as_they_went():
    """One workbook, a sheet each: nothing changed, no fault, every list known by its sheet's name."""
    taken = take_in(LISTS, {"my lists.xlsx": list_sheets_bytes(LISTS, FILES)})
    assert taken.faults == ()
    assert [(one.file, one.known_by) for one in taken.sources] == [(file, "its name") for file in FILES]
    assert list_changes(LISTS, taken.lists, DAY) == ()
    job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    assert kit.estimate(job, taken.lists).price == kit.estimate(job, LISTS).price


@pytest.mark.parametrize("file", FILES)
def test_one_list_comes_back_as_it_went(file):
    """By itself, under the name that a browser gives a second download."""
    taken = take_in(LISTS, {f"{file.removesuffix('.csv')} (1).xlsx": list_sheets_bytes(LISTS, [file])})
    assert taken.faults == ()
    assert [one.file for one in taken.sources] == [file]
    assert list_changes(LISTS, taken.lists, DAY) == ()


def test_cells_are_what_a_sheet_program_leaves_alone():
    """Numbers as numbers, dates as dates, measures as text, and nothing as a formula."""
    texts = {**LISTS.texts, "suppliers.csv": LISTS.texts["suppliers.csv"] + '"=HYPERLINK(""http://example.invalid"")",no,invented\n'}
    book = openpyxl.load_workbook(io.BytesIO(list_sheets_bytes(parse_lists(texts, "x"), FILES)))
    prices, rates = book["prices"], book["rates"]
    assert [cell.data_type for cell in prices[2]][:3] == ["s", "s", "d"]
    assert prices["F2"].data_type == prices["I2"].data_type == "n"
    assert (rates["D2"].data_type, rates["D2"].number_format) == ("s", "@")
    assert not [cell.coordinate for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


def test_the_same_lists_give_the_same_bytes():
    """No clock is read."""
    assert list_sheets_bytes(LISTS, FILES) == list_sheets_bytes(LISTS, FILES)
