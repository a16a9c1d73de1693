"""Which alternate costs what? Amounts side by side as bars made of their parts, each part by its own hatch and letter."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.ink import HATCHES
from kit.draw.lettering import SIZE, clean, letter_of, measure_text, wrap_text
from kit.money import format_money

__all__ = ["draw_bars"]

BAR, GAP, LABEL, WIDEST = 28.0, 16.0, 190.0, 460.0
LINE, LINES = 14.0, 3
_HATCHES = ("", *HATCHES)

Amount = Decimal | float
Row = tuple[str, Sequence[tuple[str, Amount]]]


def draw_bars(title: str, rows: Sequence[Row], *, form: Callable[[Decimal], str] = format_money) -> str:
    """Bars of amounts, one row for each alternate.

    Parameters
    ----------
    title
        What is compared.
    rows
        For each alternate its name and its parts: name and amount of each, in one unit. What is below zero goes to the left.
    form
        How an amount is written.

    Returns
    -------
    SVG. Parts differ by hatch and letter; each amount stands in the list, the sum at the end of its bar.
    """
    sheet = Canvas(title, scale=1.0, scaled=False)
    names = list(dict.fromkeys(name for _, parts in rows for name, _ in parts))
    over = max((sum(float(amount) for _, amount in parts if amount > 0) for _, parts in rows), default=0.0)
    under = max((-sum(float(amount) for _, amount in parts if amount < 0) for _, parts in rows), default=0.0)
    unit = WIDEST / (over + under) if over + under > 0.0 else 0.0
    zero = LABEL + under * unit
    y = 0.0
    for number, (label, parts) in enumerate(rows, 1):
        lines = _label(f"{number} {label}")
        for place, line in enumerate(lines):
            sheet.write(line, LABEL - 10.0, y - BAR / 2.0 - LINE * (place - (len(lines) - 1) / 2.0), anchor="end")
        _draw_row(sheet, parts, names, zero, unit, y)
        total = sum((Decimal(str(amount)) for _, amount in parts), Decimal(0))
        end = zero + sum(float(amount) for _, amount in parts if amount > 0) * unit
        sheet.write(form(total), end + 8.0, y - BAR / 2.0, bold=True)
        y -= BAR + GAP
    sheet.line("", (zero, 6.0), (zero, y + GAP - 6.0), kind="cut")
    _draw_list(sheet, rows, names, form, y - 4.0)
    return sheet.svg()


def _draw_row(sheet: Canvas, parts: Sequence[tuple[str, Amount]], names: Sequence[str], zero: float, unit: float, y: float) -> None:
    right, left = zero, zero
    for name, amount in parts:
        wide = float(amount) * unit
        if abs(wide) < 0.05:
            continue
        start = right if wide > 0 else left
        number = names.index(name)
        sheet.box("part", start, y, start + wide, y - BAR, hatch=_HATCHES[number % len(_HATCHES)])
        letter = letter_of(number)
        if abs(wide) >= measure_text(letter) + 4.0:
            sheet.write(letter, start + wide / 2.0, y - BAR / 2.0, anchor="middle", bold=True)
        right, left = (start + wide, left) if wide > 0 else (right, start + wide)


def _label(words: str) -> tuple[str, ...]:
    """A name beside its bar, on as many lines as the bar and its air are high."""
    lines = wrap_text(clean(words), LABEL - 14.0)
    return lines if len(lines) <= LINES else (*lines[: LINES - 1], lines[LINES - 1][:-3] + "...")


def _draw_list(sheet: Canvas, rows: Sequence[Row], names: Sequence[str], form: Callable[[Decimal], str], y: float) -> None:
    """Each part with its hatch, letter and the amount it has in each row, in the order of the rows."""
    amounts = [dict(parts) for _, parts in rows]
    width = max((measure_text(form(Decimal(str(amount)))) for row in amounts for amount in row.values()), default=0.0) + 16.0
    start = max((measure_text(name) for name in names), default=0.0) + 62.0
    for number in range(len(rows)):
        sheet.write(str(number + 1), start + width * (number + 1), y, anchor="end")
    for number, name in enumerate(names):
        low = y - 18.0 * (number + 1)
        sheet.box("", 0.0, low - 6.0, 28.0, low + 6.0, kind="thin", hatch=_HATCHES[number % len(_HATCHES)])
        sheet.write(letter_of(number), 34.0, low, bold=True)
        sheet.write(name, 34.0 + 2.0 * SIZE, low)
        for place, row in enumerate(amounts):
            if name in row:
                sheet.write(form(Decimal(str(row[name]))), start + width * (place + 1), low, anchor="end")
