"""How does the price move with one field of the job? A post for each value, as high as its price above the least of them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.lettering import measure_text
from kit.draw.widths import PHONE, TABLET
from kit.money import format_money

__all__ = ["SweptValue", "draw_sweep"]

LEFT, TALL, FOOT = 20.0, 130.0, 24.0
WIDEST, NARROWEST, AIR = 120.0, 24.0, 8.0


@dataclass(frozen=True, slots=True)
class SweptValue:
    """One value of the field: in words, the price at it [USD] (None: there is none), and whether the job can be built with it."""

    words: str
    price: Decimal | None
    buildable: bool


def draw_sweep(title: str, values: Sequence[SweptValue], foot: str, *, narrow: bool = False) -> str:
    """The prices as SVG, in the order given.

    Parameters
    ----------
    title
        What is shown.
    values
        The values of the field, each with its price.
    foot
        A sentence below, such as whose price lists were used.
    narrow
        Whether it is to be whole on a telephone.

    Returns
    -------
    SVG. The posts do not start at nothing: the least price has the lowest one, so that differences show. What can't be built is hatched and says so.
    """
    sheet = Canvas(title, scale=1.0, scaled=False, wide=PHONE if narrow else 0.0)
    prices = [value.price for value in values if value.price is not None]
    least, most = min(prices, default=Decimal(0)), max(prices, default=Decimal(0))
    label = AIR + max((measure_text(words) for value in values for words in (value.words, _price_words(value))), default=0.0)
    room = PHONE if narrow else max(TABLET - LEFT, len(values) * NARROWEST)
    step = min(WIDEST, (room - label) / max(len(values) - 1, 1))
    every = math.ceil(label / step)  # where posts stand closer than a label is wide, only some of them have one
    for place, value in enumerate(values):
        share = float((value.price or least) - least) / (float(most - least) or 1.0)
        _draw_post(sheet, value, LEFT + place * step, step / 3.0, FOOT + share * (TALL - FOOT), labeled=place % every == 0)
    sheet.line("", (LEFT - step / 6.0, 0.0), (LEFT + step * (len(values) - 0.5), 0.0), kind="cut")
    sheet.note("Bars show differences: they start below the lowest price, not at zero.")
    sheet.note("Hatched: can't be built.")
    sheet.note(foot)
    return sheet.svg()


def _price_words(value: SweptValue) -> str:
    return "no price" if value.price is None else format_money(value.price)


def _draw_post(sheet: Canvas, value: SweptValue, x: float, wide: float, top: float, *, labeled: bool) -> None:
    middle = x + wide / 2.0
    if labeled:
        sheet.write(value.words, middle, -16.0, anchor="middle")
        sheet.write(_price_words(value), middle, 8.0 + (top if value.price else 0.0), anchor="middle", bold=True)
    if value.price is not None:
        sheet.box("price", x, 0.0, x + wide, top, hatch="" if value.buildable else "slash")
