"""Water while the kitchen waits for a counter: stubs capped and the drain plugged between two trips, and a temporary sink where the terms ask for it."""

from kit.records import Line
from kit.sources.sizes import table_size
from kit.steps import Step
from kit.takeoff.removal import waits_for_counter
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import number, total

__all__ = ["count_temporary_sink", "count_water_kept"]

HOT_AND_COLD = 2


def count_water_kept(sheet: Sheet) -> list[Line]:
    """Where the kitchen stands open: while a shop makes the counter, or for the days on which we make and coat our own."""
    job, step = sheet.job, Step.KEEP_WATER
    if not ((waits_for_counter(sheet) or _own_counter(sheet)) and sheet.design.removal.sink_by == "us"):
        return []
    stubs = [number(HOT_AND_COLD, "hot and cold stubs")]
    for name, there in (("dishwasher", job.plumbing.dishwasher), ("filter", job.plumbing.filter), ("hot-tap", job.plumbing.hot_tap)):
        if there:
            stubs.append(number(1, f"{name} branch"))
    plug = number(1, "drain stub")
    return [
        sheet.buy(step, "stop-cap", "caps", total(stubs)),
        sheet.do(step, "cap-stub", "cap and open", total(stubs)),
        sheet.buy(step, f"drain-plug-{table_size(job.plumbing.drain_size)}", "plug", plug),
        sheet.do(step, "plug-drain", "plug", plug),
    ]


def _own_counter(sheet: Sheet) -> bool:
    return sheet.design.removal.counter_by == "us" and sheet.job.counter.made_by == "us"


def count_temporary_sink(sheet: Sheet) -> list[Line]:
    """Lent for the job, connected once and taken away once; nothing where no sink comes out."""
    if not (sheet.job.terms.temporary_sink and sheet.design.removal.sink_by == "us"):
        return []
    step, lent = Step.KEEP_WATER, number(1, "temporary sink")
    return [sheet.fee(step, "temporary-sink", "lent", lent, source="demo"), sheet.do(step, "lend-sink", "connect and take away", lent, source="demo")]
