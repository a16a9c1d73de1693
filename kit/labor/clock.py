"""When does work end that starts then? Working hours on a calendar, for one instant or for many trials at once.

Work consumes working time. Curing, delivery and cooling-off consume elapsed time, day and night; what follows them starts at the next
working instant. A finish at the end of a day stays there (Friday 16:00), a start moves on (Monday 08:00): the same working hour, two
instants. Both clocks below find that hour in the table of working days, move it, and say it as a start or as a finish.
"""

from bisect import bisect_left
from datetime import date, datetime, time, timedelta
from math import isfinite
from typing import TYPE_CHECKING

from kit.errors import KitError
from kit.labor.calendar import WorkCalendar, working_days

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = [
    "HOUR",
    "TrialClock",
    "add_working_hours",
    "count_working_hours",
    "last_day",
    "next_working_instant",
    "previous_working_instant",
    "subtract_working_hours",
]

HOUR = timedelta(hours=1)
NOTHING = timedelta()
DUST = 1e-9
"""A day begun by less than this [h] is rounding of binary arithmetic."""


def next_working_instant(calendar: WorkCalendar, when: datetime) -> datetime:
    """Find the first instant, not before `when`, at which work can start."""
    return _start(calendar, when, NOTHING)


def previous_working_instant(calendar: WorkCalendar, when: datetime) -> datetime:
    """Find the last instant, not after `when`, at which work can end."""
    return _finish(calendar, when, NOTHING)


def add_working_hours(calendar: WorkCalendar, when: datetime, hours: float) -> datetime:
    """Find when work ends that may start at `when`.

    Parameters
    ----------
    calendar
        Working time.
    when
        Earliest start; outside working time the work starts at the next working instant.
    hours
        Working hours [h], 0 or more; times are kept to the microsecond.

    Returns
    -------
    End of the work; work that fills its day ends with that day. Without hours: `when` itself if people are there
    then, else the next working instant.

    Raises
    ------
    KitError
        Hours below 0 or without end.
    """
    span = _span(hours)
    end = _finish(calendar, when, span)
    return end if span or end == when else _start(calendar, when, span)


def subtract_working_hours(calendar: WorkCalendar, when: datetime, hours: float) -> datetime:
    """Find the latest start of work that must have ended at `when`; the mirror of `add_working_hours`."""
    span = _span(hours)
    start = _start(calendar, when, -span)
    return start if span or start == when else _finish(calendar, when, span)


def count_working_hours(calendar: WorkCalendar, first: datetime, last: datetime) -> float:
    """Count the working hours between two instants [h]; negative when the second is the earlier one."""
    if last < first:
        return -count_working_hours(calendar, last, first)
    (day, before), (end, after) = _locate(calendar, first), _locate(calendar, last)
    years = range(date.fromordinal(day).year, date.fromordinal(end).year + 1)
    days = sum(len(working_days(calendar, year)) for year in years[:-1])
    days += bisect_left(working_days(calendar, years[-1]), end) - bisect_left(working_days(calendar, years[0]), day)
    return (days * calendar.length + after - before) / HOUR


def last_day(finish: datetime) -> date:
    """Get the day on whose work a finish closes: a finish at midnight belongs to the day before."""
    return (finish - timedelta.resolution).date()


def _span(hours: float) -> timedelta:
    if not (isfinite(hours) and hours >= 0):
        raise KitError(f"{hours:g} hours can't be right. Give 0 or more.")
    return timedelta(hours=hours)


def _start(calendar: WorkCalendar, when: datetime, more: timedelta) -> datetime:
    """The start of what follows that much working time after `when`."""
    day, worked = _locate(calendar, when)
    days, part = divmod(worked + more, calendar.length)
    return _instant(calendar, _move(calendar, day, days), part)


def _finish(calendar: WorkCalendar, when: datetime, more: timedelta) -> datetime:
    """The end of that much working time after `when`."""
    day, worked = _locate(calendar, when)
    days, part = divmod(worked + more, calendar.length)
    if not part:
        days, part = days - 1, calendar.length
    return _instant(calendar, _move(calendar, day, days), part)


def _locate(calendar: WorkCalendar, when: datetime) -> tuple[int, timedelta]:
    """The working day of an instant, else the next one, and how much of it has been worked by then."""
    today = when.toordinal()
    day = _move(calendar, today, 0)
    if day > today:
        return day, NOTHING
    return day, min(max(when - _instant(calendar, day, NOTHING), NOTHING), calendar.length)


def _move(calendar: WorkCalendar, day: int, count: int) -> int:
    """The working day that many working days after a day, or before it; 0 moves a day off to the next working day."""
    year = date.fromordinal(day).year
    days = working_days(calendar, year)
    place = bisect_left(days, day) + count
    while place >= len(days):
        place -= len(days)
        year += 1
        days = working_days(calendar, year)
    while place < 0:
        year -= 1
        days = working_days(calendar, year)
        place += len(days)
    return days[place]


def _instant(calendar: WorkCalendar, day: int, worked: timedelta) -> datetime:
    return datetime.combine(date.fromordinal(day), time()) + calendar.opens + worked


class TrialClock:
    """The same clock for many trials at once; instants are hours since midnight of the first day.

    Parameters
    ----------
    calendar
        Working time.
    first
        Day 0.
    days
        How many days to lay out; an instant beyond them is an IndexError.
    """

    __slots__ = ("_length", "_midnights", "_opens", "_worked_before", "_works")

    def __init__(self, calendar: WorkCalendar, first: date, days: int) -> None:
        import numpy as np

        start, last = first.toordinal(), first + timedelta(days=days)
        worked = [day for year in range(first.year, last.year + 1) for day in working_days(calendar, year)]
        works = np.isin(np.arange(start, start + days), worked).astype(np.float64)
        self._opens, self._length, self._works = calendar.opens / HOUR, calendar.length / HOUR, works
        self._worked_before = (np.cumsum(works) - works) * self._length
        self._midnights = np.flatnonzero(works) * 24.0

    def add_working_hours(self, instants: "NDArray[np.float64]", hours: "NDArray[np.float64] | float") -> "NDArray[np.float64]":
        """Find when work ends that may start at instants; work without hours is done at once."""
        import numpy as np

        target = self._locate(instants)
        target += hours
        ends: NDArray[np.float64] = np.maximum(self._finish(target), instants)
        return ends

    def attend(self, instants: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Find the first instants, none before those given, at which people are there."""
        import numpy as np

        worked = self._locate(instants)
        morning = self._midnights.take(np.floor(worked * (1 / self._length) + DUST).astype(np.intp)) + self._opens
        return np.where(np.abs(self._finish(worked) - instants) <= DUST, instants, morning)

    def _locate(self, instants: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Count the working hours before instants."""
        import numpy as np

        day = instants * (1 / 24)
        np.floor(day, out=day)
        number = day.astype(np.intp)
        day *= 24
        today: NDArray[np.float64] = instants - day
        today -= self._opens
        np.maximum(today, 0.0, out=today)
        np.minimum(today, self._length, out=today)
        today *= self._works.take(number)
        today += self._worked_before.take(number)
        return today

    def _finish(self, worked: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Turn working hours into instants, the end of a day rather than the morning after; it works in place."""
        import numpy as np

        day = worked * (1 / self._length)
        day -= DUST
        np.ceil(day, out=day)
        day -= 1
        np.maximum(day, 0.0, out=day)
        number = day.astype(np.intp)
        day *= self._length
        worked -= day
        worked += self._midnights.take(number)
        worked += self._opens
        return worked
