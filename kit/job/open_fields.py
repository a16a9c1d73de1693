"""Which fields may a job leave open, so that it can be kept before the visit is over?

Some decide the price: there is none before they are known, and what stands in their place meanwhile only lets the rest of the job be read; it is in no file
and on no screen. The others say whose job it is: words that say so stand in their place, and nothing goes out before they are filled in.
"""

import csv
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from kit.errors import Fault
from kit.job.fields import UNKNOWN

__all__ = ["decides_price", "find_unnamed", "hold_open", "open_fields", "split_places"]

_TABLE = Path(__file__).parent / "open_fields.csv"


@cache
def open_fields() -> Mapping[str, Any]:
    """The fields by their place, in the order of the visit, each with what stands in its place as a job file would hold it."""
    return MappingProxyType({row["place"]: _typed(row["stand_in"]) for row in _rows()})


@cache
def _rows() -> tuple[dict[str, str], ...]:
    with _TABLE.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


@cache
def decides_price(place: str) -> bool:
    """Whether there is no price before this field is known; of any other, nothing goes out before."""
    return any(row["place"] == place and row["before"] == "price" for row in _rows())


def find_unnamed(places: tuple[str, ...]) -> Iterator[Fault]:
    """A fault for each place that is still open: papers, books and contracts name it."""
    for place in places:
        yield Fault(place, "is not filled in yet. Fill it in first: the papers name it.")


def _typed(text: str) -> Any:
    return text == "true" if text in {"true", "false"} else text


def split_places(text: str | None) -> tuple[str, ...]:
    """The places that the field `to_measure` names."""
    return tuple(place.strip() for place in (text or "").split(",") if place.strip())


def hold_open(document: Mapping[str, Any]) -> dict[str, Any]:
    """The document with a stand-in at each place to measure; what is in the file by now is measured and taken off that list.

    Raises ValueError at a place that must be known from the start, or is none.
    """
    filled = {key: _copied(value) for key, value in document.items()}
    left = []
    if filled["to_measure"] == UNKNOWN:  # the reader of the field says that this is no answer
        return filled
    for place in split_places(filled["to_measure"]):
        if place not in open_fields():
            raise ValueError(f'"{place}" is not a field that can be left to measure. Those that can: {", ".join(open_fields())}.')
        if _put_where_empty(filled, place, open_fields()[place]):
            left.append(place)
    filled["to_measure"] = ", ".join(left)
    if not left:
        del filled["to_measure"]
    return filled


def _copied(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(part) for part in value] if isinstance(value, (list, tuple)) else value


def _put_where_empty(document: dict[str, Any], place: str, stand_in: Any) -> bool:
    """Whether nothing stood there; a part that is no table is left to the reader of the record, who says so."""
    *way, last = place.replace("]", "").replace("[", ".").split(".")
    target: Any = document
    for step in way:
        try:
            target = target[int(step) - 1] if isinstance(target, list) else target.setdefault(step, {})
        except (AttributeError, IndexError, ValueError):
            return False
    if not isinstance(target, dict) or last in target:
        return False
    if stand_in != UNKNOWN:
        target[last] = stand_in
    return True
