"""The job as a chart: a row for each step, a column for each day that is worked on; waits, spare time and the days without a sink."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape
from itertools import accumulate

from kit.draw.day_columns import DayColumns, find_spans, lay_columns
from kit.draw.lettering import FONT, SIZE, clean, measure_text, wrap_text
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import OWN, ScheduledStep, performer_name
from kit.steps import Step
from kit.units import format_day, format_days, format_instant

__all__ = ["draw_calendar"]

ROW, LINE, HEAD, FOOT, TITLE = 20.0, 13.0, 75.0, 34.0, 24.0
LONGEST_NAME, BESIDE = 220.0, 16.0
"""A step's name takes another line beyond this, and keeps this far from bars and edge [px]."""
WIDE = 740.0
"""Fitted to letter paper with margins, letters are 8 points high then; longer jobs get a wider sheet [px]."""
LEAST_BAR, BAR = 5.0, 12.0


def draw_calendar(schedule: JobSchedule, labels: Mapping[Step, str]) -> str:
    """The schedule as SVG text.

    Parameters
    ----------
    schedule
        As `kit.outlook.plan_schedule` gives it; days on which nobody works are hatched.
    labels
        Name of each step as people read it.

    Returns
    -------
    One `<svg>` element that takes the color of the text around it. Own work is filled, hired work is an outline, a wait is a
    line with an end, spare time a flat open box; a step without spare time has a bold name.
    """
    rows = schedule.schedule.steps
    last = max((row.wait_until for row in rows), default=schedule.finish).date()
    names = [wrap_text(_name(row, labels), LONGEST_NAME) for row in rows]
    left = max((measure_text(line) for lines in (*names, (_gone_words(schedule),)) for line in lines), default=0.0) + 2.0 * BESIDE
    spans = [span for row in rows for span in find_spans(schedule.calendar, row)]
    grid = lay_columns(schedule.calendar, spans, last, left, WIDE - left - BESIDE)
    wide = max(grid.right + BESIDE, WIDE)
    tops = list(accumulate((ROW + LINE * (len(lines) - 1) for lines in names), initial=HEAD + ROW))
    height = tops[-1] + FOOT
    parts = [*_days(grid, height - FOOT), *_without_sink(grid, schedule)]
    for row, lines, top in zip(rows, names, tops[:-1], strict=True):
        parts += _row(grid, row, lines, top)
    parts += _legend(height)
    title = f"Calendar of the work, {format_day(grid.columns[0].first)} to {format_day(last_day(schedule.finish))}"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' role='img' aria-label='{title}, {len(rows)} steps' width='{wide:.0f}' height='{height:.0f}' "
        f"viewBox='0 0 {wide:.0f} {height:.0f}' font-family='{FONT}' font-size='{SIZE:g}' fill='currentColor' stroke='none'>"
        f"<desc>{escape(_gone_words(schedule) or 'The kitchen keeps a sink')}. Done {format_instant(schedule.finish)}.</desc>"
        "<defs><pattern id='sk-off' width='5' height='5' patternUnits='userSpaceOnUse'>"
        "<path d='M0 5 L5 0' stroke='currentColor' stroke-width='0.6' opacity='0.45'/></pattern></defs>"
        f"<text x='{BESIDE:.0f}' y='{TITLE - 8:.0f}' font-size='14' font-weight='700'>{title}</text>{''.join(parts)}</svg>"
    )


def _days(grid: DayColumns, bottom: float) -> Iterator[str]:
    """Each worked day under weekday, month and day, which fit the narrowest column; days on which nothing is done hatched, with how many they are."""
    for column in grid.columns:
        left, middle = column.left, column.left + column.wide / 2.0
        day = column.first
        words = (f"{column.days}", "day" if column.days == 1 else "days") if column.idle else (f"{day:%a}", f"{day:%b}", f"{day.day}")
        if column.idle:
            yield f"<rect x='{left:.1f}' y='{HEAD:.0f}' width='{column.wide:.1f}' height='{bottom - HEAD:.0f}' fill='url(#sk-off)'/>"
        yield f"<path d='M{left:.1f} {HEAD - 47:.0f} V{bottom:.0f}' stroke='currentColor' stroke-width='0.5' opacity='0.6'/>"
        for number, line in enumerate(reversed(words)):
            yield f"<text x='{middle:.1f}' y='{HEAD - 9.0 - LINE * number:.0f}' text-anchor='middle'>{line}</text>"


def _name(row: ScheduledStep, labels: Mapping[Step, str]) -> str:
    label = clean(labels.get(row.step, str(row.step)))
    return label if row.trade == OWN else f"{label} ({clean(performer_name(row.trade))})"


def _gone_words(schedule: JobSchedule) -> str:
    """How long the kitchen goes without a sink, "" where none is taken out."""
    days = schedule.days_without_sink
    return "" if schedule.sink_out is None or schedule.sink_back is None or days is None else f"No kitchen sink: {format_days(days)}"


def _without_sink(grid: DayColumns, schedule: JobSchedule) -> Iterator[str]:
    """A bracket over the days without a kitchen sink."""
    out, back, words = schedule.sink_out, schedule.sink_back, _gone_words(schedule)
    if out is None or back is None or not words:
        return
    left, right, y = grid.x(out), grid.x(back), HEAD + ROW * 0.5
    yield f"<text x='{grid.columns[0].left - BESIDE:.1f}' y='{y + 4:.1f}' text-anchor='end'>{words}</text>"
    ends = " ".join(f"M{x:.1f} {y - 5:.1f} V{y + 5:.1f}" for x in (left, right))
    yield f"<path d='{ends} M{left:.1f} {y:.1f} H{right:.1f}' stroke='currentColor' fill='none'/>"


def _row(grid: DayColumns, row: ScheduledStep, lines: Sequence[str], top: float) -> list[str]:
    middle = top + ROW / 2
    weight = " font-weight='700'" if row.critical else ""
    times = f"{' '.join(lines)}: {format_instant(row.start)} to {format_instant(row.finish)}, "
    times += "no spare time" if row.critical else f"{row.float_h:.1f} working hours to spare"
    bar = "fill='currentColor'" if row.trade == OWN else "fill='none' stroke='currentColor' stroke-width='1.4'"
    parts = [
        *(
            f"<text x='{grid.columns[0].left - BESIDE:.1f}' y='{middle + 4.0 + LINE * number:.1f}' text-anchor='end'{weight}>{escape(line)}</text>"
            for number, line in enumerate(lines)
        ),
        f"<g><title>{escape(times)}</title>",
        *(f"<rect x='{left:.1f}' y='{middle - BAR / 2:.1f}' width='{width:.1f}' height='{BAR:.1f}' {bar}/>" for left, width in _spans(grid, row)),
        "</g>",
    ]
    right = max(grid.x(row.finish), grid.x(row.start) + LEAST_BAR)
    if row.wait_until > row.finish:
        parts.append(_wait(right, grid.x(row.wait_until) - right, middle))
    if not row.critical:
        parts.append(_spare(right, grid.x(row.latest_finish) - right, middle + 4.0))
    return parts


def _spans(grid: DayColumns, row: ScheduledStep) -> Iterator[tuple[float, float]]:
    """Where the step is worked at, and how wide."""
    for begin, end in find_spans(grid.calendar, row):
        yield grid.x(begin), max(LEAST_BAR, grid.x(end) - grid.x(begin))


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
