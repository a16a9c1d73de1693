"""Spending against the estimate by cost code: what was estimated as an open bar, what was spent as a hatched one in it, hours in words beside."""

from collections.abc import Sequence

from kit.archive.compare_spent import CodeResult
from kit.draw.canvas import Canvas
from kit.draw.lettering import clean, measure_text, wrap_text
from kit.draw.widths import PHONE, TABLET, write_note
from kit.money import format_money

__all__ = ["draw_spent_bars"]

BAR, GAP, LABEL, WIDEST = 18.0, 12.0, 230.0, 300.0
INSET, LINE, BESIDE = 4.0, 13.5, 8.0


def draw_spent_bars(title: str, results: Sequence[CodeResult], *, narrow: bool = False) -> str:
    """One row a cost code; SVG. What is below zero, as goods that went back, has no bar: its figure says it. On a telephone name and figures stand above it."""
    sheet = Canvas(title, scale=1.0, scaled=False)
    most = max((float(max(one.estimated, one.spent)) for one in results), default=0.0)
    words = max((measure_text(_figures(one)) for one in results), default=0.0)
    unit = (PHONE if narrow else min(WIDEST, TABLET - LABEL - BESIDE - words)) / most if most > 0.0 else 0.0
    left, y = 0.0 if narrow else LABEL, 0.0
    for one in results:
        name = wrap_text(clean(f"{one.code} {one.name}".strip()), PHONE if narrow else LABEL - 14.0)
        if narrow:
            for line in (*name, *wrap_text(_figures(one), PHONE)):
                sheet.write(line, left, y - LINE / 2.0, bold=line in name)
                y -= LINE
            y -= INSET
        else:
            for place, line in enumerate(name):
                sheet.write(line, left - 12.0, y - BAR / 2.0 - LINE * (place - (len(name) - 1) / 2.0), anchor="end")
        right = _draw_bars(sheet, one, unit, left, y)
        if not narrow:
            sheet.write(_figures(one), right + BESIDE, y - BAR / 2.0)
        y -= BAR + GAP + (0.0 if narrow else LINE * max(0, len(name) - 2))
    write_note(sheet, "Open bar: estimated. Hatched: spent; past the open bar it cost more.", narrow=narrow)
    return sheet.svg()


def _draw_bars(sheet: Canvas, one: CodeResult, unit: float, left: float, y: float) -> float:
    """What was estimated and what was spent; gives where the longer one ends."""
    estimated, spent = (max(float(amount), 0.0) * unit for amount in (one.estimated, one.spent))
    if estimated > 0.5:
        sheet.box("", left, y, left + estimated, y - BAR)
    if spent > 0.5:
        sheet.box("part", left, y - INSET, left + spent, y - BAR + INSET, kind="thin", hatch="dense")
    return left + max(estimated, spent)


def _figures(one: CodeResult) -> str:
    hours = f"; {one.hours_spent:.1f} of {one.hours_estimated:.1f} h" if one.hours_estimated or one.hours_spent else ""
    against = f" of {format_money(one.estimated)}" if one.planned else ", not estimated"
    return f"{format_money(one.spent)}{against}{hours}"
