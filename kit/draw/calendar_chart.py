"""The job as a chart: a row for each step, a column for each day; waits, spare time and the days without a sink."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from html import escape
from itertools import accumulate
from math import ceil

from kit.draw.lettering import FONT, SIZE, clean, measure_text, wrap_text
from kit.labor.calendar import WorkCalendar, is_working_day, to_minute
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import OWN, ScheduledStep
from kit.steps import Step

__all__ = ["draw_calendar"]

ROW, LINE, HEAD, FOOT = 18.0, 13.0, 34.0, 34.0
LONGEST_NAME, BESIDE = 250.0, 16.0
"""A step's name takes another line beyond this, and keeps this far from bars and edge [px]."""
WIDE, WIDEST_DAY, NARROWEST_DAY = 740.0, 26.0, 2.5
"""Fitted to letter paper with margins, letters are 8 points high then; longer jobs get a wider sheet [px]."""
DATE_ROOM = 42.0
LEAST_BAR = 2.5
MOST_DAYS = 1000
"""A longer job is squeezed into the sheet and its days are not marked: nobody could tell them apart, and a far date would draw a hundred thousand."""
MONDAY = 0
WHEN = "%a %Y-%m-%d %H:%M"


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where an instant lies across the page: names first, then a column for each day; it holds the working hours, the night has no width."""

    calendar: WorkCalendar
    first: date
    days: int
    names: float

    @property
    def day_width(self) -> float:
        fitted = (WIDE - self.names - BESIDE) / self.days
        return fitted if self.days > MOST_DAYS else min(WIDEST_DAY, max(NARROWEST_DAY, fitted))

    @property
    def width(self) -> float:
        return max(self.names + self.days * self.day_width + BESIDE, WIDE)

    def x(self, when: datetime) -> float:
        opens = datetime.combine(when.date(), self.calendar.start_of_day)
        part = min(1.0, max(0.0, (when - opens) / self.calendar.length))
        return self.names + ((when.date() - self.first).days + part) * self.day_width


def draw_calendar(schedule: JobSchedule, labels: Mapping[Step, str]) -> str:
    """The schedule as SVG text.

    Parameters
    ----------
    schedule
        As `kit.outlook.schedule_of` gives it; days on which nobody works are hatched.
    labels
        Name of each step as people read it.

    Returns
    -------
    One `<svg>` element that takes the colour of the text around it. Own work is filled, hired work is an outline, a wait is a
    line with an end, spare time a flat open box; a step without spare time has a bold name.
    """
    rows = schedule.schedule.steps
    first, last = schedule.schedule.start.date(), max((row.wait_until for row in rows), default=schedule.finish).date()
    days = (last - first).days + 1
    names = [wrap_text(_name(row, labels), LONGEST_NAME) for row in rows]
    widest = max((measure_text(line) for lines in (*names, (_gone_words(schedule),)) for line in lines), default=0.0)
    grid = _Grid(schedule.calendar, first, days, widest + 2.0 * BESIDE)
    tops = list(accumulate((ROW + LINE * (len(lines) - 1) for lines in names), initial=HEAD + ROW))
    height = tops[-1] + FOOT
    parts = [*_days(grid, height), *_without_sink(grid, schedule)]
    for row, lines, top in zip(rows, names, tops[:-1], strict=True):
        parts += _row(grid, row, lines, top)
    parts += _legend(height)
    span = f"{len(rows)} steps from {first} to {last_day(schedule.finish)}"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' role='img' aria-label='Calendar of the work: {span}' width='{grid.width:.0f}' height='{height:.0f}' "
        f"viewBox='0 0 {grid.width:.0f} {height:.0f}' font-family='{FONT}' font-size='{SIZE:g}' fill='currentColor' stroke='none'>"
        "<defs><pattern id='sk-off' width='5' height='5' patternUnits='userSpaceOnUse'>"
        "<path d='M0 5 L5 0' stroke='currentColor' stroke-width='0.6' opacity='0.45'/></pattern></defs>" + "".join(parts) + "</svg>"
    )


def _days(grid: _Grid, height: float) -> Iterator[str]:
    """Days without work hatched, Mondays with a line, as many with their date as there is room for."""
    if grid.days > MOST_DAYS:
        return
    dated = 7 * ceil(DATE_ROOM / (7 * grid.day_width))
    mondays = [number for number in range(grid.days) if (grid.first + timedelta(days=number)).weekday() == MONDAY]
    for number in range(grid.days):
        day, left = grid.first + timedelta(days=number), grid.names + number * grid.day_width
        if not is_working_day(grid.calendar, day):
            yield f"<rect x='{left:.1f}' y='{HEAD:.0f}' width='{grid.day_width:.1f}' height='{height - HEAD - FOOT:.0f}' fill='url(#sk-off)'/>"
        if day.weekday() == MONDAY or number == 0:
            yield f"<path d='M{left:.1f} {HEAD - 8:.0f} V{height - FOOT:.0f}' stroke='currentColor' stroke-width='0.5' opacity='0.6'/>"
        fits = left + 2.0 + measure_text(f"{day:%b} {day.day}") <= grid.width
        if day.weekday() == MONDAY and (number - mondays[0]) % dated == 0 and fits:
            yield f"<text x='{left + 2:.1f}' y='{HEAD - 12:.0f}'>{day:%b} {day.day}</text>"


def _name(row: ScheduledStep, labels: Mapping[Step, str]) -> str:
    label = clean(labels.get(row.step, str(row.step)))
    return label if row.trade == OWN else f"{label} ({clean(row.trade)})"


def _gone_words(schedule: JobSchedule) -> str:
    """How long the kitchen goes without a sink, "" where none is taken out."""
    days = schedule.days_without_sink
    return "" if schedule.sink_out is None or schedule.sink_back is None or days is None else f"No kitchen sink: {days:.1f} days"


def _without_sink(grid: _Grid, schedule: JobSchedule) -> Iterator[str]:
    """A bracket over the days without a kitchen sink."""
    out, back, words = schedule.sink_out, schedule.sink_back, _gone_words(schedule)
    if out is None or back is None or not words:
        return
    left, right, y = grid.x(out), grid.x(back), HEAD + ROW * 0.5
    yield f"<text x='{grid.names - BESIDE:.1f}' y='{y + 4:.1f}' text-anchor='end'>{words}</text>"
    ends = " ".join(f"M{x:.1f} {y - 5:.1f} V{y + 5:.1f}" for x in (left, right))
    yield f"<path d='{ends} M{left:.1f} {y:.1f} H{right:.1f}' stroke='currentColor' fill='none'/>"


def _row(grid: _Grid, row: ScheduledStep, lines: Sequence[str], top: float) -> list[str]:
    middle = top + ROW / 2
    weight = " font-weight='700'" if row.critical else ""
    times = f"{' '.join(lines)}: {to_minute(row.start):{WHEN}} to {to_minute(row.finish):{WHEN}}, "
    times += "no spare time" if row.critical else f"{row.float_h:.1f} working hours to spare"
    bar = "fill='currentColor'" if row.trade == OWN else "fill='none' stroke='currentColor' stroke-width='1.4'"
    parts = [
        *(
            f"<text x='{grid.names - BESIDE:.1f}' y='{middle + 4.0 + LINE * number:.1f}' text-anchor='end'{weight}>{escape(line)}</text>"
            for number, line in enumerate(lines)
        ),
        f"<g><title>{escape(times)}</title>",
        *(f"<rect x='{left:.1f}' y='{top + 4:.1f}' width='{width:.1f}' height='{ROW - 8:.1f}' {bar}/>" for left, width in _spans(grid, row)),
        "</g>",
    ]
    right = max(grid.x(row.finish), grid.x(row.start) + LEAST_BAR)
    if row.wait_until > row.finish:
        parts.append(_wait(right, grid.x(row.wait_until) - right, middle))
    if not row.critical:
        parts.append(_spare(right, grid.x(row.latest_finish) - right, middle + 4.0))
    return parts


def _spans(grid: _Grid, row: ScheduledStep) -> Iterator[tuple[float, float]]:
    """Where the step is worked at, and how wide: one span for each run of working days."""
    begun: datetime | None = None
    ended = row.start
    for number in range((row.finish.date() - row.start.date()).days + 1):
        day = row.start.date() + timedelta(days=number)
        opens = datetime.combine(day, grid.calendar.start_of_day)
        if is_working_day(grid.calendar, day):
            begun, ended = begun or max(row.start, opens), min(row.finish, opens + grid.calendar.length)
        elif begun is not None:
            yield grid.x(begun), max(LEAST_BAR, grid.x(ended) - grid.x(begun))
            begun = None
    if begun is not None:
        yield grid.x(begun), max(LEAST_BAR, grid.x(ended) - grid.x(begun))


def _wait(left: float, wide: float, y: float) -> str:
    """A line with an end. No line is dashed: in the drawings that means what is behind or below."""
    return f"<path data-what='wait' d='M{left:.1f} {y:.1f} h{max(0.0, wide):.1f} m0 -3 v6' stroke='currentColor' fill='none'/>"


def _spare(left: float, wide: float, y: float) -> str:
    """A flat box, open where the step is."""
    wide = max(0.0, wide)
    return f"<path data-what='spare' d='M{left:.1f} {y - 1.5:.1f} h{wide:.1f} v3 h{-wide:.1f}' stroke='currentColor' stroke-width='0.7' fill='none'/>"


def _legend(height: float) -> Iterator[str]:
    y, x = height - FOOT / 2, BESIDE

    def box(how: str) -> str:
        return f"<rect x='{x:.0f}' y='{y - 5:.0f}' width='16' height='10' {how}/>"

    signs: dict[str, Callable[[], str]] = {
        "own crew": lambda: box("fill='currentColor'"),
        "hired": lambda: box("fill='none' stroke='currentColor'"),
        "wait": lambda: _wait(x, 22.0, y),
        "time to spare": lambda: _spare(x, 22.0, y),
        "no work": lambda: box("fill='url(#sk-off)'"),
    }
    for words, sign in signs.items():
        yield sign()
        yield f"<text x='{x + 30.0:.0f}' y='{y + 4:.0f}'>{words}</text>"
        x += 30.0 + measure_text(words) + BESIDE
    yield f"<text x='{x:.0f}' y='{y + 4:.0f}'>bold name: no time to spare</text>"
