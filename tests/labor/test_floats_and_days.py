"""Floats mean what they say, and the days told are those of the calendar."""

from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated

from kit.cli.estimate_document import whole_document
from kit.estimating import Estimate
from kit.labor.calendar import is_working_day
from kit.labor.clock import HOUR, add_working_hours, count_working_hours, last_day
from kit.labor.job_schedule import plan_job
from kit.labor.schedule import OFF_SITE, OWN, plan_early, plan_tasks
from kit.outlook import plan_schedule
from kit.steps import Step

MINUTE = timedelta(minutes=1)


def check_floats(found: Estimate) -> int:
    """Each step held back to its latest start leaves the finish; a working minute more moves it. Gives the steps with float."""
    plan = plan_job(found.job, found.lines, found.tasks, found.hired, found.trips, found.lists, found.step_names)
    soon = plan_tasks(plan.tasks, plan.calendar, plan.start, leads=plan.leads, not_before=plan.not_before)

    soon_from = datetime.combine(plan.start, plan.calendar.start_of_day)

    def finish_when_held(step, until):
        held = {**plan.not_before, step: until}
        _, early = plan_early(plan.tasks, plan.calendar, soon_from, leads=plan.leads, not_before=held)
        return max(end for _, end in early.values())

    for row in soon.steps:
        assert row.float_h == pytest.approx(count_working_hours(plan.calendar, row.start, row.latest_start), abs=1e-6)
        assert row.latest_start >= row.start
        assert finish_when_held(row.step, row.latest_start) == soon.finish, row.step
        later = add_working_hours(plan.calendar, row.latest_start, MINUTE / HOUR)
        assert finish_when_held(row.step, later) > soon.finish, row.step
    return sum(row.float_h > 0 for row in soon.steps)


def check_days(found: Estimate) -> None:
    """Crew-days, trips on the calendar and days without a sink, counted again from the steps; the JSON gives the same."""
    told = plan_schedule(found)
    rows = {row.step: row for row in told.schedule.steps}
    on_site = [row for row in rows.values() if row.trade == OWN and row.step not in OFF_SITE and row.finish > row.start]
    days = set()
    for row in on_site:
        span = (last_day(row.finish) - row.start.date()).days
        days |= {row.start.date() + timedelta(days=n) for n in range(span + 1)}
    assert told.schedule.crew_days == len({day for day in days if is_working_day(told.calendar, day)})
    assert told.finish == max(row.finish for row in rows.values())
    if Step.REMOVE_SINK in rows and Step.FILL_TEST in rows:
        hand_days = (rows[Step.FILL_TEST].finish - rows[Step.REMOVE_SINK].finish) / timedelta(days=1)
        assert told.days_without_sink == pytest.approx(hand_days)
    else:
        assert told.days_without_sink is None
    for before, after in pairwise(sorted(on_site, key=lambda row: row.start)):
        assert before.finish <= after.start, "our people do one step at a time"
    assert sum(len(trip.steps) for trip in told.trips) == len([task for task in found.tasks if task.step not in {*OFF_SITE, Step.TRIPS}])


def test_floats_of_every_example():
    """And some of them have float: the test has something to hold."""
    assert sum(check_floats(estimated(stem)) for stem in STEMS) > 5


def test_floats_and_days_of_jobs_by_chance():
    """Twenty jobs of every kind."""
    found = [random_estimate(seed) for seed in range(20)]
    assert sum(map(check_floats, found)) > 20
    for each in found:
        check_days(each)


@pytest.mark.long
def test_floats_and_days_of_many_jobs_by_chance():
    """Two hundred more."""
    for seed in range(400, 600):
        found = random_estimate(seed)
        check_floats(found)
        check_days(found)


def test_the_document_says_the_same_days():
    """Floats, days and trips in the JSON are those of the calendar; each trip says who travels and why."""
    found = estimated(STONE)
    told, calendar = whole_document(found)["schedule"], plan_schedule(found)
    assert [step["float_h"] for step in told["steps"]] == [round(row.float_h, 2) for row in calendar.schedule.steps]
    assert told["days_on_site"] == calendar.schedule.crew_days
    assert told["days_without_sink"] == pytest.approx(calendar.days_without_sink, abs=1e-4)
    assert [(trip["people"], trip["who"], trip["why"]) for trip in told["trips_made"]] == [
        (1, "1 person", None),
        (3, '3 people, for "Receive and check the goods"', "delivery of a 33 in fireclay sink"),
        (1, "1 person", "fabrication of a stone countertop"),
        (1, "1 person", '24 h after "Seal the joints"'),
        (1, "1 person", '48 h after "Clean up"'),
    ]
