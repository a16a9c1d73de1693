"""The rows for the books: what they sum to, what they hold, and how texts are made safe."""

import csv
import io
import string
from dataclasses import fields, replace
from decimal import Decimal

import export_demo as demo
import pandas as pd
import pytest
from export_demo import write_workbook
from hypothesis import given
from hypothesis import strategies as st

import kit
from kit.errors import PriceError
from kit.export.csv_text import defuse_text, restore_text
from kit.export.handoff_rows import HandoffRow, handoff_rows
from kit.money import round_cents, split_cents
from kit.records import CostType

HEADS = [
    "job",
    "customer",
    "document",
    "revision",
    "line_id",
    "kind",
    "replaces",
    "date",
    "cost_code",
    "cost_code_name",
    "cost_type",
    "expense_account",
    "income_account",
    "text",
]
HEADS += ["quantity", "unit", "unit_cost", "cost", "sell", "currency", "taxable", "tax_words", "supplier", "contractor_form", "draw", "status"]
HEADS += ["unit_code", "uniformat", "fingerprint"]


def rows_of(estimate: kit.Estimate) -> tuple[HandoffRow, ...]:
    """The rows without payments."""
    return handoff_rows(estimate, draws=())


@pytest.mark.parametrize("name", demo.NAMES)
def test_rows_sum_to_cost_and_price_to_the_cent(name):
    """Cost sums to the direct cost, sell to the price."""
    found = demo.estimate_of(name)
    rows = rows_of(found)
    assert sum(row.cost for row in rows) == found.cost
    assert sum(row.sell for row in rows) == found.price


@pytest.mark.parametrize("name", demo.NAMES)
def test_each_purchase_and_task_has_one_row_and_tax_the_rest(name):
    """Ids are those of the records, each once; a row's quantity and unit cost give its cost."""
    found = demo.estimate_of(name)
    rows = {row.line_id: row for row in rows_of(found)}
    assert len(rows) == len(rows_of(found))
    tax = {line_id: row for line_id, row in rows.items() if line_id.startswith("tax-paid:")}
    collected = {"tax-collected"} if found.amount("tax-collected") else set()
    assert set(rows) - set(tax) - collected == {f"buy:{purchase.id}" for purchase in found.purchases} | {f"task:{task.step}" for task in found.tasks}
    assert sum(row.cost for row in tax.values()) == found.amount("tax-paid")
    for row in rows.values():
        assert round_cents(row.quantity * row.unit_cost) == row.cost


@pytest.mark.parametrize("name", demo.NAMES)
def test_codes_and_accounts_are_those_of_the_lists(name):
    """Cost code and type from the item or the step, the account from the cost type."""
    found = demo.estimate_of(name)
    rows = {row.line_id: row for row in rows_of(found)}
    for purchase in found.purchases:
        item, row = found.lists.item(purchase.item), rows[f"buy:{purchase.id}"]
        assert (row.cost_code, row.cost_type, row.supplier) == (item.cost_code, str(item.cost_type), purchase.supplier)
        assert row.expense_account == found.lists.accounts[item.cost_type].expense_account
    for task in found.tasks:
        row = rows[f"task:{task.step}"]
        assert (row.cost_code, row.cost_type, row.supplier, row.unit) == (found.lists.steps[task.step].cost_code, "labor", "", "h")


def test_only_what_we_pay_tax_on_is_taxable():
    """In a job where material is taxed it is marked; in one that is exempt nothing is, and there is no row of tax."""
    taxed, exempt = rows_of(demo.example(demo.FIRST)), rows_of(demo.VARIANTS["markup and exempt and all hours longer"]())
    assert {row.cost_type for row in taxed if row.taxable} == {"material"}
    assert not any(row.taxable or row.line_id.startswith("tax-paid:") for row in exempt)


def test_the_price_is_shared_out_by_cost():
    """No row's sell is further than a cent from its share of the price."""
    found = demo.example(demo.FIRST)
    for row in rows_of(found):
        assert abs(row.sell - found.price * row.cost / found.cost) < Decimal("0.01")


def test_tax_is_split_over_cost_codes_by_what_was_taxed():
    """Hand check: the tax of each cost code is its share of the taxed amounts."""
    found = demo.example(demo.FIRST)
    amounts: dict[str, Decimal] = {}
    for purchase in found.purchases:
        if purchase.taxable:
            code = found.lists.item(purchase.item).cost_code
            amounts[code] = amounts.get(code, Decimal(0)) + purchase.amount
    hand_parts = dict(zip(amounts, split_cents(found.amount("tax-paid"), list(amounts.values())), strict=True))
    assert {row.cost_code: row.cost for row in rows_of(found) if row.line_id.startswith("tax-paid:")} == hand_parts


def test_a_job_without_cost_is_one_row():
    """Where nothing costs anything the least charge stands alone."""
    found = demo.with_purchases(replace(demo.example(demo.FIRST), tasks=()), ())
    (row,) = rows_of(found)
    assert (row.line_id, row.cost, row.sell) == ("least-charge", 0, found.price)


def test_a_hired_trade_is_no_labor_of_our_own():
    """A step of another trade is hired work from that trade."""
    found = demo.example(demo.FIRST)
    changed = replace(found, tasks=(replace(found.tasks[0], trade="plumber"), *found.tasks[1:]))
    row = next(row for row in rows_of(changed) if row.line_id == f"task:{found.tasks[0].step}")
    assert (row.cost_type, row.supplier) == (str(CostType.HIRED), "plumber")


def test_costs_that_do_not_sum_are_refused():
    """Rows that would miss the direct cost never reach the books."""
    found = demo.example(demo.FIRST)
    with pytest.raises(PriceError, match="rows for the books sum to"):
        rows_of(replace(found, purchases=found.purchases[1:]))


def test_texts_are_one_line_of_at_most_100_signs():
    """Breaks, tabs and control signs become blanks; what is longer ends in dots."""
    found = demo.with_texts("Two\nlines\tand\x07more", "note")
    assert {row.customer for row in rows_of(found)} == {"Two lines and more"}
    item = found.purchases[0].item
    long = {**found.lists.items, item: replace(found.lists.item(item), name="plank " * 40)}
    texts = {row.line_id: row.text for row in rows_of(replace(found, lists=replace(found.lists, items=long)))}
    assert texts[f"buy:{found.purchases[0].id}"] == ("plank " * 17)[:97].rstrip() + "..."
    assert max(map(len, texts.values())) <= 100


@given(st.lists(st.decimals("0.01", "9999.99", places=2), min_size=3, max_size=3), st.decimals("0", "0.8", places=4), st.decimals("0", "0.5", places=4))
def test_rows_sum_at_any_prices_and_terms(prices, profit, overhead):
    """Whatever prices, profit and overhead are: cost and price to the cent."""
    found = demo.example(demo.FIRST)
    names = [purchase.id for purchase in found.purchases[:3]]
    revalued = kit.revalue(found, dict(zip(names, prices, strict=True)), {}, {"in:profit": profit, "in:overhead": overhead})
    rows = rows_of(revalued)
    assert (sum(row.cost for row in rows), sum(row.sell for row in rows)) == (revalued.cost, revalued.price)


@pytest.mark.parametrize("name", demo.FOR_BOOKS)
def test_the_sheet_reads_back_with_pandas(tmp_path, name):
    """One row of heads, then nothing but rows: the same figures, the same sums, dates as dates, nothing merged."""
    found = demo.estimate_of(name)
    path = tmp_path / "job.xlsx"
    path.write_bytes(demo.workbook_of(name))
    table = pd.read_excel(path, sheet_name="Import", dtype={"Cost code": str}, keep_default_na=False)
    rows = handoff_rows(found)
    assert [field.name for field in fields(HandoffRow)] == HEADS
    hand_heads = {"line_id": "Line", "cost_code": "Cost code", "unit_cost": "Unit cost", "contractor_form": "Contractor form", "tax_words": "Tax"}
    heads = [hand_heads.get(name, name.replace("_", " ").capitalize()) for name in HEADS]
    assert list(table.columns) == heads
    table.columns = pd.Index(HEADS)
    assert len(table) == len(rows)
    assert round_cents(Decimal(repr(float(table["cost"].sum())))) == found.cost
    assert round_cents(Decimal(repr(float(table["sell"].sum())))) == found.price
    for column in ("quantity", "unit_cost", "cost", "sell"):
        assert list(table[column].astype(float)) == [float(getattr(row, column)) for row in rows]
    for column in ("line_id", "job", "customer", "cost_code", "cost_type", "expense_account", "text", "unit", "supplier", "fingerprint"):
        assert list(table[column]) == [getattr(row, column) for row in rows]
    assert set(table["taxable"]) <= {"yes", "no"}
    assert set(table["date"].dt.date) == {found.job.identity.visit_date}


def test_the_sheet_has_no_formula_and_nothing_merged(tmp_path):
    """Plain values only."""
    import openpyxl

    sheet = openpyxl.load_workbook(write_workbook(demo.example(demo.FIRST), tmp_path / "job.xlsx"))["Import"]
    assert not sheet.merged_cells.ranges
    assert {cell.data_type for row in sheet.iter_rows(min_row=2) for cell in row} == {"s", "n", "d"}


# OWASP, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection): the two cells with their safe form as printed there.
PRINTED_SAFE = {'=1+2";=1+2': '"\'=1+2"";=1+2"', "=1+2'\" ;,=1+2": '"\'=1+2\'"" ;,=1+2"'}


@pytest.mark.parametrize(("hostile", "printed_cell"), PRINTED_SAFE.items())
def test_defused_and_quoted_cells_are_as_printed(hostile, printed_cell):
    """With every field quoted by the CSV writer, the published cells come out as published."""
    out = io.StringIO()
    csv.writer(out, quoting=csv.QUOTE_ALL).writerow([defuse_text(hostile)])
    assert out.getvalue() == f"{printed_cell}\r\n"


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@x", "\tx", "\rx", "\nx", " =1", "\u00a0=1", "＝1", "＋1", "－1", "＠x", "'x"])
def test_risky_texts_get_an_apostrophe(text):
    """The published list of first signs, also behind blanks, and wide."""
    assert defuse_text(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "Sink", "3/4 in plywood", "a=b", "O'Brien", "120 in stick", "(x)"])
def test_plain_texts_stay(text):
    """Nothing is added to what no sheet takes for a formula."""
    assert defuse_text(text) == text


@given(st.text(alphabet=string.printable + "＝\u00a0é"))
def test_defusing_can_be_taken_back(text):
    """What was defused reads back sign for sign, and begins with no sign of a formula."""
    assert restore_text(defuse_text(text)) == text
    assert not defuse_text(text).lstrip().startswith(("=", "+", "-", "@"))
