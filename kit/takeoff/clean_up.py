"""Clean-up: every square foot that was covered is swept and wiped; more of it where paint may hold lead."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.protection import path_area, work_area
from kit.takeoff.sheet import Sheet

__all__ = ["count_clean_up"]


def count_clean_up(sheet: Sheet) -> list[Line]:
    """Floor at work and on the way; lead-safe work ends with a cleaning that is checked."""
    lines = [sheet.do(Step.CLEAN, "clean-floor", "sweep and wipe", work_area(sheet) + path_area(sheet))]
    if sheet.design.duties.lead_safe:
        lines.append(sheet.do(Step.CLEAN, "lead-clean", "clean and check", work_area(sheet), source="from-memory"))
    return lines
