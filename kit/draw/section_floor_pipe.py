"""The pipe of a drain that leaves through the floor in the side section: as it stands, with the tee and the vent that were found on it."""

from kit.design.drain import DrainRoute
from kit.design.place_floor_pipe import FLOOR_PIPE, FLOOR_VENT, VENT_IN_WALL
from kit.draw.canvas import Canvas
from kit.solids import Model

__all__ = ["draw_floor_pipe"]


def draw_floor_pipe(sheet: Canvas, model: Model, drain: DrainRoute) -> None:
    """Draw it where somebody measured its place; without a design trap and arm are a plumber's."""
    if FLOOR_PIPE not in model:
        return
    pipe = model[FLOOR_PIPE]
    (near, far), (low, high) = pipe.span("y"), pipe.span("z")
    for name in (FLOOR_PIPE, FLOOR_VENT, VENT_IN_WALL):
        if name in model:
            _box(sheet, model, name)
    tee = "plumbing.floor_inlet" in pipe.fields
    words = "drain pipe in the floor; trap and arm by a plumber" if drain.not_designed else "drain pipe in the floor, up to its tee"
    sheet.name("stub", words, -near, (low + high) / 2.0, "right")
    sheet.size(model.gap("wall", FLOOR_PIPE, "y", to="middle"), low, "below", "plumbing.floor_pipe_from_wall")
    sheet.size(model.gap("subfloor", FLOOR_PIPE, "z", to="far"), -near, "right", "plumbing.floor_inlet" if tee else "plumbing.floor_pipe_top")
    if VENT_IN_WALL in model:
        sheet.name("stub", "vent, into the wall", -far, sum(model[VENT_IN_WALL].span("z")) / 2.0, "right")


def _box(sheet: Canvas, model: Model, name: str) -> None:
    (near, far), (low, high) = model[name].span("y"), model[name].span("z")
    sheet.box("stub", -far, low, -near, high)
