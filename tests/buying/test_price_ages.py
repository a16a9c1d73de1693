"""Prices that nobody asked about for long: how many, which is the oldest, and only those that the job really uses."""

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import replace
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit import Estimate, Lists, estimate, load_lists, read_job, shipped
from kit.buying.price_ages import _some, check_price_ages, price_row_of
from kit.draw.why import explain_number
from kit.job import change_job
from kit.lists.goods_rows import Price
from kit.records import Finding, Level

STONE = shipped("examples") / "stone_apron_single_bowl.toml"
LISTS = load_lists(shipped("price_lists"))


def with_prices(lists: Lists, moved: Callable[[Price], Price], *, most: int | None = None) -> Lists:
    """The lists with price rows moved in time, and another age that is allowed."""
    prices = {item: tuple(moved(row) for row in rows) for item, rows in lists.prices.items()}
    company = lists.company if most is None else replace(lists.company, stale_after_days=most)
    return replace(lists, prices=MappingProxyType(prices), company=company)


def since(day: str, *items: str) -> Callable[[Price], Price]:
    return lambda row: replace(row, effective_from=dt.date.fromisoformat(day)) if row.item in items or not items else row


def age_of(found: Estimate) -> Finding:
    return next(finding for finding in found.findings if finding.id == "prices/age")


@pytest.mark.parametrize(("most", "level"), [(60, Level.OK), (59, Level.CAUTION), (61, Level.OK), (0, Level.CAUTION)])
def test_a_price_is_old_the_day_after_the_last_that_is_allowed(most: int, level: Level) -> None:
    """From 2026-01-01 to the visit of 2026-03-02 are 31 + 28 + 1 = 60 days."""
    hand_days = 31 + 28 + 1
    found = age_of(estimate(read_job(STONE), with_prices(LISTS, since("2026-01-01"), most=most)))
    assert found.level is level
    assert f"{hand_days} days old (dated Thu, Jan 1, 2026)" in found.measured
    assert ".csv" not in found.basis
    assert "_" not in found.basis
    assert found.limit == f"at most {most} days old on Mon, Mar 2, 2026"
    assert (found.margin, found.unit) == (most - hand_days, "days")


def test_the_caution_tells_how_many_the_oldest_and_whom_to_ask() -> None:
    """A faucet of 2025-03-01 (366 days) and two kinds of plumbers' goods of 2025-08-01 (213 days) among prices of this year."""
    lists = with_prices(LISTS, lambda row: since("2025-03-01", "faucet")(since("2025-08-01", "strainer", "putty")(row)))
    made = estimate(read_job(STONE), lists)
    found = age_of(made)
    stale = [row for row in {price_row_of(one, lists) for one in made.purchases} if row is not None and row.effective_from.year == 2025]
    assert found.level is Level.CAUTION
    assert {row.item for row in stale} == {"faucet", "strainer", "putty"}
    assert found.measured.startswith("3 of ")
    assert "the oldest: Single-hole kitchen faucet from Invented Plumbing Counter, 366 days old (dated Sat, Mar 1, 2025)" in found.measured
    assert "since Sat, Mar 1, 2025: Single-hole kitchen faucet; since Fri, Aug 1, 2025: Plumber's putty, Basket strainer" in found.basis
    assert "ask Invented Plumbing Counter (3);" in found.basis
    assert found.basis.startswith("the limit is the company's own; ask ")
    assert made.findings.index(found) < next(place for place, one in enumerate(made.findings) if one.level is Level.OK)


def test_many_old_prices_are_counted_and_not_all_named() -> None:
    """All prices of the job at once: a dozen names, how many more, every supplier with its number."""
    made = estimate(read_job(STONE), with_prices(LISTS, since("2025-01-01")))
    used = {price_row_of(one, made.lists) for one in made.purchases}
    found, rows = age_of(made), {row for row in used if row is not None and row.supplier != LISTS.company.name}
    names = {made.lists.item(row.item).name for row in rows}
    assert len(used) == len(rows) + 1  # our own trips to the shops
    assert LISTS.company.name not in found.basis
    assert found.measured.startswith(f"{len(rows)} of {len(rows)} too old")
    assert found.basis.endswith(f"and {len(names) - 12} more")
    assert len([name for name in names if name in found.basis]) <= 13  # a name may be part of another
    assert sum(int(count) for count in re.findall(r"\((\d+)\)", found.basis)) == len(rows)


@pytest.mark.parametrize(("count", "hand_end"), [(12, "name 12"), (13, "name 12 and 1 more")])
def test_a_dozen_names_are_said(count: int, hand_end: str) -> None:
    """The thirteenth is counted."""
    assert _some([f"name {number}" for number in range(1, count + 1)]).endswith(hand_end)


def test_prices_that_the_job_does_not_use_may_be_as_old_as_they_like() -> None:
    """A dear shop's row, another item's and a row that ended: none of them is in a purchase."""
    used = {row.id for row in (price_row_of(one, LISTS) for one in estimate(read_job(STONE), LISTS).purchases) if row is not None}
    assert len(used) < sum(len(rows) for rows in LISTS.prices.values())
    lists = with_prices(LISTS, lambda row: row if row.id in used else replace(row, effective_from=dt.date(2019, 1, 1)))
    assert age_of(estimate(read_job(STONE), lists)) == age_of(estimate(read_job(STONE), LISTS))


def test_what_the_van_holds_has_no_age() -> None:
    """An offcut is in no list; a job that buys nothing has no finding."""
    job = read_job(STONE)
    offcut = change_job(job, {"offcuts": [{"item": "lumber-2x4", "length": "240 in", "count": 4}]})
    made = estimate(offcut, LISTS)
    assert any(price_row_of(one, LISTS) is None for one in made.purchases)
    assert age_of(made).level is Level.OK
    assert check_price_ages(made.job, (), LISTS) == []


@given(st.integers(0, 400), st.integers(0, 400))
def test_a_later_visit_never_makes_a_price_younger(first: int, more: int) -> None:
    """And the age never says stop: the price may still hold."""
    job = read_job(STONE)
    purchases = estimate(job, LISTS).purchases
    days = (dt.date(2026, 1, 1) + dt.timedelta(days=count) for count in (first, first + more))
    sooner, later = (check_price_ages(change_job(job, {"identity.visit_date": day}), purchases, LISTS)[0] for day in days)
    assert sooner.level <= later.level <= Level.CAUTION
    assert (later.margin or 0) - (sooner.margin or 0) == -more


def test_examples_stay_usable(example_estimate: Estimate) -> None:
    """None of the shipped jobs starts with a warning of age."""
    assert age_of(example_estimate).level is Level.OK


def test_why_tells_since_when_a_price_holds() -> None:
    """Asked about a purchase; not while the customer looks on."""
    made = estimate(read_job(STONE), LISTS)
    assert "holds since Thu, Jan 1, 2026, 60 days before the visit" in explain_number(made, "buy:faucet")
    assert "holds since" not in explain_number(made, "buy:faucet", private=True)
    assert "tape" not in explain_number(made, "finding:prices/age")
