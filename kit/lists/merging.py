"""A part of a list goes into the list in use: its rows take the place of those with the same key, a new price ends the old one the day before."""

import csv
import datetime as dt
import io
import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from kit.errors import Fault, KitError, ListError
from kit.lists.columns import Column
from kit.lists.company import COMPANY_FILE
from kit.lists.list_files import LISTS
from kit.tables import Table, parse_table

__all__ = ["PRICES", "Cells", "MergedList", "merge_cells", "merge_list"]

PRICES = "prices.csv"
_FROM, _TO = "effective_from", "effective_to"

Cells = dict[str, str]
"""One row as it is typed, by column."""


@dataclass(frozen=True, slots=True)
class MergedList:
    """A list with the rows of a part in it: its text, how many rows changed or came, and the row of which file each row of the text was."""

    text: str
    rows: int
    origins: tuple[tuple[str, int], ...]

    def place_of(self, fault: Fault) -> Fault:
        """The fault of a row at its place in the file that the row came from."""
        row = re.match(r"row (\d+)", fault.place)
        if row is None or not 1 < int(row[1]) < len(self.origins) + 2:
            return fault
        file, number = self.origins[int(row[1]) - 2]
        return Fault(f"row {number}{fault.place[row.end() :]}", fault.message, file)


def merge_list(text: str, part: str, file: str, source: str, day: dt.date) -> MergedList:
    """The list in use with the rows of a part of it.

    What is empty in the part, or a column that it hasn't got, stays as it is in the list in use. A price without a first day begins on `day`.

    Parameters
    ----------
    text, part
        The list in use and the part, as CSV.
    file
        Which list they are.
    source
        What the part is called in a fault.
    day
        Day from which prices without one hold.

    Raises
    ------
    ListError
        With every fault of the part, by its row.
    """
    table, columns = parse_table(part, source), _columns(file)
    keys = [column for column in columns if column.is_key]
    faults = [
        Fault("row 1", f'Column "{name}" is not known. Known: {", ".join(column.name for column in columns)}.', source)
        for name in table.columns
        if name not in {column.name for column in columns}
    ]
    faults += [
        Fault("row 1", f'Column "{key.name}" is missing: without it there is no telling which rows are meant.', source)
        for key in keys
        if key.name not in table.columns and not (key.may_be_empty or key.name == _FROM)
    ]
    if not table.rows:
        faults.append(Fault("", "has a header but no rows.", source))
    faults += [] if faults else _check_cells(table, columns)
    if faults:
        raise ListError(faults)
    first = {_FROM: day.isoformat()} if file == PRICES else {}
    rows = [{**first, **{name: cell for name, cell in row.cells.items() if cell}} for row in table.rows]
    return merge_cells(text, rows, file, [(source, row.number) for row in table.rows])


def _columns(file: str) -> Sequence[Column]:
    if file == COMPANY_FILE:
        return [Column(name, str, may_be_empty=name != "key", is_key=name == "key") for name in ("key", "value", "note")]
    return LISTS[file].columns


def _check_cells(table: Table, columns: Sequence[Column]) -> list[Fault]:
    """What is wrong with single cells, and rows that stand twice."""
    faults, seen = [], set()
    for row in table.rows:
        for column in columns:
            cell = row.cells.get(column.name, "")
            try:
                if cell or (column.is_key and not column.may_be_empty and column.name != _FROM):
                    column.read_cell(cell)
            except ValueError as error:
                sentences = [fault.message for fault in error.faults] if isinstance(error, KitError) else [str(error)]
                faults += [Fault(f"row {row.number}, {column.name}", sentence, table.file) for sentence in sentences]
        key = _key(row.cells, columns)
        if key in seen:
            faults.append(Fault(f"row {row.number}", f'"{_key_words(row.cells, columns)}" is there twice.', table.file))
        seen.add(key)
    return faults


def merge_cells(text: str, rows: Sequence[Cells], file: str, origins: Sequence[tuple[str, int]] = ()) -> MergedList:
    """The list with rows put in or changed; `origins` says, for each of them, the file and row that it came from."""
    table, columns = parse_table(text, file), _columns(file)
    keys = [column for column in columns if column.name != _FROM]
    own: list[tuple[Cells, tuple[str, int]]] = [(dict(row.cells), (file, row.number)) for row in table.rows]
    for cells, origin in zip(rows, origins or [(file, 0)] * len(rows), strict=True):
        alike = [index for index, (other, _) in enumerate(own) if _key(other, keys) == _key(cells, keys)]
        if file == PRICES:
            _put_price(own, alike, cells, origin)
        elif alike:
            own[alike[0]] = ({**own[alike[0]][0], **cells}, origin)
        else:
            own.append((cells, origin))
    names = [*table.columns, *(column.name for column in columns if column.name not in table.columns and any(column.name in cells for cells, _ in own))]
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(names)
    writer.writerows([[re.sub(r"\s+", " ", cells.get(name, "")) for name in names] for cells, _ in own])
    return MergedList(out.getvalue(), len(rows), tuple(origin for _, origin in own))


def _put_price(own: list[tuple[Cells, tuple[str, int]]], alike: Sequence[int], cells: Cells, origin: tuple[str, int]) -> None:
    """A price after the one that it follows, which ends the day before; one that begins on the same day takes its place."""
    begins = cells[_FROM]
    earlier = [index for index in alike if own[index][0][_FROM] <= begins]
    later = sorted(own[index][0][_FROM] for index in alike if own[index][0][_FROM] > begins)
    until = {_TO: _day_before(later[0])} if later else {}
    if not earlier:
        before = own[alike[0]][0] if alike else {}
        own.append(({**before, _TO: "", **until, **cells}, origin))
        return
    index = max(earlier, key=lambda one: own[one][0][_FROM])
    old, where = own[index]
    if old[_FROM] == begins:
        own[index] = ({**old, **cells}, origin)
        return
    if not old.get(_TO) or old[_TO] >= begins:
        own[index] = ({**old, _TO: _day_before(begins)}, where)
    own.insert(index + 1, ({**old, _TO: "", **until, **cells}, origin))


def _day_before(day: str) -> str:
    with suppress(ValueError):  # a day that is none is a fault of its own
        return (dt.date.fromisoformat(day) - dt.timedelta(days=1)).isoformat()
    return day


def _key(cells: Cells, columns: Sequence[Column]) -> tuple[Any, ...]:
    """What tells a row from the others, by what its cells mean."""
    return tuple(_meaning(column, cells.get(column.name, "")) for column in columns if column.is_key)


def _meaning(column: Column, cell: str) -> Any:
    try:
        return column.read(cell) if cell else None
    except (KitError, ValueError):
        return cell


def _key_words(cells: Cells, columns: Sequence[Column]) -> str:
    return " / ".join(cells[column.name] for column in columns if column.is_key and cells.get(column.name))
