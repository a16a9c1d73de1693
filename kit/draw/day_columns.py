"""Where does an instant lie across a calendar? A wide column for each day that is worked on; days on which nothing is done share a narrow one."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from kit.labor.calendar import WorkCalendar, is_working_day
from kit.labor.schedule import ScheduledStep

__all__ = ["Column", "DayColumns", "find_spans", "lay_columns"]

GAP, WIDEST_DAY, NARROWEST_DAY = 30.0, 78.0, 22.0
"""Width of days on which nothing is done, however many; widest and narrowest day [px]."""
SHORT_GAP = 10.0
"""The former where the width is all there is [px]."""
_DAY = timedelta(days=1)

Span = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True)
class Column:
    """Days from `first` to `last`, from `left` on [px]; `idle` where nothing is done on them."""

    first: date
    last: date
    left: float
    wide: float
    idle: bool

    @property
    def days(self) -> int:
        """How many days it stands for."""
        return (self.last - self.first).days + 1


@dataclass(frozen=True, slots=True)
class DayColumns:
    """The columns in order; a worked one holds the working hours, the night has no width."""

    calendar: WorkCalendar
    columns: tuple[Column, ...]

    @property
    def right(self) -> float:
        """Where the last one ends [px]."""
        return self.columns[-1].left + self.columns[-1].wide

    def x(self, when: datetime) -> float:
        """Where an instant lies [px]; in a narrow column in proportion to its days."""
        column = next((one for one in self.columns if when.date() <= one.last), self.columns[-1])
        opens = datetime.combine(when.date(), self.calendar.start_of_day)
        part = min(1.0, max(0.0, (when - opens) / self.calendar.length))
        return column.left + ((when.date() - column.first).days + part) / column.days * column.wide


def find_spans(calendar: WorkCalendar, row: ScheduledStep) -> Iterator[Span]:
    """When the step is worked at: one span for each run of working days."""
    begun: datetime | None = None
    ended = row.start
    for number in range((row.finish.date() - row.start.date()).days + 1):
        day = row.start.date() + timedelta(days=number)
        opens = datetime.combine(day, calendar.start_of_day)
        if is_working_day(calendar, day):
            begun, ended = begun or max(row.start, opens), min(row.finish, opens + calendar.length)
        elif begun is not None:
            yield begun, ended
            begun = None
    if begun is not None:
        yield begun, ended


def lay_columns(calendar: WorkCalendar, spans: Iterable[Span], last: date, left: float, width: float, *, whole: bool = False) -> DayColumns:
    """The columns of days from the first span to `last`, from `left` on, in about `width` [px].

    They take more where days would get too narrow, unless that width is the `whole` that there is.
    """
    worked = sorted({begin.date() + timedelta(days=number) for begin, end in spans for number in range((end.date() - begin.date()).days + 1)})
    runs = [*_runs(worked, last)]
    gaps = sum(idle for _, _, idle in runs)
    gap = min(SHORT_GAP, width / 2.0 / gaps) if whole and gaps else GAP
    share = (width - gaps * gap) / len(worked)
    wide = min(WIDEST_DAY, share if whole else max(NARROWEST_DAY, share))
    columns: list[Column] = []
    for begin, end, idle in runs:
        columns.append(Column(begin, end, left, gap if idle else wide, idle))
        left += columns[-1].wide
    return DayColumns(calendar, tuple(columns))


def _runs(worked: list[date], last: date) -> Iterator[tuple[date, date, bool]]:
    """Each worked day, and between them the days on which nothing is done."""
    for day, following in pairwise([*worked, last + _DAY]):
        yield day, day, False
        if following - day > _DAY:
            yield day + _DAY, following - _DAY, True
