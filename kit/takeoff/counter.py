"""The counter: a fabricator's bill, or blanks, sheets, edges and finish when we make it."""

from kit.design import counter_kind
from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total

__all__ = ["count_counter"]


def count_counter(sheet: Sheet) -> list[Line]:
    """Whoever makes it: area or blanks, cut-out, edges, splash, seams, holes, fastening."""
    if not sheet.job.scope.counter.renewed or sheet.job.counter.made_by == "stays":
        return []
    if sheet.job.counter.made_by == "fabricator":
        return _fabricated(sheet)
    return _own(sheet)


def _fabricated(sheet: Sheet) -> list[Line]:
    step, top, kind = Step.SET_COUNTER, sheet.design.top, counter_kind(sheet.job, sheet.lists)
    lines = []
    if kind.area_item:
        area = total([n(billed, "sq ft billed") for piece, billed in zip(top.pieces, top.billed_sqft, strict=True)])
        lines.append(sheet.hire(step, kind.area_item, "area", area, parts=("counter",)))
    if kind.cut_out_item and top.cut_out is not None:
        lines.append(sheet.hire(step, kind.cut_out_item, "sink cut-out", n(1, "cut-out"), parts=("cut-out",)))
    if kind.edge_item:
        lines.append(sheet.hire(step, kind.edge_item, "front edge", n(top.front_edge_in, "in") / n(12, "in a foot")))
    if kind.hole_item and sheet.job.counter.holes:
        lines.append(sheet.hire(step, kind.hole_item, "holes", n(len(sheet.job.counter.holes), "holes")))
    if kind.seam_item and top.seams:
        lines.append(sheet.hire(step, kind.seam_item, "seams", n(top.seams, "seams")))
    if kind.splash_item and top.splash:
        lines.append(sheet.hire(step, kind.splash_item, "splash", total([n(piece.length_in, "in") for piece in top.splash]) / n(12, "in a foot")))
    if kind.trip_item:
        lines.append(sheet.hire(step, kind.trip_item, "template and set", n(2, "trips")))
    return lines


def _own(sheet: Sheet) -> list[Line]:
    step, top, kind = Step.SET_COUNTER, sheet.design.top, counter_kind(sheet.job, sheet.lists)
    lines = []
    if kind.blank_item:
        area = total([n(piece.count, piece.name) * n(piece.length_in, "in") * n(piece.width_in, "in") for piece in (*top.pieces, *top.splash)]) / n(
            144, "sq in a sq ft"
        )
        lines.append(sheet.buy(step, kind.blank_item, "blanks", area, pieces=(*top.pieces, *top.splash), parts=("counter",)))
    lines.append(sheet.do(step, "own-counter-foot", "fit and fix", total([n(piece.length_in, "in") for piece in top.pieces]) / n(12, "in a foot")))
    return lines
