"""The way in as far as it is known: from the truck to the kitchen, through the narrowest door, and the large pieces around the narrowest turn."""

from collections.abc import Iterator, Sequence
from functools import partial
from math import sqrt

from kit.checks.way_in import DOOR, TURN, longest_past_turn_in
from kit.design.carried_in import CarriedPiece, list_carried
from kit.draw.canvas import Picture, write_sheet
from kit.draw.lettering import measure_text, wrap_text
from kit.draw.name_places import LINE
from kit.draw.widths import PHONE, canvas_for, fit_width, write_note
from kit.estimating import Estimate
from kit.job.field_names import say_choice
from kit.records import Level
from kit.shapes import Axis
from kit.solids import Gap
from kit.units import format_length, format_limit

__all__ = ["draw_way_in"]

SCALE, LEAST_SCALE = 2.4, 0.8
WIDE, APART = 620.0, 14.0
"""Width of the whole picture at a desk and the space between two of its parts [px]."""
_WALL_IN, _PAST_IN = 4.0, 8.0  # how thick walls are drawn, and how far they go on past what is carried
_MOST_STEPS, _RISE = 10, 9.0  # drawn at the most; a step as drawn [px]
_ROAD = ((400.0, 590.0, 15.0), (160.0, PHONE, 7.0))  # where the door stands and the kitchen ends, and how long a tread is, at a desk and on a telephone [px]


def draw_way_in(estimate: Estimate, *, narrow: bool = False) -> str:
    """The way in as SVG: the path as a diagram; door and turn from above, to scale, each with what has to pass it; on a telephone below each other."""
    carried = tuple(list_carried(estimate.job, estimate.design.top))[::-1]  # the crate beside the door
    scale = max(min(SCALE, WIDE * SCALE / max(_rough_width(estimate, carried), 1.0)), LEAST_SCALE)
    door = fit_width(lambda smaller: _draw_door(estimate, carried, smaller, narrow=narrow), scale, narrow=narrow)
    turns = [fit_width(partial(_draw_turn, estimate, piece, narrow=narrow), scale, narrow=narrow) for piece in carried]
    pictures = (_draw_path(estimate, narrow=narrow), door, *turns)
    return write_sheet("The way in", pictures, tuple(_in_rows(pictures, PHONE + 20.0 if narrow else WIDE)))


def _rough_width(estimate: Estimate, carried: Sequence[CarriedPiece]) -> float:
    """What the widest turn takes at full scale [px]."""
    return SCALE * (estimate.job.site.narrowest_turn_in + max((_arm_in(piece) for piece in carried), default=0.0)) + 120.0


def _in_rows(pictures: Sequence[Picture], wide: float) -> Iterator[tuple[float, float]]:
    """Beside each other while there is room, then in a new row."""
    x = y = tall = 0.0
    for picture in pictures:
        if x and x + picture.wide > wide:
            x, y, tall = 0.0, y + tall + APART, 0.0
        yield x, y
        x, tall = x + picture.wide + APART, max(tall, picture.tall)


def _draw_path(estimate: Estimate, *, narrow: bool) -> Picture:
    """Truck, walk, steps and kitchen: a diagram, in pixels."""
    site = estimate.job.site
    sheet = canvas_for("From the truck to the kitchen, not to scale; door and turn from above", scale=1.0, narrow=narrow, scaled=False)
    steps = min(site.stair_steps, _MOST_STEPS)
    up = steps * _RISE
    door, end, tread = _ROAD[narrow]
    stair = door - steps * tread
    sheet.box("", 0.0, 8.0, 54.0, 34.0)
    for x in (12.0, 42.0):
        sheet.circle("", x, 5.0, 5.0)
    treads = [point for number in range(1, steps + 1) for point in _step(stair + (number - 1) * tread, tread, number * _RISE)]
    house = door + (8.0 if narrow else 30.0)
    sheet.line("", (-8.0 * (not narrow), 0.0), (stair, 0.0), *treads, (end, up), kind="cut")
    sheet.line("", (house, up), (house, up + 62.0), (end, up + 62.0), (end, up), kind="thin")
    sheet.write("truck", 27.0, 21.0, anchor="middle")
    walk = ((16.0, -13.0), (68.0, -13.0)) if narrow else (((60.0 + stair) / 2.0, 26.0), ((60.0 + stair) / 2.0, 11.0))
    sheet.write("walk", *walk[0], anchor="middle")
    sheet.write(f"{site.carry_ft:g} ft", *walk[1], anchor="middle", fields=("site.carry",), field="site.carry")
    sheet.write("steps", door, up + 28.0, anchor="end")
    sheet.write(f"{site.stair_steps}", door, up + 13.0, anchor="end", fields=("site.stair_steps",), field="site.stair_steps")
    where, floor = ("kitchen,", "floor") if narrow else ("", "kitchen, floor")
    sheet.write(where, house + 10.0, up + 51.0)
    sheet.write(floor, house + 10.0, up + 36.0)
    sheet.write(f"{site.floor}", house + 20.0 + measure_text(floor), up + 36.0, fields=("site.floor",), field="site.floor")
    for line, words in enumerate(wrap_text(f"below: {say_choice('site.below', site.below)}", end - house - 10.0)):
        sheet.write(words, house + 10.0, up - 13.0 - LINE * line, fields=("site.below",))
    for sentence in _say_trouble(estimate):
        write_note(sheet, sentence, narrow=narrow)
    return sheet.finish()


def _step(x: float, tread: float, up: float) -> tuple[tuple[float, float], tuple[float, float]]:
    return (x, up), (x + tread, up)


def _say_trouble(estimate: Estimate) -> Iterator[str]:
    """What does not pass, or can't be told."""
    for finding in estimate.findings:
        if finding.id.startswith("way-in/") and finding.level is not Level.OK:
            yield f"{finding.check}: {finding.measured}, {finding.limit}. {finding.remedy}"


def _gap(wide_in: float, axis: Axis, field: str) -> Gap:
    return Gap(wide_in, axis, (0.0, wide_in), (field,))


def _draw_door(estimate: Estimate, carried: Sequence[CarriedPiece], scale: float, *, narrow: bool) -> Picture:
    """The door from above; the crate of the sink stands in it, halfway through."""
    door_in, sheet = estimate.job.site.narrowest_door_in, canvas_for("Narrowest door", scale=scale, narrow=narrow)
    crate = next((piece for piece in carried if piece.part == "sink"), None)
    half_in = 12.0 if crate is None else crate.long_in / 2.0
    for left, right in ((-_WALL_IN * 2.0, 0.0), (door_in, door_in + _WALL_IN * 2.0)):
        sheet.box("", left, 0.0, right, _WALL_IN, kind="cut", hatch="wide")
    if crate is not None:
        left = (door_in - crate.wide_in) / 2.0
        sheet.box("sink", left, _WALL_IN / 2.0 - half_in, left + crate.wide_in, _WALL_IN / 2.0 + half_in, hatch="dots")
        sheet.name("", crate.name, door_in / 2.0, _WALL_IN / 2.0 - half_in / 2.0, room=(crate.wide_in, half_in))
        sheet.size(Gap(crate.wide_in, "x", (left, left + crate.wide_in), ("sink.body_width", "sink.depth")), _WALL_IN / 2.0 - half_in, "below")
    sheet.size(_gap(door_in, "x", DOOR), _WALL_IN / 2.0 + half_in, "above", DOOR)
    return sheet.finish()


def _arm_in(piece: CarriedPiece) -> float:
    """How far the halls are drawn from their inner corner [in]."""
    return piece.long_in / (2.0 * sqrt(2.0)) + piece.wide_in / 2.0 + _PAST_IN


def _draw_turn(estimate: Estimate, piece: CarriedPiece, scale: float, *, narrow: bool) -> Picture:
    """Two halls of one width from above, the inner corner at 0, and the piece halfway round; one no longer than a hall is wide is shifted, not turned."""
    wide_in, arm_in = estimate.job.site.narrowest_turn_in, _arm_in(piece)
    sheet = canvas_for(f"Turn: {_short(piece)}", scale=scale, narrow=narrow, scaled=False)
    far_in = wide_in + _WALL_IN
    for x0, y0, x1, y1 in (
        (-arm_in, wide_in, far_in, far_in),
        (wide_in, -arm_in, far_in, wide_in),
        (-arm_in, -_WALL_IN, 0.0, 0.0),
        (-_WALL_IN, -arm_in, 0.0, -_WALL_IN),
    ):
        sheet.box("", x0, y0, x1, y1, kind="none", hatch="wide")
    sheet.line("", (-arm_in, wide_in), (wide_in, wide_in), (wide_in, -arm_in), kind="cut")
    sheet.line("", (-arm_in, 0.0), (0.0, 0.0), (0.0, -arm_in), kind="cut")
    sheet.line(piece.part, *_corners(piece, wide_in), hatch="dots", closed=True)
    sheet.size(_gap(wide_in, "x", TURN), -arm_in, "below", TURN)
    most_in = longest_past_turn_in(wide_in, piece.wide_in)
    sheet.note(f"{format_length(piece.long_in)} x {format_length(piece.wide_in)};")
    sheet.note(f"at most {format_limit(most_in, most=True)} long")
    return sheet.finish()


def _short(piece: CarriedPiece) -> str:
    return piece.name if piece.part == "sink" else f"countertop, {piece.name}"


def _corners(piece: CarriedPiece, wide_in: float) -> list[tuple[float, float]]:
    """The piece from above [in]: at 45 degrees against the inner corner, or square in the middle of the turn."""
    long_in, thick_in = piece.long_in, piece.wide_in
    if long_in <= wide_in:
        x, y = (wide_in - long_in) / 2.0, (wide_in - thick_in) / 2.0
        return [(x, y), (x + long_in, y), (x + long_in, y + thick_in), (x, y + thick_in)]
    half, past = long_in / (2.0 * sqrt(2.0)), thick_in / sqrt(2.0)
    return [(-half, half), (half, -half), (half + past, -half + past), (-half + past, half + past)]
