"""Who says so: every published or judged number of the kit with unit, kind and source.

One CSV file a subject lies beside this module; a new file is found by its name. Columns:

- `name`: stable, parts divided by `/` (`2x4/width`), unlike any other of its table.
- `title`: what a person calls it ("2x4: actual width"), unlike any other of the kit.
- `value`: a number in `unit`.
- `unit`: `in`, `lb/cu ft`, `psi`; `1` for a plain ratio.
- `kind`: `defined` (by definition), `measured` (on parts that lay to hand, or by a maker), `published`, `general web` (on a page
  that nobody vouches for), `derived` (worked out from other rows or a printed rule), `judged` (our decision; the note gives the
  reason) or `from memory`.
- `key`: whoever says so, as it was read: a row from memory has a key from memory, even where it names a book.
- `locator`: page, table or section.
- `note`: what a reader must know; for a judged row, why this value.
"""

import csv
import difflib
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Literal, cast, get_args

from kit.errors import Fault, KitError, ListError

__all__ = [
    "COLUMNS",
    "Kind",
    "Row",
    "Source",
    "SourceError",
    "Status",
    "list_tables",
    "read_rows",
    "row",
    "rows_under",
    "source",
    "source_title",
    "sources",
    "table",
    "value",
]

COLUMNS = ("name", "title", "value", "unit", "kind", "key", "locator", "note")

Kind = Literal["defined", "measured", "published", "general web", "derived", "judged", "from memory"]
Status = Literal["published", "general web", "common practice", "from memory", "own"]


class SourceError(KitError, LookupError):
    """A table, row or source that does not exist: no number is invented in its place."""


@dataclass(frozen=True, slots=True)
class Row:
    """One number of a table; the fields are the columns of the file."""

    table: str
    name: str
    title: str
    value: float
    unit: str
    kind: Kind
    key: str
    locator: str
    note: str


@dataclass(frozen=True, slots=True)
class Source:
    """One source.

    Parameters
    ----------
    key
        Author and year, or a plain name (`common-practice`, `job`).
    title, author, edition, year
        What it is; year 0 when it has none.
    where
        Publisher or address, and how it was read if not in the original.
    status
        `published`; `general web` (a page that nobody vouches for); `common practice` (no source);
        `from memory`; `own` (the job's own measure, an allowance, demo data).
    """

    key: str
    title: str
    author: str
    edition: str
    year: int
    where: str
    status: Status


def value(table_name: str, name: str) -> float:
    """Give the number of a row, in the row's unit.

    Parameters
    ----------
    table_name
        File name without `.csv`.
    name
        Name of the row.

    Raises
    ------
    SourceError
        No such table or row.

    Examples
    --------
    >>> value("lumber", "2x4/width")
    3.5
    """
    return row(table_name, name).value


@cache
def row(table_name: str, name: str) -> Row:
    """Give a whole row: value, unit, kind, key, locator and note. Raises SourceError if there is no such table or row."""
    rows = table(table_name)
    try:
        return rows[name]
    except KeyError:
        raise SourceError(f'kit/sources/{table_name}.csv has no row "{name}".{_hint(name, rows)}') from None


@cache
def rows_under(table_name: str, stem: str) -> Mapping[str, Row]:
    """Give the rows of a table whose names start with `stem` and a slash, by the rest of their names, in the order of the file; errors as in `table`."""
    start = f"{stem}/"
    return MappingProxyType({name.removeprefix(start): row for name, row in table(table_name).items() if name.startswith(start)})


@cache
def table(name: str) -> Mapping[str, Row]:
    """Give all rows of a table by name, read once.

    Raises SourceError if there is no such table, ListError if it has faults: columns, doubled names, values that are no numbers, kinds that are not known.
    """
    if name not in list_tables():
        raise SourceError(f'kit/sources holds no table "{name}".{_hint(name, list_tables())}')
    return MappingProxyType(read_rows(name))


@cache
def list_tables() -> tuple[str, ...]:
    """Names of all tables, sorted."""
    return tuple(sorted(entry.name.removesuffix(".csv") for entry in resources.files(__name__).iterdir() if entry.name.endswith(".csv")))


def source(key: str) -> Source:
    """Give the source of a key.

    Raises
    ------
    SourceError
        No such key.

    Examples
    --------
    >>> source("common-practice").status
    'common practice'
    """
    known = sources()
    try:
        return known[key]
    except KeyError:
        raise SourceError(f'kit/sources/sources.toml has no source "{key}".{_hint(key, known)}') from None


def source_title(key: str) -> str:
    """The title of a source for a person; an own key of a firm's list in plain words."""
    known = sources().get(key)
    return key.replace("-", " ") if known is None else known.title


@cache
def sources() -> Mapping[str, Source]:
    """Give all sources by key, read once."""
    entries = tomllib.loads(_read_text("sources.toml"))
    return MappingProxyType({key: _build_source(key, entry) for key, entry in entries.items()})


def _build_source(key: str, entry: dict[str, str | int]) -> Source:
    unknown = set(entry) - {"title", "author", "edition", "year", "where", "status"}
    if unknown or not entry.get("title") or entry.get("status") not in get_args(Status):
        raise ListError(
            Fault(key, f"needs title and status ({', '.join(get_args(Status))}) and no {', '.join(sorted(unknown)) or 'other field'}.", "sources.toml")
        )
    texts = {field: str(entry.get(field, "")) for field in ("title", "author", "edition", "where")}
    return Source(key=key, year=int(entry.get("year", 0)), status=cast("Status", entry["status"]), **texts)


def read_rows(name: str) -> dict[str, Row]:
    """Rows of one file; all its faults in one report."""
    file = f"{name}.csv"
    reader = csv.DictReader(_read_text(file).splitlines(), strict=True)
    if tuple(reader.fieldnames or ()) != COLUMNS:
        raise ListError(Fault("row 1", f"has the columns {', '.join(reader.fieldnames or ())}; use {', '.join(COLUMNS)}.", file))
    rows: dict[str, Row] = {}
    faults: list[Fault] = []
    for cells in reader:
        try:
            row = _build_row(name, cells)
            if row.name in rows:
                faults.append(Fault(f"row {reader.line_num}", f"{row.name} is there twice.", file))
            rows[row.name] = row
        except ValueError as error:
            faults.append(Fault(f"row {reader.line_num}", str(error), file))
    if faults:
        raise ListError(faults)
    return rows


def _build_row(table_name: str, cells: dict[str, str]) -> Row:
    if None in cells or None in cells.values():
        raise ValueError(f"{cells['name']} has more or fewer cells than columns.")
    number = float(cells["value"])
    if not math.isfinite(number):
        raise ValueError(f"{cells['name']}: {cells['value']} is not a number.")
    if cells["kind"] not in get_args(Kind):
        raise ValueError(f"{cells['name']}: kind is {cells['kind']}; use one of {', '.join(get_args(Kind))}.")
    lacking = [column for column in ("name", "title", "unit", "key") if not cells[column].strip()]
    if lacking:
        raise ValueError(f"{cells['name']}: {' and '.join(lacking)} missing.")
    texts = {column: cells[column] for column in ("name", "title", "unit", "key", "locator", "note")}
    return Row(table_name, value=number, kind=cast("Kind", cells["kind"]), **texts)


def _read_text(file: str) -> str:
    return (resources.files(__name__) / file).read_text(encoding="utf-8")


def _hint(name: str, known: Mapping[str, object] | tuple[str, ...]) -> str:
    close = difflib.get_close_matches(name, list(known), n=3)
    return f" Close to it: {', '.join(close)}." if close else ""
