"""A whole ledger as tables: what stands in them is what stands in the contracts, and a reference library reads them by their description."""

import csv
import io
import json
import re
import shutil
from collections import defaultdict
from decimal import Decimal
from pathlib import Path
from typing import get_args

import pytest

import kit
from kit.archive.spent import read_spent
from kit.contract.contract_file import bill_contract, offer_contract, open_contract, record_payment, sign_contract, take_back
from kit.contract.ledger import Ledger
from kit.contract.postings import PostingKind
from kit.contract.spending import record_spending
from kit.export.ledger_tables import LEDGER_TABLES, ledger_files
from kit.issued import issue_estimate

ZERO = Decimal("0.00")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two contracts: one with bills, a payment, a slip and spending, one only offered."""
    home = tmp_path_factory.mktemp("jobs")
    lists = kit.load_lists(kit.shipped("price_lists"))
    for name in ("counter_stays_sink_only", "stone_apron_single_bowl"):
        job = kit.read_job(kit.shipped("examples") / f"{name}.toml")
        day = job.identity.visit_date
        contract = offer_contract(open_contract(issue_estimate(kit.estimate(job, lists), home, today=day)))
    contract = sign_contract(contract, day, None)
    for _ in range(2):
        contract = bill_contract(contract, day, credit=None)
    contract = record_payment(contract, "1000.00 USD", day, how="=1+1", back=False)
    contract = record_payment(contract, "5.00 USD", day, how="", back=False)
    contract = take_back(contract, contract.state.last, "typed twice", day)
    record_spending(contract, read_spent(kit.shipped("examples") / "stone_apron_single_bowl_spent.csv", lists), day)
    return home


def rows_of(files: dict[str, bytes], name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(files[f"{name}.csv"].decode(), newline="")))


def test_the_tables_hold_what_the_contracts_hold(folder):
    """Sums by contract are those of the state; every event is a row, the one that was taken back says so."""
    files, ledger = ledger_files(folder), Ledger(folder)
    assert set(files) == {*(f"{name}.csv" for name in LEDGER_TABLES), "datapackage.json"}
    sums: dict[str, dict[str, Decimal]] = defaultdict(lambda: defaultdict(lambda: ZERO))
    for name, column in (("bills", "amount"), ("payments", "amount"), ("payments_due", "due"), ("spending", "amount")):
        for row in rows_of(files, name):
            sums[row["contract"]][name] += Decimal(row[column])
    for row in rows_of(files, "contracts"):
        state, found = ledger.state(row["contract"]), sums[row["contract"]]
        assert (found["bills"], found["payments"], found["payments_due"], found["spending"]) == (state.billed, state.received, state.contract_sum, state.spent)
        assert [Decimal(row[name]) for name in ("billed", "paid", "receivable", "spent")] == [state.billed, state.received, state.receivable, state.spent]
    moved: dict[tuple[str, str], Decimal] = defaultdict(lambda: ZERO)
    for row in rows_of(files, "postings"):
        moved[row["contract"], row["debit_account"]] += Decimal(row["amount"])
        moved[row["contract"], row["credit_account"]] -= Decimal(row["amount"])
    state = ledger.state("DEMO-001")
    assert moved["DEMO-001", "Bank"] == state.received
    assert moved["DEMO-001", "Accounts receivable"] == state.receivable
    assert sum(moved.values()) == 0
    events = rows_of(files, "events")
    assert [int(row["event"]) for row in events] == [event.id for number in ("DEMO-001", "DEMO-005") for event in ledger.events(number)]
    assert [json.loads(row["what"])["amount"] for row in events if row["stands"] == "no"] == ["5.00"]
    assert "'=1+1" in files["payments.csv"].decode()  # no spreadsheet takes it for a formula


@pytest.mark.parametrize("name", ["ledger_columns", "posting_columns"])
def test_the_kinds_of_postings_are_all_described(name):
    """What a posting can be is what both tables say it can be."""
    text = (Path(kit.__file__).parent / "export" / f"{name}.csv").read_text(encoding="utf-8")
    (said,) = re.findall(r"kind,string,yes,([^,]*),What it is; cancel", text)
    assert tuple(said.split()) == get_args(PostingKind)


def test_a_reference_library_reads_them_by_their_description(folder, tmp_path):
    """Types, keys, references between the tables: frictionless finds no fault, and one where a bill names no contract."""
    frictionless = pytest.importorskip("frictionless")
    for name, content in ledger_files(folder).items():
        (tmp_path / name).write_bytes(content)
    report = frictionless.validate(str(tmp_path / "datapackage.json"))
    assert (report.valid, report.flatten(["title", "note"])) == (True, [])
    said = json.loads((tmp_path / "datapackage.json").read_text(encoding="utf-8"))
    assert all(field["description"] for resource in said["resources"] for field in resource["schema"]["fields"])
    bills = (tmp_path / "bills.csv").read_text(encoding="utf-8")
    (tmp_path / "bills.csv").write_text(bills.replace("DEMO-001", "DEMO-009"), encoding="utf-8", newline="")
    assert not frictionless.validate(str(tmp_path / "datapackage.json")).valid


def test_postings_stand_without_their_names_where_the_signed_estimate_is_damaged(folder, tmp_path):
    """The amounts are the ledger's; of the names of accounts only what they are for is known."""
    shutil.copy(folder / "contracts.sqlite", tmp_path)
    (tmp_path / "DEMO-001-r01.json").write_text("{}", encoding="utf-8")
    whole, damaged = (rows_of(ledger_files(one), "postings") for one in (folder, tmp_path))
    assert {row["debit_account"] for row in damaged} == {""}
    unnamed = {"debit_account", "credit_account"}
    assert [{name: cell for name, cell in row.items() if name not in unnamed} for row in whole] == [
        {name: cell for name, cell in row.items() if name not in unnamed} for row in damaged
    ]


def test_an_empty_folder_gives_empty_tables(tmp_path):
    """Nothing is written there, and nothing is wrong."""
    files = ledger_files(tmp_path)
    assert all(rows_of(files, name) == [] for name in LEDGER_TABLES)
    assert list(tmp_path.iterdir()) == []
