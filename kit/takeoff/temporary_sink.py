"""A temporary sink, lent while the kitchen waits: only where the terms ask for it."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.removal import sink_comes_out
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n

__all__ = ["count_temporary_sink"]


def count_temporary_sink(sheet: Sheet) -> list[Line]:
    """Lent for the job, connected once and taken away once; nothing where no sink comes out."""
    if not (sheet.job.terms.temporary_sink and sink_comes_out(sheet.job)):
        return []
    step, lent = Step.KEEP_WATER, n(1, "temporary sink")
    return [sheet.fee(step, "temporary-sink", "lent", lent, source="demo"), sheet.do(step, "lend-sink", "connect and take away", lent, source="demo")]
