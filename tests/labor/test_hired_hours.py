"""Hired trades on the calendar: hours from the list, cost only in the purchases."""

from dataclasses import replace
from decimal import Decimal

import pytest
from work_jobs import EXAMPLES, STONE, estimated

from kit.labor.job_work import calendar_tasks
from kit.records import Kind
from kit.steps import Step

DRAIN = "corner_dishwasher_drain_down"


def hired(stem, changes=None):
    return {task.step: task for task in estimated(stem, changes).hired}


def test_the_fabricator_comes_twice():
    """One hour for the template by one; to set: 2 h for the trip and 0.1 h a square foot over 17 sq ft by two (invented hours)."""
    tasks = hired(STONE)
    hand_set = 2 + 17 * 0.1
    assert list(tasks) == [Step.TEMPLATE, Step.SET_COUNTER]
    assert (tasks[Step.TEMPLATE].hours_likely, tasks[Step.TEMPLATE].crew) == (1, 1)
    assert tasks[Step.SET_COUNTER].hours_likely == pytest.approx(hand_set)
    assert tasks[Step.SET_COUNTER].duration_h == pytest.approx(hand_set / 2)
    assert {task.trade for task in tasks.values()} == {"fabricator"}


def test_plumber_and_electrician_by_the_hour():
    """As many likely hours as the takeoff hires, at the rate of the purchase; the spread is the list's."""
    found = estimated(DRAIN)
    lines = {(line.step, line.item): line for line in found.lines if line.kind is Kind.HIRE}
    tasks = {task.step: task for task in found.hired}
    prices = {purchase.item: purchase.unit_price for purchase in found.purchases}
    visits = (("hire-plumber", Step.ROUGH_DRAIN), ("hire-electrician", Step.ROUGH_ELECTRIC), ("hire-electrician", Step.ELECTRIC_DEVICE))
    for item, step in visits:
        task, hours = tasks[step], lines[step, item].quantity
        assert (task.hours_low, task.hours_likely, task.hours_high) == pytest.approx((0.8 * hours, hours, 1.6 * hours))
        assert task.rate == prices[item] > 0
    assert tasks[Step.ROUGH_DRAIN].trade == "plumber"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_hired_work_is_paid_once(path):
    """The tasks cost nothing beside the purchases; own tasks are own people's alone."""
    found = estimated(path.stem)
    assert all(task.amount == 0 for task in found.hired)
    assert {task.trade for task in found.tasks} == {"crew"}
    assert found.amount("labor") == sum((task.amount for task in found.tasks), Decimal(0))
    assert found.hours == pytest.approx(sum(task.hours_likely for task in found.tasks))


def test_a_laboratory_takes_no_time_in_the_house():
    """What the list doesn't name is a price without time."""
    found = estimated(DRAIN)
    assert any(line.item == "floor-test" for line in found.lines)
    assert all("laboratory test" not in task.basis for task in found.hired)


def test_a_shared_step_lasts_as_long_as_the_longer():
    """Our meeting takes 0.9 h, the fabricator's template 1 h: one step of ours that lasts an hour."""
    found = estimated(STONE)
    own = next(task for task in found.tasks if task.step is Step.TEMPLATE)
    assert own.duration_h == pytest.approx(0.9)
    step = next(task for task in calendar_tasks(found.tasks, found.hired, (), found.lists) if task.step is Step.TEMPLATE)
    assert (step.trade, step.duration_h, step.crew) == ("crew", 1, own.crew)
    assert step.hours_low <= step.hours_likely <= step.hours_high


def test_a_shared_step_that_is_ours_for_longer_stays_as_it_is():
    """An hour of a trade within two of ours."""
    found = estimated(STONE)
    own = next(task for task in found.tasks if task.step is Step.TEMPLATE)
    longer = replace(own, hours_likely=2.0, hours_high=3.0, duration_h=2.0)
    assert longer in calendar_tasks([longer], found.hired, (), found.lists)


def test_the_electrician_comes_before_the_patch_and_after_it():
    """Cable and box before the wall closes, the device after it; a plumber hangs the disposer in between."""
    changes = {"scope.disposer": {"supplied_by": "us", "installed_by": "trade"}, "plumbing.disposer": "new", "old.disposer": False}
    found = estimated(STONE, changes)
    trades = {task.step: task.trade for task in found.hired}
    assert (trades[Step.ROUGH_ELECTRIC], trades[Step.CONNECT_DISPOSER], trades[Step.ELECTRIC_DEVICE]) == ("electrician", "plumber", "electrician")
    hand_hours = {Step.ROUGH_ELECTRIC: 1.5, Step.ELECTRIC_DEVICE: 1.0}  # 2.5 h as before, in two visits
    assert {step: task.hours_likely for step, task in ((task.step, task) for task in found.hired) if step in hand_hours} == pytest.approx(hand_hours)


def test_hauled_and_patched_by_others():
    """Pounds and square feet have their hours too."""
    changes = {"scope.haul_away": {"supplied_by": "trade", "installed_by": "trade"}, "scope.wall_repair": {"supplied_by": "trade", "installed_by": "trade"}}
    tasks = hired(STONE, changes)
    assert (tasks[Step.HAUL].trade, tasks[Step.PATCH_WALL].trade) == ("hauler", "wall trade")
    assert tasks[Step.HAUL].hours_likely > 0


def test_a_trade_never_lifts_a_heavy_sink_alone():
    """118 lb: three people by the crew table, the plumber's own; the hours that are paid stay the same, they are there for a third of them."""
    found = estimated(STONE, {"scope.sink": {"supplied_by": "us", "installed_by": "trade"}})
    task = next(task for task in found.hired if task.step is Step.SET_SINK)
    assert (task.trade, task.crew, found.design.lift.lifters) == ("plumber", 3, 3)
    assert task.duration_h == pytest.approx(task.hours_likely / 3)
    assert task.basis.endswith("by 3 of their people, because of the sink's weight")
    said = next(finding for finding in found.findings if finding.id == "lift/hired")
    assert "Book the trade with 3 people" in said.remedy
    assert not [finding for finding in estimated(STONE).findings if finding.id == "lift/hired"]
    for weight, hand_crew, hand_said in (("40 lb", 1, False), ("100 lb", 2, True)):
        other = estimated(STONE, {"scope.sink": {"supplied_by": "us", "installed_by": "trade"}, "sink.weight": weight})
        task = next(task for task in other.hired if task.step is Step.SET_SINK)
        assert (task.crew, task.basis.endswith(f"by {hand_crew} of their people, because of the sink's weight")) == (hand_crew, hand_said)
