"""Water back on between two trips: a cap on every stub and a plug in the drain while the fabricator works."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.removal import sink_comes_out, waits_for_counter
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total

__all__ = ["count_water_kept"]

HOT_AND_COLD = 2
_PLUGS = {"1-1/2": "drain-plug-1.5", "2": "drain-plug-2"}


def count_water_kept(sheet: Sheet) -> list[Line]:
    """Only where a template wait leaves the kitchen open."""
    job, step = sheet.job, Step.KEEP_WATER
    if not (waits_for_counter(job) and sink_comes_out(job)):
        return []
    stubs = [n(HOT_AND_COLD, "hot and cold stubs")]
    for name, there in (("dishwasher", job.plumbing.dishwasher), ("filter", job.plumbing.filter), ("hot-tap", job.plumbing.hot_tap)):
        if there:
            stubs.append(n(1, f"{name} branch"))
    plug = n(1, "drain stub")
    return [
        sheet.buy(step, "stop-cap", "caps", total(stubs)),
        sheet.do(step, "cap-stub", "cap and open", total(stubs)),
        sheet.buy(step, _PLUGS[job.plumbing.drain_size], "plug", plug),
        sheet.do(step, "plug-drain", "plug", plug),
    ]
