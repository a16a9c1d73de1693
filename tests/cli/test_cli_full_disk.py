"""A disk that refuses: every command that writes ends with one report in words, and what lay there stays as it was, byte for byte."""

import io
import os
import re
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE

import kit
from kit import shipped
from kit.cli import main
from kit.cli.commands import app
from kit.job import change_job

SPENT = shipped("examples") / "stone_apron_single_bowl_spent.csv"
WRITING = (
    "estimate {job} --out {out}",
    "compare {job} --out {out}",
    "issue {job} --reason again",
    "change {issued} {changed} --offer --out {out}",
    "sign {offered}",
    "bill {issued} --out {out}",
    "paid {issued} 100USD --out {out}",
    "undo {issued} 5 slip --out {out}",
    "spent {issued} {spent} --out {out}",
    "cancel {issued} reason --owed 2000USD --out {out}",
    "bill {issued}",
    "close {issued} settled --unpaid --out {out}",
    "jobs {home} --out {out}",
    "backup {home} {out}.zip",
    "learn {out} --invent 1",
    "sources --out {out}",
    "start {out}",
)
"""Each does its work after those before it."""
READING = {"check", "target", "lab", "pages"}


@contextmanager
def full_disk() -> Iterator[None]:
    """No file takes a byte more: the system itself refuses each write."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@contextmanager
def watched_disk(monkeypatch: pytest.MonkeyPatch) -> Iterator[set[int]]:
    """The files that the disk confirmed."""
    confirmed, fsync = set(), os.fsync

    def note(file: int) -> None:
        confirmed.add(os.fstat(file).st_ino)
        fsync(file)

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", note)
        yield confirmed


def files_in(folder: Path) -> dict[Path, bytes]:
    """Every file that holds anything, with its content: an empty ledger or folder that stays is filled the next time."""
    return {path: content for path in folder.rglob("*") if path.is_file() and (content := path.read_bytes())}


def changed_files(before: dict[Path, bytes], after: dict[Path, bytes]) -> set[Path]:
    return {path for path in {*before, *after} if before.get(path) != after.get(path)}


@pytest.fixture
def words(run: Any, issue_example: Callable[[], Path], tmp_path: Path) -> dict[str, str]:
    """What the lines stand for: a signed contract, a change of it, and a second job that is only offered."""
    issued, home = issue_example(), tmp_path / "kitchen"
    assert run("sign", issued).code == 0
    kit.write_job(change_job(kit.read_job(EXAMPLE), {"terms.temporary_sink": True}), home / "changed.toml")
    shutil.copytree(home, other := tmp_path / "other")
    (other / "contracts.sqlite").unlink()
    files = {"job": home / "job.toml", "issued": issued, "changed": home / "changed.toml", "offered": other / issued.name, "home": home}
    return {name: str(path) for name, path in {**files, "spent": SPENT, "out": tmp_path / "out"}.items()}


def run_line(line: str) -> tuple[int, str, str]:
    """Code, answer and report; the answer goes into no file, which could not take it."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err), pytest.MonkeyPatch.context() as patched:
        patched.setattr(sys, "argv", ["sinkset", *line.split()])
        with pytest.raises(SystemExit) as ended:
            main()
    return int(ended.value.code or 0), out.getvalue(), err.getvalue()


def locked_below(folder: Path) -> list[str]:
    """What runs a command with the folder read-only: mounted so in a name space of its own; nothing where the system doesn't let us."""
    mount = f'mount --bind "{folder}" "{folder}" && mount -o remount,ro,bind "{folder}" && exec "$@"'
    locked = ["unshare", "--map-root-user", "--mount", "sh", "-c", mount, "sh"]
    return locked if shutil.which("unshare") and subprocess.run([*locked, "true"], capture_output=True, check=False).returncode == 0 else []


@pytest.mark.long
def test_each_command_says_that_a_disk_is_read_only(words: dict[str, str], tmp_path: Path) -> None:
    """As with a locked card: one report each, exit 2, nothing changed."""
    lines = [line.format(**words) for line in WRITING]
    before, locked = files_in(tmp_path), locked_below(tmp_path)
    here = Path(__file__).parent
    command = [*locked, sys.executable, here / "read_only_lines.py", "" if locked else str(tmp_path), *lines]
    ended = subprocess.run(command, cwd=here, capture_output=True, text=True, check=True)
    said = re.compile(r"2 \| '' \| \S+ (can't be written: the disk is read-only\.|can't be read or written: its folder or disk is read-only\.).*")
    reports = ended.stdout.splitlines()
    assert len(reports) == len(lines)
    assert [report for report in reports if not said.fullmatch(report)] == []
    assert files_in(tmp_path) == before


@pytest.mark.long
def test_each_command_that_writes_stands_a_disk_that_refuses(words: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Full: one report, exit 2, nothing new, cut or half written down. With room again the same line does its work, and no power cut takes that back."""
    assert {command.callback.__name__ for command in app.registered_commands if command.callback} == {line.split()[0] for line in WRITING} | READING
    for line in (line.format(**words) for line in WRITING):
        before = files_in(tmp_path)
        with full_disk():
            code, answer, report = run_line(line)
        assert (code, answer, changed_files(before, files_in(tmp_path))) == (2, "", set()), (line, report)
        assert re.search(r"can't be (read or )?written: the disk (can't take a file|reports an error)", report), (line, report)
        with watched_disk(monkeypatch) as confirmed:
            code, _, report = run_line(line)
        assert code == 0, (line, report)
        written = {path for path in changed_files(before, files_in(tmp_path)) if path.suffix != ".sqlite"}  # SQLite keeps its own promise
        assert {path for path in written if path.stat().st_ino not in confirmed} == set(), line
        shutil.rmtree(tmp_path / "out", ignore_errors=True)
