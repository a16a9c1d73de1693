"""The front elevation as it stands today: the old sink in the old countertop, on the base with its doors."""

from kit.design.place_boxes import base_width, high_side
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.front_room import SHOWN_IN, clip_body, draw_floor, draw_neighbors, draw_side_walls, goes_on, window_of
from kit.draw.project import FROM_FRONT, project
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.job.field_names import say_choice
from kit.shapes import Block
from kit.solids import Stage
from kit.units import format_length

__all__ = ["draw_today"]

TITLE = "The front as it stands today"
SCALE = 7.3
_SHOWN_PARTS = {"cabinet", "doors", "false front", "old countertop", "counter", "splash", "run boxes"}
_OLD_PARTS = {"old countertop": "counter"}


def draw_today(estimate: Estimate, *, narrow: bool = False) -> str:
    """The dimensioned front elevation of what comes out, as SVG, to scale: the model of today seen from the front, the old sink behind the front dashed."""
    return write_sheet(TITLE, (fit_width(lambda scale: _draw(estimate, scale, narrow=narrow), SCALE, narrow=narrow),))


def _draw(estimate: Estimate, scale: float, *, narrow: bool) -> Picture:
    model, sheet, window = estimate.design.placed.model, canvas_for(TITLE, scale=scale, narrow=narrow), window_of(estimate)
    draw_floor(sheet, window)
    bodies = [clipped for body in model.at(Stage.TODAY) if body.part in _SHOWN_PARTS and (clipped := clip_body(body, window))]
    for stroke in project(bodies, FROM_FRONT):
        if not stroke.hidden and not goes_on(stroke, window):
            sheet.line(_OLD_PARTS.get(stroke.body.part, stroke.body.part), stroke.start, stroke.end, outline=False)
    if "old sink" in model:
        for shape in model["old sink"].shapes:
            if isinstance(shape, Block):
                sheet.box("sink", shape.x[0], shape.z[0], shape.x[1], shape.z[1], kind="hidden")
    draw_side_walls(sheet, estimate, model["old countertop" if "old countertop" in model else "counter"])
    draw_neighbors(sheet, estimate)
    _name_all(sheet, estimate)
    _size_all(sheet, estimate)
    sheet.note("The old bowl is drawn in a usual shape.")
    return sheet.finish()


def _name_all(sheet: Canvas, estimate: Estimate) -> None:
    old, model = estimate.job.old, estimate.design.placed.model
    right = base_width(model).span[1] + SHOWN_IN - 1.0
    if "old sink" in model:
        body = model["old sink"]
        words = f"old sink, {say_choice('old.sink_kind', old.sink_kind)}"
        sheet.name("", words, body.span("x")[1] - 3.0, body.span("z")[0] + 0.5, "right", fields=("old.sink_kind",))
    if "old countertop" in model:
        words = f"old countertop, {say_choice('old.counter_material', old.counter_material)}, {format_length(old.counter_thickness_in)}"
        sheet.name("", words, right, model["old countertop"].middle[2], "right", fields=("old.counter_material", "old.counter_thickness"))
    doors = next((model[name] for name in ("doors today", "doors") if name in model), None)
    if doors is not None:
        sheet.name("", "doors", doors.middle[0], doors.middle[2], room=(doors.size_in("x"), doors.size_in("z")))
    if "old backsplash" in model:
        words = f"old backsplash, {say_choice('old.splash', old.splash)}"
        sheet.name("", words, right - 2.0, model["old backsplash"].middle[2], "right", fields=("old.splash",))


def _size_all(sheet: Canvas, estimate: Estimate) -> None:
    model = estimate.design.placed.model
    left = base_width(model).span[0]
    sheet.size(base_width(model), 0.0, "below", "cabinet.width")
    sheet.size(model.size(high_side(model), "z"), left, "left", "cabinet.height")
    if "old sink" in model:
        sheet.size(model.size("old sink", "x"), model["old sink"].span("z")[1], "above", "old.sink_width")
    for name, field in (("old countertop", "old.counter_thickness"), ("old backsplash", "old.splash_height")):
        if name in model:
            sheet.size(model.size(name, "z"), left - SHOWN_IN, "left", field)
