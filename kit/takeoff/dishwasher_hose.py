"""Connecting the dishwasher's drain again: hose, clamps, high loop or air gap; a new machine slid in."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.removal import new_dishwasher
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import drain_is_opened
from kit.takeoff.work import work_for
from kit.takeoff.working import Amount, n

__all__ = ["count_dishwasher_hose"]


def count_dishwasher_hose(sheet: Sheet) -> list[Line]:
    """By the scope table's row for the dishwasher; nothing without one, when it is no part of the job, or when nothing comes apart."""
    job, step, scope = sheet.job, Step.CONNECT_DISHWASHER, sheet.job.scope.dishwasher
    if not job.plumbing.dishwasher or scope.excluded or not (scope.renewed or drain_is_opened(sheet)):
        return []
    lines = []
    if scope.ours_to_supply:
        lines.append(sheet.buy(step, "dishwasher", "dishwasher", n(1, "dishwasher"), parts=("dishwasher",)))
    if new_dishwasher(job):
        lines.append(sheet.do(step, "set-dishwasher", "slide in and level", n(1, "dishwasher")))
    if scope.installed_by in {"us", "trade"}:
        lines += _hose(sheet)
    return [*lines, *work_for(sheet, scope, step, "connect-dishwasher", "drain and water", n(1, "dishwasher"))]


def _hose(sheet: Sheet) -> list[Line]:
    plumbing, step = sheet.job.plumbing, Step.CONNECT_DISHWASHER
    clamps = n(value("practice", "hose/clamps"), "clamps a hose")
    lines = [sheet.buy(step, "dishwasher-hose", "drain hose", n(plumbing.hose_run_in, "in") / n(12, "in a foot"), parts=("dishwasher",))]
    if plumbing.dishwasher_drain == "air-gap":
        down = _gap_to_branch(sheet)
        lines.append(sheet.buy(step, "air-gap-hose", "air gap to drain", down / n(12, "in a foot")))
        return [*lines, sheet.buy(step, "hose-clamp", "hoses", n(2, "hoses") * clamps, source="common-practice")]
    lines.append(sheet.buy(step, "hose-clamp", "hoses", n(1, "hose") * clamps, source="common-practice"))
    if plumbing.dishwasher_drain == "high-loop":
        lines.append(sheet.buy(step, "loop-strap", "high loop", n(1, "strap under the counter"), source="ipc"))
    return lines


def _gap_to_branch(sheet: Sheet) -> Amount:
    """From the air gap in the deck down to the weir of the trap, the lowest that its hose may end."""
    levels = sheet.design
    return n(levels.levels.counter_top_in, "in to the deck") - n(levels.drain.levels.weir_built_in, "in to the weir")
