"""Before anything is loosened: water off and proved at the tap, power off and tested dead."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.set_sink import drain_is_opened
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import number, total

__all__ = ["count_shut_off"]


def count_shut_off(sheet: Sheet) -> list[Line]:
    """Water once, where joints or valves come apart; each cable or cord that hands come near (common practice, no source)."""
    job, design = sheet.job, sheet.design
    proved = {
        "water": design.removal.sink_by == "us" or bool(design.supply.stops) or drain_is_opened(sheet),
        "disposer": job.old.disposer and (design.removal.sink_by == "us" or drain_is_opened(sheet)),
        "dishwasher": job.plumbing.dishwasher and job.scope.dishwasher.renewed and job.scope.dishwasher.ours_to_install,
        "cables in the wall": design.drain.is_lowered or design.cut is not None or design.removal.splash_by == "us",
    }
    tests = [number(1, f"for the {name}") for name, touched in proved.items() if touched]
    return [sheet.do(Step.SHUT_OFF, "prove-off", "shut off and prove", total(tests), source="common-practice")] if tests else []
