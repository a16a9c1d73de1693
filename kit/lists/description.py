"""`datapackage.json`: the lists described for other programs, by version 2 of the Data Package standard, from the columns as the rows declare them."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from kit.lists.column_rules import columns_of
from kit.lists.columns import CURRENCY, Column
from kit.lists.company import COMPANY_COLUMNS, COMPANY_FILE, Company
from kit.lists.list_files import LISTS

__all__ = ["DESCRIPTION", "describe_lists", "write_description"]

DESCRIPTION = "datapackage.json"
_TYPES = {"number": "number", "amount": "number", "count": "integer", "day": "date", "flag": "boolean"}
_TYPED = {
    "length": ', with its unit, such as "33 1/2 in" or "850 mm"',
    "limit": ', with its unit, such as "24 in"; none where there is no such limit, empty where nobody knows it',
    "weight": ', such as "118 lb" or "54 kg"',
    "time": ', such as "0.25 h" or "15 min"',
    "share": ', such as "15 %"',
}


def write_description(path: Path) -> None:
    """Write the description of the lists."""
    path.write_text(json.dumps(describe_lists(), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def describe_lists() -> dict[str, Any]:
    """The description as plain data."""
    tables = [_table(kind.file, kind.title, kind.columns) for kind in LISTS.values()]
    return {
        "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
        "name": "sinkset-price-lists",
        "title": "Price lists of the demonstration",
        "description": "Everything in this folder is made up for the demonstration: company, region, suppliers, prices, rates. Date of the prices, region "
        "and currency are in company.csv and prices.csv. Put in your own figures before you price a real job. A field's `measure` says that its text is "
        "a measure with a unit.",
        "version": "1.0.0",
        "created": "2026-01-01T00:00:00Z",
        "licenses": [{"name": "BSD-3-Clause", "title": "BSD 3-Clause License"}],
        "resources": [*tables, _table(COMPANY_FILE, "The company: wage, burden, overhead, profit, tax, terms", _company_columns())],
    }


def _company_columns() -> tuple[Column, ...]:
    keys = tuple(column.name for column in columns_of(Company))
    facts: dict[str, Any] = {"key": {"kind": "choice", "options": keys, "is_key": True}, "note": {"may_be_empty": True}}
    return tuple(Column(name, str, help=says, **facts.get(name, {})) for name, says in COMPANY_COLUMNS.items())


def _table(file: str, title: str, columns: Sequence[Column]) -> dict[str, Any]:
    schema: dict[str, Any] = {
        "fields": [_field(column) for column in columns],
        "primaryKey": [column.name for column in columns if column.is_key],
    }
    # a reference from several words in one cell has no form in the standard
    references = [_reference(column) for column in columns if column.refers and column.kind != "words"]
    if references:
        schema["foreignKeys"] = references
    name = file.removesuffix(".csv").replace("_", "-")
    return {"name": name, "type": "table", "title": title, "path": file, "format": "csv", "mediatype": "text/csv", "encoding": "utf-8", "schema": schema}


def _reference(column: Column) -> dict[str, Any]:
    (key,) = LISTS[column.refers].keys
    return {"fields": [column.name], "reference": {"resource": column.refers.removesuffix(".csv").replace("_", "-"), "fields": [key.name]}}


def _field(column: Column) -> dict[str, Any]:
    field: dict[str, Any] = {"name": column.name, "type": _TYPES.get(column.kind, "string"), "description": _says(column)}
    if column.kind == "flag":
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    if column.kind in _TYPED:
        field["measure"] = "length" if column.kind == "limit" else column.kind
    rules = _rules(column)
    return field | {"constraints": rules} if rules else field


def _says(column: Column) -> str:
    text = column.help + _TYPED.get(column.kind, "")
    if column.kind == "words":
        text += f": {', '.join(column.options)}; with blanks between" if column.options else ", with blanks between"
    return text if not column.may_be_empty or "empty" in text else f"{text}; empty where it does not apply"


def _rules(column: Column) -> dict[str, Any]:
    rules: dict[str, Any] = {}
    if not column.may_be_empty:
        rules["required"] = True
    if column.kind in {"number", "amount", "count"}:
        rules["minimum"] = column.low or 0
    if column.kind == "share":
        rules["pattern"] = "[0-9.]+ ?%"
    if column.kind == "choice":
        rules["enum"] = list(column.options)
    return rules | {"enum": [CURRENCY]} if column.kind == "currency" else rules
