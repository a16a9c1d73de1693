"""What a finished job says of rates, waste and waits, held against today's lists; what says nothing."""

import datetime as dt
import math
from dataclasses import replace
from decimal import Decimal

import pytest
from work_history import FIRST_END, LISTS, finished_job, goods, hours

from kit.learning.job_rows import PlannedItem, PlannedStep
from kit.learning.list_cells import changes_of
from kit.learning.observations import observe_jobs
from kit.records import CostType

FRAME_RATE = LISTS.rates["frame-member"].likely_h


def observed(*jobs, kind, row):
    return [one for subject, seen in observe_jobs(jobs, LISTS).items() if (subject.kind, subject.row) == (kind, row) for one in seen]


def test_hours_are_held_against_todays_rate_of_the_same_work():
    """Four members at today's rate in a lived-in house (x 1.05), whatever the estimate promised then; call-backs are no part of it."""
    job = finished_job(1, hours("build-frame", 1.2), hours("build-frame", 0.3), hours("build-frame", 2.0, call_back=True))
    hand_expected = 4 * FRAME_RATE * 1.05
    (found,) = observed(job, kind="hours", row="build-frame")
    assert (found.expected, found.actual, found.ended) == (pytest.approx(hand_expected), 1.5, FIRST_END + dt.timedelta(weeks=1))
    assert found.value == pytest.approx(math.log(1.5 / hand_expected))


def test_the_minimum_of_a_short_visit_is_a_policy_and_teaches_nothing():
    """Two round trips and a setup are 1.5 h; half an hour was paid on top, to the minimum. 2.3 h on the sheet: 1.8 h for what 1.5 h were listed."""
    plan = PlannedStep("110", 2.0, (("trip-way", 2.0), ("trip-set-up", 1.0), ("least-visit", 0.5)), 1.0)
    job = finished_job(1, hours("trips", 2.3, code="110"), steps={"trips": plan})
    ((subject, (found,)),) = observe_jobs([job], LISTS).items()
    hand_listed = 2 * LISTS.rates["trip-way"].likely_h + LISTS.rates["trip-set-up"].likely_h
    assert (found.expected, found.actual) == (pytest.approx(hand_listed), pytest.approx(1.8))
    assert subject.rates == ("trip-way", "trip-set-up")
    for learned in (subject, replace(subject, rates=())):  # also where no promise says the kinds of work
        moved = {change.key for change in changes_of(learned, 1.2, LISTS)}
        assert moved == {"trip-way", "trip-set-up"}


def test_work_that_todays_lists_no_longer_know_is_held_against_the_promise():
    """A rate that is gone."""
    job = finished_job(1, hours("build-frame", 2.0), steps={"build-frame": PlannedStep("310", 1.6, (("no-such-work", 4.0),), 1.0)})
    assert observed(job, kind="hours", row="build-frame")[0].expected == 1.6


def test_hours_without_a_step_count_where_the_cost_code_has_one_step():
    """With two steps under the code, that job teaches nothing of either."""
    frame, level = (PlannedStep("310", 1.0, (), 1.0) for _ in range(2))
    alone = finished_job(1, hours(None, 2.0), steps={"build-frame": frame})
    shared = finished_job(2, hours(None, 2.0), hours("level", 1.0), steps={"build-frame": frame, "level": level})
    assert [one.job for one in observed(alone, shared, kind="hours", row="build-frame")] == ["JOB-01"]
    assert observed(alone, shared, kind="hours", row="level") == []


def test_only_finished_jobs_teach():
    """Nothing of a job that is open or was canceled, and nothing of a step without hours."""
    jobs = [finished_job(number, hours("build-frame", 1.0), stage=stage) for number, stage in enumerate(("offered", "signed", "canceled"))]
    assert observe_jobs([*jobs, finished_job(5)], LISTS) == {}


def test_waste_is_what_was_bought_less_what_was_left_or_went_back():
    """100 ft of dust tape net; 3 x 60 came, 60 went back, 8 were left: 112 used, against 100 x (1 + the lists' waste)."""
    rows = (
        goods("dust-tape", quantity=180.0, left=8.0),
        replace(goods("dust-tape", quantity=-60.0), amount=Decimal("-4.00")),
    )
    job = finished_job(1, *rows, items={"dust-tape": PlannedItem(100.0, planned_pieces=False)})
    (found,) = observed(job, kind="waste", row="dust-tape")
    assert (found.expected, found.actual) == (pytest.approx(100 * (1 + LISTS.items["dust-tape"].waste)), pytest.approx(112.0))


def test_of_a_row_that_brought_nothing_nothing_can_be_left():
    """A surcharge on the same item, quantity 0 and no word of what was left: the rest still teaches."""
    job = finished_job(
        1, goods("dust-tape", quantity=120.0, left=8.0), goods("dust-tape", quantity=0.0), items={"dust-tape": PlannedItem(100.0, planned_pieces=False)}
    )
    (found,) = observed(job, kind="waste", row="dust-tape")
    assert found.actual == pytest.approx(112.0)


@pytest.mark.parametrize(
    ("item", "planned", "cells"),
    [
        ("dust-tape", False, {"quantity": 180.0}),  # nobody said what was left
        ("dust-tape", False, {}),  # nor how much came
        ("lumber-2x4", True, {"quantity": 16.0, "left": 1.0}),  # a cut plan says what is left
        ("faucet", False, {"quantity": 1.0, "left": 0.0}),  # a counted piece
        ("shim", None, {"quantity": 12.0, "left": 2.0}),  # not in the estimate
    ],
)
def test_what_says_nothing_of_waste(item, planned, cells):
    """Each of these is left alone."""
    items = {} if planned is None else {item: PlannedItem(10.0, planned_pieces=planned)}
    assert observed(finished_job(1, goods(item, **cells), items=items), kind="waste", row=item) == []


def test_waits_count_from_order_to_delivery_the_last_delivery_of_a_row_counting():
    """By hand: 5 and 9 days with the day of the order among them are 6 and 10; the lists' likely 5 days are 6."""
    ordered = dt.date(2026, 3, 2)
    rows = [goods("faucet", code="420", order_day=ordered, delivery_day=ordered + dt.timedelta(days=days)) for days in (5, 9)]
    (found,) = observed(finished_job(1, *rows), kind="days", row="420")
    assert (found.expected, found.actual) == (LISTS.lead_times["420"].likely_days + 1, 10)


def test_what_has_no_row_of_its_own_waits_as_goods_and_half_a_date_says_nothing():
    """Lumber waits as goods from stock; same-day delivery is one day; without both days nothing is learned."""
    day = dt.date(2026, 3, 2)
    same = finished_job(1, goods("lumber-2x4", order_day=day, delivery_day=day), goods("faucet", code="420", delivery_day=day))
    (found,) = observed(same, kind="days", row="goods")
    assert found.actual == 1
    assert observed(same, kind="days", row="420") == []


def test_waits_for_a_shop_and_for_papers_are_learned_too():
    """A stone counter templated on Monday and set on the Friday after next took nine working days; a permit from Monday to Thursday three."""
    monday, thursday, friday = dt.date(2026, 3, 2), dt.date(2026, 3, 5), dt.date(2026, 3, 13)
    shop = replace(goods("stone-3cm-area", code="510", order_day=monday, delivery_day=friday), cost_type=CostType.HIRED)
    paper = replace(goods("permit", code="110", order_day=monday, delivery_day=thursday), cost_type=CostType.FEE)
    other = replace(goods("stone-edge", code="510", order_day=monday, delivery_day=friday), cost_type=CostType.HIRED)
    job = finished_job(1, shop, paper, other)
    listed = {row: LISTS.lead_times[row].likely_days for row in ("stone", "permit")}
    for row, hand_days in (("stone", 9), ("permit", 3)):
        (found,) = observed(job, kind="days", row=row)
        assert (found.expected, found.actual) == (listed[row] + 1, hand_days + 1)
    assert observed(finished_job(2, other), kind="days", row="stone") == []
