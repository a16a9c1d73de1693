"""The doors to pint: quantities out and in, one application registry, loaded on first use."""

from typing import TYPE_CHECKING

from kit.errors import UnitError
from kit.units.defined import find_unit

if TYPE_CHECKING:
    import pint

__all__ = ["from_quantity", "to_quantity"]


def to_quantity(value: float, unit: str) -> "pint.Quantity[float]":
    """Value [unit] as a pint quantity of the application registry. Raises UnitError if the kit does not know the unit."""
    import pint

    quantity: pint.Quantity[float] = pint.application_registry.Quantity(value, find_unit(unit).pint_name)
    return quantity


def from_quantity(quantity: "pint.Quantity[float]", unit: str) -> float:
    """Magnitude of a pint quantity [unit]. Raises UnitError if the quantity measures something else, or the kit does not know the unit."""
    import pint

    try:
        return float(quantity.to(find_unit(unit).pint_name).magnitude)
    except pint.DimensionalityError as error:
        raise UnitError(f"{quantity} can't be given in {unit}.") from error
