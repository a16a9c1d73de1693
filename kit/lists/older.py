"""Lists as they were written before rows had names and counters traits: promises keep them for ever, so their columns are brought up to today's.

`usual_counters.csv` holds the traits of usual materials, from some thickness on; they stand in too for an old counter of what is no longer listed.
`usual_books.csv` holds the accounts that books.csv has got since there are postings.
A list that has today's columns stays as it is, byte for byte.
"""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources

from kit.errors import UnitError
from kit.lists.list_files import LISTS
from kit.lists.work_rows import LEADS, STEPS
from kit.shipped_files import shipped
from kit.units import parse_quantity

__all__ = ["bring_up_to_date", "promised_texts", "usual_counters"]

_RENAMED: dict[str, dict[str, str]] = {
    **{file: {"label": "name"} for file in ("steps.csv", "site_risks.csv", "burden.csv", "unit_prices.csv", "draws.csv")},
    "counters.csv": {"round_up": "round_up_sqft"},
    "lead_times.csv": {"low": "low_days", "likely": "likely_days", "high": "high_days"},
}
# nobody said then where a faucet stands: as before, in the holes that the job lists; only usual tile lay on a backer
_TAKEN = {"sinks.csv": {"ledge_holes": "0"}, "counters.csv": {"removed_with_backer": "no"}}
# a shop's minimum is for the job, in prices.csv: no longer one for each piece
_GONE = {"counters.csv": {"least_area", "least_area_sqft"}}
# British spellings and other names of earlier lists; a cell that is the whole word
_RESPELLED = {"labour": "labor", "licences": "licenses", "tax-code-paid": "taxed", "tax-code-none": "not-taxed"}
_OLD_SPELLING = re.compile(rf"(?m)(?<![^,\n])(?:{'|'.join(_RESPELLED)})(?![^,\r\n])")
_WHOLE = ("steps.csv", "lead_times.csv", "rates.csv")
_WITHOUT_NAME = ("sinks.csv", "counters.csv", "rates.csv", "factors.csv", "lead_times.csv", "state_presets.csv")


def bring_up_to_date(file: str, text: str) -> str:
    """The text of a list with today's columns and spelling; what is no table stays as it is, and the reader of tables says why."""
    text = _OLD_SPELLING.sub(lambda cell: _RESPELLED[cell[0]], text)
    if file not in LISTS:
        return text
    try:
        header, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    except (csv.Error, ValueError):
        return text
    if file == "books.csv" and header == ["use", "entry", "says"] and rows and not {row["use"] for row in _usual_books()} & {row[0] for row in rows if row}:
        return "\n".join((text.rstrip(), *_usual_text("usual_books.csv").splitlines()[1:], ""))
    renamed = [_RENAMED.get(file, {}).get(name.strip(), name.strip()) for name in header]
    added = _added_columns(file, renamed)
    known = [column.name for column in LISTS[file].columns]
    required = {column.name for column in LISTS[file].columns if not column.may_be_absent}
    gone = _GONE.get(file, set()) & {*renamed}
    changed = renamed != header or added or gone
    if not changed or not required <= {*renamed, *added} or any(row and len(row) != len(header) for row in rows):
        return text
    columns = sorted([name for name in (*renamed, *added) if name not in gone], key=lambda name: known.index(name) if name in known else len(known))
    brought = io.StringIO(newline="")
    writer = csv.writer(brought, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        cells = dict(zip(renamed, row, strict=False))
        writer.writerow([(_usual(file, cells) | cells).get(name, "") for name in columns] if row else row)
    if file != "rates.csv":  # hours are a firm's own: only a promise that is worked out again takes the kit's
        writer.writerows(_added_rows(file, columns, {row[0] for row in rows if row}))
    return brought.getvalue()


def promised_texts(texts: Mapping[str, str]) -> dict[str, str]:
    """The lists of a promise with a row for each step, wait and rate that there is today; those that it has stay as they are.

    What a job of that day does not do has no amount, so a row that came since moves nothing of it.
    """
    return {file: _with_rows(file, bring_up_to_date(file, text)) for file, text in texts.items()}


def _with_rows(file: str, text: str) -> str:
    if file not in _WHOLE:
        return text
    try:
        header, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    except (csv.Error, ValueError):
        return text
    added = io.StringIO(newline="")
    csv.writer(added, lineterminator="\n").writerows(_added_rows(file, header, {row[0] for row in rows if row}))
    return f"{text.rstrip()}\n{added.getvalue()}" if added.getvalue() else text


def _added_rows(file: str, columns: Sequence[str], keys: set[str]) -> list[list[str]]:
    """Steps, waits and rates of today that the file has no row for: the work of every job may ask for them, so the kit's own rows stand in."""
    if file not in _WHOLE:
        return []
    missing = ({*_today(file)} if file == "rates.csv" else {*STEPS, *LEADS}) - keys
    return [[row.get(name, "") for name in columns] for key, row in _today(file).items() if key in missing]


@cache
def _today(file: str) -> dict[str, dict[str, str]]:
    """The kit's own rows of a list by their key; only of those that every list has whole."""
    if file not in _WHOLE:
        return {}
    rows = csv.DictReader(io.StringIO((shipped("price_lists") / file).read_text(encoding="utf-8")))
    return {row[LISTS[file].keys[0].name]: row for row in rows}


def _added_columns(file: str, header: Sequence[str]) -> list[str]:
    """The columns that the file has got since, where it has none of them."""
    traits = [name for name in usual_counters()[0] if name not in {"material", "thickness_from"}] if file == "counters.csv" else []
    added = [*(["name"] if file in _WITHOUT_NAME else []), *(["tools"] if file == "steps.csv" else []), *traits]
    later = [name for name in _TAKEN.get(file, {}) if name not in header]
    return later if set(added) & set(header) else [*dict.fromkeys((*added, *later))]


def _usual(file: str, cells: Mapping[str, str]) -> dict[str, str]:
    """The cells that a row has got since: its id in plain words, and what the code took for a counter of its material and thickness."""
    key = cells[LISTS[file].keys[0].name]
    usual = {"name": key.replace("-", " "), "tools": _today(file).get(key, {}).get("tools", "by the work")} | _TAKEN.get(file, {})
    if file != "counters.csv":
        return usual
    try:
        thickness_in = parse_quantity(cells["thickness"], "length")
    except UnitError:  # the reader of the list says so
        return usual
    alike = [trait for trait in usual_counters() if trait["material"] == cells["material"]]
    fitting = [trait for trait in alike if parse_quantity(trait["thickness_from"], "length") <= thickness_in]
    return usual | (fitting[-1] if fitting else {})


@cache
def usual_counters() -> tuple[dict[str, str], ...]:
    """Traits of usual materials, as cells of counters.csv."""
    return tuple(csv.DictReader(io.StringIO(_usual_text("usual_counters.csv"))))


@cache
def _usual_books() -> tuple[dict[str, str], ...]:
    return tuple(csv.DictReader(io.StringIO(_usual_text("usual_books.csv"))))


def _usual_text(file: str) -> str:
    return (resources.files("kit.lists") / file).read_text(encoding="utf-8")
