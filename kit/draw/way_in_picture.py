"""The way in as far as it is known: from the truck to the kitchen, through the narrowest door, and the large pieces around the narrowest turn."""

from collections.abc import Iterator, Sequence
from math import sqrt

from kit.checks.way_in import DOOR, TURN, longest_past_turn_in
from kit.design.carried_in import CarriedPiece, list_carried
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.estimating import Estimate
from kit.job.field_names import say_choice
from kit.records import Level
from kit.shapes import Axis
from kit.solids import Gap
from kit.units import format_length

__all__ = ["draw_way_in"]

SCALE, LEAST_SCALE = 2.4, 0.8
WIDE, APART = 620.0, 14.0
"""Width of the whole picture and the space between two of its parts [px]."""
_WALL_IN, _PAST_IN = 4.0, 8.0  # how thick walls are drawn, and how far they go on past what is carried
_MOST_STEPS, _TREAD, _RISE = 10, 15.0, 9.0  # drawn at the most; a step as drawn [px]


def draw_way_in(estimate: Estimate) -> str:
    """The way in as SVG: the path as a diagram; door and turn from above, to scale, each with what has to pass it."""
    carried = tuple(list_carried(estimate.job, estimate.design.top))[::-1]  # the crate beside the door
    scale = max(min(SCALE, WIDE * SCALE / max(_rough_width(estimate, carried), 1.0)), LEAST_SCALE)
    pictures = (_draw_path(estimate), _draw_door(estimate, carried, scale), *(_draw_turn(estimate, piece, scale) for piece in carried))
    return write_sheet("The way in", pictures, tuple(_in_rows(pictures)))


def _rough_width(estimate: Estimate, carried: Sequence[CarriedPiece]) -> float:
    """What the widest turn takes at full scale [px]."""
    return SCALE * (estimate.job.site.narrowest_turn_in + max((_arm_in(piece) for piece in carried), default=0.0)) + 120.0


def _in_rows(pictures: Sequence[Picture]) -> Iterator[tuple[float, float]]:
    """Beside each other while there is room, then in a new row."""
    x = y = tall = 0.0
    for picture in pictures:
        if x and x + picture.wide > WIDE:
            x, y, tall = 0.0, y + tall + APART, 0.0
        yield x, y
        x, tall = x + picture.wide + APART, max(tall, picture.tall)


def _draw_path(estimate: Estimate) -> Picture:
    """Truck, walk, steps and kitchen: a diagram, in pixels."""
    site, sheet = estimate.job.site, Canvas("From the truck to the kitchen, not to scale; door and turn from above", scale=1.0, scaled=False)
    steps = min(site.stair_steps, _MOST_STEPS)
    up = steps * _RISE
    stair, door = 400.0 - steps * _TREAD, 400.0
    sheet.box("", 0.0, 8.0, 54.0, 34.0)
    for x in (12.0, 42.0):
        sheet.circle("", x, 5.0, 5.0)
    treads = [point for number in range(1, steps + 1) for point in _tread(stair, number)]
    sheet.line("", (-8.0, 0.0), (stair, 0.0), *treads, (590.0, up), kind="cut")
    sheet.line("", (door + 30.0, up), (door + 30.0, up + 62.0), (590.0, up + 62.0), (590.0, up), kind="thin")
    sheet.write("truck", 27.0, 21.0, anchor="middle")
    sheet.write("walk", (60.0 + stair) / 2.0, 26.0, anchor="middle")
    sheet.write(f"{site.carry_ft:g} ft", (60.0 + stair) / 2.0, 11.0, anchor="middle", fields=("site.carry",), field="site.carry")
    sheet.write("steps", door, up + 28.0, anchor="end")
    sheet.write(f"{site.stair_steps}", door, up + 13.0, anchor="end", fields=("site.stair_steps",), field="site.stair_steps")
    sheet.write("kitchen, floor", door + 40.0, up + 36.0)
    sheet.write(f"{site.floor}", door + 144.0, up + 36.0, fields=("site.floor",), field="site.floor")
    sheet.write(f"below: {say_choice('site.below', site.below)}", door + 40.0, up - 13.0, fields=("site.below",))
    for sentence in _say_trouble(estimate):
        sheet.note(sentence)
    return sheet.finish()


def _tread(stair: float, number: int) -> tuple[tuple[float, float], tuple[float, float]]:
    return (stair + (number - 1) * _TREAD, number * _RISE), (stair + number * _TREAD, number * _RISE)


def _say_trouble(estimate: Estimate) -> Iterator[str]:
    """What does not pass, or can't be told."""
    for finding in estimate.findings:
        if finding.id.startswith("way-in/") and finding.level is not Level.OK:
            yield f"{finding.check}: {finding.measured}, {finding.limit}. {finding.remedy}"


def _gap(wide_in: float, axis: Axis, field: str) -> Gap:
    return Gap(wide_in, axis, (0.0, wide_in), (field,))


def _draw_door(estimate: Estimate, carried: Sequence[CarriedPiece], scale: float) -> Picture:
    """The door from above; the crate of the sink stands in it, halfway through."""
    door_in, sheet = estimate.job.site.narrowest_door_in, Canvas("Narrowest door", scale=scale)
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


def _draw_turn(estimate: Estimate, piece: CarriedPiece, scale: float) -> Picture:
    """Two halls of one width from above, the inner corner at 0, and the piece halfway round; one no longer than a hall is wide is shifted, not turned."""
    wide_in, arm_in, sheet = estimate.job.site.narrowest_turn_in, _arm_in(piece), Canvas(f"Turn: {_short(piece)}", scale=scale, scaled=False)
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
    sheet.note(f"at most {format_length(most_in)} long")
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
