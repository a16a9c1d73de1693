"""The run of the sink from above: its counter, sink, apron and base as the model has them, and the holes in it."""

from dataclasses import replace
from types import MappingProxyType
from typing import Literal

from kit.design.place_boxes import base_width, face_in
from kit.design.place_counter import opening_gaps
from kit.design.place_floor_pipe import FLOOR_PIPE
from kit.design.place_holes import DeckHole
from kit.design.place_run import locate_boxes
from kit.design.run_places import Point, RunPlace
from kit.draw.canvas import Canvas
from kit.draw.project import FROM_ABOVE, Stroke, project
from kit.estimating import Estimate
from kit.job import FilledJob
from kit.job.field_names import mount_words
from kit.shapes import Block
from kit.solids import Body, Gap, Stage
from kit.spans import Span
from kit.units import format_length

__all__ = ["PlanSheet", "draw_plan_sink", "in_square", "size_side"]

OVERLAP_FROM_IN = 0.005
OUTLET_IN = 1.75
"""Radius at which an outlet is drawn [in]; 3 1/2 in is the usual opening, and it is not dimensioned."""
_SHOWN_PARTS = {"counter", "splash", "rim", "bowl", "apron"}
_BELOW, _BELOW_PARTS = {"side left", "side right", "sink rim", "apron"}, {"run boxes", "dishwasher"}
"""What is also drawn where the counter hides it."""
_SHORTEST_IN, _USUAL_IN = 14.0, 24.0
"""A neighbor of unknown width is named where the counter goes on beside the base for the one, and within the other [in]."""
_NEIGHBORS = MappingProxyType({"door": "door base", "drawer": "drawer base", "open": "open space"})


def size_side(job: FilledJob) -> Literal["above", "below"]:
    """Where the lengths along the run of the sink stand: at its front, or at its wall when other runs lie before it."""
    return "below" if len(job.counter.runs) == 1 else "above"


def draw_plan_sink(sheet: Canvas, estimate: Estimate, place: RunPlace) -> None:
    """Draw the run of the sink where it lies in the plan: across the sheet, its wall at the top."""
    at = PlanSheet(estimate, place)
    _draw_bodies(sheet, estimate, at)
    _name_sink(sheet, estimate, at)
    _size_opening(sheet, estimate, at)
    _draw_outlets(sheet, estimate, at)
    _draw_floor_pipe(sheet, estimate, at)
    _draw_holes(sheet, estimate, at)
    _draw_clashes(sheet, estimate, at)


class PlanSheet:
    """Where a place of the model lies in the plan [in]: the run's left end is that of the counter in the model."""

    def __init__(self, estimate: Estimate, place: RunPlace) -> None:
        self.left_in = place.at(place.run.own_span_in[0], 0.0)[0] - estimate.design.placed.model["counter"].span("x")[0]
        self.wall_in = place.origin[1]

    def at(self, x_in: float, y_in: float) -> Point:
        """The point of the plan for a place along the wall and one from the wall."""
        return self.left_in + x_in, self.wall_in - y_in

    def across(self, gap: Gap) -> Gap:
        """A gap along the wall, moved to where it lies in the plan."""
        return replace(gap, span=(self.left_in + gap.span[0], self.left_in + gap.span[1]))

    def forward(self, gap: Gap) -> Gap:
        """A gap from the wall, moved to where it lies in the plan."""
        return replace(gap, span=(self.wall_in - gap.span[1], self.wall_in - gap.span[0]))


def _draw_bodies(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    """Seen from above; sides of the base, rim and apron also below the counter, and the face of the base."""
    placed = estimate.design.placed
    bodies = [body for body in placed.model.at(Stage.BUILT) if body.part in _SHOWN_PARTS or _is_below(body)]
    squares = [hole.room for hole in placed.holes]
    for stroke in project(bodies, FROM_ABOVE):
        if (stroke.hidden and not _is_below(stroke.body)) or any(in_square(stroke, square) for square in squares):
            continue
        kind = "hidden" if stroke.hidden else "cut" if stroke.body.part == "counter" else "thin"
        (x0, up0), (x1, up1) = stroke.start, stroke.end
        sheet.line(stroke.body.part, at.at(x0, -up0), at.at(x1, -up1), kind=kind, outline=False)
    _outline(sheet, at, "sink", placed.sink.rim_x, placed.sink.rim_y)
    for body in bodies:
        _outline(sheet, at, body.part, body.span("x"), body.span("y"))
    _draw_apron(sheet, bodies, at)
    left, right = base_width(placed.model).span
    face = face_in(placed.model)
    sheet.line("cabinet", at.at(left, face), at.at(right, face), kind="hidden", outline=False)


def _is_below(body: Body) -> bool:
    """Whether it is shown through the counter: sides of the base, and the boxes beside it."""
    return body.name in _BELOW or body.part in _BELOW_PARTS


def in_square(stroke: Stroke, square: tuple[Span, Span]) -> bool:
    """Whether a stroke belongs to the square gap in the strips that stands for a round hole."""
    (left, right), (near, far) = square
    (x0, up0), (x1, up1) = stroke.start, stroke.end
    return left - 1e-3 <= min(x0, x1) and max(x0, x1) <= right + 1e-3 and near - 1e-3 <= -max(up0, up1) and -min(up0, up1) <= far + 1e-3


def _outline(sheet: Canvas, at: PlanSheet, part: str, x: Span, y: Span) -> None:
    sheet.outline(part, *at.at(x[0], y[1]), *at.at(x[1], y[0]))


def _draw_apron(sheet: Canvas, bodies: list[Body], at: PlanSheet) -> None:
    """The apron hatched, what of it the counter leaves free."""
    for body in bodies:
        for shape in body.shapes:
            if body.part == "apron" and isinstance(shape, Block):
                sheet.box("apron", *at.at(shape.x[0], shape.y[1]), *at.at(shape.x[1], shape.y[0]), kind="none", hatch="dense", outline=False)


def _name_sink(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    job, placed = estimate.job, estimate.design.placed
    opening, sink, base = placed.opening, placed.sink, base_width(placed.model)
    _outline(sheet, at, "cut-out", opening.x, opening.y)
    what = "opening, open to the front" if opening.open_front else "opening"
    words = f"{what}: {format_length(opening.width_in)} x {format_length(opening.front_to_back_in)}"
    sheet.name("cut-out", words, *at.at(opening.x[0], opening.y[1] - opening.front_to_back_in * 0.2), fields=opening.fields)
    if opening.rabbet is not None:
        wide, deep = (high - low for low, high in (opening.rabbet.x, opening.rabbet.y))
        size = f"{format_length(wide)} x {format_length(deep)}, {format_length(opening.rabbet.z[1] - opening.rabbet.z[0])} deep"
        words = f"rabbet around the opening: {size}, {format_length(opening.rabbet.y[0])} from the wall"
        sheet.name("", words, *at.at(opening.rabbet.x[0], opening.rabbet.y[1] - 3.0), fields=opening.fields)
    if opening.notch is not None and opening.notch.x[0] < opening.x[0]:
        sheet.name("", "notch in the front edge for the apron", *at.at(opening.notch.x[0], opening.notch.y[0]))
    front_in = sink.rim_y[1] if sink.apron is None else sink.apron.y[1]
    words = f"sink {format_length(sink.rim_x[1] - sink.rim_x[0])} x {format_length(front_in - sink.rim_y[0])}, {mount_words(job.sink.mount)}"
    sheet.name("sink", words, *at.at(sink.rim_x[1], sink.rim_y[0] + 2.0), "right", fields=("sink.body_width", "sink.depth", "sink.mount"))
    side = placed.model["side left"]
    sheet.name("cabinet", f"sink base {format_length(base.value_in)}", *at.at(side.middle[0], side.span("y")[1] * 0.65), "left", fields=base.fields)
    if sink.apron is not None and "apron" in placed.model:
        out_in = placed.model["apron"].span("y")[1] - face_in(placed.model)
        words = f"apron, {format_length(out_in)} past the face"
        sheet.name("apron", words, *at.at(sink.apron.x[1] - 2.0, sink.apron.y[1]), "right", fields=("sink.apron_projection",))
    _name_neighbors(sheet, estimate, at)


def _name_neighbors(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    """The boxes as listed; without a list what stands beside the base, within its own width where the model has it, else within a usual one."""
    cabinet, model = estimate.job.cabinet, estimate.design.placed.model
    (low, high), counter, listed = base_width(model).span, model["counter"].span("x"), locate_boxes(cabinet)
    for box in listed:
        _name_neighbor(sheet, estimate, at, f"{_NEIGHBORS.get(box.kind, box.kind)} {format_length(box.x[1] - box.x[0])}", box.x)
    for neighbor, edge, end, way in ((cabinet.left, low, counter[0], -1.0), (cabinet.right, high, counter[1], 1.0)):
        goes_on_in = way * (end - edge)
        if neighbor.kind in {"wall", "open", "range"} or any(edge in box.x for box in listed) or goes_on_in < _SHORTEST_IN:
            continue
        side, far = "left" if way < 0.0 else "right", edge + way * min(goes_on_in, _USUAL_IN)
        span = model[f"dishwasher {side}"].span("x") if f"dishwasher {side}" in model else (min(edge, far), max(edge, far))
        _name_neighbor(sheet, estimate, at, _NEIGHBORS.get(neighbor.kind, neighbor.kind), span, (f"cabinet.{side}.kind",))


def _name_neighbor(sheet: Canvas, estimate: Estimate, at: PlanSheet, words: str, x: Span, fields: tuple[str, ...] = ()) -> None:
    face = estimate.design.placed.model["side left"].span("y")[1]
    sheet.name("", words, *at.at(sum(x) / 2.0, face - 4.0), room=(x[1] - x[0], 6.0), fields=fields)


def _size_opening(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    """The opening from the run's ends and from the wall, the gap at the wall, and the strips that stay."""
    placed, side = estimate.design.placed, size_side(estimate.job)
    counter, gaps = placed.model["counter"], opening_gaps(placed.model, placed.opening)
    left, edge_y = counter.span("x")[0], at.at(0.0, counter.span("y")[1 if side == "below" else 0])[1]
    for name in ("from left", "wide", "to right"):
        sheet.size(at.across(gaps[name]), edge_y, side)
    start = at.at(placed.opening.x[0], 0.0)[0]
    for name in ("from wall", "deep", "front"):
        sheet.size(at.forward(gaps[name]), start, "left")
    sheet.size(at.forward(placed.model.gap("wall", "counter", "y")), at.at(left, 0.0)[0], "left", "counter.wall_gap")
    for name, part in (("strip", "rear strip"), ("front", "front strip")):
        low, high = gaps[name].span
        if high - low > OVERLAP_FROM_IN:
            _outline(sheet, at, part, placed.opening.x, (low, high))
            if name == "strip":  # that in front is the dimension beside it
                _name_strip(sheet, estimate, at, gaps[name])


def _name_strip(sheet: Canvas, estimate: Estimate, at: PlanSheet, strip: Gap) -> None:
    """The strip behind the sink, right of the sink's middle and of all holes in it."""
    y = strip.span
    placed, right_in = estimate.design.placed, estimate.design.placed.opening.x[1]
    holes = [high for (_, high), (near, _) in (hole.room for hole in placed.counter_holes) if near < y[1] and high < right_in]
    free = (max([sum(placed.opening.x) / 2.0, *holes]), right_in)
    words, room = f"rear strip {format_length(y[1] - y[0])}", (free[1] - free[0], y[1] - y[0])
    sheet.name("rear strip", words, *at.at(sum(free) / 2.0, sum(y) / 2.0), room=room, fields=strip.fields)


def _draw_outlets(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    placed = estimate.design.placed
    (middle, _), (near, far) = placed.sink.outlets[0], placed.model["counter"].span("y")
    middle = sum(placed.sink.rim_x) / 2.0
    sheet.line("", at.at(middle, near - 1.5), at.at(middle, far + 1.5), kind="center")
    for number, (bowl, outlet) in enumerate(zip(placed.sink.bowls, placed.sink.outlets, strict=True)):
        (left, right), (rear, front) = bowl.x, bowl.y
        words = f"bowl {format_length(right - left)} x {format_length(front - rear)}"
        where = at.at((left + right) / 2.0, front - (front - rear) * 0.225)
        fields = (f"sink.bowls[{number + 1}].width", f"sink.bowls[{number + 1}].front_to_back")
        sheet.name("bowl" if number == 0 else "", words, *where, "left", room=(right - left, (front - rear) * 0.45), fields=fields)
        sheet.keep_for_itself(*at.at(left, front), *at.at(right, rear))
        sheet.circle("", *at.at(*outlet), OUTLET_IN)
        sheet.circle("", *at.at(*outlet), 0.4, kind="thin")


def _draw_floor_pipe(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    """The pipe of a drain through the floor: below the sink, so dashed."""
    model = estimate.design.placed.model
    if FLOOR_PIPE in model:
        pipe = model[FLOOR_PIPE]
        x, y, _ = pipe.middle
        sheet.circle("stub", *at.at(x, y), pipe.size_in("x") / 2.0, kind="hidden")
        from_left = format_length(x - model["side left"].span("x")[0])
        drain = estimate.design.drain
        if not drain.not_designed:
            sheet.line("arm", at.at(x, y), at.at(*drain.way.outlet), kind="hidden")
        words = f"drain pipe in the floor, {from_left} from the base's left, {format_length(y)} from the wall"
        sheet.name("stub", words, *at.at(x, y), fields=("plumbing.floor_pipe_from_left", "plumbing.floor_pipe_from_wall"))


def _draw_holes(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    placed = estimate.design.placed
    middle = sum(placed.sink.rim_x) / 2.0
    for hole in placed.holes:
        (x, y), radius = at.at(hole.x_in, hole.y_in), hole.diameter_in / 2.0
        sheet.circle("holes", x, y, radius)
        sheet.line("", (x - radius - 0.6, y), (x + radius + 0.6, y), kind="thin")
        sheet.line("", (x, y - radius - 0.6), (x, y + radius + 0.6), kind="thin")
        where = "in the sink's faucet deck" if hole.in_sink else f"{format_length(hole.diameter_in)}, {format_length(hole.y_in)} from the wall"
        sheet.name("holes", f"{_use(hole)} hole {where}", x, y, fields=("sink.ledge_holes",) if hole.in_sink else ("counter.holes",))
        if hole.x_in != middle and not hole.in_sink:
            span = (min(middle, hole.x_in), max(middle, hole.x_in))
            gap = Gap(span[1] - span[0], "x", span, ("counter.holes", "cabinet.width"))
            sheet.size(at.across(gap), at.at(0.0, 0.0)[1], "above")


def _use(hole: DeckHole) -> str:
    return hole.use.replace("-", " ")


def _draw_clashes(sheet: Canvas, estimate: Estimate, at: PlanSheet) -> None:
    """Where the body lies over the sides of its base, and holes over the opening."""
    placed = estimate.design.placed
    rim, opening = placed.sink, placed.opening
    over_in = placed.model["side left"].span("x")[1] - rim.rim_x[0]
    if over_in > OVERLAP_FROM_IN:
        for x in ((rim.rim_x[0], rim.rim_x[0] + over_in), (rim.rim_x[1] - over_in, rim.rim_x[1])):
            sheet.box("overlap", *at.at(x[0], rim.rim_y[1]), *at.at(x[1], rim.rim_y[0]), kind="thin", hatch="cross")
        words = f"sink and cabinet sides overlap by {format_length(over_in)} on each side"
        sheet.name("overlap", words, *at.at(rim.rim_x[1] - over_in, sum(rim.rim_y) / 2.0), "right")
    for hole in placed.counter_holes:
        (left, right), (near, far) = hole.room
        over_in = far - opening.y[0]
        if over_in > OVERLAP_FROM_IN and right > opening.x[0] and left < opening.x[1]:
            low = max(opening.y[0], near)
            sheet.box("overlap", *at.at(left, far), *at.at(right, low), kind="thin", hatch="cross")
            sheet.name("overlap", f"{_use(hole)} hole and opening overlap by {format_length(over_in)}", *at.at(hole.x_in, low))
