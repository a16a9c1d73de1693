"""A job on the calendar, through the whole chain: worked by hand, on other weekdays, with leads, with a temporary sink."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, lists

from kit.errors import KitError
from kit.labor.calendar import is_working_day
from kit.labor.job_schedule import job_calendar, plan_job, schedule_job
from kit.labor.step_order import find_leads
from kit.outlook import plan_schedule, price_temporary_sink
from kit.steps import Step

S = Step


def at(text):
    return datetime.fromisoformat(f"2026-{text}")


def an_hour_each(visit="2026-03-02"):
    """The stone example with every own step an hour long, one person each; the fabricator takes one hour and two."""
    found = estimated(STONE, {"identity.visit_date": visit})
    tasks = [replace(task, crew=1, duration_h=1.0, hours_low=1.0, hours_likely=1.0, hours_high=1.0) for task in found.tasks]
    hours = {S.TEMPLATE: 1.0, S.SET_COUNTER: 2.0}
    hired = [replace(task, crew=1, duration_h=hours[task.step]) for task in found.hired]
    plan = plan_job(found.job, found.lines, tasks, hired, (), found.lists, found.step_names)
    return schedule_job(plan, tasks, hired, found.trips, found.trips_priced)


# Measured on Monday March 2, signed five days later on Saturday 7; Monday, Tuesday and Wednesday are the business days in which the
# customer may cancel, so ordered on Thursday 12. A fired-clay sink takes 14 days: Thursday 26, 09:00. Then an hour a step; the debris
# is gone on Friday 16:00, on Monday March 30 the template is taken, and ten working days later, on April 13 at 09:00, the counter comes. Sealed
# until 12:00, so the trap waits until 12:00 of the next day. After clean-up two days of use, from Wednesday 09:00 to Friday 09:00.
HAND_STARTS = {
    S.VISIT: "03-02 08:00",
    S.ORDER: "03-12 08:00",
    S.RECEIVE: "03-26 09:00",
    S.PROTECT: "03-26 10:00",
    S.SHUT_OFF: "03-26 11:00",
    S.FRONTS_OFF: "03-26 12:00",
    S.REMOVE_SINK: "03-26 13:00",
    S.STOPS: "03-26 14:00",
    S.FREE_DISHWASHER: "03-26 15:00",
    S.REMOVE_COUNTER: "03-27 08:00",
    S.KEEP_WATER: "03-27 09:00",
    S.LEVEL: "03-27 10:00",
    S.PATCH_WALL: "03-27 11:00",
    S.CUT_FRONT: "03-27 12:00",
    S.BUILD_FRAME: "03-27 13:00",
    S.SET_SINK: "03-27 14:00",
    S.HAUL: "03-27 15:00",
    S.TEMPLATE: "03-30 08:00",
    S.SET_COUNTER: "04-13 09:00",
    S.SEAL: "04-13 11:00",
    S.FIT_FAUCET: "04-13 12:00",
    S.CONNECT_SUPPLY: "04-13 13:00",
    S.CONNECT_DRAIN: "04-14 12:00",
    S.CONNECT_DISHWASHER: "04-14 13:00",
    S.FILL_TEST: "04-14 14:00",
    S.REFIT_FRONTS: "04-14 15:00",
    S.CLEAN: "04-15 08:00",
    S.PUNCH_LIST: "04-17 09:00",
}


def test_the_stone_example_by_hand():
    """Every start, the finish, crew days, trips and the days without a sink."""
    found = an_hour_each()
    assert {row.step: row.start for row in found.schedule.steps} == {step: at(start) for step, start in HAND_STARTS.items()}
    assert found.finish == at("04-17 10:00")
    hand_crew_days = len({"03-02", "03-26", "03-27", "03-30", "04-13", "04-14", "04-15", "04-17"})
    hand_trips = 5  # measured; to the debris and the template, with only a weekend between; sealed; connected after the cure; the punch list
    assert (found.schedule.crew_days, found.schedule.trips) == (hand_crew_days, hand_trips)
    assert len(found.trips) == 5  # priced by the order of the work: the cure may fall on working days
    assert (found.ordered, found.sink_out, found.sink_back) == (at("03-12 08:00"), at("03-26 14:00"), at("04-14 15:00"))
    assert found.days_without_sink == pytest.approx(19 + 1 / 24)
    hand_lent_h = 20 + 30  # March 26, 14:00 to 27, 10:00, when the drain is plugged; April 13, 09:00 to 14, 15:00
    assert found.days_with_temporary_sink == pytest.approx(hand_lent_h / 24)


def test_floats_of_the_stone_example_by_hand():
    """What leads to the template and what the cure hangs on may not wait: the debris is out of the way before the fabricator comes."""
    found = an_hour_each().schedule
    assert found.find(S.HAUL).float_h == 0
    assert found.find(S.SET_COUNTER).critical
    assert found.find(S.TEMPLATE).float_h == 0
    assert found.find(S.SEAL).float_h == 0
    assert found.find(S.CLEAN).critical  # two days before Friday 09:00 is Wednesday 09:00, when it ends
    assert found.find(S.CONNECT_SUPPLY).float_h == 2 + 4  # from Monday 14:00, when it is done, to the end of the cure on Tuesday 12:00


def test_a_cure_on_a_working_day_costs_a_trip():
    """Measured on Wednesday, set on Tuesday: sealed until 12:00, so the trap is done on Wednesday from 12:00."""
    found = an_hour_each("2026-03-04")
    rows = {row.step: row for row in found.schedule.steps}
    assert rows[S.ORDER].start == at("03-13 08:00")
    assert rows[S.RECEIVE].start == at("03-27 09:00")
    assert rows[S.REMOVE_COUNTER].start == at("03-30 08:00")
    assert rows[S.SET_COUNTER].start == at("04-14 09:00")
    assert rows[S.SEAL].finish == at("04-14 12:00")
    assert rows[S.CONNECT_DRAIN].start == at("04-15 12:00")
    assert found.finish == at("04-20 09:00")
    assert found.schedule.trips == len(found.trips) == 5


def test_holidays_through_the_whole_chain():
    """Ordered on June 15, Juneteenth and July 3 (for Saturday 4) fall away: ten working days from July 1, 09:00 are over on July 16, 09:00."""
    found = an_hour_each("2026-06-05")
    rows = {row.step: row for row in found.schedule.steps}
    assert rows[S.ORDER].start == at("06-15 08:00")
    assert rows[S.RECEIVE].start == at("06-29 09:00")
    assert rows[S.TEMPLATE].start == at("07-01 08:00")
    assert rows[S.SET_COUNTER].start == at("07-16 09:00")


def test_a_short_day_and_a_late_start():
    """Five hours from 10:00: nothing before, nothing after, and ten working days stay ten."""
    found = estimated(STONE, {"site.work_day": "5 h", "site.start_hour": 10})
    plan = plan_schedule(found).schedule
    assert all(10 <= moment.hour <= 15 for row in plan.steps for moment in (row.start, row.finish))
    made, calendar = plan.find(S.TEMPLATE), job_calendar(found.job, found.lists.company)
    days = sum(is_working_day(calendar, made.finish.date() + timedelta(days=n)) for n in range((made.wait_until.date() - made.finish.date()).days))
    assert days == 10


def test_signing_day_of_the_terms():
    """Once it is known the order waits for that day: signed on Friday March 20, cancelled until Tuesday, ordered on Wednesday."""
    found = plan_schedule(estimated(STONE, {"terms.signed_on": "2026-03-20"}))
    assert found.ordered == at("03-25 08:00")


def test_hours_of_own_and_hired_people():
    """Those of the estimate, ways among them."""
    made = estimated(STONE)
    found = plan_schedule(made)
    assert found.own_hours == pytest.approx(made.hours)
    assert found.hired_hours == pytest.approx(1 + 2 + 17 * 0.1)


# --- leads ---


def test_leads_of_the_stone_example():
    """The slowest of the goods by name or cost code, and the fabricator; nothing is said twice."""
    found = estimated(STONE)
    after = {task.step: task.after for task in (*found.tasks, *found.hired)}
    leads = find_leads(found.job, found.lines, after, lists())
    assert set(leads) == {S.ORDER, S.TEMPLATE}
    assert sorted(lead.what for lead in leads[S.ORDER]) == ["420", "fired-clay-apron-33", "goods"]
    (made,) = leads[S.TEMPLATE]
    hand_hours = tuple(days * 8 for days in (5, 10, 21))
    assert ((made.hours_low, made.hours_likely, made.hours_high), made.clock) == (hand_hours, "working")


def _whats(leads):
    return {lead.what for found in leads.values() for lead in found}


def test_leads_of_permit_inspection_test_and_customer():
    """Each where the job has it."""
    found = estimated("corner_dishwasher_drain_down", {"scope.sink": {"supplied_by": "customer", "installed_by": "us"}})
    after = {task.step: task.after for task in (*found.tasks, *found.hired)}
    leads = find_leads(found.job, found.lines, after, lists())
    assert {"permit", "floor-test", "customer-goods"} <= {lead.what for lead in leads[S.ORDER]}
    assert "fired-clay-apron-30" not in _whats(leads)  # the customer's sink is not ours to order
    assert {step for step, found in leads.items() if "inspection" in {lead.what for lead in found}} == {S.ROUGH_DRAIN, S.ROUGH_ELECTRIC, S.HAUL, S.CLEAN}


def test_clips_come_from_stock_where_the_customer_brings_the_sink():
    """A set of clips has the sink's cost code and is no sink that is waited for; neither are rails or a cradle."""
    found = estimated("solid_surface_flush", {"sink.mount": "under"})
    after = {task.step: task.after for task in (*found.tasks, *found.hired)}
    assert "sink-clip" in {line.item for line in found.lines}
    assert sorted(lead.what for lead in find_leads(found.job, found.lines, after, lists())[S.ORDER]) == ["customer-goods", "goods"]
    assert {lists().waits_for_goods(item, "410") for item in ("sink-rails", "sink-cradle")} == {("sink-rails", "goods"), ("sink-cradle", "goods")}
    assert lists().waits_for_goods("steel-top-33", "410") == ("steel-top-33", "410", "goods")


def test_a_counter_of_its_own_lead():
    """A row for the counter goes before the row for all fabricators."""
    quick = replace(lists().lead_times["fabrication"], what="stone-3cm", low_days=1.0, likely_days=2.0, high_days=3.0)
    changed = replace(lists(), lead_times={**lists().lead_times, "stone-3cm": quick})
    found = estimated(STONE, {"terms.validity_days": 8}, changed)
    plan = plan_schedule(found).schedule
    assert plan.find(S.SET_COUNTER).start < plan_schedule(estimated(STONE)).schedule.find(S.SET_COUNTER).start


def test_a_country_without_holidays_is_named():
    """What the company file names must be known; none keeps no holidays."""
    unknown = replace(lists(), company=replace(lists().company, holidays=("XX", "")))
    with pytest.raises(KitError, match=r'country: No list of holidays for "XX"'):
        plan_schedule(estimated(STONE, {"terms.validity_days": 7}, unknown))
    none = replace(lists(), company=replace(lists().company, holidays=("", "")))
    changes = {"identity.visit_date": "2026-06-05"}
    made = [plan_schedule(estimated(STONE, changes, used)).schedule.find(S.SET_COUNTER).start for used in (none, None)]
    assert made[0] < made[1]


# --- the temporary sink ---


def test_a_temporary_sink_never_makes_it_longer():
    """Days with one are never more than days without, in jobs of every kind."""
    for found in (*map(estimated, STEMS), *map(random_estimate, range(72))):
        schedule = plan_schedule(found)
        if schedule.days_without_sink is None:
            assert schedule.days_with_temporary_sink is None
        else:
            assert 0 <= schedule.days_with_temporary_sink <= schedule.days_without_sink + 1e-9


def test_a_temporary_sink_spares_the_fabricator():
    """Nineteen days without a sink become four; where the old kitchen works until the counter is made, there is little to spare."""
    early, late = plan_schedule(estimated(STONE)), plan_schedule(estimated("solid_surface_flush"))
    assert early.days_without_sink > 14
    assert early.days_with_temporary_sink < 5
    assert late.days_without_sink < 7


def test_a_temporary_sink_has_its_price():
    """It is an option: in the price only where the terms say so, and then by exactly what was told."""
    plain, lent = estimated(STONE), estimated(STONE, {"terms.temporary_sink": True})
    assert lent.price - plain.price == price_temporary_sink(plain) == price_temporary_sink(lent) > 0
    assert {line.id for line in lent.lines} - {line.id for line in plain.lines} == {
        "keep-water/temporary-sink/lent",
        "keep-water/lend-sink/connect and take away",
    }
    assert price_temporary_sink(estimated(STONE, {"old.sink_kind": "none"})) == 0


# --- what holds for every job ---


def test_people_work_when_they_may():
    """No step starts or ends outside the house's hours, on a weekend or a holiday; nothing is done before the visit."""
    for found in (*map(estimated, STEMS), *map(random_estimate, range(48))):
        calendar = job_calendar(found.job, found.lists.company)
        schedule = plan_schedule(found)
        assert schedule.schedule.start.date() >= found.job.identity.visit_date
        for row in schedule.schedule.steps:
            for moment in (row.start, row.finish):
                assert is_working_day(calendar, moment.date())
                opens = datetime.combine(moment.date(), calendar.start_of_day)
                assert opens <= moment <= opens + calendar.length
            assert row.float_h >= row.free_float_h >= 0


@settings(deadline=None, max_examples=30)
@given(st.sampled_from(STEMS), st.integers(0, 60), st.floats(1.0, 2.0), st.dates(date(2026, 1, 1), date(2027, 1, 1)))
def test_slower_work_never_ends_the_job_earlier(stem, seed, slower, visit):
    """Through the whole chain: hours, order, trips, leads, calendar."""
    start = {"identity.visit_date": visit.isoformat()}
    quick = estimated(stem, start)
    slow = estimated(stem, {**start, "terms.hours_factor": f"{slower * 100:.6f} %"})
    assert plan_schedule(slow).finish >= plan_schedule(quick).finish
    assert slow.hours >= quick.hours
