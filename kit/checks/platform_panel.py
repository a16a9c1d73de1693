"""Does the panel under the bowls hold between the joists of its platform: bending, shear and deflection of a wood structural panel.

Panel Design Specification (allowable stress design): capacities by foot of width, for the weaker way and four plies, the fewest of that
thickness, because nobody says which way a panel is laid. Its deflection is held to the limit of any support: no stone lies on it. A design
aid: heavy or odd cases need an engineer, and the local authority decides.
"""

import itertools

from kit.checks.beams import Effects, cantilever_uniform, span_uniform
from kit.checks.finding import plain_finding
from kit.checks.wood_members import load_duration, support_limit
from kit.design.design import Design
from kit.records import Finding, Level
from kit.sources import Row, row
from kit.units import format_length

__all__ = ["check_panel"]

_FOOT_IN = 12.0


def _capacity(name: str) -> Row:
    """Capacity of the panel across its strength axis, by foot of its width."""
    return row("panel_strength", f"3/4/{name}")


def check_panel(design: Design, load_lb: float) -> list[Finding]:
    """The load spread over the panel, on its longest way between two joists, or beyond the last one where that is harder on it."""
    model = design.placed.model
    if "platform panel" not in model:
        return []
    panel = model["platform panel"]
    (first, last), wide_in = panel.span("y"), panel.size_in("x")
    joists = sorted(model[name].span("y") for name in panel.stands_on)
    between_in = max((after[0] - before[1] for before, after in itertools.pairwise(joists)), default=0.0)
    beyond_in = max(joists[0][0] - first, last - joists[-1][1], 0.0)
    per_in, stiffness = load_lb / (last - first), _capacity("stiffness-across").value * wide_in / _FOOT_IN
    ways = [
        (way(per_in, length_in, stiffness), length_in) for way, length_in in ((span_uniform, between_in), (cantilever_uniform, beyond_in)) if length_in > 0.0
    ]
    shares = [(share, name, effects) for effects, length_in in ways for name, share in _shares(effects, length_in, wide_in).items()]
    if not shares:
        return []
    share, name, effects = max(shares, key=lambda entry: entry[0])
    return [
        plain_finding(
            "support/panel",
            f"Panel of the platform: {name}",
            Level.OK if share <= 1.0 else Level.STOP,
            f"{share:.0%} of the limit",
            "100% or less",
            basis=f"{load_lb:.0f} lb over the panel, {format_length(max(between_in, 0.0))} between joists, "
            f"{format_length(beyond_in)} beyond them; {effects.working}",
            source=_capacity({"bending": "bending-across", "shear": "shear", "deflection": "stiffness-across"}[name]),
            remedy="" if share <= 1.0 else "Add a second layer of panel or one more joist, clear of the outlet.",
            margin=1.0 - share,
            unit="1",
            parts=("frame",),
        )
    ]


def _shares(effects: Effects, length_in: float, wide_in: float) -> dict[str, float]:
    """Share of what is allowed."""
    feet, duration = wide_in / _FOOT_IN, load_duration("ten-year")
    return {
        "bending": effects.moment_inlb / (_capacity("bending-across").value * duration * feet),
        "shear": effects.shear_lb / (_capacity("shear").value * duration * feet),
        "deflection": effects.deflection_in / support_limit(length_in, stone=False),
    }
