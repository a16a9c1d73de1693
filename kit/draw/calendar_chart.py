"""The job as a chart: a row for each step, a column for each day that is worked on; waits, spare time and the days without a sink."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape
from itertools import accumulate

from kit.draw.day_columns import DayColumns, find_spans, lay_columns
from kit.draw.lettering import FONT, SIZE, clean, measure_text, wrap_text
from kit.draw.widths import PHONE
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
EDGE = 10.0
"""Around the calendar of a telephone [px]."""


def draw_calendar(schedule: JobSchedule, labels: Mapping[Step, str], *, narrow: bool = False) -> str:
    """The schedule as SVG text.

    Parameters
    ----------
    schedule
        As `kit.outlook.plan_schedule` gives it; days on which nobody works are hatched.
    labels
        Name of each step as people read it.
    narrow
        Whether it is for a telephone: names stand above their bars, and days go as narrow as they must.

    Returns
    -------
    One `<svg>` element that takes the color of the text around it. Own work is filled, hired work is an outline, a wait is a
    line with an end, spare time a flat open box; a step without spare time has a bold name.
    """
    if narrow:
        return _draw_narrow(schedule, labels)
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
    parts += _legend(height - FOOT / 2, BESIDE, wide)[0]
    title = _title(schedule, grid)
    return _sheet(
        schedule, title, (wide, height), f"<text x='{BESIDE:.0f}' y='{TITLE - 8:.0f}' font-size='14' font-weight='700'>{title}</text>{''.join(parts)}"
    )


def _title(schedule: JobSchedule, grid: DayColumns) -> str:
    return f"Calendar of the work, {format_day(grid.columns[0].first)} to {format_day(last_day(schedule.finish))}"


def _sheet(schedule: JobSchedule, title: str, size: tuple[float, float], inside: str) -> str:
    wide, height = size
    words = f"{title}, {len(schedule.schedule.steps)} steps"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' role='img' aria-label='{words}' width='{wide:.0f}' height='{height:.0f}' "
        f"viewBox='0 0 {wide:.0f} {height:.0f}' font-family='{FONT}' font-size='{SIZE:g}' fill='currentColor' stroke='none'>"
        f"<desc>{escape(_gone_words(schedule) or 'The kitchen keeps a sink')}. Done {format_instant(schedule.finish)}.</desc>"
        f"<defs><pattern id='{_off(wide)}' width='5' height='5' patternUnits='userSpaceOnUse'>"
        f"<path d='M0 5 L5 0' stroke='currentColor' stroke-width='0.6' opacity='0.45'/></pattern></defs>{inside}</svg>"
    )


def _off(wide: float) -> str:
    """The hatch of days on which nothing is done; each width has its own, since one that is hidden can't be referred to."""
    return "sk-off" if wide >= WIDE else "sk-off-narrow"


def _draw_narrow(schedule: JobSchedule, labels: Mapping[Step, str]) -> str:
    """Each name over its bar; what hatches days and parts them stands beside the bars only, clear of the names."""
    rows, wide = schedule.schedule.steps, PHONE + 2.0 * EDGE
    last = max((row.wait_until for row in rows), default=schedule.finish).date()
    spans = [span for row in rows for span in find_spans(schedule.calendar, row)]
    grid = lay_columns(schedule.calendar, spans, last, EDGE, PHONE, whole=True)
    title, parts, top = _title(schedule, grid), [], TITLE - 8.0
    what, _, days = title.partition(", ")
    parts += [f"<text x='{EDGE:.0f}' y='{top:.0f}' font-size='14' font-weight='700'>{what}</text>", *_above(days, top + 5.0)]
    top += 3.0 * LINE
    parts += _narrow_days(grid, top)
    top += 2.0 * LINE
    words = _gone_words(schedule)
    if words and schedule.sink_out is not None and schedule.sink_back is not None:
        parts += [*_above(words, top), *_narrow_bands(grid, top + LINE), _bracket(grid.x(schedule.sink_out), grid.x(schedule.sink_back), top + LINE + ROW / 2)]
        top += LINE + ROW
    for row in rows:
        lines = wrap_text(_name(row, labels), PHONE)
        for line in lines:
            parts += _above(line, top, bold=row.critical)
            top += LINE
        parts += [*_narrow_bands(grid, top), *_bars(grid, row, " ".join(lines), top + ROW / 2)]
        top += ROW
    signs, top = _legend(top + ROW, EDGE, wide)
    return _sheet(schedule, title, (wide, top + ROW), "".join([*parts, *signs]))


def _above(words: str, top: float, *, bold: bool = False) -> Iterator[str]:
    weight = " font-weight='700'" if bold else ""
    yield f"<text x='{EDGE:.0f}' y='{top + LINE - 2.0:.1f}'{weight}>{escape(words)}</text>"


def _narrow_days(grid: DayColumns, top: float) -> Iterator[str]:
    """Month and day over the worked days, over as many as there is room for."""
    free = 0.0
    for column in grid.columns:
        words = (f"{column.first:%b}", f"{column.first.day}")
        wide = measure_text(words[0])
        middle = min(max(column.left + column.wide / 2.0, EDGE + wide / 2.0), EDGE + PHONE - wide / 2.0)
        if column.idle or middle - wide / 2.0 < free:
            continue
        free = middle + wide / 2.0 + LEAST_BAR
        for number, line in enumerate(words):
            yield f"<text x='{middle:.1f}' y='{top + LINE * number:.1f}' text-anchor='middle'>{line}</text>"


def _narrow_bands(grid: DayColumns, top: float) -> Iterator[str]:
    for column in grid.columns:
        if column.idle:
            yield f"<rect x='{column.left:.1f}' y='{top + 1.0:.1f}' width='{column.wide:.1f}' height='{ROW - 2.0:.1f}' fill='url(#{_off(0.0)})'/>"
    ways = "".join(f"M{column.left:.1f} {top + 1.0:.1f}v{ROW - 2.0:.1f}" for column in grid.columns)
    yield f"<path d='{ways}' stroke='currentColor' stroke-width='0.5' opacity='0.6'/>"


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
    yield _bracket(left, right, y)


def _bracket(left: float, right: float, y: float) -> str:
    ends = " ".join(f"M{x:.1f} {y - 5:.1f} V{y + 5:.1f}" for x in (left, right))
    return f"<path d='{ends} M{left:.1f} {y:.1f} H{right:.1f}' stroke='currentColor' fill='none'/>"


def _row(grid: DayColumns, row: ScheduledStep, lines: Sequence[str], top: float) -> list[str]:
    middle = top + ROW / 2
    weight = " font-weight='700'" if row.critical else ""
    names = [
        f"<text x='{grid.columns[0].left - BESIDE:.1f}' y='{middle + 4.0 + LINE * number:.1f}' text-anchor='end'{weight}>{escape(line)}</text>"
        for number, line in enumerate(lines)
    ]
    return names + _bars(grid, row, " ".join(lines), middle)


def _bars(grid: DayColumns, row: ScheduledStep, name: str, middle: float) -> list[str]:
    """When a step is worked at, what it waits for, what it has to spare."""
    times = f"{name}: {format_instant(row.start)} to {format_instant(row.finish)}, "
    times += "no spare time" if row.critical else f"{row.float_h:.1f} working hours to spare"
    bar = "fill='currentColor'" if row.trade == OWN else "fill='none' stroke='currentColor' stroke-width='1.4'"
    parts = [
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


def _legend(y: float, left: float, wide: float) -> tuple[list[str], float]:
    """What the signs mean, on as many lines as the width asks for; gives where the last one stands, too."""
    x, parts = left, []

    def box(how: str) -> str:
        return f"<rect x='{x:.0f}' y='{y - 5:.0f}' width='16' height='10' {how}/>"

    signs: dict[str, Callable[[], str]] = {
        "our crew": lambda: box("fill='currentColor'"),
        "hired": lambda: box("fill='none' stroke='currentColor'"),
        "wait": lambda: _wait(x, 22.0, y),
        "time to spare": lambda: _spare(x, 22.0, y),
        "no work": lambda: box(f"fill='url(#{_off(wide)})'"),
        "bold name: no time to spare": str,
    }
    for words, sign in signs.items():
        room = 0.0 if sign is str else 30.0
        if x > left and x + room + measure_text(words) > wide:
            x, y = left, y + ROW
        parts += [sign(), f"<text x='{x + room:.0f}' y='{y + 4:.0f}'>{words}</text>"]
        x += room + measure_text(words) + BESIDE
    return parts, y
