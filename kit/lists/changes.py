"""What changed between two folders of lists: prices, rates, company, and what came or went."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Any

from kit.lists.load import Lists
from kit.lists.rows import Price

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
    """Every change that matters on a day; prices are those that hold on it.

    Parameters
    ----------
    old, new
        The lists in use, and those that may take their place.
    day
        The day for which prices are compared.
    """
    changes = _prices(old, new, day)
    for file, before, after in (
        ("items.csv", old.items, new.items),
        ("sinks.csv", old.sinks, new.sinks),
        ("counters.csv", old.counters, new.counters),
        ("rates.csv", old.rates, new.rates),
        ("factors.csv", old.factors, new.factors),
        ("steps.csv", old.steps, new.steps),
        ("mounts.csv", old.mounts, new.mounts),
    ):
        changes += _rows(file, before, after)
    changes += _company(old, new)
    return tuple(changes)


def _holding(lists: Lists, day: dt.date) -> dict[tuple[str, str, str], Price]:
    return {
        (price.item, price.supplier, f"{price.sold_as} from {price.least_packs}" if price.least_packs else price.sold_as): price
        for prices in lists.prices.values()
        for price in prices
        if price.effective_from <= day and (price.effective_to is None or day <= price.effective_to)
    }


def _prices(old: Lists, new: Lists, day: dt.date) -> list[ListChange]:
    before, after = _holding(old, day), _holding(new, day)
    changes = []
    for key in sorted(before.keys() | after.keys()):
        was, now = before.get(key), after.get(key)
        name = f"{key[0]}, {key[2]}, {key[1]}"
        if was is None or now is None:
            changes.append(ListChange("prices.csv", name, _told(was), _told(now)))
        elif (was.price, was.pack) != (now.price, now.pack):
            per_unit = (now.price / Decimal(repr(now.pack))) / (was.price / Decimal(repr(was.pack))) - 1 if was.price else None
            changes.append(ListChange("prices.csv", name, _told(was), _told(now), None if per_unit is None else round(per_unit, 4)))
    return changes


def _told(price: Price | None) -> str:
    return "" if price is None else f"{price.price} {price.currency} for {price.pack:g}"


def _rows(file: str, before: Mapping[Any, Any], after: Mapping[Any, Any]) -> list[ListChange]:
    changes = []
    for key in sorted(before.keys() | after.keys(), key=str):
        was, now = before.get(key), after.get(key)
        name = " / ".join(key) if isinstance(key, tuple) else str(key)
        if was is None or now is None:
            changes.append(ListChange(file, name, "there" if was else "", "there" if now else ""))
        else:
            changes += [
                ListChange(file, f"{name}, {field.name}", str(getattr(was, field.name)), str(getattr(now, field.name)))
                for field in fields(was)
                if getattr(was, field.name) != getattr(now, field.name)
            ]
    return changes


def _company(old: Lists, new: Lists) -> list[ListChange]:
    return [
        ListChange("company.csv", field.name, str(getattr(old.company, field.name)), str(getattr(new.company, field.name)))
        for field in fields(old.company)
        if getattr(old.company, field.name) != getattr(new.company, field.name)
    ]
