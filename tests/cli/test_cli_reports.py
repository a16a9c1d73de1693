"""What a sound job prints, as JSON and as a report, and how it ends."""

import re
import tomllib
from pathlib import Path
from typing import Any

from changes import EXAMPLE, put

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
    assert b"NOT BUILDABLE" in run("estimate", path).out


def test_check_ends_with_0_when_nothing_says_stop(run: Any) -> None:
    """The example is sound."""
    ended = run("check", EXAMPLE)
    assert ended.code == 0
    assert b"Nothing says stop" in ended.out


def test_report_says_hours_purchases_price_and_assumptions(run: Any, example: Path) -> None:
    """The report of an estimate has all its parts, the price among them, and defers to those who decide."""
    text = run("estimate", example).out.decode()
    for part in ("Findings, worst first", "Hours by step", "Purchases", "How the price is made up", "Terms", "local authority", "prices of 2"):
        assert part in text
    price = run("estimate", example, "--json").json["price"]
    assert f"{float(price):,.2f}" in text


def test_assumptions_are_in_the_report(run: Any, job_file: Any) -> None:
    """What was not measured is said with the value that was taken."""
    path = job_file(put("cabinet.height", "unknown"))
    assert re.search(rb"cabinet\.height +\| 34 1/2 in", run("estimate", path).out)
    assert {"field": "cabinet.height", "value": "34 1/2 in"}.items() <= next(
        one for one in run("check", path, "--json").json["assumptions"] if one["field"] == "cabinet.height"
    ).items()


def test_check_prints_what_needs_a_decision(run: Any) -> None:
    """What is ok is counted, and printed only with a note or with --all."""
    short, long = (run("check", EXAMPLE, *flags).out.decode() for flags in ([], ["--all"]))
    assert "Good to know; nothing to decide" in short
    assert "Vent" not in short
    assert "Vent" in long
    assert "Good to know" not in long
