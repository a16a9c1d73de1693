"""The frame that carries the sink, seen from the front, the right and above; members carry the numbers of the cut list."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.project import ISOMETRIC, Stroke, project
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.records import Finding
from kit.shapes import Block
from kit.solids import Body
from kit.units import format_length

__all__ = ["draw_frame_picture", "number_members"]

SCALE, SMALL = 8.5, 5.5
_APART_IN = 8.5
"""How far the exploded view takes layers apart [in]."""
_STEPS = {
    "shims below post": 0,
    "packer below post": 0,
    "block below post": 0,
    "post": 1,
    "front tie": 2,
    "platform joist": 3,
    "side cleat": 3,
    "cleat packer": 3,
    "rear cross piece": 4,
    "strip cleat": 4,
    "platform panel": 4,
    "sink rail": 4,
    "cradle bar": 4,
    "shims": 5,
}
_SPOT_IN = 0.1
_UPRIGHT = ("post", "block")
_BARS = ("sink rail", "cradle bar")


def number_members(estimate: Estimate) -> Mapping[tuple[str, float], int]:
    """The number of the members of one kind and length [in] to a thousandth: the same in pictures and cut list."""
    return {(member.name, round(member.length_in, 3)): number for number, member in enumerate(estimate.design.frame.members, 1)}


def draw_frame_picture(estimate: Estimate, *, exploded: bool = False, narrow: bool = False) -> str:
    """The frame in depth as SVG, hidden edges left out; "" for a sink without one. With `exploded` its layers stand apart.

    In the picture that is not taken apart, every finding that is not ok and names the frame or its posts has its number there.
    """
    frame = estimate.design.placed.frame
    if frame is None:
        return ""
    title, scale = ("The frame, taken apart", SMALL) if exploded else ("The frame that carries the sink", SCALE)
    bodies = [_lifted(body) for body in frame.bodies] if exploded else list(frame.bodies)
    seen = [stroke for stroke in project(bodies, ISOMETRIC) if not stroke.hidden]
    findings = () if exploded else estimate.findings
    return write_sheet(title, (fit_width(lambda smaller: _draw(title, seen, estimate, findings, smaller, narrow=narrow), scale, narrow=narrow),))


def _draw(title: str, seen: Sequence[Stroke], estimate: Estimate, findings: Sequence[Finding], scale: float, *, narrow: bool) -> Picture:
    """The picture at a scale [px/in]."""
    sheet = canvas_for(title, scale=scale, narrow=narrow, scaled=False)
    for stroke in seen:
        sheet.line(_part(stroke), stroke.start, stroke.end, outline=False)
    for part in ("frame", "posts"):
        _outline_edge(sheet, part, [stroke for stroke in seen if _part(stroke) == part])
    _name_members(sheet, seen, estimate)
    return sheet.finish(findings)


def _part(stroke: Stroke) -> str:
    return "posts" if stroke.body.name.startswith(_UPRIGHT) else "frame"


def _outline_edge(sheet: Canvas, part: str, mine: Sequence[Stroke]) -> None:
    """Flags lead to the middle of the longest edge that is seen, the rightmost of equal ones: in depth a box around a part is mostly air."""
    if mine:
        longest = max(mine, key=lambda stroke: (round(math.dist(stroke.start, stroke.end), 2), stroke.start[0]))
        x, y = ((one + other) / 2.0 for one, other in zip(longest.start, longest.end, strict=True))
        sheet.outline(part, x - _SPOT_IN, y - _SPOT_IN, x + _SPOT_IN, y + _SPOT_IN)


def _lifted(body: Body) -> Body:
    up_in = _APART_IN * next(step for kind, step in _STEPS.items() if body.name.startswith(kind))
    shapes = tuple(replace(shape, z=(shape.z[0] + up_in, shape.z[1] + up_in)) if isinstance(shape, Block) else shape for shape in body.shapes)
    return replace(body, shapes=shapes)


def _name_members(sheet: Canvas, seen: Sequence[Stroke], estimate: Estimate) -> None:
    """The number of each kind in the cut list with count and length, where a line from it crosses least of the frame."""
    named = {name for member in estimate.design.frame.members for name in member.bodies}
    for bar in dict.fromkeys(stroke.body.name for stroke in seen if stroke.body.name.startswith(_BARS) and stroke.body.name not in named):
        _name_clearest(sheet, bar, [stroke for stroke in seen if stroke.body.name == bar], seen)
    for number, member in enumerate(estimate.design.frame.members, 1):
        count = f"{member.count} x " if member.count > 1 else ""
        wide = f" x {format_length(member.width_in)}" if member.width_in else ""
        words = f"{number}: {count}{member.name}, {format_length(member.length_in)}{wide}"
        mine = [stroke for stroke in seen if stroke.body.name in member.bodies]
        if not mine:
            sheet.note(f"{words}: behind the others here.")
            continue
        _name_clearest(sheet, words, mine, seen)


def _name_clearest(sheet: Canvas, words: str, mine: Sequence[Stroke], seen: Sequence[Stroke]) -> None:
    """In the middle of the edge from which a line to the left or the right crosses least; the longest of equal ones, the leftmost of these."""
    stands = [
        (crossed, -round(math.dist(stroke.start, stroke.end), 2), x, side, y)
        for stroke in mine
        for x, y in [((stroke.start[0] + stroke.end[0]) / 2.0, (stroke.start[1] + stroke.end[1]) / 2.0)]
        for side, crossed in _crossed(x, y, seen)
    ]
    _, _, x, side, y = min(stands)
    sheet.name("", words, x, y, side)


def _crossed(x: float, y: float, seen: Sequence[Stroke]) -> tuple[tuple[Literal["left", "right"], int], ...]:
    """How many edges a level line from a point crosses on its way to each side."""
    apart = [x0 + (y - y0) * (x1 - x0) / (y1 - y0) - x for stroke in seen for (x0, y0), (x1, y1) in [(stroke.start, stroke.end)] if (y0 - y) * (y1 - y) < 0.0]
    return ("left", sum(-more > _SPOT_IN for more in apart)), ("right", sum(more > _SPOT_IN for more in apart))
