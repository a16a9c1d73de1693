"""A fabricator's bill: rectangles, the opening by mount, edges, holes, seams, splash, trips, delivery."""

from kit.errors import Fault, ListError
from kit.job import FilledJob
from kit.lists import CounterKind
from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.splash import pieces_length
from kit.takeoff.working import counted, n, total

__all__ = ["cut_out_item", "fabricated_counter"]


def cut_out_item(job: FilledJob, kind: CounterKind) -> str:
    """The item of the opening: an apron's, open to the front, or that of the mount.

    Raises
    ------
    ListError
        If the counter's row has no price for it.
    """
    sort = "apron" if job.sink.is_apron else job.sink.mount
    item = {
        "apron": kind.cut_out_apron_item,
        "top": kind.cut_out_top_item,
        "flush": kind.cut_out_flush_item,
        "under": kind.cut_out_under_item,
    }[sort]
    if item is None:
        raise ListError(Fault(f'counter "{kind.item}"', f"has no cut_out_{sort}_item. Add one, or choose another mount.", "counters.csv"))
    return item


def fabricated_counter(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Each priced item of the counter's row that this counter has; what the row leaves empty is in the area's price."""
    if sheet.job.scope.counter.supplied_by == "customer":
        return []
    return [*_area(sheet, kind), *_worked(sheet, kind), *_splash(sheet, kind), *_ways(sheet, kind)]


def _area(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Rectangles as billed: the sink's opening is not deducted, each is rounded up and has a least area."""
    if kind.area_item is None:
        return []
    area = total([n(billed, "sq ft billed") for billed in sheet.design.top.billed_sqft])
    return [sheet.hire(Step.SET_COUNTER, kind.area_item, "area", area, parts=("counter",))]


def _worked(sheet: Sheet, kind: CounterKind) -> list[Line]:
    step, top, counter, lines = Step.SET_COUNTER, sheet.design.top, sheet.job.counter, []
    if top.cut_out is not None:
        lines.append(sheet.hire(step, cut_out_item(sheet.job, kind), "sink cut-out", n(1, "cut-out"), parts=("cut-out",)))
    edge_item = kind.edge_built_item if counter.edge == "built-up" and kind.edge_built_item else kind.edge_item
    if edge_item:
        lines.append(sheet.hire(step, edge_item, "front edge", n(top.front_edge_in, "in") / n(12, "in a foot"), parts=("counter",)))
    if kind.hole_item and counter.holes:
        lines.append(sheet.hire(step, kind.hole_item, "holes", counted(len(counter.holes), "hole", "holes"), parts=("holes",)))
    if kind.seam_item and top.seams:
        lines.append(sheet.hire(step, kind.seam_item, "seams", counted(top.seams, "seam", "seams"), parts=("seam",)))
    return lines


def _splash(sheet: Sheet, kind: CounterKind) -> list[Line]:
    top, scope = sheet.design.top, sheet.job.scope.splash
    if not kind.splash_item or not top.splash or not scope.renewed or scope.supplied_by == "customer":
        return []
    return [sheet.hire(Step.SET_COUNTER, kind.splash_item, "splash", pieces_length(top.splash) / n(12, "in a foot"), parts=("splash",))]


def _ways(sheet: Sheet, kind: CounterKind) -> list[Line]:
    lines = []
    if kind.trip_item:
        lines.append(sheet.hire(Step.TEMPLATE, kind.trip_item, "template", n(1, "trip to take the template")))
        lines.append(sheet.hire(Step.SET_COUNTER, kind.trip_item, "set", n(1, "trip to set")))
    if kind.delivery_item:
        pounds = n(sheet.design.top.area_sqft, "sq ft") * n(kind.weight_psf, "lb a sq ft")
        lines.append(sheet.hire(Step.SET_COUNTER, kind.delivery_item, "delivery", pounds))
    return lines
