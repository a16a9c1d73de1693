"""Support frame: lumber, panel, adhesive, screws, toe board off and on."""

from collections import Counter

from kit.design.frame import cleat_screws
from kit.design.frame_parts import POST_PACKER, SHIMS
from kit.design.packer_strips import layer_name, strip_layers
from kit.design.place_platform import CORNER_SHIMS
from kit.design.shims import pairs_in
from kit.records import Line, Piece
from kit.solids import Body, Stage
from kit.steps import Step
from kit.takeoff.sealant import bead_area
from kit.takeoff.set_sink import sink_is_set
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, named, number, total
from kit.units import without_noise
from kit.units.defined import CUBIC_INCHES_PER_FLUID_OUNCE

__all__ = ["count_frame"]


def count_frame(sheet: Sheet) -> list[Line]:
    """Members of the frame as pieces to cut, and what fastens them."""
    frame = sheet.design.frame
    if not frame.members:
        return []
    return [*_members(sheet), *_fasteners(sheet), *_bed(sheet), *_shims(sheet), *_corners(sheet), *_toe_board(sheet)]


def _members(sheet: Sheet) -> list[Line]:
    step, frame = Step.BUILD_FRAME, sheet.design.frame
    sticks = [member for member in frame.members if member.width_in == 0.0]
    lumber = total([named(member.count, member.name) * number(member.length_in, "in") for member in sticks]) / number(12, "in a foot")
    pieces = tuple(Piece(member.length_in, member.count, member.name) for member in sticks)
    lines = [sheet.buy(step, "lumber-2x4", "members", lumber, pieces=pieces, parts=("frame",))]
    for panel in (member for member in frame.members if member.width_in):
        area = named(panel.count, panel.name) * number(panel.length_in, "in") * number(panel.width_in, "in") / number(144, "sq in a sq ft")
        lines.append(sheet.buy(step, panel.item, "panel", area, pieces=(Piece(panel.length_in, panel.count, panel.name, panel.width_in),), parts=("frame",)))
    members = total([named(member.count, member.name) for member in frame.members])
    return [*lines, sheet.do(step, "frame-member", "cut and fix", members, parts=("frame",))]


def _fasteners(sheet: Sheet) -> list[Line]:
    """Structural screws hold the members together; shorter ones go through the cleats into the sides, so that no point comes out."""
    step, frame = Step.BUILD_FRAME, sheet.design.frame
    lines = [
        sheet.buy(step, "screw-structural", "frame", counted(frame.screws, "screw", "screws"), source="common-practice"),
        sheet.buy(step, "adhesive", "frame", _glue_line(sheet) / number(12, "in a foot"), source="common-practice"),
    ]
    if frame.cleat_screws:
        screws = counted(frame.cleat_screws, "screw into the sides", "screws into the sides")
        lines.append(sheet.buy(step, cleat_screws()[frame.cleat_screw_in], "cleats", screws, source="common-practice"))
    return lines


def _bed(sheet: Sheet) -> list[Line]:
    """Sealant on the side cleats, in which the rim of the sink lies; laid with the sink. A bowl on a platform lies on it dry."""
    cleats = [member for member in sheet.design.frame.members if member.name == "side cleat"]
    if not cleats or not sink_is_set(sheet):
        return []
    bead_in = sheet.job.counter.bead_in
    length = total([named(member.count, member.name) * number(member.length_in, "in") for member in cleats])
    rope = length * number(bead_area("round", bead_in), "sq in of bead") / number(CUBIC_INCHES_PER_FLUID_OUNCE, "cu in a fl oz")
    return [sheet.buy(Step.BUILD_FRAME, "sealant", "bed on the cleats", rope, source="common-practice", parts=("sealant",))]


def _glue_line(sheet: Sheet) -> Amount:
    """Along all that lies on something or against it: a panel along each of its joists, the joists with it."""
    members = sheet.design.frame.members
    joists = sum(member.count for member in members if member.name == "platform joist")
    panels = [number(joists, "joists") * number(member.length_in, "in of panel") for member in members if member.width_in]
    lying = [member for member in members if member.way != "upright" and member.width_in == 0.0 and member.name != "platform joist"]
    return total([*panels, *(named(member.count, member.name) * number(member.length_in, "in") for member in lying)])


def _shims(sheet: Sheet) -> list[Line]:
    """Opposed pairs below each post where the floor has fallen, on a solid packer where a pair is not enough; fitting them is part of fitting the post."""
    step, bodies = Step.BUILD_FRAME, sheet.design.placed.model.of_part("shims", Stage.BUILT)
    low = sum(pairs_in(body.size_in("z")) for body in bodies if body.name.startswith(SHIMS))
    if not low:
        return []
    pairs = counted(low, "pair below a post", "pairs below posts") * number(2, "shims in a pair")
    lines = [sheet.buy(step, "shim", "below posts", pairs, source="common-practice", parts=("shims",))]
    packers = [body for body in bodies if body.name.startswith(POST_PACKER)]
    if packers:
        layers = Counter((_long_in(body), layer_name(layer_in)) for body in packers for layer_in in strip_layers(body.size_in("z")))
        whole = Counter(length_in for length_in, _ in layers.elements())
        lengths = [counted(count, "packer", "packers") * number(length_in, "in") for length_in, count in sorted(whole.items())]
        pieces = tuple(Piece(length_in, count, f"{POST_PACKER}{name}") for (length_in, name), count in sorted(layers.items()))
        lines.append(sheet.buy(step, "packer-strip", "below posts", total(lengths) / number(12, "in a foot"), pieces=pieces, parts=("shims",)))
    return lines


def _long_in(packer: Body) -> float:
    """As long as the post above it is wide [in]."""
    return without_noise(max(packer.size_in("x"), packer.size_in("y")))


def _corners(sheet: Sheet) -> list[Line]:
    """The platform fits the deepest corner of the sink; a pair of shims under each of the three others where they stand higher."""
    corners = [body for body in sheet.design.placed.model.of_part("shims", Stage.BUILT) if body.name.startswith(CORNER_SHIMS)]
    if not corners:
        return []
    shims = counted(len(corners), "corner", "corners") * number(2, "shims in a pair")
    return [sheet.buy(Step.BUILD_FRAME, "shim", "below the sink", shims, source="common-practice", parts=("shims",))]


def _toe_board(sheet: Sheet) -> list[Line]:
    """Off and on again, where blocks go in below the cabinet floor."""
    if not sheet.design.frame.toe_board_off:
        return []
    return [sheet.do(Step.BUILD_FRAME, "toe-board", "off and on", number(sheet.job.cabinet.width_in, "in of toe kick") / number(12, "in a foot"))]
