"""The job as a chart: a row for each step, a column for each day; waits, spare time and the days without a sink."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from html import escape

from kit.labor.calendar import WorkCalendar, is_working_day, to_minute
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import OWN, ScheduledStep
from kit.steps import Step

__all__ = ["draw_calendar"]

ROW, NAMES, HEAD, FOOT = 18.0, 290.0, 34.0, 44.0
WIDEST_DAY, NARROWEST_DAY, WANTED = 26.0, 9.0, 900.0
LEAST_BAR = 2.5
LEAST_WIDTH = 870.0  # for the legend
MONDAY = 0
WHEN = "%a %Y-%m-%d %H:%M"


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where an instant lies across the page: a day's column holds its working hours, the night has no width."""

    calendar: WorkCalendar
    first: date
    days: int
    day_width: float

    @property
    def width(self) -> float:
        return max(NAMES + self.days * self.day_width + 8, LEAST_WIDTH)

    def x(self, when: datetime) -> float:
        opens = datetime.combine(when.date(), self.calendar.start_of_day)
        part = min(1.0, max(0.0, (when - opens) / self.calendar.length))
        return NAMES + ((when.date() - self.first).days + part) * self.day_width


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
    dashed line, spare time a dotted one; a step without spare time has a bold name.
    """
    rows = schedule.schedule.steps
    first, last = schedule.schedule.start.date(), max((row.wait_until for row in rows), default=schedule.finish).date()
    days = (last - first).days + 1
    grid = _Grid(schedule.calendar, first, days, min(WIDEST_DAY, max(NARROWEST_DAY, WANTED / days)))
    height = HEAD + ROW * (len(rows) + 1) + FOOT
    parts = [*_days(grid, height), *_without_sink(grid, schedule)]
    for number, row in enumerate(rows, 1):
        parts += _row(grid, row, labels.get(row.step, str(row.step)), HEAD + ROW * number)
    parts += _legend(height)
    span = f"{len(rows)} steps from {first} to {last_day(schedule.finish)}"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' role='img' aria-label='Calendar of the work: {span}' width='{grid.width:.0f}' height='{height:.0f}' "
        f"viewBox='0 0 {grid.width:.0f} {height:.0f}' font-family='sans-serif' font-size='12' fill='currentColor' stroke='none'>"
        "<defs><pattern id='sk-off' width='5' height='5' patternUnits='userSpaceOnUse'>"
        "<path d='M0 5 L5 0' stroke='currentColor' stroke-width='0.6' opacity='0.45'/></pattern></defs>" + "".join(parts) + "</svg>"
    )


def _days(grid: _Grid, height: float) -> Iterator[str]:
    """Days without work hatched, Mondays with a line and their date."""
    for number in range(grid.days):
        day, left = grid.first + timedelta(days=number), NAMES + number * grid.day_width
        if not is_working_day(grid.calendar, day):
            yield f"<rect x='{left:.1f}' y='{HEAD:.0f}' width='{grid.day_width:.1f}' height='{height - HEAD - FOOT:.0f}' fill='url(#sk-off)'/>"
        if day.weekday() == MONDAY or number == 0:
            yield f"<path d='M{left:.1f} {HEAD - 8:.0f} V{height - FOOT:.0f}' stroke='currentColor' stroke-width='0.5' opacity='0.6'/>"
        if day.weekday() == MONDAY:
            yield f"<text x='{left + 2:.1f}' y='{HEAD - 12:.0f}' font-size='11'>{day:%m-%d}</text>"


def _without_sink(grid: _Grid, schedule: JobSchedule) -> Iterator[str]:
    """A bracket over the days without a kitchen sink."""
    out, back, days = schedule.sink_out, schedule.sink_back, schedule.days_without_sink
    if out is None or back is None or days is None:
        return
    left, right, y = grid.x(out), grid.x(back), HEAD + ROW * 0.5
    yield f"<text x='{NAMES - 8:.0f}' y='{y + 4:.1f}' text-anchor='end'>No kitchen sink: {days:.1f} days</text>"
    ends = " ".join(f"M{x:.1f} {y - 5:.1f} V{y + 5:.1f}" for x in (left, right))
    yield f"<path d='{ends} M{left:.1f} {y:.1f} H{right:.1f}' stroke='currentColor' fill='none'/>"


def _row(grid: _Grid, row: ScheduledStep, label: str, top: float) -> list[str]:
    middle = top + ROW / 2
    weight = " font-weight='700'" if row.critical else ""
    who = "" if row.trade == OWN else f" ({row.trade})"
    times = f"{label}{who}: {to_minute(row.start):{WHEN}} to {to_minute(row.finish):{WHEN}}, "
    times += "no spare time" if row.critical else f"{row.float_h:.1f} working hours to spare"
    bar = "fill='currentColor'" if row.trade == OWN else "fill='none' stroke='currentColor' stroke-width='1.4'"
    parts = [
        f"<text x='{NAMES - 8:.0f}' y='{middle + 4:.1f}' text-anchor='end'{weight}>{escape(label + who)}</text>",
        f"<g><title>{escape(times)}</title>",
        *(f"<rect x='{left:.1f}' y='{top + 4:.1f}' width='{width:.1f}' height='{ROW - 8:.1f}' {bar}/>" for left, width in _spans(grid, row)),
        "</g>",
    ]
    right = max(grid.x(row.finish), grid.x(row.start) + LEAST_BAR)
    if row.wait_until > row.finish:
        parts.append(_line(right, grid.x(row.wait_until), middle, "5 3"))
    if not row.critical:
        parts.append(_line(right, grid.x(row.latest_finish), middle + 4, "1 3"))
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


def _line(left: float, right: float, y: float, dashes: str) -> str:
    return f"<path d='M{left:.1f} {y:.1f} H{max(left, right):.1f}' stroke='currentColor' stroke-dasharray='{dashes}' fill='none'/>"


def _legend(height: float) -> Iterator[str]:
    y, x = height - FOOT / 2, NAMES
    yield f"<rect x='{x:.0f}' y='{y - 5:.0f}' width='16' height='10' fill='currentColor'/><text x='{x + 22:.0f}' y='{y + 4:.0f}'>own crew</text>"
    yield f"<rect x='{x + 96:.0f}' y='{y - 5:.0f}' width='16' height='10' fill='none' stroke='currentColor'/>"
    yield f"<text x='{x + 118:.0f}' y='{y + 4:.0f}'>hired</text>"
    yield _line(x + 170, x + 194, y, "5 3") + f"<text x='{x + 200:.0f}' y='{y + 4:.0f}'>wait</text>"
    yield _line(x + 244, x + 268, y, "1 3") + f"<text x='{x + 274:.0f}' y='{y + 4:.0f}'>time to spare</text>"
    yield f"<text x='{x + 372:.0f}' y='{y + 4:.0f}'><tspan font-weight='700'>bold</tspan>: none to spare</text>"
    yield f"<rect x='{x + 490:.0f}' y='{y - 6:.0f}' width='16' height='12' fill='url(#sk-off)'/><text x='{x + 512:.0f}' y='{y + 4:.0f}'>no work</text>"
