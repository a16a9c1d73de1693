"""The counter: a fabricator's bill, our own blanks, or one that stays and takes the new sink."""

from kit.design.named_goods import counter_kind
from kit.errors import Fault, JobError
from kit.job.field_names import label_of, say_choice
from kit.lists.goods_rows import CounterKind
from kit.records import Line
from kit.steps import Step
from kit.takeoff.laid_counter import laid_counter
from kit.takeoff.own_counter import own_counter
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink_opening import cut_out_item, enlarged_opening
from kit.takeoff.working import counted, number, pieces_length, total

__all__ = ["count_counter"]

_TRIPS = {Step.TEMPLATE: "template", Step.SET_COUNTER: "set", Step.GROUT: "grout"}


def count_counter(sheet: Sheet) -> list[Line]:
    """Lines of a new counter by its maker, or of the opening in one that stays; none where the counter is no part of the job.

    Raises JobError if the counter's row in the list is not made by whom the job says: it has no prices for that.
    """
    counter, scope = sheet.job.counter, sheet.job.scope.counter
    kind = counter_kind(sheet.job, sheet.lists)
    if scope.stays:
        return enlarged_opening(sheet, kind)
    if not scope.renewed:
        return []
    _refuse_other_maker(sheet, kind)
    if counter.made_by == "fabricator":
        return _fabricated_counter(sheet, kind)
    return laid_counter(sheet, kind) if kind.laid_in_place else own_counter(sheet, kind)


def _refuse_other_maker(sheet: Sheet, kind: CounterKind) -> None:
    made_by = sheet.job.counter.made_by
    if kind.made_by != made_by:
        known = ", ".join(row.name for row in sheet.lists.counters.values() if row.made_by == made_by and row.material == kind.material)
        listed, said = (say_choice("counter.made_by", who) for who in (kind.made_by, made_by))
        message = f'"{kind.name}" is made by {listed} in the list of countertops, but "{label_of("counter.made_by")}" says {said}.'
        raise JobError(Fault("counter.item", f"{message} {f'Choose one of: {known}' if known else 'The list has no other of that material'}."))


def _fabricated_counter(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Each priced item of the counter's row that this counter has; what the row leaves empty is in the area's price."""
    if sheet.job.scope.counter.supplied_by == "customer":
        return []
    return [*_area(sheet, kind), *_worked(sheet, kind), *_splash(sheet, kind), *_ways(sheet, kind)]


def _area(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Rectangles as billed: the sink's opening is not deducted, each is rounded up; the shop's minimum is for the job.

    What is cast, or laid on a backer and grouted, is billed by the same area in each of its steps.
    """
    area = total([number(billed, "sq ft billed") for billed in sheet.design.top.billed_sqft])
    billed = (
        (Step.CAST, kind.cast_item, "form and cast"),
        (Step.LAY_BACKER, kind.backer_item, "backer"),
        (Step.SET_COUNTER, kind.area_item, "area"),
        (Step.GROUT, kind.grout_item, "grout"),
    )
    return [sheet.hire(step, item, part, area, parts=("counter",)) for step, item, part in billed if item is not None]


def _worked(sheet: Sheet, kind: CounterKind) -> list[Line]:
    step, top, counter, lines = Step.SET_COUNTER, sheet.design.top, sheet.job.counter, []
    lines.append(sheet.hire(step, cut_out_item(sheet.job, kind), "sink cutout", number(1, "cutout"), parts=("cut-out",)))
    edge_item = kind.edge_built_item if counter.edge == "built-up" and kind.edge_built_item else kind.edge_item
    if edge_item:
        lines.append(sheet.hire(step, edge_item, "front edge", number(top.front_edge_in, "in") / number(12, "in a foot"), parts=("counter",)))
    drilled = sheet.design.placed.counter_holes
    if kind.hole_item and drilled:
        lines.append(sheet.hire(step, kind.hole_item, "holes", counted(len(drilled), "hole", "holes"), parts=("holes",)))
    if kind.seam_item and top.seams:
        lines.append(sheet.hire(step, kind.seam_item, "seams", counted(top.seams, "seam", "seams"), parts=("seam",)))
    return lines


def _splash(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """By length up to a usual height, and by area above it: common practice, no source."""
    top, scope = sheet.design.top, sheet.job.scope.splash
    if not kind.splash_item or not top.splash or not scope.renewed or scope.supplied_by == "customer":
        return []
    long = pieces_length(top.splash)
    lines = [sheet.hire(Step.SET_COUNTER, kind.splash_item, "splash", long / number(12, "in a foot"), parts=("splash",))]
    high_in, usual_in = sheet.job.counter.splash_height_in, kind.splash_height_in
    if kind.area_item and usual_in is not None and high_in > usual_in:
        higher = number(high_in, "in of backsplash") - number(usual_in, "in charged by length")
        lines.append(sheet.hire(Step.SET_COUNTER, kind.area_item, "higher backsplash", long * higher / number(144, "sq in a sq ft"), parts=("splash",)))
    return lines


def _ways(sheet: Sheet, kind: CounterKind) -> list[Line]:
    lines = []
    if kind.trip_item:
        first, last = (Step.SET_COUNTER, Step.GROUT) if kind.laid_in_place else (Step.TEMPLATE, Step.SET_COUNTER)
        lines.append(sheet.hire(first, kind.trip_item, _TRIPS[first], number(1, f"trip to {_TRIPS[first]}")))
        lines.append(sheet.hire(last, kind.trip_item, _TRIPS[last], number(1, f"trip to {_TRIPS[last]}")))
    if kind.delivery_item:
        pounds = number(sheet.design.top.area_sqft, "sq ft") * number(kind.weight_psf, "lb a sq ft")
        lines.append(sheet.hire(Step.SET_COUNTER, kind.delivery_item, "delivery", pounds))
    return lines
