"""Does a post hold: column stability and capacity.

National Design Specification for Wood Construction (NDS) 3.7, allowable stress design, rectangular sawn posts under a
load along their middle line. A post on a cabinet floor also needs blocking below that floor and a bearing check there.
"""

from dataclasses import dataclass

from kit.checks.no_value import NoValue
from kit.checks.wood_members import Service, stability_factor
from kit.checks.wood_values import Section, WoodValues
from kit.design.require import require
from kit.sources import value
from kit.units import format_length

__all__ = ["ColumnCapacity", "column_capacity", "column_stability"]

_TABLE = "wood_factors"


@dataclass(frozen=True, slots=True)
class ColumnCapacity:
    """What a post may carry.

    `slenderness` is effective length over the side in the direction that buckles; `stability` the share kept (CP);
    stresses in psi, capacity in lb.
    """

    capacity_lb: float
    slenderness: float
    buckling_psi: float
    crushing_psi: float
    stability: float
    allowable_psi: float
    working: str


def column_stability(buckling_psi: float, crushing_psi: float) -> float:
    """Work the column stability factor CP of a sawn post (NDS 3.7.1) from buckling stress FcE and crushing strength Fc* [psi]."""
    require(positive={"buckling_psi": buckling_psi, "crushing_psi": crushing_psi})
    return stability_factor(buckling_psi / crushing_psi, value(_TABLE, "column/curve"))


def column_capacity(
    values: WoodValues,
    section: Section,
    length_in: float,
    service: Service,
    *,
    width_length_in: float | None = None,
    end_factor: float = 1.0,
) -> ColumnCapacity | NoValue:
    """Work the load that a post may carry along its middle line.

    Parameters
    ----------
    values, section, service
        Lumber, dressed sides [in], duration and moisture.
    length_in
        Free length [in] for buckling in the direction of `section.depth_in`.
    width_length_in
        Free length [in] for buckling in the direction of `section.width_in`; None: the same.
    end_factor
        Effective over free length; 1 for ends that may turn but not shift.

    Returns
    -------
    The capacity [lb] about the weaker axis, or no value beyond a slenderness of 50.
    """
    width_length = length_in if width_length_in is None else width_length_in
    require(positive={"length_in": length_in, "width_length_in": width_length, "end_factor": end_factor})
    slenderness = end_factor * max(length_in / section.depth_in, width_length / section.width_in)
    if slenderness > value(_TABLE, "stability/slenderness-most"):
        return NoValue(f"slenderness {slenderness:.1f} is more than 50: take a thicker post or hold it at mid-height.", values.source)
    wet = service.wet
    dry_strength = values.compression_psi * values.size_compression
    wet_factor = value(_TABLE, "wet/compression") if wet and dry_strength > value(_TABLE, "wet/compression-free") else 1.0
    crushing = dry_strength * service.duration * wet_factor
    elasticity = values.stability_psi * (value(_TABLE, "wet/elasticity") if wet else 1.0)
    buckling = value(_TABLE, "column/euler") * elasticity / slenderness**2
    stability = column_stability(buckling, crushing)
    allowable = crushing * stability
    capacity = allowable * section.area_in2
    working = (
        f"{values.name}, {format_length(section.width_in)} x {format_length(section.depth_in)}, le/d {slenderness:.1f}: "
        f"FcE {buckling:.0f} psi, Fc* {crushing:.0f} psi, "
        f"CP {stability:.3f}, Fc' {allowable:.0f} psi x {section.area_in2:g} sq in = {capacity:.0f} lb"
    )
    return ColumnCapacity(capacity, slenderness, buckling, crushing, stability, allowable, working)
