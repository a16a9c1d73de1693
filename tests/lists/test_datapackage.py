"""The description of the price lists: written from the columns as the rows declare them, and sound by the Data Package standard's own reader."""

import json
from pathlib import Path
from typing import Any

import pytest
from frictionless import Package
from list_changes import add_row, change, copy_lists

from kit import shipped
from kit.errors import KitError
from kit.lists.column_rules import columns_of
from kit.lists.columns import Column
from kit.lists.company import Company
from kit.lists.description import write_description
from kit.lists.list_files import FILES, LISTS

DESCRIPTION = json.loads((shipped("price_lists") / "datapackage.json").read_text(encoding="utf-8"))
SCHEMAS: dict[str, Any] = {resource["path"]: resource["schema"] for resource in DESCRIPTION["resources"]}
PAIRS = [(file, field, column) for file, kind in LISTS.items() for field, column in zip(SCHEMAS[file]["fields"], kind.columns, strict=True)]
IDS = [f"{file}-{column.name}" for file, _, column in PAIRS]
# A cell that each kind of field takes, and one that it does not.
SAMPLES = {"number": ("1.5", "x"), "integer": ("2", "2.5"), "date": ("2026-02-03", "2026-02-30"), "boolean": ("yes", "maybe")}
MEASURES = {"length": ("33 1/2 in", "33 1/2"), "weight": ("50 lb", "50"), "time": ("0.25 h", "0.25"), "share": ("15 %", "0.15")}


def test_the_description_is_the_one_that_the_columns_give(tmp_path: Path) -> None:
    """It is what the rows declare today, byte for byte; `write_description` writes it anew."""
    write_description(tmp_path / "datapackage.json")
    assert (tmp_path / "datapackage.json").read_bytes() == (shipped("price_lists") / "datapackage.json").read_bytes()


def test_the_reference_library_finds_the_lists_sound() -> None:
    """Descriptor, tables, keys and references between tables."""
    report = Package(str(shipped("price_lists") / "datapackage.json")).validate()
    assert report.valid, [error.message for task in report.tasks for error in task.errors]
    assert {task.name for task in report.tasks} == {file.removesuffix(".csv").replace("_", "-") for file in FILES}


def test_the_reference_library_notices_faults(tmp_path: Path) -> None:
    """The test above can fail: a price of no item and a cell of the wrong kind."""
    folder = copy_lists(tmp_path)
    assert Package(str(folder / "datapackage.json")).validate().valid
    add_row(folder, "prices.csv", "moon,Invented Yard,2026-01-01,,each,1,,,1.00,USD,")
    change(folder, "lifters.csv", "^50 lb,1,", "50 lb,some,")
    report = Package(str(folder / "datapackage.json")).validate()
    messages = " ".join(error.message for task in report.tasks for error in task.errors)
    assert '"moon" not found' in messages
    assert '"some"' in messages


def test_the_description_follows_version_2_and_says_that_all_is_made_up() -> None:
    """Profile of version 2; every file of the folder is described once."""
    assert DESCRIPTION["$schema"].endswith("/2.0/datapackage.json")
    assert "made up" in DESCRIPTION["description"]
    assert list(SCHEMAS) == list(FILES)
    assert {path.name for path in shipped("price_lists").glob("*.csv")} == set(FILES)


@pytest.mark.parametrize("file", list(LISTS))
def test_the_files_have_the_columns_in_their_order(file: str) -> None:
    """The header of each shipped list, and that the library knows its key."""
    header = (shipped("price_lists") / file).read_text(encoding="utf-8").splitlines()[0].split(",")
    assert header == [column.name for column in LISTS[file].columns]
    assert SCHEMAS[file]["primaryKey"]


@pytest.mark.parametrize(("file", "field", "column"), PAIRS, ids=IDS)
def test_the_description_reads_cells_as_the_kit_does(file: str, field: dict[str, Any], column: Column) -> None:
    """The same words are known, the same kinds of cell are taken and refused; an attribute says the unit that its cell states."""
    rules = field.get("constraints", {})
    assert field["description"] == field["description"].strip() != ""
    taken, refused = MEASURES[field["measure"]] if "measure" in field else SAMPLES.get(field["type"], (None, None))
    if "enum" in rules:
        taken, refused = rules["enum"][0], "moon"
    if taken is not None and refused is not None:
        column.read_cell(taken)
        with pytest.raises((ValueError, KitError), match=refused):
            column.read_cell(refused)
    unit = {"length": "_in", "limit": "_in", "weight": "_lb", "time": "_h"}.get(column.kind, "")
    assert column.attribute.removesuffix(unit) == column.name


def test_the_company_file_is_described() -> None:
    """Every key of the company file, in its order."""
    field = SCHEMAS["company.csv"]["fields"][0]
    assert field["constraints"]["enum"] == [column.name for column in columns_of(Company)]
    assert {"least_load", "wait_on_site"} <= set(field["constraints"]["enum"])


def test_every_reference_is_described() -> None:
    """Where the kit refuses an unknown item, the description has a reference to the items."""
    described = {
        (resource["path"], key["fields"][0])
        for resource in DESCRIPTION["resources"]
        for key in resource["schema"].get("foreignKeys", ())
        if key["reference"]["resource"] == "items"
    }
    columns = {("counters.csv", column.name) for column in LISTS["counters.csv"].columns if column.name.endswith("_item")}
    assert described == {("prices.csv", "item"), ("sinks.csv", "item"), ("transitions.csv", "join"), *columns}
    assert len(columns) == 18
