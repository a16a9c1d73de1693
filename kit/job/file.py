"""Job files: TOML in, TOML out, every fault in one report."""

import datetime as dt
import difflib
import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from kit.errors import Fault, JobError
from kit.incoming import MOST_JOB_BYTES, MOST_KEY_DOTS, read_file
from kit.job.fields import Record, Rule, read_feet
from kit.job.job import Job
from kit.job.older_keys import with_todays_keys
from kit.money import format_money
from kit.units import format_exact, format_feet
from kit.whole_files import replace_file

__all__ = ["change_field", "change_job", "format_value", "job_document", "job_text", "parse_job", "read_job", "record_at", "record_in", "write_job"]

_AT_LINE = re.compile(r"at line (\d+)")
_LONGEST_LINE = 60  # letters of a line that can't be read
_HOW_WRITTEN = 'Words and measures stand in quotes, such as width = "36 in"; a heading stands in brackets, such as [sink].'
_LONG_KEY = re.compile(rb"""["'\w-](?:[ \t]*\.[ \t]*["'\w-]+){%d}""" % MOST_KEY_DOTS)


def read_job(path: str | Path) -> Job:
    """The job in a TOML file.

    Parameters
    ----------
    path
        The job file.

    Raises
    ------
    JobError
        With every fault of the file: unreadable, not UTF-8, not TOML, or fields that break their rules.

    Examples
    --------
    >>> import kit
    >>> kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml").cabinet.width_in
    36.0
    """
    path = Path(path)
    data = read_file(path, MOST_JOB_BYTES, JobError)
    if _LONG_KEY.search(data):  # each dot opens a table in a table, and reading one takes ever longer
        raise JobError(Fault("", f"has a key with more than {MOST_KEY_DOTS - 1} dots. Start from one of the examples.", path.name))
    try:
        document = tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise JobError(Fault(f"byte {error.start + 1}", "is not UTF-8. Save the file as UTF-8.", path.name)) from None
    except tomllib.TOMLDecodeError as error:
        raise JobError(Fault("", f"can't be read as a job file (TOML). {_unreadable_line(data.decode('utf-8-sig'), str(error))}", path.name)) from None
    except ValueError:  # what Python says of a number without end
        raise JobError(Fault("", "has a number with too many digits.", path.name)) from None
    except RecursionError:
        raise JobError(Fault("", "has lists or tables nested too deeply. Start from one of the examples.", path.name)) from None
    if not document:
        raise JobError(Fault("", "is empty. Start from one of the examples.", path.name))
    return parse_job(document, path.name)


def _unreadable_line(text: str, error: str) -> str:
    """Where the reader stopped, with the line as it was typed, and how a line is written."""
    place, twice = _AT_LINE.search(error), " That name is there already, higher up." if error.startswith("Cannot") else ""
    if place is None:
        return f"It ends too early: a quote or a bracket is open, or the last line is not whole.{twice} {_HOW_WRITTEN}"
    line = text.split("\n")[int(place[1]) - 1].strip()
    shown = line if len(line) <= _LONGEST_LINE else f"{line[:_LONGEST_LINE]} ..."
    said = f', "{shown}"' if line and line.isprintable() else ""
    return f"It stops at line {place[1]}{said}.{twice} {_HOW_WRITTEN}"


def parse_job(document: Mapping[str, Any], file: str = "") -> Job:
    """The job in a document as `tomllib` reads it. Raises JobError with every fault, each with its field, what was given and what is wanted."""
    try:
        return Job.model_validate(document)
    except ValidationError as error:
        raise JobError(_fault(detail, file) for detail in error.errors(include_url=False) if not _follows(detail)) from None


def _follows(detail: Any) -> bool:
    """Whether a list only seems short because a part of it has a fault, which is told by itself."""
    return detail["type"] == "too_short" and len(detail["input"]) >= int(detail["ctx"]["min_length"])


def _place(location: tuple[int | str, ...]) -> str:
    text = ""
    for part in location:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def _fault(detail: Any, file: str) -> Fault:
    location: tuple[int | str, ...] = detail["loc"]
    place, kind = _place(location), detail["type"]
    if kind == "missing":
        rule = _rule_at(location)
        return Fault(place, f"is missing. Needed: {rule.help}." if rule else "is missing: the job needs this part.", file)
    if kind == "extra_forbidden":
        known = _keys_at(location[:-1])
        near = difflib.get_close_matches(str(location[-1]), known, 1)
        hint = f' Did you mean "{near[0]}"?' if near else f" Known here: {', '.join(known)}."
        return Fault(place, f"is not a known key.{hint}", file)
    if kind in {"model_type", "model_attributes_type"}:
        return Fault(place, f'"{detail["input"]}" is not a table with fields.', file)
    if kind == "tuple_type":
        return Fault(place, f'"{detail["input"]}" is not a list.', file)
    if kind == "too_short":
        return Fault(place, f"is too short a list. Give at least {detail['ctx']['min_length']}.", file)
    if kind == "too_long":
        return Fault(place, f"has {detail['ctx']['actual_length']} entries. Give at most {detail['ctx']['max_length']}.", file)
    return Fault(place, str(detail["msg"]).removeprefix("Value error, "), file)


def record_at(location: tuple[int | str, ...]) -> type[Record] | None:
    """The kind of record at a place of the job, such as ("cabinet", "left"); None where there is none."""
    record: type[Record] = Job
    for part in location:
        if isinstance(part, int):
            continue
        field = next((field for name, field in record.model_fields.items() if record.key(name) == part), None)
        inner = record_in(field.annotation) if field else None
        if inner is None:
            return None
        record = inner
    return record


def record_in(annotation: Any) -> type[Record] | None:
    """The kind of record that a field's type holds; None where it holds a value."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    for part in getattr(annotation, "__args__", ()):
        record = record_in(part)
        if record is not None:
            return record
    return None


def _keys_at(location: tuple[int | str, ...]) -> list[str]:
    record = record_at(location)
    return [record.key(name) for name in record.model_fields] if record else []


def _rule_at(location: tuple[int | str, ...]) -> Rule | None:
    record = record_at(location[:-1])
    if record is None:
        return None
    return next((rule for name, rule in record.rules.items() if record.key(name) == location[-1]), None)


def format_value(rule: Rule, value: Any) -> Any:
    """A value as it stands in a job file: measures as text with their unit, the rest as TOML's own kinds."""
    match rule.kind:
        case "length" | "weight" | "time" | "share":
            return format_exact(value, rule.kind)
        case "distance":
            return format_feet(value, read_feet)
        case "money":
            return format_money(Decimal(value))
        case _:
            return value


def job_document(record: Record) -> dict[str, Any]:
    """The job, or a part of it, as a document that `parse_job` reads back to the same job; fields that are unknown or to measure are left out."""
    document: dict[str, Any] = {}
    for name in type(record).model_fields:
        value, rule, key = getattr(record, name), type(record).rules.get(name), record.key(name)
        if value is None:
            continue
        if isinstance(value, Record):
            document[key] = job_document(value)
        elif isinstance(value, tuple):
            document[key] = [job_document(part) for part in value]
        else:
            document[key] = format_value(rule, value) if rule else value
    for place in record.open_places if isinstance(record, Job) else ():
        _put(document, place, None)
    return document


def change_job(job: Job, changes: Mapping[str, Any]) -> Job:
    """The job with some fields changed, as typed, through the full validation of the whole record.

    Parameters
    ----------
    job
        The job; it stays as it is.
    changes
        Places such as "cabinet.width" or "counter.runs[1].length", and for each what was typed ("33 in") or a pint quantity; None takes a field out.

    Raises
    ------
    JobError
        With every fault that the change brings.

    Examples
    --------
    >>> import kit
    >>> from pint import Quantity
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> kit.change_job(job, {"cabinet.width": Quantity(33, "in")}).cabinet.width_in
    33.0
    """
    document = job_document(job)
    for place, typed in changes.items():
        _put(document, place, typed)
    return parse_job(document)


def _put(document: dict[str, Any], place: str, typed: Any) -> None:
    *way, last = place.replace("]", "").replace("[", ".").split(".")
    target: Any = document
    try:
        for part in way:
            target = target[_index(part)] if isinstance(target, list) else target.setdefault(part, {})
        if isinstance(target, list):
            target[_index(last)] = typed
        elif typed is None:
            target.pop(last, None)
        else:
            target[last] = typed
    except (AttributeError, IndexError, TypeError, ValueError):
        raise JobError(Fault(place, "is not a place in this job.")) from None


def _index(part: str) -> int:
    number = int(part)
    if number < 1:
        raise IndexError(part)
    return number - 1


def write_job(job: Job, path: str | Path) -> None:
    """Save the job as TOML; of a file that is already there everything stays as it was typed, comments and blanks too, but for the fields that have changed.

    The file is written beside its place first, so that a failure leaves the old one whole.

    Parameters
    ----------
    job
        The job.
    path
        The job file to write.

    Raises
    ------
    JobError
        If what is there is no TOML file: it is not ours to write over.
    OSError
        If the file can't be written.

    Examples
    --------
    >>> import kit, tempfile
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     kit.write_job(job, f"{folder}/copy.toml")
    ...     kit.read_job(f"{folder}/copy.toml") == job
    True
    """
    import tomlkit

    path = Path(path)
    try:
        document = tomlkit.parse(path.read_text(encoding="utf-8-sig")) if path.exists() else tomlkit.document()
    except ValueError:
        raise JobError(Fault("", "is there already and is not a job file. Choose another name.", path.name)) from None
    _merge(document, job_document(job), _read_before(document.unwrap()), tomlkit)
    replace_file(path, tomlkit.dumps(document).encode())


def job_text(job: Job) -> str:
    """The text of a new file of the job."""
    import tomlkit

    document = tomlkit.document()
    _merge(document, job_document(job), {}, tomlkit)
    return tomlkit.dumps(document)


def change_field(path: Path, key: str, typed: str | None) -> None:
    """Change one field of a job file that stands in no table, such as `prices`, or take it out (None); everything else stays as it was typed.

    Raises JobError with every fault of the file, or of the file with the change. Raises OSError if it can't be written.
    """
    import tomlkit

    read_job(path)
    document = tomlkit.parse(path.read_text(encoding="utf-8-sig"))
    if typed is None:
        document.pop(key, None)
    else:
        document[key] = typed
    parse_job(document.unwrap(), path.name)
    replace_file(path, tomlkit.dumps(document).encode())


def _read_before(typed: dict[str, Any]) -> dict[str, Any]:
    """The document of the job that a file holds by now; empty where it is none, or has keys of older versions, which go."""
    try:
        return job_document(parse_job(typed)) if with_todays_keys(typed) == typed else {}
    except JobError:
        return {}


def _merge(target: Any, values: Mapping[str, Any], before: Mapping[str, Any], tomlkit: Any) -> None:
    """Write into `target`, which reads as `before`, what is another value; a field that reads the same keeps its spelling, or stays left out."""
    for key in [key for key in target if key not in values and (key in before or not before)]:
        del target[key]
    for key, value in values.items():
        old = before.get(key)
        if value == old:
            continue
        there = target.get(key)
        if isinstance(value, dict) and isinstance(there, dict):
            _merge(there, value, old or {}, tomlkit)
        elif isinstance(old, list) and isinstance(there, list) and len(value) == len(old) == len(there):
            for part, new, was in zip(there, value, old, strict=True):
                _merge(part, new, was, tomlkit)
        elif there is None or _plain(there) != value:
            target[key] = _item(value, tomlkit)


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def _item(value: Any, tomlkit: Any) -> Any:
    if isinstance(value, list) and value and isinstance(value[0], dict):
        tables = tomlkit.aot()
        for part in value:
            tables.append(_item(part, tomlkit))
        return tables
    if isinstance(value, dict):
        table = tomlkit.table()
        for key, inner in value.items():
            table[key] = _item(inner, tomlkit)
        return table
    if isinstance(value, dt.date):
        return tomlkit.date(value.isoformat())
    return tomlkit.item(value)
