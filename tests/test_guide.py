"""What the contributor's guide names is there: each file of its text, and each name of code beside a question of a stranger."""

import re
from pathlib import Path

import pytest

from kit.lists.list_files import LISTS

ROOT = Path(__file__).resolve().parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
QUESTIONS = [line for line in GUIDE.split("and where the answer stands\n")[1].split("\n## ")[0].splitlines() if line.startswith("| ") and "`" in line]
ROOMS = (ROOT, ROOT / "kit")


def files_of(text: str) -> set[str]:
    """What is named as a file of the project, with its folder."""
    return {name for name in re.findall(r"`([\w.]+/[\w./]+\.(?:py|csv|md|ipynb|toml|css|js))`", text) if "*" not in name}


def test_the_files_that_are_named_are_there() -> None:
    """By their way from the top or from kit/."""
    names = files_of(GUIDE)
    assert len(names) > 60
    assert [name for name in sorted(names) if not any((room / name).is_file() for room in ROOMS)] == []


@pytest.mark.parametrize("row", QUESTIONS, ids=[row.split("|")[1].strip() for row in QUESTIONS])
def test_a_strangers_question_is_answered_where_the_guide_leads(row: str) -> None:
    """At most two hops: every function, class, column and row that the answer names stands in a file that it names."""
    _, _, where, says, _ = row.split("|")
    files = [room / name for name in files_of(where + says) for room in ROOMS if (room / name).is_file()]
    beside = [path for file in files for name in re.findall(r"`([\w]+\.(?:py|csv))`", where + says) if (path := file.with_name(name)).is_file()]
    read = "\n".join(path.read_text(encoding="utf-8") for path in {*files, *beside})
    names = set(re.findall(r"`((?!kit/)[A-Za-z_][\w.-]*)`", says)) - set(re.findall(r"`([\w]+\.(?:py|csv))`", says))
    assert files
    assert [name for name in sorted(names) if name.rsplit(".", 1)[-1].rsplit("/", 1)[-1] not in read] == []


def test_each_list_without_a_name_stands_in_the_guide_with_its_reason() -> None:
    """A new list gets a name for people, or the guide says by what its rows are known."""
    (paragraph,) = [part for part in GUIDE.split("\n\n") if "Lists without one need none" in part]
    nameless = {file for file, rows in LISTS.items() if not any(column.name == "name" for column in rows.columns)} | {"company.csv"}
    excepted = paragraph.split("Lists without one need none")[1].split("Add the column")[0]
    assert set(re.findall(r"`(\w+\.csv)`", excepted)) == nameless
