"""What a wood screw holds: sideways by the six yield modes, along its axis by withdrawal.

National Design Specification for Wood Construction (NDS), chapter 12, allowable stress design, single shear. The root
diameter stands for D everywhere (12.3.7). Particleboard and medium-density fiberboard have no value: a screw there is
never credited, the load goes to the floor through posts.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from kit.checks.no_value import NoValue
from kit.design.require import require
from kit.errors import JobError
from kit.job.boards import BOARDS
from kit.sources import row, table, value
from kit.units import format_length

__all__ = [
    "LateralValue",
    "Screw",
    "ScrewReach",
    "YieldModes",
    "adjusted_lateral",
    "dowel_bearing",
    "find_screw",
    "lateral_value",
    "material_gravity",
    "screw_reach",
    "withdrawal",
    "yield_modes",
]

_TABLE = "wood_screws"
_SOURCE = "awc-2018-nds"
_SIZES = ("6", "7", "8", "9", "10", "12", "14")


@dataclass(frozen=True, slots=True)
class Screw:
    """A wood screw: trade size, shank and root diameter [in], bending yield strength [psi]."""

    size: str
    shank_in: float
    root_in: float
    yield_psi: float


@dataclass(frozen=True, slots=True)
class ScrewReach:
    """Where a screw ends: penetration into the main member, thread in it, and what stands out behind it [in]."""

    penetration_in: float
    thread_in: float
    stands_out_in: float


@dataclass(frozen=True, slots=True)
class YieldModes:
    """Lateral reference value [lb] of each yield mode; the least one counts. `reduction` is the divisor Rd."""

    main_bearing: float
    side_bearing: float
    both_bearing: float
    main_hinge: float
    side_hinge: float
    two_hinges: float
    reduction: float

    @property
    def vector(self) -> tuple[tuple[str, float], ...]:
        """Modes in the standard's order, with its labels."""
        names = ("Im", "Is", "II", "IIIm", "IIIs", "IV")
        return tuple(zip(names, (self.main_bearing, self.side_bearing, self.both_bearing, self.main_hinge, self.side_hinge, self.two_hinges), strict=True))

    @property
    def governing(self) -> tuple[str, float]:
        """Label and value [lb] of the mode that gives way first."""
        return min(self.vector, key=lambda mode: mode[1])


@dataclass(frozen=True, slots=True)
class LateralValue:
    """Lateral reference value of one screw [lb].

    Below full penetration the standard offers two ways, kept as `by_share_lb` (value at full penetration times
    penetration over full penetration) and `by_equations_lb` (bearing length less the tip); `value_lb` is the smaller.
    """

    value_lb: float
    by_share_lb: float
    by_equations_lb: float
    mode: str
    modes: YieldModes
    penetration_in: float
    full_penetration_in: float
    working: str


@lru_cache(maxsize=16)
def find_screw(size: str) -> Screw:
    """Look up a wood screw by trade size, such as "8" or "10". Raises JobError if the size is not listed."""
    if size not in _SIZES:
        raise JobError(f'"{size}" is not a listed wood screw size. Give one of: {", ".join(_SIZES)}.')
    return Screw(size, value(_TABLE, f"{size}/shank"), value(_TABLE, f"{size}/root"), value(_TABLE, f"{size}/bending-yield"))


def material_gravity(material: str) -> float | NoValue:
    """Look up the specific gravity that stands for a panel in a screw joint ("plywood-structural", "plywood", "osb"), or why there is none."""
    if f"gravity/{material}" in table(_TABLE):
        return value(_TABLE, f"gravity/{material}")
    board, reason = BOARDS.get(material), f'no gravity is listed for "{material}": no screw in it is given a value.'
    if board is not None and board.in_wood_standard:
        reason = f"the species of this {board.name} is not known: give its specific gravity, or carry the load to the floor by posts."
    elif board is not None:
        reason = f"{board.name} is not in the wood standard: no screw in it is given a value; carry the load to the floor by posts."
    return NoValue(reason, "awc-2018-nds-memory")


def dowel_bearing(gravity: float, *, rounded: bool = True) -> float:
    """Work the bearing strength under a fastener thinner than 1/4 in [psi], any grain angle; rounded to 50 psi as the table prints it."""
    require(within={"gravity": (gravity, 0.2, 1.2)})
    exact = value(_TABLE, "bearing/coefficient") * float(gravity ** value(_TABLE, "bearing/exponent"))
    step = value(_TABLE, "bearing/rounding")
    return step * math.floor(exact / step + 0.5) if rounded else exact


def yield_modes(diameter_in: float, yield_psi: float, *, main_psi: float, side_psi: float, main_in: float, side_in: float) -> YieldModes | NoValue:
    """Work the six yield modes of a dowel-type fastener in single shear (NDS 12.3.1).

    Parameters
    ----------
    diameter_in
        Root diameter for a threaded fastener, else the shank [in].
    yield_psi
        Bending yield strength of the fastener [psi].
    main_psi, side_psi
        Bearing strength of main and side member [psi].
    main_in, side_in
        Bearing length in main and side member [in].

    Returns
    -------
    The modes [lb]; no value from 1/4 in on, where the angle to the grain counts.
    """
    require(positive={"diameter_in": diameter_in, "yield_psi": yield_psi, "main_psi": main_psi, "side_psi": side_psi, "main_in": main_in, "side_in": side_in})
    if diameter_in >= value(_TABLE, "diameter/large"):
        return NoValue(f"a fastener {diameter_in:g} in thick needs the angle between load and grain: not worked here.", _SOURCE)
    reduction = value(_TABLE, "reduction/small")
    if diameter_in > value(_TABLE, "diameter/small"):
        reduction = value(_TABLE, "reduction/slope") * diameter_in + value(_TABLE, "reduction/base")
    re, rt = main_psi / side_psi, main_in / side_in
    stiff = 2.0 * yield_psi * diameter_in**2 / (3.0 * main_psi)
    k1 = (math.sqrt(re + 2.0 * re**2 * (1.0 + rt + rt**2) + rt**2 * re**3) - re * (1.0 + rt)) / (1.0 + re)
    k2 = -1.0 + math.sqrt(2.0 * (1.0 + re) + stiff * (1.0 + 2.0 * re) / main_in**2)
    k3 = -1.0 + math.sqrt(2.0 * (1.0 + re) / re + stiff * (2.0 + re) / side_in**2)
    side, main = diameter_in * side_in / reduction, diameter_in * main_in / reduction
    return YieldModes(
        main_bearing=main * main_psi,
        side_bearing=side * side_psi,
        both_bearing=k1 * side * side_psi,
        main_hinge=k2 * main * main_psi / (1.0 + 2.0 * re),
        side_hinge=k3 * side * main_psi / (2.0 + re),
        two_hinges=diameter_in**2 / reduction * math.sqrt(2.0 * main_psi * yield_psi / (3.0 * (1.0 + re))),
        reduction=reduction,
    )


def screw_reach(length_in: float, side_in: float, main_in: float) -> ScrewReach:
    """Tell where a screw of this length ends, its head flush with the side member; tip counted, thread two thirds of the length."""
    require(positive={"length_in": length_in, "side_in": side_in, "main_in": main_in})
    beyond = max(0.0, length_in - side_in)
    inside = min(beyond, main_in)
    thread_starts = length_in * (1.0 - value(_TABLE, "thread/share"))
    thread = max(0.0, side_in + inside - max(side_in, thread_starts))
    return ScrewReach(inside, thread, max(0.0, beyond - main_in))


def lateral_value(
    screw: Screw,
    *,
    side_gravity: float | NoValue,
    side_in: float,
    main_gravity: float | NoValue,
    penetration_in: float,
) -> LateralValue | NoValue:
    """Work the lateral reference value of one screw through a side member into the side grain of a main member.

    Parameters
    ----------
    screw
        From `find_screw`.
    side_gravity, main_gravity
        Specific gravity of each member, or the refusal that `material_gravity` gave, which is handed on.
    side_in
        Thickness of the member under the head [in].
    penetration_in
        Length in the main member, tip included [in].

    Returns
    -------
    The value [lb], or why there is none: below six shank diameters of penetration nothing is tabulated.
    """
    for gravity in (side_gravity, main_gravity):
        if isinstance(gravity, NoValue):
            return gravity
    require(positive={"side_in": side_in}, not_negative={"penetration_in": penetration_in})
    return _lateral_value(screw, float(side_gravity), side_in, float(main_gravity), penetration_in)  # type: ignore[arg-type]


@lru_cache(maxsize=1024)
def _lateral_value(screw: Screw, side_gravity: float, side_in: float, main_gravity: float, penetration_in: float) -> LateralValue | NoValue:
    least, full = (value(_TABLE, f"penetration/{name}") * screw.shank_in for name in ("least", "full"))
    if penetration_in < least:
        reason = (
            f"a #{screw.size} screw reaches {penetration_in:.3g} in into the main member, less than six diameters ({least:.3g} in): "
            "no value is tabulated; posts carry the load."
        )
        return NoValue(reason, _SOURCE)
    main_psi, side_psi = dowel_bearing(main_gravity), dowel_bearing(side_gravity)

    def modes_at(main_in: float) -> YieldModes:
        modes = yield_modes(screw.root_in, screw.yield_psi, main_psi=main_psi, side_psi=side_psi, main_in=main_in, side_in=side_in)
        assert isinstance(modes, YieldModes)  # noqa: S101 - every listed screw is thinner than 1/4 in
        return modes

    short = penetration_in < full
    tip = value(_TABLE, "penetration/tip") * screw.shank_in
    modes = modes_at(penetration_in - tip / 2.0 if short else penetration_in)
    mode, by_equations = modes.governing
    by_share = modes_at(full).governing[1] * penetration_in / full if short else by_equations
    result = min(by_share, by_equations)
    working = (
        f"#{screw.size} screw, root {1000.0 * screw.root_in:.0f} thousandths, side {format_length(side_in)} (Fe {side_psi:.0f} psi), "
        f"penetration {format_length(penetration_in)} of {format_length(full)} (Fe {main_psi:.0f} psi), mode {mode}: Z = {result:.1f} lb"
    )
    return LateralValue(result, by_share, by_equations, mode, modes, penetration_in, full, working)


def adjusted_lateral(lateral_lb: float, *, duration: float, wet: bool = False, end_grain: bool = False, toe_driven: bool = False) -> float:
    """Work the allowable lateral load of one screw [lb]: reference value times load duration, wet, end-grain and toe factors."""
    require(positive={"duration": duration}, not_negative={"lateral_lb": lateral_lb})
    factors = ((wet, "wet"), (end_grain, "end-grain"), (toe_driven, "toe"))
    return lateral_lb * duration * math.prod(value(_TABLE, f"factor/{name}") for applies, name in factors if applies)


def withdrawal(
    kind: Literal["screw", "nail", "lag"],
    gravity: float | NoValue,
    diameter_in: float,
    length_in: float,
    *,
    end_grain: bool = False,
) -> float | NoValue:
    """Work the withdrawal reference value [lb] of a fastener in side grain (NDS 12.2).

    Parameters
    ----------
    kind
        "screw", "nail" or "lag".
    gravity
        Specific gravity of the main member, or the refusal that `material_gravity` gave.
    diameter_in
        Shank diameter [in].
    length_in
        Thread in the main member for a screw or lag (a lag's tip left out), penetration for a nail [in].
    end_grain
        Whether the fastener runs along the grain.

    Returns
    -------
    The value; none from end grain, where this kit credits nothing, and none without a gravity.
    """
    if isinstance(gravity, NoValue):
        return gravity
    if kind not in {"screw", "nail", "lag"}:
        raise JobError(f'"{kind}" is not a fastener with a withdrawal value. Give "screw", "nail" or "lag".')
    require(positive={"diameter_in": diameter_in}, not_negative={"length_in": length_in}, within={"gravity": (gravity, 0.2, 1.2)})
    if end_grain:
        return NoValue("a screw or nail pulled out of end grain is given no value.", row(_TABLE, f"withdrawal/{kind}/coefficient").key)
    coefficient, of_gravity, of_diameter = (value(_TABLE, f"withdrawal/{kind}/{name}") for name in ("coefficient", "gravity", "diameter"))
    return coefficient * float(gravity**of_gravity) * float(diameter_in**of_diameter) * length_in
