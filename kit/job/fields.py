"""How a field of the job is declared: one rule gives parsing, range, help, error text and what to assume.

A rule is written once, beside the field. Widgets, the JSON Schema and the error report read it from there.
The attribute's name ends in its unit (`width_in`); the key in the job file does not (`width`), because the
file states the unit with the value.
"""

import datetime as dt
import math
import re
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any, ClassVar, Literal, TypeVar, cast, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, ValidatorFunctionWrapHandler, field_validator

from kit.errors import KitError, UnitError
from kit.incoming import MOST_NUMBER_BITS, UNPRINTABLE
from kit.money import parse_money
from kit.sources import value
from kit.units import from_quantity, parse_quantity

__all__ = ["UNKNOWN", "Blank", "Record", "Rule", "choice", "count", "day", "flag", "measure", "money", "text"]

UNKNOWN = "unknown"
Blank = TypeVar("Blank", bound=None, covariant=True)  # noqa: PLC0105 - `float | Blank` reads as words
"""What stands in a field that the visit couldn't fill but that can be assumed: None in a job as read, nothing (Never) in a filled one."""
DISTANCE_PLACES = 9  # so that a walk in feet is written and read back the same
_SUFFIX = re.compile(r"_(in|lb|h|ft|share)$")

Measure = Literal["length", "weight", "time", "share"]
Kind = Measure | Literal["distance", "money", "count", "choice", "flag", "text", "day"]
_UNITS = {"length": "in", "weight": "lb", "time": "h", "distance": "ft", "share": "%"}
_EXAMPLES = {
    "length": '"33 in" or "838 mm"',
    "weight": '"120 lb" or "54 kg"',
    "time": '"8 h"',
    "distance": '"60 ft" or "18 m"',
    "share": '"15 %"',
    "money": '"250.00 USD"',
}


@dataclass(frozen=True, slots=True)
class Rule:
    """What may stand in a field.

    `low` and `high` are in the canonical unit of the kind; `assume` is the value taken, as it would be typed, when
    the visit can't tell; `like` names another field of the same record, or what it works out, whose value is taken instead. With `unknown_ok`
    nothing is assumed: what needs the value answers "unknown". `optional` fields have no meaning when left out. `common` are
    sizes that are often met, for a list to choose from; type any other.
    """

    kind: Kind
    help: str
    low: float | None = None
    high: float | None = None
    options: tuple[str, ...] = ()
    assume: str | None = None
    like: str | None = None
    unknown_ok: bool = False
    optional: bool = False
    why: str = ""
    common: tuple[str, ...] = ()

    @property
    def unit(self) -> str:
        """The canonical unit, empty for what has none."""
        return _UNITS.get(self.kind, "")

    @property
    def may_be_unknown(self) -> bool:
        """Whether "unknown" may stand in the field."""
        return self.assume is not None or self.like is not None or self.unknown_ok

    @property
    def range_text(self) -> str:
        """The range in words, empty where there is none."""
        if self.low is None or self.high is None:
            return ""
        scale = 100 if self.kind == "share" else 1
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.low * scale:g} to {self.high * scale:g}{unit}"

    def nearest(self, number: float) -> float:
        """The number, or the end of the range that it lies beyond."""
        return min(max(number, -math.inf if self.low is None else self.low), math.inf if self.high is None else self.high)

    def read(self, given: Any) -> Any:
        """The value that a person or a file gave, in canonical form. Raises ValueError with a sentence that quotes what was given and says what is wanted."""
        if given == UNKNOWN:
            if self.may_be_unknown:
                return None
            raise ValueError(f'"unknown" is not accepted here. Needed: {self.help}')
        return _check_range(self, given, _READERS[self.kind](self, given))


def _with_unit(rule: Rule, given: Any) -> str:
    """What was typed, if it is text, so that it can hold a unit."""
    example = f"Give one, such as {_EXAMPLES[rule.kind]}."
    if hasattr(given, "magnitude") and rule.unit:
        return _typed_quantity(rule, given, example)
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        kind = "an amount of money" if rule.kind == "money" else f"a {rule.kind}"
        raise ValueError(f"{_shown(given)} is not {kind}. {example}")  # noqa: TRY004 - pydantic collects ValueError
    if not isinstance(given, str):
        raise ValueError(f"{_shown(given)} has no unit. {example}")  # noqa: TRY004 - as above
    return given


def _typed_quantity(rule: Rule, given: Any, example: str) -> str:
    """A pint quantity, of whatever registry, as it would be typed; rounded where a conversion leaves the noise of floats."""
    try:
        number = from_quantity(given, rule.unit)
    except UnitError:
        raise ValueError(f'"{given}" is not a {rule.kind}. {example}') from None
    if not math.isfinite(number):
        raise ValueError(f'"{given}" is not a number. {example}')
    return f"{Decimal(repr(round(number, DISTANCE_PLACES))):f} {rule.unit}"


def _quantity(rule: Rule, given: Any) -> float:
    typed = _with_unit(rule, given)
    signed = rule.low is not None and rule.low < 0.0
    if rule.kind == "distance":
        return read_feet(parse_quantity(typed, "length", signed=signed))
    return parse_quantity(typed, cast("Measure", rule.kind), signed=signed)


def read_feet(inches: float | Fraction) -> float:
    """A distance [ft] as a job holds it."""
    return round(float(inches) / 12.0, DISTANCE_PLACES)


def _money(rule: Rule, given: Any) -> Decimal:
    return parse_money(_with_unit(rule, given))


def _count(_: Rule, given: Any) -> int:
    if isinstance(given, bool) or not isinstance(given, int):
        raise ValueError(f"{_shown(given)} is not a whole number.")  # noqa: TRY004 - as above
    return given


def _choice(rule: Rule, given: Any) -> str:
    if given not in rule.options:
        raise ValueError(f"{_shown(given)} is not one of: {', '.join(rule.options)}.")
    return str(given)


def _flag(_: Rule, given: Any) -> bool:
    if not isinstance(given, bool):
        raise ValueError(f"{_shown(given)} is neither true nor false.")  # noqa: TRY004 - as above
    return given


def _text(_: Rule, given: Any) -> str:
    if not isinstance(given, str) or not given.strip():
        raise ValueError(f"{_shown(given)} is empty or not text.")
    if any(ord(sign) < 32 for sign in given):  # a control sign has no place in a name and breaks sheets
        raise ValueError(f"{_shown(given)} has a control character in it.")
    if UNPRINTABLE.search(given):
        raise ValueError("has a character that can't be printed. Type it again.")
    return given


def _day(_: Rule, given: Any) -> dt.date:
    day = _date(given)
    first, last = (round(value("calendar", f"job/{which}-year")) for which in ("first", "last"))
    if not first <= day.year <= last:
        raise ValueError(f"{day} is outside the years {first} to {last}. Check the year.")
    return day


def _date(given: Any) -> dt.date:
    if isinstance(given, dt.date) and not isinstance(given, dt.datetime):
        return given
    if isinstance(given, str):
        try:
            return dt.date.fromisoformat(given)
        except ValueError:
            pass
    raise ValueError(f"{_shown(given)} is not a date. Give it as 2026-11-25.")


_READERS = {
    "length": _quantity,
    "weight": _quantity,
    "time": _quantity,
    "distance": _quantity,
    "share": _quantity,
    "money": _money,
    "count": _count,
    "choice": _choice,
    "flag": _flag,
    "text": _text,
    "day": _day,
}


def _shown(given: Any) -> str:
    if isinstance(given, int) and given.bit_length() > MOST_NUMBER_BITS:
        return "a number with too many digits"
    return f'"{given}"' if isinstance(given, (str, int, float)) else f"a {type(given).__name__}"


def _check_range(rule: Rule, given: Any, value: Any) -> Any:
    if (rule.low is not None and value < rule.low) or (rule.high is not None and value > rule.high):
        raise ValueError(f"{_shown(given)} is outside the range {rule.range_text}.")
    return value


def _declare(rule: Rule, default: Any) -> Any:
    if default is ... and (rule.may_be_unknown or rule.optional):
        default = None
    extra: dict[str, Any] = {"rule": rule}  # the one place of a field that pydantic leaves to us
    return Field(default, description=rule.help, json_schema_extra=extra)


def measure(
    kind: Kind,
    help: str,  # noqa: A002 - the word the screens use
    low: float,
    high: float,
    *,
    assume: str | None = None,
    like: str | None = None,
    unknown_ok: bool = False,
    optional: bool = False,
    why: str = "",
    common: tuple[str, ...] = (),
) -> Any:
    """A length [in], weight [lb], time [h], distance [ft] or share; the range is in that unit."""
    return _declare(Rule(kind, help, low, high, (), assume, like, unknown_ok, optional, why, common), ...)


def choice(
    help: str,  # noqa: A002 - the word the screens use
    *,
    assume: str | None = None,
    unknown_ok: bool = False,
    optional: bool = False,
    why: str = "",
) -> Any:
    """One of a few words: those of the field's type, a `Literal`."""
    return _declare(Rule("choice", help, assume=assume, unknown_ok=unknown_ok, optional=optional, why=why), ...)


def count(
    help: str,  # noqa: A002 - the word the screens use
    low: int,
    high: int,
    *,
    assume: str | None = None,
    optional: bool = False,
    why: str = "",
    default: Any = ...,
) -> Any:
    """A whole number."""
    return _declare(Rule("count", help, low, high, assume=assume, optional=optional, why=why), default)


def flag(
    help: str,  # noqa: A002 - the word the screens use
    *,
    assume: str | None = None,
    why: str = "",
    default: Any = ...,
) -> Any:
    """Yes or no."""
    return _declare(Rule("flag", help, assume=assume, why=why), default)


def money(help: str, high: float, *, optional: bool = False) -> Any:  # noqa: A002 - as above
    """An amount of money from 0 to `high` USD."""
    return _declare(Rule("money", help, 0, high, optional=optional), ...)


def text(help: str, *, optional: bool = False, common: tuple[str, ...] = ()) -> Any:  # noqa: A002 - as above
    """Words; those that are often met stand in a list to choose from, any other may be typed."""
    return _declare(Rule("text", help, optional=optional, common=common), ...)


def day(help: str, *, optional: bool = False) -> Any:  # noqa: A002 - as above
    """A calendar date."""
    return _declare(Rule("day", help, optional=optional), ...)


def _words(annotation: Any) -> tuple[str, ...]:
    """The words of a choice, as its type lists them; none for any other field."""
    return next((get_args(part) for part in (annotation, *get_args(annotation)) if get_origin(part) is Literal), ())


@cache
def _key(name: str) -> str:
    return _SUFFIX.sub("", name)


class Record(BaseModel):
    """Base of the parts of a job: frozen, no unknown keys, every field read by its rule."""

    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=_key, populate_by_name=False, validate_default=False, strict=True)
    rules: ClassVar[dict[str, Rule]] = {}

    def __class_getitem__(cls, _: Any) -> type["Record"]:
        """The same record: what a blank is concerns the type checker; at run time `Cabinet[None]` and `Cabinet[Never]` are one class.

        A class for each (as pydantic would make) costs a copy of every part when a job is filled, and can't be pickled.
        """
        return cls

    @classmethod
    def __pydantic_init_subclass__(cls, **_: Any) -> None:
        """Collect the rules of the fields, once for each record."""
        cls.rules = {}
        for name, field in cls.model_fields.items():
            extra = field.json_schema_extra
            if isinstance(extra, dict) and isinstance(rule := extra.get("rule"), Rule):
                cls.rules[name] = replace(rule, options=_words(field.annotation))

    @field_validator("*", mode="wrap")
    @classmethod
    def _read_by_rule(cls, given: Any, handler: ValidatorFunctionWrapHandler, info: ValidationInfo) -> Any:
        rule = cls.rules.get(info.field_name or "")
        if rule is None:
            return handler(given)
        try:
            return rule.read(given)
        except KitError as error:  # the sentence only; the place is added by whoever knows the file
            raise ValueError("; ".join(fault.message for fault in error.faults)) from None

    @classmethod
    def key(cls, name: str) -> str:
        """The key in the job file of an attribute: `width` for `width_in`."""
        return _key(name)
