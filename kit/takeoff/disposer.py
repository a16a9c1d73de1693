"""Hanging the disposer: a new one, or the old one again; a cord, and an electrician where there was no outlet."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.work import hire_hours, work_for
from kit.takeoff.working import n

__all__ = ["count_disposer"]

ELECTRICIAN = "hire-electrician"


def count_disposer(sheet: Sheet) -> list[Line]:
    """Nothing without a disposer, or when it is no part of the job."""
    job, step, scope = sheet.job, Step.CONNECT_DISPOSER, sheet.job.scope.disposer
    if job.plumbing.disposer == "none" or scope.excluded:
        return []
    new, lines = job.plumbing.disposer == "new", []
    if new and scope.ours_to_supply:
        lines.append(sheet.buy(step, "disposer", "disposer", n(1, "disposer"), parts=("disposer",)))
        lines.append(sheet.buy(step, "disposer-cord", "cord", n(1, "cord")))
    if scope.ours_to_install:
        lines.append(sheet.buy(step, "putty", "flange", n(1, "flange") * n(value("practice", "sink/putty"), "fl oz each"), source="judgement"))
    lines += work_for(sheet, scope, step, "hang-disposer" if new else "rehang-disposer", "hang", n(1, "disposer"))
    if sheet.design.duties.electrician:
        hours = hire_hours(sheet, "disposer-outlet", n(1, "outlet with switch"))
        lines.append(sheet.hire(step, ELECTRICIAN, "outlet", hours, source="demo"))
    return lines
