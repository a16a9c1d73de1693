"""Before anything is loosened: water off and proved at the tap, power off and tested dead."""

from kit.design.design import Design
from kit.design.removal import opens_drain
from kit.job import FilledJob
from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import number, total

__all__ = ["count_shut_off", "tests_power"]

_WATER = "water"


def count_shut_off(sheet: Sheet) -> list[Line]:
    """Water once, where joints or valves come apart; each cable or cord that hands come near (common practice, no source)."""
    tests = [number(1, f"for the {name}") for name, touched in _proved(sheet.job, sheet.design).items() if touched]
    return [sheet.do(Step.SHUT_OFF, "prove-off", "shut off and prove", total(tests), source="common-practice")] if tests else []


def tests_power(job: FilledJob, design: Design) -> bool:
    """Whether hands come near a cable or cord."""
    return any(touched for name, touched in _proved(job, design).items() if name != _WATER)


def _proved(job: FilledJob, design: Design) -> dict[str, bool]:
    opened = design.removal.sink_by == "us" or opens_drain(job, design.removal, lowered=design.drain.is_lowered)
    return {
        _WATER: opened or bool(design.supply.stops),
        "disposer": job.old.disposer and opened,
        "dishwasher": job.plumbing.dishwasher and job.scope.dishwasher.renewed and job.scope.dishwasher.ours_to_install,
        "cables in the wall": design.drain.is_lowered or design.cut is not None or design.removal.splash_by == "us",
    }
