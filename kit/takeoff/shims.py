"""Shims and strips that bring the boxes level."""

from kit.records import Line, Piece
from kit.steps import Step
from kit.takeoff.removal import counter_comes_off
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total

__all__ = ["count_shims"]


def count_shims(sheet: Sheet) -> list[Line]:
    """Pairs of shims at each support that is low; solid packers where a pair is not enough. Nothing moves under a counter that stays."""
    if not counter_comes_off(sheet.job):
        return []
    shims, step = sheet.design.shims, Step.LEVEL
    low = [support for support in shims.supports if support.pairs]
    lines = [sheet.do(step, "level-support", "check and shim", n(len(shims.supports), f"supports at the {shims.where}"))]
    if low:
        each = total([n(support.pairs, "pairs") for support in low]) * n(2, "shims in a pair")
        lines.append(sheet.buy(step, "shim", "pairs", each, source="common-practice", parts=("shims",)))
    packed = [support for support in low if support.packer_in > 0.0]
    if packed:
        depth_in = sheet.job.cabinet.depth_in
        amount = n(len(packed), "packers") * n(depth_in, "in") / n(12, "in a foot")
        lines.append(sheet.buy(step, "packer-strip", "packers", amount, pieces=(Piece(depth_in, len(packed), "packer"),), parts=("shims",)))
    return lines
