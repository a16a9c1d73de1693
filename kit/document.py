"""An estimate as one plain document, ready for JSON: the same estimate gives the same bytes.

Items carry their record's field names. Money is a string with two decimals (a unit price keeps more where it has
them), a length in a field of its own is a string with its unit, hours and ratios are numbers; a number in a named unit
stands beside its `unit`.
"""

import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any

from kit.estimating import Estimate
from kit.job import Job, job_document
from kit.labor.calendar import to_minute
from kit.lists import Lists
from kit.money import PRICE_PLACES, round_cents, to_decimal
from kit.pricing.build_up import row_kinds
from kit.records import BuildUp, Level
from kit.units import format_exact_length

__all__ = [
    "document_bytes",
    "estimate_document",
    "findings_document",
    "fingerprint_of",
    "instant_text",
    "lists_document",
    "money_text",
    "plain",
    "plain_fields",
]

FLOAT_PLACES = 6
_AS_THEY_ARE = {str, int, bool, type(None)}


def estimate_document(estimate: Estimate) -> dict[str, Any]:
    """The whole estimate.

    Returns
    -------
    `job` (as a job file says it, assumptions filled in), `mount`, `buildable`, `price`, `cost`, `margin`, `hours`, then
    the lists `findings` (worst first), `lines`, `purchases`, `tasks`, `build_up`, `assumptions` and `lists` (file, fingerprint, date);
    where job and files don't say it all, `changed_in_memory` does.
    """
    kinds = row_kinds(estimate.build_up, estimate.terms)
    return {
        "job": plain_job(estimate.job),
        "mount": estimate.job.sink.mount,
        "buildable": estimate.buildable,
        "price": money_text(estimate.price),
        "cost": money_text(estimate.cost),
        "margin": float(estimate.margin),
        "hours": estimate.hours,
        "findings": plain(estimate.findings),
        "lines": plain(estimate.lines),
        "purchases": plain(estimate.purchases),
        "tasks": plain(estimate.tasks),
        "build_up": [_plain_row(row, kinds[row.id]) for row in estimate.build_up],
        "assumptions": plain(estimate.assumptions),
        "lists": lists_document(estimate.lists),
        **({"changed_in_memory": list(changed)} if (changed := estimate.changed_in_memory) else {}),
    }


def findings_document(estimate: Estimate) -> dict[str, Any]:
    """What was checked, without the money: the keys of `estimate_document` that a check fills."""
    whole = estimate_document(estimate)
    return {key: whole[key] for key in ("job", "mount", "buildable", "findings", "assumptions", "lists")}


def lists_document(lists: Lists) -> list[dict[str, Any]]:
    """Every list that was used: folder, file, fingerprint of its content, date of the prices."""
    return [
        {"folder": lists.folder_words, "name": file.name, "sha256": lists.fingerprint(file), "price_date": lists.company.price_date} for file in lists.files
    ]


def document_bytes(document: Mapping[str, Any]) -> bytes:
    """The document as JSON in UTF-8, indented, with a line end."""
    return (json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


def fingerprint_of(document: Mapping[str, Any]) -> str:
    """SHA-256 of the document as JSON without a blank or a line end: ten times as fast to write as with them."""
    return hashlib.sha256(json.dumps(document, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode()).hexdigest()


def money_text(amount: Decimal) -> str:
    """An amount to the cent, such as 1234.50."""
    return f"{round_cents(amount)}"


def _price_text(price: Decimal) -> str:
    """A unit price with two decimals, or up to four where a list gives them: 0.0425."""
    exact = to_decimal(price, PRICE_PLACES)
    return money_text(exact) if exact == round_cents(exact) else f"{exact}"


def instant_text(when: dt.datetime | None) -> str | None:
    """An instant to the minute, as 2026-03-31T08:00; None where there is none."""
    return None if when is None else to_minute(when).isoformat(timespec="minutes")


def plain_fields(record: object, *names: str) -> dict[str, Any]:
    """Some fields or properties of a record as `plain` says them."""
    return {name: plain(getattr(record, name), name) for name in names}


def plain_job(job: Job) -> Any:
    """The job as its file would say it, dates as text."""
    return plain(job_document(job))


@cache
def _names_of(kind: type) -> tuple[str, ...] | None:
    """The fields of a kind of record; None of anything else."""
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else None


def plain(value: Any, name: str = "") -> Any:  # noqa: PLR0911 - one line for each kind of value
    """A record, or anything in one, as what JSON knows; `name` is the field it stands in."""
    if type(value) in _AS_THEY_ARE:  # most are
        return value
    if (names := _names_of(value.__class__)) is not None:
        return plain_fields(value, *names)
    match value:
        case Level():
            return value.word
        case Enum():
            return str(value.value)
        case Decimal():
            return _price_text(value) if name == "unit_price" else money_text(value)
        case float():
            rounded = round(value, FLOAT_PLACES) + 0.0  # no minus zero
            return format_exact_length(rounded) if name.endswith("_in") else rounded
        case dt.datetime():
            return instant_text(value)
        case dt.date():
            return value.isoformat()
        case Mapping():
            return {str(key): plain(inner, str(key)) for key, inner in value.items()}
        case str():
            return value
        case Sequence():
            return [plain(inner, name) for inner in value]
        case _:
            return value


def _plain_row(row: BuildUp, kind: str) -> dict[str, Any]:
    return {**plain(row), "amount": money_text(row.amount) if kind == "money" else float(row.amount)}
