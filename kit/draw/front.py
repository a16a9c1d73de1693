"""The front elevation: what the apron covers, what is cut, what stays of the cabinet's front, and what stands beside it."""

from itertools import pairwise

from kit.draw.canvas import Canvas
from kit.estimate import Estimate
from kit.job import FilledJob
from kit.units import format_length

__all__ = ["draw_front"]

SCALE = 9.0
SHOWN_IN = 11.0
"""How much of a neighbour is shown [in]."""
PAIR_FROM_IN = 24.0
"""Opening from which two doors are drawn [in]; the job doesn't say how many there are."""
DOOR_ABOVE_TOE_IN = 0.5


def draw_front(estimate: Estimate) -> str:
    """The dimensioned front elevation of the sink base as SVG, to scale.

    Every finding that is not ok and names a part shown here outlines it, stands beside its name and is listed below.
    """
    job = estimate.job
    sheet = Canvas("Front elevation of the sink base", scale=SCALE)
    _draw_floor(sheet, job)
    _draw_box(sheet, estimate)
    _draw_cut(sheet, estimate)
    _draw_fronts(sheet, estimate)
    _draw_counter(sheet, estimate)
    _draw_sink(sheet, estimate)
    _draw_neighbours(sheet, job)
    _draw_clash(sheet, estimate)
    if not job.sink.as_received:
        sheet.note("Sink sizes are nominal until the sink is measured as received.")
    sheet.note("Doors and false front are drawn at the width of the opening: their number and overlay are not measured.")
    return sheet.svg(estimate.findings, _same(job))


def _same(job: FilledJob) -> dict[str, str]:
    """What of this front stands for a part that hides behind it."""
    return {"dishwasher": f"{'right' if job.cabinet.right.kind == 'dishwasher' else 'left'} neighbour", "sink": "apron" if job.sink.is_apron else "rim"}


def _draw_floor(sheet: Canvas, job: FilledJob) -> None:
    left, right = -SHOWN_IN - 1.0, job.cabinet.width_in + SHOWN_IN + 1.0
    sheet.box("", left, 0.0, right, -1.2, kind="none", hatch="wide")
    sheet.line("floor", (left, 0.0), (right, 0.0), kind="cut")


def _draw_box(sheet: Canvas, estimate: Estimate) -> None:
    cabinet = estimate.job.cabinet
    width, top, toe = cabinet.width_in, cabinet.height_in, cabinet.toe_height_in
    sheet.box("cabinet", 0.0, 0.0, width, top)
    if toe > 0.0:
        sheet.line("toe board", (0.0, toe), (width, toe))
        sheet.name("toe board", "toe space", width / 2.0, toe / 2.0, "right", room=(width, toe))
        sheet.upright(0.0, toe, 0.0, side="left")
    edge = (width - cabinet.opening_width_in) / 2.0
    for near, far in ((0.0, edge), (width - edge, width)):
        sheet.box("cabinet", near, toe, far, top, kind="thin", hatch="upright", outline=False)
    words = "stile" if cabinet.construction == "face-frame" else "side, frameless box,"
    sheet.name("cabinet", f"cabinet: {words} {format_length(edge)}", width - edge / 2.0, toe + 3.0, "right")
    sheet.across(0.0, width, 0.0, side="below")
    sheet.upright(0.0, top, 0.0, side="left")
    _draw_rail(sheet, estimate, edge)


def _draw_rail(sheet: Canvas, estimate: Estimate, edge: float) -> None:
    cabinet, cut = estimate.job.cabinet, estimate.design.cut
    rail, width, top = cabinet.top_rail_in, cabinet.width_in, cabinet.height_in
    if cabinet.construction != "face-frame" or rail <= 0.0:
        return
    if cut is None or not cut.rail_removed:
        sheet.box("rail", edge, top - rail, width - edge, top, kind="thin", hatch="level")
        sheet.name("rail", f"top rail {format_length(rail)}", width - edge - 2.0, top - rail / 2.0, "right")
        return
    side = max(cut.left_over_side_in, edge)
    for near, far in ((edge, side), (width - side, width - edge)):
        if far - near > 0.05:
            sheet.box("rail", near, top - rail, far, top, kind="thin", hatch="level")
    sheet.line("rail", (side, top - rail), (width - side, top - rail), kind="today")
    sheet.name("rail", f"top rail {format_length(rail)}, cut away", width - side - 5.0, top - rail, "right")


def _draw_cut(sheet: Canvas, estimate: Estimate) -> None:
    cabinet, cut = estimate.job.cabinet, estimate.design.cut
    if cut is None:
        return
    width, top, side = cabinet.width_in, cabinet.height_in, cut.left_over_side_in
    sheet.box("front cut", side, top - cut.height_in, width - side, top, kind="hidden")
    size = f"{format_length(cut.width_in)} x {format_length(cut.height_in)}"
    sheet.name("front cut", f"cut-out for the {cut.kind} apron, {size}", width - side, top - cut.height_in * 0.62, "right")
    sheet.across(side, width - side, 0.0, side="below")
    sheet.across(0.0, side, 0.0, side="below")
    sheet.across(width - side, width, 0.0, side="below")


def _draw_fronts(sheet: Canvas, estimate: Estimate) -> None:
    cabinet = estimate.job.cabinet
    left = (cabinet.width_in - cabinet.opening_width_in) / 2.0
    right = cabinet.width_in - left
    if cabinet.false_front_bottom_in:
        _draw_false_front(sheet, estimate, left, right, cabinet.false_front_bottom_in)
    down = cabinet.door_top_in
    guess = cabinet.false_front_bottom_in or cabinet.top_rail_in
    low, high = cabinet.toe_height_in + DOOR_ABOVE_TOE_IN, cabinet.height_in - (guess if down is None else down)
    if high <= low:
        return
    places = (left, (left + right) / 2.0, right) if right - left >= PAIR_FROM_IN else (left, right)
    for near, far in pairwise(places):
        sheet.box("doors", near, low, far, high, kind="edge" if down is not None else "today", outline=False)
        sheet.name("", "door", (near + far) / 2.0, low + (high - low) * 0.4, "right", room=(far - near, high - low))
    sheet.outline("doors", left, low, right, high)
    if down is not None:
        sheet.upright(high, cabinet.height_in, left, side="left")
        sheet.name("doors", "upper edge of the doors", right - 4.0, high, "right")
    else:
        sheet.name("doors", "doors: their upper edge is not measured", right - 4.0, high, "right")


def _draw_false_front(sheet: Canvas, estimate: Estimate, left: float, right: float, down: float) -> None:
    cabinet, cut = estimate.job.cabinet, estimate.design.cut
    top, screw = cabinet.height_in, cabinet.false_front_screw_in
    comes_out = cut is not None and cut.false_front_removed
    sheet.box("false front", left, top - down, right, top, kind="today" if comes_out else "edge")
    sheet.name("false front", f"false front{', comes out' if comes_out else ''}", right - 6.0, top - down, "right")
    sheet.upright(top - down, top, left, side="left")
    if screw and abs(screw - down) > 0.05:
        for x in (left + 2.5, right - 2.5):
            sheet.line("false front", (x - 0.4, top - screw), (x + 0.4, top - screw), outline=False)
            sheet.line("false front", (x, top - screw - 0.4), (x, top - screw + 0.4), outline=False)
        sheet.name("", "its lowest screw", right - 2.5, top - screw, "right")
        sheet.upright(top - screw, top, left, side="left")


def _draw_counter(sheet: Canvas, estimate: Estimate) -> None:
    job, levels, hole = estimate.job, estimate.design.levels, estimate.design.top.cut_out
    counter, width, run = job.counter, job.cabinet.width_in, job.counter.run_of_sink
    low, high = levels.box_top_in, levels.counter_top_in
    start = width / 2.0 - counter.sink_center_in
    left, right = max(start, -SHOWN_IN), min(start + run.length_in, width + SHOWN_IN)
    gap = (right, right)
    if hole is not None and hole.open_front:
        gap = (max(start + hole.left_in, left), min(start + hole.left_in + hole.width_in, right))
    for near, far in ((left, gap[0]), (gap[1], right)):
        if far - near > 0.01:
            sheet.box("counter", near, low, far, high)
    sheet.name("counter", f"counter, {counter.material}, {format_length(counter.thickness_in)}", right - 1.0, (low + high) / 2.0, "right")
    sheet.upright(0.0, high, left, side="left")
    for end, x, way in ((run.left_end, start, -1.0), (run.right_end, start + run.length_in, 1.0)):
        if end == "wall" and -SHOWN_IN <= x <= width + SHOWN_IN:
            _draw_wall(sheet, x, way, high + 3.0)


def _draw_wall(sheet: Canvas, x: float, way: float, top: float) -> None:
    sheet.line("wall", (x, 0.0), (x, top), kind="cut")
    sheet.box("wall", x, 0.0, x + way * 1.5, top, kind="none", hatch="wide", outline=False)


def _draw_sink(sheet: Canvas, estimate: Estimate) -> None:
    sink, levels = estimate.job.sink, estimate.design.levels
    middle, rim, half = estimate.job.cabinet.width_in / 2.0, levels.rim_in, sink.bowl_width_in / 2.0
    sheet.line("", (middle, -1.5), (middle, levels.counter_top_in + 1.5), kind="centre")
    web = (sink.bowl_width_in - sum(bowl.width_in for bowl in sink.bowls)) / (len(sink.bowls) + 1)
    x = middle - half
    for bowl in sink.bowls:
        wide, low = bowl.width_in + web * 2.0, rim - bowl.depth_in - sink.bottom_thickness_in
        sheet.box("bowl", x, low, x + wide, rim, kind="hidden", outline=False)
        x += bowl.width_in + web
    sheet.name("", f"bowl, underside {format_length(levels.bowl_bottom_in)} above the floor", middle + half * 0.45, levels.bowl_bottom_in, "right")
    if sink.apron_width_in is not None and levels.apron_bottom_in is not None:
        _draw_apron(sheet, estimate, middle, sink.apron_width_in / 2.0, levels.apron_bottom_in)
        return
    half = sink.body_width_in / 2.0
    sheet.box("rim", middle - half, rim - sink.rim_thickness_in, middle + half, rim, kind="hidden" if sink.mount == "under" else "edge")
    sheet.name("rim", f"rim of the sink, {sink.mount} mount", middle + half - 2.0, rim - sink.rim_thickness_in / 2.0, "right")
    sheet.across(middle - half, middle + half, rim, side="above")


def _draw_apron(sheet: Canvas, estimate: Estimate, middle: float, half: float, low: float) -> None:
    levels = estimate.design.levels
    sheet.box("apron", middle - half, low, middle + half, levels.rim_in, kind="cut")
    sheet.name("", "apron", middle, (low + levels.rim_in) / 2.0, "right", room=(2.0 * half, levels.rim_in - low), bold=True)
    sheet.name("apron", "lower edge of the apron", middle + half - 9.0, low, "right")
    sheet.across(middle - half, middle + half, levels.rim_in, side="above")
    sheet.upright(low, levels.box_top_in, middle - half, side="left")
    if abs(levels.rim_in - levels.box_top_in) > 0.01:
        sheet.upright(low, levels.rim_in, middle - half, side="left")


def _draw_neighbours(sheet: Canvas, job: FilledJob) -> None:
    cabinet = job.cabinet
    top = cabinet.height_in
    for part, neighbour, near, way in (("left neighbour", cabinet.left, 0.0, -1.0), ("right neighbour", cabinet.right, cabinet.width_in, 1.0)):
        start, end = near + way * neighbour.gap_in, near + way * (SHOWN_IN + 0.5)
        words = f"{neighbour.kind}, gap {format_length(neighbour.gap_in)}"
        if neighbour.kind == "wall":
            _draw_wall(sheet, start, way, top)
            sheet.name(part, words, start + way * 0.5, top * 0.4)
            sheet.outline(part, start, 0.0, start + way * 1.5, top)
        elif neighbour.kind == "open":
            sheet.name(part, f"{part.partition(' ')[0]} side open", near, top * 0.4)
            sheet.outline(part, near - 0.1, 0.0, near + 0.1, top)
        elif abs(end - start) > 1.0:
            low = 0.5 if neighbour.kind == "range" else cabinet.toe_height_in
            _draw_broken(sheet, part, start, end, low, top - 0.25)
            if neighbour.kind == "drawer":
                sheet.line("", (start, top - 6.5), (end, top - 6.5), kind="thin")
            room = (abs(end - start), (top - low) * 0.6)
            sheet.name(part, words, (start + end) / 2.0, low + (top - low) * 0.4, room=room)


def _draw_broken(sheet: Canvas, part: str, start: float, end: float, low: float, high: float) -> None:
    """A front that goes on beyond the drawing: its far edge is a break line."""
    middle, step = low + (high - low) * 0.68, 0.7
    sheet.line(part, (end, high), (start, high), (start, low), (end, low))
    sheet.line("", (end, low - 0.8), (end, middle - step), (end - step, middle), (end + step, middle), (end, middle + step), (end, high + 0.8), kind="thin")


def _draw_clash(sheet: Canvas, estimate: Estimate) -> None:
    """Where the apron lies over the doors that should stay clear of it."""
    cabinet, sink, low = estimate.job.cabinet, estimate.job.sink, estimate.design.levels.apron_bottom_in
    if low is None or cabinet.door_top_in is None or sink.apron_width_in is None:
        return
    high = cabinet.height_in - cabinet.door_top_in
    if high - low <= 0.005:
        return
    half, middle = min(sink.apron_width_in, cabinet.opening_width_in) / 2.0, cabinet.width_in / 2.0
    sheet.box("overlap", middle - half, low, middle + half, high, hatch="cross")
    sheet.name("overlap", f"apron and doors overlap by {format_length(high - low)}", middle + half - 6.0, (low + high) / 2.0, "right")
