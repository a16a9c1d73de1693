"""A table for other programs as three files: rows (`.csv`), what their columns mean (`.datapackage.json`), what they come to (`.control.json`).

The description follows the Data Package standard, version 2, with a Table Schema; words and rules of the columns stand in a CSV file beside the code.
"""

import csv
import datetime as dt
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.document import document_bytes
from kit.money import sum_money

__all__ = ["TableFacts", "columns_of", "describe_tables", "group_totals", "table_files", "table_schema"]

_PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"


@dataclass(frozen=True, slots=True)
class TableFacts:
    """What the description says of a table beside its columns: short name, title, day, and its schema."""

    name: str
    title: str
    day: dt.date
    schema: Mapping[str, Any]


def table_files(stem: str, facts: TableFacts, content: bytes, control: Mapping[str, Any]) -> dict[str, bytes]:
    """Name and content of the three files."""
    return {
        f"{stem}.csv": content,
        f"{stem}.datapackage.json": document_bytes(_package(facts.name, facts.title, facts.day, [_resource("rows", f"{stem}.csv", content, facts.schema)])),
        f"{stem}.control.json": document_bytes({**control, "file_sha256": hashlib.sha256(content).hexdigest()}),
    }


def describe_tables(name: str, title: str, day: dt.date, schemas: Mapping[str, Mapping[str, Any]], files: Mapping[str, bytes]) -> bytes:
    """The description of several tables of one folder, `NAME.csv` each."""
    resources = [_resource(table, f"{table}.csv", files[f"{table}.csv"], schema) for table, schema in schemas.items()]
    return document_bytes(_package(name, title, day, resources))


def _package(name: str, title: str, day: dt.date, resources: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    return {"$schema": _PROFILE, "name": name, "title": title, "created": f"{day.isoformat()}T00:00:00Z", "resources": list(resources)}


def _resource(name: str, file: str, content: bytes, schema: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "name": name,
        "type": "table",
        "path": file,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(content),
        "hash": f"sha256:{hashlib.sha256(content).hexdigest()}",
        "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True, "header": True},
        "schema": dict(schema),
    }


def table_schema(columns_file: str, columns: Sequence[str], key: Sequence[str], *, table: str = "") -> dict[str, Any]:
    """The Table Schema of some columns; `columns_file` is the CSV file of this folder with their types, rules and words, where need be for several tables."""
    rows = _read_columns(columns_file, table)
    return {"fields": [_field(name, rows[name]) for name in columns], "primaryKey": list(key), "missingValues": [""]}


def columns_of(columns_file: str, table: str) -> tuple[str, ...]:
    """The columns of a table in the order of that file."""
    return tuple(_read_columns(columns_file, table))


def _read_columns(columns_file: str, table: str) -> dict[str, dict[str, str]]:
    with Path(__file__).with_name(columns_file).open(encoding="utf-8", newline="") as file:
        return {row["column"]: row for row in csv.DictReader(file) if row.get("table", "") == table}


def _field(name: str, column: Mapping[str, str]) -> dict[str, Any]:
    field: dict[str, Any] = {"name": name, "type": column["type"], "description": column["says"]}
    rules: dict[str, Any] = {}
    if column["required"] == "yes":
        rules["required"] = True
    if column["words"]:
        rules["enum"] = column["words"].split()
    if column["type"] == "boolean":
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if name == "revision":
        rules["minimum"] = 0
    return field | ({"constraints": rules} if rules else {})


def group_totals(pairs: Iterable[tuple[str, Decimal]]) -> dict[str, str]:
    """The sum of each group as text with two decimals, in the order of the groups' names; nothing of no group, and no group without an amount."""
    groups: dict[str, list[Decimal]] = {}
    for group, amount in pairs:
        if group and amount:
            groups.setdefault(group, []).append(amount)
    return {group: f"{sum_money(groups[group])}" for group in sorted(groups)}
