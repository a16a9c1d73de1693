"""Do the lists agree with themselves and with each other: keys, references, prices, what cells of one row say of each other?"""

import datetime as dt
import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from kit.errors import Fault
from kit.lists.column_rules import ListKind
from kit.lists.goods_rows import Price
from kit.lists.list_files import LISTS
from kit.lists.money_rows import BOOK_USES
from kit.lists.work_rows import ALL_STEPS, LEADS, STEPS
from kit.records import CostType
from kit.sources import list_tables, sources, table
from kit.steps import Step
from kit.tables import Row

__all__ = ["Rows", "check_lists", "key_rows"]

Rows = Mapping[str, Sequence[tuple[Row, Any]]]
_POINTS = ("low", "likely", "high")
_RISING = {
    "rates.csv": (_POINTS,),
    "hired.csv": (_POINTS,),
    "lead_times.csv": (tuple(f"{point}_days" for point in _POINTS),),
    "site_risks.csv": (tuple(f"cost_{point}" for point in _POINTS), tuple(f"hours_{point}" for point in _POINTS)),
}


def key_rows(kind: ListKind, rows: Iterable[tuple[Row, Any]], faults: list[Fault]) -> dict[Any, Any]:
    """The rows of a file by their key; a key that stands twice is a fault."""
    by_key: dict[Any, Any] = {}
    for row, record in rows:
        key = kind.key_of(record)
        if key in by_key:
            parts = key if isinstance(key, tuple) else (key,)
            faults.append(Fault(f"row {row.number}", f'"{" / ".join(str(part) for part in parts if part is not None)}" is there twice.', kind.file))
        by_key[key] = record
    return by_key


def check_lists(rows: Rows, faults: list[Fault]) -> None:
    """Every fault that takes more than one cell to see, but those of money."""
    _check_references(rows, faults)
    _check_prices(rows, faults)
    _check_spans(rows["prices.csv"], faults)
    _check_rising(rows, faults)
    _check_complete(rows, faults)
    _check_work(rows, faults)
    _check_counters(rows, faults)
    _check_sentences(rows, faults)


def _check_references(rows: Rows, faults: list[Fault]) -> None:
    """Keys of another list: each has its row there, where that list could be read; steps and cost types are checked as words."""
    keys = {file: {str(kind.key_of(record)) for _, record in rows[file]} for file, kind in LISTS.items() if len(kind.keys) == 1}
    for file, kind in LISTS.items():
        for column in kind.columns:
            known = keys.get(column.refers, set()) if column.kind != "choice" else set()
            for row, record in rows[file] if known else ():
                value = getattr(record, column.attribute)
                names = value if isinstance(value, tuple) else () if value is None else (value,)
                faults.extend(
                    Fault(f"row {row.number}, {column.name}", f'"{name}" is not in {column.refers}.', file) for name in names if str(name) not in known
                )


def _check_prices(rows: Rows, faults: list[Fault]) -> None:
    """Each price: its pack, its dates, its stock; no two rows the same."""
    items = {item.item: item for _, item in rows["items.csv"]}
    count = Counter(price.id for _, price in rows["prices.csv"])
    for row, price in rows["prices.csv"]:
        place = f"row {row.number}"
        cut = items[price.item].cut if price.item in items else "no"
        if count[price.id] > 1:
            faults.append(Fault(place, f'"{price.id}" is there {count[price.id]} times.', "prices.csv"))
        if price.pack <= 0:
            faults.append(Fault(f"{place}, pack", "must be above 0.", "prices.csv"))
        if price.effective_to is not None and price.effective_to < price.effective_from:
            faults.append(Fault(f"{place}, effective_to", f"is before {price.effective_from}.", "prices.csv"))
        if cut != "no" and price.stock_length_in is None:
            faults.append(Fault(f"{place}, stock_length", f'"{price.item}" is cut from stock and needs it.', "prices.csv"))
        if cut == "sheet" and price.stock_width_in is None:
            faults.append(Fault(f"{place}, stock_width", f'"{price.item}" is cut from sheets and needs it.', "prices.csv"))
        elif price.pack > 0 and (stock := _stock_of(price, cut)) and not math.isclose(price.pack, stock[0], rel_tol=1e-5):
            sentence = f"says {price.pack:g} {stock[1]}, and stock of {stock[2]} is {stock[0]:g} {stock[1]}. Fix one of them."
            faults.append(Fault(f"{place}, pack", sentence, "prices.csv"))
    for row, item in rows["items.csv"]:
        if item.cut != "no" and item.kerf_in is None:
            faults.append(Fault(f"row {row.number}, kerf", f'"{item.item}" is cut from stock and needs it.', "items.csv"))


def _stock_of(price: Price, cut: str) -> tuple[float, str, str] | None:
    """What one piece of stock that is cut holds, in feet of length or square feet, its unit, and its size in words; None for what is not cut."""
    if cut == "no" or price.stock_length_in is None:
        return None
    if cut == "length" or price.stock_width_in is None:
        return price.stock_length_in / 12.0, "ft", f"{price.stock_length_in:g} in"
    return price.stock_length_in * price.stock_width_in / 144.0, "sq ft", f"{price.stock_length_in:g} x {price.stock_width_in:g} in"


def _check_spans(rows: Sequence[tuple[Row, Price]], faults: list[Fault]) -> None:
    """Prices of one supplier for one pack: their spans of dates neither overlap nor leave a day without a price."""
    series: dict[tuple[str, str, str], list[tuple[Row, Price]]] = {}
    for row, price in rows:
        series.setdefault((price.item, price.supplier, f"{price.sold_as} from {price.least_packs or 1}"), []).append((row, price))
    for spans in series.values():
        ordered = sorted(spans, key=lambda pair: pair[1].effective_from)
        for (_, before), (row, after) in pairwise(ordered):
            place = f"row {row.number}, effective_from"
            next_day = None if before.effective_to is None else before.effective_to + dt.timedelta(days=1)
            if next_day is None or after.effective_from < next_day:
                if before.id != after.id:  # the same row twice is a fault already
                    faults.append(Fault(place, f"overlaps the price of {before.effective_from}: end that one the day before.", "prices.csv"))
            elif after.effective_from > next_day:
                last = after.effective_from - dt.timedelta(days=1)
                faults.append(Fault(place, f"leaves a gap: no price from {next_day} to {last}.", "prices.csv"))


def _check_rising(rows: Rows, faults: list[Fault]) -> None:
    for file, spans in _RISING.items():
        for names in spans:
            columns = [column for column in LISTS[file].columns if column.name in names]
            for row, record in rows[file]:
                points = [getattr(record, column.attribute) for column in columns]
                if points != sorted(points):
                    faults.append(Fault(f"row {row.number}", f"{', '.join(names[:-1])} and {names[-1]} are not in rising order.", file))


def _check_complete(rows: Rows, faults: list[Fault]) -> None:
    """Lists that must have a row for each of a few things; one that could not be read has its fault already."""
    complete_lists: dict[str, tuple[str, str, Iterable[object]]] = {
        "steps.csv": ("step", "step", Step),
        "accounts.csv": ("cost_type", "cost type", CostType),
        "books.csv": ("use", "use", BOOK_USES),
        "lead_times.csv": ("what", "lead time", LEADS),
    }
    for file, (attribute, word, names) in complete_lists.items():
        there = {getattr(record, attribute) for _, record in rows[file]}
        if there:
            faults.extend(Fault("", f'{word.capitalize()} "{name}" has no row.', file) for name in names if name not in there)


def _check_work(rows: Rows, faults: list[Fault]) -> None:
    """People who are there; hired work and lead times of what the lists know, where those could be read."""
    for row, step in rows["steps.csv"]:
        if step.crew > step.crew_most:
            faults.append(Fault(f"row {row.number}", f"needs {step.crew} people at least but allows {step.crew_most} at most.", "steps.csv"))
    units = {item.item: item.unit for _, item in rows["items.csv"]}
    named = {column.name for column in LISTS["counters.csv"].columns if column.refers == "items.csv"}
    for row, hired in rows["hired.csv"]:
        if hired.unit != units.get(hired.driver, hired.unit):
            faults.append(Fault(f"row {row.number}, unit", f'"{hired.driver}" is counted in {units[hired.driver]}.', "hired.csv"))
        if units and hired.driver not in units and hired.driver not in named:
            faults.append(Fault(f"row {row.number}, driver", f'"{hired.driver}" is neither in items.csv nor a column of counters.csv.', "hired.csv"))
    known = {*LEADS, *(name for _, item in rows["items.csv"] for name in (item.item, item.cost_code))}
    known |= {name for _, counter in rows["counters.csv"] for name in (counter.item, counter.material)}
    for row, lead in rows["lead_times.csv"]:
        if units and rows["counters.csv"] and lead.what not in known:
            sentence = f'"{lead.what}" is not an item, cost code or countertop, nor one of: {", ".join(LEADS)}.'
            faults.append(Fault(f"row {row.number}, what", sentence, "lead_times.csv"))


def _check_counters(rows: Rows, faults: list[Fault]) -> None:
    """A limit says who set it; a density stands in the sources."""
    for row, kind in rows["counters.csv"]:
        if kind.limits_source is None and any(limit not in {None, math.inf} for limit in (kind.span_most_in, kind.overhang_most_in)):
            faults.append(Fault(f"row {row.number}, limits_source", "is empty; a limit has to say who set it.", "counters.csv"))
        if kind.limits_source is not None and kind.limits_source not in sources():
            faults.append(Fault(f"row {row.number}, limits_source", f'"{kind.limits_source}" is not a key of the sources.', "counters.csv"))
        name, _, entry = kind.removed_density.partition("/")
        if name not in list_tables() or entry not in table(name):
            faults.append(
                Fault(f"row {row.number}, removed_density", f'"{kind.removed_density}" is not a row of the sources, such as densities/granite.', "counters.csv")
            )


def _check_sentences(rows: Rows, faults: list[Fault]) -> None:
    """Sentences of papers are about what there is; care is about any material, whether a sink or counter of it is listed or not."""
    known = {"step": STEPS, "wait": STEPS, "name": STEPS, "crew": (*STEPS, ALL_STEPS)}
    step, material = "a step", "a material of a countertop or sink"
    subjects = {"step": step, "wait": step, "name": step, "crew": "a step or all", "care": material, "material": material}
    for row, wording in rows["wording.csv"]:
        if wording.use in subjects:
            if not wording.about or wording.about not in known.get(wording.use, (wording.about,)):
                faults.append(Fault(f"row {row.number}, about", f'"{wording.about or ""}" is not {subjects[wording.use]}.', "wording.csv"))
        elif wording.about:
            faults.append(Fault(f"row {row.number}, about", f"must be empty for the use {wording.use}.", "wording.csv"))
