"""A counter that we lay in the house from small pieces: backer, mortar, tile, trim, grout and its sealer, by area and by foot."""

from kit.errors import Fault, ListError
from kit.lists.goods_rows import CounterKind
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.own_counter import splash_is_ours
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink_opening import cut_edge
from kit.takeoff.working import Amount, counted, number, pieces_length, total

__all__ = ["laid_counter"]


def laid_counter(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Goods where we supply it, work where we lay it; the opening of the sink is not deducted, as its cuts waste as much.

    Raises ListError if the counter's row names no tile, trim or grout.
    """
    scope = sheet.job.scope.counter
    goods = _goods(sheet, kind) if scope.supplied_by != "customer" else []
    return [*goods, *(_work(sheet) if scope.ours_to_install else [])]


def _goods(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """By area what lies below, by area what is seen; the splash is set on the wall and takes no backer."""
    base, seen = _counter_area(sheet), _seen_area(sheet)
    screws = base * number(value("practice", "laid/backer-screws"), "screws a sq ft")
    bed = number(value("practice", "laid/mortar"), "lb a sq ft")
    below = [base] * (round(value("practice", "laid/beds")) - 1)
    grout = seen * number(value("practice", "laid/grout"), "lb a sq ft")
    sealer = seen * number(value("practice", "laid/sealer"), "fl oz a sq ft")
    return [
        sheet.buy(Step.LAY_BACKER, _item(kind, "backer_item"), "backer", base, parts=("counter",)),
        sheet.buy(Step.LAY_BACKER, "backer-screw", "backer", screws, source="common-practice"),
        sheet.buy(Step.LAY_BACKER, "thinset", "beds", total([*below, seen]) * bed, source="from-memory"),
        sheet.buy(Step.SET_COUNTER, _item(kind, "blank_item"), "tile", seen, parts=("counter",)),
        sheet.buy(Step.SET_COUNTER, _item(kind, "edge_strip_item"), "trim", _trim(sheet), parts=("counter",)),
        sheet.buy(Step.GROUT, _item(kind, "grout_item"), "joints", grout, source="from-memory"),
        sheet.buy(Step.SEAL, "grout-sealer", "joints", sealer, source="from-memory"),
    ]


def _item(kind: CounterKind, column: str) -> str:
    item: str | None = getattr(kind, column)
    if item is None:
        raise ListError(Fault(f'countertop "{kind.item}"', f"has no {column}, but we lay it. Add one.", "counters.csv"))
    return item


def _work(sheet: Sheet) -> list[Line]:
    seen, step, holes = _seen_area(sheet), Step.SET_COUNTER, len(sheet.design.placed.counter_holes)
    lines = [
        sheet.do(Step.LAY_BACKER, "lay-backer", "cut, bed and screw", _counter_area(sheet), parts=("counter",)),
        sheet.do(step, "lay-piece", "tile", seen, parts=("counter",)),
        sheet.do(step, "lay-trim", "trim", _trim(sheet), parts=("counter",)),
        sheet.do(step, "lay-round-opening", "around the sink", cut_edge(sheet) / number(12, "in a foot"), parts=("cut-out",)),
        sheet.do(Step.GROUT, "grout-joints", "joints", seen),
        sheet.do(Step.SEAL, "seal-grout", "joints", seen),
    ]
    if holes:
        lines.append(sheet.do(step, "lay-round-hole", "holes", counted(holes, "hole", "holes"), parts=("holes",)))
    return lines


def _counter_area(sheet: Sheet) -> Amount:
    """Square feet of the counter itself."""
    pieces = sheet.design.top.pieces
    return total([number(piece.count * piece.length_in, "in") * number(piece.width_in, "in") for piece in pieces]) / number(144, "sq in a sq ft")


def _seen_area(sheet: Sheet) -> Amount:
    """Square feet of tile: the counter, and the splash where it is ours."""
    if not splash_is_ours(sheet):
        return _counter_area(sheet)
    splash = pieces_length(sheet.design.top.splash) * number(sheet.job.counter.splash_height_in, "in of backsplash") / number(144, "sq in a sq ft")
    return total([_counter_area(sheet), splash])


def _trim(sheet: Sheet) -> Amount:
    """Feet of trim: front edges and open ends in sight, and the upper edge of the splash."""
    top = sheet.design.top
    edges = [pieces_length(top.strips)] + ([pieces_length(top.splash)] if splash_is_ours(sheet) else [])
    return total(edges) / number(12, "in a foot")
