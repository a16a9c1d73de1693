"""`sinkset issue`: the next revision beside the job file, never over another, exported again whatever prices do."""

import hashlib
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, edit, put

from kit import shipped
from kit.draw.book_tables import draw_issued
from kit.issued import open_issued


def issued_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.glob("*.json"))


def test_issue_writes_the_next_revision_beside_the_job_file(run: Any, job_file: Any) -> None:
    """Number and revision in its name, its price that of the estimate; the first stays as it was when a second comes."""
    path = job_file()
    first = run("issue", path, "--json")
    assert (first.code, first.err) == (0, "")
    assert (first.json["revision"], first.json["changes"], first.json["stop_reason"]) == (1, [], None)
    assert first.json["price"] == run("estimate", path, "--json").json["price"]
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", first.json["issued"])
    held = (path.parent / "DEMO-001-r01.json").read_bytes()
    job_file(put("site.carry", "190 ft"))
    second = run("issue", path)
    assert second.code == 0
    assert issued_in(path.parent) == ["DEMO-001-r01.json", "DEMO-001-r02.json"]
    assert (path.parent / "DEMO-001-r01.json").read_bytes() == held
    said = second.out.decode()
    assert "What changed since the last revision" in said
    assert "Price lists: the invented ones of the kit, folder price_lists." in said
    assert "Walk from truck to kitchen: 70 ft -> 190 ft" in said
    assert re.search(r"Price: \$[\d,]+\.\d\d -> \$[\d,]+\.\d\d", said)


def test_issue_writes_into_a_folder_that_is_named(run: Any, job_file: Any, tmp_path: Path) -> None:
    """And counts the revisions that lie there; one that is not there yet is made, which is said."""
    first = run("issue", job_file(), "--folder", tmp_path / "promises")
    assert first.code == 0
    assert f"The folder {tmp_path / 'promises'} is new." in " ".join(first.out.decode().split())
    assert issued_in(tmp_path / "promises") == ["DEMO-001-r01.json"]
    assert run("issue", job_file(put("site.carry", "190 ft")), "--folder", tmp_path / "promises", "--json").json["revision"] == 2


def test_a_folder_is_made_only_for_what_is_issued(run: Any, job_file: Any, tmp_path: Path) -> None:
    """Not where its own folder is missing, perhaps a slip of the pen, and it is gone again where the estimate is refused; `jobs` says that it is not there."""
    far = run("issue", job_file(), "--folder", tmp_path / "no" / "such")
    assert (far.code, (tmp_path / "no").exists()) == (2, False)
    assert f"{tmp_path / 'no'} is not there. Make it first, or check the path." in " ".join(far.err.split())
    assert run("issue", job_file(put("cabinet.width", "30 in")), "--folder", tmp_path / "promises").code == 2
    assert not (tmp_path / "promises").exists()
    assert "is not there. Give a folder of jobs, or an issued estimate." in " ".join(run("jobs", tmp_path / "promises").err.split())
    assert not run("issue", job_file(), "--json").json["folder_is_new"]


def test_issue_is_refused_while_a_finding_says_stop(run: Any, job_file: Any) -> None:
    """Every stop in one report and nothing written; with a reason it goes out, and the reason with it."""
    path = job_file(put("cabinet.width", "30 in"))
    refused = run("issue", path)
    assert (refused.code, refused.out) == (2, b"")
    assert "says stop: " in refused.err
    assert "Or state why you issue it anyway." in refused.err
    assert issued_in(path.parent) == []
    assert run("issue", path, "--reason", " ").code == 2
    told = run("issue", path, "--json", "--reason", "The cabinet is rebuilt by others first.").json
    assert told["stop_reason"] == "The cabinet is rebuilt by others first."
    assert any("says stop" in sentence for sentence in told["against"])
    said = run("issue", path, "--reason", "By others.").out.decode()
    assert "Issued anyway: By others." in said
    assert "Send the customer the proposal; the other files hold your costs or are for the crew." in " ".join(said.split())


def test_a_reason_without_a_warning_is_a_note(run: Any, job_file: Any) -> None:
    """Nothing is overruled where nothing was in the way."""
    path = job_file()
    said = " ".join(run("issue", path, "--day", "2026-03-03", "--reason", "Sent again by mail.").out.decode().split())
    assert "Nothing stood against issuing it. Your reason is kept as a note: Sent again by mail." in said
    assert "Issued anyway" not in said
    assert "Warnings" not in said
    shown = draw_issued(open_issued(path.parent / "DEMO-001-r01.json"))
    assert "Sent again by mail." in shown
    assert "Issued anyway because" not in shown


def test_issue_of_a_bad_job_or_into_no_folder_writes_nothing(run: Any, job_file: Any, tmp_path: Path) -> None:
    """One report, and the end is 2."""
    bad = run("issue", job_file(put("cabinet.width", "36")))
    assert (bad.code, bad.out) == (2, b"")
    assert 'cabinet.width: "36" has no unit' in bad.err
    (tmp_path / "a file").write_text("x", encoding="utf-8")
    nowhere = run("issue", job_file(), "--folder", tmp_path / "a file")
    assert (nowhere.code, nowhere.out) == (2, b"")
    assert "a file is a file. Give a folder." in " ".join(nowhere.err.split())


def test_a_revision_names_the_prices_of_this_job_that_moved(run: Any, job_file: Any, price_lists: Path) -> None:
    """An item that the job uses by its price; a list that differs elsewhere only by its name."""
    path = job_file()
    assert run("issue", path, "--prices", price_lists).code == 0
    edit("prices.csv", r"^(faucet,[^\n]*),265\.00,", r"\1,280.00,")(price_lists)
    edit("suppliers.csv", r"yes", "ask")(price_lists)
    changes = run("issue", path, "--prices", price_lists, "--json").json["changes"]
    assert [change for change in changes if change.startswith("prices.csv")] == [
        "prices.csv, Single-hole kitchen faucet, each, Invented Plumbing Counter: $265.00 -> $280.00"
    ]
    assert "list suppliers.csv is another one" in changes


@pytest.mark.parametrize("what", ["damaged", "other", "absent"])
def test_what_is_no_issued_estimate_ends_with_2(run: Any, job_file: Any, what: str) -> None:
    """A changed document, JSON of something else, no file."""
    path = job_file()
    assert run("issue", path).code == 0
    issued = path.parent / "DEMO-001-r01.json"
    wanted = {"damaged": "was changed after it was issued", "other": "is not an issued estimate", "absent": "can't be read"}[what]
    if what == "damaged":
        issued.write_text(issued.read_text(encoding="utf-8").replace('"price": "8', '"price": "7'), encoding="utf-8")
    elif what == "other":
        issued.write_text("{}", encoding="utf-8")
    else:
        issued.unlink()
    ended = run("estimate", issued, "--json", "--out", path.parent / "out")
    assert (ended.code, ended.out) == (2, b"")
    assert wanted in ended.err
    assert not (path.parent / "out").exists()


@pytest.mark.parametrize("command", [("check",), ("compare",), ("issue",), ("target", "--margin", "35%")])
def test_an_issued_estimate_is_no_job_file(run: Any, issue_example: Any, command: tuple[str, ...]) -> None:
    """What works from a job file says which file it wants."""
    ended = run(command[0], issue_example(), *command[1:])
    assert (ended.code, ended.err) == (2, "DEMO-001-r01.json is not a job file (TOML). Give the job file that the estimate was issued from.\n")


def test_an_issued_estimate_takes_no_other_prices(run: Any, job_file: Any, price_lists: Path) -> None:
    """It keeps those that it was issued with."""
    path = job_file()
    run("issue", path)
    ended = run("estimate", path.parent / "DEMO-001-r01.json", "--prices", price_lists)
    assert (ended.code, ended.out) == (2, b"")
    assert "An issued estimate keeps its own prices" in ended.err


def marks(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.iterdir() if not path.name.startswith(".")}


def elsewhere(*words: object) -> subprocess.CompletedProcess[bytes]:
    """A command in a process of its own."""
    return subprocess.run([sys.executable, "-c", "from kit.cli import main; main()", *map(str, words)], capture_output=True, check=True)


@pytest.mark.long  # the exports of an issued estimate are held so in every run, within one process
def test_in_another_process_and_at_other_prices_the_same_files_come_out(tmp_path: Path) -> None:
    """Issued, wage and prices risen on the shelf, opened by another process: totals, workbook and every paper byte for byte."""
    home = tmp_path / "kitchen"
    shutil.copytree(shipped("price_lists"), home / "price_lists")
    shutil.copy(EXAMPLE, home / "job.toml")
    issued = Path(json.loads(elsewhere("issue", home / "job.toml", "--day", "2026-03-04", "--json").stdout)["file"])
    before = json.loads(elsewhere("estimate", issued, "--json", "--out", tmp_path / "before", "--papers").stdout)
    edit("prices.csv", r"^(faucet,[^\n]*),265\.00,", r"\1,1265.00,")(home / "price_lists")
    edit("company.csv", r"^wage,34\.00 USD", "wage,68.00 USD")(home / "price_lists")
    moved = json.loads(elsewhere("estimate", home / "job.toml", "--json").stdout)
    assert float(moved["price"]) > float(before["price"]) + 1000
    after = json.loads(elsewhere("estimate", issued, "--json", "--out", tmp_path / "after", "--papers").stdout)
    assert after == before
    assert (before["issued"]["number"], before["issued"]["revision"]) == ("DEMO-001", 1)
    assert marks(tmp_path / "after") == marks(tmp_path / "before")
    control = json.loads((tmp_path / "after" / "DEMO-001-r01-books.control.json").read_text(encoding="utf-8"))
    assert (control["revision"], control["status"], control["sum_sell"]) == (1, "issued", before["price"])
