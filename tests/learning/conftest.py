"""Histories for the tests: an invented one of small jobs, and the same events as a firm's own."""

import shutil
from pathlib import Path

import pytest
from work_history import as_own

import kit
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


@pytest.fixture
def own(demonstration: Path, tmp_path: Path) -> Path:
    """Ten of them as a firm's own."""
    return as_own(demonstration, tmp_path / "own", 10)
