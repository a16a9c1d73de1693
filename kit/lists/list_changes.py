"""What changed between two folders of lists: prices, every other list cell by cell, and what came or went."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.errors import KitError
from kit.lists.goods_rows import Price
from kit.lists.list_files import LISTS
from kit.lists.load import Lists
from kit.money import CENT_PLACES, format_money
from kit.steps import Step
from kit.tables import parse_table
from kit.units import format_day

__all__ = ["ListChange", "amount_words", "list_changes"]


_Key = tuple[str, str, str, dt.date | None]


@dataclass(frozen=True, slots=True)
class ListChange:
    """One change: the list, what it is about in words, before and after ("" where it came or went), the share by which a price moved, the row's key."""

    file: str
    name: str
    before: str
    after: str
    share: Decimal | None = None
    about: str = ""


def list_changes(old: Lists, new: Lists, day: dt.date, *, coming: bool = True) -> tuple[ListChange, ...]:
    """Every change that matters on a day: prices are those that hold on it; cells of the other lists stand as they were typed, with their unit.

    Parameters
    ----------
    old, new
        The lists in use, and those that may take their place.
    day
        The day for which prices are compared; those that begin later are compared with what they follow.
    coming
        Whether prices that begin later count.
    """
    changes = _prices(old, new, day, coming=coming)
    for file in LISTS:
        if file != "prices.csv":
            changes += _rows(file, old, new)
    changes += _company(old, new)
    return tuple(changes)


def _standing(lists: Lists, day: dt.date) -> dict[_Key, Price]:
    """The prices that hold on a day, and those that begin later, each by what it is about and its first day where that is still to come."""
    return {
        (price.item, price.supplier, f"{price.sold_as} from {price.least_packs}" if price.least_packs else price.sold_as, first): price
        for prices in lists.prices.values()
        for price in prices
        if (first := price.effective_from if price.effective_from > day else None) or price.holds_on(day)
    }


def _before(prices: Mapping[_Key, Price], key: _Key, day: dt.date) -> Price | None:
    """The price that one follows which is still to come."""
    earlier = [price for other, price in prices.items() if other[:3] == key[:3] and (other[3] or day) < (key[3] or day)]
    return max(earlier, key=lambda price: price.effective_from, default=None)


def _prices(old: Lists, new: Lists, day: dt.date, *, coming: bool) -> list[ListChange]:
    before, after = ({key: price for key, price in _standing(lists, day).items() if coming or key[3] is None} for lists in (old, new))
    changes = []
    for key in sorted(before.keys() | after.keys(), key=lambda key: (*key[:3], key[3] or day)):
        was, now = before.get(key), after.get(key)
        if key[3] and was is None:
            was = _before(after, key, day)
        unit = (new if now else old).item(key[0]).unit
        name = f"{(new if now else old).name_of(key[0])}, {key[2]}, {key[1]}{f', from {format_day(key[3])}' if key[3] else ''}"
        if was is None or now is None:
            changes.append(ListChange("prices.csv", name, _price_words(was, unit), _price_words(now, unit), about=key[0]))
        elif (was.price, was.pack, was.least_charge) != (now.price, now.pack, now.least_charge):
            changes.append(ListChange("prices.csv", name, _price_words(was, unit), _price_words(now, unit), _share(was, now), key[0]))
    return changes


def _share(was: Price, now: Price) -> Decimal | None:
    """The share by which a price of one unit moves, or the least charge of a row that is there for it."""
    if was.least_charge and now.least_charge:
        return round(now.least_charge / was.least_charge - 1, 4)
    return round((now.price / Decimal(repr(now.pack))) / (was.price / Decimal(repr(was.pack))) - 1, 4) if was.price else None


def amount_words(price: Price) -> str:
    """What one pack costs, for a person, to the places it has: `$7.90`, or `at least $95.00`."""
    if price.least_charge is not None:
        return f"at least {format_money(price.least_charge)}"
    places = max(CENT_PLACES, -int(price.price.normalize().as_tuple().exponent))
    return f"${price.price:,.{places}f}"


def _price_words(price: Price | None, unit: str) -> str:
    """What a pack costs, and how much it holds where that is more than one: `$6.75 for 10 ft`, `$3.80 for 14`."""
    if price is None:
        return ""
    if price.pack == 1 or price.least_charge is not None:
        return amount_words(price)
    return f"{amount_words(price)} for {price.pack:g}{'' if unit == 'each' else f' {unit}'}"


def _rows(file: str, old: Lists, new: Lists) -> list[ListChange]:
    if old.texts[file] == new.texts[file]:
        return []
    before, after = _cells(file, old), _cells(file, new)
    changes = []
    for key in sorted(before.keys() | after.keys(), key=str):
        was, now = before.get(key), after.get(key)
        name, about = _name(file, now or was or {}, new if now else old), (now or was or {}).get(LISTS[file].keys[0].name, "")
        if was is None or now is None:
            changes.append(ListChange(file, name, "there" if was else "", "there" if now else "", about=about))
        else:
            changes += [
                ListChange(file, f"{name}, {_plain(column.name)}", _day_words(was.get(column.name, "")), _day_words(now.get(column.name, "")), about=about)
                for column in LISTS[file].columns
                if _value(column.read, was.get(column.name, "")) != _value(column.read, now.get(column.name, ""))
            ]
    return changes


def _cells(file: str, lists: Lists) -> dict[Any, Mapping[str, str]]:
    """The rows of a list as typed, by what their key means."""
    keys = LISTS[file].keys
    return {tuple(_value(key.read, row.cells.get(key.name, "")) for key in keys): row.cells for row in parse_table(lists.texts[file], file).rows}


def _name(file: str, cells: Mapping[str, str], lists: Lists) -> str:
    """A row by the name that people read, else by what its keys stand for: a step's name, an item's, a word of the trade."""
    keys = {key.name: cells[key.name] for key in LISTS[file].keys if cells.get(key.name)}
    return cells.get("name") or ", ".join(lists.steps[Step(cell)].name if key == "step" else lists.name_of(cell) for key, cell in keys.items())


def _plain(id_: str) -> str:
    return id_.replace("_", " ").replace("-", " ")


def _day_words(cell: str) -> str:
    """A cell as it was typed; a day as people write days."""
    try:
        return format_day(dt.date.fromisoformat(cell))
    except ValueError:
        return cell


def _value(read: Any, cell: str) -> Any:
    """What a cell means, so that "0.5 h" and "30 min" are the same."""
    try:
        return read(cell) if cell else None
    except (KitError, ValueError):
        return cell


def _company(old: Lists, new: Lists) -> list[ListChange]:
    before, after = ({row.cells["key"]: row.cells["value"] for row in parse_table(lists.texts["company.csv"], "company.csv").rows} for lists in (old, new))
    return [
        ListChange("company.csv", _plain(key), _day_words(before.get(key, "")), _day_words(after.get(key, "")))
        for key in sorted(before.keys() | after.keys())
        if before.get(key) != after.get(key)
    ]
