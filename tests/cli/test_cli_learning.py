"""`learn` and the table of `jobs`: shown, accepted, refused, taken in; what both intervals are of; and that an invented history says so."""

import re
import shutil
from pathlib import Path
from typing import Any

import pytest

import kit
from kit.cli import report_text
from kit.contract.ledger import Ledger
from kit.learning import invented
from kit.learning.job_rows import list_jobs


@pytest.fixture(scope="module")
def history(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Nine invented jobs of the smallest example, all finished."""
    with pytest.MonkeyPatch.context() as patched:
        small = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
        patched.setattr(invented, "_examples", lambda: [small])
        patched.setattr(invented, "_SIGNED", {"top": 1.0})
        folder = tmp_path_factory.mktemp("cli") / "history"
        invented.write_invented_history(folder, jobs=9, seed=4)
    return folder


@pytest.fixture
def folder(history: Path, tmp_path: Path) -> Path:
    """A copy to decide in."""
    return Path(shutil.copytree(history, tmp_path / "history"))


def test_what_jobs_teach_is_told_with_both_intervals(run: Any, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As data: the interval of the next job is the wider one, lessons have an id, notes say that it is invented; as a report: both by their words."""
    told = run("learn", folder, "--json").json
    assert (told["invented"], told["jobs"], told["finished"], told["lists"]) == (True, 9, 9, "price_lists")
    assert "All 9 jobs of this folder are invented: a demonstration." in told["notes"][0]
    proposed = [lesson for lesson in told["lessons"] if lesson["status"] == "proposed"]
    assert proposed
    for lesson in told["lessons"]:
        (low, high), (next_low, next_high) = lesson["interval_of_the_rate"], lesson["interval_of_the_next_job"]
        assert next_low < low < lesson["learned"] < high < next_high
    for lesson in proposed:
        assert not lesson["interval_of_the_rate"][0] <= lesson["listed"] <= lesson["interval_of_the_rate"][1]
    report = run("learn", folder, "--all").out.decode()
    for words in (
        "What invented jobs teach",
        "Rate itself, 90%",
        "Next job, 90%",
        "Don't use one for the other",
        "Rates that each would move",
        "Mount: top mount",
        "Over or under",
        "with a minus, too low",
    ):
        assert words in report
    monkeypatch.setattr(report_text, "FILE_WIDTH", 80)
    lines = run("learn", folder, "--all").out.decode().splitlines()
    titles = [number for number, line in enumerate(lines) if line.startswith(("Proposed: ", "No clear difference: "))]
    assert titles
    assert all(len(line) <= 80 for start in titles for line in lines[start : lines.index("", start)])  # narrow enough for any terminal
    assert [lesson["id"] for lesson in told["lessons"] if lesson["id"] not in report] == []  # whole, to be copied
    for lesson in told["lessons"]:
        assert bool(lesson["moves"]) is (lesson["id"].startswith("hours/"))
        assert sum(one["share_of_hours"] for one in lesson["moves"]) == pytest.approx(1.0 if lesson["moves"] else 0.0)


def test_what_the_jobs_took_stands_apart_from_what_would_be_written(run: Any, folder: Path) -> None:
    """Between the lists' figure and that of the jobs, and it is said what pulls it there; a share of a list reads as people write one."""
    told = run("learn", folder, "--json").json["lessons"]
    assert all(abs(one["learned"] - one["listed"]) <= abs(one["took"] - one["listed"]) + 1e-9 for one in told if one["took"] is not None)
    hours = next(one for one in told if one["status"] == "proposed" and one["id"].startswith("hours/"))
    report = run("learn", folder, "--all").out.decode()
    row = next(line for line in report.splitlines() if line.startswith("Hours: ") and hours["id"] in line)
    assert re.search(rf"100% +{hours['took'] * 100:.0f}% +{hours['learned'] * 100:.0f}% ", row), row
    assert "pulled toward the figure in the lists, which counts as much as 5 jobs until jobs have moved it" in " ".join(report.split())
    assert not re.search(r"\d %", report)


def test_an_outlier_says_of_what_and_in_which_unit(run: Any, folder: Path) -> None:
    """Twenty times the hours of the orders are left out, in hours."""
    ledger, strange = Ledger(folder), sorted(Ledger(folder).contracts())[3]
    event = next(one for one in ledger.events(strange) if one.what.kind == "worked" and one.what.step == "order")
    ledger.append(strange, event.what.model_copy(update={"hours": event.what.hours * 20}), event.day)
    report = run("learn", folder).out.decode()
    assert re.search(rf"{strange} +Hours: Orders and paperwork +[0-9.]+ h +[0-9.]+ h ", report)


def test_a_lesson_is_accepted_into_a_new_dated_folder(run: Any, folder: Path, tmp_path: Path) -> None:
    """The folder is named, dated and readable; without a name of who accepts nothing is written."""
    first = next(lesson["id"] for lesson in run("learn", folder, "--json").json["lessons"] if lesson["status"] == "proposed")
    refused = run("learn", folder, "--accept", first)
    assert (refused.code, refused.err) == (2, "--by is empty. Say who accepts it: the lists will name that person.\n")
    done = run("learn", folder, "--accept", first, "--by", "Pat", "--out", tmp_path, "--valid-from", "2026-07-01", "--json").json["done"]
    assert "invented_price_lists_2026-07-01" in done[0]
    lists = kit.load_lists(tmp_path / "invented_price_lists_2026-07-01")
    assert any("learned from 9 invented demonstration jobs, accepted by Pat on 2026-03-04" in text for text in lists.texts.values())
    after = run("learn", folder, "--prices", tmp_path / "invented_price_lists_2026-07-01", "--json").json
    assert after["lessons"] == []  # no longer the kit's own lists


def test_a_lesson_is_refused_and_remembered(run: Any, folder: Path) -> None:
    """With its reason; one decision at a time."""
    first = next(lesson["id"] for lesson in run("learn", folder, "--json").json["lessons"] if lesson["status"] == "proposed")
    assert run("learn", folder, "--refuse", first).code == 2
    report = run("learn", folder, "--refuse", first, "--why", "a new helper on most of them", "--by", "Pat").out.decode()
    assert f"Refused: {first}. It comes back when more jobs have finished." in report
    assert "a new helper on most of them" in report
    again = next(lesson for lesson in run("learn", folder, "--json").json["lessons"] if lesson["id"] == first)
    assert (again["status"], again["refused"]["by"]) == ("refused", "Pat")
    both = run("learn", folder, "--refuse", first, "--accept", first)
    assert (both.code, both.err) == (2, "--accept, --refuse, --take-in: Decide one of these at a time.\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--take-in", "JOB-1", "--why", "x"), '"JOB-1" is not a job left out'),
        (("--accept", "hours/none", "--by", "Pat"), '"hours/none" is not something jobs teach'),
        (("--as-of", "soon"), '--as-of: "soon" is not a day'),
        (("--invent", "3"), "is not empty. An invented history needs a folder of its own"),
    ],
)
def test_what_can_not_be_is_refused(run: Any, folder: Path, words: tuple[str, ...], said: str) -> None:
    """One sentence, exit 2; a file is no folder."""
    refused = run("learn", folder, *words)
    assert refused.code == 2
    assert said in refused.err
    assert "is not a folder of jobs" in run("learn", folder / "contracts.sqlite").err


def test_a_folder_without_a_finished_job_says_so(run: Any, tmp_path: Path) -> None:
    """Instead of counts of nothing."""
    report = run("learn", tmp_path).out.decode()
    assert "0 of 0 jobs finished" in report
    assert report.endswith("No job of this folder has finished yet: there is nothing to learn from.\n")


def test_an_invented_history_is_written_into_a_new_folder(run: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And what it teaches is told at once; its lists are those of the kit."""
    small = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    monkeypatch.setattr(invented, "_examples", lambda: [small])
    told = run("learn", tmp_path / "new", "--invent", "2", "--json").json
    assert (told["jobs"], told["invented"]) == (2, True)
    assert (tmp_path / "new" / "price_lists" / "rates.csv").read_bytes() == (kit.shipped("price_lists") / "rates.csv").read_bytes()


def test_all_jobs_stand_in_one_table(run: Any, folder: Path) -> None:
    """State, mount, counter, price, margin and hours as promised and real, days; as data and as a report."""
    told = run("jobs", folder, "--json").json["contracts"]
    assert len(told) == 9
    for job in told:
        assert (job["stage"], job["mount"], job["counter"], job["invented"]) == ("finished", "top", "laminate-own", True)
        assert job["margin_promised"] > 0
        assert job["margin_real"] == pytest.approx(1 - float(job["cost_real"]) / (float(job["cost_promised"]) / (1 - job["margin_promised"])), abs=1e-3)
        assert job["hours_real"] > 0
        assert job["days"] > 20
    report = run("jobs", folder).out.decode()
    for words in ("Margin", "Hours", "Days since", "finished", "9 of these jobs are invented: a demonstration.", "What is billed and paid"):
        assert words in report


def test_quantities_and_days_of_a_purchase_reach_the_ledger(run: Any, job_file: Any) -> None:
    """From the options of `spent`; the day of the order from an earlier order of that number; what can't be is refused."""
    assert run("issue", job_file()).code == 0
    issued = job_file().parent / "DEMO-001-r01.json"
    run("sign", issued, "--day", "2026-03-05")
    kind = ("--code", "310", "--kind", "material", "--text", "Shims", "--order", "7")
    assert run("spent", issued, "--amount", "9.00 USD", "--day", "2026-03-06", *kind, "--ordered").code == 0
    goods = ("--item", "shim", "--quantity", "24", "--left", "4", "--delivery-day", "2026-03-12")
    assert run("spent", issued, "--amount", "9.00 USD", "--day", "2026-03-20", *kind, *goods).code == 0
    (bought,) = [row for row in list_jobs(issued.parent).rows[0].spent if row.item]
    assert (bought.quantity, bought.left, f"{bought.order_day}", f"{bought.delivery_day}") == (24.0, 4.0, "2026-03-06", "2026-03-12")
    for wrong, said in (
        (("--item", "gold"), 'item: "gold" is in no list'),
        (("--quantity", "3"), "item is empty. A quantity needs the item that it is of"),
        (("--item", "shim", "--quantity", "3", "--left", "4"), 'left: "4" is more than was bought'),
        (("--order-day", "2026-03-09", "--delivery-day", "2026-03-08"), '--delivery-day: "2026-03-08" is before the day of the order'),
    ):
        refused = run("spent", issued, "--amount", "9.00 USD", *kind, *wrong)
        assert refused.code == 2
        assert said in refused.err
