"""How much does a wood top move between seasons, and what slots and gaps does that ask for.

Wood Handbook (FPL-GTR-190, 2010), chapter 13, and the equilibrium moisture formula of FPL-RN-0268 (Simpson, 1998). The rows of true
hickory and the radial ones of teak and Douglas fir are from memory, their tangential ones from a flooring seller's table: each row says so.
Movement is across the grain; along the grain it is taken as nothing.
"""

from dataclasses import dataclass
from typing import Literal, get_args

from kit.design.require import require
from kit.errors import JobError
from kit.job.counter import Species
from kit.sources import value
from kit.units import format_length

__all__ = [
    "WOODS",
    "Movement",
    "dimension_change",
    "equilibrium_moisture",
    "interior_moisture",
    "slot_length",
    "top_movement",
    "wall_gap",
]

_TABLE = "wood_movement"
_MOISTURE = "equilibrium_moisture"
WOODS: tuple[str, ...] = get_args(Species)
Grain = Literal["flat", "quarter", "mixed"]


@dataclass(frozen=True, slots=True)
class Movement:
    """Change of a top's width [in], positive when it grows: what to expect and what to design for.

    `in_range` is False when a moisture lies outside 6 to 14 %, where the straight rule gives way to the curved one.
    """

    expected_in: float
    design_in: float
    in_range: bool
    working: str


def equilibrium_moisture(humidity_percent: float, temperature_f: float = 70.0) -> float:
    """Work the moisture content [%] that wood reaches at a relative humidity [%] and temperature [F].

    Raises JobError if the humidity is not 0 to 100 % or the temperature not 30 to 210 F.
    """
    require(within={"humidity_percent": (humidity_percent, 0.0, 100.0), "temperature_f": (temperature_f, 30.0, 210.0)})
    h = humidity_percent / 100.0
    w, k, k1, k2 = (_quadratic(name, temperature_f) for name in ("w", "k", "k1", "k2"))
    kh = k * h
    dissolved = kh / (1.0 - kh)
    bound = (k1 * kh + 2.0 * k1 * k2 * kh**2) / (1.0 + k1 * kh + k1 * k2 * kh**2)
    return value(_MOISTURE, "scale") / w * (dissolved + bound)


def _quadratic(name: str, temperature_f: float) -> float:
    return value(_MOISTURE, f"{name}/0") + value(_MOISTURE, f"{name}/1") * temperature_f + value(_MOISTURE, f"{name}/2") * temperature_f**2


def interior_moisture(region: Literal["most", "dry-southwest", "damp-south-coast"] = "most") -> float:
    """Look up the average moisture [%] of wood indoors, by part of the country."""
    return value(_TABLE, f"interior/{region}")


def dimension_change(dimension_in: float, coefficient: float, from_percent: float, to_percent: float) -> float:
    """Work the change of a dimension across the grain [in] between two moisture contents [%]; positive when it grows.

    Parameters
    ----------
    dimension_in
        Size across the grain when set [in].
    from_percent, to_percent
        Moisture when set and later [%].
    coefficient
        Dimensional change coefficient, per percent of moisture, about 10 % moisture.

    Notes
    -----
    From 6 to 14 %: D C (Mf - Mi) (Eq. 13-2). Outside: D (Mf - Mi) / (3000 / S - 30 + Mi) (Eq. 13-3, from memory) with the
    shrinkage S that the coefficient implies: both agree at Mi = 10 %, so 3000 / S = 1 / C + 20.
    """
    require(
        positive={"dimension_in": dimension_in, "coefficient": coefficient},
        within={name: (percent, 0.0, value(_TABLE, "range/saturation")) for name, percent in (("from_percent", from_percent), ("to_percent", to_percent))},
    )
    change = to_percent - from_percent
    if _in_range(from_percent, to_percent):
        return dimension_in * coefficient * change
    return dimension_in * change / (1.0 / coefficient - value(_TABLE, "range/base") + from_percent)


def _in_range(*percents: float) -> bool:
    return all(value(_TABLE, "range/low") <= percent <= value(_TABLE, "range/high") for percent in percents)


def top_movement(width_in: float, wood: str, from_percent: float, to_percent: float, grain: Grain = "mixed") -> Movement:
    """Work the movement of a wood top across its grain.

    Parameters
    ----------
    width_in
        Size across the grain: the counter's depth, for boards along the run [in].
    wood
        One of `WOODS`.
    from_percent, to_percent
        Moisture when set and later [%].
    grain
        "flat" or "quarter" sawn; edge-glued strips are "mixed": designed for flat sawn, expected halfway.

    Raises
    ------
    JobError
        If the wood or grain is not listed, or a measure can't be one.
    """
    if wood not in WOODS:
        raise JobError(f'"{wood}" has no movement coefficients. Give one of: {", ".join(WOODS)}.')
    radial, tangential = value(_TABLE, f"{wood}/radial"), value(_TABLE, f"{wood}/tangential")
    pairs = {"flat": (tangential, tangential), "quarter": (radial, radial), "mixed": ((radial + tangential) / 2.0, tangential)}
    if grain not in pairs:
        raise JobError(f'"{grain}" is not a cut of the wood. Give "flat", "quarter" or "mixed".')
    expected, design = (dimension_change(width_in, coefficient, from_percent, to_percent) for coefficient in pairs[grain])
    in_range = _in_range(from_percent, to_percent)
    rule = "D C (Mf - Mi)" if in_range else "D (Mf - Mi) / (1/C - 10 + Mi), outside 6 to 14%"
    working = f"{wood.replace('-', ' ')}, {grain}: {format_length(width_in)}, {from_percent:.1f} to {to_percent:.1f}%, C {pairs[grain][1]:g}, {rule} = "
    working += format_length(design, denominator=32)
    return Movement(expected, design, in_range, working)


def slot_length(movement_in: float, from_fixed_in: float, width_in: float, shank_in: float) -> float:
    """Work the length of a fastener's slot [in], across the grain.

    Parameters
    ----------
    movement_in
        Whole movement of the top, grown or shrunk [in].
    width_in
        Size of the top across the grain [in].
    from_fixed_in
        From the line that stays put to this fastener [in].
    shank_in
        Diameter of the screw [in].
    """
    require(positive={"width_in": width_in, "shank_in": shank_in}, within={"from_fixed_in": (from_fixed_in, 0.0, width_in)})
    return abs(movement_in) * from_fixed_in / width_in + shank_in + value(_TABLE, "slot/extra")


def wall_gap(width_in: float, wood: str, set_percent: float, wet_percent: float, from_fixed_in: float | None = None) -> float:
    """Work the gap to leave at the wall [in] so that the top can grow by the wet season; 0 when it is set wet.

    `from_fixed_in` is the distance from the line that stays put to the edge at the wall [in]; None means the far edge
    is fixed, so that all movement comes to the wall.
    """
    distance = width_in if from_fixed_in is None else from_fixed_in
    require(within={"from_fixed_in": (distance, 0.0, width_in)})
    return max(0.0, top_movement(width_in, wood, set_percent, wet_percent).design_in) * distance / width_in
