"""The sink itself with every size that is measured on it: from above, and cut along its width through the bowls."""

from kit.design.place_sink import SinkPlace
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.shapes import Axis
from kit.solids import Gap
from kit.spans import Span

__all__ = ["draw_sink_sizes"]

ABOVE, CUT = "The sink from above", "The sink, cut along its width"
SCALE = 7.0
APART = 8.0
"""Between the two pictures [px]."""
_OUTLET_IN = 1.75  # radius at which an outlet is drawn: 3 1/2 in is the usual opening


def draw_sink_sizes(estimate: Estimate, *, narrow: bool = False) -> str:
    """The sink from above, its back at the top, and below it the cut through its bowls, as SVG, to scale; sizes of the job are typed where they stand."""
    at = estimate.design.placed.sink
    above = fit_width(lambda scale: _draw_above(at, scale, narrow=narrow), SCALE, narrow=narrow)
    cut = fit_width(lambda scale: _draw_cut(at, scale, narrow=narrow), SCALE, narrow=narrow)
    return write_sheet("The sink and its sizes", (above, cut), ((0.0, 0.0), (0.0, above.tall + APART)))


def _gap(axis: Axis, low: float, high: float, field: str) -> Gap:
    return Gap(high - low, axis, (low, high), (field,))


def _draw_above(at: SinkPlace, scale: float, *, narrow: bool) -> Picture:
    sheet = canvas_for(ABOVE, scale=scale, narrow=narrow)
    back, front = at.rim_y[0], at.rim_y[1] if at.apron is None else at.apron.y[1]
    sheet.box("rim", at.rim_x[0], -at.rim_y[1], at.rim_x[1], -back)
    if at.apron is not None and not at.apron.empty:
        sheet.box("apron", at.apron.x[0], -at.apron.y[1], at.apron.x[1], -at.apron.y[0], hatch="dense")
    sheet.size(_gap("x", *at.rim_x, "sink.body_width"), -back, "above", "sink.body_width")
    sheet.size(_turned(back, front, "sink.depth"), at.rim_x[1], "right", "sink.depth")
    for number, bowl in enumerate(at.bowls, 1):
        place = f"sink.bowls[{number}]"
        sheet.box("bowl", bowl.x[0], -bowl.y[1], bowl.x[1], -bowl.y[0], kind="cut")
        sheet.name("", f"bowl {number}" if len(at.bowls) > 1 else "bowl", (bowl.x[0] + bowl.x[1]) / 2.0, -bowl.y[1] + 2.0, room=(bowl.x[1] - bowl.x[0], 2.0))
        sheet.size(_gap("x", *bowl.x, f"{place}.width"), -front, "below", f"{place}.width")
    number = max(range(len(at.bowls)), key=lambda number: at.bowls[number].y[1] - at.bowls[number].y[0])
    longest, field = at.bowls[number], f"sink.bowls[{number + 1}].front_to_back"
    sheet.size(_turned(*longest.y, field), at.rim_x[0], "left", field)
    sheet.size(_turned(back, longest.y[0], "sink.rear_rim"), at.rim_x[0], "left", "sink.rear_rim")
    sheet.size(_turned(longest.y[1], front, "sink.front_rim"), at.rim_x[0], "left", "sink.front_rim")
    if at.outside_x[0] > at.rim_x[0]:
        sheet.box("", at.outside_x[0], -at.outside_y[1], at.outside_x[1], -at.outside_y[0], kind="hidden")
        rim = Gap(at.outside_x[0] - at.rim_x[0], "x", (at.rim_x[0], at.outside_x[0]), ("sink.rim_width", "sink.body_width", "sink.bowl_width"))
        sheet.size(rim, -back, "above", "sink.rim_width")
    for x, y in at.outlets:
        sheet.line("strainer", (x - _OUTLET_IN, -y), (x + _OUTLET_IN, -y), kind="thin")
        sheet.line("strainer", (x, -y - _OUTLET_IN), (x, -y + _OUTLET_IN), kind="thin")
    sheet.size(_turned(back, at.outlets[0][1], "sink.outlet_setback"), at.rim_x[1], "right", "sink.outlet_setback")
    sheet.name("", "drain", at.outlets[0][0], -at.outlets[0][1] - _OUTLET_IN - 1.2, room=(6.0, 2.0))
    return sheet.finish()


def _turned(near: float, far: float, field: str) -> Gap:
    """A gap from the wall, on a sheet whose top is the wall."""
    return Gap(far - near, "y", (-far, -near), (field,))


def _draw_cut(at: SinkPlace, scale: float, *, narrow: bool) -> Picture:
    sheet = canvas_for(CUT, scale=scale, narrow=narrow, scaled=False)
    (low, high), outside = at.rim_z, at.outside_x
    sheet.line("rim", (at.rim_x[0], high), (at.rim_x[0], low), (outside[0], low), (outside[0], at.under_in), kind="cut")
    sheet.line("rim", (at.rim_x[1], high), (at.rim_x[1], low), (outside[1], low), (outside[1], at.under_in), (outside[0], at.under_in), kind="cut")
    _draw_top(sheet, at, high)
    for number, bowl in enumerate(at.bowls, 1):
        field = f"sink.bowls[{number}].depth"
        sheet.line("bowl", (bowl.x[0], high), (bowl.x[0], bowl.z[0]), (bowl.x[1], bowl.z[0]), (bowl.x[1], high), kind="cut")
        sheet.size(_gap("z", bowl.z[0], high, field), at.rim_x[1], "right", field)
    sheet.size(_gap("z", low, high, "sink.rim_thickness"), at.rim_x[1], "right", "sink.rim_thickness")
    deepest = min(bowl.z[0] for bowl in at.bowls)
    sheet.size(_gap("z", at.under_in, deepest, "sink.bottom_thickness"), at.rim_x[1], "right", "sink.bottom_thickness")
    sheet.size(_gap("x", *outside, "sink.bowl_width"), at.under_in, "below", "sink.bowl_width")
    if at.apron is not None:
        (left, right), (foot, head) = at.apron.x, at.apron.z
        sheet.box("apron", left, foot, right, head, kind="thin")
        sheet.size(_gap("x", left, right, "sink.apron_width"), at.under_in, "below", "sink.apron_width")
        sheet.size(_gap("z", foot, head, "sink.apron_height"), left, "left", "sink.apron_height")
        sheet.name("", "apron, in front", right - 2.0, foot, "right")
    sheet.note("Press an underlined size to change it.")
    return sheet.finish()


def _draw_top(sheet: Canvas, at: SinkPlace, high: float) -> None:
    """The rim's upper edge, open above each bowl."""
    edges: list[Span] = []
    left = at.rim_x[0]
    for bowl in at.bowls:
        edges.append((left, bowl.x[0]))
        left = bowl.x[1]
    for low, far in (*edges, (left, at.rim_x[1])):
        if far > low:
            sheet.line("rim", (low, high), (far, high), kind="cut")
