"""`sinkset change`: rows, markups, tax, hours, contract; the paper to sign and the rows for the books; all or none."""

import csv
import io
import json
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import edit, put

FILES = {
    "DEMO-001-r01-change-1.pdf",
    "DEMO-001-r01-change-1-books.csv",
    "DEMO-001-r01-change-1-books.datapackage.json",
    "DEMO-001-r01-change-1-books.control.json",
}


@pytest.fixture
def contract(job_file: Any, issue_example: Any) -> Any:
    """The example issued, and its file changed: gives both paths."""

    def make(change: Any) -> tuple[Path, Path]:
        return issue_example(), job_file(change)

    return make


def no_haul(document: Any) -> None:
    document["scope"]["haul_away"] = {"supplied_by": "excluded", "installed_by": "nobody"}


def test_rows_markups_and_sums(run: Any, contract: Any) -> None:
    """Each row its cost at its markup; together the change; the contract sum from the issued price on."""
    issued, path = contract(put("site.carry", "190 ft"))
    told = run("change", issued, path, "--json", "--find", "short-stub=2").json
    price = run("estimate", issued, "--json").json["price"]
    assert told["contract_before"] == price
    assert Decimal(told["contract_after"]) == Decimal(price) + Decimal(told["amount"])
    assert sum(Decimal(row["amount"]) for row in told["rows"]) == Decimal(told["amount"])
    for row in told["rows"]:
        if row["kind"] != "find":
            assert abs(Decimal(row["amount"]) - Decimal(row["cost"]) * (1 + Decimal(str(row["markup"])))) <= Decimal("0.005")
    (found,) = (row for row in told["rows"] if row["kind"] == "find")
    assert (found["id"], found["amount"]) == ("find:short-stub", "92.00")  # hand: two at 46.00
    markups = {(row["cost_type"], row["markup"]) for row in told["rows"] if row["kind"] == "add"}
    assert markups == {("material", 0.3), ("labor", 0.3)}
    assert told["hours"] > 0
    assert (told["from"]["revision"], told["to"]) == (1, None)
    for when in ("before", "after"):
        assert sum(Decimal(draw[when]) for draw in told["draws"]) == Decimal(told[f"contract_{when}"])
    assert [draw["paid"] for draw in told["draws"]] == [True, False, False, False, False]
    assert told["draws"][0]["before"] == told["draws"][0]["after"]


def test_the_report_is_for_the_owner(run: Any, contract: Any) -> None:
    """What changes in words, cost and markup, sums, payments, days."""
    issued, path = contract(put("site.carry", "190 ft"))
    told, said = run("change", issued, path, "--json").json, " ".join(run("change", issued, path).out.decode().split())
    assert ". Rule: markup both ways. Dated " in said
    assert "Walk from the truck to the kitchen 70 ft 190 ft" in said
    assert f"Contract sum ${Decimal(told['contract_before']):,}, this change ${Decimal(told['amount']):,}" in said
    assert f"Our cost: +${Decimal(told['cost']):,}" in said
    assert "agreed price has no cost here" not in said  # nothing was found
    assert "Deposit at signing paid" in said
    assert "Work complete" in said
    assert "The contract is still a draft" not in said
    assert "On the change order, to the customer: " in said  # not the owner's "we"
    assert "Rows for the books are marked draft until the changed job is issued, too." in said


def test_the_paper_and_the_rows_for_the_books_are_written(run: Any, contract: Any, tmp_path: Path) -> None:
    """With the sums of the order; the same again from the same input, and it is said that they were replaced."""
    issued, path = contract(no_haul)
    words = ("change", issued, path, "--json", "--day", "2030-03-31", "--out", tmp_path / "out")
    ended = run(*words)
    told = ended.json
    assert {file.name for file in (tmp_path / "out").iterdir() if not file.name.startswith(".")} == FILES
    assert ended.err == f"Written: {len(FILES)} files in {tmp_path / 'out'}.\n"
    control = json.loads((tmp_path / "out" / "DEMO-001-r01-change-1-books.control.json").read_text(encoding="utf-8"))
    assert (control["sum_sell"], control["sum_cost"], control["date"]) == (told["amount"], told["cost"], "2030-03-31")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out" / "DEMO-001-r01-change-1-books.csv").read_text(encoding="utf-8"))))
    assert all(Decimal(row["sell"]) < 0 for row in rows if ", credit: " in row["text"])
    first = {name: (tmp_path / "out" / name).read_bytes() for name in FILES}
    assert f"{len(FILES)} of them replaced" in run(*words).err
    assert {name: (tmp_path / "out" / name).read_bytes() for name in FILES} == first


def test_a_persons_own_file_stops_all_of_them(run: Any, contract: Any, tmp_path: Path) -> None:
    """It stays, and nothing is written beside it."""
    issued, path = contract(no_haul)
    (tmp_path / "out").mkdir()
    own = tmp_path / "out" / "DEMO-001-r01-change-1.pdf"
    own.write_text("signed", encoding="utf-8")
    ended = run("change", issued, path, "--out", tmp_path / "out")
    assert (ended.code, ended.out) == (2, b"")
    assert own.read_text(encoding="utf-8") == "signed"
    assert [file.name for file in (tmp_path / "out").iterdir()] == [own.name]


def test_both_issued_give_rows_that_are_issued(run: Any, contract: Any, tmp_path: Path) -> None:
    """The changed job as revision 2: the rows are of it, and no longer of a draft; their day is its day of issue."""
    issued, path = contract(no_haul)
    second = run("issue", path, "--json").json
    told = run("change", issued, second["file"], "--json", "--out", tmp_path / "out").json
    control = json.loads((tmp_path / "out" / "DEMO-001-r01-change-1-books.control.json").read_text(encoding="utf-8"))
    assert (control["revision"], control["status"], control["date"]) == (2, "issued", second["issued"])
    assert (told["to"]["revision"], told["day"]) == (2, second["issued"])


def test_contract_prices_hold_in_a_change_at_other_prices(run: Any, contract: Any, price_lists: Path) -> None:
    """Lists have moved since: what stays is not charged anew."""
    issued, path = contract(put("site.carry", "190 ft"))
    at_once = run("change", issued, path, "--json").json
    edit("prices.csv", r"^(faucet,[^\n]*),265\.00,", r"\1,1265.00,")(price_lists)
    assert run("change", issued, path, "--prices", price_lists, "--json").json["amount"] == at_once["amount"]


def test_a_second_change_starts_where_the_first_ended(run: Any, contract: Any) -> None:
    """Its contract sum is asked for."""
    issued, path = contract(no_haul)
    refused = run("change", issued, path, "--number", "2")
    assert (refused.code, refused.out) == (2, b"")
    assert "--number: Change order 2 starts where the one before it ended: give that sum with --contract." in refused.err
    assert "--number: By change order 2 payments may have been made: give each with --paid, or --paid with 0 USD." in refused.err
    words = ("--number", "2", "--contract", "9,500.00 USD", "--paid", "908.54 USD", "--paid", "2400 USD")
    told = run("change", issued, path, *words, "--json").json
    assert [(draw["before"], draw["after"]) for draw in told["draws"] if draw["paid"]] == [("908.54", "908.54"), ("2400.00", "2400.00")]
    nothing = run("change", issued, path, *words[:4], "--paid", "0 USD", "--json").json
    assert not any(draw["paid"] for draw in nothing["draws"])
    assert (told["number"], told["contract_before"]) == (2, "9500.00")
    assert Decimal(told["contract_after"]) == Decimal(9500) + Decimal(told["amount"])


def test_nothing_changed_is_told_and_no_paper_written(run: Any, contract: Any, tmp_path: Path) -> None:
    """A report says so; there is nothing to sign."""
    issued, path = contract(None)
    assert "Nothing changes" in run("change", issued, path).out.decode()
    ended = run("change", issued, path, "--out", tmp_path / "out")
    assert (ended.code, ended.out) == (2, b"")
    assert "changes nothing" in ended.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        (("--find", "short-stub"), r'--find: "short-stub" is not a find and how many\. Give it as short-stub=2'),
        (("--find", "short-stub=0"), "is not a find and how many"),
        (("--find", "short-stub=nan"), "is not a find and how many"),
        (("--find", "short-stub=1", "--find", "short-stub=2"), '--find: "short-stub" is given twice'),
        (("--find", "moon=1"), r'find "moon" is not in unit_prices\.csv\. Known: '),
        (("--rule", "moon"), r'change rule: "moon" is not in change_rules\.csv\. Known: .*markup-both-ways'),
        (("--despite", "agreed"), "--despite: it goes with --offer"),
        (("--contract", "9500", "--day", "spring"), r'--contract: "9500" has no currency[^\n]*\n--day: "spring" is not a day'),
        (("--day", "2020-01-01"), "--day: Wed, Jan 1, 2020 is before the day of issue"),
        (("--paid", "9"), '--paid: "9" has no currency'),
        (("--paid", "1 USD") * 5, "payments made are 5 of the 5 that the contract has"),
        (("--number", "0"), "Invalid value for '--number': give a whole number, 1 to 99."),
    ],
)
def test_what_can_not_be_asked_ends_with_2(run: Any, contract: Any, tmp_path: Path, words: tuple[str, ...], wanted: str) -> None:
    """One report, nothing written."""
    issued, path = contract(no_haul)
    ended = run("change", issued, path, *words, "--out", tmp_path / "out")
    assert (ended.code, ended.out) == (2, b"")
    assert re.search(wanted, ended.err), ended.err
    assert not (tmp_path / "out").exists()


def test_faults_of_both_files_stand_in_one_report(run: Any, job_file: Any, tmp_path: Path) -> None:
    """A contract that is none and a job with a bare number."""
    (tmp_path / "old.json").write_text("{}", encoding="utf-8")
    ended = run("change", tmp_path / "old.json", job_file(put("cabinet.width", "36")))
    assert (ended.code, ended.out) == (2, b"")
    assert "old.json is not an issued estimate." in ended.err
    assert 'cabinet.width: "36" has no unit' in ended.err


def test_a_stop_in_the_changed_job_gets_no_paper(run: Any, contract: Any, tmp_path: Path) -> None:
    """The report tells it; the paper is refused."""
    issued, path = contract(put("cabinet.swollen_side", "both"))
    assert "NOT BUILDABLE with this change" in run("change", issued, path).out.decode()
    ended = run("change", issued, path, "--out", tmp_path / "out")
    assert (ended.code, ended.out) == (2, b"")
    assert '"Cabinet sides" says stop' in ended.err
    assert not (tmp_path / "out").exists()


def test_a_draft_may_be_changed_and_says_so(run: Any, job_file: Any) -> None:
    """Two job files: told as a draft."""
    path = job_file(put("site.carry", "190 ft"))
    before = path.with_name("before.toml")
    path.rename(before)
    after = job_file(no_haul)
    said = " ".join(run("change", before, after).out.decode().split())
    assert "The contract is still a draft: issue it first" in said
