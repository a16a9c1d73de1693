"""Every command line of the README runs, with all options that its row names, in the order of a job's life; those of the guide name options that there are."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer
from changes import EXAMPLE

import kit
from kit import shipped
from kit.cli import serving
from kit.cli.commands import app
from kit.figures import moves
from kit.job import change_job
from kit.sources import row

ROOT = Path(__file__).resolve().parents[2]
README, GUIDE = ((ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md"))
FIRST_END, LAST_END = "cancel", "close"  # they end the contract: what they did is taken away before the next line


def rows_of(text: str) -> Iterator[tuple[str, str]]:
    """Command line and explanation of each row of a table of commands."""
    yield from re.findall(r"^\| `sinkset ([^`]+)` \| (.+) \|$", text, flags=re.MULTILINE)


def options_in(words: str) -> list[str]:
    """The options that an explanation names, each with what it takes."""
    return [option for option in re.findall(r"`(--[a-z][^`]*)`", words) if "-" in option]


@pytest.fixture
def life(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """What stands for each word in capitals: an example and a change of it in a folder with its own lists."""
    home = tmp_path / "jobs"
    home.mkdir()
    shutil.copytree(shipped("price_lists"), tmp_path / "price_lists")
    shutil.copy(EXAMPLE, home / "job.toml")
    kit.write_job(change_job(kit.read_job(EXAMPLE), {"terms.temporary_sink": True}), home / "changed.toml")
    monkeypatch.setattr(moves, "figures_read", lambda _: (row("practice", "fill/fillings"),))
    for server in ("open_lab", "serve_pages"):  # both are started in tests of their own
        monkeypatch.setattr(serving, server, lambda folder, **_: 0)
    return {
        "ISSUED": str(home / "DEMO-001-r01.json"),
        "NEWJOB": str(home / "changed.toml"),
        "JOB": str(home / "job.toml"),
        "MONEY": "100 USD",
        "SHARE": "35 %",
        "TEXT": "as agreed by telephone",
        "ENTRY": "3",
        "FOLDER": str(home),
        "[FOLDER]": str(home),
    }


def test_each_line_of_the_readme_runs(run: Any, life: dict[str, str], tmp_path: Path) -> None:
    """Each ends well: none is refused, whatever stood before it."""
    home, kept, ran = tmp_path / "jobs", tmp_path / "kept", set()
    for line, explanation in rows_of(README):
        name = line.split()[0]
        if name == LAST_END:
            assert run("bill", life["ISSUED"]).code == 0  # what is owed for what was done: the last bill
            assert run("paid", life["ISSUED"], "1900 USD").code == 0  # with the 100 USD of before
        if name == FIRST_END:
            shutil.copytree(home, kept)
        special = {
            "spent": {"FILE": str(shipped("examples") / "stone_apron_single_bowl_spent.csv")},
            "backup": {"FILE": str(tmp_path / "backup.zip")},
            "start": {"FOLDER": str(tmp_path / "mine")},
            "cancel": {"MONEY": "2000 USD"},
        }.get(name, {})
        out = {**life, "FOLDER": str(tmp_path / f"out-{name}")}
        words = [{**life, **special}.get(word, word) for word in line.split()]
        words += [out.get(word, word) for option in options_in(explanation) for word in option.split()]
        ended = run(*words)
        assert ended.code == 0, f"sinkset {line} {explanation}: {ended.err}"
        ran.add(name)
        if name == LAST_END:
            shutil.rmtree(home)
            shutil.copytree(kept, home)
    assert ran == {command.callback.__name__ for command in app.registered_commands if command.callback}
    assert (tmp_path / "mine" / "notebooks" / "6_python.ipynb").is_file()
    assert (tmp_path / "backup.zip").stat().st_size > 0


def test_the_lines_of_a_newcomer_run(run: Any, life: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands in blocks, from installation to the Lab; making the environment is left to CI, which runs the whole lines."""
    (tmp_path / "examples").symlink_to(shipped("examples"), target_is_directory=True)
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```sh\n(.+?)```", README, flags=re.DOTALL)
    parts = [part.split("#")[0].split() for block in blocks for line in block.splitlines() for part in line.split("&&")]
    for words in parts:
        if words[0] == "cd":
            monkeypatch.chdir(words[1])
        elif words[0].endswith("sinkset"):
            assert run(*words[1:]).code == 0, words
        else:
            assert words[0] in {"python3", ".venv/bin/python"}, words
    assert (tmp_path / "out" / "stone_apron_single_bowl.xlsx").is_file()
    assert Path.cwd() == tmp_path / "my-jobs"


def test_the_windows_lines_are_the_same_and_said_to_be_untried() -> None:
    """The same program and words; nobody may think that they were tried."""
    assert "Neither has been tried yet" in README
    assert r'cmd /c ".venv\Scripts\sinkset start my-jobs && cd my-jobs && ..\.venv\Scripts\sinkset lab"' in README


def test_the_guide_names_options_that_there_are() -> None:
    """In the table of all commands."""
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    named = 0
    for line, explanation in rows_of(GUIDE):
        known = {option for parameter in commands[line.split()[0]].params for option in parameter.opts}
        options = {word for text in (*options_in(explanation), *options_in(f"`{line}`"), line) for word in re.findall(r"--[a-z][a-z-]*", text)}
        assert options <= known, line
        named += len(options)
    assert named > 25


def test_the_guides_lines_of_python_run(life: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """As they stand, but for the two that hand jobs to other processes and machines, which have tests of their own."""
    (tmp_path / "my-jobs").mkdir()
    for name in ("jobs", "price_lists"):
        (tmp_path / name).rename(tmp_path / "my-jobs" / name)
    monkeypatch.chdir(tmp_path)
    part = GUIDE.split("## From Python, in full")[1].split("\n## ")[0]
    blocks = [block for block in re.findall(r"```python\n(.+?)```", part, flags=re.DOTALL) if "reprice" not in block]
    names: dict[str, Any] = {"kit": kit, "job": kit.read_job(EXAMPLE), "lists": kit.load_lists(shipped("price_lists"))}
    assert len(blocks) == 2
    for block in blocks:
        exec(compile(block, "DEVELOPERS.md", "exec"), names)
    assert names["made"].own_steps == ("count_corbels",)
    assert len(capsys.readouterr().out.split()) == 2


@pytest.mark.parametrize("name", sorted(typer.main.get_command(app).commands))  # type: ignore[attr-defined]
def test_help_has_no_signs_of_a_grammar(run: Any, name: str) -> None:
    """No types, no braces, limits of a number in words."""
    said = run(name, "--help").out.decode()
    assert not re.search(r"[<>{}]", said), said


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        (("pages", "--port", "80"), "give a whole number, 1024 to 65535."),
        (("pages", "--port", "one"), "give a whole number, 1024 to 65535."),
        (("bill", "job.json", "--again", "0"), "give a whole number, 1 or more."),
        (("paid", "job.json", "-5 USD"), '"-5 USD" begins with a minus: give it without the minus, and --back if the money went back.'),
        (("spent", "job.json", "-5 USD"), '"-5 USD" begins with a minus: give it after --amount.'),
        (("check", "-x"), "No such option: -x"),
    ],
)
def test_what_the_command_line_refuses_is_said_in_words(run: Any, words: tuple[str, ...], wanted: str) -> None:
    """A number out of its limits, an amount below 0 that looks like an option."""
    ended = run(*words)
    assert (ended.code, ended.out) == (2, b"")
    assert wanted in ended.err
