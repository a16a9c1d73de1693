"""A counter that stays: its opening cut larger where the new sink asks for it, its cut edge sealed."""

from kit.lists import CounterKind
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.fabricated_counter import cut_out_item
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import sink_is_set
from kit.takeoff.working import Amount, n

__all__ = ["CUT_BY_US", "cut_edge", "edge_seal_lines", "standing_counter"]

CUT_BY_US = {"laminate", "wood"}


def standing_counter(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Nothing is billed by a fabricator unless the opening must be enlarged in what only a shop cuts."""
    top, job = sheet.design.top, sheet.job
    if top.cut_out is None or not sink_is_set(sheet):
        return []
    if job.counter.material in CUT_BY_US:
        lines = [sheet.do(Step.SET_COUNTER, "cut-out-foot", "enlarge the opening", cut_edge(sheet) / n(12, "in a foot"))] if top.enlarged_in else []
        return [*lines, *edge_seal_lines(sheet)]
    return _enlarged_by_shop(sheet, kind) if top.enlarged_in else []


def _enlarged_by_shop(sheet: Sheet, kind: CounterKind) -> list[Line]:
    lines = [sheet.hire(Step.SET_COUNTER, cut_out_item(sheet.job, kind), "enlarge the opening", n(1, "cut-out on site"), parts=("cut-out",))]
    if kind.trip_item:
        lines.append(sheet.hire(Step.SET_COUNTER, kind.trip_item, "enlarge the opening", n(1, "trip")))
    return lines


def cut_edge(sheet: Sheet) -> Amount:
    """Length of the cut edge [in]."""
    cut = sheet.design.top.cut_out
    if cut is None:
        return n(0, "in")
    across = n(cut.width_in, "in behind") if cut.open_front else n(2) * n(cut.width_in, "in across")
    return across + n(2) * n(cut.front_to_back_in, "in front to back")


def edge_seal_lines(sheet: Sheet) -> list[Line]:
    """Sealer on the raw edge of the opening, by its area and coats: water comes in here first."""
    step, edge, coats = Step.SET_COUNTER, cut_edge(sheet), n(value("practice", "front/seal-coats"), "coats")
    area = edge * n(sheet.job.counter.thickness_in, "in thick") / n(144, "sq in a sq ft")
    return [
        sheet.buy(step, "edge-seal", "cut-out", area * coats / n(value("practice", "seal/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.do(step, "seal-edge-foot", "seal the cut edge", edge / n(12, "in a foot") * coats, parts=("cut-out",)),
    ]
