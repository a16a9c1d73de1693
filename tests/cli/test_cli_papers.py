"""`estimate --out --papers` writes what customer, crew and bookkeeper get; all or none."""

import json
from pathlib import Path
from typing import Any

PAPERS = {
    "job-proposal.pdf",
    "job-purchases.pdf",
    "job-purchases.csv",
    "job-crew.pdf",
    "job-books.csv",
    "job-books.datapackage.json",
    "job-books.control.json",
}


def test_papers_are_written_beside_the_workbook(run: Any, job_file: Any, tmp_path: Path) -> None:
    """All of them, with the totals of the estimate; the second run writes the same bytes."""
    path, out = job_file(), tmp_path / "out"
    ended = run("estimate", path, "--json", "--out", out, "--papers")
    assert ended.code == 0
    names = {file.name for file in out.iterdir()}
    assert PAPERS | {"job.xlsx"} <= names
    control = json.loads((out / "job-books.control.json").read_text(encoding="utf-8"))
    told = json.loads(ended.out)
    assert (control["sum_sell"], control["sum_cost"]) == (told["price"], told["cost"])
    first = {name: (out / name).read_bytes() for name in names}
    assert run("estimate", path, "--json", "--out", out, "--papers").code == 0
    assert {name: (out / name).read_bytes() for name in names} == first


def test_without_papers_none_is_written(run: Any, job_file: Any, tmp_path: Path) -> None:
    """The workbook and the drawings only."""
    assert run("estimate", job_file(), "--json", "--out", tmp_path / "out").code == 0
    assert not PAPERS & {file.name for file in (tmp_path / "out").iterdir()}


def test_papers_need_a_folder(run: Any, job_file: Any) -> None:
    """Without --out there is nowhere to write them."""
    ended = run("estimate", job_file(), "--papers")
    assert (ended.code, ended.out) == (2, b"")
    assert "say with --out which folder to write into" in ended.err


def test_a_job_that_stops_gets_no_papers_at_all(run: Any, job_file: Any, tmp_path: Path) -> None:
    """What can't be built is not put before a customer; nothing is written, the reason is said."""

    def narrow(document: Any) -> None:
        document["cabinet"]["width"] = "30 in"

    ended = run("estimate", job_file(narrow), "--out", tmp_path / "out", "--papers")
    assert (ended.code, ended.out) == (2, b"")
    assert "says stop: " in ended.err
    assert not (tmp_path / "out").exists()
