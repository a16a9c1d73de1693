"""The sink from above: opening, body, bowls, outlet, holes, and the strips of counter that stay round it."""

from typing import Literal

from kit.draw.canvas import Canvas
from kit.draw.plan_places import RunPlace
from kit.estimate import Estimate
from kit.job import FilledJob
from kit.units import format_length

__all__ = ["draw_plan_sink", "size_side"]

OVERLAP_FROM_IN = 0.005
OUTLET_IN = 1.75
"""Radius at which an outlet is drawn [in]; 3 1/2 in is the usual opening, and it is not dimensioned."""


def size_side(job: FilledJob) -> Literal["above", "below"]:
    """Where the lengths along the run of the sink stand: at its front, or at its wall when other runs lie before it."""
    return "below" if len(job.counter.runs) == 1 else "above"


def draw_plan_sink(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    """Draw everything of the sink into its run; the run lies across the sheet, its wall at the top."""
    _draw_cabinet(sheet, estimate, place)
    _draw_opening(sheet, estimate, place)
    _draw_body(sheet, estimate, place)
    _draw_holes(sheet, estimate, place)
    _draw_clashes(sheet, estimate, place)


def _draw_cabinet(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    job = estimate.job
    cabinet, middle = job.cabinet, job.counter.sink_center_in
    face = place.run.depth_in - job.counter.overhang_in
    left, right = middle - cabinet.width_in / 2.0, middle + cabinet.width_in / 2.0
    sheet.box("cabinet", *place.at(left, face), *place.at(right, face - cabinet.depth_in), kind="hidden")
    for near, far in ((left, left + cabinet.side_thickness_in), (right - cabinet.side_thickness_in, right)):
        sheet.box("cabinet", *place.at(near, face), *place.at(far, face - cabinet.depth_in), kind="hidden", outline=False)
    x, y = place.at(left, face - cabinet.depth_in * 0.35)
    sheet.name("cabinet", f"sink base {format_length(cabinet.width_in)}", x, y, "left")
    for neighbour, at, way in ((cabinet.left, left, -1.0), (cabinet.right, right, 1.0)):
        end = at + way * 14.0
        if neighbour.kind in {"wall", "open", "range"} or not 0.0 <= end <= place.run.length_in:
            continue
        sheet.name("", neighbour.kind, *place.at((at + end) / 2.0, face - 4.0), room=(14.0, 4.0))


def _draw_opening(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    hole = estimate.design.top.cut_out
    if hole is None:
        return
    left, right = hole.left_in, hole.left_in + hole.width_in
    rear, front = hole.rear_strip_in, hole.rear_strip_in + hole.front_to_back_in
    deep, length = place.run.depth_in, place.run.length_in
    sheet.box("cut-out", *place.at(left, rear), *place.at(right, front), kind="cut")
    what = "opening, open to the front" if hole.open_front else "opening"
    words = f"{what}: {format_length(hole.width_in)} x {format_length(hole.front_to_back_in)}"
    sheet.name("cut-out", words, *place.at(left, front - hole.front_to_back_in * 0.2))
    side = size_side(estimate.job)
    edge_y = place.at(0.0, deep if side == "below" else 0.0)[1]
    x0, x1, x2, x3 = (place.at(at, deep)[0] for at in (0.0, left, right, length))
    for near, far in ((x0, x1), (x1, x2), (x2, x3)):
        sheet.across(near, far, edge_y, side=side)
    for near, far in ((0.0, rear), (rear, front), (front, deep)):
        sheet.upright(place.at(0.0, near)[1], place.at(0.0, far)[1], x1, side="left")
    for near, far in ((0.0, rear), (front, deep)):
        if far > near:
            sheet.outline("strip", *place.at(left, near), *place.at(right, far))


def _draw_body(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    job, levels = estimate.job, estimate.design.levels
    sink, middle = job.sink, job.counter.sink_center_in
    face, deep = place.run.depth_in - job.counter.overhang_in, place.run.depth_in
    front = face + sink.apron_projection_in if sink.is_apron else (deep + sink.depth_in) / 2.0
    back = front - sink.depth_in
    kind = "hidden" if sink.mount == "under" and levels.rim_in < levels.counter_top_in else "edge"
    left, right = middle - sink.body_width_in / 2.0, middle + sink.body_width_in / 2.0
    sheet.box("sink", *place.at(left, back), *place.at(right, front), kind=kind)
    sheet.outline("rim", *place.at(left, back), *place.at(right, front))
    sheet.name("sink", f"sink {format_length(sink.body_width_in)} x {format_length(sink.depth_in)}, {sink.mount} mount", *place.at(right, back + 2.0), "right")
    sheet.line("", place.at(middle, -1.5), place.at(middle, deep + 1.5), kind="centre")
    if sink.apron_width_in is not None:
        half = sink.apron_width_in / 2.0
        sheet.box("apron", *place.at(middle - half, front), *place.at(middle + half, front - sink.bottom_thickness_in), kind="cut", hatch="dense")
        sheet.name("apron", f"apron, {format_length(sink.apron_projection_in)} before the face", *place.at(middle + half - 2.0, front), "right")
    _draw_bowls(sheet, estimate, place, (front + back) / 2.0, back)


def _draw_bowls(sheet: Canvas, estimate: Estimate, place: RunPlace, centre: float, back: float) -> None:
    sink, middle = estimate.job.sink, estimate.job.counter.sink_center_in
    web = (sink.bowl_width_in - sum(bowl.width_in for bowl in sink.bowls)) / (len(sink.bowls) + 1)
    x = middle - sink.bowl_width_in / 2.0 + web
    for number, bowl in enumerate(sink.bowls):
        half = bowl.front_to_back_in / 2.0
        sheet.box("bowl", *place.at(x, centre - half), *place.at(x + bowl.width_in, centre + half))
        words = f"bowl {format_length(bowl.width_in)} x {format_length(bowl.front_to_back_in)}"
        where = place.at(x + bowl.width_in / 2.0, centre + half * 0.55)
        sheet.name("bowl" if number == 0 else "", words, *where, "left", room=(bowl.width_in, half * 0.85))
        offset = sink.outlet_offset_in if len(sink.bowls) == 1 else 0.0
        outlet = place.at(x + bowl.width_in / 2.0 + offset, back + sink.outlet_setback_in)
        sheet.circle("", *outlet, OUTLET_IN)
        sheet.circle("", *outlet, 0.4, kind="thin")
        x += bowl.width_in + web


def _draw_holes(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    counter = estimate.job.counter
    for hole in counter.holes:
        x, y = place.at(counter.sink_center_in + hole.offset_in, hole.setback_in)
        radius = hole.diameter_in / 2.0
        sheet.circle("holes", x, y, radius)
        sheet.line("", (x - radius - 0.6, y), (x + radius + 0.6, y), kind="thin")
        sheet.line("", (x, y - radius - 0.6), (x, y + radius + 0.6), kind="thin")
        words = f"{hole.use.replace('-', ' ')} hole {format_length(hole.diameter_in)}, {format_length(hole.setback_in)} from the wall"
        sheet.name("holes", words, x, y)
        if hole.offset_in:
            sheet.across(place.at(counter.sink_center_in, 0.0)[0], x, place.at(0.0, 0.0)[1], side="above")


def _draw_clashes(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    """Where the body lies over the sides of its base, and holes over the opening."""
    job, hole = estimate.job, estimate.design.top.cut_out
    middle, half, inside = job.counter.sink_center_in, job.sink.body_width_in / 2.0, job.cabinet.inside_width_in / 2.0
    if half - inside > OVERLAP_FROM_IN:
        face = place.run.depth_in - job.counter.overhang_in
        for way in (-1.0, 1.0):
            sheet.box("overlap", *place.at(middle + way * inside, face), *place.at(middle + way * half, face - job.sink.depth_in), kind="thin", hatch="cross")
        words = f"sink and cabinet sides overlap by {format_length(half - inside)} on each side"
        sheet.name("overlap", words, *place.at(middle + inside, face - job.sink.depth_in * 0.7), "right")
    if hole is None:
        return
    for drilled in job.counter.holes:
        radius, along = drilled.diameter_in / 2.0, middle + drilled.offset_in
        over = drilled.setback_in + radius - hole.rear_strip_in
        if over > OVERLAP_FROM_IN and hole.left_in - radius < along < hole.left_in + hole.width_in + radius:
            low = max(hole.rear_strip_in, drilled.setback_in - radius)
            sheet.box("overlap", *place.at(along - radius, low), *place.at(along + radius, drilled.setback_in + radius), kind="thin", hatch="cross")
            sheet.name("overlap", f"{drilled.use.replace('-', ' ')} hole and opening overlap by {format_length(over)}", *place.at(along, low))
