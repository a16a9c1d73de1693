"""How does this alternate look? The cut through its outlet, small enough for a row of a table: counter gray, sink black, the rest in outline."""

from collections.abc import Iterator
from html import escape

from kit.estimating import Estimate
from kit.shapes import Block
from kit.solids import Body, Stage

__all__ = ["draw_small_section"]

ABOVE_IN, BELOW_IN, BEFORE_IN, BEYOND_IN = 5.0, 4.0, 2.0, 1.0
"""How far it reaches above the counter, below the bowl, before the counter and into the wall [in]."""
WIDE = 132
"""Width on the screen [px]."""
_LINE_IN = 0.25
_OUTLINE = f'fill="none" stroke="currentColor" stroke-width="{_LINE_IN}"'
_SOLID = 'fill="currentColor" stroke="currentColor" stroke-width=".4"'
"""With an edge: a sheet of steel alone is thinner than what a screen shows."""
_LOOKS = {
    "rim": _SOLID,
    "bowl": _SOLID,
    "apron": _SOLID,
    "counter": 'fill="currentColor" fill-opacity=".4"',
    "splash": 'fill="currentColor" fill-opacity=".4"',
    "frame": f'fill="currentColor" fill-opacity=".12" stroke="currentColor" stroke-width="{_LINE_IN}"',
    "cabinet": _OUTLINE,
    "doors": _OUTLINE,
    "false front": _OUTLINE,
}


def draw_small_section(estimate: Estimate, name: str) -> str:
    """The built job cut through its outlet and seen from the left, to scale, as SVG in the color of the text around it.

    `name` is what it shows, for those who can't see it.
    """
    placed = estimate.design.placed
    model = placed.model
    front, top = model["counter"].span("y")[1], model["counter"].span("z")[1]
    bottom = min(bowl.z[0] for bowl in placed.sink.bowls)
    left, upper = -front - BEFORE_IN, -top - ABOVE_IN
    wide, tall = front + BEFORE_IN + BEYOND_IN, top + ABOVE_IN - bottom + BELOW_IN
    shapes = "".join(_draw_cut(body, placed.sink.outlets[0][0]) for body in model.at(Stage.BUILT) if body.part in _LOOKS)
    wall = f'<path d="M0 {upper:.2f}V{upper + tall:.2f}" stroke="currentColor" stroke-width=".5"/>'
    return (
        f'<svg class="sk-small-section" viewBox="{left:.2f} {upper:.2f} {wide:.2f} {tall:.2f}" width="{WIDE}" height="{WIDE * tall / wide:.0f}" role="img" '
        f'aria-label="{escape(name)}"><title>{escape(name)}</title>{wall}{shapes}</svg>'
    )


def _draw_cut(body: Body, cut_in: float) -> str:
    return "".join(f'<path data-part="{body.part}" d="{path}" {_LOOKS[body.part]}/>' for path in _cut_paths(body, cut_in))


def _cut_paths(body: Body, cut_in: float) -> Iterator[str]:
    """The rectangles in which a plane across the wall cuts a body; left is the room, down is plus."""
    for shape in body.shapes:
        if isinstance(shape, Block) and shape.x[0] < cut_in < shape.x[1]:
            (near, far), (low, high) = shape.y, shape.z
            yield f"M{-far:.2f} {-high:.2f}H{-near:.2f}V{-low:.2f}H{-far:.2f}Z"
