"""A change order for the books: adds above, credits below nothing; the same columns, the same care."""

import datetime as dt
import io
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import pandas as pd
import pytest
from frictionless import Package

import kit
from kit.change.priced_change import ChangeOrder, price_change
from kit.errors import PriceError
from kit.export.handoff import handoff_bytes, read_handoff, row_files
from kit.export.handoff_change import change_rows
from kit.job import change_job
from kit.money import round_cents

DAY = dt.date(2026, 3, 20)
OLD = demo.example("stone_apron_single_bowl")
CHANGES = {
    "two stops more": {"plumbing.stops_to_renew": 4},
    "no stop": {"plumbing.stops_to_renew": 0},
    "their faucet": {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}},
    "wet floor and longer": {"cabinet.wet_floor": True, "terms.hours_factor": "120 %"},
}


def changed(name: str) -> tuple[ChangeOrder, kit.Estimate]:
    new = kit.estimate(change_job(OLD.job_as_read, CHANGES[name]), OLD.lists)
    return price_change(OLD, new), new


@pytest.mark.parametrize("name", CHANGES)
def test_rows_sum_to_the_change_and_read_back(tmp_path: Path, name: str) -> None:
    """Cost and amount of the order to the cent, by pandas and by the Data Package standard's own reader; quantities give costs."""
    order, new = changed(name)
    rows = change_rows(order, OLD, new, day=DAY)
    files = row_files(rows, "change-1")
    for file, content in files.items():
        (tmp_path / file).write_bytes(content)
    table = pd.read_csv(io.BytesIO(files["change-1.csv"]))
    assert round_cents(Decimal(repr(float(table["cost"].sum())))) == order.cost
    assert round_cents(Decimal(repr(float(table["sell"].sum())))) == order.amount
    package = Package(str(tmp_path / "change-1.datapackage.json"))
    assert package.validate().valid
    assert sum(row["sell"] for row in package.get_resource("rows").read_rows()) == order.amount
    assert read_handoff(handoff_bytes(rows)) == rows
    for row in rows:
        slack = abs(row.quantity) * Decimal("0.00005") + Decimal("0.005")
        assert abs(row.quantity * row.unit_cost - row.cost) <= slack
        assert row.line_id.startswith("change:1/")
        assert (row.kind, row.replaces) == ("change", "")


def test_what_falls_away_is_negative() -> None:
    """A faucet that the customer brings: its row has a quantity, a cost and an amount below nothing, on the faucet's code."""
    order, new = changed("their faucet")
    row = next(row for row in change_rows(order, OLD, new, day=DAY) if row.line_id == "change:1/buy:faucet")
    bought = next(purchase for purchase in OLD.purchases if purchase.item == "faucet")
    assert (row.quantity, row.cost, row.cost_code) == (-1, -bought.amount, "420")
    assert row.sell < 0
    assert (row.supplier, row.taxable) == (bought.supplier, True)
    assert row.text == "Change 1, credit: Single-hole kitchen faucet"


def test_what_was_found_has_its_agreed_price_and_no_cost() -> None:
    """Two stubs at the price agreed in advance."""
    order = price_change(OLD, OLD, finds={"short-stub": 2})
    (row,) = change_rows(order, OLD, OLD, day=DAY)
    assert (row.cost, row.sell) == (0, 2 * OLD.lists.unit_prices["short-stub"].price)
    assert row.line_id == "change:1/find:short-stub"
    assert row.text == "Change 1, found: Lengthen a short supply stub"


def test_a_change_that_changes_nothing_has_no_rows() -> None:
    """Nothing to hand over is said, not written."""
    with pytest.raises(PriceError, match="change order 1 changes nothing"):
        change_rows(price_change(OLD, OLD), OLD, OLD, day=DAY)
