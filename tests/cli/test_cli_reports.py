"""What a sound job prints, as JSON and as a report, and how it ends."""

import re
import shutil
import sys
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, put

from kit.cli.report_text import Page
from kit.records import Level
from kit.shipped_files import shipped

ESTIMATE_KEYS = ["job", "mount", "buildable", "price", "cost", "margin", "hours", "findings", "lines", "purchases", "tasks", "build_up", "assumptions", "lists"]
OUTLOOK_KEYS = ["schedule", "risk", "without_disposer", "draws", "cash", "issued"]


def test_estimate_prints_one_object_with_the_promised_keys(run: Any, example: Path) -> None:
    """Every example gives price, cost, hours and lines as JSON, and nothing else on standard output."""
    ended = run("estimate", example, "--json")
    assert (ended.code, ended.err) == (0, "")
    assert list(ended.json) == [*ESTIMATE_KEYS, *OUTLOOK_KEYS]
    assert ended.json["lines"]
    assert ended.json["hours"] > 0
    assert ended.json["mount"] == tomllib.loads(example.read_text(encoding="utf-8"))["sink"]["mount"]


def test_money_is_text_with_cents_and_lengths_are_text_with_their_unit(run: Any, example: Path) -> None:
    """Money strings have two decimals, lengths name their unit, hours and ratios are numbers."""
    document = run("estimate", example, "--json").json
    cents = re.compile(r"-?\d+\.\d\d")
    assert all(cents.fullmatch(document[key]) for key in ("price", "cost"))
    assert all(cents.fullmatch(item["amount"]) for key in ("purchases", "tasks") for item in document[key])
    assert all(isinstance(row["amount"], float) or cents.fullmatch(row["amount"]) for row in document["build_up"])
    assert all(piece["length_in"].endswith(" in") for line in document["lines"] for piece in line["pieces"])
    assert isinstance(document["margin"], float)
    assert all(isinstance(task["hours_likely"], float) for task in document["tasks"])
    assert document["job"]["cabinet"]["width"].endswith(" in")


def test_the_same_input_gives_the_same_bytes(run: Any, example: Path) -> None:
    """Neither JSON nor report depends on anything but the input."""
    for flags in (["--json"], []):
        assert run("estimate", example, *flags).out == run("estimate", example, *flags).out


def test_findings_come_worst_first(run: Any, example: Path) -> None:
    """`check` prints every finding, the worst at the top."""
    document = run("check", example, "--json").json
    order = ["stop", "unknown", "caution", "ok"]
    levels = [order.index(finding["level"]) for finding in document["findings"]]
    assert levels == sorted(levels)
    assert levels


def test_check_ends_with_1_when_a_finding_says_stop(run: Any, job_file: Any) -> None:
    """A sink that is too wide for its cabinet: check ends with 1, estimate still prices it and says it can't be built."""
    path = job_file(put("cabinet.width", "30 in"))
    checked = run("check", path, "--json")
    assert checked.code == 1
    assert checked.json["buildable"] is False
    priced = run("estimate", path, "--json")
    assert (priced.code, priced.json["buildable"]) == (0, False)
    assert float(priced.json["price"]) > 0
    last = run("estimate", path).out.decode().splitlines()[-1]
    assert re.fullmatch(r"Price \$[0-9,.]+\. [0-9]+ stops?(; [0-9]+ to (measure|decide))*\.", last)


def test_check_ends_with_0_when_nothing_says_stop(run: Any) -> None:
    """The example is sound."""
    ended = run("check", EXAMPLE)
    assert ended.code == 0
    assert ended.out.decode().splitlines()[-1] == "No stops; 2 to decide."


def test_an_estimate_is_one_screen(run: Any, example: Path) -> None:
    """At most 45 lines of at most 80 columns, one of them kept for what was written; the price to the cent and the number of stops are the very last line."""
    lines = run("estimate", example).out.decode().splitlines()
    document = run("estimate", example, "--json").json
    assert len(lines) <= 44
    assert max(map(len, lines)) <= 80
    assert lines[-1].startswith(f"Price ${float(document['price']):,.2f}. No stops")
    assert any(line.startswith("Next:  sinkset issue") for line in lines)
    assert "local authority" in " ".join(lines)


def test_payments_hours_and_purchases_add_up_on_the_screen(run: Any, example: Path) -> None:
    """The payments shown come to the price shown; each table of money ends with its sum, hours with theirs."""

    def money(text: str) -> list[Decimal]:
        return [Decimal(amount.replace(",", "")) for amount in re.findall(r"\$([\d,]+\.\d\d)", text)]

    screen = run("estimate", example).out.decode()
    assert sum(money(screen.partition("\nPayments ")[2].partition("\nOur money")[0])) == money(screen)[-1]
    document = run("estimate", example, "--json").json
    hours = next(line for line in run("estimate", example, "--hours").out.decode().splitlines() if line.startswith("All steps "))
    assert hours.split() == ["All", "steps", f"{document['hours']:.2f}", f"${sum(Decimal(task['amount']) for task in document['tasks']):,}"]
    sums = [line for line in run("estimate", example, "--buy").out.decode().splitlines() if line.startswith("All of these ")]
    assert len(sums) == 2
    assert sum(sum(money(line)) for line in sums) == sum(Decimal(one["amount"]) for one in document["purchases"])


def test_a_job_with_many_stops_is_one_screen_too(run: Any, job_file: Any) -> None:
    """The first of each level are shown, the rest is counted with the command that shows it; what can't be built is not offered for issue."""

    def spoil(document: Any) -> None:
        for place, value in (("cabinet.width", "30 in"), ("cabinet.depth", "18 in"), ("plumbing.stub_height", "unknown")):
            put(place, value)(document)

    path = job_file(spoil)
    lines = run("estimate", path).out.decode().splitlines()
    findings = run("check", path, "--json").json["findings"]
    stops = sum(one["level"] == "stop" for one in findings)
    assert stops >= 2
    assert len(lines) <= 45
    assert f"{stops} stops" in lines[-1]
    assert any(line.startswith("Next:  sinkset compare") for line in lines)
    assert sum(re.match(r" *\d+ STOP ", line) is not None for line in lines) == min(5, stops)
    assert any(line.startswith("+ ") and "sinkset check" in line for line in lines)
    assert all(len(line) <= 80 for line in lines)


def test_the_commands_that_come_next_can_be_typed_as_they_stand(run: Any, job_file: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the whole path of the file, in quotes where it has a blank."""

    def spoil(document: Any) -> None:
        for place, value in (("cabinet.width", "30 in"), ("cabinet.depth", "18 in"), ("plumbing.stub_height", "unknown")):
            put(place, value)(document)

    home = job_file(spoil).parent
    (home / "my jobs").mkdir()
    shutil.copy(job_file(spoil), home / "my jobs" / "job.toml")
    monkeypatch.chdir(home)
    text = run("estimate", Path("my jobs/job.toml")).out.decode()
    assert re.search(r'^\+ \d+ more: sinkset check "my jobs/job.toml"$', text, re.MULTILINE)
    assert 'Next:  sinkset compare "my jobs/job.toml"' in text


def test_a_length_that_follows_from_others_is_said_as_a_tape_shows_it(run: Any, job_file: Any) -> None:
    """A drain in the middle of a bowl 29 1/3 in wide, no screw lower than the false front: sixteenths, and no key of the job file."""

    def thirds(document: Any) -> None:
        for place, value in (("sink.rear_rim", "unknown"), ("sink.depth", "18 1/3 in"), ("cabinet.false_front_screw", "unknown")):
            put(place, value)(document)

    said = {one["field"]: one["value"] for one in run("check", job_file(thirds), "--json").json["assumptions"]}
    assert said["cabinet.false_front_screw"] == "7 in"
    assert re.fullmatch(r"\d+( \d+/(2|4|8|16))? in", said["sink.rear_rim"])


def test_a_folder_in_place_of_a_file_is_said_so(run: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A job, and a folder without price lists; each in one line."""
    monkeypatch.chdir(tmp_path)
    refused = run("estimate", Path())
    assert (refused.code, refused.err) == (2, ". is a folder. Give a file in it.\n")
    none = run("estimate", EXAMPLE, "--prices", tmp_path)
    assert none.code == 2
    assert none.err == f'"{tmp_path.resolve()}" holds no price lists: no items.csv, prices.csv or any other. Give the folder that they are in.\n'


def test_a_table_never_cuts_a_figure() -> None:
    """Ten amounts in 60 columns: heads break at blanks, the table is wider than the page, every digit is there."""
    page, amounts = Page(60), [f"${number},{number}{number}{number}.{number}5" for number in range(1, 10)]
    page.table("Money", ("No.", *(f">Direct cost {number}" for number in range(1, 10))), [("1", *amounts)])
    assert page.text().splitlines()[-1].split() == ["1", *amounts]
    assert "Direct" in page.text()


def test_a_word_is_not_broken_and_blanks_go_first() -> None:
    """A narrow terminal: names wrap between their words, two blanks between columns in place of three; nothing is wider than it must be."""
    page = Page(40)
    page.table("Purchases", ("Item", "Supplier", ">Price"), [("Construction adhesive cartridge", "Invented Plumbing Counter", "$1,234.50")])
    rows = page.text().splitlines()[3:]
    assert max(map(len, rows)) <= 40
    assert {"Construction", "adhesive", "cartridge", "Invented", "Plumbing", "Counter", "$1,234.50"} <= {word for row in rows for word in row.split()}
    page = Page(24)
    page.table("Purchases", ("Item", "Supplier", ">Price"), [("Construction adhesive cartridge", "Invented Plumbing Counter", "$1,234.50")])
    assert max(map(len, page.text().splitlines())) == len("Construction  Invented  $1,234.50")


PART_HEADS = {
    "--hours": "Hours by step",
    "--calendar": "Our trips",
    "--buy": "Purchases",
    "--build-up": "How the price is made up",
    "--cash": "Customer's payments",
    "--risk": "What drives the spread",
    "--sources": "Files of the price lists",
}


def test_each_part_is_printed_by_its_name(run: Any) -> None:
    """One part alone, and all of them with --full; the price stays the last line."""
    whole = run("estimate", EXAMPLE, "--full").out.decode()
    for option, head in PART_HEADS.items():
        alone = run("estimate", EXAMPLE, option).out.decode()
        assert head in alone
        assert head in whole
        assert not any(other in alone for other in PART_HEADS.values() if other != head)
        assert alone.splitlines()[-1] == whole.splitlines()[-1]
        assert alone.splitlines()[-1].startswith("Price $")


def test_assumptions_are_in_the_report(run: Any, job_file: Any) -> None:
    """What was not measured is said with the value that was taken, by its name and not by its place in the file."""
    path = job_file(put("cabinet.height", "unknown"))
    assert "Sink base height: 34 1/2 in" in run("estimate", path).out.decode()
    assert {"field": "cabinet.height", "value": "34 1/2 in"}.items() <= next(
        one for one in run("check", path, "--json").json["assumptions"] if one["field"] == "cabinet.height"
    ).items()


def test_color_shows_on_a_terminal_and_is_never_the_only_sign(monkeypatch: pytest.MonkeyPatch) -> None:
    """The word of the level stands there with and without color; NO_COLOR and a dumb terminal get none."""

    def caution() -> str:
        page = Page(40)
        page.line("CAUTION  Look", Level.CAUTION)
        return page.text()

    assert caution() == "CAUTION  Look\n"
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "\x1b[" in caution()
    assert "CAUTION" in caution()
    monkeypatch.setenv("NO_COLOR", "1")
    assert caution() == "CAUTION  Look\n"


def test_check_prints_what_needs_a_decision(run: Any) -> None:
    """What is ok is counted, and printed only with a note or with --all; what is not met, but taken care of, is no part of what is fine."""
    short, long = (run("check", EXAMPLE, *flags).out.decode() for flags in ([], ["--all"]))
    notes = short.partition("GOOD TO KNOW, NOTHING TO DECIDE")[2]
    assert "> Hand over the notices" in " ".join(notes.split())
    assert "Vent" not in short
    for said in (short, long):
        taken_care_of, _, rest = said.partition("NOT MET AS IT STANDS, BUT TAKEN CARE OF")[2].partition("GOOD TO KNOW, NOTHING TO DECIDE")
        assert "Boxes level along the run" in taken_care_of
        assert "> We level them" in taken_care_of
        assert "Boxes level along the run" not in rest
    assert "Vent" in long.partition("FINE\n")[2]
    assert ">" not in long.partition("FINE\n")[2].partition("Assumed")[0]


def test_a_short_piece_is_needed_in_inches(run: Any, example: Path) -> None:
    """What is cut to less than 2 ft has no decimals of a foot."""
    for line in run("estimate", example, "--buy").out.decode().splitlines():
        assert not re.search(r" [01](\.\d+)? ft +\d+ ", line), line


def test_a_price_for_several_units_says_for_how_many(run: Any) -> None:
    """324 lb at $6.50 for 100 lb is $21.06; what is added to reach the dump's minimum of $24 is a sum: $2.94."""
    said = run("estimate", shipped("examples") / "laminate_top_mount.toml", "--buy").out.decode()
    assert re.search(r"Disposal at the dump .* 324 lb +100 lb +\$6\.50 +\$21\.06\n", said)
    assert re.search(r"Dump: added to reach the minimum +Invented Transfer Station +\$2\.94\n", said)
