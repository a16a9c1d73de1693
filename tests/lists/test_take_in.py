"""Lists that come in: which one a picked file is, what is wrong with it, and what is written when it is taken into use."""

import datetime as dt
import io
import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

import kit
from kit.errors import KitError, ListError
from kit.lists.list_files import FILES
from kit.lists.raising import parse_raise, raise_prices
from kit.lists.take_in import recognise_list, take_in
from kit.lists.write import write_lists

SHIPPED = kit.shipped("price_lists")
LISTS = kit.load_lists(SHIPPED)
SHIM = "shim,Invented Lumber Yard,2026-01-01,,bundle of 14,14,,,3.80,USD"
DEARER = SHIM.replace("3.80", "4.18")
DAY = dt.date(2026, 11, 25)


def prices(old=SHIM, new=DEARER):
    """The prices in use with one text replaced, as the content of a file."""
    text = LISTS.texts["prices.csv"]
    assert old in text
    return text.replace(old, new, 1).encode()


def workbook(**sheets):
    """A workbook of CSV texts by the names of their sheets; numbers as numbers where they are some."""
    import csv

    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, text in sheets.items():
        sheet = book.create_sheet(title)
        for row in csv.reader(io.StringIO(text)):
            sheet.append([float(cell) if cell.replace(".", "", 1).isdecimal() else cell or None for cell in row])
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


@pytest.mark.parametrize("file", FILES)
def test_every_list_is_known_by_its_header_alone(file):
    """Whatever the file is called."""
    assert recognise_list(["download"], LISTS.texts[file]) == (file, "its header")


@pytest.mark.parametrize(
    ("names", "text", "wanted"),
    [
        (["prices"], "a,b\n", ("prices.csv", "its name")),
        (["Unit Prices"], "a,b\n", ("unit_prices.csv", "its name")),
        (["prices (1)"], "a,b\n", ("prices.csv", "a part of its name")),
        (["unit_prices_spring"], "a,b\n", ("unit_prices.csv", "a part of its name")),
        (["Sheet1"], "item,supplier,effective_from,sold_as,pack,price\n", ("prices.csv", "most of its header")),
        (["x"], "\n\n key , value , note \n", ("company.csv", "its header")),
        (["notes"], "who,what\n", None),
        (["x"], "", None),
        (["x"], 'a"b,"c\n', None),
    ],
)
def test_name_then_header_then_what_comes_near(names, text, wanted):
    """The order in which a table is recognised."""
    assert recognise_list(names, text) == wanted


@given(st.text(max_size=200))
def test_any_text_is_a_list_or_none(text):
    """No text breaks the recognition."""
    found = recognise_list(["x"], text)
    assert found is None or found[0] in FILES


def test_a_sound_file_takes_the_place_of_its_list():
    """The new price holds, every other list stays, and its origin is told."""
    taken = take_in(LISTS, {"spring offer.csv": prices()})
    assert taken.faults == ()
    assert taken.lists.prices_on("shim", DAY)[0].price == Decimal("4.18")
    assert [(one.source, one.file, one.known_by) for one in taken.sources] == [("spring offer.csv", "prices.csv", "its header")]
    assert taken.source_of("prices.csv") == "spring offer.csv"
    assert taken.source_of("items.csv") == ""
    assert {name for name, text in taken.lists.texts.items() if text != LISTS.texts[name]} == {"prices.csv"}


def test_all_faults_of_all_files_stand_in_one_report_by_row():
    """Lists in their order, rows rising; a file that can't be read is in it too."""
    text = prices("14,14,,,3.80", "14,fourteen,,,-3.80").decode()
    number = next(number for number, row in enumerate(text.splitlines(), 1) if "fourteen" in row)
    text = text.replace("lumber-2x4", "lumber-2x5", 1)
    rates = LISTS.texts["rates.csv"].replace(
        "frame-member,Cut and fit a frame member,build-frame,each,0.15 h", "frame-member,Cut and fit a frame member,build-frame,each,0.15", 1
    )
    taken = take_in(LISTS, {"prices.csv": text.encode(), "rates.csv": rates.encode(), "items.csv": b"\xff\xfe"})
    assert taken.lists is None
    told = [str(fault) for fault in taken.faults]
    assert told[0] == "items.csv, byte 1 is not UTF-8. Save the list as CSV in UTF-8."
    assert 'prices.csv, row 2, item: "lumber-2x5" is not in items.csv.' in told
    assert f'prices.csv, row {number}, pack: "fourteen" is not a number.' in told
    assert any(one.startswith(f"prices.csv, row {number}, price:") for one in told)
    assert any(one.startswith("rates.csv, row 2, low:") for one in told)
    rows = [int(one.split("row ")[1].split(",")[0]) for one in told if one.startswith("prices.csv, row")]
    assert rows == sorted(rows)


def test_each_sheet_of_a_workbook_can_be_a_list():
    """By the sheet's name or its header; a sheet that is none is left out and told."""
    texts = {"Sheet7": prices().decode(), "rates": LISTS.texts["rates.csv"], "Notes": "who,what\nme,thought\n", "blank": ""}
    taken = take_in(LISTS, {"book.xlsx": workbook(**texts)})
    assert taken.faults == ()
    assert {one.file: (one.source, one.known_by) for one in taken.sources} == {
        "prices.csv": ("book.xlsx, sheet Sheet7", "its header"),
        "rates.csv": ("book.xlsx, sheet rates", "its name"),
    }
    assert taken.left_out == ("book.xlsx, sheet Notes",)
    assert taken.lists.prices_on("shim", DAY)[0].price == Decimal("4.18")


def test_a_workbook_of_one_sheet_is_known_by_its_file_name():
    """As a CSV file is."""
    taken = take_in(LISTS, {"rates.xlsx": workbook(Sheet1=LISTS.texts["rates.csv"])})
    assert [(one.file, one.known_by) for one in taken.sources] == [("rates.csv", "its name")]
    assert taken.lists.rates == LISTS.rates


def test_what_is_no_list_is_refused():
    """Neither name nor header is known; or nothing was picked."""
    assert [str(fault) for fault in take_in(LISTS, {"photo.csv": b"a,b\n1,2\n"}).faults] == [
        "photo.csv is not one of the lists, by its name or its header. Name it like a list, such as prices.csv."
    ]
    assert "nothing is not one of the lists" in str(take_in(LISTS, {}).faults[0])


def test_one_list_picked_twice_is_refused():
    """The person says which."""
    taken = take_in(LISTS, {"prices.csv": prices(), "prices (1).csv": prices()})
    assert "prices.csv was picked 2 times: prices.csv; prices (1).csv. Pick one." in [str(fault) for fault in taken.faults]


def test_the_date_of_the_prices_follows_new_prices_only():
    """Where prices come without a company file; nothing else of the company file changes."""
    dated = take_in(LISTS, {"prices.csv": prices()}, dated=DAY).lists
    assert dated.company.price_date == "2026-11-25"
    assert dated.texts["company.csv"].replace("2026-11-25", "2026-01-01") == LISTS.texts["company.csv"]
    company = LISTS.texts["company.csv"].encode()
    assert take_in(LISTS, {"prices.csv": prices(), "company.csv": company}, dated=DAY).lists.company.price_date == "2026-01-01"
    assert take_in(LISTS, {"rates.csv": LISTS.texts["rates.csv"].encode()}, dated=DAY).lists.company.price_date == "2026-01-01"


def test_lists_are_written_into_a_new_dated_folder(tmp_path):
    """What is read back is what was taken in; a second and a third of the same day get a number; nothing is written over."""
    lists = take_in(LISTS, {"prices.csv": prices()}).lists
    first = write_lists(lists, tmp_path, DAY, description=SHIPPED / "datapackage.json")
    assert first.name == "price_lists_2026-11-25"
    assert {path.name for path in first.iterdir()} == {*FILES, "datapackage.json"}
    again = kit.load_lists(first)
    assert [file.sha256 for file in again.files] == [file.sha256 for file in lists.files]
    (tmp_path / "price_lists_2026-11-25_2").write_text("a file of somebody else")
    assert write_lists(LISTS, tmp_path, DAY).name == "price_lists_2026-11-25_3"
    assert kit.load_lists(first).prices_on("shim", DAY)[0].price == Decimal("4.18")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["price_lists_2026-11-25", "price_lists_2026-11-25_2", "price_lists_2026-11-25_3"]


def test_lists_that_can_not_be_written_leave_nothing_behind(tmp_path):
    """A place that is a file is said."""
    home = tmp_path / "home"
    home.write_text("a file in the folder's place")
    with pytest.raises(ListError, match="home can't be written"):
        write_lists(LISTS, home, DAY)
    assert [path.name for path in tmp_path.iterdir()] == ["home"]


def merged(text, **more):
    """A part, merged on the day."""
    return take_in(LISTS, {"offer.csv": text.encode()}, merged_on=DAY, **more)


def test_a_part_goes_into_the_list_and_the_old_price_ends_the_day_before():
    """A supplier's three columns: the rest of the row stays; every other price is what it was; a first day of its own counts."""
    taken = merged("item,supplier,sold_as,price\nshim,Invented Lumber Yard,bundle of 14,4.18\n", dated=DAY)
    assert [(one.file, one.merged) for one in taken.sources] == [("prices.csv", 1)]
    ended, new = taken.lists.prices["shim"]
    assert (ended.price, ended.effective_to) == (Decimal("3.80"), DAY - dt.timedelta(days=1))
    assert (new.price, new.effective_from, new.effective_to, new.pack) == (Decimal("4.18"), DAY, None, 14)
    assert taken.lists.company.price_date == DAY.isoformat()
    for item, prices in LISTS.prices.items():
        assert item == "shim" or taken.lists.prices[item] == prices
    later = merged("item,supplier,sold_as,effective_from,price\nshim,Invented Lumber Yard,bundle of 14,2027-01-01,4.50\n").lists
    assert [price.effective_from for price in later.prices["shim"]] == [dt.date(2026, 1, 1), dt.date(2027, 1, 1)]
    between = take_in(later, {"offer.csv": b"item,supplier,sold_as,price\nshim,Invented Lumber Yard,bundle of 14,4.18\n"}, merged_on=DAY).lists
    assert [(price.price, price.effective_to) for price in between.prices["shim"]] == [
        (Decimal("3.80"), dt.date(2026, 11, 24)),
        (Decimal("4.18"), dt.date(2026, 12, 31)),
        (Decimal("4.50"), None),
    ]


def test_parts_of_several_lists_and_suppliers_go_in_together():
    """A new item with its price, and another supplier's price for an item that is there, in one go; a company's key, too."""
    files = {
        "new_items.csv": b"item,name,unit,cost_type,cost_code,waste,taxable,cut,consumable\nclip-x,Clip,each,material,310,0 %,yes,no,no\n",
        "yard.csv": b"item,supplier,sold_as,pack,price,currency\nclip-x,Invented Yard Two,each,1,2.00,USD\n",
        "two.csv": b"item,supplier,sold_as,pack,price,currency\nshim,Invented Yard Two,bundle of 10,10,2.90,USD\n",
        "company.csv": b"key,value\nwage,36.00 USD\n",
    }
    taken = take_in(LISTS, files, merged_on=DAY)
    assert taken.faults == ()
    assert taken.lists.prices_on("clip-x", DAY)[0].price == Decimal("2.00")
    assert {price.supplier for price in taken.lists.prices_on("shim", DAY)} == {"Invented Lumber Yard", "Invented Yard Two"}
    assert taken.lists.company.wage == Decimal("36.00")
    assert len(taken.lists.texts["company.csv"].splitlines()) == len(LISTS.texts["company.csv"].splitlines())


@pytest.mark.parametrize(
    ("text", "place", "sentence"),
    [
        ("item,supplier,sold_as,price\nshim,Invented Lumber Yard,bundle of 14,dear\n", "row 2, price", '"dear" is not a number.'),
        ("item,supplier,sold_as,pack,price,currency\n\nno-such,Invented Lumber Yard,each,1,1.00,USD\n", "row 3, item", "no-such"),
        ("item,supplier,price\nshim,Invented Lumber Yard,4.00\n", "row 1", 'Column "sold_as" is missing'),
        ("item,supplier,sold_as,cost\nshim,Invented Lumber Yard,bundle of 14,1\n", "row 1", 'Column "cost" is not known'),
        ("item,supplier,sold_as,price\n" + "shim,Invented Lumber Yard,bundle of 14,4.00\n" * 2, "row 3", "is there twice"),
    ],
)
def test_a_fault_of_a_part_stands_at_its_own_row(text, place, sentence):
    """Also where only the merged list shows it."""
    taken = take_in(LISTS, {"prices of the yard.csv": text.encode()}, merged_on=DAY)
    assert taken.lists is None
    assert any(fault.place == place and re.search(sentence, fault.message) and fault.file == "prices of the yard.csv" for fault in taken.faults), taken.faults


def test_prices_rise_by_a_share_from_a_day_on():
    """8 % on 3.80 is 4.104, so 4.10; twice on one day goes on from there; money that is passed on stays, a least charge moves."""
    chosen = [price for item in ("shim", "permit-stated", "minimum-plumber") for price in LISTS.prices[item]]
    lists = raise_prices(LISTS, chosen, parse_raise("8 %"), DAY)
    hand = {"shim": "4.10", "permit-stated": "1.00", "minimum-plumber": "1.00"}
    assert {item: str(lists.prices_on(item, DAY)[0].price) for item in hand} == hand
    assert lists.prices_on("minimum-plumber", DAY)[0].least_charge == Decimal("254.88")  # 236.00 x 1.08
    assert lists.prices_on("shim", DAY - dt.timedelta(days=1))[0].price == Decimal("3.80")
    again = raise_prices(lists, lists.prices_on("shim", DAY), parse_raise("-50"), DAY)
    assert [str(price.price) for price in again.prices["shim"]] == ["3.80", "2.05"]
    assert {item: prices for item, prices in lists.prices.items() if item not in hand} == {
        item: prices for item, prices in LISTS.prices.items() if item not in hand
    }


@pytest.mark.parametrize("typed", ["", "eight", "0", "101", "-91", "nan", "1e9"])
def test_a_share_that_is_none_is_refused_in_words(typed):
    """What was typed is quoted."""
    with pytest.raises(KitError, match=f'"{typed}" is not'):
        parse_raise(typed)
