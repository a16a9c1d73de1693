"""Who meets at the house and what is looked at: measuring visit, template, inspector, fill test, punch list."""

from kit.design.doors import door_count
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.connect_dishwasher import count_dishwasher_hose
from kit.takeoff.connect_supply import count_supply
from kit.takeoff.ordering import hired_parties
from kit.takeoff.set_sink import drain_is_opened
from kit.takeoff.sheet import ALLOWANCE, Sheet
from kit.takeoff.working import counted, number, total
from kit.units.defined import CUBIC_INCHES_PER_GALLON

__all__ = ["count_fill_test", "count_inspection", "count_punch_list", "count_template", "count_visit"]


def count_visit(sheet: Sheet) -> list[Line]:
    """One part to measure for the base, the old sink, each run, hole, corner and reading; a plain swap is measured on the day (common practice, no source)."""
    job = sheet.job
    if sheet.design.setting.plain_swap:
        return []
    parts = [number(1, "sink base"), counted(len(job.counter.runs), "run", "runs")]
    if job.old.sink_kind != "none":
        parts.append(number(1, "old sink"))
    if job.cabinet.corner is not None:
        parts.append(number(1, "corner"))
    if job.cabinet.boxes:
        parts.append(counted(len(job.cabinet.boxes), "other box", "other boxes"))
    if sheet.design.placed.counter_holes:
        parts.append(counted(len(sheet.design.placed.counter_holes), "hole", "holes"))
    if job.levelness.readings:
        parts.append(counted(len(job.levelness.readings), "level reading", "level readings"))
    return [sheet.do(Step.VISIT, "measure-part", "measure", total(parts))]


def count_template(sheet: Sheet) -> list[Line]:
    """Hours by what is agreed: the sink, each run, hole and seam; nobody takes a template of what is laid in the house."""
    job = sheet.job
    if not job.scope.counter.renewed or job.counter.made_by != "fabricator" or sheet.design.setting.laid_in_place:
        return []
    agreed = [number(1, "sink"), counted(len(job.counter.runs), "run", "runs")]
    if sheet.design.placed.counter_holes:
        agreed.append(counted(len(sheet.design.placed.counter_holes), "hole", "holes"))
    if sheet.design.top.seams:
        agreed.append(counted(sheet.design.top.seams, "seam", "seams"))
    return [sheet.do(Step.TEMPLATE, "template-part", "meeting", total(agreed), source="general-web")]


def count_inspection(sheet: Sheet) -> list[Line]:
    """Two visits, before the wall closes and at the end; the fee, the job's own or else the list's, is paid as the permit is asked for."""
    if not sheet.design.duties.permit:
        return []
    stated = sheet.job.terms.permit_fee
    item, amount = ("permit", number(1, "permit")) if stated is None else ("permit-stated", number(float(stated), "USD as stated"))
    return [
        sheet.do(Step.INSPECT, "inspection-visit", "be there", number(1, "rough visit")),
        sheet.do(Step.INSPECT_FINAL, "final-visit", "be there", number(1, "final visit")),
        sheet.fee(Step.ORDER, item, "fee", amount),
    ]


def count_fill_test(sheet: Sheet) -> list[Line]:
    """Fillings by the water that the bowls hold, looks by joint that was made."""
    job, drain, supply, step = sheet.job, sheet.design.drain, sheet.design.supply, Step.FILL_TEST
    joints = []
    if drain_is_opened(sheet) and drain.slip_joints:
        joints.append(counted(drain.slip_joints, "slip joint", "slip joints"))
        joints += [counted(drain.cemented_joints, "cemented joint", "cemented joints")] if drain.cemented_joints else []
    if any(line.item == "connect-hose" for line in sheet.lines_of(count_supply)):
        joints.append(number(supply.connections, "hoses"))
    if supply.stops:
        joints.append(counted(supply.stops, "shutoff valve", "shutoff valves"))
    dishwasher = any(line.item == "connect-dishwasher" for line in sheet.lines_of(count_dishwasher_hose))
    if dishwasher:
        joints.append(number(1, "dishwasher hose"))
    if not joints:
        return []
    if job.site.rooms_below and drain_is_opened(sheet):
        joints.append(number(1, "ceiling below"))
    brim = total([number(bowl.width_in, "in") * number(bowl.front_to_back_in, "in") * number(bowl.depth_in, "in") for bowl in job.sink.bowls])
    water = brim / number(CUBIC_INCHES_PER_GALLON, "cu in a gal") * number(value("practice", "fill/fillings"), "fillings")
    lines = [sheet.do(step, "fill-gallon", "fill and drain", water, source="common-practice"), sheet.do(step, "look-joint", "dry and look", total(joints))]
    if dishwasher:
        lines.append(sheet.do(step, "dishwasher-cycle", "run a cycle", number(1, "dishwasher"), source="common-practice"))
    return lines


def count_punch_list(sheet: Sheet) -> list[Line]:
    """One look for each party, door, bowl and hole, and one round of putting right; a plain swap is walked through before we leave."""
    job, step = sheet.job, Step.PUNCH_LIST
    if sheet.design.setting.plain_swap:
        return [sheet.do(step, "punch-look", "walk through", counted(len(job.sink.bowls), "bowl shown to the customer", "bowls shown to the customer"))]
    doors = door_count(job.cabinet.width_in)
    looks = [number(1, "for our crew"), *(number(1, f"for the {party}") for party in hired_parties(sheet)), counted(doors, "door", "doors")]
    looks.append(counted(len(job.sink.bowls), "bowl", "bowls"))
    if sheet.design.placed.counter_holes:
        looks.append(counted(len(sheet.design.placed.counter_holes), "hole", "holes"))
    return [sheet.do(step, "punch-look", "walk through", total(looks)), sheet.do(step, "punch-round", "put right", number(1, "round"), source=ALLOWANCE)]
