"""What the README promises: its commands, its files, its example."""

import re
import runpy
from pathlib import Path

import pytest

from kit import shipped
from kit.cli.commands import app

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def command(name: str) -> str:
    """The one line between two markers, as .ci/run reads it."""
    found = re.search(rf"<!-- {name}: begin -->\n```sh\n([^\n]+)\n```\n<!-- {name}: end -->", README)
    assert found, name
    return found[1]


@pytest.mark.parametrize("name", ["first", "tests"])
def test_each_one_line_command_has_its_windows_form_beside_it(name: str) -> None:
    """The same words, the other system's program names and slashes."""
    after = README.split(f"<!-- {name}: end -->")[1]
    windows = re.search(r'```bat\ncmd /c "([^\n]+)"\n```', after)
    assert windows
    translated = (
        command(name)
        .replace("python3 -m venv", "py -m venv")
        .replace(".venv/bin/", r".venv\Scripts" + "\\")
        .replace("examples/", "examples" + "\\")
        .replace('".[test]"', ".[test]")
    )
    assert windows[1] == translated


def test_the_commands_are_those_that_there_are() -> None:
    """Every command has its row, and no other is named."""
    named = set(re.findall(r"^\| `sinkset (\w+)", README, flags=re.MULTILINE))
    assert named == {found.callback.__name__ for found in app.registered_commands if found.callback}


def test_the_files_that_are_named_are_there() -> None:
    """Links, examples, folders."""
    names = set(re.findall(r"\]\(([^)#:]+)(?:#[\w-]+)?\)", README)) | set(re.findall(r"`((?:examples|price_lists|kit|notebooks)/[\w./]*)`", README))
    assert {"LICENSE", "DEVELOPERS.md", "examples/job.schema.json"} <= names
    assert [name for name in sorted(names) if not (ROOT / name).exists()] == []
    assert (shipped("notebooks") / "1_estimator.ipynb").is_file()


def test_the_example_in_python_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """As it stands, from the folder of the clone."""
    monkeypatch.chdir(ROOT)
    code = re.search(r"```python\n(.+?)```", README, flags=re.DOTALL)
    assert code
    exec(compile(code[1], "README.md", "exec"), {})
    assert re.match(r"\d+\.\d\d \d+\.\d+ Why\? Price", capsys.readouterr().out)


def test_the_picture_of_a_drawing_is_made_from_the_example() -> None:
    """The script that makes the README's pictures runs; the size is that of the picture that is there."""
    names = runpy.run_path(str(ROOT / "tests" / "pictures" / "make.py"), run_name="pictures")
    kept = (ROOT / "tests" / "pictures" / "frame.png").read_bytes()
    assert names["draw_frame"]()[16:24] == kept[16:24]  # width and height in the head of a PNG file


def test_parts_that_moved_are_where_the_readme_says() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert {"## Commands in full", "## From Python, in full", "## What changed"} <= set(guide.splitlines())
    assert len(README.splitlines()) <= 120
