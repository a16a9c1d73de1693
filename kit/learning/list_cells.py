"""What would stand in the lists? The cells that a learned ratio moves: hours of a step's rates, waste of an item, days of a wait."""

import csv
import io
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from kit.learning.decisions import ListCell
from kit.learning.observations import Subject
from kit.lists import Lists, parse_lists
from kit.lists.list_files import LISTS
from kit.tables import parse_table
from kit.units import parse_quantity

__all__ = ["CellChange", "changes_of", "ratio_moved", "stands_in", "write_cells"]

_SOURCE = {"rates.csv": "source", "items.csv": "waste_source", "lead_times.csv": "says"}
_LEARNED = re.compile(r"(; )?learned from .*$")
_NUMBER_AND_UNIT = re.compile(r"([0-9.]+)\s*(h|min)")
_POINTS = ("low", "likely", "high")


@dataclass(frozen=True, slots=True)
class CellChange:
    """One cell before and after, as it is typed in the list; `name` is its row for people, `key` its id."""

    file: str
    key: str
    name: str
    column: str
    before: str
    after: str


def changes_of(subject: Subject, ratio: float, lists: Lists) -> tuple[CellChange, ...]:
    """The cells that a ratio of what it took over what the lists say moves; none where every cell stays as it is.

    All three hours of a rate move alike, and all rates of the work that the jobs had; a rate of work that none of them had stays, and so does a policy.
    Waste is what is bought beyond the net quantity: (1 + waste) moves, and never falls below 0. Days move with
    the day of the order among them, to half a day.
    """
    moved: dict[str, Callable[[str], str]]
    if subject.kind == "hours":
        keys = subject.rates or tuple(driver for driver, rate in lists.rates.items() if rate.step == subject.row and not rate.is_policy)
        moved = {point: lambda cell: _times_hours(cell, ratio) for point in _POINTS}
        changes = [change for key in keys for change in _moved("rates.csv", key, lists.rates[key].name, moved, lists)]
    elif subject.kind == "waste":
        moved = {"waste": lambda cell: f"{max((1 + parse_quantity(cell, 'share')) * ratio - 1, 0.0) * 100:.1f} %"}
        changes = _moved("items.csv", subject.row, subject.name, moved, lists)
    else:
        moved = {f"{point}_days": lambda cell: f"{max(round(((float(cell) + 1) * ratio - 1) * 2) / 2, 0.0):g}" for point in _POINTS}
        changes = _moved("lead_times.csv", subject.row, subject.name, moved, lists)
    return tuple(change for change in changes if not _mean_the_same(change.file, change.column, change.before, change.after))


def _times_hours(cell: str, ratio: float) -> str:
    """The hours of a cell times a ratio, to four figures, in the cell's own unit where it is hours or minutes."""
    typed = _NUMBER_AND_UNIT.fullmatch(cell.strip())
    number, unit = (float(typed[1]), typed[2]) if typed else (parse_quantity(cell, "time"), "h")
    return f"{float(f'{number * ratio:.4g}'):.12g} {unit}"


def _moved(file: str, key: str, name: str, columns: dict[str, Callable[[str], str]], lists: Lists) -> list[CellChange]:
    cells = next(row.cells for row in parse_table(lists.texts[file], file).rows if row.cells[LISTS[file].keys[0].name] == key)
    return [CellChange(file, key, name, column, cells[column], move(cells[column])) for column, move in columns.items()]


def _mean_the_same(file: str, column: str, one: str, other: str) -> bool:
    read = next(known.read for known in LISTS[file].columns if known.name == column)
    return bool(read(one) == read(other))


def ratio_moved(subject: Subject, changes: Sequence[CellChange]) -> float:
    """The ratio that cells as written stand for, after their rounding: of likely hours, of 1 + waste, of days with the day of the order."""
    change = next((change for change in changes if change.column in {"likely", "waste", "likely_days"}), None)
    if change is None:  # rounding left the likely figure as it is
        return 1.0
    if subject.kind == "hours":
        return parse_quantity(change.after, "time") / parse_quantity(change.before, "time")
    if subject.kind == "waste":
        return (1 + parse_quantity(change.after, "share")) / (1 + parse_quantity(change.before, "share"))
    return (float(change.after) + 1) / (float(change.before) + 1)


def stands_in(lists: Lists, cell: ListCell) -> bool:
    """Whether a cell of the lists still means what was written there."""
    rows = parse_table(lists.texts[cell.file], cell.file).rows
    standing = next((row.cells.get(cell.column, "") for row in rows if row.cells[LISTS[cell.file].keys[0].name] == cell.key), "")
    return bool(standing) and _mean_the_same(cell.file, cell.column, standing, cell.cell)


def write_cells(lists: Lists, changes: Sequence[tuple[CellChange, str]]) -> Lists:
    """The lists with these cells in place, each row saying where its new figures come from; every other cell stays as it was typed.

    Raises ListError if the lists are not sound with them.
    """
    texts = dict(lists.texts)
    for file in dict.fromkeys(change.file for change, _ in changes):
        texts[file] = _written(texts[file], file, [(change, source) for change, source in changes if change.file == file])
    return parse_lists(texts, lists.folder)


def _written(text: str, file: str, changes: Sequence[tuple[CellChange, str]]) -> str:
    header, *rows = csv.reader(io.StringIO(text, newline=""))
    source_column = _SOURCE[file]
    if source_column not in header:
        header, rows = [*header, source_column], [[*row, ""] for row in rows]
    key_place, source_place = header.index(LISTS[file].keys[0].name), header.index(source_column)
    by_key = {row[key_place].strip(): row for row in rows if row}
    for change, source in changes:
        row = by_key[change.key]
        row[header.index(change.column)] = change.after
        earlier = _LEARNED.sub("", row[source_place]).rstrip() if file != "rates.csv" else ""
        row[source_place] = f"{earlier}; {source}" if earlier else source
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows([header, *rows])
    return out.getvalue()
