"""Do the lists agree with themselves and with each other?"""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Container, Iterable
from itertools import pairwise
from typing import Any

from kit.errors import Fault
from kit.lists.rows import Item, Price
from kit.lists.schema import COLUMNS
from kit.records import CostType
from kit.steps import Step
from kit.tables import Row

__all__ = ["check_prices", "check_references", "check_spans", "key_of", "key_rows"]

_KEYS: dict[str, Callable[[Any], Any]] = {
    "items.csv": lambda row: row.item,
    "sinks.csv": lambda row: row.item,
    "counters.csv": lambda row: row.item,
    "steps.csv": lambda row: row.step,
    "rates.csv": lambda row: row.driver,
    "factors.csv": lambda row: row.factor,
    "order_rules.csv": lambda row: (row.rule, row.step),
    "hired.csv": lambda row: (row.driver, row.step),
    "lead_times.csv": lambda row: row.what,
    "site_risks.csv": lambda row: row.risk,
    "mounts.csv": lambda row: (row.mount, row.material),
    "lifters.csv": lambda row: row.up_to,
    "transitions.csv": lambda row: (row.system, row.old, row.new),
    "take_outs.csv": lambda row: (row.fitting, row.size),
    "accounts.csv": lambda row: row.cost_type,
    "books.csv": lambda row: row.use,
    "cost_codes.csv": lambda row: row.cost_code,
    "suppliers.csv": lambda row: row.supplier,
    "wording.csv": lambda row: row.wording,
    "burden.csv": lambda row: row.part,
    "state_presets.csv": lambda row: row.preset,
    "change_rules.csv": lambda row: (row.rule, row.cost_type),
    "unit_prices.csv": lambda row: row.find,
    "draws.csv": lambda row: row.draw,
    "pay_terms.csv": lambda row: (row.cost_type, row.supplier),
}


def key_of(name: str, row: Any) -> Any:
    """What tells a row of a file from the others: one value or several."""
    return _KEYS[name](row)


def key_rows(name: str, rows: Iterable[tuple[Row, Any]], faults: list[Fault]) -> dict[Any, Any]:
    """The rows of a file by their key; a key that stands twice is a fault."""
    found: dict[Any, Any] = {}
    for row, made in rows:
        key = key_of(name, made)
        if key in found:
            shown = " / ".join(key) if isinstance(key, tuple) else str(key)
            faults.append(Fault(f"row {row.number}", f'"{shown}" stands twice.', name))
        found[key] = made
    return found


def check_prices(rows: list[tuple[Row, Price]], items: dict[str, Item], faults: list[Fault]) -> None:
    """Each price: its item, its pack, its dates, its stock; no two rows the same."""
    count = Counter(price.id for _, price in rows)
    for row, price in rows:
        place = f"row {row.number}"
        item = items.get(price.item)
        if item is None:
            faults.append(Fault(f"{place}, item", f'"{price.item}" is not in items.csv.', "prices.csv"))
            continue
        if count[price.id] > 1:
            faults.append(Fault(place, f'"{price.id}" stands {count[price.id]} times.', "prices.csv"))
        if price.pack <= 0:
            faults.append(Fault(f"{place}, pack", "must be above 0.", "prices.csv"))
        if price.effective_to is not None and price.effective_to < price.effective_from:
            faults.append(Fault(f"{place}, effective_to", f"lies before {price.effective_from}.", "prices.csv"))
        if item.cut != "no" and price.stock_length is None:
            faults.append(Fault(f"{place}, stock_length", f'"{price.item}" is cut from stock and needs it.', "prices.csv"))
        if item.cut == "sheet" and price.stock_width is None:
            faults.append(Fault(f"{place}, stock_width", f'"{price.item}" is cut from sheets and needs it.', "prices.csv"))


def check_spans(rows: list[tuple[Row, Price]], faults: list[Fault]) -> None:
    """Prices of one supplier for one pack: their spans of dates neither overlap nor leave a day without a price."""
    series: dict[tuple[str, str, str], list[tuple[Row, Price]]] = {}
    for row, price in rows:
        series.setdefault((price.item, price.supplier, f"{price.sold_as} from {price.least_packs or 1}"), []).append((row, price))
    for spans in series.values():
        ordered = sorted(spans, key=lambda pair: pair[1].effective_from)
        for (_, before), (row, after) in pairwise(ordered):
            next_day = None if before.effective_to is None else before.effective_to + dt.timedelta(days=1)
            if next_day is None or after.effective_from < next_day:
                if before.id != after.id:  # the same row twice is told already
                    faults.append(
                        Fault(f"row {row.number}, effective_from", f"overlaps the price of {before.effective_from}: end that one the day before.", "prices.csv")
                    )
            elif after.effective_from > next_day:
                faults.append(
                    Fault(
                        f"row {row.number}, effective_from",
                        f"leaves a gap: no price from {next_day} to {after.effective_from - dt.timedelta(days=1)}.",
                        "prices.csv",
                    )
                )


def check_references(rows: dict[str, list[tuple[Row, Any]]], keyed: dict[str, dict[Any, Any]], faults: list[Fault]) -> None:
    """Items, steps and cost types that one file takes from another; every step and cost type has its row."""
    items, steps = keyed["items.csv"], {str(step) for step in keyed["steps.csv"]}

    item_columns = {
        "sinks.csv": ("item",),
        "counters.csv": tuple(column.name for column in COLUMNS["counters.csv"][1] if column.name.endswith("_item")),
        "transitions.csv": ("join",),
    }
    for file, columns in item_columns.items():
        for column in columns:
            _check_known(file, column, rows[file], items, "is not in items.csv.", faults)
    _check_known("steps.csv", "after", rows["steps.csv"], steps, "is not a step.", faults)
    _check_known("factors.csv", "steps", rows["factors.csv"], steps | {"all"}, "is not a step.", faults)
    if rows["steps.csv"]:
        faults.extend(Fault("", f'step "{step}" has no row.', "steps.csv") for step in Step if step not in keyed["steps.csv"])
    if rows["accounts.csv"]:
        faults.extend(Fault("", f'cost type "{kind}" has no row.', "accounts.csv") for kind in CostType if kind not in keyed["accounts.csv"])
    for row, item in rows["items.csv"]:
        if item.cut != "no" and item.kerf is None:
            faults.append(Fault(f"row {row.number}, kerf", f'"{item.item}" is cut from stock and needs it.', "items.csv"))
    for row, rate in rows["rates.csv"]:
        if not rate.low <= rate.likely <= rate.high:
            faults.append(Fault(f"row {row.number}", "low, likely and high are not in rising order.", "rates.csv"))


def _check_known(file: str, column: str, rows: Iterable[tuple[Row, Any]], known: Container[str], sentence: str, faults: list[Fault]) -> None:
    for row, made in rows:
        given = getattr(made, column)
        names = given if isinstance(given, tuple) else (given,)
        faults.extend(Fault(f"row {row.number}, {column}", f'"{name}" {sentence}', file) for name in names if name is not None and name not in known)
