"""How a column of a list is read: one small reader for each kind of cell, all faults of a table at once."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from enum import Enum
from typing import Any, Literal

from kit.errors import Fault, KitError
from kit.tables import Row, Table
from kit.units import parse_quantity

__all__ = ["Column", "amount", "currency", "day", "number", "one_of", "quantity", "read_rows", "text", "whole", "words", "words_of", "yes_no"]

CURRENCY = "USD"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its name in the file, how a cell is read, and whether a cell, or the whole column, may be left out (then None)."""

    name: str
    read: Callable[[str], Any]
    may_be_empty: bool = False
    may_be_absent: bool = False


def text(cell: str) -> str:
    """Words."""
    return cell


def words(cell: str) -> tuple[str, ...]:
    """Words with blanks between them."""
    return tuple(cell.split())


def number(cell: str) -> float:
    """A plain number, zero or more."""
    try:
        value = Decimal(cell)
    except InvalidOperation:
        raise ValueError(f'"{cell}" is not a number.') from None
    if not value.is_finite():
        raise ValueError(f'"{cell}" is not a finite number.')
    if value < 0:
        raise ValueError(f'"{cell}" is negative.')
    return float(value)


def whole(cell: str) -> int:
    """A whole number, zero or more."""
    value = number(cell)
    if value != int(value):
        raise ValueError(f'"{cell}" is not a whole number.')
    return int(value)


def amount(cell: str) -> Decimal:
    """An amount of money whose currency stands in the row's own column; up to four decimals."""
    number(cell)
    value = Decimal(cell)
    if value != round(value, 4):
        raise ValueError(f'"{cell}" has more than four decimals.')
    return value


def currency(cell: str) -> str:
    """The currency of the row."""
    if cell != CURRENCY:
        raise ValueError(f'"{cell}" is not {CURRENCY}, the currency of these lists.')
    return cell


def day(cell: str) -> dt.date:
    """A date as 2026-11-25."""
    try:
        return dt.date.fromisoformat(cell)
    except ValueError:
        raise ValueError(f'"{cell}" is not a date. Give it as 2026-11-25.') from None


def yes_no(cell: str) -> bool:
    """Yes or no."""
    if cell not in {"yes", "no"}:
        raise ValueError(f'"{cell}" is neither yes nor no.')
    return cell == "yes"


def quantity(kind: Literal["length", "weight", "time", "share"]) -> Callable[[str], float]:
    """A reader of measures with their unit: "length" gives inches, "share" takes percents, and so on."""

    def read(cell: str) -> float:
        return parse_quantity(cell, kind)

    return read


def one_of(options: type[Enum] | Sequence[str]) -> Callable[[str], Any]:
    """A reader of one of a few words; an enum's value gives the enum's member."""
    known: Mapping[str, Any] = {str(option.value): option for option in options} if isinstance(options, type) else {option: option for option in options}

    def read(cell: str) -> Any:
        if cell not in known:
            raise ValueError(f'"{cell}" is not one of: {", ".join(known)}.')
        return known[cell]

    return read


def words_of(options: Sequence[str]) -> Callable[[str], tuple[str, ...]]:
    """A reader of one or more of a few words, with blanks between them."""
    one = one_of(options)

    def read(cell: str) -> tuple[str, ...]:
        return tuple(one(word) for word in cell.split())

    return read


def read_rows(table: Table, columns: Sequence[Column], make: Callable[..., Any], faults: list[Fault]) -> list[tuple[Row, Any]]:
    """Each sound row as `make(**cells)` beside the row it came from; what is wrong is added to `faults`."""
    names = {column.name for column in columns}
    faults.extend(
        Fault("row 1", f'column "{column.name}" is missing.', table.file) for column in columns if column.name not in table.columns and not column.may_be_absent
    )
    faults.extend(
        Fault("row 1", f'column "{name}" is not known. Known: {", ".join(c.name for c in columns)}.', table.file) for name in table.columns if name not in names
    )
    if any(column.name not in table.columns and not column.may_be_absent for column in columns):
        return []
    if not table.rows:
        faults.append(Fault("", "has a header but no rows.", table.file))
    made = []
    for row in table.rows:
        values, sound = {}, True
        for column in columns:
            cell = row.cells.get(column.name, "")
            try:
                values[column.name] = _read(column, cell)
            except ValueError as error:
                sentences = [fault.message for fault in error.faults] if isinstance(error, KitError) else [str(error)]
                faults.extend(Fault(f"row {row.number}, {column.name}", sentence, table.file) for sentence in sentences)
                sound = False
        if sound:
            made.append((row, make(**values)))
    return made


def _read(column: Column, cell: str) -> Any:
    if cell:
        return column.read(cell)
    if not column.may_be_empty:
        raise ValueError("is empty.")
    return None
