"""Control totals: worked out again from the import file's own text, and told apart when anything moved on the way."""

import datetime as dt
from decimal import Decimal

import export_demo as demo
import pytest

from kit.errors import PriceError
from kit.export.control import check_control
from kit.export.handoff import handoff_files
from kit.issued import Issued, issue_estimate, open_issued


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Issued:
    """The first example, issued."""
    path = issue_estimate(demo.example("stone_apron_single_bowl"), tmp_path_factory.mktemp("issued"), today=dt.date(2026, 3, 5))
    return open_issued(path)


@pytest.fixture(scope="module")
def files(issued: Issued) -> tuple[bytes, bytes]:
    """Its rows and their control totals."""
    made = handoff_files(issued.estimate, "x", issued=issued)
    return made["x.csv"], made["x.control.json"]


def differing(content: bytes, control: bytes, issued: Issued) -> set[str]:
    return {check.what for check in check_control(content, control, issued) if not check.agrees}


def test_a_whole_file_agrees_in_everything(files, issued):
    """Count, sums, words, fingerprints; then by account, cost code, tax and payment. Sums are direct cost and price."""
    checks = check_control(*files, issued)
    assert all(check.agrees for check in checks)
    found = {check.what: check.found for check in checks}
    assert found["Rows"] == str(files[0].count(b"\r\n") - 1)
    assert (found["Sum of the column cost"], found["Sum of the column sell"]) == (f"{issued.estimate.cost}", f"{issued.estimate.price}")
    kinds = {check.what.partition(":")[0] for check in checks if ":" in check.what}
    assert kinds == {"Account", "Income account", "Cost code", "Tax", "Payment of the customer"}
    named = {check.what.removeprefix("Payment of the customer: ") for check in checks if check.what.startswith("Payment of the customer: ")}
    assert named == {"when the countertop is templated", "when the countertop work is done", "at completion", "when the punch list is done"}
    for kind, whole in (("Account", issued.estimate.cost), ("Cost code", issued.estimate.cost), ("Income account", issued.estimate.price)):
        assert sum(Decimal(check.found) for check in checks if check.what.startswith(f"{kind}: ")) == whole


def test_a_row_that_is_lost_is_noticed(files, issued):
    """Count, sums and the file's fingerprint no longer agree."""
    content, control = files
    lines = content.split(b"\r\n")
    shorter = b"\r\n".join([*lines[:5], *lines[6:]])
    assert {"Rows", "Sum of the column cost", "Direct cost as issued", "Price as issued", "Fingerprint of the file"} <= differing(shorter, control, issued)


def test_two_changes_that_leave_the_sums_are_noticed(files, issued):
    """A document's number changed in one row, nothing else: the words differ and so does the file."""
    content, control = files
    changed = content.replace(b'"DEMO-001","1"', b'"DEMO-009","1"', 1)
    assert changed != content
    assert differing(changed, control, issued) == {"Document in every row", "Fingerprint of the file"}


def test_totals_of_another_document_are_noticed(files, issued):
    """Control totals that say another sum or revision differ in just these."""
    content, control = files
    cost = f'"{issued.estimate.cost}"'.encode()
    assert differing(content, control.replace(cost, b'"1.00"').replace(b'"revision": 1', b'"revision": 2'), issued) == {
        "Sum of the column cost",
        "Revision in every row",
    }


@pytest.mark.parametrize(("content", "control"), [(b"\xff", b"{}"), (b"a\r\n1\r\n", b"{}"), (b"cost,sell\r\nx,1\r\n", b"{}"), (b"", b"[]"), (b"", b"no")])
def test_what_is_no_import_file_is_refused(content, control, issued):
    """Nothing is said of what can't be read."""
    with pytest.raises(PriceError, match="import file can't be held against its control totals"):
        check_control(content, control, issued)
