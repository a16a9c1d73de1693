"""Prices that are too old, as the commands tell them."""

from pathlib import Path
from typing import Any

from changes import EXAMPLE, edit


def test_old_prices_are_told_and_the_job_is_priced_all_the_same(run: Any, price_lists: Path) -> None:
    """A company that allows 30 days: `check` and `estimate` say so in their report and as JSON, and neither ends with an error for it."""
    before = run("estimate", EXAMPLE, "--prices", price_lists, "--json").json
    edit("company.csv", "^stale_after_days,180", "stale_after_days,30")(price_lists)
    checked, found = (run(command, EXAMPLE, "--prices", price_lists, "--json") for command in ("check", "estimate"))
    ages = [next(one for one in ended.json["findings"] if one["id"] == "prices/age") for ended in (checked, found)]
    assert ages[0] == ages[1]
    assert (ages[0]["level"], ages[0]["unit"], ages[0]["margin"]) == ("caution", "days", -30.0)  # 60 days where 30 are allowed
    assert "Get new prices from the stores" in ages[0]["remedy"]
    assert (checked.code, found.code) == (0, 0)
    assert found.json["price"] == before["price"]
    told = run("check", EXAMPLE, "--prices", price_lists)
    assert b"Age of the prices" in told.out  # the rest may stand on the next line of its cell


def test_an_age_that_is_no_whole_number_is_refused(run: Any, price_lists: Path) -> None:
    """With the key and what was given."""
    edit("company.csv", "^stale_after_days,180", "stale_after_days,half a year")(price_lists)
    ended = run("check", EXAMPLE, "--prices", price_lists)
    assert ended.code == 2
    assert 'stale_after_days: "half a year" is not a whole number.' in ended.err
