"""What the commands say of calendar and risk."""

import datetime as dt
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, put

from kit import shipped

CENTS = re.compile(r"-?\d+\.\d\d")


def test_estimate_gives_calendar_and_risk(run: Any, example: Path) -> None:
    """Each example: every step of the tasks on the calendar, P10 to P90 in order, drivers by their share."""
    found = run("estimate", example, "--json").json
    steps = [step["step"] for step in found["schedule"]["steps"]]
    assert {task["step"] for task in found["tasks"]} - {"trips"} <= set(steps)
    assert len(set(steps)) == len(steps)
    ends = [dt.datetime.fromisoformat(step["finish"]) for step in found["schedule"]["steps"]]
    assert dt.datetime.fromisoformat(found["schedule"]["finish"]) == max(ends)
    assert found["schedule"]["own_hours"] == found["hours"]
    risk = found["risk"]
    for kind in ("cost", "finish"):
        points = [risk[kind][name] for name in ("p10", "p50", "p80", "p90")]
        assert points == sorted(points, key=Decimal if kind == "cost" else str)
    assert all(CENTS.fullmatch(amount) for amount in risk["cost"].values())
    assert 0 <= risk["chance_to_lose"] <= risk["chance_to_miss_overhead"] <= 1
    shares = [driver["share"] for driver in risk["drivers"]]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(1, abs=0.01)


def test_report_shows_finish_and_p80(run: Any) -> None:
    """In plain words, with what a temporary sink would cost and spare; days as people write them."""
    document, report = run("estimate", EXAMPLE, "--json").json, " ".join(run("estimate", EXAMPLE).out.decode().split())
    finish, p80 = (dt.datetime.fromisoformat(found) for found in (document["schedule"]["finish"], document["risk"]["finish"]["p80"]))
    assert f"to {finish:%a, %b} {finish.day}; 4 times out of 5 done by {p80:%a, %b} {p80.day}" in report
    assert f"4 times out of 5 no more than ${round(Decimal(document['risk']['cost']['p80'])):,}" in report
    assert f"(+${round(Decimal(document['schedule']['temporary_sink_price']))})" in report
    assert "Travel and setup" in run("estimate", EXAMPLE, "--hours").out.decode()


def test_report_and_document_count_the_same_trips(run: Any, job_file: Any) -> None:
    """Those by the order of the work and three that the job asks for."""
    job = job_file(put("terms.extra_trips", 3))
    trips = run("estimate", job, "--json").json["schedule"]
    hand_priced = len(trips["trips_made"]) + 3
    assert trips["trips_priced"] == hand_priced
    hand_words = f"{hand_priced} trips in the price: {hand_priced - 3} for the work and 3 extra that this job asks for;"
    assert hand_words in " ".join(run("estimate", job, "--calendar").out.decode().split())
    assert f"crew-days in {hand_priced} trips" in run("estimate", job).out.decode()


def test_a_temporary_sink_that_spares_no_day_is_not_offered(run: Any) -> None:
    """Half a day's swap: four hours without a sink either way."""
    job = shipped("examples") / "counter_stays_sink_only.toml"
    assert "temporary" not in run("estimate", job).out.decode()
    calendar = " ".join(run("estimate", job, "--calendar").out.decode().split())
    assert re.search(r"Without a kitchen sink 4 hours, .*; a temporary sink, at \$[\d.]+ more, would not shorten that\.", calendar)


def test_a_temporary_sink_in_the_terms_is_in_the_price(run: Any, job_file: Any) -> None:
    """By what was told before; the report says so."""
    before = run("estimate", EXAMPLE, "--json").json
    path = job_file(put("terms.temporary_sink", True))
    after = run("estimate", path, "--json").json
    assert Decimal(after["price"]) - Decimal(before["price"]) == Decimal(before["schedule"]["temporary_sink_price"])
    assert "(in the price)" in " ".join(run("estimate", path, "--calendar").out.decode().split())
    assert "(in the price)" in " ".join(run("estimate", path).out.decode().split())


def test_a_temporary_sink_that_spares_nothing_is_not_offered(run: Any) -> None:
    """A sink that is swapped in an afternoon: four hours without it either way, and 190 USD for nothing."""
    assert "temporary sink" not in " ".join(run("estimate", EXAMPLE.with_name("counter_stays_sink_only.toml")).out.decode().split())


def test_compare_shows_finish_p50_and_p80_of_each_alternate(run: Any) -> None:
    """The job's own mount as its estimate says; what can't be built has none."""
    document = run("compare", EXAMPLE, "--json").json
    own = next(one for one in document["alternates"] if one["chosen"])["figures"]
    alone = run("estimate", EXAMPLE, "--json").json
    assert (own["finish"], own["cost_p50"], own["cost_p80"]) == (alone["schedule"]["finish"], alone["risk"]["cost"]["p50"], alone["risk"]["cost"]["p80"])
    assert own["finish_p80"] == alone["risk"]["finish"]["p80"]
    keys = ("finish", "finish_p50", "finish_p80", "cost_p50", "cost_p80", "days_without_sink", "chance_to_lose")
    for one in document["alternates"]:
        assert (one["figures"] is not None) is (one["standing"] != "can't be built")
        assert one["figures"] is None or all(one["figures"][key] is not None for key in keys)
    finish = dt.datetime.fromisoformat(own["finish"])
    assert "Work and days" in run("compare", EXAMPLE, "--full").out.decode()
    assert re.search(rf"^-> .*{finish:%b} {finish.day} ", run("compare", EXAMPLE).out.decode(), re.MULTILINE)


@pytest.mark.parametrize("command", ["estimate", "compare"])
def test_a_country_without_holidays_is_bad_input(run: Any, price_lists: Path, tmp_path: Path, command: str) -> None:
    """Said in a sentence, without a traceback; nothing is printed and nothing written."""
    company = price_lists / "company.csv"
    company.write_text(company.read_text(encoding="utf-8").replace("holidays,US,", "holidays,XX,"), encoding="utf-8")
    ended = run(command, EXAMPLE, "--json", "--prices", price_lists, "--out", tmp_path / "out")
    assert ended.code == 2
    assert 'company.csv, row 19, holidays: There is no list of holidays for "XX".' in ended.err
    assert ended.out == b""
    assert not (tmp_path / "out").exists()


def test_chances_are_said_in_one_way(run: Any) -> None:
    """4 in 5, as on the first screen, the charts and the workbook."""
    said = run("estimate", EXAMPLE, "--risk").out.decode()
    assert re.search(r"^4 in 5 +\$[\d,.]+ +\w{3}, ", said, re.MULTILINE)
    assert "To cover the cost in 4 in 5 trials takes a contingency of $" in " ".join(said.split())
    assert "80%" not in said


def test_no_effect_on_the_margin_has_no_sign(run: Any) -> None:
    """A surprise that may not come moves the margin by 0.0 points at best, neither +0.0 nor -0.0."""
    said = run("estimate", shipped("examples") / "corner_dishwasher_drain_down.toml", "--risk").out.decode()
    assert " 0.0 to -" in said
    assert not re.search(r"[+-]0\.0(?!\d)", said)
