"""The description of job files for editors: fresh, sound, and of one mind with the reader."""

import datetime as dt
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kit import shipped
from kit.job import job_schema, parse_job

PATH = shipped("examples") / "job.schema.json"
EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


def plain(value: Any) -> Any:
    """A TOML document as an editor hands it to its validator."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def faults(document: dict[str, Any]) -> list[str]:
    return [error.message for error in Draft202012Validator(job_schema()).iter_errors(plain(document))]


def test_the_shipped_schema_is_fresh() -> None:
    """It is what the rules of the fields give today; `write_schema` writes it anew."""
    assert json.loads(PATH.read_text(encoding="utf-8")) == job_schema()
    Draft202012Validator.check_schema(job_schema())


def test_every_example_agrees_with_the_schema(example: Path) -> None:
    """And names it in its first line, where editors look."""
    text = example.read_text(encoding="utf-8")
    assert faults(tomllib.loads(text)) == []
    assert text.splitlines()[0] == f"#:schema {PATH.name}"


@pytest.mark.parametrize(
    ("part", "key", "value", "wanted"),
    [
        ("cabinet", "width", 36, "36 is not of type 'string'"),
        ("cabinet", "widht", "36 in", "'widht' was unexpected"),
        ("sink", "mount", "glued", "'glued' is not one of"),
        ("site", "floor", 99, "99 is greater than the maximum"),
        ("site", "occupied", "yes", "is not valid under any of the given schemas"),
        ("sink", "bowls", [], r"\[\] should be non-empty"),
        ("identity", "customer", "", "'' should be non-empty"),
    ],
)
def test_what_the_reader_refuses_the_schema_refuses(part: str, key: str, value: Any, wanted: str) -> None:
    """Bare numbers, unknown keys, words, ranges of counts, empty lists and texts."""
    document = tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))
    document[part][key] = value
    with pytest.raises(ValueError, match=key):
        parse_job(document)
    assert any(Draft202012Validator({"pattern": wanted}).is_valid(fault) for fault in faults(document)), faults(document)


def test_unknown_is_allowed_where_the_reader_allows_it() -> None:
    """A count, a choice and a flag that may be unknown."""
    document = tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))
    document["site"] |= {"year_built": "unknown", "occupied": "unknown", "code_family": "unknown"}
    assert faults(document) == []
    assert parse_job(document)
