"""Which days of a year are federal holidays in the United States? By rule: the lists of all countries take longer to load than an estimate takes.

The rules are those of 5 U.S.C. 6103 (from memory); a test holds every year against the library that has the other countries' lists.
"""

from collections.abc import Iterator
from datetime import date, timedelta

__all__ = ["FIRST_YEAR", "federal_holidays"]

FIRST_YEAR = 1986
"""Of these rules: before it the list was another one."""

MONDAY, THURSDAY, SATURDAY, SUNDAY = 0, 3, 5, 6
_ON_A_DATE = ((1, 1), (6, 19), (7, 4), (11, 11), (12, 25))  # month, day
_ON_A_WEEKDAY = ((1, MONDAY, 3), (2, MONDAY, 3), (5, MONDAY, -1), (9, MONDAY, 1), (10, MONDAY, 2), (11, THURSDAY, 4))  # month, weekday, which; -1: the last
_ADDED = {(6, 19): 2021}  # the year in which a date came onto the list
_GIVEN_OFF = {SATURDAY: timedelta(days=-1), SUNDAY: timedelta(days=1)}


def federal_holidays(year: int, *, observed: bool) -> frozenset[date]:
    """List the federal holidays of a year from `FIRST_YEAR` on; with `observed` also the weekday given off for one on a weekend."""
    days = {_find_weekday(year, *rule) for rule in _ON_A_WEEKDAY} | set(_days_on_a_date(year))
    if observed:  # for the next New Year's Day it may be the last of this December
        days |= {day + _GIVEN_OFF[day.weekday()] for day in (*_days_on_a_date(year), date(year + 1, 1, 1)) if day.weekday() in _GIVEN_OFF}
    return frozenset(day for day in days if day.year == year)


def _days_on_a_date(year: int) -> Iterator[date]:
    yield from (date(year, *rule) for rule in _ON_A_DATE if year >= _ADDED.get(rule, FIRST_YEAR))


def _find_weekday(year: int, month: int, weekday: int, which: int) -> date:
    """Such a weekday of a month: the first, second and so on, -1 for the last."""
    start = date(year, month, 1) if which > 0 else date(year, month + 1, 1)
    weeks = which - 1 if which > 0 else which
    return start + timedelta(days=(weekday - start.weekday()) % 7, weeks=weeks)
