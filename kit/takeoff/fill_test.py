"""Fill test: every bowl filled to the brim and drained at full flow, every joint looked at."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total
from kit.units.defined import CUBIC_INCHES_PER_GALLON

__all__ = ["count_fill_test"]


def count_fill_test(sheet: Sheet) -> list[Line]:
    """Fillings by the water that the bowls hold, looks by joint."""
    job, drain, supply, step = sheet.job, sheet.design.drain, sheet.design.supply, Step.FILL_TEST
    brim = total([n(bowl.width_in, "in") * n(bowl.front_to_back_in, "in") * n(bowl.depth_in, "in") for bowl in job.sink.bowls])
    water = brim / n(CUBIC_INCHES_PER_GALLON, "cu in a gal") * n(value("practice", "fill/fillings"), "fillings")
    joints = [n(drain.slip_joints, "slip joints")]
    if drain.cemented_joints:
        joints.append(n(drain.cemented_joints, "cemented joints"))
    if supply.connections:
        joints.append(n(supply.connections, "hoses"))
    if supply.stops:
        joints.append(n(supply.stops, "stops"))
    if job.plumbing.dishwasher and not job.scope.dishwasher.excluded:
        joints.append(n(1, "dishwasher hose"))
    return [sheet.do(step, "fill-gallon", "fill and drain", water, source="common-practice"), sheet.do(step, "look-joint", "dry and look", total(joints))]
