"""What stands around the front of the sink base in an elevation: floor, walls, neighbors, and where the drawing ends."""

from dataclasses import replace

from kit.design.place_boxes import base_top_in, base_width
from kit.draw.canvas import Canvas
from kit.draw.project import Stroke
from kit.estimating import Estimate
from kit.shapes import Block
from kit.solids import Body
from kit.spans import TOUCH_IN, Span
from kit.units import format_length

__all__ = ["SHOWN_IN", "clip_body", "draw_floor", "draw_neighbors", "draw_side_walls", "goes_on", "window_of"]

SHOWN_IN = 10.5
"""How much of a neighbor is shown [in]."""


def window_of(estimate: Estimate) -> Span:
    """What is shown along the wall [in]: the sink base and a piece of either neighbor."""
    left, right = base_width(estimate.design.placed.model).span
    return left - SHOWN_IN, right + SHOWN_IN


def clip_body(body: Body, window: tuple[float, float]) -> Body | None:
    """What of a body lies between two places along the wall."""
    blocks = [shape for shape in body.shapes if isinstance(shape, Block) and shape.x[1] > window[0] and shape.x[0] < window[1]]
    shapes = tuple(replace(block, x=(max(block.x[0], window[0]), min(block.x[1], window[1]))) for block in blocks)
    return replace(body, shapes=shapes) if shapes else None


def goes_on(stroke: Stroke, window: Span) -> bool:
    """Whether a stroke is where the drawing ends and the body does not."""
    return any(abs(stroke.start[0] - edge) + abs(stroke.end[0] - edge) < TOUCH_IN for edge in window)


def draw_floor(sheet: Canvas, window: Span) -> None:
    """The floor, a little past what is shown along the wall [in]."""
    left, right = window[0] - 1.0, window[1] + 1.0
    sheet.box("", left, 0.0, right, -1.2, kind="none", hatch="wide")
    sheet.line("floor", (left, 0.0), (right, 0.0), kind="cut")


def draw_side_walls(sheet: Canvas, estimate: Estimate, counter: Body) -> None:
    """A wall at an end of the run that this countertop lies on, where it lies within the drawing."""
    run, window = estimate.job.counter.run_of_sink, window_of(estimate)
    (left, right), high = counter.span("x"), counter.span("z")[1]
    for end, x, way in ((run.left_end, left, -1.0), (run.right_end, right, 1.0)):
        if end == "wall" and window[0] <= x <= window[1]:
            _draw_wall(sheet, x, way, high + 3.0)


def _draw_wall(sheet: Canvas, x: float, way: float, top: float) -> None:
    sheet.line("wall", (x, 0.0), (x, top), kind="cut")
    sheet.box("wall", x, 0.0, x + way * 1.5, top, kind="none", hatch="wide", outline=False)


def draw_neighbors(sheet: Canvas, estimate: Estimate, *, for_crew: bool = True) -> None:
    """What stands left and right of the sink base, with its gap for the crew."""
    cabinet, model = estimate.job.cabinet, estimate.design.placed.model
    (left, right), top = base_width(model).span, base_top_in(model)
    toe_in = model["toe kick"].span("z")[1] if "toe kick" in model else 0.0
    for part, neighbor, near, way in (("left neighbor", cabinet.left, left, -1.0), ("right neighbor", cabinet.right, right, 1.0)):
        start, end = near + way * neighbor.gap_in, near + way * (SHOWN_IN + 0.5)
        kind_of = (f"cabinet.{part.partition(' ')[0]}.kind",)
        kind_and_gap = (*kind_of, f"cabinet.{part.partition(' ')[0]}.gap") if for_crew else kind_of
        words = f"{neighbor.kind}, gap {format_length(neighbor.gap_in)}" if for_crew else neighbor.kind
        if neighbor.kind == "wall":
            _draw_wall(sheet, start, way, top)
            sheet.name(part, words, start + way * 0.5, top * 0.4, fields=kind_and_gap)
            sheet.outline(part, start, 0.0, start + way * 1.5, top)
        elif neighbor.kind == "open":
            sheet.name(part, f"{part.partition(' ')[0]} side open", near, top * 0.4, fields=kind_of)
            sheet.outline(part, near - 0.1, 0.0, near + 0.1, top)
        elif abs(end - start) > 1.0:
            low = 0.5 if neighbor.kind == "range" else toe_in
            _draw_broken(sheet, part, start, end, low, top - 0.25)
            if neighbor.kind == "drawer":
                sheet.line("", (start, top - 6.5), (end, top - 6.5), kind="thin")
            room = (abs(end - start), (top - low) * 0.6)
            sheet.name(part, words, (start + end) / 2.0, low + (top - low) * 0.4, room=room, fields=kind_and_gap)


def _draw_broken(sheet: Canvas, part: str, start: float, end: float, low: float, high: float) -> None:
    """A front that goes on beyond the drawing: its far edge is a break line."""
    middle, step = low + (high - low) * 0.68, 0.7
    sheet.line(part, (end, high), (start, high), (start, low), (end, low))
    sheet.line("", (end, low - 0.8), (end, middle - step), (end - step, middle), (end + step, middle), (end, middle + step), (end, high + 0.8), kind="thin")
