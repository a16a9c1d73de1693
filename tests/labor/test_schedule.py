"""The steps on the calendar: an invented job worked by hand, floats that are exactly what may be lost, trips and days without a sink."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.errors import KitError
from kit.labor.calendar import WorkCalendar, cooling_off_end
from kit.labor.clock import add_working_hours, next_working_instant
from kit.labor.job_schedule import find_spans_without_sink
from kit.labor.schedule import OWN, Lead, StepLink, link_steps, plan_tasks
from kit.labor.trips import find_trips
from kit.records import Task
from kit.steps import Step

FEDERAL = WorkCalendar()  # Monday to Friday, 08:00 to 16:00
LATE = WorkCalendar(time(16), 8.0)  # Monday to Friday, 16:00 to midnight


def at(text):
    return datetime.fromisoformat(text)


def task(step, hours, after=(), *, trade="crew", wait=0.0, clock="elapsed", crew=1):
    return Task(
        step=step,
        line_ids=(),
        hours_low=hours * crew,
        hours_likely=hours * crew,
        hours_high=hours * crew,
        crew=crew,
        duration_h=hours,
        trade=trade,
        rate=Decimal(40),
        amount=Decimal(40) * Decimal(str(hours * crew)),
        factors=(),
        basis="invented",
        after=tuple(after),
        wait_h=wait,
        clock=clock,
    )


def elapsed(step, days):
    """A wait of so many days and nights after a step."""
    return {step: (Lead("goods", 24 * days, 24 * days, 24 * days),)}


def apron_job():
    """An apron sink set in its cradle before the template, with invented hours."""
    return [
        task(Step.REMOVE_SINK, 3),
        task(Step.LEVEL, 2, [Step.REMOVE_SINK]),
        task(Step.ROUGH_DRAIN, 2, [Step.LEVEL], trade="plumber"),
        task(Step.STOPS, 1, [Step.LEVEL]),
        task(Step.INSPECT, 0.5, [Step.ROUGH_DRAIN, Step.STOPS]),
        task(Step.CUT_FRONT, 1, [Step.INSPECT]),
        task(Step.BUILD_FRAME, 2.5, [Step.CUT_FRONT]),
        task(Step.SET_SINK, 2, [Step.BUILD_FRAME], crew=2),
        task(Step.TEMPLATE, 1, [Step.SET_SINK], trade="fabricator", wait=240),
        task(Step.SET_COUNTER, 3, [Step.TEMPLATE], trade="fabricator"),
        task(Step.SEAL, 1, [Step.SET_COUNTER], wait=24),
        task(Step.CONNECT_DRAIN, 1, [Step.SEAL]),
        task(Step.FILL_TEST, 0.5, [Step.CONNECT_DRAIN]),
    ]


HAND_APRON_DATES = {
    Step.REMOVE_SINK: ("2026-06-01 08:00", "2026-06-01 11:00"),
    Step.LEVEL: ("2026-06-01 11:00", "2026-06-01 13:00"),
    Step.ROUGH_DRAIN: ("2026-06-01 13:00", "2026-06-01 15:00"),
    Step.STOPS: ("2026-06-01 13:00", "2026-06-01 14:00"),
    Step.INSPECT: ("2026-06-01 15:00", "2026-06-01 15:30"),
    Step.CUT_FRONT: ("2026-06-01 15:30", "2026-06-02 08:30"),
    Step.BUILD_FRAME: ("2026-06-02 08:30", "2026-06-02 11:00"),
    Step.SET_SINK: ("2026-06-02 11:00", "2026-06-02 13:00"),
    Step.TEMPLATE: ("2026-06-02 13:00", "2026-06-02 14:00"),
    Step.SET_COUNTER: ("2026-06-12 14:00", "2026-06-15 09:00"),  # ten days after the template, over a weekend
    Step.SEAL: ("2026-06-15 09:00", "2026-06-15 10:00"),
    Step.CONNECT_DRAIN: ("2026-06-16 10:00", "2026-06-16 11:00"),
    Step.FILL_TEST: ("2026-06-16 11:00", "2026-06-16 11:30"),
}


def test_apron_job_by_hand():
    """Every start and end, float, crew days, trips and hours of a job started on Monday 2026-06-01."""
    plan = plan_tasks(apron_job(), FEDERAL, date(2026, 6, 1))
    assert {row.step: (row.start, row.finish) for row in plan.steps} == {step: (at(start), at(end)) for step, (start, end) in HAND_APRON_DATES.items()}
    assert (plan.start, plan.finish) == (at("2026-06-01 08:00"), at("2026-06-16 11:30"))
    hand_floats = {Step.STOPS: 1.0}  # done at 14:00, wanted at 15:00
    assert {row.step: row.float_h for row in plan.steps if row.float_h} == hand_floats
    assert plan.find(Step.STOPS).free_float_h == 1
    assert plan.find(Step.TEMPLATE).wait_until == at("2026-06-12 14:00")
    assert plan.find(Step.SEAL).wait_until == at("2026-06-16 10:00")
    hand_crew_days, hand_trips = 4, 3  # June 1, 2; June 15; June 16 after the cure
    assert (plan.crew_days, plan.trips) == (hand_crew_days, hand_trips)
    hand_chain = [step for step in HAND_APRON_DATES if step is not Step.STOPS]
    assert [row.step for row in plan.steps if row.critical] == hand_chain
    assert [plan.find(step).held_by for step in hand_chain] == [None, *hand_chain[:-1]]


def test_spans_without_a_sink():
    """From the old sink's end to the fill test; a temporary sink, once the stops are renewed and the drain is inspected, spares the wait for the counter."""
    jobs = apron_job()
    plan = plan_tasks(jobs, FEDERAL, date(2026, 6, 1))
    hand_out, hand_ready, hand_back = at("2026-06-01 11:00"), at("2026-06-01 15:30"), at("2026-06-16 11:30")
    assert find_spans_without_sink(plan) == ((hand_out, hand_back),)
    assert find_spans_without_sink(plan, lent=True) == ((hand_out, hand_ready), (at("2026-06-12 14:00"), hand_back))


def test_a_temporary_sink_that_spares_nothing_changes_nothing():
    """The stops are done at the very moment when the counter needs its place; and a job that sets neither counter nor sink."""
    tasks = [task(Step.REMOVE_SINK, 1), task(Step.STOPS, 1, [Step.REMOVE_SINK]), task(Step.SET_COUNTER, 1, [Step.STOPS]), task(Step.FILL_TEST, 1)]
    for jobs in (tasks, [tasks[0], tasks[1], tasks[3]]):
        plan = plan_tasks(jobs, FEDERAL, date(2026, 6, 1))
        hand_span = (at("2026-06-01 09:00"), plan.finish)
        assert find_spans_without_sink(plan, lent=True) == find_spans_without_sink(plan) == (hand_span,)


def test_a_temporary_sink_that_runs_as_soon_as_the_old_one_is_out():
    """Nothing else is to be made ready: only the time after it is one without a sink, and no empty span stands before it."""
    tasks = [task(Step.REMOVE_SINK, 1), task(Step.TEMPLATE, 1, [Step.REMOVE_SINK]), task(Step.SET_COUNTER, 1, [Step.TEMPLATE])]
    plan = plan_tasks([*tasks, task(Step.FILL_TEST, 1, [Step.SET_COUNTER])], FEDERAL, date(2026, 6, 1))
    assert find_spans_without_sink(plan, lent=True) == ((at("2026-06-01 10:00"), at("2026-06-01 12:00")),)


def test_a_job_that_removes_or_tests_no_sink_has_no_such_days():
    """Nothing is made up."""
    for jobs in (apron_job()[:-1], apron_job()[:1], []):
        assert find_spans_without_sink(plan_tasks(jobs, FEDERAL, date(2026, 6, 1)), lent=True) == ()


def test_a_wait_over_a_weekend_gives_float():
    """Sealed on Thursday 15:00 to 16:00, cured on Friday 16:00, used on Monday: sealing may as well end on Friday, a day of float."""
    tasks = [task(Step.SEAL, 1, wait=24), task(Step.FILL_TEST, 1, [Step.SEAL])]
    plan = plan_tasks(tasks, FEDERAL, at("2026-06-11 15:00"))
    seal, test = plan.steps
    assert (test.start, plan.finish) == (at("2026-06-15 08:00"), at("2026-06-15 09:00"))
    assert (seal.latest_start, seal.latest_finish) == (at("2026-06-12 15:00"), at("2026-06-12 16:00"))
    assert (seal.float_h, seal.free_float_h, test.float_h) == (8, 8, 0)
    assert (seal.critical, test.critical, test.held_by) == (False, True, Step.SEAL)


def test_a_wait_in_working_hours_stops_at_night():
    """Four working hours after Monday 14:00 are Tuesday 10:00."""
    tasks = [task(Step.LEVEL, 6, wait=4, clock="working"), task(Step.CUT_FRONT, 1, [Step.LEVEL])]
    plan = plan_tasks(tasks, FEDERAL, date(2026, 6, 1))
    assert plan.find(Step.CUT_FRONT).start == at("2026-06-02 10:00")
    assert plan.find(Step.LEVEL).float_h == 0


def test_nothing_is_ordered_before_the_customer_may_no_longer_cancel():
    """Signed on Thursday 2026-06-11: ordered on Tuesday 16th at 08:00, received ten days later, on the next working day."""
    tasks = [task(Step.ORDER, 0.5), task(Step.RECEIVE, 1, [Step.ORDER]), task(Step.REMOVE_SINK, 2, [Step.RECEIVE])]
    plan = plan_tasks(tasks, FEDERAL, date(2026, 6, 11), leads=elapsed(Step.ORDER, 10), not_before={Step.ORDER: cooling_off_end(date(2026, 6, 11))})
    assert [row.start for row in plan.steps] == [at("2026-06-16 08:00"), at("2026-06-26 08:30"), at("2026-06-26 09:30")]
    assert [row.held_by for row in plan.steps] == [None, Step.ORDER, Step.RECEIVE]
    assert plan.find(Step.ORDER).wait_until == at("2026-06-26 08:30")
    assert (plan.crew_days, plan.trips) == (1, 1)  # ordering is no trip


def test_an_order_without_hours_still_waits_for_its_date():
    """A milestone after the cooling-off span lies at the next working instant, and its lead time counts from there."""
    tasks = [task(Step.ORDER, 0), task(Step.RECEIVE, 0, [Step.ORDER])]
    plan = plan_tasks(tasks, FEDERAL, date(2026, 6, 11), leads=elapsed(Step.ORDER, 2), not_before={Step.ORDER: at("2026-06-13 00:00")})
    assert [row.finish for row in plan.steps] == [at("2026-06-15 08:00"), at("2026-06-17 08:00")]
    assert (plan.crew_days, plan.trips) == (0, 0)


def test_a_milestone_at_the_end_of_a_day_ends_the_job_there():
    """Eight hours of work and a step without hours: done on Monday at 16:00, not on Tuesday morning."""
    plan = plan_tasks([task(Step.LEVEL, 8), task(Step.PUNCH_LIST, 0, [Step.LEVEL])], FEDERAL, date(2026, 6, 1))
    assert plan.finish == at("2026-06-01 16:00")
    assert all(row.critical for row in plan.steps)


def test_own_people_do_one_step_at_a_time_and_hired_trades_work_beside_them():
    """Without any forerunner own steps follow each other in the order given; so do those of one hired trade."""
    tasks = [
        task(Step.LEVEL, 2),
        task(Step.ROUGH_DRAIN, 1, trade="plumber"),
        task(Step.STOPS, 1),
        task(Step.CONNECT_DRAIN, 1, trade="plumber"),
        task(Step.TEMPLATE, 1, trade="fabricator"),
    ]
    assert link_steps(tasks) == {
        Step.LEVEL: (),
        Step.ROUGH_DRAIN: (),
        Step.STOPS: (StepLink(Step.LEVEL),),
        Step.CONNECT_DRAIN: (StepLink(Step.ROUGH_DRAIN),),
        Step.TEMPLATE: (),
    }


def test_forerunners_go_before_the_order_of_the_trade():
    """A template taken while the old kitchen works: the crew's steps wait for it, though they stand before it in the trade's order."""
    tasks = [task(Step.REMOVE_SINK, 2, [Step.TEMPLATE]), task(Step.TEMPLATE, 1, wait=24), task(Step.SET_SINK, 1, [Step.REMOVE_SINK])]
    links = link_steps(tasks)
    assert list(links) == [Step.TEMPLATE, Step.REMOVE_SINK, Step.SET_SINK]
    assert links[Step.REMOVE_SINK] == (StepLink(Step.TEMPLATE, 24.0, "elapsed"), StepLink(Step.TEMPLATE))


def test_the_crew_does_not_wait_for_a_cure_that_only_others_need():
    """The link between two steps of the same people carries no wait."""
    plan = plan_tasks([task(Step.SEAL, 1, wait=24), task(Step.PATCH_WALL, 1), task(Step.FILL_TEST, 1, [Step.SEAL])], FEDERAL, date(2026, 6, 1))
    assert plan.find(Step.PATCH_WALL).start == at("2026-06-01 09:00")
    assert plan.find(Step.FILL_TEST).start == at("2026-06-02 09:00")


def test_a_day_that_ends_at_midnight_is_one_day():
    """Monday 16:00 to midnight, four more hours on Tuesday after a cure of 20 h: two days on site, a second trip, no float before the cure."""
    tasks = [task(Step.LEVEL, 8, wait=20), task(Step.CUT_FRONT, 4, [Step.LEVEL]), task(Step.VISIT, 1, trade="fabricator")]
    plan = plan_tasks(tasks, LATE, date(2026, 6, 1))
    level, cut, visit = plan.steps
    assert (level.finish, level.wait_until) == (at("2026-06-02 00:00"), at("2026-06-02 20:00"))
    assert (cut.start, cut.finish) == (at("2026-06-02 20:00"), at("2026-06-03 00:00"))
    assert (plan.crew_days, plan.trips) == (2, 2)
    assert (level.latest_start, level.float_h, cut.float_h) == (level.start, 0, 0)
    assert (visit.latest_finish, visit.float_h, visit.free_float_h) == (plan.finish, 15, 15)


@pytest.mark.parametrize(
    ("start", "hours", "wait", "hand_trips"),
    [
        ("2026-06-01 08:00", (12, 3), 0, 1),  # a night between, no working time lost
        ("2026-06-05 08:00", (8, 3), 24, 1),  # a weekend in which it cures anyway
        ("2026-06-01 08:00", (8, 3), 24, 2),  # Tuesday lost to the cure
        ("2026-06-01 08:00", (2, 3), 2, 1),  # two hours lost on the same day
    ],
)
def test_trips(start, hours, wait, hand_trips):
    """A new trip begins only when the crew comes back on another day and working time has gone by without it."""
    tasks = [task(Step.SEAL, hours[0], wait=wait), task(Step.FILL_TEST, hours[1], [Step.SEAL])]
    assert plan_tasks(tasks, FEDERAL, at(start)).trips == hand_trips


def test_no_tasks_no_time():
    """An empty job ends when it starts."""
    plan = plan_tasks([], FEDERAL, date(2026, 6, 1))
    assert (plan.start, plan.finish, plan.crew_days, plan.trips, plan.steps) == (at("2026-06-01 08:00"), at("2026-06-01 08:00"), 0, 0, ())


@pytest.mark.parametrize(
    ("tasks", "more", "wording"),
    [
        ([task(Step.SEAL, 1), task(Step.SEAL, 1)], {}, r"seal is there twice\."),
        ([task(Step.SEAL, 1, [Step.LEVEL])], {}, r'seal waits for "level", which is not among'),
        ([task(Step.SEAL, 1, [Step.LEVEL]), task(Step.LEVEL, 1, [Step.SEAL])], {}, r"none can start: (seal -> level -> seal|level -> seal -> level)"),
        ([task(Step.SEAL, -1)], {}, r"seal: A time of -1 h can't be right\. Give 0 or more"),
        ([task(Step.SEAL, float("inf"))], {}, r"seal: A time of inf h can't be right"),
        ([task(Step.SEAL, 1, wait=float("nan"))], {}, r"seal: A time of nan h can't be right"),
        ([task(Step.SEAL, 1)], {"leads": elapsed(Step.SEAL, -1)}, r"seal: A time of -24 h can't be right"),
        ([task(Step.SEAL, 1)], {"leads": elapsed(Step.ORDER, 5)}, r"order has a lead time, but the job has no such step"),
        ([task(Step.SEAL, 1)], {"not_before": {Step.ORDER: at("2026-06-01 08:00")}}, r"order has an earliest date, but the job has no such step"),
    ],
)
def test_what_cannot_be_scheduled_is_named(tasks, more, wording):
    """Doubled and unknown steps, rings and impossible times are refused by name."""
    with pytest.raises(KitError, match=wording):
        plan_tasks(tasks, FEDERAL, date(2026, 6, 1), **more)


quarters = st.integers(0, 60).map(lambda n: n / 4)


@st.composite
def jobs(draw):
    """Invented steps in the trade's order, each after some before it, with waits on either clock, done by the crew or one of two trades."""
    steps = list(Step)[: draw(st.integers(1, 8))]
    return [
        task(
            step,
            draw(quarters),
            [other for other in steps[:n] if draw(st.integers(0, 2)) == 0],
            trade=draw(st.sampled_from(["crew", "crew", "plumber", "fabricator"])),
            wait=draw(st.sampled_from([0.0, 0.0, 3.25, 24.0, 100.0])),
            clock=draw(st.sampled_from(["working", "elapsed"])),
        )
        for n, step in enumerate(steps)
    ]


starts = st.integers(0, 14 * 96).map(lambda n: datetime(2026, 6, 22) + timedelta(minutes=15 * n))  # noqa: DTZ001 - wall-clock time


calendars = st.sampled_from([FEDERAL, LATE])


@settings(deadline=None, max_examples=100)
@given(jobs(), starts, calendars, st.data())
def test_total_float_is_exactly_what_may_be_lost(tasks, start, calendar, data):
    """Held back to its latest start, a step leaves the finish where it is; a minute more moves it."""
    plan = plan_tasks(tasks, calendar, start)
    row = data.draw(st.sampled_from(plan.steps))
    assert row.float_h >= row.free_float_h >= 0
    assert plan_tasks(tasks, calendar, start, not_before={row.step: row.latest_start}).finish == plan.finish
    assert plan_tasks(tasks, calendar, start, not_before={row.step: row.latest_start + timedelta(minutes=1)}).finish > plan.finish


@settings(deadline=None, max_examples=100)
@given(jobs(), starts, calendars, st.data())
def test_free_float_is_exactly_what_no_follower_feels(tasks, start, calendar, data):
    """Held back by its free float a step moves no other; a minute more moves another step, or the finish."""
    plan = plan_tasks(tasks, calendar, start)
    row = data.draw(st.sampled_from([found for found in plan.steps if next(t for t in tasks if t.step is found.step).duration_h > 0] or plan.steps))
    hours = next(t for t in tasks if t.step is row.step).duration_h
    if not hours:
        return

    def others(begin):
        held = plan_tasks(tasks, calendar, start, not_before={row.step: begin})
        return [other.start for other in held.steps if other.step is not row.step], held.finish

    latest = next_working_instant(calendar, add_working_hours(calendar, row.start, row.free_float_h))
    assert others(latest) == others(row.start)
    assert others(latest + timedelta(minutes=1)) != others(row.start)


@settings(deadline=None, max_examples=100)
@given(jobs(), starts, calendars, st.data())
def test_a_longer_step_never_ends_the_job_earlier(tasks, start, calendar, data):
    """More hours or a longer wait on one step leave no step and no finish earlier, whatever the calendar does."""
    n = data.draw(st.integers(0, len(tasks) - 1))
    longer = [*tasks]
    longer[n] = replace(tasks[n], duration_h=tasks[n].duration_h + data.draw(quarters), wait_h=tasks[n].wait_h + data.draw(quarters))
    before, after = plan_tasks(tasks, calendar, start), plan_tasks(longer, calendar, start)
    assert after.finish >= before.finish
    assert all(later.start >= earlier.start for earlier, later in zip(before.steps, after.steps, strict=True))


@settings(deadline=None, max_examples=50)
@given(jobs(), starts)
def test_steps_keep_working_time_and_the_order_of_their_links(tasks, start):
    """No step works at night, on a weekend or on July 3; each starts after the waits of its forerunners; the finish is the last end."""
    plan = plan_tasks(tasks, FEDERAL, start)
    hours = {found.step: found.duration_h for found in tasks}
    ends = {row.step: row.finish for row in plan.steps}
    for row in plan.steps:
        assert add_working_hours(FEDERAL, row.start, hours[row.step]) == row.finish
        assert time(8) <= row.start.time() <= time(16)
        assert time(8) <= row.finish.time() <= time(16)
        assert row.start.weekday() < 5
        assert row.start.date() != date(2026, 7, 3)
        for link in link_steps(tasks)[row.step]:
            wait = timedelta(hours=link.lag) if link.clock == "elapsed" else timedelta()
            assert row.start >= ends[link.before] + wait
    assert plan.finish == max(ends.values())
    assert 0 <= plan.trips <= plan.crew_days


@pytest.mark.parametrize(("wait_h", "hand_trips"), [(3.0, 1), (7.0, 1), (8.0, 2), (16.0, 2)])
def test_a_wait_of_working_hours_takes_nights_along_from_a_working_day_on(wait_h, hand_trips):
    """Who sits out ten hours sits out seven of a working day of eight, which end the same day; eight of them are a day and a night."""
    tasks = [task(Step.REMOVE_SINK, 1, trade=OWN, wait=wait_h, clock="working"), task(Step.LEVEL, 1, [Step.REMOVE_SINK], trade=OWN)]
    assert len(find_trips(tasks, {}, {}, 10.0, work_day_h=8.0)) == hand_trips


def test_a_step_that_may_start_just_when_the_one_before_it_ends_is_held_by_none():
    """Its own earliest date says so as well: Monday 11:00; an hour earlier it is the step before it that holds it."""
    tasks = [task(Step.REMOVE_SINK, 3), task(Step.LEVEL, 2, [Step.REMOVE_SINK])]
    held = [plan_tasks(tasks, FEDERAL, date(2026, 6, 8), not_before={Step.LEVEL: at(f"2026-06-08 {hour}:00")}).find(Step.LEVEL).held_by for hour in (10, 11)]
    assert held == [Step.REMOVE_SINK, None]


@pytest.mark.parametrize(("wait", "hand_spans"), [(24.0, [("09 11:00", "09 14:00")]), (0.0, [("08 11:00", "08 14:00")])])
def test_a_temporary_sink_stands_while_there_is_time_for_it(wait, hand_spans):
    """Taken out on Monday 08:00 to 11:00, set and tested in three hours: on Tuesday after a day of waiting, or at once, with no moment to stand in between."""
    tasks = [
        task(Step.REMOVE_SINK, 3, wait=wait),
        task(Step.SET_SINK, 2, [Step.REMOVE_SINK]),
        task(Step.FILL_TEST, 1, [Step.SET_SINK]),
    ]
    spans = find_spans_without_sink(plan_tasks(tasks, FEDERAL, date(2026, 6, 8)), lent=True)
    assert spans == tuple((at(f"2026-06-{first}"), at(f"2026-06-{last}")) for first, last in hand_spans)


def test_a_step_that_takes_no_time_brings_nobody_back():
    """Two days after the sink is out, a look that takes no time: one day of the crew, and one trip; a minute of work there makes two of each."""
    for hours, hand in ((0.0, 1), (1 / 60, 2)):
        found = plan_tasks([task(Step.REMOVE_SINK, 3, wait=48.0), task(Step.LEVEL, hours, [Step.REMOVE_SINK])], FEDERAL, date(2026, 6, 8))
        assert (found.crew_days, found.trips) == (hand, hand)
