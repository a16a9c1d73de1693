"""Working back: which price leaves a wanted margin, or so much per crew-day, and which profit makes a wanted price?"""

from collections.abc import Callable, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

import ipywidgets as widgets

from kit.draw.alternates import draw_worked_back
from kit.errors import KitError
from kit.estimating import Estimate
from kit.job.field_names import say_choice
from kit.money import EXACT, format_money, to_decimal
from kit.panels.screen import lay_bar, lay_box, show_html
from kit.pricing.work_back import WorkedBack, find_price, find_price_for_crew_days, find_price_for_margin

__all__ = ["WorkBack"]

MARGIN, PRICE, CREW_DAY = "margin of the price [%]", "price [USD]", "margin per crew-day [USD]"
_START = {MARGIN: "30", PRICE: "9,000", CREW_DAY: "1,000"}
_PERCENT = Decimal(100)

Row = tuple[str, Estimate, float]
"""An alternate's name, its estimate at the terms that count, its crew-days."""


class WorkBack:
    """A wanted figure, and for each alternate what it asks for; answers are kept, for no profit on a slider moves them."""

    def __init__(self) -> None:
        self.kind = widgets.Dropdown(options=list(_START), description="Target", layout={"width": "420px"}, style={"description_width": "80px"})
        self.wanted = widgets.Text(value=_START[MARGIN], description="How much", continuous_update=False, layout={"width": "260px"})
        self.table = widgets.HTML()
        self.box = lay_box("sk-back-box", lay_bar(self.kind, self.wanted), lay_box("sk-scroll sk-back", self.table))
        self._rows: Sequence[Row] = ()
        self._found: dict[tuple[Any, ...], WorkedBack | None] = {}
        self.kind.observe(lambda _: self._start(), names="value")
        self.wanted.observe(lambda _: self._draw(), names="value")

    def show(self, rows: Sequence[Row]) -> None:
        """Answer for these alternates."""
        self._rows = rows
        self._draw()

    def _start(self) -> None:
        """Another kind of figure begins with a usual one; setting it draws."""
        self.wanted.value = _START[str(self.kind.value)]

    def _draw(self) -> None:
        show_html(self.table, "Working back", self._draw_table)

    def _draw_table(self) -> str:
        kind, amount = str(self.kind.value), self._amount()
        finder = self._finder(kind, amount)
        rows = []
        for name, priced, crew_days in self._rows:
            worked = self._find((kind, amount, name, priced.terms.value("in:overhead"), priced.cost), lambda: finder(priced, crew_days))  # noqa: B023 - called at once
            rows.append((name, priced.price, None if worked is None else worked.price, None if worked is None else worked.profit))
        counted = say_choice("terms.profit_as", self._rows[0][1].terms.profit_as) if self._rows else ""
        return draw_worked_back(_say(kind, amount), counted, rows)

    def _amount(self) -> Decimal:
        """What is typed, as a number above nothing. Raises KitError if it is none."""
        text = str(self.wanted.value).strip()
        try:
            amount = Decimal(text.replace(",", "").replace("$", "").replace("%", "").strip())
        except InvalidOperation:
            amount = Decimal(0)
        if not (amount.is_finite() and amount > 0):
            raise KitError(f'"{text}" is not a figure to work back from. Type a number above 0, such as {_START[str(self.kind.value)]}.')
        return amount

    def _finder(self, kind: str, amount: Decimal) -> Callable[[Estimate, float], WorkedBack]:
        if kind == PRICE:
            return lambda priced, _: find_price(priced, amount)
        if kind == CREW_DAY:
            return lambda priced, days: find_price_for_crew_days(priced, amount, to_decimal(days, 6))
        return lambda priced, _: find_price_for_margin(priced, EXACT.divide(amount, _PERCENT))

    def _find(self, key: tuple[Any, ...], find: Callable[[], WorkedBack]) -> WorkedBack | None:
        if key not in self._found:
            try:
                self._found[key] = find()
            except KitError:  # no profit reaches it
                self._found[key] = None
        return self._found[key]


def _say(kind: str, amount: Decimal) -> str:
    if kind == PRICE:
        return f"the profit at which {format_money(amount)} is to be paid"
    return f"the lowest price that leaves a margin of {f'{amount:f}%' if kind == MARGIN else f'{format_money(amount)} per crew-day'}"
