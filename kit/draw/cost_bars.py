"""Which alternate costs what? Amounts below each other as bars made of their parts, each part by its own hatch and letter."""

from collections.abc import Sequence
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.ink import HATCHES
from kit.draw.lettering import SIZE, clean, letter_of, measure_text, wrap_text
from kit.draw.widths import PHONE
from kit.money import format_money, sum_money

__all__ = ["draw_bars"]

BAR, GAP, LABEL, WIDEST = 18.0, 14.0, 250.0, 390.0
LINE, LINES = 13.5, 2
SIGN, LIST_LINE, SUM = 20.0, 18.0, 75.0
_HATCHES = ("", *HATCHES)

Amount = Decimal | float
Row = tuple[str, Sequence[tuple[str, Amount]]]


def draw_bars(title: str, rows: Sequence[Row], *, narrow: bool = False) -> str:
    """Bars of amounts, one row for each alternate.

    Parameters
    ----------
    title
        What is compared.
    rows
        For each alternate its name and its parts: name and amount of each [USD]. What is below zero goes to the left.
    narrow
        Whether it is for a telephone: names stand above their bars, not beside them.

    Returns
    -------
    SVG. Parts differ by hatch and letter, which a list above explains; the sum stands at the end of its bar.
    """
    sheet = Canvas(title, scale=1.0, scaled=False)
    names = list(dict.fromkeys(name for _, parts in rows for name, _ in parts))
    over = max((sum(float(amount) for _, amount in parts if amount > 0) for _, parts in rows), default=0.0)
    under = max((-sum(float(amount) for _, amount in parts if amount < 0) for _, parts in rows), default=0.0)
    unit = (PHONE - SUM if narrow else WIDEST) / (over + under) if over + under > 0.0 else 0.0
    left = 0.0 if narrow else LABEL
    zero = left + under * unit
    y = _draw_list(sheet, names, left, narrow=narrow) - GAP
    top = y
    for label, parts in rows:
        lines = wrap_text(clean(label), PHONE) if narrow else _label(label)
        for place, line in enumerate(lines):
            if narrow:
                sheet.write(line, 0.0, y - LINE * (place + 0.5))
            else:
                sheet.write(line, LABEL - 12.0, y - BAR / 2.0 - LINE * (place - (len(lines) - 1) / 2.0), anchor="end")
        y -= LINE * len(lines) + 2.0 if narrow else 0.0
        _draw_row(sheet, parts, names, zero, unit, y)
        total = sum_money([Decimal(str(amount)) for _, amount in parts])
        end = zero + sum(float(amount) for _, amount in parts if amount > 0) * unit
        sheet.write(format_money(total), end + 8.0, y - BAR / 2.0, bold=True)
        y -= BAR + GAP
    if not narrow:  # where it would run through the names
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


def _draw_list(sheet: Canvas, names: Sequence[str], left: float, *, narrow: bool) -> float:
    """Each part with its hatch and letter; gives where the list ends."""
    y, words = 0.0, left + SIGN + 6.0 + 1.5 * SIZE
    for number, name in enumerate(names):
        sheet.box("", left, y - 6.0, left + SIGN, y + 6.0, kind="thin", hatch=_HATCHES[number % len(_HATCHES)])
        sheet.write(letter_of(number), left + SIGN + 6.0, y, bold=True)
        for line in wrap_text(clean(name), PHONE - words) if narrow else (name,):
            sheet.write(line, words, y)
            y -= LIST_LINE
    return y
