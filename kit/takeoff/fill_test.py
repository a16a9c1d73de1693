"""Fill test: every bowl filled to the brim and drained at full flow, every joint looked at."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import counted, n, total

__all__ = ["count_fill_test"]


def count_fill_test(sheet: Sheet) -> list[Line]:
    """Fillings by bowl, looks by joint."""
    job, drain, supply, step = sheet.job, sheet.design.drain, sheet.design.supply, Step.FILL_TEST
    fillings = counted(len(job.sink.bowls), "bowl", "bowls") * n(value("practice", "fill/fillings"), "fillings")
    joints = [n(drain.slip_joints, "slip joints")]
    if drain.cemented_joints:
        joints.append(n(drain.cemented_joints, "cemented joints"))
    if supply.connections:
        joints.append(n(supply.connections, "hoses"))
    if supply.stops:
        joints.append(n(supply.stops, "stops"))
    if job.plumbing.dishwasher and not job.scope.dishwasher.excluded:
        joints.append(n(1, "dishwasher hose"))
    return [sheet.do(step, "fill-bowl", "fill and drain", fillings, source="common-practice"), sheet.do(step, "look-joint", "dry and look", total(joints))]
