"""How tests change a job or a list, and how they look at an ended command."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import tomlkit

from kit import shipped

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
Change = Callable[[Any], object]


class Ended:
    """How a command ended and what it printed."""

    def __init__(self, code: int, out: bytes, err: str) -> None:
        self.code, self.out, self.err = code, out, err

    @property
    def json(self) -> Any:
        return json.loads(self.out)


def put(place: str, value: Any) -> Change:
    """A change that puts a value at a place such as "cabinet.width"."""
    *way, last = place.split(".")

    def change(document: Any) -> None:
        for part in way:
            document = document.setdefault(part, tomlkit.table())
        document[last] = value

    return change


def drop(place: str) -> Change:
    """A change that takes a field or a part out."""
    *way, last = place.split(".")

    def change(document: Any) -> None:
        for part in way:
            document = document[part]
        del document[last]

    return change


def edit(name: str, pattern: str, new: str) -> Callable[[Path], None]:
    """A change of a list by its text, which must take hold."""

    def change(folder: Path) -> None:
        text = (folder / name).read_text(encoding="utf-8")
        changed = re.sub(pattern, new, text, count=1, flags=re.MULTILINE)
        assert changed != text
        (folder / name).write_text(changed, encoding="utf-8")

    return change


def again(name: str) -> Callable[[Path], None]:
    """A change that says the last row of a list twice."""

    def change(folder: Path) -> None:
        lines = (folder / name).read_text(encoding="utf-8").splitlines()
        (folder / name).write_text("\n".join([*lines, lines[-1]]) + "\n", encoding="utf-8")

    return change


def assert_refused(ended: Ended, wanted: str, folder: Path) -> None:
    """Ended with 2, one report on standard error, nothing on standard output, nothing written."""
    assert ended.code == 2, ended.err
    assert ended.out == b""
    assert "Traceback" not in ended.err
    assert re.search(wanted, ended.err), ended.err
    assert not folder.exists()
