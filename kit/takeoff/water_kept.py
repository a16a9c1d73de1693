"""Water while a drain stands open over night: stubs without a new valve capped, the drain plugged; a temporary sink where the terms ask for it."""

from kit.records import Line
from kit.sources.sizes import table_size
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, number, total

__all__ = ["count_temporary_sink", "count_water_kept"]

HOT_AND_COLD = 2


def count_water_kept(sheet: Sheet) -> list[Line]:
    """Only where the drain stands open over night, and a cap only where the old sink is out and no new valve shuts the stub."""
    job, step, sink_by = sheet.job, Step.KEEP_WATER, sheet.design.removal.sink_by
    stays_over_it = sink_by == "nobody" and job.old.sink_kind != "none" and sheet.design.drain.is_lowered
    if not ((sink_by == "us" and _open_over_night(sheet)) or stays_over_it):
        return []
    stubs, plug, lines = [] if stays_over_it else _open_stubs(sheet), number(1, "drain stub"), []
    if stubs:
        lines = [sheet.buy(step, "stop-cap", "caps", total(stubs)), sheet.do(step, "cap-stub", "cap and open", total(stubs))]
    return [
        *lines,
        sheet.buy(step, f"drain-plug-{table_size(job.plumbing.drain_size)}", "plug", plug),
        sheet.do(step, "plug-drain", "plug", plug),
    ]


def _open_over_night(sheet: Sheet) -> bool:
    """While a bead or bed cures, our own counter is made or small pieces are laid, an inspector or a firm for asbestos is waited for.

    A sink whose rim clips hold is connected on the day on which the old one comes out; a shop's counter is set on that day too.
    """
    design = sheet.design
    if design.duties.permit or design.abatement.parts or not design.setting.clipped:
        return True
    return design.removal.counter_comes_off and (sheet.job.counter.made_by == "us" or design.setting.laid_in_place)


def _open_stubs(sheet: Sheet) -> list[Amount]:
    """Stubs and branches that no new valve shuts; a new valve with a second outlet shuts the dishwasher's branch."""
    plumbing, new = sheet.job.plumbing, min(sheet.design.supply.stops, HOT_AND_COLD)
    old = HOT_AND_COLD - new
    stubs = [counted(old, "hot or cold stub without a new valve", "stubs without new valves")] if old else []
    if plumbing.dishwasher and not new:
        stubs.append(number(1, "dishwasher branch"))
    branches = (("filter", plumbing.filter), ("hot-tap", plumbing.hot_tap)) if old else ()
    return [*stubs, *(number(1, f"{name} branch") for name, there in branches if there)]


def count_temporary_sink(sheet: Sheet) -> list[Line]:
    """Lent for the job, connected once and taken away once; nothing where no sink comes out."""
    if not (sheet.job.terms.temporary_sink and sheet.design.removal.sink_by == "us"):
        return []
    step, lent = Step.KEEP_WATER, number(1, "temporary sink")
    return [sheet.fee(step, "temporary-sink", "lent", lent, source="demo"), sheet.do(step, "lend-sink", "connect and take away", lent, source="demo")]
