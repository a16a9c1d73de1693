"""How much of our own money is in the job, day by day? Steps above a line of nothing where we are ahead, below it where the customer is."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.lettering import measure_text
from kit.draw.tables import draw_table
from kit.draw.widths import PHONE, write_note
from kit.money import format_money
from kit.pricing.cash import CashPlan
from kit.units import format_day

__all__ = ["draw_cash", "draw_cash_days"]

LEFT, WIDE, TALL = 20.0, 560.0, 170.0
DATE_ROOM, LINE = 90.0, 13.5
_AFTER = 3
"""Days that the last balance is drawn on."""


def draw_cash(plan: CashPlan, *, narrow: bool = False) -> str:
    """The balance of each day as SVG; marked are the most that we have in it, the most that the customer is ahead, and each day on which money moves."""
    across, lift = (PHONE, LINE) if narrow else (WIDE, 0.0)
    sheet = Canvas("Our own money, day by day" if narrow else "Our own money in the job, day by day", scale=1.0, scaled=False)
    first, days = plan.days[0].day, (plan.days[-1].day - plan.days[0].day).days + _AFTER
    amounts = [float(day.fronted) for day in plan.days]
    unit = TALL / max(max(amounts, default=0.0) - min(amounts, default=0.0), max(map(abs, amounts), default=0.0), 1.0)

    def x(day: dt.date) -> float:
        return LEFT + (day - first).days * across / days

    ends = [*(day.day for day in plan.days[1:]), first + dt.timedelta(days=days)]
    for day, amount, end in zip(plan.days, amounts, ends, strict=True):
        if amount:
            sheet.box("balance", x(day.day), 0.0, x(end), amount * unit, hatch="slash" if amount > 0 else "")
    sheet.line("", (LEFT, 0.0), (LEFT + across, 0.0), kind="cut")
    worst, top = plan.worst, max(max(amounts, default=0.0), 0.0) * unit
    least, bottom = min(plan.days, key=lambda day: day.fronted), min(min(amounts, default=0.0), 0.0) * unit
    if worst.fronted > 0:
        _flag(sheet, x(worst.day), top + 20.0 + lift, "our money out at most", worst.fronted, worst.day, narrow=narrow)
    if least.fronted < 0:
        bottom -= 20.0 + lift
        _flag(sheet, x(least.day), bottom, "customer furthest ahead", least.fronted.copy_abs(), least.day, narrow=narrow)
    _write_days(sheet, plan, x, bottom, narrow=narrow)
    write_note(sheet, "Hatched: our money is in the job. Blank, below the line: the customer is ahead.", narrow=narrow)
    return sheet.svg()


def _flag(sheet: Canvas, at: float, end: float, what: str, amount: Decimal, day: dt.date, *, narrow: bool) -> None:
    """A mark from the line of nothing to a height above or below the bars, with its amount and day beside it."""
    across = PHONE if narrow else WIDE
    late = at > LEFT + across / 2.0
    said = (f"{what}: {format_money(amount)}", f"on {format_day(day)}")
    sheet.line("mark", (at, 0.0), (at, end), kind="cut")
    lines = said if narrow else (" ".join(said),)
    for number, line in enumerate(lines):
        long = measure_text(line)
        beside = max(at - 6.0, LEFT + long) if late else min(at + 6.0, LEFT + across - long)
        sheet.write(line, beside, (end - 4.0 if end > 0 else end + 4.0 + LINE * (len(lines) - 1)) - LINE * number, anchor="end" if late else "start", bold=True)


def _write_days(sheet: Canvas, plan: CashPlan, x: Callable[[dt.date], float], bottom: float, *, narrow: bool) -> None:
    """The days on which money moves, as many as there is room for."""
    free = LEFT - DATE_ROOM
    for day in plan.days:
        at, words = x(day.day), format_day(day.day, beside=plan.days[0].day)
        sheet.line("", (at, bottom - 4.0), (at, bottom - 10.0), kind="thin")
        if at >= free + DATE_ROOM and (not narrow or at + measure_text(words) <= LEFT + PHONE):
            sheet.write(words, at, bottom - 20.0)
            free = at


def draw_cash_days(plan: CashPlan) -> str:
    """The same as a table: what comes in, what goes out, what we have in the job when the day ends."""
    rows = [(format_day(day.day), *(format_money(amount) for amount in (day.paid_to_us, day.paid_by_us, day.fronted))) for day in plan.days]
    return draw_table("Cash by day", ("Day", "Comes in", "Goes out", "Our money in the job"), rows, numbers=(1, 2, 3), heads=True)
