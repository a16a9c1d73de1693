"""The sink's opening in the counter: length and seal of its cut edge, what a shop bills for it, what enlarging it takes where the counter stays."""

from kit.errors import Fault, ListError
from kit.job import FilledJob
from kit.lists.goods_rows import CounterKind
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.set_sink import sink_is_set
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, number

__all__ = ["cut_edge", "cut_out_item", "edge_seal_lines", "enlarged_opening", "rim_joint"]


def cut_edge(sheet: Sheet) -> Amount:
    """Length of the cut edge [in]."""
    cut = sheet.design.top.cut_out
    across = number(cut.width_in, "in behind") if cut.open_front else number(2) * number(cut.width_in, "in across")
    return across + number(2) * number(cut.front_to_back_in, "in front to back")


def rim_joint(sheet: Sheet) -> Amount:
    """Length of the joint between sink and counter [in]: along the cut edge, around a rabbet, or around a flange that lies on the counter."""
    rim, opening = sheet.design.placed.sink, sheet.design.placed.opening
    if sheet.job.sink.mount == "top":
        wide_in, deep_in, what = rim.rim_x[1] - rim.rim_x[0], rim.rim_y[1] - rim.rim_y[0], "flange"
    elif opening.rabbet is not None:
        wide_in, deep_in, what = opening.rabbet.x[1] - opening.rabbet.x[0], opening.rabbet.y[1] - opening.rabbet.y[0], "rabbet"
    else:
        return _cut_edge_to_apron(sheet)
    across = number(wide_in, f"in of {what} behind") if opening.open_front else number(2) * number(wide_in, f"in of {what} across")
    return across + number(2) * number(deep_in, "in front to back")


def _cut_edge_to_apron(sheet: Sheet) -> Amount:
    """Along the cut edge; the bead ends where the sink does, at the face of an apron that stands back from the counter's front edge [in]."""
    apron, opening = sheet.design.placed.sink.apron, sheet.design.placed.opening
    if apron is None or not opening.open_front:
        return cut_edge(sheet)
    front_in = min(apron.y[1], opening.y[1])
    return number(opening.width_in, "in behind") + number(2) * number(front_in - opening.y[0], "in front to back")


def edge_seal_lines(sheet: Sheet, *, fresh: bool = True) -> list[Line]:
    """Sealer on the raw edge of the opening, by its area and coats: water comes in here first. An old edge gets one coat as the sink is set."""
    step, rate = (Step.FIT_TOP, "seal-edge-foot") if fresh else (Step.SET_SINK, "seal-old-edge-foot")
    edge = cut_edge(sheet)
    coats = number(value("practice", "front/seal-coats"), "coats") if fresh else number(1, "coat on the old edge")
    area = edge * number(sheet.job.counter.thickness_in, "in thick") / number(144, "sq in a sq ft")
    return [
        sheet.buy(step, "edge-seal", "cut-out", area * coats / number(value("practice", "seal/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.do(step, rate, "seal the cut edge", edge / number(12, "in a foot") * coats, parts=("cut-out",)),
    ]


def cut_out_item(job: FilledJob, kind: CounterKind) -> str:
    """The item of the opening: an apron's, open to the front, or that of the mount. Raises ListError if the counter's row has no price for it."""
    sort = "apron" if job.sink.is_apron else job.sink.mount
    item = {
        "apron": kind.cut_out_apron_item,
        "top": kind.cut_out_top_item,
        "flush": kind.cut_out_flush_item,
        "under": kind.cut_out_under_item,
    }[sort]
    if item is None:
        raise ListError(Fault(f'countertop "{kind.item}"', f"has no cut_out_{sort}_item. Add one, or choose another mount.", "counters.csv"))
    return item


def enlarged_opening(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Nothing is billed by a fabricator unless the opening must be enlarged in what only a shop cuts."""
    top = sheet.design.top
    if not sink_is_set(sheet):
        return []
    if kind.cut_on_site:
        lines = [sheet.do(Step.FIT_TOP, "cut-out-foot", "enlarge the opening", cut_edge(sheet) / number(12, "in a foot"))] if top.enlarged_in else []
        return [*lines, *edge_seal_lines(sheet, fresh=bool(top.enlarged_in))]
    return _enlarged_by_shop(sheet, kind) if top.enlarged_in else []


def _enlarged_by_shop(sheet: Sheet, kind: CounterKind) -> list[Line]:
    lines = [sheet.hire(Step.SET_COUNTER, cut_out_item(sheet.job, kind), "enlarge the opening", number(1, "cutout on site"), parts=("cut-out",))]
    if kind.trip_item:
        lines.append(sheet.hire(Step.SET_COUNTER, kind.trip_item, "enlarge the opening", number(1, "trip")))
    return lines
