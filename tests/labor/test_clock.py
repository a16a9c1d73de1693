"""Working hours forward and back, any calendar that ends its day by midnight, one instant or many trials."""

from datetime import date, datetime, time, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.errors import KitError
from kit.labor.calendar import WorkCalendar
from kit.labor.clock import (
    HOUR,
    TrialClock,
    add_working_hours,
    count_working_hours,
    last_day,
    next_working_instant,
    previous_working_instant,
    subtract_working_hours,
)

FEDERAL = WorkCalendar()  # Monday to Friday, 08:00 to 16:00, federal holidays
LATE = WorkCalendar(time(16), 8.0)  # Monday to Friday, 16:00 to midnight


def at(text):
    return datetime.fromisoformat(text)


@pytest.mark.parametrize(
    ("start", "hours", "hand_end"),
    [
        ("2026-06-08 08:00", 8, "2026-06-08 16:00"),  # fills its day and ends with it
        ("2026-06-08 08:00", 8.25, "2026-06-09 08:15"),
        ("2026-06-08 06:00", 1, "2026-06-08 09:00"),  # before work starts
        ("2026-06-08 16:00", 1, "2026-06-09 09:00"),  # at the end of the day
        ("2026-06-12 15:30", 1, "2026-06-15 08:30"),  # over a weekend
        ("2026-06-13 11:00", 2, "2026-06-15 10:00"),  # on a Saturday
        ("2026-06-08 14:00", 20, "2026-06-11 10:00"),  # over several days
        ("2026-06-08 16:00", 0, "2026-06-08 16:00"),  # nothing to do, people still there
        ("2026-06-13 11:00", 0, "2026-06-15 08:00"),  # nothing to do, nobody there
    ],
)
def test_adding_working_hours(start, hours, hand_end):
    """Work stops at night and on weekends."""
    assert add_working_hours(FEDERAL, at(start), hours) == at(hand_end)


@pytest.mark.parametrize(
    ("end", "hours", "hand_start"),
    [
        ("2026-06-08 16:00", 8, "2026-06-08 08:00"),
        ("2026-06-09 08:15", 8.25, "2026-06-08 08:00"),
        ("2026-06-09 08:00", 1, "2026-06-08 15:00"),
        ("2026-06-15 08:30", 1, "2026-06-12 15:30"),
        ("2026-06-14 12:00", 2, "2026-06-12 14:00"),
        ("2026-06-15 08:00", 0, "2026-06-15 08:00"),
        ("2026-06-14 12:00", 0, "2026-06-12 16:00"),
    ],
)
def test_subtracting_working_hours(end, hours, hand_start):
    """The latest start of work that must be done by then."""
    assert subtract_working_hours(FEDERAL, at(end), hours) == at(hand_start)


def test_neighboring_working_instants():
    """Starts move on to the morning, finishes back to the evening."""
    assert next_working_instant(FEDERAL, at("2026-06-12 16:00")) == at("2026-06-15 08:00")
    assert next_working_instant(FEDERAL, at("2026-06-12 15:59")) == at("2026-06-12 15:59")
    assert previous_working_instant(FEDERAL, at("2026-06-15 08:00")) == at("2026-06-12 16:00")
    assert previous_working_instant(FEDERAL, at("2026-06-15 08:01")) == at("2026-06-15 08:01")


def test_five_workdays_across_the_fourth_of_july():
    """Five workdays from Monday 2026-06-29 end on Monday July 6, as Friday July 3 is the observed holiday."""
    assert add_working_hours(FEDERAL, at("2026-06-29 08:00"), 40) == at("2026-07-06 16:00")


def test_working_hours_between_instants():
    """From Friday noon to Monday noon 8 hours; backwards the negative."""
    assert count_working_hours(FEDERAL, at("2026-06-12 12:00"), at("2026-06-15 12:00")) == 8
    assert count_working_hours(FEDERAL, at("2026-06-15 12:00"), at("2026-06-12 12:00")) == -8
    assert count_working_hours(FEDERAL, at("2026-06-13 12:00"), at("2026-06-14 12:00")) == 0


def test_a_day_that_ends_at_midnight():
    """Monday's work ends on Tuesday 00:00: that is still Monday's, forward and back. June 8, 2026 is a Monday."""
    midnight = at("2026-06-09 00:00")
    assert add_working_hours(LATE, at("2026-06-08 16:00"), 8) == midnight
    assert subtract_working_hours(LATE, midnight, 8) == at("2026-06-08 16:00")
    assert subtract_working_hours(LATE, midnight, 1) == at("2026-06-08 23:00")
    assert subtract_working_hours(LATE, at("2026-06-09 16:00"), 9) == at("2026-06-05 23:00")
    assert previous_working_instant(LATE, at("2026-06-09 09:00")) == midnight
    assert next_working_instant(LATE, midnight) == at("2026-06-09 16:00")
    assert add_working_hours(LATE, midnight, 0) == subtract_working_hours(LATE, midnight, 0) == midnight
    assert count_working_hours(LATE, at("2026-06-08 16:00"), midnight) == 8
    assert (last_day(midnight), last_day(at("2026-06-09 16:01"))) == (date(2026, 6, 8), date(2026, 6, 9))


def test_centuries_are_counted_by_the_year():
    """From Monday 2026-06-08 to the same Monday of 2426: 400 years have 20,871 weeks; no holidays, so 5 days of 8 hours each."""
    plain = WorkCalendar(country="")
    hand_hours = 20_871 * 5 * 8
    assert count_working_hours(plain, at("2026-06-08 08:00"), at("2426-06-08 08:00")) == hand_hours
    assert add_working_hours(plain, at("2026-06-08 08:00"), hand_hours) == at("2426-06-05 16:00")
    assert subtract_working_hours(plain, at("2426-06-08 08:00"), hand_hours) == at("2026-06-08 08:00")


@pytest.mark.parametrize(("hours", "wording"), [(-1, r"-1 hours can't be right\. Give 0 or more"), (float("nan"), r"nan hours can't be right")])
def test_hours_that_make_no_sense_are_refused(hours, wording):
    """Below zero or no number, forward and back."""
    for move in (add_working_hours, subtract_working_hours):
        with pytest.raises(KitError, match=wording):
            move(FEDERAL, at("2026-06-08 08:00"), hours)


@st.composite
def calendars(draw):
    """Any start on a minute, any length on a quarter hour or up to midnight exactly, any days of the week."""
    start = draw(st.integers(0, 24 * 60 - 1))
    longest = 24 * 60 - start
    minutes = draw(st.one_of(st.just(longest), st.integers(1, longest), st.sampled_from([30, 360, 480, 600]).filter(lambda found: found <= longest)))
    return WorkCalendar(time(*divmod(start, 60)), minutes / 60, draw(st.frozensets(st.integers(0, 6), min_size=1)))


instants = st.integers(0, 40 * 24 * 4).map(lambda quarters: at("2026-06-20") + timedelta(minutes=15 * quarters))
hours = st.integers(0, 200).map(lambda quarters: quarters / 4)


@settings(deadline=None)
@given(calendars(), instants, hours)
def test_added_hours_are_counted_and_can_be_taken_back(calendar, when, amount):
    """What was added lies between start and end; going back gives the latest start, from which the same end is reached."""
    end = add_working_hours(calendar, when, amount)
    assert count_working_hours(calendar, when, end) == pytest.approx(amount, abs=1e-9)
    latest = subtract_working_hours(calendar, end, amount)
    assert latest >= (when if amount else end)
    assert add_working_hours(calendar, latest, amount) == end
    assert add_working_hours(calendar, latest + timedelta(minutes=1), amount) > end


@settings(deadline=None)
@given(calendars(), instants, hours.filter(bool))
def test_forward_and_back_is_the_same_working_instant(calendar, when, amount):
    """Added then subtracted, the start is the working instant at or after; subtracted then added, the end at or before."""
    assert subtract_working_hours(calendar, add_working_hours(calendar, when, amount), amount) == next_working_instant(calendar, when)
    assert add_working_hours(calendar, subtract_working_hours(calendar, when, amount), amount) == previous_working_instant(calendar, when)


@settings(deadline=None)
@given(calendars(), instants)
def test_no_working_time_lies_between_neighboring_instants(calendar, when):
    """The last end before and the first start after an instant are the same working hour."""
    before, after = previous_working_instant(calendar, when), next_working_instant(calendar, when)
    assert before <= when <= after
    assert count_working_hours(calendar, before, after) == 0
    assert next_working_instant(calendar, before) == after
    assert previous_working_instant(calendar, after) == before


@settings(deadline=None)
@given(calendars(), instants, st.integers(0, 500), hours, hours)
def test_later_or_longer_never_ends_earlier(calendar, when, later, amount, more):
    """The end of work never falls when its start or its length grows."""
    assert add_working_hours(calendar, when + timedelta(minutes=later), amount + more) >= add_working_hours(calendar, when, amount)


def test_a_full_day_in_floats_ends_that_evening():
    """0.2 and 7.8 hours of a Friday come to a hair more than its eight in floats: done that evening, not on Monday morning; a minute more is."""
    clock = TrialClock(WorkCalendar(), date(2026, 6, 1), 30)
    hand_friday, hand_monday = 4 * 24.0, 7 * 24.0
    first = clock.add_working_hours(np.array([hand_friday + 8.0]), 0.2)
    assert first[0] - hand_friday - 8.0 + 7.8 > 8.0
    assert clock.add_working_hours(first, 7.8) == pytest.approx(hand_friday + 16.0)
    assert clock.add_working_hours(first, 7.8 + 1.0 / 60.0) == pytest.approx(hand_monday + 8.0 + 1.0 / 60.0)


@settings(deadline=None)
@given(calendars(), st.lists(instants, min_size=1, max_size=5), hours)
def test_trials_keep_the_same_clock(calendar, starts, amount):
    """Hours since midnight of June 20, 2026, against each instant by itself, with work and without."""
    midnight, amount = at("2026-06-20"), min(amount or 0.25, 20 * calendar.hours_a_day)
    clock = TrialClock(calendar, midnight.date(), 400)
    ends = clock.add_working_hours(np.array([(when - midnight) / HOUR for when in starts]), amount)
    there = clock.attend(np.array([(when - midnight) / HOUR for when in starts]))
    for when, end, attended in zip(starts, ends, there, strict=True):
        assert end == pytest.approx((add_working_hours(calendar, when, amount) - midnight) / HOUR, abs=1e-6)
        assert attended == pytest.approx((add_working_hours(calendar, when, 0) - midnight) / HOUR, abs=1e-6)


@pytest.mark.parametrize(
    "calendar",
    [FEDERAL, WorkCalendar(time(7, 30), 10.0, frozenset({0, 1, 2, 3, 4, 5})), WorkCalendar(time(0), 24.0, country=""), WorkCalendar(time(16), 8.0)],
    ids=["eight hours", "ten on six days", "day and night", "until midnight"],
)
@pytest.mark.parametrize("first", [date(2026, 6, 1), date(2026, 6, 6), date(2025, 12, 29)], ids=["Monday", "Saturday", "over New Year"])
def test_many_instants_at_once_are_the_single_ones(calendar, first):
    """Every half hour of two weeks and every work from none to twelve hours: the end of work, and when people are there."""
    clock, midnight = TrialClock(calendar, first, 20), datetime.combine(first, time())
    starts = [midnight + timedelta(minutes=30 * number) for number in range(1, 14 * 48)]  # before the first midnight nobody is known to be there
    instants = np.array([(start - midnight) / HOUR for start in starts])
    for hours in (0.25, 2.0, 8.0, 10.0, 12.0):
        singly = [(add_working_hours(calendar, start, hours) - midnight) / HOUR for start in starts]
        assert clock.add_working_hours(instants, hours) == pytest.approx(singly, abs=1e-7)
    there = [(add_working_hours(calendar, start, 0.0) - midnight) / HOUR for start in starts]
    assert clock.attend(instants) == pytest.approx(there, abs=1e-7)


def test_an_instant_beyond_the_days_laid_out_is_told():
    """Five days from a Monday on: Friday 16:00 is the last that can be told, and nothing ends on the Monday after."""
    clock = TrialClock(FEDERAL, date(2026, 6, 1), 5)
    assert clock.add_working_hours(np.array([4 * 24 + 15.0]), 1.0)[0] == 4 * 24 + 16
    with pytest.raises(IndexError):
        clock.add_working_hours(np.array([4 * 24 + 15.0]), 1.5)
    with pytest.raises(IndexError):
        clock.add_working_hours(np.array([5 * 24 + 1.0]), 0.0)
