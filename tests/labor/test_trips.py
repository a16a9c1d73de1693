"""How often our people come: from the order and the waits, and what the ways cost."""

from dataclasses import replace
from decimal import Decimal

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, lists

from kit.estimating import estimate, revalue
from kit.labor.job_work import calendar_tasks
from kit.labor.schedule import OFF_SITE
from kit.labor.trips import Trip, count_ways, explain_people, explain_wait, find_trips, staff_trips
from kit.records import Task
from kit.steps import Step

S = Step
OURS = {"supplied_by": "us", "installed_by": "us"}
LOWERED = {"plumbing.stub_height": "20 in", "plumbing.vent_seen": True}


def firsts(stem, changes=None):
    return [trip.first for trip in estimated(stem, changes).trips]


@pytest.mark.parametrize(
    ("stem", "changes", "hand_firsts"),
    [
        # measured; goods and old things out to the template; back when the counter is made; after the cure; after some days of use
        (STONE, {}, [S.VISIT, S.RECEIVE, S.SEAL, S.CONNECT_DRAIN, S.PUNCH_LIST]),
        # the template while the old kitchen works, then all of it at once
        ("solid_surface_flush", {}, [S.VISIT, S.RECEIVE, S.PROTECT, S.CONNECT_DISPOSER, S.PUNCH_LIST]),
        # a flush apron like one under the counter: measured where it stands
        (STONE, {"sink.mount": "flush"}, [S.VISIT, S.RECEIVE, S.SEAL, S.CONNECT_DRAIN, S.PUNCH_LIST]),
        # a wood top of our own: each coat on its fresh edges dries for a day
        ("wood_apron_two_bowl", {}, [S.VISIT, S.RECEIVE, S.COAT_EDGES, S.SET_COUNTER, S.CONNECT_DRAIN, S.PUNCH_LIST]),
        # a drop-in with clips in a counter that stays: once
        ("counter_stays_sink_only", {}, [S.RECEIVE]),
        # we lower the drain ourselves while the old things are out: the inspector is called for then and not before it
        (STONE, {**LOWERED, "scope.drain_move": OURS}, [S.VISIT, S.RECEIVE, S.INSPECT, S.SEAL, S.CONNECT_DRAIN, S.INSPECT_FINAL]),
        # the inspector is waited for, before the wall closes and at the end
        ("corner_dishwasher_drain_down", {}, [S.VISIT, S.RECEIVE, S.INSPECT, S.SEAL, S.CONNECT_DISPOSER, S.INSPECT_FINAL]),
    ],
)
def test_a_wait_begins_a_new_trip(stem, changes, hand_firsts):
    """Delivery, fabrication, cure, inspection, days of use."""
    assert firsts(stem, changes) == hand_firsts


def test_each_trip_says_who_travels_and_why():
    """The step that asks for the most people, and what was waited for."""
    found = estimated(STONE)
    assert [(explain_people(trip, found.step_names), explain_wait(trip, found.step_names, found.lists)) for trip in found.trips] == [
        ("1 person", ""),
        ('3 people, for "Receive and check the goods"', "delivery of a 33 in fireclay sink"),
        ("1 person", "fabrication of a stone countertop"),
        ("1 person", '24 h after "Seal the joints"'),
        ("1 person", '48 h after "Clean up"'),
    ]


def test_a_trip_that_waits_for_the_signature_alone_says_so():
    """With everything on the shelf, all lead times 0, we still come back only when the customer has signed and can't cancel any more."""
    at_once = {name: replace(row, low_days=0.0, likely_days=0.0, high_days=0.0) for name, row in lists().lead_times.items()}
    found = estimate(estimated(STONE).job_as_read, replace(lists(), lead_times=at_once))
    waited = [explain_wait(trip, found.step_names, found.lists) for trip in found.trips]
    assert waited[:2] == ["", "the customer's signature, and the end of the time to cancel"]
    assert all(waited[1:])


def test_ordering_is_no_trip():
    """It is done from the office."""
    assert all(S.ORDER not in trip.steps for trip in estimated(STONE).trips)


def test_every_own_step_is_in_one_trip():
    """All but ordering, what is done in the shop, and the ways themselves."""
    for found in (*map(estimated, STEMS), *map(random_estimate, range(48))):
        steps = [step for trip in found.trips for step in trip.steps]
        assert sorted(steps) == sorted(task.step for task in found.tasks if task.step not in OFF_SITE | {S.TRIPS})
        for trip in found.trips:
            crews = [task.crew for task in found.tasks if task.step in trip.steps]
            assert trip.people == max(crews)


def test_trips_hang_on_no_hours():
    """Neither slow work nor a short day nor the day of the visit changes how often somebody comes."""
    for changes in ({"terms.hours_factor": "200 %"}, {"site.work_day": "5 h"}, {"identity.visit_date": "2026-06-27"}):
        assert firsts(STONE, changes) == firsts(STONE)


def test_a_wait_that_is_sat_out_begins_no_trip():
    """Where people would sit out two days and nights, the cure and the days of use end no trip."""
    patient = replace(lists(), company=replace(lists().company, wait_on_site_h=48.0))
    assert [trip.first for trip in estimated(STONE, {"terms.crew": 1}, patient).trips] == [S.VISIT, S.RECEIVE, S.SEAL]


@pytest.mark.parametrize(("to_sign", "cooling_off", "hand_trips"), [(1, 1, 3), (1, 0, 2), (0, 1, 2), (0, 2, 3)])
def test_nobody_receives_before_the_customer_may_no_longer_cancel(to_sign, cooling_off, hand_trips):
    """With all goods at hand a day until the signature and one to cancel are 48 h, more than the 24 h that people here would sit out."""
    company = replace(lists().company, wait_on_site_h=24.0, days_to_sign=to_sign, cooling_off_days=cooling_off)
    at_hand = {name: replace(row, low_days=0.0, likely_days=0.0, high_days=0.0) for name, row in lists().lead_times.items()}
    assert len(estimated("laminate_top_mount", None, replace(lists(), company=company, lead_times=at_hand)).trips) == hand_trips


def hours_of(step, hours, after=(), wait=0.0):
    """A task of one person of ours; it is waited for after it on the clock of work."""
    return Task(step, (), hours, hours, hours, 1, hours, "crew", Decimal(40), Decimal(40), (), "", after, wait, "working")


@pytest.mark.parametrize(("wait_h", "hand_trips"), [(7.9, 1), (8.0, 2)])
def test_a_wait_of_a_whole_working_day_is_as_long_as_its_nights(wait_h, hand_trips):
    """People sit out ten hours: 7.9 working hours, but not 8.0, which are a day and a night here."""
    tasks = [hours_of(S.RECEIVE, 1.0, wait=wait_h), hours_of(S.SEAL, 1.0, (S.RECEIVE,))]
    assert len(find_trips(tasks, {}, {}, 10.0, work_day_h=8.0)) == hand_trips


@pytest.mark.parametrize(("not_before_h", "hand_trips"), [(4.0, 1), (4.05, 2)])
def test_a_step_is_waited_for_from_the_start_on(not_before_h, hand_trips):
    """Four hours are sat out, three minutes more are not."""
    tasks = [hours_of(S.RECEIVE, 1.0), hours_of(S.SEAL, 1.0, (S.RECEIVE,))]
    assert len(find_trips(tasks, {}, {S.SEAL: not_before_h}, 4.0, work_day_h=8.0)) == hand_trips


def test_a_visit_just_as_long_as_the_least_is_paid_as_it_is():
    """1.7 h of work and 0.3 h to set up are the two hours at least; a minute less is short by a minute."""
    job = estimated(STONE).job
    assert lists().company.least_visit_h == 2.0
    for hours, hand in ((1.7, []), (1.68, [0.02])):
        lines = count_ways(job, (Trip((S.SEAL,), 1, hours, S.SEAL),), lists(), estimated(STONE).step_names)
        assert [line.quantity for line in lines if line.item == "least-visit"] == pytest.approx(hand)


def test_people_beside_a_trade_stay_no_longer_than_their_own_work_where_both_take_as_long():
    """Our two hours keep their own best and worst; where the trade takes three, ours are stretched with it."""
    ours = replace(hours_of(S.SET_COUNTER, 2.0), hours_low=1.0, hours_high=4.0)
    for hours, hand in ((2.0, (1.0, 4.0, 2.0)), (3.0, (3.0, 3.0, 3.0))):
        (found,) = calendar_tasks([ours], [replace(hours_of(S.SET_COUNTER, hours), trade="fabricator")], (), lists())
        assert (found.hours_low, found.hours_high, found.duration_h) == hand


def test_ways_and_setting_up_by_hand():
    """1 + 3 + 1 + 1 + 1 people on five trips: 7 ways; no tools for the visit, so 6 set-ups; 0.6 and 0.3 h each (invented)."""
    found = estimated(STONE)
    assert [trip.people for trip in found.trips] == [1, 3, 1, 1, 1]
    lines = {line.item: line for line in found.lines if line.step is S.TRIPS and line.item != "least-visit"}
    assert {item: line.quantity for item, line in lines.items()} == {"trip-way": 7, "trip-set-up": 6}
    short = sum(line.quantity for line in found.lines if line.item == "least-visit")
    task = found.tasks[-1]
    assert task.step is S.TRIPS
    assert task.hours_likely == pytest.approx(7 * 0.6 + 6 * 0.3 + short, abs=1e-4)


@pytest.mark.parametrize(("hours", "hand_people", "hand_h"), [(7.7, 1, 7.7), (7.8, 2, 3.9), (15.4, 2, 7.7), (15.6, 3, 5.2), (90.0, 3, 30.0)])
def test_as_many_come_as_fit_the_work_into_a_day(hours: float, hand_people: int, hand_h: float) -> None:
    """Eight hours a day less 0.3 h to set up; a crew of three, and no more than can work at the countertop at once."""
    task = next(task for task in estimated("wood_apron_two_bowl").tasks if task.step is S.FIT_TOP)
    alone = replace(task, crew=1, hours_likely=hours, duration_h=hours)
    (trip,), (staffed,) = staff_trips([Trip((S.FIT_TOP,), 1, hours, S.FIT_TOP)], [alone], [], 3, lists(), work_day_h=8.0)
    assert (trip.people, staffed.crew, trip.too_long) == (hand_people, hand_people, hand_people > 1)
    assert trip.work_h == staffed.duration_h == pytest.approx(hand_h)


def test_a_short_visit_is_paid_as_the_least():
    """The punch list takes 1.26 h and 0.3 h to set up; up to two hours 0.44 h are missing."""
    found = estimated(STONE)
    task = next(task for task in found.tasks if task.step is S.PUNCH_LIST)
    line = next(line for line in found.lines if line.id == "trips/least-visit/from punch-list on")
    assert line.quantity == pytest.approx(2 - 0.3 - task.duration_h, abs=1e-4)
    generous = replace(lists(), company=replace(lists().company, least_visit_h=0.0))
    assert not [line for line in estimated(STONE, {"terms.validity_days": 9}, generous).lines if line.item == "least-visit"]


def test_more_trips_in_the_terms():
    """One person each, for the ways only."""
    plain, more = estimated(STONE), estimated(STONE, {"terms.extra_trips": 3})
    ways = [next(line.quantity for line in found.lines if line.item == "trip-way") for found in (plain, more)]
    assert ways[1] - ways[0] == 3
    assert more.hours - plain.hours == pytest.approx(3 * 0.6)
    assert more.trips == plain.trips


def test_a_crowded_house_slows_no_way():
    """People who live there slow down what crosses their rooms, and nothing else; the general one of the terms holds everywhere."""
    found = estimated(STONE, {"terms.hours_factor": "150 %"})
    names = {task.step: [name for name, _ in task.factors] for task in found.tasks}
    assert names[S.TRIPS] == ["hours-factor"]
    assert {step for step, held in names.items() if "occupied" in held} == {S.RECEIVE, S.PROTECT, S.HAUL, S.CLEAN}
    assert names[S.SEAL] == ["hours-factor"]
    (clean,) = (task for task in found.tasks if task.step is S.CLEAN)
    assert clean.basis.endswith("(sweep and wipe) x 0.004 h) x 1.2 (lived-in house) x 1.5 (all hours of this job)")  # names, no ids


def test_ways_are_revalued_like_all_work():
    """A longer way in the sheet makes the job dearer by its people."""
    found = estimated(STONE)
    dearer = revalue(found, {}, {"trip-way": 1.6}, {})
    assert dearer.hours - found.hours == pytest.approx(7 * 1.0, abs=1e-3)
    assert dearer.price > found.price
    (trips,) = (task for task in dearer.tasks if task.step is S.TRIPS)
    assert "7 (drive to the house and back) x 1.6 h" in trips.basis  # the working is that of the hours


@pytest.mark.parametrize(("team", "hand_level", "hand_stops", "hand_sink"), [(1, 1, 1, 3), (2, 2, 1, 3), (4, 2, 1, 3)])
def test_people_at_a_step(team, hand_level, hand_stops, hand_sink):
    """As many as the crew has, no more than there is room for, no fewer than the 118 lb sink asks for."""
    crews = {task.step: task.crew for task in estimated(STONE, {"terms.crew": team}).tasks}
    assert (crews[S.LEVEL], crews[S.STOPS], crews[S.SET_SINK]) == (hand_level, hand_stops, hand_sink)


def test_the_whole_crew_comes_where_fewer_would_need_a_second_day():
    """Two carry and lay the wood top; a crew of three sends the third where two need more than a day, and not to lay the top."""
    two, three = (estimated("wood_apron_two_bowl", {"terms.crew": team}).trips for team in (2, 3))
    assert [(trip.people, trip.too_long) for trip in two] == [(1, False), (2, False), (1, False), (2, False), (1, False), (1, False)]
    assert [(trip.people, trip.too_long) for trip in three] == [(1, False), (3, True), (1, False), (2, False), (1, False), (1, False)]
    assert explain_people(three[1], {}) == f"3 people, for {three[1].work_h:.1f} h of work together"
    assert three[1].work_h < two[1].work_h


def test_a_machine_that_is_slid_in_takes_two():
    """The new dishwasher of the laminate job; one that stays is connected by one person."""
    new, kept = estimated("laminate_top_mount"), estimated(STONE)
    for found, hand_people in ((new, 2), (kept, 1)):
        assert next(trip.people for trip in found.trips if S.CONNECT_DISHWASHER in trip.steps) == hand_people
