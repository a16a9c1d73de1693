"""How the tests of the lists change a copy of the shipped folder."""

import re
import shutil
from pathlib import Path

import pytest

from kit import Lists, load_lists, shipped
from kit.errors import ListError


def copy_lists(folder: Path) -> Path:
    """A copy of the shipped lists."""
    return Path(shutil.copytree(shipped("price_lists"), folder / "lists"))


def change(folder: Path, name: str, pattern: str, new: str) -> None:
    """Change a list's text once; the pattern must be found."""
    text = (folder / name).read_text(encoding="utf-8")
    changed, count = re.subn(pattern, new, text, count=1, flags=re.MULTILINE)
    assert count == 1, pattern
    (folder / name).write_text(changed, encoding="utf-8")


def add_row(folder: Path, name: str, row: str) -> int:
    """Add a row; gives its number in the file."""
    with (folder / name).open("a", encoding="utf-8") as file:
        file.write(row + "\n")
    return len((folder / name).read_text(encoding="utf-8").splitlines())


def first_of(lists: Lists) -> str:
    """An item that is sold by the piece: nothing to cut."""
    return next(item.item for item in lists.items.values() if item.cut == "no")


def faults_of(folder: Path) -> list[str]:
    """Every sentence of the report."""
    with pytest.raises(ListError) as caught:
        load_lists(folder)
    return [str(fault) for fault in caught.value.faults]
