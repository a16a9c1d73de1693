"""The lists: what a sound folder gives, and every kind of fault, all in one report."""

import datetime as dt
import hashlib
import re
from decimal import Decimal
from pathlib import Path

import pytest
from list_changes import add_row, change, copy_lists, faults_of, first_of

from kit import Lists, load_lists, shipped
from kit.errors import ListError
from kit.records import CostType
from kit.steps import Step


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_lists(tmp_path)


def test_shipped_lists_hold_every_step_and_cost_type(lists: Lists) -> None:
    """One row a step, one account a cost type."""
    assert set(lists.steps) == set(Step)
    assert set(lists.accounts) == set(CostType)


def test_every_item_has_a_price_on_the_date_of_the_lists(lists: Lists) -> None:
    """No item of the shipped lists is without a price."""
    day = dt.date.fromisoformat(lists.company.price_date)
    for item in lists.items:
        assert lists.prices_on(item, day), item


def test_every_supplier_and_name_is_said_to_be_invented(lists: Lists) -> None:
    """Demo data say that they are invented."""
    suppliers = {price.supplier for rows in lists.prices.values() for price in rows}
    assert all(supplier.startswith(("Invented ", "Example ")) for supplier in suppliers)
    assert "Invented" in lists.company.name


def test_lists_name_their_files_with_fingerprints(lists: Lists) -> None:
    """Each file with the SHA-256 of its bytes."""
    for file in lists.files:
        assert file.sha256 == hashlib.sha256((shipped("price_lists") / file.name).read_bytes()).hexdigest()


def test_changed_lists_are_read_again(folder: Path) -> None:
    """A folder that was read before and changed since gives the new figures."""
    before = load_lists(folder).company.wage
    change(folder, "company.csv", "^wage,[^,]*", "wage,41.25 USD")
    assert (before, load_lists(folder).company.wage) == (Decimal("34.00"), Decimal("41.25"))


def test_rows_are_frozen(lists: Lists) -> None:
    """Neither a row nor a mapping of rows can be changed."""
    with pytest.raises(AttributeError, match="cannot assign"):
        lists.item("shim").name = "x"  # type: ignore[misc]
    with pytest.raises(TypeError, match="does not support item assignment"):
        lists.items["x"] = lists.item("shim")  # type: ignore[index]


def test_a_mark_before_the_text_and_line_ends_of_windows_are_read(folder: Path) -> None:
    """What spreadsheets save: UTF-8 with a byte-order mark, CR LF."""
    for path in folder.glob("*.csv"):
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert set(load_lists(folder).items) == set(load_lists(shipped("price_lists")).items)


# --- prices of a day ---


@pytest.fixture
def priced(folder: Path) -> tuple[Lists, str]:
    """Lists in which one item has an old, a present and a future price."""
    item = first_of(load_lists(folder))
    change(folder, "prices.csv", rf"^({item},[^,]*,)2026-01-01,,", r"\g<1>2026-01-01,2026-05-31,")
    add_row(folder, "prices.csv", f"{item},Invented Other Yard,2026-06-01,2026-06-30,pack of 10,10,,,1.00,USD,,")
    add_row(folder, "prices.csv", f"{item},Invented Third Yard,2026-06-15,,pack of 100,100,,,5.00,USD,,")
    return load_lists(folder), item


def test_prices_hold_from_their_first_day_to_their_last(priced: tuple[Lists, str]) -> None:
    """Both ends count."""
    lists, item = priced
    days = [dt.date(2026, 5, 31), dt.date(2026, 6, 1), dt.date(2026, 6, 14), dt.date(2026, 6, 15), dt.date(2026, 6, 30), dt.date(2026, 7, 1)]
    found = [{price.supplier.split()[1] for price in lists.prices_on(item, day)} & {"Other", "Third"} for day in days]
    assert found == [set(), {"Other"}, {"Other"}, {"Other", "Third"}, {"Other", "Third"}, {"Third"}]


def test_cheapest_by_the_unit_comes_first(priced: tuple[Lists, str]) -> None:
    """Five cents a piece before ten."""
    lists, item = priced
    assert lists.prices_on(item, dt.date(2026, 6, 20))[0].supplier == "Invented Third Yard"


def test_no_price_on_a_day_is_said(priced: tuple[Lists, str]) -> None:
    """Before the first price."""
    lists, item = priced
    with pytest.raises(ListError, match=f'item "{item}" has no price in force on Wed, Dec 31, 2025'):
        lists.prices_on(item, dt.date(2025, 12, 31))


def test_unknown_items_and_pairs_are_said(lists: Lists) -> None:
    """What no list holds."""
    with pytest.raises(ListError, match=r'items.csv, item "moon" is not in any list. Add it to items.csv'):
        lists.item("moon")
    with pytest.raises(ListError, match=r"transitions.csv, drain, glass to pvc is not a pair in the list"):
        lists.transition("drain", "glass", "pvc")


# --- faults ---

FAULTS: dict[str, tuple[str, str, str, str]] = {
    "missing column": ("rates.csv", "^driver,name,step", "driver,name,stage", 'rates.csv, row 1: Column "step" is missing.'),
    "unknown column": ("rates.csv", "^driver,name,step", "driver,name,stage", 'rates.csv, row 1: Column "stage" is not known. Known: driver, name, step'),
    "empty cell": ("items.csv", "^shim,[^,]*,", "shim,,", r"items.csv, row \d+, name is empty."),
    "unknown unit": ("items.csv", "^(shim,[^,]*),each", r"\1,handful", r'items.csv, row \d+, unit: "handful" is not one of: each, ft'),
    "unknown cost type": ("items.csv", "^(shim,[^,]*,each),material", r"\1,stuff", r'items.csv, row \d+, cost_type: "stuff" is not one of: labor'),
    "unknown step": ("rates.csv", "^(frame-member,[^,]*),build-frame", r"\1,build-house", r'rates.csv, row \d+, step: "build-house" is not one of'),
    "neither yes nor no": ("lifters.csv", "^50 lb,1,no", "50 lb,1,maybe", r'lifters.csv, row 2, mechanical: "maybe" is neither yes nor no.'),
    "part of a person": ("lifters.csv", "^50 lb,1,", "50 lb,1.5,", r'lifters.csv, row 2, lifters: "1.5" is not a whole number.'),
    "weight without unit": ("lifters.csv", "^50 lb", "50", r'lifters.csv, row 2, up_to: "50" has no unit'),
    "length as weight": ("lifters.csv", "^50 lb", "50 in", r"lifters.csv, row 2, up_to: .*50 in"),
    "share without percent": ("items.csv", "^(shim,.*),15 %", r"\1,0.15", r'items.csv, row \d+, waste: "0.15" has no unit'),
    "hours without unit": ("rates.csv", "^(frame-member,[^,]*,build-frame,[^,]*),0.15 h", r"\1,0.15", r'rates.csv, row \d+, low: "0.15" has no unit'),
    "hours that fall": (
        "rates.csv",
        "^(frame-member,[^,]*,build-frame,[^,]*),0.15 h",
        r"\1,9 h",
        r"rates.csv, row \d+: low, likely and high are not in rising order.",
    ),
    "no number": ("factors.csv", ",1.2,", ",often,", r'factors.csv, row \d+, times: "often" is not a number.'),
    "negative number": ("factors.csv", ",1.2,", ",-1.2,", r'factors.csv, row \d+, times: "-1.2" is negative.'),
    "infinite number": ("factors.csv", ",1.2,", ",Infinity,", r'factors.csv, row \d+, times: "Infinity" is not a finite number.'),
    "factor of no step": (
        "factors.csv",
        "^(occupied,[^,]*),receive",
        r"\1,everything",
        r'factors.csv, row \d+, steps: "everything" is not one of: visit, order',
    ),
    "unknown level": ("mounts.csv", "^top,laminate,ok", "top,laminate,fine", 'mounts.csv, row 2, level: "fine" is not one of: ok, caution, unknown, stop.'),
    "unknown mount": ("sinks.csv", ",flush under$", ",flush sideways", r'sinks.csv, row 2, mounts: "sideways" is not one of: top, flush, under.'),
    "no such day": ("prices.csv", ",2026-01-01,", ",2026-13-01,", r'prices.csv, row 2, effective_from: "2026-13-01" is not a date. Give it as 2026-11-25.'),
    "days the wrong way round": ("prices.csv", ",2026-01-01,,", ",2026-01-01,2025-12-31,", r"prices.csv, row 2, effective_to is before 2026-01-01."),
    "empty pack": ("prices.csv", ",8,96 in", ",0,96 in", r"prices.csv, row 2, pack must be above 0."),
    "missing pack": ("prices.csv", ",8,96 in", ",,96 in", r"prices.csv, row 2, pack is empty."),
    "stick without length": ("prices.csv", ",8,96 in", ",8,", r'prices.csv, row 2, stock_length: "lumber-2x4" is cut from stock and needs it.'),
    "sheet without width": ("prices.csv", ",96 in,48 in,", ",96 in,,", r"prices.csv, row \d+, stock_width: .* is cut from sheets and needs it."),
    "cut without kerf": ("items.csv", "^(lumber-2x4,.*),1/8 in", r"\1,", r'items.csv, row 2, kerf: "lumber-2x4" is cut from stock and needs it.'),
    "too many decimals": ("prices.csv", ",5.10,USD", ",5.10001,USD", r'prices.csv, row 2, price: "5.10001" has more than four decimals.'),
    "other currency": ("prices.csv", ",5.10,USD", ",5.10,EUR", r'prices.csv, row 2, currency: "EUR" is not USD'),
    "price of no item": ("prices.csv", "^lumber-2x4,", "lumber-9x9,", r'prices.csv, row 2, item: "lumber-9x9" is not in items.csv.'),
    "sink of no item": ("sinks.csv", "^fired-clay-apron-33,", "moon-33,", r'sinks.csv, row 2, item: "moon-33" is not in items.csv.'),
    "countertop of no item": ("counters.csv", ",stone-seam,", ",moon-seam,", r'counters.csv, row 2, seam_item: "moon-seam" is not in items.csv.'),
    "fitting of no item": (
        "transitions.csv",
        ",shielded-coupling,",
        ",moon-coupling,",
        r'transitions.csv, row \d+, join: "moon-coupling" is not in items.csv.',
    ),
    "after no step": ("steps.csv", "^(order,[^,]*,20,1,1),visit", r"\1,dream", r'steps.csv, row 3, after: "dream" is not one of: visit, order'),
    "step without row": ("steps.csv", r"^punch-list,.*\n", "", 'steps.csv: Step "punch-list" has no row.'),
    "cost type without account": ("accounts.csv", r"^fee,.*\n", "", 'accounts.csv: Cost type "fee" has no row.'),
    "company columns": ("company.csv", "^key,value,note", "key,value", "company.csv, row [0-9]+ has 3 cells, the header has 2."),
    "unknown company key": ("company.csv", "^wage,", "wages,", r'company.csv, row \d+: "wages" is not a known key. Known: name, region'),
    "missing company key": ("company.csv", "^wage,", "wages,", 'company.csv: Key "wage" is missing.'),
    "doubled company key": ("company.csv", "^crew,2,people", "crew,2,people\ncrew,3,people", r'company.csv, row \d+: "crew" is there twice.'),
    "bare money": ("company.csv", "^wage,34.00 USD", "wage,34.00", r'company.csv, row \d+, wage: "34.00" has no currency.'),
    "bare percent": ("company.csv", "^overhead,22 %", "overhead,0.22", r'company.csv, row \d+, overhead: "0.22" has no unit.'),
    "company word": ("company.csv", "^profit_as,margin", "profit_as,some", r'company.csv, row \d+, profit_as: "some" is not one of: markup, margin.'),
    "company without name": ("company.csv", "^name,[^,]*,", "name,,", r"company.csv, row 2, name is empty."),
    "company without date": ("company.csv", "^price_date,[^,]*,", "price_date,spring,", r'company.csv, row \d+, price_date: "spring" is not a date.'),
    "part of a day": ("company.csv", "^validity_days,30", "validity_days,30.5", r'company.csv, row \d+, validity_days: "30.5" is not a whole number.'),
}


@pytest.mark.parametrize("name", list(FAULTS))
def test_each_kind_of_fault_is_said_with_file_row_and_column(folder: Path, name: str) -> None:
    """What was given and what is wanted."""
    file, pattern, new, wanted = FAULTS[name]
    change(folder, file, pattern, new)
    assert any(re.match(wanted, fault) for fault in faults_of(folder)), faults_of(folder)


@pytest.mark.parametrize(
    "file", ["items.csv", "sinks.csv", "counters.csv", "steps.csv", "rates.csv", "factors.csv", "mounts.csv", "lifters.csv", "accounts.csv"]
)
def test_a_key_that_stands_twice_is_a_fault(folder: Path, file: str) -> None:
    """Every file with a key."""
    row = (folder / file).read_text(encoding="utf-8").splitlines()[-1]
    number = add_row(folder, file, row)
    assert any(re.match(rf'{file}, row {number}: ".*" is there twice\.', fault) for fault in faults_of(folder))


def test_a_price_that_stands_twice_is_a_fault(folder: Path) -> None:
    """The same item, supplier, first day and pack."""
    number = add_row(folder, "prices.csv", (folder / "prices.csv").read_text(encoding="utf-8").splitlines()[1])
    assert any(re.match(rf'prices.csv, row {number}: ".*" is there 2 times\.', fault) for fault in faults_of(folder))


def test_faults_of_all_files_are_in_one_report(folder: Path) -> None:
    """A missing file, a missing column and a bad cell at once."""
    (folder / "sinks.csv").unlink()
    change(folder, "rates.csv", "^driver,name,step", "driver,name,stage")
    change(folder, "prices.csv", ",5.10,USD", ",cheap,USD")
    report = faults_of(folder)
    assert {re.split("[,: ]", fault)[0] for fault in report} == {"sinks.csv", "rates.csv", "prices.csv"}


@pytest.mark.parametrize(("file", "head"), [("items.csv", "item,name"), ("counters.csv", "item,")])
def test_a_list_that_can_not_be_read_is_said_once(folder: Path, file: str, head: str) -> None:
    """What other lists say of its rows is not held against it."""
    change(folder, file, f"^{head}", "thing,name" if file == "items.csv" else "thing,")
    assert {fault.split(",")[0] for fault in faults_of(folder)} == {file}


def test_no_folder_is_said(tmp_path: Path) -> None:
    """A folder that is not there, and a file in its place."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    for path in (tmp_path / "nowhere", tmp_path / "file"):
        with pytest.raises(ListError, match="is not a folder of price lists"):
            load_lists(path)
