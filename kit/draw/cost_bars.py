"""Which alternate costs what? Amounts below each other as bars made of their parts, each part by its own hatch and letter."""

from collections.abc import Sequence
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.ink import HATCHES
from kit.draw.lettering import SIZE, clean, letter_of, measure_text, wrap_text
from kit.money import format_money, sum_money

__all__ = ["draw_bars"]

BAR, GAP, LABEL, WIDEST = 18.0, 14.0, 250.0, 420.0
LINE, LINES = 13.5, 2
SIGN, LIST_LINE = 28.0, 18.0
_HATCHES = ("", *HATCHES)

Amount = Decimal | float
Row = tuple[str, Sequence[tuple[str, Amount]]]


def draw_bars(title: str, rows: Sequence[Row]) -> str:
    """Bars of amounts, one row for each alternate.

    Parameters
    ----------
    title
        What is compared.
    rows
        For each alternate its name and its parts: name and amount of each [USD]. What is below zero goes to the left.

    Returns
    -------
    SVG. Parts differ by hatch and letter, which a list above explains; the sum stands at the end of its bar.
    """
    sheet = Canvas(title, scale=1.0, scaled=False)
    names = list(dict.fromkeys(name for _, parts in rows for name, _ in parts))
    over = max((sum(float(amount) for _, amount in parts if amount > 0) for _, parts in rows), default=0.0)
    under = max((-sum(float(amount) for _, amount in parts if amount < 0) for _, parts in rows), default=0.0)
    unit = WIDEST / (over + under) if over + under > 0.0 else 0.0
    zero = LABEL + under * unit
    y = _draw_list(sheet, names) - GAP
    top = y
    for label, parts in rows:
        lines = _label(label)
        for place, line in enumerate(lines):
            sheet.write(line, LABEL - 12.0, y - BAR / 2.0 - LINE * (place - (len(lines) - 1) / 2.0), anchor="end")
        _draw_row(sheet, parts, names, zero, unit, y)
        total = sum_money([Decimal(str(amount)) for _, amount in parts])
        end = zero + sum(float(amount) for _, amount in parts if amount > 0) * unit
        sheet.write(format_money(total), end + 8.0, y - BAR / 2.0, bold=True)
        y -= BAR + GAP
    sheet.line("", (zero, top + 4.0), (zero, y + GAP - 4.0), kind="cut")
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


def _draw_list(sheet: Canvas, names: Sequence[str]) -> float:
    """Each part with its hatch and letter; gives where the list ends."""
    for number, name in enumerate(names):
        y = -LIST_LINE * number
        sheet.box("", LABEL, y - 6.0, LABEL + SIGN, y + 6.0, kind="thin", hatch=_HATCHES[number % len(_HATCHES)])
        sheet.write(letter_of(number), LABEL + SIGN + 8.0, y, bold=True)
        sheet.write(name, LABEL + SIGN + 8.0 + 2.0 * SIZE, y)
    return -LIST_LINE * len(names)
