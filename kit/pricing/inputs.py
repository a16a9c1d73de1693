"""The numbers that a price depends on and that a person may change."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.lists import BurdenPart
from kit.money import to_decimal

__all__ = ["Input", "burden_input", "burden_inputs"]

BURDEN_PLACES = 6
BurdenFigure = Literal["hours", "share", "amount", "up-to"]
_FIGURES: dict[BurdenFigure, tuple[str, Literal["share", "money", "hours"]]] = {
    "hours": ("hours in the year", "hours"),
    "share": ("share", "share"),
    "amount": ("amount", "money"),
    "up-to": ("up to so much pay", "money"),
}


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the price depends on and that a person may change: in the sheet it is a marked, named cell."""

    id: str
    label: str
    value: Decimal
    kind: Literal["share", "money", "hours"]


def burden_input(part: BurdenPart, figure: BurdenFigure) -> str:
    """The id of the input that holds one figure of a part."""
    return f"in:burden-{part.part}-{figure}"


def burden_inputs(parts: Sequence[BurdenPart]) -> Iterator[Input]:
    """An input for each figure of each part of the burden."""
    for part in parts:
        for figure, (says, kind) in _FIGURES.items():
            value = getattr(part, figure.replace("-", "_"))
            if value is not None:
                yield Input(burden_input(part, figure), f"{part.label}: {says}", value if kind == "money" else to_decimal(value, BURDEN_PLACES), kind)
