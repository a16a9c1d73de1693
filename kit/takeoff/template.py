"""The meeting at which the fabricator takes the template and someone signs for every measure."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import counted, n, total

__all__ = ["count_template"]


def count_template(sheet: Sheet) -> list[Line]:
    """Hours by what is agreed: the sink, each run, hole and seam."""
    job = sheet.job
    if not job.scope.counter.renewed or job.counter.made_by != "fabricator":
        return []
    agreed = [n(1, "sink"), counted(len(job.counter.runs), "run", "runs")]
    if job.counter.holes:
        agreed.append(counted(len(job.counter.holes), "hole", "holes"))
    if sheet.design.top.seams:
        agreed.append(counted(sheet.design.top.seams, "seam", "seams"))
    return [sheet.do(Step.TEMPLATE, "template-part", "meeting", total(agreed), source="general-web")]
