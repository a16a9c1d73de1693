"""The way of the waste in the side section: strainer or disposer, trap, arm, and the stub as it is and as it must be."""

import math
from collections.abc import Sequence

from kit.design.drain_parts import WASTE_TUBE
from kit.draw.canvas import Canvas
from kit.draw.pipes import Point, trap_line, widen
from kit.draw.section_floor_pipe import draw_floor_pipe
from kit.estimating import Estimate
from kit.shapes import Rod
from kit.solids import Gap, Model
from kit.units import format_length, format_limit

__all__ = ["draw_drain"]

FLANGE_IN, BODY_IN, BODY_HIGH_IN = 4.25, 3.25, 2.0
"""Outline of a strainer of the usual form: flange, body, height below the bowl [in]; drawn, not dimensioned."""
STUB_IN = 3.0
MEASURED = "plumbing.stub_height"
_WASTES = ("continuous waste", WASTE_TUBE)


def draw_drain(sheet: Canvas, estimate: Estimate) -> None:
    """Draw the drain of the model from the outlet to the stub; the sheet's x is 0 at the wall, minus into the room.

    A trap beside a disposer, further from the eye, is drawn as hidden.
    """
    drain, placed = estimate.design.drain, estimate.design.placed
    measures, levels, model = drain.measures, drain.levels, placed.model
    outlet_in = -placed.sink.outlets[0][1]
    radius = measures.bore_in / 2.0 + measures.trap_wall_in
    weir = levels.weir_built_in + measures.bore_in / 2.0
    if drain.through_floor:
        top = _draw_outlet(sheet, estimate, outlet_in, weir, radius)
        if not drain.not_designed:
            _draw_to_pipe(sheet, estimate, (-drain.way.inlet[1], top), radius, weir)
        draw_floor_pipe(sheet, model, drain)
        return
    trap = model["trap"]
    center_in, turned = radius - trap.span("y")[1], trap.size_in("x") > trap.size_in("y")
    start, kind = (center_in, _draw_outlet(sheet, estimate, outlet_in, weir, radius)), "edge"
    if "disposer" in model:
        kind = "hidden" if model["trap"].middle[0] > model["disposer"].middle[0] else "edge"
    built = weir - levels.arm_fall_to_wall_in
    joint = (start[0] if turned else -trap.span("y")[0], weir)
    _draw_trap(sheet, model, start, joint, radius, kind, turned=turned)
    sheet.line("arm", *widen((joint, (0.0, built)), radius), closed=True)
    sheet.name(
        "arm",
        f"arm, {format_length(measures.run_to_wall_in)} from the weir to the wall",
        joint[0] * 0.3,
        weir - 0.3,
        "right",
        fields=model["trap"].fields,
    )
    _draw_stub(sheet, estimate, 0.0, radius, built)
    _draw_wastes(sheet, [rod for name in _WASTES if name in model for rod in model[name].shapes if isinstance(rod, Rod)])


def _draw_outlet(sheet: Canvas, estimate: Estimate, x: float, weir: float, radius: float) -> float:
    """Strainer or disposer. Returns where what leads to the trap begins."""
    placed = estimate.design.placed
    if "disposer" in placed.model:
        return _draw_disposer(sheet, estimate, x, weir, radius)
    under = placed.sink.under_in
    words = "strainer and tailpiece" if "tailpiece" in placed.model else "strainer"
    _draw_strainer(sheet, x, under, min(bowl.z[0] for bowl in placed.sink.bowls) - under, words)
    return under - BODY_HIGH_IN


def _draw_to_pipe(sheet: Canvas, estimate: Estimate, start: Point, radius: float, weir: float) -> None:
    """Trap and arm to the tee on the pipe in the floor, which may lie behind, before or beside the outlet: seen from its end, an arm is round."""
    drain, model = estimate.design.drain, estimate.design.placed.model
    (inlet_x, inlet_y), (outlet_x, outlet_y) = drain.way.inlet, drain.way.outlet
    joint = (-outlet_y, weir)
    _draw_trap(sheet, model, start, joint, radius, "edge", turned=abs(outlet_x - inlet_x) > abs(outlet_y - inlet_y))
    end = (-drain.way.points[0][1], weir - drain.levels.arm_fall_to_wall_in)
    if abs(end[0] - joint[0]) > radius:
        sheet.line("arm", *widen((joint, end), radius), closed=True)
    else:
        sheet.circle("arm", *joint, radius)
    words = f"arm, {format_length(drain.measures.run_to_wall_in)} from the weir to the tee"
    sheet.name("arm", words, (joint[0] + end[0]) / 2.0, weir - 0.3, "right", fields=model["trap"].fields)


def _draw_wastes(sheet: Canvas, rods: Sequence[Rod]) -> None:
    """The waste of a further bowl: it runs away from the eye, or to the wall and back where it goes behind a disposer."""
    for rod in rods:
        if rod.start[0] != rod.end[0]:
            sheet.circle("strainer", -rod.start[1], rod.start[2], rod.radius_in)
        else:
            sheet.line("strainer", *widen(((-rod.start[1], rod.start[2]), (-rod.end[1], rod.end[2])), rod.radius_in), closed=True, kind="thin")
    if rods:
        sheet.name("", "waste from the other bowl", -rods[-1].end[1] - rods[-1].radius_in, rods[-1].end[2], "left")


def _draw_trap(sheet: Canvas, model: Model, start: Point, joint: Point, radius: float, kind: str, *, turned: bool) -> None:
    """The trap with its tailpiece, from `start` to where the arm begins, or turned along the wall."""
    floor, bottom, weir = model["cabinet floor"].span("z")[1], model["trap"].span("z")[0], joint[1]
    inlet = (start[0], max(weir + 1.5 * radius, bottom + radius + 0.2))
    if start[1] > inlet[1]:
        sheet.line("strainer", *widen((start, inlet), radius * 0.85), closed=True, kind=kind)
    if turned:
        low = (start[0], bottom + 0.6 * radius)
        sheet.line("trap", *widen((inlet, low), radius), closed=True, kind=kind)
        bend = [(start[0] - radius * math.cos(math.pi * step / 8.0), low[1] - 0.6 * radius * math.sin(math.pi * step / 8.0)) for step in range(9)]
        sheet.line("trap", *bend, kind=kind)
    else:
        sheet.line("trap", *widen(trap_line(inlet, joint, bottom + radius), radius), closed=True, kind=kind)
    sheet.name("trap", "trap, turned along the wall" if turned else "trap", start[0], bottom + radius, "left")
    if bottom < floor:
        sheet.box("overlap", min(start[0], joint[0]) - radius, bottom, max(start[0], joint[0]) + radius, floor, hatch="cross")
        sheet.name("overlap", f"trap and cabinet floor overlap by {format_length(floor - bottom)}", start[0], (bottom + floor) / 2.0, "left")


def _draw_strainer(sheet: Canvas, x: float, under: float, thick: float, words: str) -> None:
    inside = under + thick
    sheet.line("strainer", (x - FLANGE_IN / 2.0, inside), (x + FLANGE_IN / 2.0, inside), kind="cut", outline=False)
    low = under - BODY_HIGH_IN
    taper = BODY_IN * 0.22
    half = BODY_IN / 2.0
    corners = ((x - half, inside), (x + half, inside), (x + half, under - 0.9), (x + taper, low), (x - taper, low), (x - half, under - 0.9))
    sheet.line("strainer", *corners, closed=True)
    sheet.name("strainer", words, x - half, under - 0.6, "left")


def _draw_disposer(sheet: Canvas, estimate: Estimate, x: float, weir: float, radius: float) -> float:
    """The disposer hangs below the bowl; the waste leaves at its side. Returns the top of the trap's down leg."""
    disposer, drop = estimate.design.placed.model["disposer"], estimate.design.drain.measures.need_in
    (low, under), half = disposer.span("z"), disposer.size_in("y") / 2.0
    neck = under - 1.6
    for side in (-1.0, 1.0):
        points = ((x, low), (x + side * (half - 0.8), low), (x + side * half, low + 0.8), (x + side * half, neck - 0.8), (x + side * 1.8, neck))
        sheet.line("disposer", *points, (x + side * 1.8, under), outline=False)
    sheet.outline("disposer", x - half, low, x + half, under)
    words = f"disposer, {'kept' if estimate.job.plumbing.disposer == 'keep' else 'new'}, {format_length(drop)} from the bowl to the weir"
    sheet.name("disposer", words, x - half, (neck + low) / 2.0, "left", fields=("plumbing.disposer", "plumbing.disposer_drop"))
    return max(under - drop + 2.4 * radius, weir + 2.2 * radius)


def _draw_stub(sheet: Canvas, estimate: Estimate, wall: float, radius: float, built: float) -> None:
    drain = estimate.design.drain
    end, highest = wall + STUB_IN, format_limit(drain.stub_max_in, most=True)
    if drain.stub_in is None:
        sheet.box("stub", wall, built - radius, end, built + radius, kind="today")
        sheet.name("stub", f"stub not measured; highest that drains {highest}", end, built, "right", fields=(MEASURED,))
        sheet.size(_height(built), wall, "right", MEASURED)
        return
    if not drain.moves:
        sheet.box("stub", wall, built - radius, end, built + radius)
        sheet.name("stub", f"stub stays at {format_length(drain.stub_in)}; highest that drains {highest}", end, built, "right", fields=(MEASURED,))
        sheet.size(_height(built), wall, "right", MEASURED)
        return
    sheet.box("stub", wall, drain.stub_in - radius, end, drain.stub_in + radius, kind="today")
    words = f"stub today {format_length(drain.stub_in)}, comes down {format_length(drain.lower_by_in or 0.0)}"
    sheet.name("stub", words, end, drain.stub_in, "right", fields=(MEASURED, "plumbing.stub_wanted"))
    sheet.box("stub", wall, built - radius, end, built + radius, kind="edge", outline=False)
    sheet.name("", f"stub needed {format_length(drain.stub_built_in)}, at most {highest}", end, built, "right", fields=("plumbing.stub_wanted",))
    sheet.size(_height(built), wall, "right")
    sheet.size(_height(drain.stub_in), wall, "right", MEASURED)


def _height(up_in: float) -> Gap:
    """From the floor to the center of the stub."""
    return Gap(up_in, "z", (0.0, up_in), (MEASURED,))
