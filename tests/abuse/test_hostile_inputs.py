"""What nobody means to hand in, and somebody does: each ends with one report in words, and nothing hangs."""

import io
import json
import os
import re
import shutil
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from kit import estimate, load_lists, shipped, write_job
from kit.archive.spent import parse_spent
from kit.cli import commands, out_folder
from kit.cli.comparing import option_files
from kit.cli.job_source import JobWithLists
from kit.cli.out_folder import file_writers, write_files
from kit.cli.start import lay_folder
from kit.compare.options import compare_alternates
from kit.contract.ledger import LEDGER_FILE, contract_states
from kit.errors import Fault, IssueError, JobError, KitError, LedgerError, ListError
from kit.incoming import MOST_FAULTS_SHOWN, MOST_ROWS
from kit.issued import open_issued
from kit.job import price_folder, read_job
from kit.tables import content_sheets, content_text, parse_table, read_text

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
LISTS = shipped("price_lists")


def job_with(folder: Path, old: str, new: str) -> Path:
    text = EXAMPLE.read_text(encoding="utf-8")
    assert old in text
    path = folder / "job.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


def lists_with(folder: Path, file: str, old: str, new: str) -> Path:
    shutil.copytree(LISTS, folder / "lists")
    path = folder / "lists" / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder / "lists"


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        ("prices.csv", ",5.10,", f",{'9' * 25},", "row 2, price: .* is too large"),
        ("prices.csv", ",5.10,", ",1e400,", "row 2, price: .* is too large"),
        ("prices.csv", "stick,8,", "stick,1e400,", "row 2, pack: .* is too large"),
        ("rates.csv", "0.5 h,1,demo", f"0.5 h,{'9' * 25},demo", "row 2, crew: .* is too large"),
        ("rates.csv", "0.5 h,1,demo", f"0.5 h,{'9' * 5000},demo", "row 2, crew: .* is too large"),
        ("rates.csv", "0.5 h,1,demo", "0.5 h,101,demo", "row 2, crew: .* more than 100"),
        ("rates.csv", "0.5 h,1,demo", "100000000000 h,1,demo", "row 2, high: .* more than 1000 h"),
        ("factors.csv", ",1.2,", ",1e300,", "row 2, times: .* is too large"),
        ("factors.csv", ",1.2,", ",101,", "row 2, times: .* more than 100"),
        ("lead_times.csv", "0,1,4,elapsed", "0,1,1000000000,elapsed", "row 2, high_days: .* more than 3650"),
        ("suppliers.csv", "Invented", "\ufeff=Invented", "has a character that can't be printed"),
    ],
)
def test_cells_beyond_all_measure_are_refused(tmp_path: Path, file: str, old: str, new: str, says: str) -> None:
    with pytest.raises(ListError, match=rf"{file}, {says}" if says.startswith("row") else says):
        load_lists(lists_with(tmp_path, file, old, new))


@pytest.mark.parametrize("name", ["../../../evil", "C:evil", "a/b", "\u202egpj"])
def test_a_name_in_a_list_leads_no_file_of_an_alternate_away(tmp_path: Path, name: str) -> None:
    lists = load_lists(lists_with(tmp_path, "counters.csv", "stone-2cm,", f"{name},"))
    source = JobWithLists(tmp_path / "job.toml", read_job(shipped("examples") / "stone_apron_single_bowl.toml"), LISTS, lists)
    (option,) = [option for option in compare_alternates(source.job, lists) if name in option.id]
    (written,) = option_files(source, [option], tmp_path)
    assert re.fullmatch(r"job_under_[A-Za-z0-9-]+\.toml", written)


@pytest.mark.parametrize(("file", "key"), [("pay_terms.csv", "labor"), ("hired.csv", "hire-plumber")])
def test_a_doubled_row_with_an_empty_key_is_said(tmp_path: Path, file: str, key: str) -> None:
    row = (LISTS / file).read_text(encoding="utf-8").splitlines(keepends=True)[1]
    with pytest.raises(ListError, match=f'"{key}" is there twice'):
        load_lists(lists_with(tmp_path, file, row, row + row))


@pytest.mark.parametrize("driver", ["trip-set-up", "trip-way", "least-visit", "frame-member"])
def test_work_without_its_row_of_hours_is_said(tmp_path: Path, driver: str) -> None:
    """Also that of the trips, which is counted after all other work."""
    row = next(line for line in (LISTS / "rates.csv").read_text(encoding="utf-8").splitlines(keepends=True) if line.startswith(f"{driver},"))
    lists = load_lists(lists_with(tmp_path, "rates.csv", row, ""))
    with pytest.raises(ListError, match=f'rates.csv, driver "{driver}" has no rate. Add its hours to rates.csv'):
        estimate(read_job(EXAMPLE), lists)


@pytest.mark.parametrize("digits", [30, 400])
def test_spent_amounts_without_end_are_refused(digits: int) -> None:
    text = (shipped("examples") / "stone_apron_single_bowl_spent.csv").read_text(encoding="utf-8")
    with pytest.raises(ListError, match=r"row 2, amount: .* is too large"):
        parse_spent(text.replace("46.92", "9" * digits, 1), "s.csv", load_lists(LISTS))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (",".join(f"c{number}" for number in range(50_000)) + "\n", "50000 cells; 100 are the most"),
        ("a,b\n" + "1,2\n" * (MOST_ROWS + 1), f"more than {MOST_ROWS} rows"),
    ],
)
def test_tables_without_end_are_refused(text: str, says: str) -> None:
    with pytest.raises(ListError, match=says):
        parse_table(text, "prices.csv")


def far_cells(sheets: int) -> bytes:
    book = openpyxl.Workbook()
    for _ in range(sheets):
        book.create_sheet().cell(MOST_ROWS, 90).value = 1
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_cells_beyond_all_measure_in_a_workbook_are_refused() -> None:
    """Within every other limit, and a minute to read: 1,000 rows of 400 cells, three quarters of them where no list has a column."""
    packed, rows = io.BytesIO(), (b"<row>" + b"<c><v>1</v></c>" * 400 + b"</row>") * 1000
    with zipfile.ZipFile(io.BytesIO(far_cells(0))) as sound, zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as damaged:
        for name in sound.namelist():
            part = sound.read(name)
            damaged.writestr(name, re.sub(rb"<sheetData( ?/>|></sheetData>)", b"<sheetData>" + rows + b"</sheetData>", part))
    with pytest.raises(ListError, match="holds more cells or looks than a price list needs"):
        content_sheets(packed.getvalue(), "prices.xlsx")


def test_cells_far_below_in_many_sheets_are_refused() -> None:
    with pytest.raises(ListError, match=f"more than {MOST_ROWS} rows"):
        content_sheets(far_cells(2), "prices.xlsx")


@pytest.mark.parametrize(("field", "value"), [("flags", 1), ("method", 99)])
def test_locked_and_oddly_packed_workbooks_are_refused(field: str, value: int) -> None:
    content = bytearray(far_cells(0))
    for sign, place in ((b"PK\x03\x04", {"flags": 6, "method": 8}[field]), (b"PK\x01\x02", {"flags": 8, "method": 10}[field])):
        for match in re.finditer(re.escape(sign), bytes(content)):
            content[match.start() + place] |= value
    assert zipfile.is_zipfile(io.BytesIO(content))
    with pytest.raises(ListError, match="is not a readable XLSX workbook"):
        content_text(bytes(content), "prices.xlsx")


def test_a_workbook_that_begins_with_a_chart_is_refused() -> None:
    book, content = openpyxl.Workbook(), io.BytesIO()
    book.create_chartsheet("chart", 0)
    book.save(content)
    with pytest.raises(ListError, match="is not a readable XLSX workbook"):
        content_text(content.getvalue(), "prices.xlsx")


def test_a_workbook_packed_by_rules_of_a_later_day_is_refused() -> None:
    content = bytearray(far_cells(0))
    for match in re.finditer(re.escape(b"PK\x01\x02"), bytes(content)):
        content[match.start() + 6] = 204  # the version of the packing that is needed to unpack it
    with pytest.raises(ListError, match="is not an XLSX workbook"):
        content_text(bytes(content), "prices.xlsx")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("[identity]", f"{'.'.join('a' * 20_000)} = 1\n[identity]", "more than 19 dots"),
        ("crew = 3", f"crew = {'9' * 5000}", "job.toml has a number with too many digits"),
        ("crew = 3", f"crew = {'9' * 4000}", "terms.crew: a number with too many digits is outside the range"),
        ("crew = 3", f"crew = 0x{'f' * 6000}", "terms.crew: a number with too many digits is outside the range"),
        ("crew = 3", "crew = '" + "x" * 5000 + "'", "terms.crew: .x{200}\\.{3}. is not a whole number"),
        ("Invented Customer One", "\\uFFFE", "customer has a character that can't be printed"),
        ("Invented Customer One", "\\u009B31m", "customer has a character that can't be printed"),
        ("Invented Customer One", "\\uFEFF=1", "customer has a character that can't be printed"),
        ("visit_date = 2026", "visit_date = 1926", "outside the years"),
        ("visit_date = 2026", "visit_date = 2206", "outside the years"),
    ],
)
def test_job_files_beyond_all_measure_are_refused(tmp_path: Path, old: str, new: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        read_job(job_with(tmp_path, old, new))


@pytest.mark.parametrize("name", ["x" * 5000, "a\\u0000b"])
def test_a_price_folder_that_no_disk_can_hold_is_refused(tmp_path: Path, name: str) -> None:
    try:
        job = read_job(path := job_with(tmp_path, "[identity]", f'prices = "{name}"\n[identity]'))
    except JobError as error:
        assert "prices" in str(error)  # noqa: PT017 - refused already when it was read
        return
    with pytest.raises(JobError, match="is not a folder"):
        price_folder(job, path)


def test_a_price_folder_without_the_right_to_read_it_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever may read anything, as in the tests' own machine, is refused as the system refuses others."""

    def refuse(path: Path, **_: object) -> os.stat_result:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "stat", refuse)
    with pytest.raises(ListError, match=r"closed can't be read: Permission denied"):
        load_lists(tmp_path / "closed")


@pytest.mark.long
def test_thousands_of_prices_of_one_item_are_looked_through(tmp_path: Path) -> None:
    """As many as a table may have rows; of 5,000 cans at one more cent each the first is bought."""
    head, *rows = (LISTS / "prices.csv").read_text(encoding="utf-8").splitlines()
    shim = next(row for row in rows if row.startswith("shim,")).split(",")
    pack, price = head.split(",").index("sold_as"), head.split(",").index("price")
    others = [row for row in rows if not row.startswith("shim,")]
    many = [",".join([*shim[:pack], f"bundle {cents}", *shim[pack + 1 : price], f"{2 + cents / 100:.2f}", *shim[price + 1 :]]) for cents in range(5000)]
    shutil.copytree(LISTS, tmp_path / "lists")
    (tmp_path / "lists" / "prices.csv").write_text("\n".join([head, *others, *many]) + "\n", encoding="utf-8")
    made = estimate(read_job(EXAMPLE), load_lists(tmp_path / "lists"))
    assert {str(purchase.unit_price) for purchase in made.purchases if purchase.item == "shim"} == {"2.00"}


def test_a_draft_of_somebody_else_stays_where_it_is(tmp_path: Path) -> None:
    """A person's own job.toml.part beside the job that is saved."""
    (tmp_path / "job.toml.part").write_text("mine", encoding="utf-8")
    write_job(read_job(EXAMPLE), tmp_path / "job.toml")
    assert (tmp_path / "job.toml.part").read_text(encoding="utf-8") == "mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "job.toml.part"]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("stick,8,96 in", "stick,10,96 in", "row 2, pack says 10 ft, and stock of 96 in is 8 ft. Fix one of them"),
        ("sheet,32,96 in,48 in", "sheet,32,96 in,24 in", "pack says 32 sq ft, and stock of 96 x 24 in is 16 sq ft. Fix one of them"),
    ],
)
def test_stock_whose_pack_is_another_size_is_refused(tmp_path: Path, old: str, new: str, says: str) -> None:
    """One slip of the pen in a list, and a stick would hold more or less than what is paid for."""
    with pytest.raises(ListError, match=re.escape(says)):
        load_lists(lists_with(tmp_path, "prices.csv", old, new))


@pytest.mark.skipif(os.name == "nt", reason="has no pipes in folders")
@pytest.mark.parametrize(("read", "error"), [(read_job, JobError), (read_text, ListError), (open_issued, IssueError)])
def test_pipes_and_devices_are_refused_at_once(tmp_path: Path, read: Callable[[Path], object], error: type[KitError]) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero")):
        with pytest.raises(error, match="a pipe or a device"):
            read(path)


@pytest.mark.skipif(os.name == "nt", reason="has no pipes in folders")
@pytest.mark.parametrize("make", [Path.mkdir, lambda path: os.mkfifo(path, 0o600), lambda path: path.symlink_to("/dev/zero")], ids=["folder", "pipe", "device"])
def test_a_ledger_that_is_no_file_is_refused_at_once(tmp_path: Path, make: Callable[[Path], object]) -> None:
    make(tmp_path / LEDGER_FILE)
    with pytest.raises(LedgerError, match=f"{LEDGER_FILE} is a folder, a pipe or a device, not a ledger"):
        contract_states(tmp_path)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('{"kind": "sinkset issued estimate", "format": 4, "revision": NaN}', "not an issued estimate. If it should be one, it is damaged"),
        ('{"kind": "sinkset issued estimate", "format": 4, "number": "\\ud800"}', "fingerprint does not match"),
        ('{"kind": "sinkset issued estimate", "format": 4, "lists": 5}', "lists was changed after it was issued"),
        ('{"kind": "sinkset issued estimate", "format": 4, "files": null}', "files was changed after it was issued"),
        ("[" * 100_000, "it is damaged"),
    ],
)
def test_issued_files_of_wrong_shape_are_refused(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "i.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(IssueError, match=says):
        open_issued(path)


def test_a_name_of_three_hundred_letters_is_no_folder_to_write(tmp_path: Path) -> None:
    with pytest.raises(KitError, match="can't be written"):
        write_files(tmp_path / ("x" * 300), file_writers({"a.txt": b"1"}), say=str)
    with pytest.raises(KitError, match="can't be written"):
        out_folder.require_free(tmp_path / ("x" * 300), {"a.txt": b"1"})


def test_a_writer_killed_between_two_files_does_not_stop_the_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first file is new and the second still old, as after a power cut: the next run replaces both."""
    files = {"a.txt": b"1", "b.txt": b"1"}
    write_files(tmp_path, file_writers(files), say=str)
    replace = Path.replace

    def cut(path: Path, target: Path) -> Path:
        if target.name == "b.txt":
            raise KeyboardInterrupt
        return replace(path, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", cut)
        with pytest.raises(KeyboardInterrupt):
            write_files(tmp_path, file_writers({"a.txt": b"2", "b.txt": b"2"}), say=str)
    assert [(tmp_path / name).read_bytes() for name in files] == [b"2", b"1"]
    write_files(tmp_path, file_writers({"a.txt": b"3", "b.txt": b"3"}), say=str)
    assert [(tmp_path / name).read_bytes() for name in files] == [b"3", b"3"]


def test_a_full_disk_leaves_no_cut_notebook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        with pytest.raises(KitError, match="the disk is full"):
            lay_folder(tmp_path)
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def ended(monkeypatch: pytest.MonkeyPatch, error: Exception) -> int:
    def fail() -> None:
        raise error

    monkeypatch.setattr(commands, "app", fail)
    with pytest.raises(SystemExit) as end:
        commands.main()
    return int(end.value.code or 0)


def test_a_great_many_faults_are_counted(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["sinkset"])
    assert ended(monkeypatch, ListError(Fault("", f"fault {number}") for number in range(20_000))) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == MOST_FAULTS_SHOWN + 1
    assert lines[-1].startswith("... and 19,900 more")


def test_a_failure_of_the_program_is_one_sentence(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The last guard: no test of a command takes its code for a refusal."""
    assert ended(monkeypatch, json.JSONDecodeError("odd", "", 0)) == commands.OWN_FAULT
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "JSONDecodeError" not in said
    details = Path(said.strip().rsplit(" ", 1)[1].removesuffix("."))
    assert "JSONDecodeError: odd" in details.read_text(encoding="utf-8")
    details.unlink()
