"""Does a wood member hold: bending, shear, bearing and deflection against what is allowed.

National Design Specification for Wood Construction (NDS), allowable stress design, rectangular sawn members.
A design aid: heavy or odd cases need an engineer, and the local authority decides.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from kit.checks.beams import Effects
from kit.checks.no_value import NoValue
from kit.checks.wood_values import Section, WoodValues
from kit.design.require import require
from kit.errors import JobError
from kit.sources import value
from kit.units import format_length

__all__ = [
    "Allowable",
    "Bracing",
    "MemberUse",
    "Service",
    "allowable_bearing",
    "allowable_bending",
    "allowable_shear",
    "allowable_tension",
    "bearing_area_factor",
    "deflection_limit",
    "load_duration",
    "long_term_deflection",
    "member_elasticity",
    "member_use",
    "stability_factor",
    "support_limit",
]

_TABLE = "wood_factors"


@dataclass(frozen=True, slots=True)
class Service:
    """How a member is used: load duration factor, wet (above 19 % moisture) or dry, repetitive member factor."""

    duration: float = 1.0
    wet: bool = False
    repetitive: float = 1.0

    def __post_init__(self) -> None:
        """Refuse factors that are not more than 0."""
        require(positive={"duration": self.duration, "repetitive": self.repetitive})


@dataclass(frozen=True, slots=True)
class Bracing:
    """The compression edge between points where it can't move sideways; `unbraced_in` 0 means held throughout."""

    unbraced_in: float = 0.0
    load: Literal["uniform", "midpoint"] = "uniform"

    def __post_init__(self) -> None:
        """Refuse a negative length or an unknown load."""
        require(not_negative={"unbraced_in": self.unbraced_in})
        if self.load not in {"uniform", "midpoint"}:
            raise JobError(f'"{self.load}" is not a load of a braced beam. Give "uniform" or "midpoint".')


@dataclass(frozen=True, slots=True)
class Allowable:
    """An allowable stress [psi], the factors that made it, and the product in words."""

    value_psi: float
    factors: tuple[tuple[str, float], ...]
    working: str


@dataclass(frozen=True, slots=True)
class MemberUse:
    """Actual against allowable stress [psi]; a share of 1 is the limit."""

    bending_psi: float
    bending: Allowable
    shear_psi: float
    shear: Allowable
    bearing_psi: float
    bearing: Allowable
    deflection_in: float
    deflection_limit_in: float
    working: str

    @property
    def shares(self) -> dict[str, float]:
        """Share of what is allowed, by what is asked."""
        return {
            "bending": self.bending_psi / self.bending.value_psi,
            "shear": self.shear_psi / self.shear.value_psi,
            "bearing": self.bearing_psi / self.bearing.value_psi,
            "deflection": self.deflection_in / self.deflection_limit_in,
        }

    @property
    def governing(self) -> tuple[str, float]:
        """What comes nearest to its limit, and its share."""
        return max(self.shares.items(), key=lambda item: item[1])


def load_duration(name: Literal["permanent", "ten-year", "seven-day"]) -> float:
    """Look up the load duration factor: the sink and counter at rest, with water and people, or only while they are set (NDS 2.3.2)."""
    return value(_TABLE, f"duration/{name}")


def stability_factor(ratio: float, curve: float) -> float:
    """Give the share of its strength that a member keeps against buckling (NDS 3.3.3 and 3.7.1, the same curve).

    Parameters
    ----------
    ratio
        Buckling stress over the strength without buckling.
    curve
        Shape: 0.95 for beams, 0.8 for sawn columns.
    """
    require(positive={"ratio": ratio, "curve": curve})
    middle = (1.0 + ratio) / (2.0 * curve)
    return ratio / curve / (middle + math.sqrt(middle**2 - ratio / curve))  # the usual difference, written so that it doesn't cancel


def allowable_bending(values: WoodValues, section: Section, service: Service, bracing: Bracing | None = None) -> Allowable | NoValue:
    """Work the allowable bending stress Fb' [psi].

    Returns
    -------
    The stress, or no value when the member is too slender sideways for the method.
    """
    base = values.bending_psi
    wet = value(_TABLE, "wet/bending") if service.wet and base * values.size_bending > value(_TABLE, "wet/bending-free") else 1.0
    factors = [("CD", service.duration), ("CM", wet), ("CF", values.size_bending), ("Cr", service.repetitive)]
    held = _lateral_factor(values, section, service, bracing or Bracing(), base * math.prod(factor for _, factor in factors))
    if isinstance(held, NoValue):
        return held
    return _allowable("Fb'", base, [*factors, ("Cfu", values.flat_use), ("CL", held)])


def _lateral_factor(values: WoodValues, section: Section, service: Service, bracing: Bracing, strength_psi: float) -> float | NoValue:
    """Beam stability factor CL (NDS 3.3.3)."""
    if section.depth_in <= section.width_in or bracing.unbraced_in == 0.0:
        return 1.0
    length, depth = bracing.unbraced_in, section.depth_in
    if length / depth < value(_TABLE, "stability/short-ratio"):
        effective = value(_TABLE, f"stability/short-{bracing.load}") * length
    else:
        effective = value(_TABLE, f"stability/long-{bracing.load}") * length + value(_TABLE, "stability/long-depths") * depth
    slenderness = math.sqrt(effective * depth / section.width_in**2)
    if slenderness > value(_TABLE, "stability/slenderness-most"):
        return NoValue(f"slenderness {slenderness:.1f} is more than 50: hold the edge in more places.", values.source)
    buckling = value(_TABLE, "stability/euler-beam") * _stability_elasticity(values, service) / slenderness**2
    return stability_factor(buckling / strength_psi, value(_TABLE, "stability/curve-beam"))


def allowable_shear(values: WoodValues, service: Service) -> Allowable:
    """Work the allowable shear stress along the grain, Fv' [psi]."""
    return _allowable("Fv'", values.shear_psi, [("CD", service.duration), ("CM", value(_TABLE, "wet/shear") if service.wet else 1.0)])


def allowable_tension(values: WoodValues, service: Service) -> Allowable:
    """Work the allowable tension along the grain, Ft' [psi], for the net section; wet service leaves it as it is (NDS Supplement, Table 4A)."""
    return _allowable("Ft'", values.tension_psi, [("CD", service.duration), ("CF", values.size_tension)])


def allowable_bearing(values: WoodValues, service: Service, *, length_in: float, end_distance_in: float = 0.0) -> Allowable:
    """Work the allowable pressure across the grain, Fc-perp' [psi]; load duration doesn't count here.

    `length_in` is the bearing along the grain [in], `end_distance_in` its distance from the member's end [in].
    """
    wet = value(_TABLE, "wet/bearing") if service.wet else 1.0
    return _allowable("Fcp'", values.bearing_psi, [("CM", wet), ("Cb", bearing_area_factor(length_in, end_distance_in))])


def bearing_area_factor(length_in: float, end_distance_in: float) -> float:
    """Work the factor Cb for a short bearing away from the member's end (NDS 3.10.4)."""
    require(positive={"length_in": length_in}, not_negative={"end_distance_in": end_distance_in})
    if length_in >= value(_TABLE, "bearing/length-below") or end_distance_in < value(_TABLE, "bearing/end-distance-least"):
        return 1.0
    return (length_in + value(_TABLE, "bearing/extra-length")) / length_in


def member_elasticity(values: WoodValues, service: Service) -> float:
    """Give the elasticity for deflection, E' [psi]."""
    return values.elasticity_psi * (value(_TABLE, "wet/elasticity") if service.wet else 1.0)


def _stability_elasticity(values: WoodValues, service: Service) -> float:
    return values.stability_psi * (value(_TABLE, "wet/elasticity") if service.wet else 1.0)


def deflection_limit(span_in: float, divisor: float, *, absolute_in: float = math.inf) -> float:
    """Give the deflection allowed [in]: the span over `divisor`, and never more than `absolute_in`."""
    require(positive={"span_in": span_in, "divisor": divisor})
    return min(span_in / divisor, absolute_in)


def support_limit(span_in: float, *, stone: bool = False) -> float:
    """Give the deflection allowed [in] of what carries a sink or a counter, by judgement; stiffer under stone or a stone seam."""
    divisor = value(_TABLE, "limit/stone" if stone else "limit/support")
    return deflection_limit(span_in, divisor, absolute_in=value(_TABLE, "limit/absolute"))


def long_term_deflection(lasting_in: float, passing_in: float, *, wet_or_panel: bool = False) -> float:
    """Work the deflection after years [in]: what the lasting load bends now times the creep factor, plus the passing load (NDS 3.5.2)."""
    require(not_negative={"lasting_in": lasting_in, "passing_in": passing_in})
    return value(_TABLE, "creep/wet-or-panel" if wet_or_panel else "creep/dry") * lasting_in + passing_in


def member_use(
    values: WoodValues,
    section: Section,
    effects: Effects,
    service: Service,
    *,
    bearing_length_in: float,
    deflection_limit_in: float,
    bracing: Bracing | None = None,
) -> MemberUse | NoValue:
    """Compare what the load does with what the member may bear.

    Parameters
    ----------
    values, section, service
        Lumber, dressed sides [in] as they stand, duration and moisture.
    effects
        Shear [lb], moment [in lb], deflection [in] of this member under this load.
    bearing_length_in
        Length of each support along the grain [in]; the bearing lies at the end, so it takes no increase.
    deflection_limit_in
        From `deflection_limit` [in].
    bracing
        How the compression edge is held; None means throughout.

    Returns
    -------
    Stresses and limits, or no value when the member is too slender sideways.
    """
    require(positive={"bearing_length_in": bearing_length_in, "deflection_limit_in": deflection_limit_in})
    bending = allowable_bending(values, section, service, bracing)
    if isinstance(bending, NoValue):
        return bending
    shear = allowable_shear(values, service)
    bearing = allowable_bearing(values, service, length_in=bearing_length_in)
    fb = effects.moment_inlb / section.modulus_in3
    fv = 1.5 * effects.shear_lb / section.area_in2
    fc = effects.shear_lb / (section.width_in * bearing_length_in)
    working = (
        f"{values.name}, {format_length(section.width_in)} x {format_length(section.depth_in)}; {effects.working}; "
        f"fb = {effects.moment_inlb:.0f} / {section.modulus_in3:.3f} = {fb:.0f} psi, {bending.working}; "
        f"fv = 1.5 x {effects.shear_lb:.0f} / {section.area_in2:.3f} = {fv:.1f} psi, {shear.working}; "
        f"bearing {effects.shear_lb:.0f} / ({format_length(section.width_in)} x {format_length(bearing_length_in)}) = {fc:.0f} psi, {bearing.working}; "
        f"deflection {1000.0 * effects.deflection_in:.0f} of {1000.0 * deflection_limit_in:.0f} thousandths of an inch allowed"
    )
    return MemberUse(fb, bending, fv, shear, fc, bearing, effects.deflection_in, deflection_limit_in, working)


def _allowable(symbol: str, base_psi: float, factors: Iterable[tuple[str, float]]) -> Allowable:
    in_effect = tuple((name, factor) for name, factor in factors if factor != 1.0)
    result = base_psi * math.prod(factor for _, factor in in_effect)
    product = "".join(f" x {name} {factor:.4g}" for name, factor in in_effect)
    worked = f"{base_psi:g}{product} = {result:.0f}" if in_effect else f"{base_psi:g}"
    return Allowable(result, in_effect, f"{symbol} = {worked} psi")
