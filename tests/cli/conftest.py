"""A command run in this process, a changed copy of an example, a copy of the price lists; alternates of one job are worked out once, papers set once."""

import datetime as dt
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import tomlkit
from changes import EXAMPLE, Change, Ended
from set_once import set_once
from tried_once import tried_once

from kit import Lists, shipped
from kit.cli import changing, contracts, job_source, main
from kit.compare import options
from kit.compare.options import Option, compare_alternates
from kit.job import Job


@pytest.fixture(scope="session", autouse=True)
def _alternates_of_a_job_are_worked_out_once() -> Iterator[None]:
    """The same job with the same lists has the same alternates, and each of these one spread: the trials are most of what a comparison takes."""
    known: dict[tuple[str, str, str], tuple[Option, ...]] = {}

    def compare_once(job: Job, lists: Lists) -> tuple[Option, ...]:
        key = job.model_dump_json(), lists.folder, repr(lists.files)
        if key not in known:
            known[key] = compare_alternates(job, lists)
        return known[key]

    with pytest.MonkeyPatch.context() as patched, tried_once():
        for room in (job_source, options):  # the papers of an estimate ask there
            patched.setattr(room, "compare_alternates", compare_once)
        yield


@pytest.fixture(scope="module", autouse=True)
def _each_paper_is_set_once() -> Iterator[None]:
    """The commands hand on what the exports make."""
    with set_once():
        yield


@pytest.fixture(autouse=True)
def _two_days_after_the_visit(monkeypatch: pytest.MonkeyPatch) -> None:
    """The office's day of every command: prices are fresh then, and nothing lies in the past."""
    for room in (contracts, changing):
        monkeypatch.setattr(room, "office_day", lambda: dt.date(2026, 3, 4))


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfdbinary: pytest.CaptureFixture[bytes]) -> Callable[..., Ended]:
    """Run a command in this process."""

    def command(*words: object) -> Ended:
        monkeypatch.setattr(sys, "argv", ["sinkset", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            main()
        out, err = capfdbinary.readouterr()
        return Ended(int(ended.value.code or 0), out, err.decode())

    return command


@pytest.fixture
def job_file(tmp_path: Path) -> Callable[..., Path]:
    """A copy of an example in a folder of its own, changed."""

    def make(change: Change | None = None) -> Path:
        document = tomlkit.parse(EXAMPLE.read_text(encoding="utf-8"))
        if change is not None:
            change(document)
        path = tmp_path / "kitchen" / "job.toml"
        path.parent.mkdir(exist_ok=True)
        if not (tmp_path / "price_lists").exists():
            (tmp_path / "price_lists").symlink_to(shipped("price_lists"), target_is_directory=True)
        path.write_text(tomlkit.dumps(document), encoding="utf-8")
        return path

    return make


@pytest.fixture
def issue_example(run: Callable[..., Ended], job_file: Callable[..., Path], issued_files: dict[Path, bytes]) -> Callable[[], Path]:
    """Issue the example in the test's own folder: by the command the first time, after that what it wrote is laid there again."""

    def issue() -> Path:
        home = job_file().parent
        if not issued_files:
            before = set(home.rglob("*"))
            assert run("issue", home / "job.toml").code == 0
            issued_files.update({path.relative_to(home): path.read_bytes() for path in home.rglob("*") if path.is_file() and path not in before})
        for name, content in issued_files.items():
            (home / name).parent.mkdir(exist_ok=True)
            (home / name).write_bytes(content)
        return home / "DEMO-001-r01.json"

    return issue


@pytest.fixture(scope="session")
def issued_files() -> dict[Path, bytes]:
    """What the command wrote."""
    return {}


@pytest.fixture
def price_lists(tmp_path: Path) -> Path:
    """A copy of the shipped price lists."""
    return Path(shutil.copytree(shipped("price_lists"), tmp_path / "own_lists"))
