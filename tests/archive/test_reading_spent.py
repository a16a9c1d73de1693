"""The table of what was spent: what is read, and one report of everything that is wrong in it."""

import csv
import datetime as dt
import re
from decimal import Decimal
from io import BytesIO, StringIO

import pytest
from spent_demo import HEAD, SPENT, table

import kit
from kit.archive.spent import empty_spent_table, explain_spent_columns, find_doubled_rows, parse_spent, read_spent
from kit.errors import ListError
from kit.records import CostType

SOUND = "2026-03-17,310,labor,Frame,93.84,USD,2,,TS-1,,DEMO-001"


def faults(lists, *rows, head=HEAD, job="DEMO-001"):
    """The report of a table, a sentence an entry."""
    with pytest.raises(ListError) as caught:
        parse_spent(table(*rows, head=head), "spent.csv", lists, job=job)
    return [str(fault) for fault in caught.value.faults]


def test_a_row_is_read_as_it_stands(lists):
    """Day, code, kind, text, cents, hours, supplier, document; row 1 is the header."""
    row = parse_spent(table(SOUND), "spent.csv", lists)[0]
    assert (row.number, row.date, row.cost_code, row.cost_type, row.text) == (2, dt.date(2026, 3, 17), "310", CostType.LABOR, "Frame")
    assert (row.amount, row.hours, row.supplier, row.document) == (Decimal("93.84"), 2.0, "", "TS-1")


def test_what_may_be_left_out_may(lists):
    """Supplier, document, credit and job are no duty, neither as cells nor as columns."""
    short = "date,cost_code,cost_type,text,amount,currency,hours"
    row = parse_spent(table("2026-03-17,310,material,Screws,8.6,USD,", head=short), "spent.csv", lists, job="DEMO-001")[0]
    assert (row.amount, row.hours, row.supplier, row.document) == (Decimal("8.60"), 0.0, "", "")


def test_a_credit_is_below_zero_and_says_so(lists):
    """Money that came back, and hours that were taken back."""
    rows = parse_spent(
        table("2026-03-17,310,material,Back,-8.60,USD,,Invented Lumber Yard,R-1,yes,", "2026-03-17,310,labor,Moved,−46.92,USD,-1,,TS-1,yes,"), "s.csv", lists
    )
    assert [(row.amount, row.hours) for row in rows] == [(Decimal("-8.60"), 0.0), (Decimal("-46.92"), -1.0)]


FULL = "date,cost_code,cost_type,text,amount,currency,hours,step,tax,burden,order,ordered,call_back"


def test_step_tax_burden_order_and_call_back_are_read(lists):
    """Each where it belongs: step and burden with labor, tax and order with what is bought."""
    rows = parse_spent(
        table(
            "2026-03-17,310,labor,Frame,93.84,USD,2,build-frame,,25.84,,,yes",
            "2026-03-17,410,material,Sink,106.00,USD,,,6.00,,7,,no",
            "2026-03-17,510,hired,Stone,900.00,USD,,,,,8,yes,",
            head=FULL,
        ),
        "s.csv",
        lists,
    )
    assert [(row.step, f"{row.tax}", row.burden, row.order, row.ordered, row.call_back) for row in rows] == [
        ("build-frame", "0.00", Decimal("25.84"), "", False, True),
        (None, "6.00", None, "7", False, False),
        (None, "0.00", None, "8", True, False),
    ]


@pytest.mark.parametrize(
    "typed", ["5.5", "5 1/2", "5-1/2", "5½", "5:30", "05:30:00", "5:30 h", "5.5 h", "5.5 hr", "5.5hrs", "5 1/2 hours", "5 h 30 min", "330 min"]
)
def test_hours_are_read_as_people_write_them(lists, typed):
    """Decimals, fractions, hours and minutes, with or without the unit; a spreadsheet writes 5:30 as 05:30:00. The same below zero in a credit."""
    assert parse_spent(table(f"2026-03-17,310,labor,Frame,93.84,USD,{typed},,,,"), "spent.csv", lists)[0].hours == 5.5
    assert parse_spent(table(f"2026-03-17,310,labor,Frame,-93.84,USD,-{typed},,,yes,"), "spent.csv", lists)[0].hours == -5.5


@pytest.mark.parametrize(
    ("row", "wanted"),
    [
        ("2026-03-17,310,labor,Frame,93.84,USD,2,,6.00,,,,", 'row 2, tax: "6.00" stands with labor. Labor has none; leave it empty.'),
        ("2026-03-17,410,material,Sink,106.00,USD,,,,6.00,,,", 'row 2, burden: "6.00" stands with material. Only labor has it; leave it empty.'),
        ("2026-03-17,410,material,Sink,106.00,USD,,,106.01,,,,", 'row 2, tax: "106.01" is more than the amount that it is in.'),
        ("2026-03-17,410,material,Sink,106.00,USD,,,,,,yes,", "row 2, order is empty. What is only ordered needs the number of the order."),
        ("2026-03-17,310,labor,Frame,93.84,USD,2,dance,,,,,", 'row 2, step: "dance" is not one of: '),
    ],
)
def test_parts_that_can_not_be_are_said(lists, row, wanted):
    """Tax on labor, burden of goods, more tax than the amount, an order without a number, a step that is none."""
    assert any(wanted in line for line in faults(lists, row, head=FULL))


@pytest.mark.parametrize(
    ("row", "wanted"),
    [
        ("2026-03-17,999,labor,Frame,93.84,USD,2,,,,", r'row 2, cost_code: "999" is not a cost code of these lists. Known: 110, 210,'),
        ("17.3.2026,310,labor,Frame,93.84,USD,2,,,,", 'row 2, date: "17.3.2026" is not a date. Give it as 2026-11-25.'),
        ("2026-02-30,310,labor,Frame,93.84,USD,2,,,,", 'row 2, date: "2026-02-30" is not a date'),
        ('2026-03-17,310,labor,Frame,"1,093.84",USD,2,,,,', 'row 2, amount: "1,093.84" is not an amount. Give it as 1250.00'),
        ("2026-03-17,310,labor,Frame,$93.84,USD,2,,,,", 'row 2, amount: "$93.84" is not an amount'),
        ("2026-03-17,310,labor,Frame,nan,USD,2,,,,", 'row 2, amount: "nan" is not an amount'),
        ("2026-03-17,310,labor,Frame,1e3,USD,2,,,,", 'row 2, amount: "1e3" is not an amount'),
        ("2026-03-17,310,labor,Frame,93.845,USD,2,,,,", 'row 2, amount: "93.845" has more than two decimals.'),
        ("2026-03-17,310,labor,Frame,1000000000,USD,2,,,,", 'row 2, amount: "1000000000" is too large.'),
        ("2026-03-17,310,labor,Frame,,USD,2,,,,", "row 2, amount is empty."),
        ("2026-03-17,310,labor,Frame,93.84,EUR,2,,,,", 'row 2, currency: "EUR" is not USD'),
        ("2026-03-17,310,crew,Frame,93.84,USD,2,,,,", 'row 2, cost_type: "crew" is not one of: labor, material, hired, fee, other.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,,,,,", "row 2, hours is empty. Labor needs its hours, such as 6.5."),
        ("2026-03-17,310,labor,Frame,93.84,USD,2 days,,,,", 'row 2, hours: "2 days" is not a number of hours. Give it as 6.5, 6 1/2, 6:30 or 6 h 30 min.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,2:75,,,,", 'row 2, hours: "2:75" is not a number of hours.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,1e3,,,,", 'row 2, hours: "1e3" is not a number of hours.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,2 ft,,,,", 'row 2, hours: "2 ft" is not a number of hours.'),
        ("2026-03-17,310,labor,Frame,-93.84,USD,2 h,,,yes,", 'row 2, hours: "2 h" is a credit and must be below zero, such as -2 h.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,10001,,,,", 'row 2, hours: "10001" is more than 10000 hours.'),
        ("2026-03-17,310,material,Screws,8.60,USD,2,,,,", 'row 2, hours: "2" stands with material. Only labor has hours; leave it empty.'),
        ("2026-03-17,310,material,Screws,-8.60,USD,,,,,", 'row 2, amount: "-8.60" is negative. Only a credit is: say yes in the column credit.'),
        ("2026-03-17,310,material,Screws,-8.60,USD,,,,no,", 'row 2, amount: "-8.60" is negative.'),
        ("2026-03-17,310,material,Screws,8.60,USD,,,,yes,", 'row 2, amount: "8.60" is a credit and must be below zero, such as -8.60.'),
        ("2026-03-17,310,labor,Frame,93.84,USD,-2,,,,", 'row 2, hours: "-2" is negative.'),
        ("2026-03-17,310,material,Screws,8.60,USD,,,,maybe,", 'row 2, credit: "maybe" is neither yes nor no.'),
        ("2026-03-17,310,material,Screws,8.60,USD,,,,,DEMO-002", 'row 2, job: "DEMO-002" is another job. The estimate is of DEMO-001.'),
    ],
)
def test_what_is_wrong_in_a_cell_is_said_with_its_row(lists, row, wanted):
    """What was given, and what is wanted."""
    found = faults(lists, row)
    assert len(found) == 1
    assert found[0].startswith("spent.csv, ")
    assert wanted in found[0]


def test_every_fault_of_the_file_stands_in_one_report_by_row(lists):
    """A row may have several; rows stand in the order of the file; blank rows count."""
    found = faults(lists, SOUND, "", "x,999,labor,Frame,-1,EUR,,,,,DEMO-002", "2026-03-17,310,material,Screws,8.60,USD,2,,,,")
    assert [re.match(r"spent\.csv, (row \d+, \w+)", line)[1] for line in found] == [
        "row 4, date",
        "row 4, cost_code",
        "row 4, currency",
        "row 4, amount",
        "row 4, hours",
        "row 4, job",
        "row 5, hours",
    ]


def test_columns_that_miss_or_are_not_known_are_said(lists):
    """Each by its name."""
    head = HEAD.replace("amount", "sum").replace(",currency", "")
    found = faults(lists, "2026-03-17,310,labor,Frame,93.84,2,,,,", head=head)
    assert [line.removeprefix("spent.csv, ").partition(" Known")[0] for line in found] == [
        'row 1: Column "amount" is missing.',
        'row 1: Column "currency" is missing.',
        'row 1: Column "sum" is not known.',
    ]
    assert faults(lists) == ["spent.csv has a header but no rows."]


def test_a_workbook_reads_as_the_same_table(lists, tmp_path):
    """XLSX with real dates and numbers gives the same rows as the CSV file."""
    from openpyxl import Workbook

    book = Workbook()
    for line in csv.reader(StringIO(SPENT.read_text(encoding="utf-8"))):
        cells = [float(cell) if cell.replace(".", "").removeprefix("-").isdecimal() else cell or None for cell in line]
        book.active.append([dt.datetime.fromisoformat(cells[0]) if line[0] != "date" else "date", *cells[1:]])
    path = tmp_path / "spent.xlsx"
    book.save(path)
    assert read_spent(path, lists, job="DEMO-001") == read_spent(SPENT, lists, job="DEMO-001")


def test_the_same_bill_twice_is_noticed(lists):
    """Only with a document's number: two equal receipts without one may be two."""
    again = SOUND.replace("TS-1", "")
    rows = parse_spent(table(SOUND, again, SOUND, again, SOUND.replace(",2,", ",3,")), "spent.csv", lists)
    assert find_doubled_rows(rows) == ((2, 4),)


def test_the_columns_are_explained_and_an_empty_table_has_them(lists):
    """The documented columns are those that are read: a table with all of them and no other is taken."""
    names = [name for name, _, _ in explain_spent_columns()]
    assert BytesIO(empty_spent_table()).read().decode() == ",".join(names) + "\r\n"
    assert set(HEAD.split(",")) < set(names)
    required = ",".join(name for name, required, _ in explain_spent_columns() if required != "no")
    assert parse_spent(table("2026-03-17,310,labor,Frame,93.84,USD,2", head=required), "spent.csv", lists)
    for name in required.split(","):
        left = required.replace(name, f"{name}_")
        assert any(f'Column "{name}" is missing' in line for line in faults(lists, "2026-03-17,310,labor,Frame,93.84,USD,2", head=left))


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ("material,Shims,9.00,USD,,shim,24,4,2026-03-02,2026-03-09,", None),
        ("material,Shims,-9.00,USD,,shim,-24,,,,yes", None),
        ("material,Shims,9.00,USD,,shim,-24,,,,", 'quantity: "-24" is negative. Only goods that went back are'),
        ("material,Shims,9.00,USD,,shim,2 packs,,,,", 'quantity: "2 packs" is not a quantity. Give it as a plain number'),
        ("material,Shims,9.00,USD,,shim,24,-1,,,", 'left: "-1" is more than was bought, or below zero'),
        ("material,Shims,9.00,USD,,shim,,4,,,", "quantity is empty. What was left over needs the quantity"),
        ("labor,Work,46.92,USD,1,shim,24,,,,", 'item: "shim" stands with labor. Labor has none'),
        ("material,Shims,9.00,USD,,shim,24,,2026-03-09,2026-03-02,", 'delivery_day: "2026-03-02" is before the day of the order'),
    ],
)
def test_goods_say_how_much_came_what_was_left_and_when(lists, cells, said):
    """Item, quantity, what was left, days of order and delivery; what can't be is told by its column."""
    text = f"date,cost_code,cost_type,text,amount,currency,hours,item,quantity,left,order_day,delivery_day,credit\n2026-03-09,310,{cells}\n"
    if said is not None:
        with pytest.raises(ListError, match=re.escape(said)):
            parse_spent(text, "s.csv", lists)
    else:
        (row,) = parse_spent(text, "s.csv", lists)
        assert (row.item, abs(row.quantity)) == ("shim", 24.0)


def test_a_file_of_something_else_is_told_once(tmp_path, lists):
    """A job file in place of the table: one line, not one for each of its rows; a single column that is there is enough to say what is missing."""
    path = kit.shipped("examples") / "stone_apron_single_bowl.toml"
    with pytest.raises(ListError) as caught:
        read_spent(path, lists)
    assert [str(fault) for fault in caught.value.faults] == [
        f"{path.name} holds no such table: no row has the columns date, cost_code, cost_type, text, amount, currency, hours."
    ]
    (tmp_path / "s.csv").write_text("date,what\n2026-03-17,x\n", encoding="utf-8")
    with pytest.raises(ListError, match='Column "amount" is missing'):
        read_spent(tmp_path / "s.csv", lists)
