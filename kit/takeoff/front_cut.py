"""Cutting the cabinet's front for an apron: box held first, template, clean cut, dressed and sealed edge."""

from kit.records import Line, Piece
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, n

__all__ = ["count_front_cut"]

TAPED_SIDES = 2
_SCREWS = {"face-frame": "screw-cabinet", "frameless": "screw-box"}


def count_front_cut(sheet: Sheet) -> list[Line]:
    """Only for an apron that reaches below the box top; the tie behind the apron is a member of the frame."""
    cut = sheet.design.cut
    if cut is None:
        return []
    return [*_held_box(sheet), *_template(sheet), *_cutting(sheet), *_sealing(sheet)]


def _edge(sheet: Sheet) -> Amount:
    cut = sheet.design.cut
    assert cut is not None  # noqa: S101 - for the type checker; the caller looked
    return n(cut.width_in, "in across") + n(2) * n(cut.height_in, "in down")


def _held_box(sheet: Sheet) -> list[Line]:
    cut, step = sheet.design.cut, Step.CUT_FRONT
    if cut is None or not cut.neighbour_boxes:
        return []
    boxes = counted(cut.neighbour_boxes, "neighbour box", "neighbour boxes")
    screws = boxes * n(value("practice", "front/box-screws"), "screws")
    return [
        sheet.buy(step, _SCREWS[sheet.job.cabinet.construction], "box to its neighbours", screws, source="common-practice"),
        sheet.do(step, "hold-box", "box to its neighbours", boxes),
    ]


def _template(sheet: Sheet) -> list[Line]:
    cut, step = sheet.design.cut, Step.CUT_FRONT
    assert cut is not None  # noqa: S101 - as above
    margin_in = value("practice", "front/template-margin")
    wide, high = n(cut.width_in, "in") + n(2) * n(margin_in, "in margin"), n(cut.height_in, "in") + n(margin_in, "in margin")
    piece = Piece(wide.value, 1, "template", high.value, grain="free")
    return [
        sheet.buy(step, "template-sheet", "template", wide * high / n(144, "sq in a sq ft"), source="common-practice", pieces=(piece,)),
        sheet.do(step, "front-template-foot", "make and hold to the sink", _edge(sheet) / n(12, "in a foot")),
    ]


def _cutting(sheet: Sheet) -> list[Line]:
    step, edge = Step.CUT_FRONT, _edge(sheet)
    taped = n(TAPED_SIDES, "sides of the line") * edge / n(12, "in a foot")
    return [
        sheet.buy(step, "masking-tape", "cut line", taped, source="common-practice"),
        sheet.buy(step, "fine-blade", "cut", edge / n(value("practice", "front/blade-life"), "in a blade"), source="judgement"),
        sheet.buy(step, "abrasive-sheet", "edge", edge / n(value("practice", "front/abrasive-life"), "in a sheet"), source="judgement"),
        sheet.do(step, "front-cut-foot", "cut and dress", edge / n(12, "in a foot"), parts=("cut-out",)),
    ]


def _sealing(sheet: Sheet) -> list[Line]:
    cut, step = sheet.design.cut, Step.CUT_FRONT
    assert cut is not None  # noqa: S101 - as above
    coats = n(value("practice", "front/seal-coats"), "coats")
    area = _edge(sheet) * n(cut.edge_thickness_in, "in thick") / n(144, "sq in a sq ft")
    return [
        sheet.buy(step, "edge-seal", "raw edge", area * coats / n(value("practice", "seal/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.do(step, "front-seal-foot", "seal the raw edge", _edge(sheet) / n(12, "in a foot") * coats),
    ]
