"""Which price lists a command uses."""

import re
import shutil
from pathlib import Path
from typing import Any

from changes import EXAMPLE, Ended, put


def price_of(ended: Ended) -> float:
    assert ended.code == 0, ended.err
    return float(ended.json["price"])


def test_given_lists_come_first_then_the_jobs_then_those_beside_it_then_the_shipped(run: Any, job_file: Any, price_lists: Path) -> None:
    """Each way to choose the lists wins over the next."""

    def dearer(folder: Path, wage: str) -> Path:
        shutil.copytree(price_lists, folder)
        company = folder / "company.csv"
        company.write_text(re.sub(r"^wage,[^,]*", f"wage,{wage} USD", company.read_text(encoding="utf-8"), flags=re.MULTILINE), encoding="utf-8")
        return folder

    path = job_file()
    shipped_price = price_of(run("estimate", path, "--json"))
    (path.parent.parent / "price_lists").unlink()  # the shipped ones, as beside every job of these tests
    dearer(path.parent.parent / "price_lists", "60.00")
    beside = price_of(run("estimate", path, "--json"))
    dearer(path.parent / "price_lists", "70.00")
    within = price_of(run("estimate", path, "--json"))
    dearer(path.parent.parent / "named", "80.00")
    path = job_file(put("prices", "../named"))
    named = price_of(run("estimate", path, "--json"))
    given = price_of(run("estimate", path, "--json", "--prices", dearer(path.parent.parent / "given", "90.00")))
    assert shipped_price < beside < within < named < given


def test_estimate_names_the_lists_it_used(run: Any, price_lists: Path) -> None:
    """Folder, files, fingerprints and the date of the prices."""
    used = run("estimate", EXAMPLE, "--json", "--prices", price_lists).json["lists"]
    assert {one["folder"] for one in used} == {"own_lists"}
    assert {"prices.csv", "company.csv"} <= {one["name"] for one in used}
    assert all(len(one["sha256"]) == 64 and re.fullmatch(r"\d{4}-\d\d-\d\d", one["price_date"]) for one in used)
