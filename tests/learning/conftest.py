"""Histories for the tests: an invented one of small jobs, and the same events as a firm's own."""

import shutil
from pathlib import Path

import pytest

import kit
from kit.contract.events import Offered
from kit.contract.ledger import Ledger
from kit.issued import list_issued
from kit.learning import invented

JOBS = 12


@pytest.fixture(scope="session")
def demonstration(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twelve invented jobs, all of them the smallest example, all of them signed and finished."""
    with pytest.MonkeyPatch.context() as patched:
        small = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
        patched.setattr(invented, "_examples", lambda: [small])
        patched.setattr(invented, "_SIGNED", {"top": 1.0})
        folder = tmp_path_factory.mktemp("demo") / "history"
        invented.write_invented_history(folder, jobs=JOBS, seed=4)
    return folder


@pytest.fixture
def demo(demonstration: Path, tmp_path: Path) -> Path:
    """A copy of it, to decide in."""
    return Path(shutil.copytree(demonstration, tmp_path / "demo"))


def as_own(demonstration: Path, folder: Path, jobs: int) -> Path:
    """The first of its jobs as if they had happened, with lists of the firm's own."""
    shutil.copytree(demonstration / "price_lists", folder / "price_lists", dirs_exist_ok=True)
    company = folder / "price_lists" / "company.csv"
    company.write_text(company.read_text(encoding="utf-8").replace("name,Invented Kitchens", "name,Our Own Kitchens"), encoding="utf-8")
    source, ledger = Ledger(demonstration), Ledger(folder)
    known = set(ledger.contracts())
    for number in sorted(source.contracts())[:jobs]:
        if number not in known:
            for path in list_issued(demonstration, number):
                shutil.copy(path, folder / path.name)
            happened = [(event.what, event.day) for event in source.events(number)]
            ledger.append_all(number, [(what.model_copy(update={"invented": False}) if isinstance(what, Offered) else what, day) for what, day in happened])
    return folder


@pytest.fixture
def own(demonstration: Path, tmp_path: Path) -> Path:
    """Ten of them as a firm's own."""
    return as_own(demonstration, tmp_path / "own", 10)
