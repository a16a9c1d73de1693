"""The front elevation: what the apron covers, what is cut, what stays of the cabinet's front, and what stands beside it."""

from itertools import pairwise

from kit.design.place_boxes import base_top_in, base_width, cut_gaps, high_side, is_sawn
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.front_room import SHOWN_IN, clip_body, draw_floor, draw_neighbors, draw_side_walls, goes_on, window_of
from kit.draw.project import FROM_FRONT, project
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.job import FilledJob
from kit.job.field_names import mount_words, say_choice
from kit.solids import Model, Stage
from kit.sources import value
from kit.units import format_length

__all__ = ["draw_front"]

TITLE = "Front elevation of the sink base"
SCALE = 7.3
_SHOWN_PARTS = {"cabinet", "doors", "false front", "counter", "splash", "rim", "bowl", "apron", "run boxes"}


def draw_front(estimate: Estimate, *, share: float = 1.0, narrow: bool = False, for_crew: bool = True) -> str:
    """The dimensioned front elevation of the sink base as SVG, to scale: the model seen from the front, its near neighbors with it.

    Every finding that is not ok and names a part shown here has its number there; the list of the job says what the numbers mean.
    A `share` of the usual scale makes the drawing smaller around letters of the same size; a `narrow` one is whole on a telephone. One that is not
    `for_crew` shows what will be seen: no cut, nothing that comes out or hides, and no number of a finding.
    """
    return write_sheet(TITLE, (fit_width(lambda scale: _draw(estimate, scale, narrow=narrow, for_crew=for_crew), SCALE * share, narrow=narrow),))


def _draw(estimate: Estimate, scale: float, *, narrow: bool, for_crew: bool) -> Picture:
    """The front at a scale [px/in]."""
    job, placed, sheet = estimate.job, estimate.design.placed, canvas_for(TITLE, scale=scale, narrow=narrow)
    window = window_of(estimate)
    draw_floor(sheet, window)
    bodies = [clipped for body in placed.model.at(Stage.BUILT) if body.part in _SHOWN_PARTS and (clipped := clip_body(body, window))]
    for stroke in project(bodies, FROM_FRONT):
        if not stroke.hidden and not goes_on(stroke, window):
            sheet.line(stroke.body.part, stroke.start, stroke.end, outline=False)
    for body in bodies:
        (left, right), (low, high) = body.span("x"), body.span("z")
        sheet.outline(body.part, left, low, right, high)
    _name_seen(sheet, estimate)
    if for_crew:
        _draw_hidden(sheet, estimate)
        _draw_gone(sheet, estimate)
        _name_parts(sheet, estimate)
    _size_all(sheet, estimate, for_crew=for_crew)
    draw_side_walls(sheet, estimate, placed.model["counter"])
    draw_neighbors(sheet, estimate, for_crew=for_crew)
    if not job.sink.as_received:
        sheet.note("Sink sizes are nominal until the sink is measured on delivery.")
    return sheet.finish(estimate.findings if for_crew else (), _same(job))


def _same(job: FilledJob) -> dict[str, str]:
    """What of this front stands for a part that hides behind it."""
    return {"dishwasher": f"{'right' if job.cabinet.right.kind == 'dishwasher' else 'left'} neighbor", "sink": "apron" if job.sink.is_apron else "rim"}


def _draw_hidden(sheet: Canvas, estimate: Estimate) -> None:
    """Behind the front: the bowls, and the cut that an apron covers."""
    placed, cut = estimate.design.placed, estimate.design.cut
    at = placed.sink
    for bowl in at.bowls:
        sheet.box("bowl", bowl.x[0], at.under_in, bowl.x[1], at.rim_z[1], kind="hidden")
    if at.apron is None:
        sheet.box("rim", at.rim_x[0], at.rim_z[0], at.rim_x[1], at.rim_z[1], kind="hidden")
    if cut is not None:
        gaps = cut_gaps(placed.model, cut)
        (left, right), (low, high) = gaps["wide"].span, gaps["down"].span
        sheet.box("front cut", left, low, right, high, kind="hidden")
        size = f"{format_length(cut.width_in)} x {format_length(cut.height_in)}"
        does = "cutout" if is_sawn(placed.model, cut) else "room"
        sheet.name(
            "front cut",
            f"{does} for the {cut.kind} apron, {size}",
            right,
            low + (high - low) * 0.38,
            "right",
            fields=(*gaps["wide"].fields, *gaps["down"].fields),
        )
        sheet.size(gaps["wide"], low, "below")
        sheet.size(gaps["side"], low, "below")


def _draw_gone(sheet: Canvas, estimate: Estimate) -> None:
    """What comes out of the front, in thin lines."""
    model, doors = estimate.design.placed.model, estimate.design.doors
    gone = {"false front": "false front, comes out", "top rail, uncut": "top rail, cut away", "mid rail, uncut": "mid rail, cut away"}
    if doors is not None and doors.work != "keep":
        gone["doors today"] = (
            f"doors trimmed by {format_length(doors.trim_in)}" if doors.work == "trim" else f"new doors, {format_length(doors.height_in)} high"
        )
    for name, words in gone.items():
        if name in model and not model[name].stages & Stage.BUILT:
            (left, right), (low, high) = model[name].span("x"), model[name].span("z")
            if name == "doors today" and "doors" in model:
                low = model["doors"].span("z")[1]
            sheet.box(name if name == "false front" else "", left, low, right, high, kind="today")
            sheet.name("", words, right - 6.0, low, "right", fields=model[name].fields)


def _name_parts(sheet: Canvas, estimate: Estimate) -> None:
    """What the crew works by: stile or side, bowl, and toe space."""
    job, placed = estimate.job, estimate.design.placed
    model = placed.model
    has_stile = job.cabinet.construction == "face-frame"
    kind, thick = ("stile", "cabinet.stile") if has_stile else ("side, frameless box,", "cabinet.side_thickness")
    side = model["stile right"] if "stile right" in model else model["side right"]
    words = f"cabinet: {kind} {format_length(side.size_in('x'))}"
    sheet.name("cabinet", words, side.middle[0], side.middle[2] * 0.5, "right", fields=("cabinet.construction", thick))
    sheet.name(
        "bowl",
        f"bowl, underside {format_length(placed.sink.under_in)} above the floor",
        placed.sink.outside_x[1] - 4.0,
        placed.sink.under_in,
        "right",
        fields=model["sink bowl"].fields if "sink bowl" in model else (),
    )
    if "toe kick" in model:
        toe = model["toe kick"]
        sheet.name("toe kick", "toe space", toe.middle[0], toe.middle[2], "right", room=(toe.size_in("x"), toe.size_in("z")), fields=("cabinet.toe_height",))


def _name_seen(sheet: Canvas, estimate: Estimate) -> None:
    """Countertop, doors and sink."""
    job, placed = estimate.job, estimate.design.placed
    model, right = placed.model, base_width(placed.model).span[1]
    counter = model["counter"]
    words = f"countertop, {say_choice('counter.material', job.counter.material)}, {format_length(counter.size_in('z'))}"
    sheet.name(
        "counter", words, min(counter.span("x")[1], right + SHOWN_IN) - 1.0, counter.middle[2], "right", fields=("counter.material", "counter.thickness")
    )
    _name_doors(sheet, model)
    if placed.sink.apron is not None:
        if placed.sink.apron.empty:  # the bowl reaches the front as measured: the apron is a face without a body
            sheet.box("apron", *(edge[end] for end in (0, 1) for edge in (placed.sink.apron.x, placed.sink.apron.z)))
        (left, right), (low, high) = placed.sink.apron.x, placed.sink.apron.z
        sheet.name("apron", "apron", (left + right) / 2.0, (low + high) / 2.0, "right", room=(right - left, high - low), bold=True)
    else:
        sheet.name("rim", f"rim of the sink, {mount_words(job.sink.mount)}", placed.sink.rim_x[1] - 2.0, sum(placed.sink.rim_z) / 2.0, "right")


def _name_doors(sheet: Canvas, model: Model) -> None:
    if "doors" not in model:
        (left, right), high = base_width(model).span, base_top_in(model)
        words = "no height left for doors" if "doors today" in model else "doors: not measured"
        sheet.name("doors", words, (left + right) / 2.0, high * 0.4, room=(right - left, high * 0.4))
        sheet.outline("doors", left, high * 0.2, right, high * 0.6)
        return
    (left, right), (low, high) = model["doors"].span("x"), model["doors"].span("z")
    places = (left, (left + right) / 2.0, right) if right - left > value("site_work", "doors/one-up-to") else (left, right)
    for near, far in pairwise(places):
        sheet.line("", (far, low), (far, high), outline=False)
        sheet.name("doors", "door", (near + far) / 2.0, low + (high - low) * 0.4, "right", room=(far - near, high - low), fields=model["doors"].fields)


def _size_all(sheet: Canvas, estimate: Estimate, *, for_crew: bool) -> None:
    """Width and height of the base, the apron's place, the doors' upper edge for the crew."""
    model = estimate.design.placed.model
    left = base_width(model).span[0]
    sheet.size(base_width(model), 0.0, "below", "cabinet.width")
    sheet.size(model.size(high_side(model), "z"), left, "left", "cabinet.height")
    sheet.size(model.gap("subfloor", "counter", "z", to="far"), left - SHOWN_IN, "left")
    if "apron" in model:
        sheet.size(model.size("apron", "x"), model["apron"].span("z")[1], "above", "sink.apron_width")
        sheet.size(model.size("apron", "z"), model["apron"].span("x")[0], "left", "sink.apron_height")
        if "doors" in model and for_crew:
            sheet.size(model.gap("doors", "apron", "z"), left, "left")
    if "doors" in model and for_crew:
        sheet.size(model.gap("doors", high_side(model), "z", to="far"), left, "left", "cabinet.door_top")
