"""Posting rows as files: what the accounts are called, what they sum to, how the standard's own library and pandas read them, both ways of one contract."""

import csv
import datetime as dt
import io
import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import pandas as pd
import pytest
from frictionless import Package

import kit
from kit.contract.bills import next_bill
from kit.contract.events import Bought, Paid, Voided, Worked
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of, signature_of
from kit.errors import PriceError
from kit.export.control import check_postings
from kit.export.posting_files import posting_files
from kit.issued import Issued
from kit.job import change_job
from kit.records import CostType

DAY = dt.date(2026, 3, 9)
ACCOUNTS = {
    "Accounts receivable",
    "Retainage receivable",
    "Customer deposits",
    "Remodeling income",
    "Sales tax payable",
    "Bank",
    "Job materials",
    "Job labor",
    "Wages payable",
    "Payroll taxes and insurance payable",
    "Accounts payable",
}


def promise(sides: str) -> Issued:
    """The first example taxed on the whole, as if issued by a firm that wants its rows with one side or both."""
    found = kit.estimate(change_job(demo.example(demo.FIRST).job_as_read, {"terms.tax_on": "everything"}), demo.LISTS)
    lists = replace(found.lists, company=replace(found.lists.company, posting_sides=sides))
    return Issued.of(replace(found, lists=lists), "DEMO-001", 1, DAY, "0" * 64)


def lived(folder: Path, issued: Issued) -> Ledger:
    """Signed, billed twice, paid, bought with tax, worked, and a payment taken back."""
    ledger = Ledger(folder)
    ledger.append("DEMO-001", offer_of(issued), DAY)
    ledger.append("DEMO-001", signature_of(issued), DAY)
    for _ in range(2):
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), DAY, 10), DAY)
    goods = Bought(cost_code="410", cost_type=CostType.MATERIAL, text="=1+1", amount="106.00", tax="6.00", supplier="Sample Yard (invented)")
    ledger.append("DEMO-001", goods, DAY)
    ledger.append("DEMO-001", Worked(cost_code="310", hours=2, wages="68.00", burden="25.84"), DAY)
    paid = ledger.append("DEMO-001", Paid(amount="500.00", how="check 12"), DAY)
    ledger.append("DEMO-001", Voided(event=paid.last, reason="another customer's"), DAY)
    return ledger


@pytest.fixture(params=["both", "one"])
def files(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Ledger, dict[str, bytes]]:
    """The ledger, and the three files."""
    issued = promise(request.param)
    ledger = lived(tmp_path, issued)
    return ledger, posting_files(issued, ledger.events("DEMO-001"))


def test_the_reference_library_and_pandas_read_what_the_state_says(tmp_path: Path, files: tuple[Ledger, dict[str, bytes]]) -> None:
    """Sound by the Data Package standard's own reader; debits are credits; each account stands as the ledger's state."""
    ledger, written = files
    for name, content in written.items():
        (tmp_path / name).write_bytes(content)
    package = Package(str(tmp_path / "DEMO-001-postings.datapackage.json"))
    report = package.validate()
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "note"])[:5]
    found: Counter = Counter()
    for row in package.get_resource("rows").read_rows():
        if "amount" in row:
            found[row["debit_account"]] += row["amount"]
            found[row["credit_account"]] -= row["amount"]
        else:
            found[row["account"]] += row["debit"] - row["credit"]
    state = ledger.state("DEMO-001")
    assert set(found) == ACCOUNTS
    assert sum(found.values()) == 0
    assert (found["Accounts receivable"], found["Retainage receivable"]) == (state.receivable, state.held)
    assert (found["Customer deposits"], found["Sales tax payable"], found["Bank"]) == (-state.deposits, -state.tax_billed, 0)
    assert (found["Job materials"], found["Accounts payable"]) == (106, -106)
    hand_labor = Decimal("93.84")
    assert (found["Job labor"], found["Wages payable"], found["Payroll taxes and insurance payable"]) == (hand_labor, -68, Decimal("-25.84"))
    table = pd.read_csv(io.BytesIO(written["DEMO-001-postings.csv"]), keep_default_na=False)
    bills = {one.bill.draw: float(one.bill.amount) for one in state.bills}
    assert {draw: round(sum(table[table["draw"] == draw]["billed"]), 2) for draw in bills} == bills
    assert set(table["date"]) == {"2026-03-09"}


def test_control_totals_hold_and_notice_what_moved(files: tuple[Ledger, dict[str, bytes]]) -> None:
    """Recounted from the text: by account, cost code, tax and payment, which has its name; an amount, an account, a lost row are noticed."""
    ledger, written = files
    content, control = written["DEMO-001-postings.csv"], written["DEMO-001-postings.control.json"]
    payments = {one.bill.draw: one.bill.label for one in ledger.state("DEMO-001").bills}
    checks = check_postings(content, control, payments)
    assert all(check.agrees for check in checks)
    found = {check.what: check.found for check in checks}
    assert {"Payment of the customer: deposit at signing", "Payment of the customer: when the countertop is templated"} <= found.keys()
    assert (found["Tax: Sample Yard (invented)"], found["Cost code: 410"], found["Cost code: 310"]) == ("6.00", "106.00", "93.84")
    assert json.loads(control)["by_tax"].keys() == {"Sample Yard (invented)", demo.LISTS.company.region}

    def differing(changed: bytes) -> set[str]:
        return {check.what for check in check_postings(changed, control, payments) if not check.agrees}

    assert {"Account: Bank", "Account: Till", "Fingerprint of the file"} <= differing(content.replace(b'"Bank"', b'"Till"'))
    assert {"Debits", "Account: Accounts payable"} <= differing(content.replace(b'"6.00"', b'"7.00"', 1)) | differing(content.replace(b'"6.00"', b'"7.00"'))
    assert {"Rows", "Fingerprint of the file"} <= differing(b"\r\n".join([*content.split(b"\r\n")[:3], *content.split(b"\r\n")[4:]]))
    with pytest.raises(PriceError, match="import file can't be held against its control totals"):
        check_postings(b"a\r\n1\r\n", control, payments)


def test_rows_are_known_again_and_no_text_is_run(files: tuple[Ledger, dict[str, bytes]]) -> None:
    """The key is job and posting; what an event moved is the same in a later file; a text that looks like a formula has its mark."""
    ledger, written = files
    rows = list(csv.DictReader(io.StringIO(written["DEMO-001-postings.csv"].decode(), newline="")))
    assert len({row["posting"] for row in rows}) == len(rows)
    assert any(row["text"].startswith("'=1+1") for row in rows)
    issued = promise("both" if "amount" in rows[0] else "one")
    earlier = posting_files(issued, ledger.events("DEMO-001")[:4])["DEMO-001-postings.csv"]
    assert written["DEMO-001-postings.csv"].startswith(earlier)
    assert posting_files(issued, ledger.events("DEMO-001")[:2]) == {}
    only = posting_files(issued, ledger.events("DEMO-001"), only=frozenset({3}))
    assert list(only) == [f"DEMO-001-postings-of-event-3{ending}" for ending in (".csv", ".datapackage.json", ".control.json")]
