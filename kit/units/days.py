"""Printing a day as people write it."""

from datetime import date

__all__ = ["format_day"]

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def format_day(day: date, *, beside: date | None = None) -> str:
    """A day: `Thu, Apr 16, 2026`; without its year beside another day of the same year. The same in every language setting.

    Examples
    --------
    >>> format_day(date(2026, 4, 16))
    'Thu, Apr 16, 2026'
    >>> format_day(date(2026, 4, 16), beside=date(2026, 3, 9))
    'Thu, Apr 16'
    """
    words = f"{_WEEKDAYS[day.weekday()]}, {_MONTHS[day.month - 1]} {day.day}"
    return words if beside is not None and beside.year == day.year else f"{words}, {day.year}"
