"""How a column of a list is read: one small reader for each kind of cell, all faults of a table at once."""

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from enum import Enum
from typing import Any, Literal, get_args

from kit.errors import Fault, KitError
from kit.incoming import MOST_COUNT, MOST_NUMBER
from kit.tables import Row, Table
from kit.units import parse_quantity

__all__ = [
    "Column",
    "Kind",
    "Measure",
    "amount",
    "currency",
    "day",
    "length_or_none",
    "members_of",
    "number",
    "one_of",
    "quantity",
    "read_rows",
    "text",
    "whole",
    "words_of",
    "yes_no",
]

CURRENCY = "USD"
Measure = Literal["length", "weight", "time", "share"]
Kind = Measure | Literal["text", "words", "choice", "number", "count", "amount", "currency", "day", "flag", "limit"]
_SHOWN_UNITS = {"length": " in", "limit": " in", "weight": " lb", "time": " h", "share": " %"}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its name in the file, how a cell is read, and whether a cell, or the whole column, may be left out (then None).

    `attribute` is the field of the row that holds it, `low` and `high` what it may come to in the unit of its kind, `options` the words that may
    stand in it, `refers` the list that must have a row of that key; columns with `is_key` together tell a row from the others.
    """

    name: str
    read: Callable[[str], Any]
    may_be_empty: bool = False
    may_be_absent: bool = False
    attribute: str = ""
    kind: Kind = "text"
    help: str = ""
    low: float | None = None
    high: float | None = None
    options: tuple[str, ...] = ()
    refers: str = ""
    is_key: bool = False

    def read_cell(self, cell: str) -> Any:
        """What a cell means, within the range. Raises ValueError, KitError with a sentence that quotes the cell and says what is wanted."""
        if not cell:
            if self.may_be_empty:
                return None
            raise ValueError("is empty.")
        value = self.read(cell)
        if (self.low is not None and value < self.low) or (self.high is not None and value > self.high):
            raise ValueError(f'"{cell}" is {self._beyond(value)}.')
        return value

    def _beyond(self, value: Any) -> str:
        unit, scale = _SHOWN_UNITS.get(self.kind, ""), 100 if self.kind == "share" else 1
        if self.high is not None and value > self.high:
            return f"more than {self.high * scale:g}{unit}"
        return f"less than {self.low or 0.0:g}{unit}"


def text(cell: str) -> str:
    """Words."""
    return cell


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
    if value > MOST_NUMBER:
        raise ValueError(f'"{cell}" is too large.')
    return float(value)


def whole(cell: str) -> int:
    """A whole number, zero or more."""
    digits, _, rest = cell.partition(".")
    if not digits.isdecimal() or rest.strip("0"):
        raise ValueError(f'"{cell}" is not a whole number.')
    if len(digits.lstrip("0")) > len(str(MOST_COUNT)) or int(digits) > MOST_COUNT:
        raise ValueError(f'"{cell}" is too large.')
    return int(digits)


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


def quantity(kind: Measure) -> Callable[[str], float]:
    """A reader of measures with their unit: "length" gives inches, "share" takes percents, and so on."""

    def read(cell: str) -> float:
        return parse_quantity(cell, kind)

    return read


def length_or_none(cell: str) -> float:
    """A limit [in]; the word none stands for no limit at all."""
    return math.inf if cell == "none" else parse_quantity(cell, "length")


def members_of(options: Any) -> dict[str, Any]:
    """What may be chosen by the word for it: the members of an enum, the words of a Literal, or words as they are listed."""
    listed = options if isinstance(options, type) and issubclass(options, Enum) else get_args(options) or options
    return {getattr(one, "word", str(one)): one for one in listed}


def one_of(options: Any) -> Callable[[str], Any]:
    """A reader of one of a few words, as `members_of` knows them; an enum's word gives the enum's member."""
    known = members_of(options)

    def read(cell: str) -> Any:
        if cell not in known:
            raise ValueError(f'"{cell}" is not one of: {", ".join(known)}.')
        return known[cell]

    return read


def words_of(options: Any = ()) -> Callable[[str], tuple[Any, ...]]:
    """A reader of words with blanks between them: each one of a few, where these are given."""
    one = one_of(options) if options else text

    def read(cell: str) -> tuple[Any, ...]:
        return tuple(one(word) for word in cell.split())

    return read


def read_rows(table: Table, columns: Sequence[Column], make: Callable[..., Any], faults: list[Fault]) -> list[tuple[Row, Any]]:
    """Each sound row as `make(**cells)` beside the row it came from; what is wrong is added to `faults`."""
    names = {column.name for column in columns}
    faults.extend(
        Fault("row 1", f'Column "{column.name}" is missing.', table.file) for column in columns if column.name not in table.columns and not column.may_be_absent
    )
    faults.extend(
        Fault("row 1", f'Column "{name}" is not known. Known: {", ".join(c.name for c in columns)}.', table.file) for name in table.columns if name not in names
    )
    if any(column.name not in table.columns and not column.may_be_absent for column in columns):
        return []
    if not table.rows:
        faults.append(Fault("", "has a header but no rows.", table.file))
    read = []
    for row in table.rows:
        values, sound = {}, True
        for column in columns:
            if column.name not in table.columns:
                continue  # left out as a whole: its default holds
            try:
                values[column.attribute or column.name] = column.read_cell(row.cells.get(column.name, ""))
            except ValueError as error:
                sentences = [fault.message for fault in error.faults] if isinstance(error, KitError) else [str(error)]
                faults.extend(Fault(f"row {row.number}, {column.name}", sentence, table.file) for sentence in sentences)
                sound = False
        if sound:
            read.append((row, make(**values)))
    return read
