"""Which days are worked, and between which hours? Working days, holidays, and the days in which a customer may cancel.

Instants are naive datetimes on the clock of the kitchen's wall. `kit.labor.clock` adds and counts the hours of a calendar.
"""

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cache
from math import isfinite

from kit.errors import Fault, KitError
from kit.sources import value

__all__ = ["WorkCalendar", "cooling_off_end", "is_working_day", "list_holidays", "to_minute", "working_days"]

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
    opens, length
        From midnight to the start of work, and from there to its end; they follow from the first two.
    years
        What `working_days` found before, by year.
    """

    start_of_day: time = time(8)
    hours_a_day: float = 8.0
    working_days: frozenset[int] = frozenset({0, 1, 2, 3, 4})
    country: str = "US"
    region: str = ""
    observed: bool = True
    days_off: frozenset[date] = frozenset()
    days_worked: frozenset[date] = frozenset()
    opens: timedelta = field(init=False, repr=False, compare=False)
    length: timedelta = field(init=False, repr=False, compare=False)
    years: dict[int, tuple[int, ...]] = field(init=False, repr=False, compare=False, default_factory=dict)

    def __post_init__(self) -> None:
        faults: list[Fault] = []
        opens = timedelta(hours=self.start_of_day.hour, minutes=self.start_of_day.minute, seconds=self.start_of_day.second)
        if not (isfinite(self.hours_a_day) and self.hours_a_day > 0 and opens + timedelta(hours=self.hours_a_day) <= DAY):
            faults.append(
                Fault("hours_a_day", f"{self.hours_a_day:g} h from {self.start_of_day:%H:%M} makes no working day. Needed: more than 0, over by midnight.")
            )
        if not self.working_days or not self.working_days <= frozenset(range(7)):
            faults.append(Fault("working_days", f"{sorted(self.working_days)} are no days of a week. Needed: at least one of 0 (Monday) to 6 (Sunday)."))
        if faults:
            raise KitError(faults)
        object.__setattr__(self, "opens", opens)
        object.__setattr__(self, "length", timedelta(hours=self.hours_a_day))


@cache
def list_holidays(country: str, year: int, region: str = "", *, observed: bool = True) -> frozenset[date]:
    """List public holidays of a year.

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

    Raises
    ------
    KitError
        No list for that country or region.
    """
    from holidays import country_holidays  # slow to import, and only calendars need it

    try:
        return frozenset(country_holidays(country, subdiv=region or None, years=year, observed=observed))
    except NotImplementedError as error:
        place = ", ".join(part for part in (country, region) if part)
        raise KitError(Fault("country", f'No list of holidays for "{place}". Give a code such as US, or days off of your own.')) from error


def is_working_day(calendar: WorkCalendar, day: date) -> bool:
    """Whether people work on that day."""
    if day in calendar.days_worked:
        return True
    if day.weekday() not in calendar.working_days or day in calendar.days_off:
        return False
    return not calendar.country or day not in list_holidays(calendar.country, day.year, calendar.region, observed=calendar.observed)


def working_days(calendar: WorkCalendar, year: int) -> tuple[int, ...]:
    """List the days of a year on which people work, as ordinals (`date.toordinal`)."""
    days = calendar.years.get(year)
    if days is None:
        days = calendar.years[year] = _list_working_days(calendar, year)
    return days


def _list_working_days(calendar: WorkCalendar, year: int) -> tuple[int, ...]:
    days = range(date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal() + 1)
    return tuple(day for day in days if is_working_day(calendar, date.fromordinal(day)))


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
