"""Fill test: every bowl filled to the brim and drained at full flow, every joint looked at."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.dishwasher_hose import count_dishwasher_hose
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import drain_is_opened
from kit.takeoff.supply import count_supply
from kit.takeoff.working import counted, n, total
from kit.units.defined import CUBIC_INCHES_PER_GALLON

__all__ = ["count_fill_test"]


def count_fill_test(sheet: Sheet) -> list[Line]:
    """Fillings by the water that the bowls hold, looks by joint that was made."""
    job, drain, supply, step = sheet.job, sheet.design.drain, sheet.design.supply, Step.FILL_TEST
    joints = []
    if drain_is_opened(sheet):
        joints.append(counted(drain.slip_joints, "slip joint", "slip joints"))
        joints += [n(drain.cemented_joints, "cemented joints")] if drain.cemented_joints else []
    if any(line.item == "connect-hose" for line in count_supply(sheet)):
        joints.append(n(supply.connections, "hoses"))
    if supply.stops:
        joints.append(counted(supply.stops, "stop", "stops"))
    if any(line.item == "connect-dishwasher" for line in count_dishwasher_hose(sheet)):
        joints.append(n(1, "dishwasher hose"))
    if not joints:
        return []
    brim = total([n(bowl.width_in, "in") * n(bowl.front_to_back_in, "in") * n(bowl.depth_in, "in") for bowl in job.sink.bowls])
    water = brim / n(CUBIC_INCHES_PER_GALLON, "cu in a gal") * n(value("practice", "fill/fillings"), "fillings")
    return [sheet.do(step, "fill-gallon", "fill and drain", water, source="common-practice"), sheet.do(step, "look-joint", "dry and look", total(joints))]
