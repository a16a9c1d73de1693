"""What changed between two folders of lists: prices, every other list cell by cell, and what came or went."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.errors import KitError
from kit.lists.goods_rows import Price
from kit.lists.load import Lists
from kit.lists.schema import LISTS
from kit.tables import parse_table

__all__ = ["ListChange", "list_changes"]


@dataclass(frozen=True, slots=True)
class ListChange:
    """One change: the list, what it is about, before and after in words ("" where it came or went), and the share by which a price moved."""

    file: str
    name: str
    before: str
    after: str
    share: Decimal | None = None


def list_changes(old: Lists, new: Lists, day: dt.date) -> tuple[ListChange, ...]:
    """Every change that matters on a day: prices are those that hold on it; cells of the other lists stand as they were typed, with their unit.

    Parameters
    ----------
    old, new
        The lists in use, and those that may take their place.
    day
        The day for which prices are compared.
    """
    changes = _prices(old, new, day)
    for file in LISTS:
        if file != "prices.csv":
            changes += _rows(file, old, new)
    changes += _company(old, new)
    return tuple(changes)


def _holding(lists: Lists, day: dt.date) -> dict[tuple[str, str, str], Price]:
    return {
        (price.item, price.supplier, f"{price.sold_as} from {price.least_packs}" if price.least_packs else price.sold_as): price
        for prices in lists.prices.values()
        for price in prices
        if price.holds_on(day)
    }


def _prices(old: Lists, new: Lists, day: dt.date) -> list[ListChange]:
    before, after = _holding(old, day), _holding(new, day)
    changes = []
    for key in sorted(before.keys() | after.keys()):
        was, now = before.get(key), after.get(key)
        name = f"{key[0]}, {key[2]}, {key[1]}"
        if was is None or now is None:
            changes.append(ListChange("prices.csv", name, _price_words(was), _price_words(now)))
        elif (was.price, was.pack) != (now.price, now.pack):
            per_unit = (now.price / Decimal(repr(now.pack))) / (was.price / Decimal(repr(was.pack))) - 1 if was.price else None
            changes.append(ListChange("prices.csv", name, _price_words(was), _price_words(now), None if per_unit is None else round(per_unit, 4)))
    return changes


def _price_words(price: Price | None) -> str:
    return "" if price is None else f"{price.price} {price.currency} for {price.pack:g}"


def _rows(file: str, old: Lists, new: Lists) -> list[ListChange]:
    if old.texts[file] == new.texts[file]:
        return []
    before, after = _cells(file, old), _cells(file, new)
    changes = []
    for key in sorted(before.keys() | after.keys(), key=str):
        was, now = before.get(key), after.get(key)
        name = _name(file, now or was or {})
        if was is None or now is None:
            changes.append(ListChange(file, name, "there" if was else "", "there" if now else ""))
        else:
            changes += [
                ListChange(file, f"{name}, {column.name}", was.get(column.name, ""), now.get(column.name, ""))
                for column in LISTS[file].columns
                if _value(column.read, was.get(column.name, "")) != _value(column.read, now.get(column.name, ""))
            ]
    return changes


def _cells(file: str, lists: Lists) -> dict[Any, Mapping[str, str]]:
    """The rows of a list as typed, by what their key means."""
    keys = LISTS[file].keys
    return {tuple(_value(key.read, row.cells.get(key.name, "")) for key in keys): row.cells for row in parse_table(lists.texts[file], file).rows}


def _name(file: str, cells: Mapping[str, str]) -> str:
    return " / ".join(cells[key.name] for key in LISTS[file].keys if cells.get(key.name))


def _value(read: Any, cell: str) -> Any:
    """What a cell means, so that "0.5 h" and "30 min" are the same."""
    try:
        return read(cell) if cell else None
    except (KitError, ValueError):
        return cell


def _company(old: Lists, new: Lists) -> list[ListChange]:
    before, after = ({row.cells["key"]: row.cells["value"] for row in parse_table(lists.texts["company.csv"], "company.csv").rows} for lists in (old, new))
    return [
        ListChange("company.csv", key, before.get(key, ""), after.get(key, ""))
        for key in sorted(before.keys() | after.keys())
        if before.get(key) != after.get(key)
    ]
