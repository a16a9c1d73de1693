"""Working and elapsed time for many trials at once: `kit.labor.calendar` as arithmetic on arrays of hours."""

from datetime import date, timedelta
from typing import TYPE_CHECKING

from kit.labor.calendar import WorkCalendar, is_working_day

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["HourClock"]

DUST = 1e-9
"""A day begun by less than this [h] is the dust of binary arithmetic."""


class HourClock:
    """A calendar laid out from a first day on; instants are hours since that day's midnight.

    Parameters
    ----------
    calendar
        Working time.
    first
        Day 0.
    days
        How many days to lay out; instants beyond them can't be reached.
    """

    __slots__ = ("_before", "_length", "_nth", "_opens", "_works")

    def __init__(self, calendar: WorkCalendar, first: date, days: int) -> None:
        import numpy as np

        works = np.array([is_working_day(calendar, first + timedelta(days=n)) for n in range(days)])
        self._works = works.astype(np.float64)
        self._before = np.concatenate(([0.0], np.cumsum(self._works)))[:-1]
        self._nth = np.flatnonzero(works).astype(np.float64)
        self._opens = calendar.opens / timedelta(hours=1)
        self._length = calendar.length / timedelta(hours=1)

    def worked(self, instants: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Count the working hours before instants."""
        import numpy as np

        day = np.floor(instants * (1 / 24))
        number = day.astype(np.int32)
        today: NDArray[np.float64] = instants - day * 24
        today -= self._opens
        np.clip(today, 0.0, self._length, out=today)
        today *= self._works[number]
        today += self._before[number] * self._length
        return today

    def add_working_hours(self, instants: "NDArray[np.float64]", hours: "NDArray[np.float64] | float") -> "NDArray[np.float64]":
        """Find when work ends that may start at instants; work without hours is done at once."""
        import numpy as np

        target = self.worked(instants)
        target += hours
        day = np.ceil(target * (1 / self._length) - DUST)
        day -= 1
        np.maximum(day, 0.0, out=day)
        target -= day * self._length
        target += self._nth[day.astype(np.int32)] * 24
        target += self._opens
        ends: NDArray[np.float64] = np.maximum(target, instants)
        return ends

    def attend(self, instants: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Find the first instants, none before those given, at which people are there."""
        import numpy as np

        day = np.floor(instants * (1 / 24))
        number = day.astype(np.int32)
        today = instants - day * 24 - self._opens
        there = (self._works[number] > 0) & (today >= 0) & (today <= self._length + DUST)
        coming = self._before[number] + (self._works[number] > 0) * (today > 0)
        return np.where(there, instants, self._nth[coming.astype(np.int32)] * 24 + self._opens)
