"""Printing a day as people write it; the same in every language setting."""

from datetime import date, datetime, timedelta

from kit.units.counts import count_parts

__all__ = ["format_day", "format_days", "format_half_day", "format_hour", "format_instant", "format_long_day", "round_up_days"]

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
_SHORT = 3  # letters
_NOON = 12
_WHOLE_DAYS_FROM = 2
_SAME_HALF_H = 4.0  # half a working day: what two times in its mornings, or in its afternoons, lie apart at most
_HALF_A_MINUTE = timedelta(seconds=30)


def format_day(day: date, *, beside: date | None = None) -> str:
    """A day: `Thu, Apr 16, 2026`; without its year beside another day of the same year.

    Examples
    --------
    >>> format_day(date(2026, 4, 16))
    'Thu, Apr 16, 2026'
    >>> format_day(date(2026, 4, 16), beside=date(2026, 3, 9))
    'Thu, Apr 16'
    """
    words = f"{_WEEKDAYS[day.weekday()][:_SHORT]}, {_MONTHS[day.month - 1][:_SHORT]} {day.day}"
    return words if beside is not None and beside.year == day.year else f"{words}, {day.year}"


def format_days(days: float) -> str:
    """Days, rounded up as a promise is: a whole number from two on, below to the half, and less than half a day in hours.

    They are counted by the half days that stand beside them, such as Thu, Mar 26, morning to Mon, Apr 13, morning: some hours more, within the same half
    of a working day, are no further day.

    Examples
    --------
    >>> format_days(3.26), format_days(1.3), format_days(0.5), format_days(0.17), format_days(18.1)
    ('4 days', '1 1/2 days', 'half a day', '5 hours', '18 days')
    """
    rounded = round_up_days(days)
    if rounded > _WHOLE_DAYS_FROM:
        return f"{rounded:.0f} days"
    hours = round(rounded * 24.0)
    few = (f"{hours} {'hour' if hours == 1 else 'hours'}", "half a day", "1 day", "1 1/2 days", "2 days")
    return few[round(rounded * 2.0) if hours >= _NOON else 0]


def round_up_days(days: float) -> float:
    """Days as `format_days` says them: a difference of two is then that of what stands beside it.

    Examples
    --------
    >>> round_up_days(3.26), round_up_days(1.3), round_up_days(0.5), round_up_days(0.01) * 24.0
    (4.0, 1.5, 0.5, 1.0)
    """
    hours = max(1, count_parts(days * 24.0, 1.0))
    halves = count_parts(days - _SAME_HALF_H / 24.0, 0.5)
    return hours / 24.0 if hours < _NOON else halves / 2.0 if halves <= _WHOLE_DAYS_FROM * 2 else float(count_parts(halves, 2.0))


def format_long_day(day: date) -> str:
    """A day in a sentence of a paper.

    Examples
    --------
    >>> format_long_day(date(2026, 3, 2))
    'Monday, March 2, 2026'
    """
    return f"{_WEEKDAYS[day.weekday()]}, {_MONTHS[day.month - 1]} {day.day}, {day.year}"


def format_instant(when: datetime) -> str:
    """A day and the time on it, to the nearest minute.

    Examples
    --------
    >>> format_instant(datetime(2026, 4, 16, 13, 28))
    'Thu, Apr 16, 2026, 1:28 pm'
    """
    when += _HALF_A_MINUTE
    return f"{format_day(when.date())}, {(when.hour - 1) % _NOON + 1}:{when.minute:02d} {'pm' if when.hour >= _NOON else 'am'}"


def format_half_day(when: datetime, *, beside: date | None = None) -> str:
    """A day and the half of it, as a crew plans.

    Examples
    --------
    >>> format_half_day(datetime(2026, 4, 16, 11, 59)), format_half_day(datetime(2026, 4, 16, 12, 0), beside=date(2026, 3, 9))
    ('Thu, Apr 16, 2026, morning', 'Thu, Apr 16, afternoon')
    """
    return f"{format_day(when.date(), beside=beside)}, {'morning' if when.hour < _NOON else 'afternoon'}"


def format_hour(when: datetime) -> str:
    """The hour at which people come, to the half hour at or before it.

    Examples
    --------
    >>> format_hour(datetime(2026, 4, 16, 10, 12)), format_hour(datetime(2026, 4, 16, 13, 44))
    ('10:00', '1:30')
    """
    return f"{(when.hour - 1) % _NOON + 1}:{when.minute // 30 * 30:02d}"
