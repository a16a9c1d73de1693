"""How does one price become another? A chart that steps from the first through each cause to the second."""

from collections.abc import Sequence
from decimal import Decimal

from kit.compare.differences import Difference
from kit.draw.canvas import Canvas
from kit.draw.lettering import clean, wrap_text
from kit.draw.widths import PHONE, write_note
from kit.money import format_money, sum_money

__all__ = ["draw_price_steps"]

MOST_CAUSES = 9
LABEL, WIDEST, ROW, BAR = 250.0, 330.0, 34.0, 18.0
AMOUNT = 85.0
"""What stands to the right of a bar [px]."""
LINE, LINES = 13.5, 2
_LEAST_SPAN = 1.0

Cause = tuple[str, Decimal]


def draw_price_steps(names: tuple[str, str], prices: tuple[Decimal, Decimal], rows: Sequence[Difference], *, narrow: bool = False) -> str:
    """The steps as SVG.

    Parameters
    ----------
    names, prices
        Of the first and of the second [USD].
    rows
        What changes, as `list_differences` gives it: the amounts sum to the difference of the prices.
    narrow
        Whether it is for a telephone: names stand above their bars, not beside them.

    Returns
    -------
    A heavy line at either price, and between them a bar for each cause: hatched to the right where it adds, blank to the left where it saves.
    What is small is taken together in one bar. The scale does not begin at zero, and says so.
    """
    sheet = Canvas(f"From {format_money(prices[0])} to {format_money(prices[1])}", scale=1.0, scaled=False)
    causes = _causes(rows)
    at = [float(prices[0])]
    for _, amount in causes:
        at.append(at[-1] + float(amount))
    low, high = min(at), max(at)
    unit = (PHONE - AMOUNT if narrow else WIDEST) / max(high - low, _LEAST_SPAN)
    left, row = (2.0, ROW + LINES * LINE) if narrow else (LABEL, ROW)
    places = [left + (price - low) * unit for price in at]
    _draw_price(sheet, names[0], prices[0], places[0], 0.0, narrow=narrow)
    for number, (cause, start, end) in enumerate(zip(causes, places, places[1:], strict=False), 1):
        _draw_cause(sheet, cause, start, end, -row * number, narrow=narrow)
    _draw_price(sheet, names[1], prices[1], places[-1], -row * (len(causes) + 1), narrow=narrow)
    write_note(sheet, "Hatched: adds to the price. Blank: saves. The scale does not begin at zero.", narrow=narrow)
    return sheet.svg()


def _causes(rows: Sequence[Difference]) -> list[Cause]:
    """The largest causes in their order, and the rest as one."""
    changed = [row for row in rows if row.amount]
    ranked = sorted(changed, key=lambda row: -abs(row.amount))
    shown = ranked if len(ranked) <= MOST_CAUSES else ranked[: MOST_CAUSES - 1]
    rest = [row.amount for row in ranked[len(shown) :]]
    causes = [(row.what, row.amount) for row in changed if row in shown]
    return [*causes, (f"{len(rest)} smaller changes", sum_money(rest))] if rest else causes


def _draw_price(sheet: Canvas, name: str, price: Decimal, x: float, y: float, *, narrow: bool) -> None:
    sheet.line("price", (x, y + BAR / 2.0 + 4.0), (x, y - BAR / 2.0 - 4.0), kind="seam")
    _label(sheet, name, y, narrow=narrow, bold=True)
    sheet.write(format_money(price), x + 8.0, y, bold=True)


def _draw_cause(sheet: Canvas, cause: Cause, start: float, end: float, y: float, *, narrow: bool) -> None:
    name, amount = cause
    row = ROW + LINES * LINE if narrow else ROW
    left, right = min(start, end), max(start, end)
    sheet.box("cause", left, y + BAR / 2.0, right, y - BAR / 2.0, hatch="slash" if amount > 0 else "")
    sheet.line("", (start, y + row - BAR / 2.0), (start, y - BAR / 2.0), kind="thin")
    sheet.line("", (end, y + BAR / 2.0), (end, y - row + BAR / 2.0), kind="thin")
    _label(sheet, name, y, narrow=narrow)
    sheet.write(f"{'+' if amount > 0 else ''}{format_money(amount)}", right + 8.0, y)


def _label(sheet: Canvas, words: str, y: float, *, narrow: bool, bold: bool = False) -> None:
    lines = wrap_text(clean(words), PHONE if narrow else LABEL - 20.0)
    if len(lines) > LINES:
        lines = (*lines[: LINES - 1], lines[LINES - 1][:-3] + "...")
    for place, line in enumerate(lines):
        if narrow:
            sheet.write(line, 0.0, y + BAR / 2.0 + LINE * (len(lines) - place - 0.2), bold=bold)
        else:
            sheet.write(line, LABEL - 14.0, y - LINE * (place - (len(lines) - 1) / 2.0), anchor="end", bold=bold)
