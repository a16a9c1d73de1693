"""Printed cases: what a publication says a function of the kit must give.

`tests/printed.csv` has the columns

- `key`, `locator`: where it is printed (`key` of `kit/sources/sources.toml`);
- `function`: dotted name in `kit`; ` -> name` after it takes one field of the result;
- `inputs`: `name=value; name=value`, read as the function's annotations say; several amounts are divided by blanks;
- `value`: as printed;
- `tolerance`: how far the kit may differ; empty means half of the last printed digit (none at all for `kit.sources.value`);
- `note`: what a reader must know.
"""

import csv
import importlib
import inspect
import typing
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from types import UnionType

PRINTED = Path(__file__).resolve().parents[1] / "printed.csv"
COLUMNS = ["key", "locator", "function", "inputs", "value", "tolerance", "note"]


@dataclass(frozen=True)
class PrintedCase:
    """One row of printed.csv; `number` is its row in the file."""

    number: int
    key: str
    locator: str
    function: str
    inputs: str
    value: str
    tolerance: str
    note: str

    def __str__(self) -> str:
        return f"row {self.number}: {self.function.rpartition('kit.')[2]}({self.inputs}) = {self.value}"

    def check(self) -> None:
        """Call the function and compare with what is printed."""
        found = self.call()
        if isinstance(found, str):
            assert found == self.value, f"{self}: the kit gives {found}"
            return
        allowed = self.allowed()
        difference = abs(Decimal(repr(found)) - Decimal(self.value)) if isinstance(found, float) else abs(Decimal(found) - Decimal(self.value))
        assert difference <= allowed, f"{self}: the kit gives {found}, {allowed} allowed"

    def call(self) -> object:
        """What the kit gives."""
        name, _, field = self.function.partition(" -> ")
        function = find_function(name)
        result = function(**read_inputs(function, self.inputs))
        return getattr(result, field) if field else result

    def allowed(self) -> Decimal:
        """How far the kit may differ from print."""
        if self.tolerance:
            return Decimal(self.tolerance)
        if self.function == "kit.sources.value":
            return Decimal(0)
        return Decimal(5).scaleb(int(Decimal(self.value).as_tuple().exponent) - 1)


def find_function(name: str) -> Callable[..., object]:
    """The function behind a dotted name."""
    module, _, function = name.rpartition(".")
    return getattr(importlib.import_module(module), function)


def read_inputs(function: Callable[..., object], text: str) -> dict[str, object]:
    """Inputs of a case by name, each read as the function's annotation says."""
    pairs = [part.partition("=") for part in text.split(";") if part.strip()]
    hints = typing.get_type_hints(inspect.unwrap(function))
    return {name.strip(): read_input(given.strip(), hints[name.strip()]) for name, _, given in pairs}


def read_input(text: str, wanted: object) -> object:
    """One input of a case."""
    origin, inner = typing.get_origin(wanted), typing.get_args(wanted)
    if wanted is str or origin is typing.Literal:
        return text
    if origin in (typing.Union, UnionType):
        return read_input(text, inner[0])
    if origin is not None:
        return [read_input(part, inner[0]) for part in text.split()]
    if wanted is bool:
        return {"yes": True, "no": False}[text]
    assert wanted in (float, int, Decimal), f"printed.csv can't hold an input of type {wanted}"
    return wanted(text)


def read_cases() -> list[PrintedCase]:
    """Every printed case."""
    with PRINTED.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, strict=True)
        assert reader.fieldnames == COLUMNS
        return [PrintedCase(reader.line_num, **cells) for cells in reader]
