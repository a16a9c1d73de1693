"""Names and links that lead elsewhere: nothing is written outside the folder that was given, whatever a job is numbered and whatever lies there."""

import datetime as dt
import re
from pathlib import Path

import pytest

import kit
from kit.cli.out_folder import file_writers, write_files
from kit.errors import IssueError, KitError
from kit.issued import issue_estimate, open_issued
from kit.job import change_job
from kit.whole_files import place_file, place_folder, replace_file

JOB = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
LISTS = kit.load_lists(kit.shipped("price_lists"))
DAY = dt.date(2026, 4, 14)
ODD = ("..", "../../x", "/etc/x", "CON", "con.txt", "a:b", "a\\b", "a/b", "~", "-rf", "\u202egpj.exe", "ä" * 200, "=1+1", "$HOME", "%TEMP%")


def test_whatever_a_job_is_numbered_its_promise_stays_in_the_folder(tmp_path: Path) -> None:
    """Plain names that every system takes, one for each number; a name of three hundred letters is refused in words."""
    home = tmp_path / "jobs"
    home.mkdir()
    numbered = {number: kit.estimate(change_job(JOB, {"identity.job_number": number}), LISTS) for number in ODD}
    paths = {number: issue_estimate(found, home, make_files=lambda *_: {"a.txt": b"1"}, today=DAY) for number, found in numbered.items()}
    assert len(set(paths.values())) == len(ODD)
    assert {path.parent for path in paths.values()} == {home}
    assert all(re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]*-r01\.json", path.name) for path in paths.values())
    assert {number: open_issued(path).number for number, path in paths.items()} == {number: number for number in ODD}
    assert {path.name for path in tmp_path.iterdir()} == {"jobs"}
    with pytest.raises(IssueError, match="can't be written: the name is too long"):
        issue_estimate(kit.estimate(change_job(JOB, {"identity.job_number": "x" * 300}), LISTS), home, today=DAY)


def test_a_link_leads_no_file_away(tmp_path: Path) -> None:
    """A link to somebody's file, or to where none is yet: refused, or another file takes its place; what it leads to stays as it was."""
    outside, home = tmp_path / "outside", tmp_path / "home"
    outside.mkdir()
    home.mkdir()
    (outside / "mine.txt").write_bytes(b"mine")
    for name, target in (("taken.txt", "mine.txt"), ("loose.txt", "absent.txt"), ("folder", "elsewhere")):
        (home / name).symlink_to(outside / target)
    with pytest.raises(KitError, match=r"taken\.txt is already there and was not written by this program"):
        write_files(home, file_writers({"taken.txt": b"1"}), say=str)
    for name in ("taken.txt", "loose.txt"):
        with pytest.raises(FileExistsError):
            place_file(home / name, b"1")
    with pytest.raises(OSError, match=r"exists|directory"):
        place_folder(home / "folder", {"a.txt": b"1"})
    write_files(home, file_writers({"loose.txt": b"1"}), say=str)
    replace_file(home / "taken.txt", b"1")
    assert not (home / "loose.txt").is_symlink()
    assert not (home / "taken.txt").is_symlink()
    assert {path.name: path.read_bytes() for path in outside.iterdir()} == {"mine.txt": b"mine"}
