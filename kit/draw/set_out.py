"""One sheet for the crew: the cut of the front and the opening of the counter as one marks them, above a table of every figure to set out with."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import accumulate

from kit.design.front import FrontCut
from kit.design.place_boxes import base_width, cut_gaps, is_sawn
from kit.design.place_counter import opening_gaps
from kit.draw.canvas import TALLEST, Canvas, Picture, write_sheet
from kit.draw.lettering import clean, measure_text, wrap_text
from kit.draw.plan_sink import in_square
from kit.draw.project import FROM_ABOVE, project
from kit.draw.set_out_figures import Figure, list_figures
from kit.draw.widths import PHONE, canvas_for, fit_width
from kit.estimating import Estimate
from kit.solids import Gap

__all__ = ["draw_set_out"]

TITLE, TABLE = "Set out the job", "Layout dimensions"
CAUTION = "Measure on site before you cut; never cut for a sink you haven't measured."
WIDE, BESIDE = 740.0, 8.0
"""Fitted to letter paper with margins, letters are 8 points high then [px]."""
FRONT_SCALE, LARGEST_SCALE, FRONT_WIDE, COUNTER_WIDE = 5.5, 4.5, 205.0, 300.0
"""Of the front and of the counter [px/in], and no wider than this [px], so that both stand side by side; a counter that stands alone twice that."""
LINE, HEADING, AROUND = 15.0, 24.0, 90.0
"""Height of a line, of a heading with its rule, and of title, note and margins around a table [px]."""
BELOW_CUT_IN = 4.0


def draw_set_out(estimate: Estimate, *, narrow: bool = False) -> tuple[str, ...]:
    """Template of the front cut and the counter with its opening, to scale, above the table of figures, as SVG; on as many sheets as the table asks.

    A `narrow` one is whole on a telephone: one sheet, all below each other.
    """
    small = [picture for picture in (_draw_cut(estimate, narrow=narrow), _draw_opening(estimate, narrow=narrow)) if picture is not None]
    if narrow:
        pictures = [*small, _draw_narrow_table(list(list_figures(estimate)))]
        tops = accumulate((picture.tall for picture in small), initial=0.0)
        return (write_sheet(TITLE, pictures, [(0.0, top) for top in tops]),)
    places, x, y, tall = [], 0.0, 0.0, 0.0
    for picture in small:
        if x and x + picture.wide > WIDE:
            x, y, tall = 0.0, y + tall, 0.0
        places.append((x, y))
        x, tall = x + picture.wide + BESIDE, max(tall, picture.tall)
    first, *more = _draw_tables(list(list_figures(estimate)), TALLEST - y - tall)
    return write_sheet(TITLE, [*small, first], [*places, (0.0, y + tall)]), *(write_sheet(TITLE, [table]) for table in more)


def _at_scale(draw: Callable[[Canvas], None], title: str, scale: float, *, narrow: bool) -> Picture:
    """A drawing at its scale [px/in], and smaller where it would not fit a telephone."""

    def at(scale: float) -> Picture:
        sheet = canvas_for(title, scale=scale, narrow=narrow)
        draw(sheet)
        return sheet.finish()

    return fit_width(at, scale, narrow=narrow)


def _draw_cut(estimate: Estimate, *, narrow: bool) -> Picture | None:
    """The top of the front with its cut; None where nothing is cut."""
    cut, model = estimate.design.cut, estimate.design.placed.model
    if cut is None:
        return None
    gaps, base = cut_gaps(model, cut), base_width(model)
    across_in = max(base.span[1], gaps["wide"].span[1]) - min(base.span[0], gaps["wide"].span[0])
    title = "Template of the front cut" if is_sawn(model, cut) else "Template of the apron"
    return _at_scale(partial(_put_cut, estimate, cut), title, min(FRONT_SCALE, FRONT_WIDE / across_in), narrow=narrow)


def _put_cut(estimate: Estimate, cut: FrontCut, sheet: Canvas) -> None:
    gaps, base = cut_gaps(estimate.design.placed.model, cut), base_width(estimate.design.placed.model)
    (left, right), (low, high) = gaps["wide"].span, gaps["down"].span
    sheet.line("cabinet", (base.span[0], low - BELOW_CUT_IN), (base.span[0], high), (left, high))
    sheet.line("cabinet", (right, high), (base.span[1], high), (base.span[1], low - BELOW_CUT_IN))
    sheet.line("front cut", (left, high), (left, low), (right, low), (right, high), kind="cut")
    sheet.rest((base.span[0], low - BELOW_CUT_IN, base.span[1], high), [(left, low, right, high)], "wide")
    does = "cut out" if is_sawn(estimate.design.placed.model, cut) else "room"
    sheet.name("front cut", f"{does} for the {cut.kind} apron", (left + right) / 2.0, (low + high) / 2.0, "right", room=(right - left, high - low), bold=True)
    bottom = low - BELOW_CUT_IN
    sheet.size(gaps["side"], bottom, "below")
    sheet.size(gaps["wide"], bottom, "below")
    sheet.size(base, bottom, "below")
    sheet.size(gaps["down"], base.span[0], "left")
    sheet.note("Measured from the base's left end and from its top.")


def _draw_opening(estimate: Estimate, *, narrow: bool) -> Picture:
    """The counter of the sink's run from above, with its opening and holes."""
    placed = estimate.design.placed
    alone = estimate.design.cut is None
    largest, wide = (2.0 * LARGEST_SCALE, 2.0 * COUNTER_WIDE) if alone else (LARGEST_SCALE, COUNTER_WIDE)
    left, right = placed.model["counter"].span("x")
    ends = [left, right, *(hole.x_in + way * hole.diameter_in / 2.0 for hole in placed.counter_holes for way in (-1.0, 1.0))]  # a hole beside it is a stop
    return _at_scale(partial(_put_opening, estimate), "Opening in the countertop", min(largest, wide / (max(ends) - min(ends))), narrow=narrow)


def _put_opening(estimate: Estimate, sheet: Canvas) -> None:
    placed = estimate.design.placed
    counter, gaps = placed.model["counter"], opening_gaps(placed.model, placed.opening)
    (left, right), front = counter.span("x"), counter.span("y")[1]
    for stroke in project([counter], FROM_ABOVE):
        if not stroke.hidden and not any(in_square(stroke, hole.room) for hole in placed.counter_holes):
            sheet.line("counter", stroke.start, stroke.end, kind="cut")
    for hole in placed.counter_holes:
        sheet.circle("holes", hole.x_in, -hole.y_in, hole.diameter_in / 2.0)
    sheet.box("wall", left, 0.0, right, 1.5, kind="none", hatch="wide")
    sheet.line("wall", (left, 0.0), (right, 0.0), kind="cut")
    for name in ("from left", "wide"):
        sheet.size(gaps[name], -front, "below")
    for name in ("from wall", "deep", "front"):
        sheet.size(_turned(gaps[name]), left, "left")
    x, y = placed.opening.x, placed.opening.y
    sheet.name("cut-out", "opening", sum(x) / 2.0, -sum(y) / 2.0, "right", room=(x[1] - x[0], y[1] - y[0]), bold=True)
    sheet.note("From the finished wall and the left end of the run.")
    if placed.opening.rabbet is not None:  # through thin counters it goes into the sub-top, so that the counter alone doesn't show the opening
        sheet.box("cut-out", x[0], -y[1], x[1], -y[0])
        sheet.note("The inner line is the opening, the outer one the rabbet for the rim.")


def _turned(gap: Gap) -> Gap:
    """A gap from the wall as it lies on a sheet with the wall at its top."""
    return Gap(gap.value_in, gap.axis, (-gap.span[1], -gap.span[0]), gap.fields)


def _draw_tables(figures: Sequence[Figure], first_tall: float) -> Iterator[Picture]:
    """The table in parts: the first no taller than what is left for it, the others no taller than a sheet [px]."""
    at = min(max((measure_text(clean(figure.what)) for figure in figures), default=0.0) + 36.0, WIDE / 2.0)
    part, left, heading = list[Figure](), first_tall - AROUND, ""
    for figure in figures:
        high = LINE * len(wrap_text(clean(figure.words), WIDE - 24.0 - at)) + (HEADING if figure.heading != heading else 0.0)
        if high > left and part:
            yield _draw_table(part, at)
            part, left = [], TALLEST - AROUND - HEADING
        part.append(figure)
        left, heading = left - high, figure.heading
    yield _draw_table(part, at)


def _draw_table(figures: Sequence[Figure], at: float) -> Picture:
    """The figures under their headings, their words beginning `at` [px]."""
    sheet, y, heading = Canvas(TABLE, scale=1.0, scaled=False), 0.0, ""
    for figure in figures:
        if figure.heading != heading:
            heading = figure.heading
            y = _write_heading(sheet, heading, y, WIDE - 24.0)
        sheet.write(figure.what, 12.0, y)
        for line in wrap_text(clean(figure.words), WIDE - 24.0 - at):
            sheet.write(line, at, y, fields=figure.fields)
            y -= LINE
    sheet.note(CAUTION)
    return sheet.finish()


def _draw_narrow_table(figures: Sequence[Figure]) -> Picture:
    """The figures for a telephone: each in bold below what it means."""
    sheet, y, heading = Canvas(TABLE, scale=1.0, scaled=False, wide=PHONE), 0.0, ""
    for figure in figures:
        if figure.heading != heading:
            heading = figure.heading
            y = _write_heading(sheet, heading, y, PHONE)
        for line in wrap_text(clean(figure.what), PHONE):
            sheet.write(line, 0.0, y)
            y -= LINE
        for line in wrap_text(clean(figure.words), PHONE - 12.0):
            sheet.write(line, 12.0, y, bold=True, fields=figure.fields)
            y -= LINE
        y -= 3.0
    sheet.note(CAUTION)
    return sheet.finish()


def _write_heading(sheet: Canvas, heading: str, y: float, wide: float) -> float:
    """A heading with its rule; gives where the next line stands."""
    y -= 6.0
    sheet.write(heading, 0.0, y, bold=True)
    sheet.line("", (0.0, y - 9.0), (wide, y - 9.0), kind="today")
    return y - LINE - 3.0
