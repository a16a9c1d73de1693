"""Repair of the cabinet: a wet floor by its area, a swollen side as an allowance until the counter is off."""

from kit.records import Line, Piece
from kit.steps import Step
from kit.takeoff.sheet import ALLOWANCE, Sheet
from kit.takeoff.working import n

__all__ = ["count_cabinet_repair"]


def count_cabinet_repair(sheet: Sheet) -> list[Line]:
    """A new panel over the whole floor; one side patched where a side is swollen."""
    cabinet, step, lines = sheet.job.cabinet, Step.REPAIR_CABINET, []
    if cabinet.wet_floor:
        area = n(cabinet.inside_width_in, "in between sides") * n(cabinet.depth_in, "in deep") / n(144, "sq in a sq ft")
        piece = Piece(cabinet.inside_width_in, 1, "cabinet floor", cabinet.depth_in, "free")
        lines.append(sheet.buy(step, "plywood-1-2", "cabinet floor", area, pieces=(piece,), parts=("cabinet",)))
        lines.append(sheet.do(step, "cabinet-floor", "renew", area))
    if cabinet.swollen_sides:
        down_in = cabinet.height_in - cabinet.toe_height_in
        area = n(1, "side") * n(cabinet.depth_in, "in deep") * n(down_in, "in high") / n(144, "sq in a sq ft")
        piece = Piece(down_in, 1, "cabinet side", cabinet.depth_in, "free")
        lines.append(sheet.buy(step, "plywood-1-2", "swollen side", area, source=ALLOWANCE, pieces=(piece,), parts=("cabinet",)))
        lines.append(sheet.do(step, "cabinet-side", "stiffen", n(1, "side"), source=ALLOWANCE))
    return lines
