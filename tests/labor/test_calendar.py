"""Two clocks: working time and elapsed time, holidays, and the days in which a customer may cancel."""

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.errors import KitError
from kit.labor.calendar import (
    WorkCalendar,
    add_elapsed_hours,
    add_working_hours,
    cooling_off_end,
    count_working_days,
    count_working_hours,
    find_working_day,
    is_working_day,
    list_holidays,
    next_working_instant,
    previous_working_instant,
    subtract_working_hours,
)
from kit.sources import value

FEDERAL = WorkCalendar()  # Monday to Friday, 08:00 to 16:00, federal holidays


def at(text):
    return datetime.fromisoformat(text)


def day(text):
    return date.fromisoformat(text)


# usc-5-6103, from memory: the rules; the dates on which offices are closed are worked out from them
HAND_DAYS_OFF = {
    2026: ["01-01", "01-19", "02-16", "05-25", "06-19", "07-03", "09-07", "10-12", "11-11", "11-26", "12-25"],
    2027: ["01-01", "01-18", "02-15", "05-31", "06-18", "07-05", "09-06", "10-11", "11-11", "11-25", "12-24", "12-31"],
    2028: ["01-17", "02-21", "05-29", "06-19", "07-04", "09-04", "10-09", "11-10", "11-23", "12-25"],
}


def nth_weekday(year, month, weekday, n):
    """The n-th such weekday of a month, -1 the last."""
    days = [date(year, month, 1) + timedelta(days=k) for k in range(31)]
    return [found for found in days if found.month == month and found.weekday() == weekday][n - 1 if n > 0 else n]


def federal_by_rule(year):
    """The eleven holidays by 5 U.S.C. 6103, moved from Saturday to Friday and from Sunday to Monday."""
    fixed = [date(year + later, month, number) for later in (0, 1) for month, number in ((1, 1), (6, 19), (7, 4), (11, 11), (12, 25))]
    moved = [found + timedelta(days={5: -1, 6: 1}.get(found.weekday(), 0)) for found in fixed]
    floating = [nth_weekday(year, *rule) for rule in ((1, 0, 3), (2, 0, 3), (5, 0, -1), (9, 0, 1), (10, 0, 2), (11, 3, 4))]
    return sorted(found for found in moved + floating if found.year == year)


@pytest.mark.parametrize("year", [2026, 2027, 2028])
def test_federal_holidays(year):
    """Weekdays without work of three years, the observed ones among them: Friday 2026-07-03, Friday 2027-12-31 for the next New Year."""
    hand_days = [day(f"{year}-{text}") for text in HAND_DAYS_OFF[year]]
    weekdays = [date(year, 1, 1) + timedelta(days=n) for n in range(366) if (date(year, 1, 1) + timedelta(days=n)).year == year]
    closed = [found for found in weekdays if found.weekday() < 5 and not is_working_day(FEDERAL, found)]
    assert closed == hand_days


@pytest.mark.parametrize("year", range(2022, 2045))
def test_federal_holidays_follow_the_rule(year):
    """Every year against the rule of the statute, written out in this test."""
    closed = [found for found in list_holidays("US", year) if found.weekday() < 5]
    assert closed == federal_by_rule(year)


def test_firms_choose_their_holidays():
    """Without observed days July 3 is worked; a holiday can be worked; own days off, another country, or no country's at all."""
    assert not is_working_day(FEDERAL, day("2026-07-03"))
    assert is_working_day(WorkCalendar(observed=False), day("2026-07-03"))
    assert is_working_day(WorkCalendar(days_worked=frozenset({day("2026-10-12")})), day("2026-10-12"))
    assert not is_working_day(WorkCalendar(days_off=frozenset({day("2026-11-27")})), day("2026-11-27"))
    assert not is_working_day(WorkCalendar(country="CA"), day("2026-07-01"))
    assert is_working_day(WorkCalendar(country=""), day("2026-12-25"))
    assert not is_working_day(WorkCalendar(region="TX"), day("2026-03-02"))  # Texas Independence Day, from memory


def test_saturday_may_be_a_working_day():
    """Six days a week."""
    assert is_working_day(WorkCalendar(working_days=frozenset(range(6))), day("2026-06-13"))


def test_five_workdays_across_the_fourth_of_july():
    """Five workdays from Monday 2026-06-29 end on Monday July 6, as Friday July 3 is the observed holiday."""
    hand_last = day("2026-07-06")
    assert find_working_day(FEDERAL, day("2026-06-29"), 5) == hand_last
    assert count_working_days(FEDERAL, day("2026-06-29"), hand_last) == 5
    assert add_working_hours(FEDERAL, at("2026-06-29 08:00"), 40) == at("2026-07-06 16:00")


def test_silicone_laid_on_a_friday():
    """24 h from Friday 16:00 end on Saturday 16:00: water is on again on Monday 08:00."""
    assert add_elapsed_hours(FEDERAL, at("2026-06-12 16:00"), 24) == at("2026-06-15 08:00")


@pytest.mark.parametrize(
    ("laid", "hand_on"),
    [
        ("2026-06-08 10:30", "2026-06-09 10:30"),
        ("2026-06-11 15:00", "2026-06-12 15:00"),
        ("2026-06-12 09:00", "2026-06-15 08:00"),
        ("2026-07-02 12:00", "2026-07-06 08:00"),
    ],
)
def test_silicone_on_other_days(laid, hand_on):
    """Within the week the next day at the same time; into a weekend or July 3 on to the next working morning."""
    assert add_elapsed_hours(FEDERAL, at(laid), 24) == at(hand_on)


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


def test_neighbouring_working_instants():
    """Starts move on to the morning, finishes back to the evening."""
    assert next_working_instant(FEDERAL, at("2026-06-12 16:00")) == at("2026-06-15 08:00")
    assert next_working_instant(FEDERAL, at("2026-06-12 15:59")) == at("2026-06-12 15:59")
    assert previous_working_instant(FEDERAL, at("2026-06-15 08:00")) == at("2026-06-12 16:00")
    assert previous_working_instant(FEDERAL, at("2026-06-15 08:01")) == at("2026-06-15 08:01")


def test_working_hours_between_instants():
    """From Friday noon to Monday noon 8 hours; backwards the negative."""
    assert count_working_hours(FEDERAL, at("2026-06-12 12:00"), at("2026-06-15 12:00")) == 8
    assert count_working_hours(FEDERAL, at("2026-06-15 12:00"), at("2026-06-12 12:00")) == -8
    assert count_working_hours(FEDERAL, at("2026-06-13 12:00"), at("2026-06-14 12:00")) == 0


@pytest.mark.parametrize(
    ("signed", "hand_last_day"),
    [
        ("2026-06-11", "2026-06-15"),  # Thursday: Friday, Saturday, Monday
        ("2026-06-12", "2026-06-16"),  # Friday: Saturday, Monday, Tuesday
        ("2026-06-13", "2026-06-17"),  # Saturday: Monday, Tuesday, Wednesday
        ("2026-06-14", "2026-06-17"),  # Sunday: the same
        ("2026-06-17", "2026-06-22"),  # Wednesday: Thursday, (Friday the 19th is a holiday), Saturday, Monday
        ("2026-07-01", "2026-07-07"),  # Wednesday: Thursday, (observed Friday, Saturday the 4th), Monday, Tuesday
    ],
)
def test_cooling_off_ends_at_midnight_of_the_third_business_day(signed, hand_last_day):
    """cfr-16-429: Saturdays count, Sundays and federal holidays don't (from memory); the day's midnight is the start of the next."""
    assert cooling_off_end(day(signed)) == datetime.combine(day(hand_last_day) + timedelta(days=1), time())


def test_cooling_off_of_three_days_is_the_printed_rule():
    """cfr-16-429, 429.1: third business day. A state's longer span is given in days."""
    printed_days = 3
    assert value("calendar", "cooling-off/business-days") == printed_days
    assert cooling_off_end(day("2026-06-11"), days=5) == at("2026-06-18 00:00")


@pytest.mark.parametrize(
    ("settings_", "wording"),
    [
        ({"hours_a_day": 0}, r"hours_a_day: 0 h from 08:00 makes no working day"),
        ({"hours_a_day": float("nan")}, r"hours_a_day: nan h"),
        ({"hours_a_day": 9, "start_of_day": time(18)}, r"hours_a_day: 9 h from 18:00 makes no working day\. Wanted: more than 0, over by midnight"),
        ({"working_days": frozenset()}, r"working_days: \[\] are no days of a week"),
        ({"working_days": frozenset({7})}, r"working_days: \[7\] are no days of a week"),
    ],
)
def test_a_calendar_without_work_is_refused(settings_, wording):
    """Nobody could ever finish."""
    with pytest.raises(KitError, match=wording):
        WorkCalendar(**settings_)


def test_all_faults_of_a_calendar_come_at_once():
    """Two faults, one report."""
    with pytest.raises(KitError, match=r"no working day") as caught:
        WorkCalendar(hours_a_day=25, working_days=frozenset())
    assert len(caught.value.faults) == 2


def test_what_makes_no_sense_is_refused():
    """Unknown lists of holidays, negative hours, no days."""
    with pytest.raises(KitError, match=r'country: No list of holidays for "QQ"\. Give a code such as US'):
        is_working_day(WorkCalendar(country="QQ"), day("2026-06-08"))
    with pytest.raises(KitError, match=r'No list of holidays for "US, ZZ"'):
        list_holidays("US", 2026, "ZZ")
    with pytest.raises(KitError, match=r"-1 hours make no sense\. Give 0 or more"):
        add_working_hours(FEDERAL, at("2026-06-08 08:00"), -1)
    with pytest.raises(KitError, match=r"nan hours make no sense"):
        add_elapsed_hours(FEDERAL, at("2026-06-08 08:00"), float("nan"))
    with pytest.raises(KitError, match=r"0 working days have no last one"):
        find_working_day(FEDERAL, day("2026-06-08"), 0)


calendars = st.builds(
    WorkCalendar,
    start_of_day=st.sampled_from([time(6), time(8), time(9, 30)]),
    hours_a_day=st.sampled_from([0.5, 6.0, 8.0, 10.0]),
    working_days=st.frozensets(st.integers(0, 6), min_size=1),
)
instants = st.integers(0, 40 * 24 * 4).map(lambda quarters: datetime.combine(day("2026-06-20"), time()) + timedelta(minutes=15 * quarters))
hours = st.integers(0, 200).map(lambda quarters: quarters / 4)


@settings(deadline=None)
@given(calendars, instants, hours)
def test_added_hours_are_counted_and_can_be_taken_back(calendar, when, amount):
    """What was added lies between start and end; going back gives the latest start, from which the same end is reached."""
    end = add_working_hours(calendar, when, amount)
    assert count_working_hours(calendar, when, end) == amount
    latest = subtract_working_hours(calendar, end, amount)
    assert latest >= (when if amount else end)
    assert add_working_hours(calendar, latest, amount) == end
    assert add_working_hours(calendar, latest + timedelta(minutes=1), amount) > end


@settings(deadline=None)
@given(calendars, instants, st.integers(0, 500), hours, hours)
def test_later_or_longer_never_ends_earlier(calendar, when, later, amount, more):
    """The end of work never falls when its start or its length grows, nor does the instant after a wait."""
    assert add_working_hours(calendar, when + timedelta(minutes=later), amount + more) >= add_working_hours(calendar, when, amount)
    assert add_elapsed_hours(calendar, when + timedelta(minutes=later), amount + more) >= add_elapsed_hours(calendar, when, amount)
