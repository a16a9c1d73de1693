"""Raise these prices by so many percent: which ones, by how much, and what is raised so far."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import ipywidgets as widgets

from kit.draw.tables import count_words
from kit.errors import KitError
from kit.lists import Lists
from kit.lists.goods_rows import Price
from kit.lists.list_changes import amount_words
from kit.lists.raising import can_be_raised, parse_raise, raise_prices
from kit.panels.screen import Note, lay_actions, lay_bar, make_button

__all__ = ["RaisePanel"]

_ALL = "all prices"
_Series = tuple[str, str, str, int | None]


class RaisePanel:
    """What prices move by; it works out nothing until it is asked for the lists with them.

    Parameters
    ----------
    note
        Where a slip is said.
    changed
        Called when prices are to be raised.
    """

    def __init__(self, note: Note, changed: Callable[[], object]) -> None:
        self._changed = changed
        self._groups: dict[str, list[Price]] = {}
        self._raises: dict[frozenset[_Series], tuple[str, Decimal, str]] = {}
        self._stays = ""  # what no raise moves, in words
        self.share = widgets.Text(
            description="Raise by [%]",
            placeholder="8",
            tooltip="Percent; -3 lowers prices by 3%",
            layout={"width": "240px"},
            style={"description_width": "110px"},
        )
        self.group = widgets.Dropdown(description="Prices", tooltip="All, those of one supplier, or for one kind of work", layout={"width": "420px"})
        self.group.observe(lambda _: self._list_prices(), names="value")
        self.prices = widgets.SelectMultiple(
            description="Only these (none marked: all of them)",
            tooltip="Several with Ctrl or Shift",
            rows=6,
            layout={"width": "760px"},
            style={"description_width": "160px"},
        )
        self.button = make_button("Raise these", "Show what changes; nothing is written yet", note.guard(self.raise_these))
        self.box = widgets.VBox([lay_bar(self.share, self.group, lay_actions(self.button)), self.prices])

    @property
    def sentences(self) -> list[str]:
        """What is raised so far."""
        return [f"{what} by {(share * 100).normalize():f}%{stays}" for what, share, stays in self._raises.values()]

    def show(self, lists: Lists | None, day: dt.date) -> None:
        """The prices that can be raised on a day, by supplier and by kind of work."""
        groups: dict[str, list[Price]] = {_ALL: []}
        holding = [price for prices in lists.prices.values() for price in prices if can_be_raised(lists, price, day)] if lists else []
        suppliers = sorted({price.supplier for price in holding})
        groups |= {f"from {supplier}": [price for price in holding if price.supplier == supplier] for supplier in suppliers}
        for code, row in lists.cost_codes.items() if lists else ():
            groups[f"for {row.name}"] = [price for price in holding if lists and lists.items[price.item].cost_code == code]
        groups[_ALL] = holding
        passed_on = [price for prices in lists.prices.values() for price in prices if price.holds_on(day) and price not in holding] if lists else []
        names = sorted({lists.name_of(price.item) for price in passed_on}) if lists else []
        self._stays = f" ({', '.join(names)}: only passed on, not raised)" if names else ""
        self._groups = {name: prices for name, prices in groups.items() if prices}
        chosen, self._lists = self.group.value, lists
        self.group.options = list(self._groups)
        self.group.value = chosen if chosen in self._groups else next(iter(self._groups), None)
        self._list_prices()
        self.button.disabled = not self._groups

    def _list_prices(self) -> None:
        shown = self._groups.get(str(self.group.value), [])
        names = {_series(price): self._name(price) for price in shown}
        self.prices.options = sorted(((name, series) for series, name in names.items()), key=lambda pair: pair[0])

    def _name(self, price: Price) -> str:
        many = f" from {price.least_packs}" if price.least_packs else ""
        return f"{self._lists.name_of(price.item) if self._lists else price.item}, {price.sold_as}{many}, {price.supplier}: {amount_words(price)}"

    def raise_these(self) -> None:
        """Take down what is to be raised; the same prices again take the new share in place of the old one. Raises KitError if the share is none."""
        share, group = parse_raise(str(self.share.value)), str(self.group.value)
        marked: tuple[Any, ...] = self.prices.value
        series = frozenset(marked or (_series(price) for price in self._groups.get(group, ())))
        if not series:
            raise KitError("No price is in force on this day: there is nothing to raise.")
        every = not marked and group == _ALL
        what = f"all {len(series)} prices" if every else f"{count_words(len(series), 'price')} {group if group != _ALL else ''}".strip()
        self._raises[series] = (what, share, self._stays if every else "")
        self._changed()

    def raised(self, lists: Lists, day: dt.date, dated: dt.date | None) -> Lists:
        """The lists with all that is raised so far."""
        for series, (_, share, _) in self._raises.items():
            chosen = [price for prices in lists.prices.values() for price in prices if _series(price) in series]
            lists = raise_prices(lists, chosen, share, day, dated=dated)
        return lists

    def drop(self) -> None:
        """Nothing is raised any more."""
        self._raises = {}


def _series(price: Price) -> _Series:
    """What tells a price from the others but for its days."""
    return price.item, price.supplier, price.sold_as, price.least_packs
