"""The side section through the outlet: counter, sink, frame, drain from the bowl to the stub, as it is today and as it must be."""

from dataclasses import dataclass
from itertools import pairwise

from kit.draw.canvas import Canvas
from kit.draw.section_drain import draw_drain
from kit.draw.section_frame import draw_frame
from kit.estimate import Estimate
from kit.units import format_length

__all__ = ["draw_section"]

SCALE = 11.0
BEFORE_IN, WALL_IN = 6.0, 3.5
"""How far the drawing reaches in front of the cabinet and into the wall [in]."""
TOE_SETBACK_IN, PANEL_IN, DOOR_IN, FACE_IN = 3.0, 0.5, 0.75, 0.75
"""Drawn, not measured, and so never dimensioned: toe space, thin panels, doors, face frame [in]."""


@dataclass(frozen=True, slots=True)
class Places:
    """Places along the section [in]: the cabinet's face is 0, plus goes to the wall."""

    counter_front: float
    wall: float
    sink_front: float
    sink_back: float
    bowl_front: float
    bowl_back: float
    outlet: float


def draw_section(estimate: Estimate) -> str:
    """The side section through the outlet as SVG, to scale; the wall is on the right.

    Every finding that is not ok and names a part shown here outlines it, stands beside its name and is listed below.
    """
    sheet = Canvas("Side section through the outlet", scale=SCALE)
    places = _find_places(estimate)
    _draw_room(sheet, estimate, places)
    _draw_cabinet(sheet, estimate)
    _draw_fronts(sheet, estimate)
    _draw_counter(sheet, estimate, places)
    _draw_sink(sheet, estimate, places)
    draw_frame(sheet, estimate, (places.sink_front + places.sink_back) / 2.0, places.outlet)
    draw_drain(sheet, estimate, places.outlet, places.wall)
    _draw_holes(sheet, estimate, places)
    if not estimate.job.sink.as_received:
        sheet.note("Sink sizes are nominal until the sink is measured as received.")
    sheet.note("Heights are to scale. Strainer, disposer and trap are drawn as outlines of the usual form; measure the parts.")
    return sheet.svg(estimate.findings)


def _find_places(estimate: Estimate) -> Places:
    job = estimate.job
    sink, counter = job.sink, job.counter
    front, deep = -counter.overhang_in, counter.run_of_sink.depth_in
    sink_front = -sink.apron_projection_in if sink.is_apron else front + (deep - sink.depth_in) / 2.0
    sink_back = sink_front + sink.depth_in
    bowl = max(sink.bowls, key=lambda one: one.depth_in)
    middle = (sink_front + sink_back) / 2.0
    return Places(
        counter_front=front,
        wall=front + deep,
        sink_front=sink_front,
        sink_back=sink_back,
        bowl_front=middle - bowl.front_to_back_in / 2.0,
        bowl_back=middle + bowl.front_to_back_in / 2.0,
        outlet=sink_back - sink.outlet_setback_in,
    )


def _draw_room(sheet: Canvas, estimate: Estimate, places: Places) -> None:
    top = estimate.design.levels.counter_top_in + 7.0
    sheet.box("", -BEFORE_IN, 0.0, places.wall + WALL_IN, -1.2, kind="none", hatch="wide")
    sheet.line("floor", (-BEFORE_IN, 0.0), (places.wall, 0.0), kind="cut")
    sheet.box("wall", places.wall, 0.0, places.wall + WALL_IN, top, kind="none", hatch="wide")
    sheet.line("wall", (places.wall, 0.0), (places.wall, top), kind="cut", outline=False)
    sheet.name("wall", "wall", places.wall + WALL_IN / 2.0, top - 2.5, "right", room=(WALL_IN, 4.0))


def _draw_cabinet(sheet: Canvas, estimate: Estimate) -> None:
    cabinet, frame = estimate.job.cabinet, estimate.design.frame
    top, back, toe = cabinet.height_in, cabinet.depth_in, cabinet.toe_height_in
    sheet.box("cabinet", 0.0, toe, back, top, kind="thin")
    sheet.line("cabinet", (TOE_SETBACK_IN, toe), (TOE_SETBACK_IN, 0.0), (back, 0.0), (back, toe), kind="thin", outline=False)
    sheet.name("cabinet", "cabinet side", back - 1.2, top * 0.62, "right")
    if toe > 0.0:
        off = frame.toe_board_off
        sheet.box("toe board", TOE_SETBACK_IN, 0.0, TOE_SETBACK_IN + PANEL_IN, toe, kind="today" if off else "edge", hatch="" if off else "slash")
        sheet.name("toe board", "toe board, off and on again" if off else "toe board", TOE_SETBACK_IN, toe * 0.5, "left")
    floor = cabinet.floor_height_in
    inside = FACE_IN if cabinet.construction == "face-frame" else 0.0
    sheet.box("cabinet floor", inside, floor - cabinet.floor_thickness_in, back, floor, hatch="slash")
    sheet.name("cabinet floor", f"cabinet floor, {cabinet.floor_material}", 1.6, floor, "left")
    if not cabinet.clear_back:
        sheet.box("", back - PANEL_IN, floor, back, top, hatch="slash")
    sheet.upright(0.0, top, 0.0, side="left")
    sheet.upright(0.0, floor, 0.0, side="left")
    sheet.across(0.0, back, 0.0, side="below")


def _draw_fronts(sheet: Canvas, estimate: Estimate) -> None:
    cabinet, cut = estimate.job.cabinet, estimate.design.cut
    top, rail = cabinet.height_in, cabinet.top_rail_in
    if cabinet.construction == "face-frame":
        gone = cut is not None and cut.rail_removed
        if rail > 0.0:
            sheet.box("rail", 0.0, top - rail, FACE_IN, top, kind="today" if gone else "edge", hatch="" if gone else "slash")
            sheet.name("rail", f"top rail{', cut away' if gone else ''}", 0.3, top - rail * 0.7, "left")
    if cabinet.false_front_bottom_in:
        gone = cut is not None and cut.false_front_removed
        low = top - cabinet.false_front_bottom_in
        sheet.box("false front", -DOOR_IN, low, 0.0, top, kind="today" if gone else "edge")
        sheet.name("false front", f"false front{', comes out' if gone else ''}", -DOOR_IN, low + 0.6, "left")
    guess = cabinet.false_front_bottom_in or rail
    high = top - (guess if cabinet.door_top_in is None else cabinet.door_top_in)
    low = cabinet.toe_height_in + 0.5
    if high > low:
        sheet.box(
            "doors", -DOOR_IN, low, 0.0, high, kind="today" if cabinet.door_top_in is None else "edge", hatch="" if cabinet.door_top_in is None else "slash"
        )
        sheet.name("doors", "door" if cabinet.door_top_in is not None else "door: its upper edge is not measured", -DOOR_IN, high - 2.5, "left")


def _draw_counter(sheet: Canvas, estimate: Estimate, places: Places) -> None:
    job, levels, hole = estimate.job, estimate.design.levels, estimate.design.top.cut_out
    low, high = levels.box_top_in, levels.counter_top_in
    front, wall = places.counter_front, places.wall
    sheet.box("counter", front, low, wall, high, kind="thin")
    strips = [(front, wall)] if hole is None else [(front, front + hole.front_strip_in), (wall - hole.rear_strip_in, wall)]
    for near, far in strips:
        if far - near > 0.01:
            sheet.box("strip", near, low, far, high, kind="cut", hatch="back")
    sheet.name("counter", f"counter, {job.counter.material}, {format_length(job.counter.thickness_in)}", wall - 0.6, (low + high) / 2.0, "right")
    sheet.upright(0.0, high, front, side="left")
    edges = [front, *(() if hole is None else (front + hole.front_strip_in, wall - hole.rear_strip_in)), wall]
    for near, far in pairwise(edges):
        sheet.across(near, far, high, side="above")
    sheet.across(front, 0.0, high, side="above")
    if job.counter.splash == "same":
        sheet.box("splash", wall - job.counter.splash_thickness_in, high, wall, high + job.counter.splash_height_in, hatch="back")
        sheet.name("splash", f"splash {format_length(job.counter.splash_height_in)}", wall - 0.4, high + job.counter.splash_height_in * 0.75, "right")


def _draw_sink(sheet: Canvas, estimate: Estimate, places: Places) -> None:
    sink, levels = estimate.job.sink, estimate.design.levels
    bowl = max(sink.bowls, key=lambda one: one.depth_in)
    rim, under, thick = levels.rim_in, levels.bowl_bottom_in, sink.bottom_thickness_in
    front, back = places.sink_front, places.sink_back
    inner, outer = (places.bowl_front, places.bowl_back), (max(front, places.bowl_front - thick), min(back, places.bowl_back + thick))
    below = max(rim - sink.rim_thickness_in, under)
    sheet.line(
        "",
        (front, rim),
        (inner[0], rim),
        (inner[0], rim - bowl.depth_in),
        (inner[1], rim - bowl.depth_in),
        (inner[1], rim),
        (back, rim),
        (back, below),
        (outer[1], below),
        (outer[1], under),
        (outer[0], under),
        (outer[0], below),
        (front, below),
        kind="cut",
        hatch="dense",
        closed=True,
    )
    sheet.outline("rim", front, below, back, rim)
    sheet.outline("bowl", outer[0], under, outer[1], rim)
    sheet.outline("sink", front, under, back, rim)
    sheet.name(
        "bowl", f"bowl {format_length(bowl.depth_in)} deep", sum(inner) / 2.0, rim - bowl.depth_in * 0.4, "left", room=(inner[1] - inner[0], bowl.depth_in)
    )
    sheet.name("rim", f"rim, {sink.mount} mount", back - 0.3, (rim + below) / 2.0, "right")
    sheet.upright(under, rim, back, side="right")
    if levels.apron_bottom_in is not None:
        sheet.box("apron", front, levels.apron_bottom_in, min(front + thick, inner[0]), rim, kind="cut", hatch="dense")
        sheet.name("apron", f"apron {format_length(rim - levels.apron_bottom_in)}", front, rim - (rim - levels.apron_bottom_in) * 0.35, "left")
        sheet.upright(levels.apron_bottom_in, 0.0, front, side="left")


def _draw_holes(sheet: Canvas, estimate: Estimate, places: Places) -> None:
    levels, counter = estimate.design.levels, estimate.job.counter
    for hole in counter.holes:
        if hole.use != "faucet":
            continue
        x, half = places.wall - hole.setback_in, hole.diameter_in / 2.0
        sheet.line("", (x, levels.box_top_in - 2.0), (x, levels.counter_top_in + 5.0), kind="centre")
        sheet.box("holes", x - half, levels.box_top_in, x + half, levels.counter_top_in)
        sheet.name("holes", f"faucet hole {format_length(hole.diameter_in)}", x, levels.counter_top_in + 2.0, "right")
        sheet.across(x, places.wall, levels.counter_top_in, side="above")
