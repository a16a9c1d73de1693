"""A chart is laid out for a desk and for a telephone: its letters keep their size, and the page shows the one that fits."""

from collections.abc import Callable

from kit.draw.canvas import Canvas, Picture, draw_to_fit
from kit.draw.lettering import wrap_text

__all__ = ["BOTH", "PHONE", "TABLET", "OnShow", "canvas_for", "draw_for_widths", "fit_width", "write_note"]

PHONE = 260.0
"""What a chart may take on the narrowest telephone without its air [px]."""
TABLET = 720.0
"""The same on a tablet held upright, the narrowest that shows a chart for a desk [px]."""
LEAST_DRAWN = 104.0
"""How wide what is drawn stays on a telephone whatever its words take [px]."""


OnShow = frozenset[bool]
"""Layouts that pages show: False is the one for a desk, True the one for a telephone."""
BOTH: OnShow = frozenset((False, True))


def draw_for_widths(draw: Callable[..., str], on_show: OnShow = BOTH) -> str:
    """The charts that are `on_show` as HTML; `draw` is told whether it is `narrow`. Where no style sheet is at hand, the one for a desk shows.

    One that stands alone shows on a page of any width.
    """
    layouts = ((False, "sk-at-desk", ""), (True, "sk-on-phone", " style='display:none'" if False in on_show else ""))
    return "".join(f"<div class='sk-drawing {name}'{hidden}>{draw(narrow=narrow)}</div>" for narrow, name, hidden in layouts if narrow in on_show)


def canvas_for(title: str, *, scale: float, narrow: bool, keyed: bool = False, flip: float = 1.0, scaled: bool = True, on_end: bool = False) -> Canvas:
    """A sheet for a drawing of the job; on a telephone what finds no room has a letter, and its words stand below."""
    return Canvas(title, scale=scale, flip=flip, scaled=scaled, keyed=keyed or narrow, wide=PHONE if narrow else 0.0, on_end=on_end)


def fit_width(draw: Callable[[float], Picture], scale: float, *, narrow: bool) -> Picture:
    """A drawing at its scale [px/in], smaller where it would not fit its paper or, where it is `narrow`, a telephone."""
    return draw_to_fit(draw, scale, PHONE + 20.0, LEAST_DRAWN) if narrow else draw_to_fit(draw, scale)


def write_note(sheet: Canvas, words: str, *, narrow: bool) -> None:
    """A sentence below a chart, on as many lines as it needs on a telephone."""
    for line in wrap_text(words, PHONE) if narrow else (words,):
        sheet.note(line)
