"""What speaks against giving an estimate out: each refused in words, each outweighed by a reason that is kept."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest

import kit
from kit.errors import IssueError
from kit.issued import issue_estimate, open_issued
from kit.issued.against import find_against
from kit.job import change_job
from kit.outlook import ahead_of, counted_from, plan_schedule

LISTS = kit.load_lists(kit.shipped("price_lists"))
JOB = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
VISIT, DAY = dt.date(2026, 3, 2), dt.date(2026, 3, 4)


def said(job: kit.Job, day: dt.date = DAY, lists: kit.Lists = LISTS, **more: bool) -> list[str]:
    return [str(fault) for fault in find_against(kit.estimate(job, lists), day, **more)]


def faucet_until(day: dt.date) -> kit.Lists:
    """The lists with a faucet whose price ends on a day."""
    prices = {**LISTS.prices, "faucet": tuple(replace(row, effective_to=day) for row in LISTS.prices["faucet"])}
    return replace(LISTS, prices=MappingProxyType(prices))


def test_a_sound_estimate_has_nothing_against_it() -> None:
    """Two days after the visit, with the examples' lists."""
    assert said(JOB) == []


def test_a_price_that_has_ended_by_the_day_of_issue() -> None:
    """It held on the day of the visit and on its last day; the day after it is named with its end."""
    lists = faucet_until(DAY)
    assert said(JOB, DAY, lists) == []
    (sentence,) = said(JOB, DAY + dt.timedelta(days=1), lists)
    assert sentence.startswith("Prices: 1 of ")
    assert "have ended by Thu, Mar 5, 2026: " in sentence
    assert "Invented Plumbing Counter, until Wed, Mar 4, 2026: Single-hole kitchen faucet. Get new ones, or state why these still hold." in sentence


def test_a_price_of_nothing() -> None:
    """However it came into the lists: an editor may have emptied a column."""
    faucets = tuple(replace(row, price=row.price * 0) for row in LISTS.prices["faucet"])
    (sentence,) = said(JOB, DAY, replace(LISTS, prices=MappingProxyType({**LISTS.prices, "faucet": faucets})))
    assert sentence.startswith("Prices: 1 of ")
    assert "stand at zero: Invented Plumbing Counter, since Thu, Jan 1, 2026: Single-hole kitchen faucet. Correct them, or state why" in sentence


def test_prices_older_than_the_company_allows() -> None:
    """180 days from 2026-01-01 end on 2026-06-30; counted to the day of issue and not of the visit."""
    hand_last_day = dt.date(2026, 1, 1) + dt.timedelta(days=180)
    job = change_job(JOB, {"terms.signed_on": dt.date(2026, 12, 1)})
    assert said(job, hand_last_day) == []
    (sentence,) = said(job, hand_last_day + dt.timedelta(days=1))
    assert "are older than 180 days on Wed, Jul 1, 2026: " in sentence
    assert "more. Get new ones, or state why these still hold." in sentence
    assert sentence.count("since Thu, Jan 1, 2026") == 1, "supplier and day stand once for all that share them"


def test_days_in_the_past() -> None:
    """The signature is expected five days after the visit, or on the day that the terms name; not once the contract is signed."""
    assert said(JOB, VISIT + dt.timedelta(days=5)) == []
    (sentence,) = said(JOB, VISIT + dt.timedelta(days=6))
    assert sentence.startswith(
        "Days would count from a signature on Sat, Mar 7, 2026 (5 days after the visit of Mon, Mar 2, 2026), and it is Sun, Mar 8, 2026 already: "
        "the papers count from Fri, Mar 13, 2026 instead."
    )
    made, late = kit.estimate(JOB, LISTS), VISIT + dt.timedelta(days=6)
    assert plan_schedule(ahead_of(made, late)) == plan_schedule(counted_from(made, dt.date(2026, 3, 13))), "the papers do"
    named = change_job(JOB, {"terms.signed_on": dt.date(2026, 3, 20)})
    assert said(named, dt.date(2026, 3, 20)) == []
    assert "Fri, Mar 20, 2026 (the terms say so)" in said(named, dt.date(2026, 3, 21))[0]
    assert said(JOB, VISIT + dt.timedelta(days=6), after_signing=True) == []


def test_an_issue_before_the_visit() -> None:
    """One of the two days is a slip of the pen; on the day of the visit it may go out."""
    assert said(JOB, VISIT) == []
    (sentence,) = said(JOB, VISIT - dt.timedelta(days=1))
    assert sentence == "The day of issue, Sun, Mar 1, 2026, is before the visit of Mon, Mar 2, 2026. Fix whichever is wrong, or state why."


def test_lists_that_fell_back() -> None:
    """The kit's invented lists in place of the user's own."""
    (sentence,) = said(JOB, fell_back=True)
    assert sentence.startswith(
        "Price lists are the kit's invented ones, because no folder price_lists lies in or beside the folder of the job. Was yours renamed"
    )


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"scope.strainer.installed_by": "nobody"}, '"Scope: strainer" says stop: the strainer is in the scope, but nobody is to do the work'),
        ({"plumbing.disposer": "new", "scope.disposer.supplied_by": "excluded", "scope.disposer.installed_by": "nobody"}, '"Scope: disposer" says stop: '),
    ],
)
def test_a_scope_against_itself(changes: dict[str, Any], sentence: str) -> None:
    """What no rule settles is a stop, and so it is not given out without a reason."""
    assert any(text.startswith(sentence) for text in said(change_job(JOB, changes)))


def test_a_reason_outweighs_it_and_is_kept_with_what_spoke_against_it(tmp_path: Path) -> None:
    """All refused in one report and nothing written; with a reason both stand in the document."""
    made, day = kit.estimate(JOB, LISTS), dt.date(2026, 12, 1)
    with pytest.raises(IssueError, match=r"(?s)Price lists are the kit's.*Prices: .* are older than 180 days.*Days would count") as refused:
        issue_estimate(made, tmp_path, today=day, fell_back=True)
    assert list(tmp_path.iterdir()) == []
    issued = open_issued(issue_estimate(made, tmp_path, today=day, fell_back=True, stop_reason=" the yard holds its prices "))
    assert issued.stop_reason == "the yard holds its prices"
    assert issued.content["against"] == [str(fault) for fault in refused.value.faults]
