"""The plan: every run of counter from above, with opening, holes, seams, splash, overhang and what its ends meet."""

from itertools import pairwise
from typing import Literal

from kit.design.edges import ends_at_wall
from kit.design.run_places import Point, RunPlace, joined_runs, place_runs
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.plan_sink import PlanSheet, draw_plan_sink, size_side
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.solids import Body, Gap
from kit.units import format_length

__all__ = ["draw_plan"]

TITLE = "Plan of the countertop"
WIDEST, LARGEST_SCALE = 620.0, 8.0
"""The runs are drawn no wider than this [px], and no larger than this [px/in]."""
WALL_IN = 2.5


def draw_plan(estimate: Estimate, *, narrow: bool = False) -> str:
    """The counter from above as SVG, to scale; the wall behind the sink is at the top, and on the right in a `narrow` one, which stands on its end.

    Every finding that is not ok and names a part shown here has its number there; the list of the job says what the numbers mean.
    """
    places = place_runs(estimate.job.counter)
    corners = [point for place in places for point in place.corners]
    wide = max(x for x, _ in corners) - min(x for x, _ in corners) + 2.0 * WALL_IN
    return write_sheet(TITLE, (fit_width(lambda scale: _draw(estimate, places, scale, narrow=narrow), min(LARGEST_SCALE, WIDEST / wide), narrow=narrow),))


def _draw(estimate: Estimate, places: tuple[RunPlace, ...], scale: float, *, narrow: bool) -> Picture:
    """The plan at a scale [px/in]."""
    job, sheet = estimate.job, canvas_for(TITLE, scale=scale, narrow=narrow, keyed=True, on_end=narrow)
    at = PlanSheet(estimate, places[job.counter.sink_run - 1])
    for place in places:
        _draw_run(sheet, estimate, place, at)
    _draw_seams(sheet, estimate, places)
    _draw_splash(sheet, estimate, places, at)
    draw_plan_sink(sheet, estimate, places[job.counter.sink_run - 1])
    if narrow:
        sheet.note("The wall behind the sink is on the right, the left end of the run at the top.")
    return sheet.finish(estimate.findings, {"rim": "sink"})


def _draw_run(sheet: Canvas, estimate: Estimate, place: RunPlace, at: PlanSheet) -> None:
    """Walls, name and sizes of a run; its edges from the model, or where it stands apart and has no place there."""
    job, run, model = estimate.job, place.run, estimate.design.placed.model
    counter, name = model["counter"], f"countertop of run {place.number}"
    length, deep = run.length_in, run.depth_in
    if name in model:
        _draw_body(sheet, at, model[name], "counter", kind="cut")
    elif place.number != job.counter.sink_run:
        start, end = run.own_span_in
        sheet.box("counter", *place.at(start, 0.0), *place.at(end, deep), kind="cut")
    _draw_walls(sheet, place, job)
    words = f"{say_choice('counter.material', job.counter.material)}, {format_length(counter.size_in('z'))}"
    words = words if len(job.counter.runs) == 1 else f"run {place.number}, {words}"
    fields = ("counter.material", "counter.thickness")
    if place.number != job.counter.sink_run:
        sheet.name("", words, *place.at(length / 2.0, deep * 0.45), "right", room=_turned(place, (length, deep * 0.6)), fields=fields)
        sheet.keep_for_itself(*place.at(0.0, 0.0), *place.at(length, deep))
    else:
        sheet.name("counter", f"countertop, {words}", *place.at(length - 1.5, deep * 0.75), "right", fields=fields)
    _draw_run_sizes(sheet, place, size_side(job))


def _draw_body(sheet: Canvas, at: PlanSheet, body: Body, part: str, *, kind: str, hatch: str = "") -> None:
    """A body of the model from above, where it lies in the plan."""
    (left, right), (rear, front) = body.span("x"), body.span("y")
    sheet.box(part, *at.at(left, rear), *at.at(right, front), kind=kind, hatch=hatch)


def _turned(place: RunPlace, room: tuple[float, float]) -> tuple[float, float]:
    return room if place.lies_across else (room[1], room[0])


def _draw_run_sizes(sheet: Canvas, place: RunPlace, side: Literal["above", "below"]) -> None:
    run, here = place.run, f"counter.runs[{place.number}]"
    first, last = place.at(0.0, run.depth_in), place.at(run.length_in, run.depth_in)
    near, far = place.at(run.length_in, 0.0), place.at(run.length_in, run.depth_in)
    if place.lies_across:
        sheet.size(_between(first, last), first[1] if side == "below" else near[1], side, f"{here}.length")
        sheet.size(_between(near, far), first[0], "left", f"{here}.depth")
    else:
        sheet.size(_between(first, last), near[0], "right" if place.faces_left else "left", f"{here}.length")
        sheet.size(_between(near, far), near[1], "below", f"{here}.depth")


def _between(start: Point, end: Point) -> Gap:
    """Between two points of a run that lie across or up from each other."""
    number = 0 if abs(end[0] - start[0]) > abs(end[1] - start[1]) else 1
    low, high = sorted((start[number], end[number]))
    return Gap(high - low, "y" if number else "x", (low, high), ("counter.runs",))


def _draw_walls(sheet: Canvas, place: RunPlace, job: FilledJob) -> None:
    """The wall behind the run, and what each end meets."""
    run = place.run
    length, deep = run.length_in, run.depth_in
    sheet.line("wall", place.at(0.0, 0.0), place.at(length, 0.0), kind="cut", outline=False)
    at_wall = ends_at_wall(job.counter.runs, place.number)
    sheet.box("wall", *place.at(-WALL_IN * ("left" in at_wall), 0.0), *place.at(length + WALL_IN * ("right" in at_wall), -WALL_IN), kind="none", hatch="wide")
    for side, end, at, way in (("left", run.left_end, 0.0, -1.0), ("right", run.right_end, length, 1.0)):
        beyond, past = at + way * WALL_IN, deep + (0.0 if end == "corner" else 1.0)
        if side in at_wall:
            sheet.box("wall", *place.at(at, 0.0), *place.at(beyond, past), kind="none", hatch="wide")
            sheet.line("wall", place.at(at, 0.0), place.at(at, past), kind="cut", outline=False)
        elif end == "range":
            sheet.line("", place.at(beyond, 0.0), place.at(at + way * 0.6, 0.0), place.at(at + way * 0.6, deep), place.at(beyond, deep), kind="thin")
            sheet.name("", "range", *place.at(beyond, deep * 0.4), place.side_of(way))
        elif end == "corner" and len(job.counter.runs) == 1:
            sheet.line("corner", place.at(beyond, 0.0), place.at(at, 0.0), place.at(at, deep), place.at(beyond, deep), kind="thin")
            sheet.name("corner", "corner: the other run is not part of this job", *place.at(beyond, deep * 0.4), place.side_of(way))


def _draw_seams(sheet: Canvas, estimate: Estimate, places: tuple[RunPlace, ...]) -> None:
    runs = estimate.job.counter.runs
    side = size_side(estimate.job)
    for seam in estimate.design.top.seam_list:
        place = places[seam.run - 1]
        if seam.at_in is not None:
            _draw_seam(sheet, place.at(seam.at_in, 0.0), place.at(seam.at_in, place.run.depth_in))
            _draw_seam_size(sheet, place, seam.at_in, side)
    for place in places:
        rows = round(sum(piece.count for piece in estimate.design.top.pieces if piece.name.split(" part ")[0] == f"run {place.number}"))
        parts = sum(piece.name.split(" part ")[0] == f"run {place.number}" for piece in estimate.design.top.pieces)
        across = rows // parts if parts else 1
        for row in range(1, across):
            deep = place.run.depth_in * row / across
            _draw_seam(sheet, place.at(0.0, deep), place.at(place.run.length_in, deep))
    if len(runs) > 1:
        for before, after in pairwise(places):
            joint = after.joint_with(before)
            if joint is not None:
                _draw_seam(sheet, *joint)
                x, y = joint[0]
                sheet.outline("corner", min(x, joint[1][0]), min(y, joint[1][1]), max(x, joint[1][0]), max(y, joint[1][1]))


def _draw_seam(sheet: Canvas, start: Point, end: Point) -> None:
    sheet.line("seam", start, end, kind="cut")
    sheet.line("", start, end, kind="seam")
    sheet.name("seam", "seam", start[0] + (end[0] - start[0]) * 0.8, start[1] + (end[1] - start[1]) * 0.8)


def _draw_seam_size(sheet: Canvas, place: RunPlace, at: float, side: Literal["above", "below"]) -> None:
    first, second = place.at(0.0, place.run.depth_in), place.at(at, place.run.depth_in)
    if place.lies_across:
        sheet.size(_between(first, second), first[1] if side == "below" else place.at(0.0, 0.0)[1], side)
    else:
        sheet.size(_between(first, second), place.at(0.0, 0.0)[0], "right" if place.faces_left else "left")


def _draw_splash(sheet: Canvas, estimate: Estimate, places: tuple[RunPlace, ...], at: PlanSheet) -> None:
    counter, model = estimate.job.counter, estimate.design.placed.model
    if "splash" not in model:
        return
    thick = model["splash"].size_in("y")
    for body in (model["splash"], *model.of_part("side splash")):
        _draw_body(sheet, at, body, "splash", kind="thin", hatch="back")
    standing = {counter.sink_run, *joined_runs(counter)}
    for place in (place for place in places if place.number not in standing):
        run = place.run
        sheet.box("splash", *place.at(0.0, 0.0), *place.at(run.length_in, thick), kind="thin", hatch="back")
        at_wall = ends_at_wall(counter.runs, place.number)
        for side, near, far in (("left", 0.0, thick), ("right", run.length_in - thick, run.length_in)):
            if side in at_wall:
                sheet.box("splash", *place.at(near, thick), *place.at(far, run.depth_in), kind="thin", hatch="back")
    place = places[counter.sink_run - 1]
    sheet.name(
        "splash",
        f"backsplash {format_length(thick)} thick",
        *place.at(place.run.length_in - 3.0, thick / 2.0),
        "right",
        fields=("counter.splash", "counter.splash_thickness"),
    )
