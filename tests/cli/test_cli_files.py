"""Files are written all or none, and a person's own are left alone."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from long_run import one_in
from openpyxl import load_workbook

from kit import shipped
from kit.cli.out_folder import WRITTEN_LIST, write_files
from kit.errors import KitError

EXAMPLES = sorted(shipped("examples").glob("*.toml"))


def test_files_are_replaced_and_it_is_said(run: Any, job_file: Any, tmp_path: Path) -> None:
    """The second run says on standard error that it replaced what the first one wrote."""
    path, out = job_file(), tmp_path / "out"
    said = run("compare", path, "--out", out).err
    written = len(list(out.glob("*.toml")))
    assert written >= 2
    assert said == f"Written: {written} files in {out}.\n"
    first = {file.name: file.read_bytes() for file in out.iterdir()}
    again = run("compare", path, "--out", out)
    assert (again.code, again.err) == (0, f"Written: {written} files in {out}, {written} of them replaced.\n")
    assert {file.name: file.read_bytes() for file in out.iterdir()} == first


def test_a_persons_own_file_is_never_replaced(run: Any, job_file: Any, tmp_path: Path) -> None:
    """A file that was there, or was changed since, ends the command with 2; nothing is touched."""
    path, out = job_file(), tmp_path / "out"
    out.mkdir()
    (out / "job_under_stone-3cm.toml").write_text("mine", encoding="utf-8")
    ended = run("compare", path, "--out", out)
    assert (ended.code, ended.out) == (2, b"")
    assert "job_under_stone-3cm.toml is already there and was not written by this program" in ended.err
    assert [file.name for file in out.iterdir()] == ["job_under_stone-3cm.toml"]
    (out / "job_under_stone-3cm.toml").unlink()
    assert run("compare", path, "--out", out).code == 0
    with (out / "job_under_stone-3cm.toml").open("a", encoding="utf-8") as file:
        file.write("# my remark\n")
    before = {file.name: file.read_bytes() for file in out.iterdir()}
    assert run("compare", path, "--out", out).code == 2
    assert {file.name: file.read_bytes() for file in out.iterdir()} == before


def test_a_failing_writer_leaves_nothing_behind(tmp_path: Path) -> None:
    """When the second of two files fails, the first is not there either, nor the folder made for them."""

    def fails(path: Path) -> None:
        path.write_text("half", encoding="utf-8")
        raise OSError(28, "No space left on device")

    out = tmp_path / "made" / "for" / "it"
    with pytest.raises(KitError, match="can't be written: the disk is full"):
        write_files(out, {"a.txt": lambda path: path.write_text("a", encoding="utf-8") and None, "b.txt": fails}, say=print)
    assert not (tmp_path / "made").exists()


def test_a_failing_writer_keeps_the_earlier_files(tmp_path: Path) -> None:
    """What an earlier run wrote stays whole."""
    said: list[str] = []

    def writes(text: str) -> Callable[[Path], None]:
        return lambda path: path.write_text(text, encoding="utf-8") and None

    def fails(path: Path) -> None:
        raise KitError("no")

    write_files(tmp_path, {"a.txt": writes("one"), "b.txt": writes("two")}, say=said.append)
    with pytest.raises(KitError, match=r"^no$"):
        write_files(tmp_path, {"a.txt": writes("new"), "b.txt": fails}, say=said.append)
    assert {path.name for path in tmp_path.iterdir()} == {"a.txt", "b.txt", WRITTEN_LIST}
    assert (tmp_path / "a.txt").read_text(encoding="utf-8") == "one"
    assert said == [f"Written: 2 files in {tmp_path}."]


def test_out_that_is_a_file_ends_with_2(run: Any, job_file: Any, tmp_path: Path) -> None:
    """A file where the folder should be."""
    out = tmp_path / "out"
    out.write_text("mine", encoding="utf-8")
    ended = run("compare", job_file(), "--out", out)
    assert (ended.code, ended.out) == (2, b"")
    assert "can't be written" in ended.err
    assert out.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("example", one_in(6, EXAMPLES), ids=lambda path: path.stem)
def test_estimate_writes_the_same_workbook_twice(run: Any, example: Path, tmp_path: Path) -> None:
    """Workbook and drawings of every example: named after the job file, real ones, the same bytes at the second run."""
    out = tmp_path / "new" / "folder"
    first = run("estimate", example, "--json", "--out", out)
    book = out / f"{example.stem}.xlsx"
    written = sorted(path for path in out.iterdir() if path.name != WRITTEN_LIST)
    assert {f"{example.stem}-{name}.svg" for name in ("set-out", "front", "section", "plan", "calendar")} <= {path.name for path in written}
    assert (first.code, first.err) == (0, f"Written: {len(written)} files in {out}.\n")
    assert {"price", "lines"} <= set(first.json)
    content = {path: path.read_bytes() for path in written}
    assert all(b"<svg" in content[path] for path in written if path != book)
    assert len(load_workbook(book, read_only=True).sheetnames) >= 6
    again = run("estimate", example, "--json", "--out", out)
    assert (again.code, again.err) == (0, f"Written: {len(written)} files in {out}, {len(written)} of them replaced.\n")
    assert {path: path.read_bytes() for path in written} == content
    assert sorted(path for path in out.iterdir() if path.name != WRITTEN_LIST) == written
