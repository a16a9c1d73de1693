"""Floors and rooms kept clean: board on the way and at work, stair runners, a dust wall, what lead-safe work asks for, and the clean-up at the end."""

from kit.design.design import Design
from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.tear_out import counter_length, waits_for_counter
from kit.takeoff.wall_patch import patch_is_seen
from kit.takeoff.working import Amount, counted, number, total

__all__ = ["count_clean_up", "count_protection", "wants_dust_wall"]


def count_protection(sheet: Sheet) -> list[Line]:
    """What is laid and hung before work begins; laid anew when the crew comes back after a fabricator, hung anew only where that raises dust again."""
    job, step = sheet.job, Step.PROTECT
    floor = _covered_area(sheet)
    stages = counted(2 if waits_for_counter(sheet.job, sheet.design) else 1, "stage of the work", "stages of the work")
    lines = [
        sheet.buy(step, "floor-board", "floor", floor, source="common-practice"),
        sheet.do(step, "protect-floor", "lay and take up", floor * stages),
    ]
    if job.site.stair_steps:
        steps = counted(job.site.stair_steps, "step", "steps")
        runner = steps * number(value("site_work", "stairs/covered"), "in a step") / number(12, "in a foot")
        lines.append(sheet.buy(step, "stair-runner", "stairs", runner, source="common-practice"))
        lines.append(sheet.do(step, "protect-step", "stairs", steps * stages))
    if wants_dust_wall(sheet.job, sheet.design):
        lines += _dust_wall(sheet, stages if patch_is_seen(sheet) else counted(1, "stage of the work", "stages of the work"))
    if sheet.design.duties.lead_safe:
        lines += _lead_floor(sheet)
    if sheet.design.duties.fine_dust:
        lines += _fine_dust(sheet, stages)
    return lines


def _fine_dust(sheet: Sheet, stages: Amount) -> list[Line]:
    """What catches dust that harms lungs: a HEPA vacuum, rented for each stage of the work, a respirator for each of the crew; who wears it is fitted first."""
    step, crew = Step.PROTECT, sheet.job.terms.crew or sheet.lists.company.crew
    return [
        sheet.fee(step, "hepa-vacuum", "fine dust", counted(round(stages.value), "rental", "rentals"), source="demo"),
        sheet.buy(step, "respirator", "fine dust", counted(crew, "person of the crew", "people of the crew"), source="common-practice"),
    ]


def _covered_area(sheet: Sheet) -> Amount:
    """At work and on the way in; a plain swap is carried by hand over the customer's own floor."""
    return work_area(sheet) if sheet.design.setting.plain_swap else work_area(sheet) + path_area(sheet)


def wants_dust_wall(job: FilledJob, design: Design) -> bool:
    """Whether the work is shut off: always where it is lead-safe, else where people live and we cut or tear out."""
    return design.duties.lead_safe or (job.site.occupied and (design.cut is not None or design.removal.counter_by == "us"))


def _dust_wall(sheet: Sheet, stages: Amount) -> list[Line]:
    """Three sides of sheet round the work, from floor to ceiling, taped above and below; a later stage in which a patch in sight is sanded hangs it again."""
    step, around = Step.PROTECT, total([work_width(sheet), number(2, "sides") * work_depth(sheet)])
    area = around * number(value("site_work", "dust/height"), "ft high")
    return [
        sheet.buy(step, "dust-sheet", "dust wall", area, source="common-practice"),
        sheet.buy(step, "dust-tape", "dust wall", around * number(2, "edges") * stages, source="common-practice"),
        sheet.do(step, "dust-wall", "hang and take down", area * stages),
    ]


def _lead_floor(sheet: Sheet) -> list[Line]:
    beyond = number(value("site_work", "lead/floor-beyond"), "ft beyond")
    area = (work_width(sheet) + number(2, "sides") * beyond) * beyond
    step = Step.PROTECT
    return [sheet.buy(step, "dust-sheet", "lead-safe floor", area, source="from-memory"), sheet.do(step, "lead-floor", "lead-safe floor", area)]


def count_clean_up(sheet: Sheet) -> list[Line]:
    """Floor at work and on the way; lead-safe work ends with a cleaning that is checked."""
    lines = [sheet.do(Step.CLEAN, "clean-floor", "sweep and wipe", _covered_area(sheet))]
    if sheet.design.duties.lead_safe:
        lines.append(sheet.do(Step.CLEAN, "lead-clean", "clean and check", work_area(sheet), source="from-memory"))
    return lines


def work_width(sheet: Sheet) -> Amount:
    """Width in which people work [ft]: along the runs, or around the sink base when the counter stays."""
    if sheet.design.removal.counter_by == "us":
        return counter_length(sheet.job)
    beside = number(2, "sides") * number(value("site_work", "work/beside"), "ft beside the base")
    return number(sheet.job.cabinet.width_in, "in") / number(12, "in a foot") + beside


def work_depth(sheet: Sheet) -> Amount:
    """Depth of the strip in front of the counter [ft]: the usual one, or the aisle where that is narrower."""
    usual, aisle_in = number(value("site_work", "work/depth"), "ft in front"), sheet.job.cabinet.aisle_in
    if aisle_in is None:
        return usual
    return min(usual, number(aisle_in, "in of aisle") / number(12, "in a foot"), key=lambda depth: depth.value)


def work_area(sheet: Sheet) -> Amount:
    """Floor in front of the work [sq ft]."""
    return work_width(sheet) * work_depth(sheet)


def path_area(sheet: Sheet) -> Amount:
    """Floor on the way in [sq ft]; half of the walk is taken as indoors."""
    indoors = number(value("site_work", "path/share-indoors"), "of the walk indoors")
    return number(sheet.job.site.carry_ft, "ft") * indoors * number(value("site_work", "path/width"), "ft wide")
