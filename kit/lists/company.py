"""The company file: wage, burden, overhead, profit, tax and terms, so that a job file doesn't repeat them."""

from collections.abc import Callable
from dataclasses import MISSING, dataclass, field, fields
from decimal import Decimal
from typing import Any, Literal, get_args

from kit.errors import Fault, KitError
from kit.lists.columns import day
from kit.lists.money_rows import TaxMode, TaxWhenBought
from kit.money import parse_money
from kit.tables import Table
from kit.units import parse_quantity

__all__ = ["Company", "read_company"]


@dataclass(frozen=True, slots=True)
class Company:
    """What the company charges and how it works. Shares are 0 to 1, weights in lb, times in h, money in USD.

    `work_days` are days of the week, Monday 0; `holidays` country and region, both "" for none; the spreads say how far something
    may go down and up. `address`, `phone` and `licences` stand on papers; their keys may be left out.
    """

    name: str
    region: str
    price_date: str
    wage: Decimal
    burden: float
    overhead: float
    profit: float
    profit_as: Literal["markup", "margin", "of-cost"]
    contingency: float
    tax: float
    tax_on: TaxMode
    deposit: float
    validity_days: int
    crew: int
    least_load: float
    least_charge: Decimal
    work_days: frozenset[int]
    holidays: tuple[str, str]
    wait_on_site: float
    least_visit: float
    days_to_sign: int
    cooling_off_days: int
    risk_confidence: float
    risk_correlation: float
    risk_seed: int
    price_spread: tuple[float, float]
    waste_spread: tuple[float, float]
    burden_from: Literal["share", "parts"]
    overhead_as: Literal["of-cost", "of-price"]
    hired_as: Literal["as-own", "handling-first", "handling-only"]
    handling: float
    warranty: float
    packs_charged: Literal["whole", "by-use"]
    round_to: Decimal
    tax_rounding: Literal["invoice", "item"]
    material_markup: float
    state_preset: str
    hold: float
    change_rule: str
    stale_after_days: int
    tax_when_bought: TaxWhenBought
    address: str = field(default="", kw_only=True)
    phone: str = field(default="", kw_only=True)
    licences: str = field(default="", kw_only=True)


def _whole(text: str) -> int:
    if not text.isdecimal():
        raise ValueError(f'"{text}" is not a whole number.')
    return int(text)


def _words(text: str) -> str:
    if not text:
        raise ValueError("is empty.")
    return text


def _day(text: str) -> str:
    day(text)
    return text


def _one_of(*options: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text not in options:
            raise ValueError(f'"{text}" is not one of: {", ".join(options)}.')
        return text

    return read


def _share(text: str) -> float:
    return parse_quantity(text, "share")


def _weight(text: str) -> float:
    return parse_quantity(text, "weight")


def _time(text: str) -> float:
    return parse_quantity(text, "time")


def _chance(text: str) -> float:
    share = parse_quantity(text, "share")
    if share > 1:
        raise ValueError(f'"{text}" is more than 100 %.')
    return share


def _spread(text: str) -> tuple[float, float]:
    less, found, more = text.partition(" to ")
    if not found:
        raise ValueError(f'"{text}" is not a span. Give it as "-3 % to 8 %".')
    low, high = parse_quantity(less, "share", signed=True), parse_quantity(more, "share", signed=True)
    if not -1 <= low <= 0 <= high:
        raise ValueError(f'"{text}" must go from -100 % or more, down to up, with 0 % between.')
    return low, high


def _week_days(text: str) -> frozenset[int]:
    unknown = [name for name in text.split() if name not in _WEEK]
    if unknown or not text:
        raise ValueError(f'"{text}" must name days of the week: {", ".join(_WEEK)}.')
    return frozenset(_WEEK.index(name) for name in text.split())


def _holidays(text: str) -> tuple[str, str]:
    if text == "none":
        return "", ""
    country, _, region = text.partition("-")
    if not (len(country) == 2 and country.isalpha() and country.isupper()):
        raise ValueError(f'"{text}" is not a country such as US, a state such as US-MA, or none.')
    return country, region


_WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_SPECIAL: dict[str, Callable[[str], Any]] = {
    "price_date": _day,
    "burden": _share,
    "overhead": _share,
    "profit": _share,
    "contingency": _share,
    "tax": _share,
    "deposit": _share,
    "least_load": _weight,
    "work_days": _week_days,
    "holidays": _holidays,
    "wait_on_site": _time,
    "least_visit": _time,
    "risk_confidence": _chance,
    "risk_correlation": _chance,
    "price_spread": _spread,
    "waste_spread": _spread,
    "handling": _share,
    "warranty": _share,
    "material_markup": _share,
    "hold": _share,
}


def _reader(name: str, annotation: Any) -> Callable[[str], Any]:
    if name in _SPECIAL:
        return _SPECIAL[name]
    if annotation is Decimal:
        return parse_money
    if annotation is int:
        return _whole
    return _one_of(*get_args(annotation)) if get_args(annotation) else _words


def read_company(table: Table, faults: list[Fault]) -> Company | None:
    """The company in a table of `key,value,note`; what is wrong is added to `faults` and None comes back."""
    if set(table.columns) != {"key", "value", "note"}:
        faults.append(Fault("row 1", f"has the columns {', '.join(table.columns)}. Wanted: key, value, note.", table.file))
        return None
    readers = {part.name: _reader(part.name, part.type) for part in fields(Company)}
    values: dict[str, Any] = {}
    before = len(faults)
    for row in table.rows:
        key, value = row.cells["key"], row.cells["value"]
        if key not in readers:
            faults.append(Fault(f"row {row.number}", f'"{key}" is not a known key. Known: {", ".join(readers)}.', table.file))
        elif key in values:
            faults.append(Fault(f"row {row.number}", f'"{key}" stands twice.', table.file))
        else:
            try:
                values[key] = readers[key](value)
            except ValueError as error:
                message = error.faults[0].message if isinstance(error, KitError) else str(error)
                faults.append(Fault(f"row {row.number}, {key}", message, table.file))
                values[key] = None
    wanted = [part.name for part in fields(Company) if part.default is MISSING]
    faults.extend(Fault("", f'key "{key}" is missing.', table.file) for key in wanted if key not in values)
    return Company(**values) if len(faults) == before else None
