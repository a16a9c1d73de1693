"""How a column of a list is declared: once, beside the field of its row.

The reader, the range, the references and `datapackage.json` follow from it; which words may stand in a cell, and whether it may be empty, is read
from the type. An attribute's name ends in its unit (`body_width_in`); the header leaves it out where the cell states it (`1 3/16 in`).
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import MISSING, dataclass, field, fields
from types import NoneType
from typing import Any, TypeVar, dataclass_transform, get_args, get_type_hints

from kit.lists import columns
from kit.lists.columns import Column, Kind, Measure

__all__ = [
    "DECLARED",
    "ListKind",
    "choice",
    "columns_of",
    "count",
    "currency_code",
    "day",
    "flag",
    "frozen_row",
    "limit",
    "list_row",
    "measure",
    "money",
    "number",
    "text",
    "typed",
    "words",
]

Row = TypeVar("Row")
_UNIT_IN_NAME = re.compile(r"_(in|lb|h)$")


@dataclass(frozen=True, slots=True)
class ListKind:
    """A list: its file, what it holds, the class of its rows, and its columns in their order."""

    file: str
    title: str
    row: type
    columns: tuple[Column, ...]

    @property
    def keys(self) -> tuple[Column, ...]:
        """The columns that together tell a row from the others."""
        return tuple(column for column in self.columns if column.is_key)

    def key_of(self, row: Any) -> Any:
        """What tells a row from the others: one value or several."""
        key = tuple(getattr(row, column.attribute) for column in self.keys)
        return key[0] if len(key) == 1 else key


DECLARED: list[ListKind] = []  # in the order in which modules are imported; `kit.lists.list_files` puts them into the order for people


def _declare(kind: Kind, help: str, default: Any = MISSING, **facts: Any) -> Any:  # noqa: A002 - the word that fields of the job use
    return field(default=default, metadata={"column": {"kind": kind, "help": help, "may_be_absent": default is not MISSING, **facts}})


def text(help: str, *, key: bool = False, refers: str = "", default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """Words; with `refers` they are the key of a row in that list. With a default the whole column may be left out."""
    return _declare("text", help, default, is_key=key, refers=refers)


def words(help: str, options: Sequence[str] = (), *, refers: str = "", default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """Words with blanks between them: some of the options, or keys of rows in the list `refers`. With a default the whole column may be left out."""
    return _declare("words", help, default, options=options, refers=refers)


def choice(help: str, options: Sequence[str] = (), *, key: bool = False, refers: str = "", default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """One of a few words: the options, else those of the field's type. With a default the whole column may be left out."""
    return _declare("choice", help, default, options=options, is_key=key, refers=refers)


def measure(kind: Measure, help: str, *, high: float | None = None, key: bool = False, default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """A length [in], weight [lb], time [h] or share, typed with its unit; 0 or more, at most `high`. With a default the whole column may be left out."""
    return _declare(kind, help, default, high=high, is_key=key)


def limit(help: str) -> Any:  # noqa: A002 - as above
    """A length [in] that may not be passed; the word none (infinite) says that there is no such limit, an empty cell that nobody knows it."""
    return _declare("limit", help)


def number(help: str, unit: str, *, high: float | None = None) -> Any:  # noqa: A002 - as above
    """A plain number, 0 or more, at most `high`; its unit stands in the header."""
    return _declare("number", f"{help} [{unit}]", high=high)


def count(help: str, *, low: int = 0, high: int | None = None, key: bool = False, default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """A whole number, at most `high`; with a default the whole column may be left out."""
    return _declare("count", help, default, low=low, high=high, is_key=key)


def money(help: str, *, default: Any = MISSING) -> Any:  # noqa: A002 - as above
    """Money; its currency stands in the row's own column. With a default the whole column may be left out."""
    return _declare("amount", help, default)


def currency_code() -> Any:
    """The currency of the row's amounts."""
    return _declare("currency", "Currency of the amounts (ISO 4217)")


def day(help: str, *, key: bool = False) -> Any:  # noqa: A002 - as above
    """A calendar date."""
    return _declare("day", help, is_key=key)


def flag(help: str) -> Any:  # noqa: A002 - as above
    """Yes or no."""
    return _declare("flag", help)


def typed(read: Callable[[str], Any], help: str) -> Any:  # noqa: A002 - as above
    """What only one column holds, with a reader of its own."""
    return _declare("text", help, read=read)


@dataclass_transform(frozen_default=True, field_specifiers=(text, words, choice, measure, limit, number, count, money, currency_code, day, flag, typed))
def frozen_row(row: type[Row]) -> type[Row]:
    """Make a class with declared fields a frozen, slotted record."""
    return dataclass(frozen=True, slots=True)(row)


@dataclass_transform(frozen_default=True, field_specifiers=(text, words, choice, measure, limit, number, count, money, currency_code, day, flag, typed))
def list_row(file: str, title: str) -> Callable[[type[Row]], type[Row]]:
    """Make a class the frozen row of a list: its fields are the columns of the file, in their order."""

    def declare(row: type[Row]) -> type[Row]:
        declared = frozen_row(row)
        DECLARED.append(ListKind(file, title, declared, columns_of(declared)))
        return declared

    return declare


def columns_of(row: Any) -> tuple[Column, ...]:
    """The columns that the fields of a row declare."""
    types = get_type_hints(row)
    return tuple(_column(part.name, types[part.name], **part.metadata["column"]) for part in fields(row))


def _column(attribute: str, annotation: Any, kind: Kind, options: Sequence[str] = (), read: Any = None, **facts: Any) -> Column:
    inner = [part for part in get_args(annotation) if part is not NoneType] if NoneType in get_args(annotation) else []
    known = options or (inner[0] if len(inner) == 1 else annotation) if kind == "choice" else options
    return Column(
        name=_UNIT_IN_NAME.sub("", attribute) if kind in _MEASURES else attribute,
        read=read or _reader(kind, known),
        may_be_empty=bool(inner),
        attribute=attribute,
        kind=kind,
        options=tuple(columns.members_of(known)),
        **facts,
    )


_MEASURES = ("length", "weight", "time", "limit")
_READERS: dict[str, Callable[[str], Any]] = {
    "text": columns.text,
    "number": columns.number,
    "count": columns.whole,
    "amount": columns.amount,
    "currency": columns.currency,
    "day": columns.day,
    "flag": columns.yes_no,
    "limit": columns.length_or_none,
    **{kind: columns.quantity(kind) for kind in ("length", "weight", "time", "share")},
}


def _reader(kind: Kind, options: Any) -> Callable[[str], Any]:
    if kind == "words":
        return columns.words_of(options)
    return columns.one_of(options) if kind == "choice" else _READERS[kind]
