"""The units of the kit, exact by definition.

1 in = 25.4 mm and 1 lb = 0.453 592 37 kg (international yard and pound, 1959); 1 US gallon = 231 cu in = 128 fl oz.
`tests/printed.csv` checks them against print, the tests of this room against pint.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from kit.errors import UnitError

__all__ = ["CUBIC_INCHES_PER_FLUID_OUNCE", "CUBIC_INCHES_PER_GALLON", "Dimension", "Unit", "canonical_unit", "convert", "find_unit"]

Dimension = Literal["length", "area", "volume", "weight", "time", "share", "slope", "angle"]

CUBIC_INCHES_PER_GALLON = 231.0
"""Cubic inches in one US gallon, by definition."""

CUBIC_INCHES_PER_FLUID_OUNCE = 231.0 / 128.0
"""Cubic inches in one US fluid ounce, 1/128 of a gallon, by definition."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: what it measures, how many canonical units it holds, what pint calls it.

    Parameters
    ----------
    name
        As printed and saved (`in`, `sq ft`, `fl oz`).
    dimension
        What it measures.
    factor
        Exact number of canonical units in one of it.
    pint_name
        Name in pint's registry.
    spellings
        What a person may type, in lower case.
    """

    name: str
    dimension: Dimension
    factor: Fraction
    pint_name: str
    spellings: tuple[str, ...]


def _unit(name: str, dimension: Dimension, factor: Fraction | int, pint_name: str, *spellings: str) -> Unit:
    return Unit(name, dimension, Fraction(factor), pint_name, (name, *spellings))


_INCHES_PER_METRE = Fraction(10_000, 254)
_POUNDS_PER_KILOGRAM = Fraction(100_000_000, 45_359_237)
_FLUID_OUNCES_PER_CUBIC_INCH = Fraction(128, 231)
_FLUID_OUNCES_PER_LITRE = _INCHES_PER_METRE**3 / 1000 * _FLUID_OUNCES_PER_CUBIC_INCH

# The first unit of each dimension is the canonical one.
_UNITS = (
    _unit("in", "length", 1, "inch", "inch", "inches", '"'),
    _unit("ft", "length", 12, "foot", "foot", "feet", "'"),
    _unit("yd", "length", 36, "yard", "yard", "yards"),
    _unit("mm", "length", _INCHES_PER_METRE / 1000, "millimeter", "millimetre", "millimetres", "millimeter", "millimeters"),
    _unit("cm", "length", _INCHES_PER_METRE / 100, "centimeter", "centimetre", "centimetres", "centimeter", "centimeters"),
    _unit("m", "length", _INCHES_PER_METRE, "meter", "metre", "metres", "meter", "meters"),
    _unit("sq in", "area", 1, "inch**2", "in2", "in^2", "square inch", "square inches"),
    _unit("sq ft", "area", 144, "foot**2", "ft2", "ft^2", "square foot", "square feet"),
    _unit("sq yd", "area", 1296, "yard**2", "yd2", "yd^2", "square yard", "square yards"),
    _unit("sq m", "area", _INCHES_PER_METRE**2, "meter**2", "m2", "m^2", "square metre", "square metres", "square meter", "square meters"),
    _unit("fl oz", "volume", 1, "fluid_ounce", "fluid ounce", "fluid ounces"),
    _unit("ml", "volume", _FLUID_OUNCES_PER_LITRE / 1000, "milliliter", "millilitre", "millilitres", "milliliter", "milliliters"),
    _unit("l", "volume", _FLUID_OUNCES_PER_LITRE, "liter", "litre", "litres", "liter", "liters"),
    _unit("pt", "volume", 16, "pint", "pint", "pints"),
    _unit("qt", "volume", 32, "quart", "quart", "quarts"),
    _unit("gal", "volume", 128, "gallon", "gallon", "gallons"),
    _unit("cu in", "volume", _FLUID_OUNCES_PER_CUBIC_INCH, "inch**3", "in3", "in^3", "cubic inch", "cubic inches"),
    _unit("cu ft", "volume", 1728 * _FLUID_OUNCES_PER_CUBIC_INCH, "foot**3", "ft3", "ft^3", "cubic foot", "cubic feet"),
    _unit("cu yd", "volume", 46_656 * _FLUID_OUNCES_PER_CUBIC_INCH, "yard**3", "yd3", "yd^3", "cubic yard", "cubic yards"),
    _unit("lb", "weight", 1, "pound", "lbs", "pound", "pounds"),
    _unit("oz", "weight", Fraction(1, 16), "ounce", "ounce", "ounces"),
    _unit("kg", "weight", _POUNDS_PER_KILOGRAM, "kilogram", "kilogram", "kilograms"),
    _unit("g", "weight", _POUNDS_PER_KILOGRAM / 1000, "gram", "gram", "grams"),
    _unit("h", "time", 1, "hour", "hr", "hrs", "hour", "hours"),
    _unit("min", "time", Fraction(1, 60), "minute", "minute", "minutes"),
    _unit("share", "share", 1, "dimensionless"),
    _unit("%", "share", Fraction(1, 100), "percent", "percent"),
    _unit("in/ft", "slope", 1, "inch/foot", "in per ft", "inch per foot", "inches per foot", '" per ft', '"/ft'),
    _unit("mm/m", "slope", Fraction(12, 1000), "millimeter/meter", "mm per m"),
    _unit("deg", "angle", 1, "degree", "degree", "degrees", "°"),
)
BY_NAME: Mapping[str, Unit] = MappingProxyType({unit.name: unit for unit in _UNITS})
# "share" itself is never typed: a share is written in percent.
BY_SPELLING: Mapping[str, Unit] = MappingProxyType({word: unit for unit in _UNITS for word in unit.spellings if unit.name != "share"})
# A larger unit that may be followed by a smaller one: 2 ft 9 1/2 in, 1 h 30 min, 5 lb 8 oz.
FOLLOWED_BY: Mapping[str, tuple[str, int]] = MappingProxyType({"ft": ("in", 12), "h": ("min", 60), "lb": ("oz", 16)})
EXAMPLES: Mapping[Dimension, tuple[str, str]] = MappingProxyType(
    {
        "length": ("a length", '"33 in" or "838 mm"'),
        "area": ("an area", '"12 sq ft" or "1.1 sq m"'),
        "volume": ("a volume", '"10.1 fl oz" or "300 ml"'),
        "weight": ("a weight", '"120 lb" or "54 kg"'),
        "time": ("a time", '"1.5 h" or "90 min"'),
        "share": ("a share", '"15 %"'),
        "slope": ("a slope", '"1/4 in/ft"'),
        "angle": ("an angle", '"45 deg"'),
    }
)


def canonical_unit(dimension: Dimension) -> str:
    """Name of the unit that `parse_quantity` gives for a dimension: in, sq in, fl oz, lb, h, share, in/ft, deg."""
    return next(unit.name for unit in _UNITS if unit.dimension == dimension)


def find_unit(name: str) -> Unit:
    """Find a unit by its name or a spelling of it. Raises UnitError if it is not one of the kit's units."""
    unit = BY_NAME.get(name) or BY_SPELLING.get(name)
    if unit is None:
        raise UnitError(f'"{name}" is not a unit the kit knows. Use one of {", ".join(BY_NAME)}.')
    return unit


def convert(value: float, unit: str, into: str) -> float:
    """Value in another unit of the same dimension.

    Parameters
    ----------
    value
        Amount [unit].
    unit, into
        Names of units (`ft`, `sq in`, `gal`).

    Returns
    -------
    Amount [into].

    Raises
    ------
    UnitError
        Unknown unit, or two dimensions.

    Examples
    --------
    >>> convert(2.5, "sq ft", "sq in")
    360.0
    """
    numerator, denominator = _ratio(unit, into)
    return value * numerator / denominator


@lru_cache(maxsize=1024)
def _ratio(unit: str, into: str) -> tuple[int, int]:
    source, target = find_unit(unit), find_unit(into)
    if source.dimension != target.dimension:
        raise UnitError(f"{unit} measures {EXAMPLES[source.dimension][0]}, {into} {EXAMPLES[target.dimension][0]}: they can't be converted.")
    ratio = source.factor / target.factor
    return ratio.numerator, ratio.denominator
