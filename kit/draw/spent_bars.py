"""Spending against the estimate by cost code: what was estimated as an open bar, what was spent as a hatched one in it, hours in words beside."""

from collections.abc import Sequence

from kit.archive.compare_spent import CodeResult
from kit.draw.canvas import Canvas
from kit.draw.lettering import clean, wrap_text
from kit.money import format_money

__all__ = ["draw_spent_bars"]

BAR, GAP, LABEL, WIDEST = 18.0, 12.0, 270.0, 300.0
INSET = 4.0


def draw_spent_bars(title: str, results: Sequence[CodeResult]) -> str:
    """One row a cost code; SVG. What is below zero, as goods that went back, has no bar: its figure says it."""
    sheet = Canvas(title, scale=1.0, scaled=False)
    most = max((float(max(one.estimated, one.spent)) for one in results), default=0.0)
    unit = WIDEST / most if most > 0.0 else 0.0
    for place, one in enumerate(results):
        _draw_row(sheet, one, unit, -place * (BAR + GAP))
    sheet.note("Open bar: estimated. Hatched: spent; past the open bar it cost more.")
    return sheet.svg()


def _draw_row(sheet: Canvas, one: CodeResult, unit: float, y: float) -> None:
    estimated, spent = (max(float(amount), 0.0) * unit for amount in (one.estimated, one.spent))
    name = wrap_text(clean(f"{one.code} {one.name}".strip()), LABEL - 14.0)
    sheet.write(name[0] if len(name) == 1 else f"{name[0]}...", LABEL - 12.0, y - BAR / 2.0, anchor="end")
    if estimated > 0.5:
        sheet.box("", LABEL, y, LABEL + estimated, y - BAR)
    if spent > 0.5:
        sheet.box("part", LABEL, y - INSET, LABEL + spent, y - BAR + INSET, kind="thin", hatch="dense")
    sheet.write(_figures(one), LABEL + max(estimated, spent) + 8.0, y - BAR / 2.0)


def _figures(one: CodeResult) -> str:
    hours = f"; {one.hours_spent:.1f} of {one.hours_estimated:.1f} h" if one.hours_estimated or one.hours_spent else ""
    against = f" of {format_money(one.estimated)}" if one.planned else ", not estimated"
    return f"{format_money(one.spent)}{against}{hours}"
