"""An issued estimate is exported again with the same totals, bytes and marks after prices have moved."""

import datetime as dt
import io
import re
import shutil
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import openpyxl
import pytest
from long_run import one_in
from paper_text import text_of

import kit
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.handoff import handoff_bytes
from kit.export.handoff_rows import handoff_rows
from kit.export.proposal import proposal_bytes
from kit.export.purchase_list import purchase_list_bytes
from kit.export.workbook import workbook_bytes
from kit.issued import Issued, issue_estimate, list_issued, open_issued
from kit.money import format_money, sum_money

DAY = dt.date(2026, 6, 1)


def double_prices(folder: Path) -> None:
    """Every price on the shelf twice as high."""
    path = folder / "prices.csv"
    doubled = re.sub(r"(\d+\.\d\d),USD", lambda found: f"{2 * Decimal(found[1])},USD", path.read_text(encoding="utf-8"))
    path.write_text(doubled, encoding="utf-8")


def exports(issued: Issued) -> dict[str, bytes]:
    found = issued.estimate
    return {
        "workbook": workbook_bytes(found, issued=issued),
        "proposal": proposal_bytes(found, issued=issued),
        "rows": handoff_bytes(handoff_rows(found, issued=issued)),
        "purchases": purchase_list_bytes(found, issued=issued),
        "crew": crew_sheet_bytes(found, issued=issued),
    }


@pytest.mark.parametrize("name", one_in(3, demo.EXAMPLES))
def test_an_issued_estimate_gives_the_same_files_after_prices_have_moved(tmp_path: Path, name: str) -> None:
    """The document alone makes workbook, proposal and rows; what is on the shelf by then does not matter."""
    folder = shutil.copytree(kit.shipped("price_lists"), tmp_path / "lists")
    job = kit.read_job(demo.example_path(name))
    made = kit.estimate(job, kit.load_lists(folder))
    path = issue_estimate(made, tmp_path, today=DAY, stop_reason="of the test")
    before = exports(open_issued(path))
    double_prices(folder)
    assert kit.estimate(job, kit.load_lists(folder)).cost > made.cost
    issued = open_issued(list_issued(tmp_path, job.identity.job_number)[0])
    after = exports(issued)
    assert {kind for kind in after if after[kind] != before[kind]} == set()

    rows = handoff_rows(issued.estimate, issued=issued)
    assert (sum_money([row.cost for row in rows]), sum_money([row.sell for row in rows])) == (made.cost, made.price)
    book = openpyxl.load_workbook(io.BytesIO(after["workbook"]), data_only=True)
    overview = {row[0].value: row[1].value for row in book["Overview"].iter_rows()}
    assert Decimal(repr(overview["Price"])).quantize(Decimal("0.01")) == made.price
    table = list(book["Import"].iter_rows(values_only=True))
    status, revision, date = (table[0].index(column) for column in ("Status", "Revision", "Date"))
    assert {(row[status], row[revision], row[date].date()) for row in table[1:]} == {("issued", 1, DAY)}
    text = text_of(after["proposal"])
    assert format_money(made.price) in text
    assert "revision 1" in text
