"""The measuring visit: hours by what there is to measure."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import counted, n, total

__all__ = ["count_visit"]


def count_visit(sheet: Sheet) -> list[Line]:
    """One part to measure for the base, the old sink, each run, hole, corner and reading."""
    job = sheet.job
    parts = [n(1, "sink base"), counted(len(job.counter.runs), "run", "runs")]
    if job.old.sink_kind != "none":
        parts.append(n(1, "old sink"))
    if job.cabinet.corner is not None:
        parts.append(n(1, "corner"))
    if job.counter.holes:
        parts.append(counted(len(job.counter.holes), "hole", "holes"))
    if job.levelness.readings:
        parts.append(counted(len(job.levelness.readings), "level reading", "level readings"))
    return [sheet.do(Step.VISIT, "measure-part", "measure", total(parts))]
