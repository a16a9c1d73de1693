"""The proposal held against takeoff, calendar and payments: nothing promised that is not priced, nothing priced that is excluded, no word of cost."""

import datetime as dt
import re
from collections.abc import Iterator
from typing import Any

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, example, lists

from kit.compare.options import compare_alternates
from kit.estimate import Estimate
from kit.export.proposal import offers_from, proposal_document
from kit.issued import issue_estimate, list_issued, open_issued
from kit.outlook import schedule_of
from kit.pricing.draws import plan_draws
from kit.records import Kind
from kit.steps import Step

BUILDABLE = 60
MONTHS = [dt.date(2026, month, 1).strftime("%B") for month in range(1, 13)]
SILENT = {Step.VISIT, Step.TRIPS}
INNER = re.compile(r"\b(costs?|margin|markup|mark-up|wages?|burden|overhead|profit|contingency|gross|worker-hours?)\b", re.IGNORECASE)
OUR_RISKS = ("sink arrives damaged", "must be made again", "blank is spoiled", "Punch list")
THINGS = {"Faucet": "faucet", "Strainer": "strainer", "Disposer": "disposer", "Dishwasher": "dishwasher"}
PARTS = {
    "Sink": "sink",
    "Faucet": "faucet",
    "Strainer": "strainer",
    "Disposer": "disposer",
    "Dishwasher": "dishwasher",
    "Counter": "counter",
    "Splash": "splash",
    "Drain in the wall": "drain_move",
    "Wall": "wall_repair",
    "Debris": "haul_away",
}
HIRED_FOR = {"a licensed plumber": "hire-plumber", "a licensed electrician": "hire-electrician", "laboratory tests a sample": "floor-test"}


def day_of(words: str) -> dt.date:
    """The day that a paper writes out, such as "Thursday, April 2, 2026"."""
    _, month, day, year = words.replace(",", "").split()
    return dt.date(int(year), MONTHS.index(month) + 1, int(day))


def texts_in(data: Any) -> Iterator[str]:
    """Every text of the document, whatever it stands in."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from texts_in(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from texts_in(value)


def said_twice(found: Estimate) -> list[str]:
    """What proposal and estimate say differently."""
    document = proposal_document(found)
    return [*_scope(found, document), *_work(found, document), *_payments(found, document), *_words(found, document)]


def _scope(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    bought = {line.item for line in found.lines if line.kind is Kind.BUY}
    rows = {row["part"]: row for row in document["scope"]}
    for part, row in rows.items():
        item = getattr(found.job.scope, PARTS[part])
        if part in THINGS and (row["brought"] == "us") != (THINGS[part] in bought):
            yield f"{part}: brought by {row['brought']}, bought {THINGS[part] in bought}"
        if part == "Sink" and (row["brought"] == "us") != (found.job.sink.item in bought):
            yield "Sink: brought or bought"
        if item.excluded or any(text.startswith(f"{part}:") for text in document["excluded"]):
            yield f"{part}: promised and excluded"
        if "you" in {row["brought"], row["fitted"]} and "customer" not in {item.supplied_by, item.installed_by}:
            yield f"{part}: the customer's, and the scope says otherwise"
        if item.ours_to_install and item.renewed and row["fitted"] == "–" and part not in {"Drain in the wall", "Debris"}:
            yield f"{part}: ours to fit, and not priced"
    for part in ("Sink", *THINGS, "Counter"):
        item = getattr(found.job.scope, PARTS[part])
        if item.renewed and (rows.get(part, {}).get("fitted", "–") == "–"):
            yield f"{part}: in the scope, and nobody fits it"
    for part, thing in THINGS.items():
        if thing in bought and part not in rows:
            yield f"{part}: priced and not promised"


def _work(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    priced = {line.step for line in found.lines if line.kind in {Kind.DO, Kind.HIRE}}
    calendar = {row.step for row in schedule_of(found).schedule.steps} - SILENT
    yield from (f"{step}: on the calendar and not priced" for step in calendar - priced)
    named = len(document["steps"])
    if named < len(calendar) - 3:  # a few steps share a sentence
        yield f"{len(calendar)} steps, {named} sentences"
    items = {line.item for line in found.lines}
    rights = " ".join(document["rights"])
    yield from (f"{words}, and {item} is not priced" for words, item in HIRED_FOR.items() if words in rights and item not in items)
    if "floor-test" in items and not re.search("before a laboratory has tested|laboratory tests a sample", rights):
        yield "a test is priced and not said"


def _payments(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    steps = {row.step for row in schedule_of(found).schedule.steps}
    plan = plan_draws(found)
    for draw in plan.draws[:-1]:
        if draw.step is not None and draw.step not in steps:
            yield f"paid {draw.label}, which is no event of this job"
    if len(document["draws"]) != len(plan.draws):
        yield "payments that the plan does not have"
    today = document["day"]
    last = [day_of(row["when"]).isoformat() for row in document["days"] if re.search(r"\d{4}$", row["when"])]
    if last != sorted(last) or any(day < today for day in last[1:]):
        yield f"days {last} of a paper of {today}"


def _words(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    own = {found.job.identity.customer, found.job.identity.address}
    for text in texts_in({key: value for key, value in document.items() if key not in {"foot", "customer", "address", "summary"}}):
        if text not in own and INNER.search(text):
            yield f"a word of ours: {text}"
        if any(words in text for words in OUR_RISKS):
            yield f"our own risk: {text}"


@pytest.mark.parametrize("stem", STEMS)
def test_an_example_says_one_thing(stem: str) -> None:
    """Every shipped example."""
    assert said_twice(estimated(stem)) == []


def try_jobs(count: int) -> list[str]:
    """The faults of the first so many random jobs that can be built."""
    wrong, tried, seed = [], 0, 0
    while tried < count:
        found = random_estimate(seed)
        seed += 1
        if found.buildable and all(purchase.proven for purchase in found.purchases):
            tried += 1
            wrong += [f"{seed - 1}: {fault}" for fault in said_twice(found)]
    return wrong


def test_a_few_random_jobs_say_one_thing() -> None:
    """The first eight that can be built."""
    assert try_jobs(8) == []


@pytest.mark.long
def test_random_jobs_say_one_thing() -> None:
    """Sixty that can be built."""
    assert try_jobs(BUILDABLE) == []


@pytest.mark.parametrize("stem", STEMS)
def test_options_are_alternates_that_can_be_had(stem: str) -> None:
    """Each offered price is that of a usable alternate with the same sink and counter."""
    options = compare_alternates(example(stem), lists())
    prices = {option.estimate.price for option in options if option.usable and option.counter_kept and option.estimate is not None}
    offers = offers_from(options)
    assert {offer.price for offer in offers} <= prices
    assert all(offer.says.endswith(".") for offer in offers)


def test_a_proposal_issued_late_counts_its_days_from_then(tmp_path: Any) -> None:
    """Issued ninety days after the visit: the signature is expected five days later, and no day lies before the paper's own."""
    found = estimated(STONE)
    late = found.job.identity.visit_date + dt.timedelta(days=90)
    issue_estimate(found, tmp_path, today=late, stop_reason="The days are counted from the paper.")
    issued = open_issued(list_issued(tmp_path, found.job.identity.job_number)[0])
    days = {row["what"]: row["when"] for row in proposal_document(issued.estimate, issued=issued)["days"]}
    hand_signs = late + dt.timedelta(days=found.lists.company.days_to_sign)
    assert days["You sign, as expected"] == f"{hand_signs:%A, %B} {hand_signs.day}, {hand_signs.year}"
    whole = [day_of(when) for when in days.values() if re.search(r"\d{4}$", when)]
    assert len(whole) >= 5
    assert min(whole) == hand_signs


def test_what_is_held_back_and_what_is_warranted_is_said() -> None:
    """Company file: 10 % held, a year of warranty, insurance; an hour of change work is 34.00 x 1.38 x 1.30."""
    document = proposal_document(estimated(STONE))
    last = plan_draws(estimated(STONE)).draws[-1].due
    assert f"10 % is held back until the punch list is done; the last payment, ${last:,.2f}, is what is left then." in document["payment-note"]
    hand_hour = round(34.00 * 1.38 * 1.30 + 1e-9, 2)
    terms = " ".join(document["terms"])
    assert f"charged at ${hand_hour:.2f}" in terms
    assert lists().company.warranty_words in document["terms"]
    assert lists().company.insurance in document["terms"]


def test_the_customers_part_follows_the_job() -> None:
    """Be there for the template where a shop comes to measure; bring what the scope says is yours."""
    shop, own = proposal_document(estimated(STONE)), proposal_document(estimated("laminate_top_mount"))
    assert any("counter shop measures" in words for words in shop["yours"])
    assert not any("counter shop measures" in words for words in own["yours"])
    for words in ("Clear the counters", "pets", "truck"):
        assert any(words in says for says in own["yours"])
    theirs = estimated(STONE, {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}})
    assert any(words.startswith("What you bring") for words in proposal_document(theirs)["yours"])


def test_notices_follow_the_house() -> None:
    """The pamphlet where lead-safe work may be required; the notice of cancellation always, where its rule applies."""
    old, young = (proposal_document(estimated(STONE, {"site.year_built": year}))["notices"] for year in (1962, 2005))
    assert any("pamphlet" in words for words in old)
    assert not any("pamphlet" in words for words in young)
    assert any("right to cancel" in words and "where that rule applies" in words for words in young)


def test_the_comparison_can_fail() -> None:
    """A faucet taken out of the takeoff, and a payment at a step that the job lacks, are found."""
    from dataclasses import replace

    found = estimated(STONE)
    robbed = replace(found, lines=tuple(line for line in found.lines if line.step is not Step.CONNECT_DRAIN))
    assert any("not priced" in fault for fault in said_twice(robbed))
