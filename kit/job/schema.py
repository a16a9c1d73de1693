"""The job file described for editors: JSON Schema, made from the rules of the fields."""

import json
from pathlib import Path
from typing import Any

from pydantic.fields import FieldInfo

from kit.job.fields import UNKNOWN, Record, Rule
from kit.job.file import record_in
from kit.job.job import Job

__all__ = ["job_schema", "write_schema"]

_SAMPLES = {"length": "33 1/2 in", "weight": "118 lb", "time": "8 h", "distance": "60 ft", "share": "15 %", "money": "250.00 USD"}


def job_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a job file; `read_job` stays the judge of measures and of parts that contradict themselves."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Job file of sinkset", **_record(Job)}


def _record(record: type[Record]) -> dict[str, Any]:
    fields = {record.key(name): _field(field, record.rules.get(name)) for name, field in record.model_fields.items()}
    return {
        "type": "object",
        "description": (record.__doc__ or "").split("\n\n")[0].replace("\n    ", " "),
        "properties": fields,
        "required": [record.key(name) for name, field in record.model_fields.items() if field.is_required()],
        "additionalProperties": False,
    }


def _field(field: FieldInfo, rule: Rule | None) -> dict[str, Any]:
    if rule is not None:
        return _value(rule)
    inner = record_in(field.annotation)
    assert inner is not None  # noqa: S101 - a field without a rule holds records
    if "tuple" not in str(field.annotation):
        return _record(inner)
    limits = {
        key: limit
        for part in field.metadata
        for key, limit in (("minItems", getattr(part, "min_length", None)), ("maxItems", getattr(part, "max_length", None)))
        if limit is not None
    }
    return {"type": "array", "items": _record(inner), **limits}


def _value(rule: Rule) -> dict[str, Any]:
    shape = _shape(rule)
    if rule.may_be_unknown and shape.get("type") != "string":
        shape = {"anyOf": [shape, {"const": UNKNOWN}]}
    description = rule.help + (f"; {rule.range_text}" if rule.range_text else "")
    if rule.assume is not None:
        description += f'. Left out or "{UNKNOWN}": {rule.assume} ({rule.why})'
    return {"description": description, **shape}


def _shape(rule: Rule) -> dict[str, Any]:
    match rule.kind:
        case "count":
            return {"type": "integer", "minimum": rule.low, "maximum": rule.high}
        case "choice":
            return {"enum": list(rule.options)}
        case "flag":
            return {"type": "boolean"}
        case "day":
            return {"type": "string", "format": "date"}
        case "text":
            return {"type": "string", "minLength": 1} | ({"examples": list(rule.common)} if rule.common else {})
        case _:
            return {"type": "string", "examples": [_SAMPLES[rule.kind]]}


def write_schema(path: Path) -> None:
    """Write the schema, as it is shipped beside the examples."""
    path.write_text(json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n", encoding="utf-8", newline="\n")
