"""Working days, holidays, and the days in which a customer may cancel."""

from datetime import date, datetime, time, timedelta

import pytest

from kit.errors import KitError
from kit.labor.calendar import WorkCalendar, cooling_off_end, is_working_day, list_holidays, to_minute, working_days
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
    closed = sorted(found for found in list_holidays("US", year) if found.weekday() < 5)
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


@pytest.mark.parametrize(("year", "hand_days"), [(2026, 365), (2028, 366)])
def test_a_year_is_looked_through_from_its_first_day_to_its_last(year, hand_days):
    """Who works every day works on all of them; who keeps the federal ones starts 2026 on Friday, January 2 and ends it on Thursday, December 31."""
    every = working_days(WorkCalendar(working_days=frozenset(range(7)), country=""), year)
    assert (len(every), date.fromordinal(every[0]), date.fromordinal(every[-1])) == (hand_days, date(year, 1, 1), date(year, 12, 31))
    federal = working_days(FEDERAL, 2026)
    assert (date.fromordinal(federal[0]), date.fromordinal(federal[-1])) == (day("2026-01-02"), day("2026-12-31"))


@pytest.mark.parametrize(("when", "hand_minute"), [("09:00:29.999999", "09:00"), ("09:00:30", "09:01"), ("09:01:00", "09:01"), ("23:59:30", "00:00")])
def test_an_instant_to_the_nearest_minute(when, hand_minute):
    """Half a minute counts as a whole one."""
    assert f"{to_minute(at(f'2026-06-08 {when}')):%H:%M:%S.%f}" == f"{hand_minute}:00.000000"


def test_a_working_day_may_last_until_midnight():
    assert WorkCalendar(time(18), 6.0).length == timedelta(hours=6)
    assert WorkCalendar(time(18), 0.5).length == timedelta(minutes=30)
    assert WorkCalendar(time(0), 24.0).length == timedelta(hours=24)


def test_saturday_may_be_a_working_day():
    """Six days a week."""
    assert is_working_day(WorkCalendar(working_days=frozenset(range(6))), day("2026-06-13"))


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
        ({"hours_a_day": 9, "start_of_day": time(18)}, r"hours_a_day: 9 h from 18:00 makes no working day\. Needed: more than 0, over by midnight"),
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


def test_an_unknown_list_of_holidays_is_refused():
    """Unknown lists of holidays."""
    with pytest.raises(KitError, match=r'country: No list of holidays for "QQ"\. Give a code such as US'):
        is_working_day(WorkCalendar(country="QQ"), day("2026-06-08"))
    with pytest.raises(KitError, match=r'No list of holidays for "US, ZZ"'):
        list_holidays("US", 2026, "ZZ")
