"""Bad jobs of every kind: 2, one report, nothing written."""

import re
from pathlib import Path
from typing import Any

import pytest
from changes import Change, assert_refused, drop, put

BAD_JOBS: dict[str, tuple[Change, str]] = {
    "missing field": (drop("cabinet.width"), "cabinet.width is missing. Needed: Outside width"),
    "missing part": (drop("sink"), "sink is missing"),
    "bare number": (put("cabinet.width", 36), 'cabinet.width: "36" has no unit. Give one, such as "33 in"'),
    "bare number as text": (put("cabinet.width", "36"), 'cabinet.width: "36" has no unit'),
    "wrong unit": (put("cabinet.width", "36 lb"), "cabinet.width: .*36 lb"),
    "negative": (put("cabinet.width", "-36 in"), 'cabinet.width: "-36 in" is negative'),
    "not a number": (put("cabinet.width", "nan in"), "cabinet.width: .*nan in"),
    "a bare nan": (put("cabinet.width", float("nan")), 'cabinet.width: "nan" has no unit'),
    "infinite": (put("cabinet.width", "inf in"), "cabinet.width: .*inf in"),
    "a truth for a length": (put("cabinet.width", True), "cabinet.width: .*is not a length"),
    "a list for a length": (put("cabinet.width", ["36 in"]), "cabinet.width: a list|cabinet.width: a Array"),
    "bare percent": (put("terms.overhead", 0.2), 'terms.overhead: "0.2" has no unit. Give one, such as "15 %"'),
    "bare percent as text": (put("terms.overhead", "20"), 'terms.overhead: "20" has no unit'),
    "bare money": (put("terms.permit_fee", 100), 'terms.permit_fee: "100" has no unit. Give one, such as "250.00 USD"'),
    "bare money as text": (put("terms.permit_fee", "100"), 'terms.permit_fee: "100" has no currency'),
    "parts of a cent": (put("terms.permit_fee", "1.005 USD"), "terms.permit_fee: .*decimals"),
    "self-contradicting part": (put("sink.bowl_width", "33 in"), "sink: the bowl \\(33 in\\) is wider than the body"),
    "no such key": (put("cabinet.widht", "36 in"), 'cabinet.widht is not a known key. Did you mean "width"'),
    "no such part": (put("roof.pitch", "4 in"), "roof is not a known key"),
    "no such choice": (put("sink.mount", "glued"), 'sink.mount: "glued" is not one of: top, flush, under'),
    "no such countertop": (put("counter.item", "moon-rock"), 'counter.item: "moon-rock" is not in counters.csv'),
    "no such sink": (put("sink.item", "moon-sink"), "moon-sink"),
    "unknown where it must be known": (put("cabinet.width", "unknown"), 'cabinet.width: "unknown" is not accepted here'),
    "a part that is no table": (put("sink", "big"), "sink: .*is not a table"),
    "empty text": (put("identity.customer", " "), "identity.customer: .*is empty or not text"),
    "no such day": (put("identity.visit_date", "2026-02-30"), "identity.visit_date: .*is not a date"),
    "no such folder of prices": (put("prices", "nowhere"), 'prices: "nowhere" is not a folder'),
}


@pytest.mark.parametrize("command", ["check", "estimate", "compare"])
@pytest.mark.parametrize("name", list(BAD_JOBS))
def test_bad_job_ends_with_2_and_one_report(run: Any, job_file: Any, tmp_path: Path, command: str, name: str) -> None:
    """Each kind of bad input is refused with file, field, what was given and what is wanted."""
    change, wanted = BAD_JOBS[name]
    out = tmp_path / "out"
    ended = run(command, job_file(change), *([] if command == "check" else ["--out", out]))
    assert_refused(ended, wanted, out)
    assert all(line.startswith(("job.toml", "items.csv")) for line in ended.err.splitlines())


def test_all_faults_of_a_job_are_in_one_report(run: Any, job_file: Any, tmp_path: Path) -> None:
    """Three wrong fields give three lines."""

    def change(document: Any) -> None:
        put("cabinet.width", 36)(document)
        put("site.carry", "far")(document)
        drop("sink.weight")(document)

    ended = run("estimate", job_file(change), "--out", tmp_path / "out")
    assert_refused(ended, "cabinet.width", tmp_path / "out")
    assert [line.replace(":", "").split()[1] for line in ended.err.splitlines()] == ["site.carry", "cabinet.width", "sink.weight"]


def test_faults_of_job_and_lists_are_in_one_report(run: Any, job_file: Any, price_lists: Path) -> None:
    """With the lists given, what is wrong in them is said beside what is wrong in the job."""
    (price_lists / "sinks.csv").unlink()
    ended = run("check", job_file(drop("cabinet.width")), "--prices", price_lists)
    assert ended.code == 2
    assert "job.toml, cabinet.width" in ended.err
    assert "sinks.csv" in ended.err


@pytest.mark.parametrize(
    ("content", "wanted"),
    [
        (b"", "job.toml is empty"),
        (b"# only words\n", "job.toml is empty"),
        (b"[identity\n", "job.toml can't be read as a job file"),
        (b"a = 1\na = 2\n", 'It stops at line 2, "a = 2". That name is there already, higher up.'),
        (b"\n[counter]\nedge = eased\n", 'It stops at line 3, "edge = eased". Words and measures stand in quotes, such as width = "36 in"'),
        (b"note = " + b"say " * 20, f'It stops at line 1, "note = {"say " * 13}s ...". Words'),
        (b"edge = 'eased", "It ends too early: a quote or a bracket is open"),
        (b"note = '\xff\xfe'\n", "byte 9 is not UTF-8"),
        (b"a = " + b"[" * 20_000, "job.toml has lists or tables nested too deeply"),
        (b"a = " + b"9" * 5_000, "job.toml has a number with too many digits"),
        (b"# " + b"x" * 1_000_001, "job.toml is larger than 1 MB"),
        (b"\x00\x01\x02", "job.toml can't be read as a job file"),
    ],
    ids=[
        "empty",
        "comment only",
        "not TOML",
        "doubled key",
        "no quotes",
        "long line",
        "open quote",
        "not UTF-8",
        "endless nesting",
        "endless number",
        "too large",
        "binary",
    ],
)
def test_unreadable_job_ends_with_2(run: Any, tmp_path: Path, content: bytes, wanted: str) -> None:
    """A file that can't be read as a job is refused in a sentence."""
    path = tmp_path / "job.toml"
    path.write_bytes(content)
    assert_refused(run("estimate", path, "--out", tmp_path / "out"), wanted, tmp_path / "out")


def test_a_job_that_is_not_there_or_a_folder_ends_with_2(run: Any, tmp_path: Path) -> None:
    """No file, or a folder in its place."""
    assert_refused(run("check", tmp_path / "no.toml"), "no.toml can't be read", tmp_path / "out")
    assert_refused(run("check", tmp_path), "is a folder. Give a file in it", tmp_path / "out")


def test_terms_without_a_price_end_with_2(run: Any, job_file: Any, price_lists: Path) -> None:
    """A margin that no price reaches is said in words."""
    company = price_lists / "company.csv"
    company.write_text(re.sub(r"^profit,[^,]*", "profit,100 %", company.read_text(encoding="utf-8"), flags=re.MULTILINE), encoding="utf-8")
    ended = run("estimate", job_file(), "--prices", price_lists)
    assert ended.code == 2
    assert re.search("job.toml, Price at the target margin can't be worked out", ended.err)


def test_a_file_can_not_steer_the_terminal(run: Any, job_file: Any) -> None:
    """Control characters of a bad key or text are shown as codes."""
    ended = run("check", job_file(lambda document: document["cabinet"].update({"wi\x1b[2Jdth": "36 in"})))
    assert ended.code == 2
    assert "\x1b" not in ended.err
    assert r"wi\x1b[2Jdth" in ended.err
