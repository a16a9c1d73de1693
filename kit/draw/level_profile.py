"""How level is the run? The tops of its boxes as they were read, below a level line through the highest point, and what brings them up."""

from collections.abc import Iterator, Sequence
from typing import Literal

from kit.design.shims import box_top_lines
from kit.draw.canvas import Canvas, write_sheet
from kit.draw.lettering import letter_of
from kit.draw.name_places import LINE
from kit.draw.widths import PHONE, canvas_for, write_note
from kit.estimating import Estimate
from kit.solids import Gap
from kit.spans import Span
from kit.takeoff.working import counted
from kit.units import format_length

__all__ = ["draw_level_profile"]

TITLE = "The tops of the boxes along the run"
WIDE, DEEP = 560.0, 90.0
"""Room for the length of the run at a desk, and for the largest gap [px]."""
MOST_TIMES = 60.0
"""How many times as large as lengths heights are drawn at the most."""
_MANY = 8  # readings from which on their places are not dimensioned any more
_SHIM_IN = 1.5  # how wide a pair of shims is drawn
_COLUMNS = (24.0, 110.0, 186.0)  # of the readings on a telephone: their places, front and rear [px]


def draw_level_profile(estimate: Estimate, *, narrow: bool = False) -> str:
    """The profile of the run as SVG: lengths to scale, heights many times as large; readings are typed where they stand, on a telephone in a table."""
    fronts, rears = box_top_lines(estimate.job)
    end_in = max([fronts[-1][0], *(support.at_in for support in estimate.design.shims.supports)])
    scale, worst_in = ((PHONE - 8.0) if narrow else WIDE) / end_in, max(low for _, low in (*fronts, *rears))
    times = min(MOST_TIMES, max(1.0, float(int(DEEP / scale / worst_in)))) if worst_in > 0.0 else 1.0
    sheet = canvas_for(TITLE, scale=scale, narrow=narrow)
    sheet.line("", (0.0, 0.0), (end_in, 0.0), kind="center")
    sheet.line("", *_profile(fronts, end_in, times), kind="cut")
    if fronts != rears:
        sheet.line("", *_profile(rears, end_in, times), kind="hidden")
    _draw_shims(sheet, estimate, scale, times)
    if narrow and estimate.job.levelness.readings:
        _list_readings(sheet, estimate, -worst_in * times)
    else:
        _write_readings(sheet, estimate, scale, end_in, -worst_in * times)
    for sentence in _say_all(estimate, times, rear=fronts != rears, narrow=narrow):
        write_note(sheet, sentence, narrow=narrow)
    return write_sheet(TITLE, (sheet.finish(),))


def _profile(lows: Sequence[Span], end_in: float, times: float) -> list[tuple[float, float]]:
    """Straight between the readings, level on past the first and the last."""
    points = [(at_in, -low_in * times) for at_in, low_in in lows]
    return [(0.0, points[0][1]), *points, (end_in, points[-1][1])]


def _draw_shims(sheet: Canvas, estimate: Estimate, scale: float, times: float) -> None:
    """The gap at each support, and above the line how many pairs fill it."""
    for support in estimate.design.shims.supports:
        if support.pairs:
            half_in = _SHIM_IN / 2.0
            sheet.box("shims", support.at_in - half_in, -support.worst_in * times, support.at_in + half_in, 0.0, kind="thin", hatch="level")
            sheet.write(f"{support.pairs}", support.at_in, 10.0 / scale, anchor="middle")


def _write_readings(sheet: Canvas, estimate: Estimate, scale: float, end_in: float, bottom_in: float) -> None:
    """Each reading below its place, the rear one below that of the front, and the places from the left end."""
    readings = estimate.job.levelness.readings
    for number, reading in enumerate(readings, 1):
        field, y = f"levelness.readings[{number}]", bottom_in - 12.0 / scale
        anchor: Literal["start", "middle"] = "start" if reading.at_in * scale < 20.0 else "middle"
        sheet.line("", (reading.at_in, 0.0), (reading.at_in, bottom_in - 4.0 / scale), kind="thin")
        sheet.write(format_length(reading.low_in), reading.at_in, y, anchor=anchor, fields=(f"{field}.low",), field=f"{field}.low")
        if reading.rear_low_in is not None:
            rear = f"{field}.rear_low"
            sheet.write(format_length(reading.rear_low_in), reading.at_in, y - 15.0 / scale, anchor=anchor, fields=(rear,), field=rear)
        if min(reading.lows_in) == 0.0:
            sheet.write("highest", reading.at_in, 10.0 / scale, anchor=anchor)
        if len(readings) <= _MANY:
            sheet.size(Gap(reading.at_in, "x", (0.0, reading.at_in), (f"{field}.at",)), bottom_in - 40.0 / scale, "below", f"{field}.at")
    if not readings:
        drop = "levelness.assumed_drop"
        sheet.write(format_length(estimate.job.levelness.assumed_drop_in), 0.75 * end_in, bottom_in - 12.0 / scale, fields=(drop,), field=drop)


def _list_readings(sheet: Canvas, estimate: Estimate, bottom_in: float) -> None:
    """A letter below each place; below the profile the place and its readings in a row."""
    line_in, readings = LINE / sheet.scale, estimate.job.levelness.readings
    y = bottom_in - 3.0 * line_in
    at, *lows = (column / sheet.scale for column in _COLUMNS)
    for words, x in zip(("from left", "front", "rear"), (at, *lows), strict=True):
        sheet.write(words, x, y)
    for number, reading in enumerate(readings, 1):
        field, letter, y = f"levelness.readings[{number}]", letter_of(number - 1), y - line_in * 1.3
        sheet.line("", (reading.at_in, 0.0), (reading.at_in, bottom_in - 4.0 / sheet.scale), kind="thin")
        sheet.write(letter, reading.at_in, bottom_in - 12.0 / sheet.scale, anchor="middle", bold=True)
        sheet.write(letter, 0.0, y, bold=True)
        sheet.write(format_length(reading.at_in), at, y, fields=(f"{field}.at",), field=f"{field}.at")
        for x, name, low_in in zip(lows, ("low", "rear_low"), (reading.low_in, reading.rear_low_in), strict=True):
            if low_in is not None:
                sheet.write(format_length(low_in), x, y, fields=(f"{field}.{name}",), field=f"{field}.{name}")


def _say_all(estimate: Estimate, times: float, *, rear: bool, narrow: bool) -> Iterator[str]:
    shims, readings = estimate.design.shims, estimate.job.levelness.readings
    yield f"Heights are drawn {times:g} times as large as lengths. The thin line is level and touches the highest point."
    if not readings:
        yield "No readings yet: this drop over the run is assumed. Read the boxes before you shim them."
    if any(reading.rear_low_in is not None for reading in readings):
        where = "In the list: from the left end, how low in front and" if narrow else "Under each place: how low in front, then"
        yield f"{where} at the rear.{' The rear is dashed.' if rear else ''}"
    where = "on top of the boxes, which stay fixed" if shims.where == "box tops" else "at the floor, under the boxes"
    pairs = f"{counted(shims.pairs, 'pair', 'pairs').text} of shims {where}" if shims.pairs else "No shims: no place is low enough for a pair"
    yield f"{pairs}; above the line, how many at each support." if shims.pairs else f"{pairs}."
    packers = [support for support in shims.supports if support.packer_in > 0.0]
    if packers:
        most = format_length(max(support.packer_in for support in packers))
        yield f"A packer of up to {most} goes below the shims at {counted(len(packers), 'support', 'supports').text}."
