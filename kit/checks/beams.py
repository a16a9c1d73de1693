"""What a load does to a straight member: largest shear, bending moment and deflection.

Simple spans and cantilevers, small deflections, constant section. Standard statics, from memory; the tests
integrate the elastic line independently.
"""

import math
from dataclasses import dataclass

from kit.design.require import require
from kit.units import format_length

__all__ = ["Effects", "add_effects", "cantilever_end", "cantilever_uniform", "span_midpoint", "span_point", "span_two_points", "span_uniform"]


@dataclass(frozen=True, slots=True)
class Effects:
    """Largest shear [lb], bending moment [in lb] and deflection [in] along the member, with the working.

    On a simple span the largest shear is the larger reaction.
    """

    shear_lb: float
    moment_inlb: float
    deflection_in: float
    working: str


def span_uniform(load_lb_per_in: float, span_in: float, stiffness_lbin2: float) -> Effects:
    """Work a simple span under an even load [lb/in]; `stiffness_lbin2` is elasticity times moment of inertia [lb in2].

    Raises JobError if the load is negative, or span or stiffness is not more than 0.
    """
    _require(load_lb_per_in, span_in, stiffness_lbin2)
    shear = load_lb_per_in * span_in / 2.0
    moment = load_lb_per_in * span_in**2 / 8.0
    deflection = 5.0 * load_lb_per_in * span_in**4 / (384.0 * stiffness_lbin2)
    return Effects(shear, moment, deflection, f"{load_lb_per_in:.4g} lb/in over {format_length(span_in)}: V = wL/2, M = wL^2/8, deflection = 5wL^4/384EI")


def span_midpoint(load_lb: float, span_in: float, stiffness_lbin2: float) -> Effects:
    """Work a simple span with one load [lb] at its middle; units and errors as in `span_uniform`."""
    _require(load_lb, span_in, stiffness_lbin2)
    deflection = load_lb * span_in**3 / (48.0 * stiffness_lbin2)
    working = f"{load_lb:.4g} lb at the middle of {format_length(span_in)}: V = P/2, M = PL/4, deflection = PL^3/48EI"
    return Effects(load_lb / 2.0, load_lb * span_in / 4.0, deflection, working)


def span_point(load_lb: float, from_end_in: float, span_in: float, stiffness_lbin2: float) -> Effects:
    """Work a simple span with one load [lb] at `from_end_in` [in] from either support; otherwise as `span_uniform`."""
    _require(load_lb, span_in, stiffness_lbin2)
    require(within={"from_end_in": (from_end_in, 0.0, span_in)})
    near = min(from_end_in, span_in - from_end_in)
    far = span_in - near
    deflection = load_lb * near * (span_in**2 - near**2) ** 1.5 / (9.0 * math.sqrt(3.0) * stiffness_lbin2 * span_in)
    working = f"{load_lb:.4g} lb at {format_length(near)} from the end of {format_length(span_in)}: V = Pa/L, M = Pab/L"
    return Effects(load_lb * far / span_in, load_lb * near * far / span_in, deflection, working)


def span_two_points(load_lb: float, from_end_in: float, span_in: float, stiffness_lbin2: float) -> Effects:
    """Work a simple span with two loads of `load_lb` [lb] each, at `from_end_in` [in] from either support."""
    _require(load_lb, span_in, stiffness_lbin2)
    require(within={"from_end_in": (from_end_in, 0.0, span_in / 2.0)})
    deflection = load_lb * from_end_in * (3.0 * span_in**2 - 4.0 * from_end_in**2) / (24.0 * stiffness_lbin2)
    return Effects(
        load_lb,
        load_lb * from_end_in,
        deflection,
        f"2 x {load_lb:.4g} lb at {format_length(from_end_in)} from the ends of {format_length(span_in)}: V = P, M = Pa",
    )


def cantilever_end(load_lb: float, reach_in: float, stiffness_lbin2: float) -> Effects:
    """Work a member fixed at one end with a load [lb] at the other, `reach_in` [in] away."""
    _require(load_lb, reach_in, stiffness_lbin2)
    deflection = load_lb * reach_in**3 / (3.0 * stiffness_lbin2)
    working = f"{load_lb:.4g} lb at the end of a {format_length(reach_in)} cantilever: V = P, M = PL, deflection = PL^3/3EI"
    return Effects(load_lb, load_lb * reach_in, deflection, working)


def cantilever_uniform(load_lb_per_in: float, reach_in: float, stiffness_lbin2: float) -> Effects:
    """Work a member fixed at one end under an even load [lb/in] over its reach [in]."""
    _require(load_lb_per_in, reach_in, stiffness_lbin2)
    load = load_lb_per_in * reach_in
    deflection = load * reach_in**3 / (8.0 * stiffness_lbin2)
    working = f"{load_lb_per_in:.4g} lb/in on a {format_length(reach_in)} cantilever: V = wL, M = wL^2/2, deflection = wL^4/8EI"
    return Effects(load, load * reach_in / 2.0, deflection, working)


def add_effects(*effects: Effects) -> Effects:
    """Add several loads on one member. The largest values are added although they may lie apart: never too small."""
    return Effects(
        sum(each.shear_lb for each in effects),
        sum(each.moment_inlb for each in effects),
        sum(each.deflection_in for each in effects),
        "; ".join(each.working for each in effects),
    )


def _require(load: float, length_in: float, stiffness_lbin2: float) -> None:
    require(positive={"span": length_in, "stiffness": stiffness_lbin2}, not_negative={"load": load})
