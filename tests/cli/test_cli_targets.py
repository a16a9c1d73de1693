"""`sinkset target` works back; `sinkset estimate` tells the customer's payments and our cash."""

import datetime as dt
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, put


def test_a_wanted_margin_a_wanted_price_and_a_wanted_crew_day(run: Any) -> None:
    """Each is met, told with what the owner then gets, beside the job as it is."""
    told = run("target", EXAMPLE, "--margin", "35 %", "--price", "12000 USD", "--crew-day", "$1,000", "--json").json
    as_it_is = run("estimate", EXAMPLE, "--json").json
    assert {name: told["as_it_is"][name] for name in ("price", "cost", "margin")} == {name: as_it_is[name] for name in ("price", "cost", "margin")}
    margin, price, crew_day = told["targets"]
    cost = Decimal(as_it_is["cost"])
    assert [one["wanted"] for one in told["targets"]] == ["margin", "price", "crew_day"]
    assert all(one["exact"] and Decimal(one["cost"]) == cost for one in told["targets"])
    hand_price = cost / Decimal("0.65")  # cost over one less the margin; this job collects no tax
    assert 0 <= Decimal(margin["price"]) - hand_price < Decimal("0.01")
    hand_margin = (12000 - cost) / 12000
    assert (price["price"], price["margin"]) == ("12000.00", pytest.approx(float(hand_margin), abs=5e-5))
    hand_gross = 1000 * Decimal(str(told["crew_days"]))
    assert abs(Decimal(crew_day["gross"]) - hand_gross) <= Decimal("0.01")
    assert crew_day["per_crew_day"] == "1000.00"


def test_the_line_that_is_told_gives_the_price_that_is_told(run: Any, job_file: Any) -> None:
    """Written into the job file under its terms, the profit gives the wanted price to the cent."""
    said = run("target", EXAMPLE, "--price", "12000 USD").out.decode()
    line = re.search(r'Price of \$12,000\.00: profit = "([^"]+)"', said)
    assert line
    assert run("estimate", job_file(put("terms.profit", line[1])), "--json").json["price"] == "12000.00"


def test_a_loss_is_told_and_no_line_for_it(run: Any) -> None:
    """A price below cost with overhead has no place in a job file."""
    said = " ".join(run("target", EXAMPLE, "--margin", "1 %").out.decode().split())
    assert "Margin of 1%: a job file can't say it: " in said


def test_the_least_charge_is_the_next_price_there_is(run: Any) -> None:
    """What the least charge skips is told as not met."""
    ended = run("target", EXAMPLE, "--price", "100 USD")
    assert ended.code == 0
    assert "next possible" in ended.out.decode()
    assert run("target", EXAMPLE, "--price", "100 USD", "--json").json["targets"][0]["price"] == "450.00"


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ((), "give at least one of them"),
        (("--margin", "35", "--price", "12000"), r'--margin: "35" has no unit[^\n]*\n--price: "12000" has no currency'),
        (("--margin", "100 %"), "Margin of 100%: No price leaves that much. Ask for less than 100%."),
        (("--crew-day", "-5 USD"), "--crew-day: .*has a sign"),
    ],
)
def test_what_can_not_be_wanted_ends_with_2(run: Any, words: tuple[str, ...], wanted: str) -> None:
    """One report of all of it, nothing on standard output."""
    ended = run("target", EXAMPLE, *words)
    assert (ended.code, ended.out) == (2, b"")
    assert re.search(wanted, ended.err), ended.err


def test_payments_sum_to_the_price_and_cash_to_what_is_left(run: Any, example: Path) -> None:
    """To the cent; what we front at the end is the price less cost and collected tax, with the sign turned."""
    told = run("estimate", example, "--json").json
    price, cost = Decimal(told["price"]), Decimal(told["cost"])
    assert sum(Decimal(draw["due"]) for draw in told["draws"]) == price
    days = [draw["day"] for draw in told["draws"]]
    assert days == sorted(days)
    assert (told["draws"][0]["step"], told["draws"][-1]["step"]) == (None, "punch-list")
    cash = told["cash"]
    collected = sum(Decimal(row["amount"]) for row in told["build_up"] if row["id"] == "tax-collected")
    assert Decimal(cash["days"][-1]["fronted"]) == -(price - cost - collected)
    assert sum(Decimal(flow["amount"]) for flow in cash["flows"]) == price - cost - collected
    assert Decimal(cash["most_fronted"]) == max(Decimal(0), *(Decimal(day["fronted"]) for day in cash["days"]))


def test_the_report_shows_payments_and_the_worst_day(run: Any) -> None:
    """The day, and how much of our own money is in the job then."""
    told, said = run("estimate", EXAMPLE, "--json").json, run("estimate", EXAMPLE, "--cash").out.decode()
    assert "Customer's payments" in said
    assert "Cash by day" in said
    most = f"{Decimal(told['cash']['most_fronted']):,}"
    worst = dt.date.fromisoformat(told["cash"]["worst_day"])
    assert f"Our money out is ${most} at most, on {worst:%a, %b} {worst.day}, {worst.year}." in said
    for draw in told["draws"]:
        assert f"${Decimal(draw['due']):,}" in said


def test_a_capped_deposit_says_so(run: Any, job_file: Any) -> None:
    """A state's preset holds the deposit down, and the report names the most it may be."""

    def change(document: Any) -> None:
        put("site.state", "ca")(document)
        put("terms.state_preset", "ca-lump-sum")(document)
        put("terms.deposit", "30 %")(document)

    path = job_file(change)
    told = run("estimate", path, "--json").json
    hand_limit = min(Decimal(1000), (Decimal(told["price"]) / 10).quantize(Decimal("0.01"), "ROUND_FLOOR"))
    assert Decimal(told["draws"][0]["due"]) == hand_limit
    assert f"A deposit of ${hand_limit:,} is the most the state's preset allows." in " ".join(run("estimate", path, "--cash").out.decode().split())
