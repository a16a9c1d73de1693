"""When is it working time? Working hours, elapsed hours, holidays and days in which a customer may cancel.

Instants are naive datetimes on the clock of the kitchen's wall. Work consumes working time. Curing, delivery and
cooling-off consume elapsed time, day and night; what follows them starts at the next working instant.
A finish at the end of a day stays there (Friday 16:00), a start moves on (Monday 08:00): the same working hour, two instants.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from math import isfinite
from types import MappingProxyType

from kit.errors import Fault, KitError
from kit.sources import value

__all__ = [
    "WorkCalendar",
    "add_elapsed_hours",
    "add_working_hours",
    "cooling_off_end",
    "count_working_days",
    "count_working_hours",
    "find_working_day",
    "is_working_day",
    "list_holidays",
    "next_working_instant",
    "previous_working_instant",
    "subtract_working_hours",
    "to_minute",
]

DAY = timedelta(days=1)
SUNDAY = 6


@dataclass(frozen=True, slots=True)
class WorkCalendar:
    """The days and hours on which people work.

    Parameters
    ----------
    start_of_day
        When work starts.
    hours_a_day
        Working hours of a working day, breaks left out [h].
    working_days
        Days of the week, Monday 0 to Sunday 6.
    country
        Two-letter code (ISO 3166) of the country whose public holidays are kept; "" for none. "US" keeps the federal ones.
    region
        State or province whose holidays are kept too; "" for none.
    observed
        Whether the weekday given off for a holiday on a weekend is kept.
    days_off
        Further days off: the firm's own holidays.
    days_worked
        Days worked although they are a holiday or a weekend.
    """

    start_of_day: time = time(8)
    hours_a_day: float = 8.0
    working_days: frozenset[int] = frozenset({0, 1, 2, 3, 4})
    country: str = "US"
    region: str = ""
    observed: bool = True
    days_off: frozenset[date] = frozenset()
    days_worked: frozenset[date] = frozenset()

    def __post_init__(self) -> None:
        faults: list[Fault] = []
        if not (isfinite(self.hours_a_day) and self.hours_a_day > 0 and self.opens + self.length <= DAY):
            faults.append(
                Fault("hours_a_day", f"{self.hours_a_day:g} h from {self.start_of_day:%H:%M} makes no working day. Wanted: more than 0, over by midnight.")
            )
        if not self.working_days or not self.working_days <= frozenset(range(7)):
            faults.append(Fault("working_days", f"{sorted(self.working_days)} are no days of a week. Wanted: at least one of 0 (Monday) to 6 (Sunday)."))
        if faults:
            raise KitError(faults)

    @property
    def opens(self) -> timedelta:
        """From midnight to the start of work."""
        return timedelta(hours=self.start_of_day.hour, minutes=self.start_of_day.minute, seconds=self.start_of_day.second)

    @property
    def length(self) -> timedelta:
        """From the start to the end of a day's work."""
        return timedelta(hours=self.hours_a_day)


@cache
def list_holidays(country: str, year: int, region: str = "", *, observed: bool = True) -> Mapping[date, str]:
    """List public holidays of a year with their names.

    Parameters
    ----------
    country
        Two-letter code (ISO 3166); "US" alone gives the federal holidays (5 U.S.C. 6103).
    year
        Calendar year.
    region
        State or province, "" for the country alone.
    observed
        Add the weekday given off when a holiday falls on a weekend: a rule for federal pay; private firms choose.

    Returns
    -------
    Name of each holiday by its date, in order.

    Raises
    ------
    KitError
        No list for that country or region.
    """
    from holidays import country_holidays  # slow to import, and only calendars need it

    try:
        found = country_holidays(country, subdiv=region or None, years=year, observed=observed)
    except NotImplementedError as error:
        place = ", ".join(part for part in (country, region) if part)
        raise KitError(Fault("country", f'No list of holidays for "{place}". Give a code such as US, or days off of your own.')) from error
    return MappingProxyType(dict(sorted(found.items())))


def is_working_day(calendar: WorkCalendar, day: date) -> bool:
    """Whether people work on that day."""
    if day in calendar.days_worked:
        return True
    if day.weekday() not in calendar.working_days or day in calendar.days_off:
        return False
    return not calendar.country or day not in list_holidays(calendar.country, day.year, calendar.region, observed=calendar.observed)


def next_working_instant(calendar: WorkCalendar, when: datetime) -> datetime:
    """Find the first instant, not before `when`, at which work can start."""
    day = _midnight(when)
    if when >= day + calendar.opens + calendar.length:
        day += DAY
    day = _to_working_day(calendar, day, DAY)
    return max(when, day + calendar.opens)


def previous_working_instant(calendar: WorkCalendar, when: datetime) -> datetime:
    """Find the last instant, not after `when`, at which work can end."""
    day = _midnight(when)
    if when <= day + calendar.opens:
        day -= DAY
    day = _to_working_day(calendar, day, -DAY)
    return min(when, day + calendar.opens + calendar.length)


def add_working_hours(calendar: WorkCalendar, when: datetime, hours: float) -> datetime:
    """Find when work ends that may start at `when`.

    Parameters
    ----------
    calendar
        Working time.
    when
        Earliest start; outside working time the work starts at the next working instant.
    hours
        Working hours, 0 or more; times are kept to the microsecond.

    Returns
    -------
    End of the work; work that fills its day ends with that day. Without hours: `when` itself if people are there
    then, else the next working instant.

    Raises
    ------
    KitError
        Hours below 0 or without end.
    """
    left = _span(hours)
    if not left:
        return _attend(calendar, when, next_working_instant)
    start = next_working_instant(calendar, when)
    day = _midnight(start)
    while start + left > (closes := day + calendar.opens + calendar.length):
        left -= closes - start
        day = _to_working_day(calendar, day + DAY, DAY)
        start = day + calendar.opens
    return start + left


def subtract_working_hours(calendar: WorkCalendar, when: datetime, hours: float) -> datetime:
    """Find the latest start of work that must have ended at `when`; the mirror of `add_working_hours`."""
    left = _span(hours)
    if not left:
        return _attend(calendar, when, previous_working_instant)
    end = previous_working_instant(calendar, when)
    day = _midnight(end)
    while end - left < (opens := day + calendar.opens):
        left -= end - opens
        day = _to_working_day(calendar, day - DAY, -DAY)
        end = day + calendar.opens + calendar.length
    return end - left


def add_elapsed_hours(calendar: WorkCalendar, when: datetime, hours: float) -> datetime:
    """Find the first working instant once that many hours have passed, day and night [h]."""
    return next_working_instant(calendar, when + _span(hours))


def count_working_hours(calendar: WorkCalendar, first: datetime, last: datetime) -> float:
    """Count the working hours between two instants [h]; negative when the second is the earlier one."""
    if last < first:
        return -count_working_hours(calendar, last, first)
    total, day = timedelta(), _midnight(first)
    while day <= last:
        if is_working_day(calendar, day.date()):
            opens = day + calendar.opens
            total += max(timedelta(), min(last, opens + calendar.length) - max(first, opens))
        day += DAY
    return total / timedelta(hours=1)


def count_working_days(calendar: WorkCalendar, first: date, last: date) -> int:
    """Count the working days from `first` to `last`, both included."""
    return sum(is_working_day(calendar, first + n * DAY) for n in range((last - first).days + 1))


def find_working_day(calendar: WorkCalendar, first: date, count: int) -> date:
    """Find the day on which `count` (1 or more) working days have been worked; `first` counts if it is one."""
    if count < 1:
        raise KitError(f"{count} working days have no last one. Give 1 or more.")
    day = first
    while (count := count - is_working_day(calendar, day)) > 0:
        day += DAY
    return day


def cooling_off_end(signed: date, *, days: int | None = None, country: str = "US", region: str = "") -> datetime:
    """Find when a customer's right to cancel a sale made at home ends: midnight of the last business day of the span.

    Parameters
    ----------
    signed
        Day on which the customer signed and got the notices.
    days
        Business days of the span; None takes the federal rule's three. State rules can be longer: ask for the local ones.
    country, region
        Whose holidays do not count.

    Returns
    -------
    The midnight at which the span is over. Before it nothing should be ordered or started.

    Notes
    -----
    16 CFR 429.0, 429.1: every day but Sundays and federal holidays is a business day, so Saturdays count. A holiday on a weekend takes
    out both its own date and the weekday on which it is observed: the later reading, so that nothing is ordered too early.
    """
    left = round(value("calendar", "cooling-off/business-days")) if days is None else days
    day = signed
    while left > 0:
        day += DAY
        left -= day.weekday() != SUNDAY and day not in list_holidays(country, day.year, region)
    return datetime.combine(day + DAY, time())


def to_minute(when: datetime) -> datetime:
    """An instant to the nearest minute, for people."""
    return (when + timedelta(seconds=30)).replace(second=0, microsecond=0)


def _midnight(when: datetime) -> datetime:
    return datetime.combine(when.date(), time())


def _span(hours: float) -> timedelta:
    if not (isfinite(hours) and hours >= 0):
        raise KitError(f"{hours:g} hours make no sense. Give 0 or more.")
    return timedelta(hours=hours)


def _to_working_day(calendar: WorkCalendar, day: datetime, step: timedelta) -> datetime:
    while not is_working_day(calendar, day.date()):
        day += step
    return day


def _attend(calendar: WorkCalendar, when: datetime, move: Callable[[WorkCalendar, datetime], datetime]) -> datetime:
    opens = _midnight(when) + calendar.opens
    there = is_working_day(calendar, when.date()) and opens <= when <= opens + calendar.length
    return when if there else move(calendar, when)
