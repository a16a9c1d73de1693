"""The cabinet's front: taken off, cut and sealed for an apron; then doors, lower ones where the apron asks, fillers and what lives below the deck put back."""

from collections import Counter

from kit.design.doors import DoorPlan, door_count
from kit.design.front import FrontCut
from kit.design.place_boxes import cut_in_wood
from kit.design.place_fillers import FILLER_ABOVE, FILLER_BESIDE
from kit.records import Line, Piece
from kit.solids import Stage
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sealant import TAPED_SIDES
from kit.takeoff.set_sink import sink_is_set
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, named, number, total
from kit.units import without_noise

__all__ = ["count_front_cut", "count_fronts_back", "count_fronts_off"]

_SCREWS = {"face-frame": "screw-cabinet", "frameless": "screw-box"}


def count_front_cut(sheet: Sheet) -> list[Line]:
    """Only for an apron that reaches below the box top; a tie behind the apron, where cleats carry the sink, is a member of the frame."""
    cut = sheet.design.cut
    if cut is None:
        return []
    lines, edge = [*_held_box(sheet, cut), *_template(sheet, cut)], _wood_edge(sheet, cut)
    return lines if edge is None else [*lines, *_cutting(sheet, edge), *_sealing(sheet, cut, edge)]


def _outline(cut: FrontCut) -> Amount:
    """Length of the cut's outline [in]: what the template follows."""
    return number(cut.width_in, "in across") + number(2) * number(cut.height_in, "in down")


def _wood_edge(sheet: Sheet, cut: FrontCut) -> Amount | None:
    """Length of the raw edge [in]: the outline where it goes through rails, stiles or sides; None where all of it lies in the air between them."""
    across_in, down_in = cut_in_wood(sheet.design.placed.model, cut)
    parts = [number(length_in, what) for length_in, what in ((across_in, "in across wood"), (down_in, "in down through wood")) if length_in]
    return total(parts) if parts else None


def _held_box(sheet: Sheet, cut: FrontCut) -> list[Line]:
    step = Step.CUT_FRONT
    if not cut.neighbor_boxes:
        return []
    boxes = counted(cut.neighbor_boxes, "neighbor box", "neighbor boxes")
    screws = boxes * number(value("practice", "front/box-screws"), "screws")
    return [
        sheet.buy(step, _SCREWS[sheet.job.cabinet.construction], "box to its neighbors", screws, source="common-practice"),
        sheet.do(step, "hold-box", "box to its neighbors", boxes),
    ]


def _template(sheet: Sheet, cut: FrontCut) -> list[Line]:
    step = Step.CUT_FRONT
    margin_in = value("practice", "front/template-margin")
    wide, high = number(cut.width_in, "in") + number(2) * number(margin_in, "in margin"), number(cut.height_in, "in") + number(margin_in, "in margin")
    piece = Piece(wide.value, 1, "template", high.value, grain="free")
    return [
        sheet.buy(step, "template-sheet", "template", wide * high / number(144, "sq in a sq ft"), source="common-practice", pieces=(piece,)),
        sheet.do(step, "front-template-foot", "make and hold to the sink", _outline(cut) / number(12, "in a foot")),
    ]


def _cutting(sheet: Sheet, edge: Amount) -> list[Line]:
    step = Step.CUT_FRONT
    taped = number(TAPED_SIDES, "sides of the line") * edge / number(12, "in a foot")
    return [
        sheet.buy(step, "masking-tape", "cut line", taped, source="common-practice"),
        sheet.buy(step, "fine-blade", "cut", edge / number(value("practice", "front/blade-life"), "in a blade"), source="judgement"),
        sheet.buy(step, "abrasive-sheet", "edge", edge / number(value("practice", "front/abrasive-life"), "in a sheet"), source="judgement"),
        sheet.do(step, "front-cut-foot", "cut and dress", edge / number(12, "in a foot"), parts=("cut-out",)),
    ]


def _sealing(sheet: Sheet, cut: FrontCut, edge: Amount) -> list[Line]:
    step = Step.CUT_FRONT
    coats = number(value("practice", "front/seal-coats"), "coats")
    area = edge * number(cut.edge_thickness_in, "in thick") / number(144, "sq in a sq ft")
    return [
        sheet.buy(step, "edge-seal", "raw edge", area * coats / number(value("practice", "seal/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.do(step, "front-seal-foot", "seal the raw edge", edge / number(12, "in a foot") * coats),
    ]


def count_fronts_off(sheet: Sheet) -> list[Line]:
    """Doors off where there is work inside the box or a sink is raised in it; a false front off for good where an apron replaces it; the base emptied."""
    cut, step, lines = sheet.design.cut, Step.FRONTS_OFF, []
    if _doors_come_off(sheet):
        lines.append(sheet.do(step, "door-off", "doors off", _doors(sheet), parts=("doors",)))
    if cut is not None and cut.false_front_removed:
        lines.append(sheet.do(step, "false-front", "take off for good", number(1, "false front"), parts=("false front",)))
    parts = _below_deck(sheet)
    return [*lines, sheet.do(step, "base-emptied", "take out", total(parts))] if parts else lines


def _doors_come_off(sheet: Sheet) -> bool:
    design = sheet.design
    inside = sheet.job.cabinet.wet_floor or bool(design.frame.members) or (design.setting.raised and sink_is_set(sheet))
    return inside or design.cut is not None or (design.doors is not None and design.doors.work != "keep")


def _doors(sheet: Sheet) -> Amount:
    return counted(door_count(sheet.job.cabinet.width_in), "door", "doors")


def count_fronts_back(sheet: Sheet) -> list[Line]:
    """The old doors back, first trimmed where the apron asks, or new ones; strips where the apron leaves a gap beside or below it."""
    doors, step, lines = sheet.design.doors, Step.REFIT_FRONTS, []
    if doors is not None and doors.work != "keep":
        lines += _trimmed(sheet, doors) if doors.work == "trim" else _renewed(sheet, doors)
    if _doors_come_off(sheet) and not (doors is not None and doors.work == "new"):
        lines.append(sheet.do(step, "door", "on again", _doors(sheet), parts=("doors",)))
    parts = _below_deck(sheet)
    if parts:
        lines.append(sheet.do(step, "below-deck-part", "put back", total(parts)))
    strips = _strips(sheet)
    if strips:
        length = total([named(piece.count, piece.name) * number(piece.length_in, "in") for piece in strips]) / number(12, "in a foot")
        lines.append(sheet.buy(step, "filler-strip", "fillers", length, pieces=strips, parts=("fillers",)))
        lines.append(sheet.do(step, "filler", "rip and fit", total([named(piece.count, piece.name) for piece in strips])))
    return lines


def _trimmed(sheet: Sheet, plan: DoorPlan) -> list[Line]:
    """Slab doors cut to height at their upper edge, which is sealed like the edge of the cut."""
    step, doors = Step.REFIT_FRONTS, counted(plan.count, "door", "doors")
    edge = doors * number(plan.width_in, "in wide")
    area = edge * number(value("checks", "corner/door-thickness"), "in thick") / number(144, "sq in a sq ft")
    coats = number(value("practice", "front/seal-coats"), "coats")
    return [
        sheet.buy(step, "masking-tape", "doors' cut line", number(TAPED_SIDES, "sides of the line") * edge / number(12, "in a foot"), source="common-practice"),
        sheet.buy(step, "fine-blade", "doors", edge / number(value("practice", "front/blade-life"), "in a blade"), source="judgement"),
        sheet.buy(step, "edge-seal", "doors' raw edge", area * coats / number(value("practice", "seal/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.do(step, "trim-door", "cut to height and seal", doors, parts=("doors",)),
    ]


def _renewed(sheet: Sheet, plan: DoorPlan) -> list[Line]:
    """Lower doors of the same kind, bored and finished by their shop."""
    step, doors = Step.REFIT_FRONTS, counted(plan.count, "door", "doors")
    area = doors * number(plan.width_in, "in wide") * number(plan.height_in, "in high") / number(144, "sq in a sq ft")
    return [
        sheet.buy(step, f"new-door-{sheet.job.cabinet.door_kind}", "doors below the apron", area, parts=("doors",)),
        sheet.do(step, "new-door", "hinges and pulls moved over", doors, parts=("doors",)),
    ]


def _below_deck(sheet: Sheet) -> list[Amount]:
    """What lives in the sink base and is in the way."""
    plumbing = sheet.job.plumbing
    return [
        number(1, name) for name, there in (("water filter", plumbing.filter), ("hot-water tank", plumbing.hot_tap), ("pull-out bin", plumbing.bin)) if there
    ]


def _strips(sheet: Sheet) -> tuple[Piece, ...]:
    """Beside the apron inside of stile or side, and below it above the doors: as they stand in the model."""
    bodies = sheet.design.placed.model.of_part("fillers", Stage.BUILT)
    alike = Counter((next(name for name in (FILLER_BESIDE, FILLER_ABOVE) if body.name.startswith(name)), without_noise(body.length_in)) for body in bodies)
    return tuple(Piece(length_in, count, name) for (name, length_in), count in alike.items())
