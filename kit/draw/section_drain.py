"""The way of the waste in the side section: strainer or disposer, trap, arm, and the stub as it is and as it must be."""

import math

from kit.draw.canvas import Canvas
from kit.draw.pipes import Point, trap_line, widen
from kit.estimate import Estimate
from kit.units import format_length

__all__ = ["draw_drain"]

FLANGE_IN, BODY_IN, BODY_HIGH_IN = 4.25, 3.25, 2.0
"""Outline of a strainer of the usual form: flange, body, height below the bowl [in]; drawn, not dimensioned."""
DISPOSER_WIDE_IN, ELBOW_IN = 7.0, 2.2
STUB_IN = 3.0
TRAP_REACH = 6.4
"""Width of a trap of the usual form, in radii of its pipe."""


def draw_drain(sheet: Canvas, estimate: Estimate, outlet_in: float, wall_in: float) -> None:
    """Draw the drain from the outlet to the stub at its designed heights.

    Parameters
    ----------
    sheet
        The section; heights above the floor.
    estimate
        The estimate.
    outlet_in, wall_in
        Outlet's centre and the wall's face along the section [in].
    """
    drain = estimate.design.drain
    given, levels = drain.measures, drain.levels
    radius = given.bore_in / 2.0 + given.trap_wall_in
    weir = levels.weir_built_in + given.bore_in / 2.0
    under = estimate.design.levels.bowl_bottom_in
    if estimate.job.plumbing.disposer == "none":
        start = (outlet_in, min(under - BODY_HIGH_IN, under - 0.2))
        _draw_strainer(sheet, outlet_in, under, estimate.job.sink.bottom_thickness_in)
    else:
        start = _draw_disposer(sheet, estimate, outlet_in, wall_in, weir, radius)
    built = weir - levels.arm_fall_to_wall_in
    joint = _draw_trap(sheet, estimate, start, wall_in, radius, weir)
    sheet.line("arm", *widen((joint, (max(wall_in, joint[0] + 0.5), built)), radius), closed=True)
    arm = estimate.job.plumbing.arm_to_wall_in
    sheet.name("arm", f"arm, {format_length(arm)} from the weir to the wall", (joint[0] + wall_in) / 2.0, weir - 0.3, "right")
    sheet.upright(0.0, estimate.design.levels.bowl_bottom_in, outlet_in, side="right")
    _draw_stub(sheet, estimate, wall_in, radius, built)


def _draw_trap(sheet: Canvas, estimate: Estimate, start: Point, wall: float, radius: float, weir: float) -> Point:
    """The trap with its tailpiece; where the wall is too near, it is turned sideways. Returns where the arm begins."""
    bottom, floor = estimate.design.drain.levels.trap_bottom_in, estimate.job.cabinet.floor_height_in
    inlet = (start[0], max(weir + 1.5 * radius, bottom + radius + 0.2))
    if start[1] > inlet[1]:
        sheet.line("strainer", *widen((start, inlet), radius * 0.85), closed=True)
    room = wall - 0.8 - start[0]
    turned = room < TRAP_REACH * 0.75 * radius
    joint = (start[0], weir) if turned else (start[0] + min(TRAP_REACH * radius, room), weir)
    if turned:
        low = (start[0], bottom + 0.6 * radius)
        sheet.line("trap", *widen((inlet, low), radius), closed=True)
        sheet.line("trap", *[(start[0] - radius * math.cos(math.pi * n / 8.0), low[1] - 0.6 * radius * math.sin(math.pi * n / 8.0)) for n in range(9)])
    else:
        sheet.line("trap", *widen(trap_line(inlet, joint, bottom + radius), radius), closed=True)
    sheet.name("trap", "trap, turned sideways" if turned else "trap", start[0], bottom + radius, "left")
    if bottom < floor:
        sheet.box("overlap", start[0] - radius, bottom, joint[0] + radius, floor, hatch="cross")
        sheet.name("overlap", f"trap and cabinet floor overlap by {format_length(floor - bottom)}", start[0], (bottom + floor) / 2.0, "left")
    return joint


def _draw_strainer(sheet: Canvas, x: float, under: float, thick: float) -> None:
    inside = under + thick
    sheet.line("strainer", (x - FLANGE_IN / 2.0, inside), (x + FLANGE_IN / 2.0, inside), kind="cut", outline=False)
    low = under - BODY_HIGH_IN
    taper = BODY_IN * 0.22
    half = BODY_IN / 2.0
    corners = ((x - half, inside), (x + half, inside), (x + half, under - 0.9), (x + taper, low), (x - taper, low), (x - half, under - 0.9))
    sheet.line("strainer", *corners, closed=True)
    sheet.name("strainer", "strainer and tailpiece", x - half, under - 0.6, "left")


def _draw_disposer(sheet: Canvas, estimate: Estimate, x: float, wall: float, weir: float, radius: float) -> Point:
    """The disposer hangs below the bowl; the waste leaves its side. Returns the top of the trap's down leg."""
    under = estimate.design.levels.bowl_bottom_in
    drop, half = estimate.job.plumbing.disposer_drop_in, DISPOSER_WIDE_IN / 2.0
    low = under - drop - 2.0
    neck = under - 1.6
    sheet.line(
        "disposer", (x - 1.8, under), (x + 1.8, under), (x + 1.8, neck), (x + half, neck - 0.8), (x + half, low + 0.8), (x + half - 0.8, low), outline=False
    )
    sheet.line(
        "disposer",
        (x + half - 0.8, low),
        (x - half + 0.8, low),
        (x - half, low + 0.8),
        (x - half, neck - 0.8),
        (x - 1.8, neck),
        (x - 1.8, under),
        outline=False,
    )
    sheet.outline("disposer", x - half, low, x + half, under)
    side = max(under - drop + 2.4 * radius, weir + 2.2 * radius)
    down = max(x, min(x + half + ELBOW_IN, wall - radius - 0.3))  # beside the disposer, or before it where the wall is near
    if down > x + half + 1.0:
        bend = ((x + half, side), (down - 0.6, side), (down, side - 0.6), (down, side - 1.2))
        sheet.line("disposer", *widen(bend, radius * 0.85), closed=True, outline=False)
    words = f"disposer, {'kept' if estimate.job.plumbing.disposer == 'keep' else 'new'}, {format_length(drop)} from the bowl to the weir"
    sheet.name("disposer", words, x - half, (neck + low) / 2.0, "left")
    return down, side - 1.2


def _draw_stub(sheet: Canvas, estimate: Estimate, wall: float, radius: float, built: float) -> None:
    drain = estimate.design.drain
    end = wall + STUB_IN
    if drain.stub_in is None:
        sheet.box("stub", wall, built - radius, end, built + radius, kind="today")
        sheet.name("stub", f"stub not measured; highest that drains {format_length(drain.stub_max_in)}", end, built, "right")
        sheet.upright(0.0, built, wall, side="right")
        return
    if not drain.moves:
        sheet.box("stub", wall, built - radius, end, built + radius)
        sheet.name("stub", f"stub stays at {format_length(drain.stub_in)}; highest that drains {format_length(drain.stub_max_in)}", end, built, "right")
        sheet.upright(0.0, built, wall, side="right")
        return
    sheet.box("stub", wall, drain.stub_in - radius, end, drain.stub_in + radius, kind="today")
    sheet.name("stub", f"stub today {format_length(drain.stub_in)}, comes down {format_length(drain.lower_by_in or 0.0)}", end, drain.stub_in, "right")
    sheet.box("stub", wall, built - radius, end, built + radius, kind="edge", outline=False)
    sheet.name("", f"stub needed, at most {format_length(drain.stub_max_in)}", end, built, "right")
    sheet.upright(0.0, built, wall, side="right")
    sheet.upright(0.0, drain.stub_in, wall, side="right")
