"""A command run in this process, a changed copy of an example, a copy of the price lists."""

import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import tomlkit
from changes import EXAMPLE, Change, Ended

from kit import shipped
from kit.cli import main


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
        path.write_text(tomlkit.dumps(document), encoding="utf-8")
        return path

    return make


@pytest.fixture
def price_lists(tmp_path: Path) -> Path:
    """A copy of the shipped price lists."""
    return Path(shutil.copytree(shipped("price_lists"), tmp_path / "own_lists"))
