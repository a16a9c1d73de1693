"""Faucet and accessories: holes drilled where we make the counter, faucet, dispenser, air gap, filter tap."""

from collections import Counter

from kit.records import Line
from kit.steps import Step
from kit.takeoff.removal import counter_comes_off
from kit.takeoff.sheet import Sheet
from kit.takeoff.work import work_for
from kit.takeoff.working import counted, n, total

__all__ = ["count_faucet"]

_ACCESSORIES = {"dispenser": "dispenser", "filter-tap": "filter-tap"}


def count_faucet(sheet: Sheet) -> list[Line]:
    """What goes into the deck; the faucet's row of the scope table says who supplies and who fits it."""
    job, step, scope = sheet.job, Step.FIT_FAUCET, sheet.job.scope.faucet
    lines = _holes(sheet)
    if scope.ours_to_supply:
        lines.append(sheet.buy(step, "faucet", "faucet", n(1, "faucet"), parts=("faucet",)))
    if scope.renewed:
        lines += work_for(sheet, scope, step, "fit-faucet", "fit", n(1, "faucet"))
    elif scope.stays and (counter_comes_off(job) or job.scope.sink.renewed):
        lines += work_for(sheet, scope, step, "refit-faucet", "off and on", n(1, "faucet"))
    return [*lines, *_accessories(sheet)]


def _holes(sheet: Sheet) -> list[Line]:
    """A fabricator bills holes with the counter; in a counter of our own we drill them."""
    counter = sheet.job.counter
    if counter.made_by != "us" or not counter.holes or not sheet.job.scope.counter.ours_to_install:
        return []
    holes = counted(len(counter.holes), "hole", "holes")
    return [sheet.do(Step.FIT_FAUCET, "drill-hole", "drill and seal", holes, parts=("holes",))]


def _accessories(sheet: Sheet) -> list[Line]:
    """By the holes; the air gap by how the dishwasher's hose is kept from siphoning, since the code may ask for it."""
    job, step, scope = sheet.job, Step.FIT_FAUCET, sheet.job.scope.faucet
    if scope.excluded:
        return []
    uses: Counter[str] = Counter(hole.use for hole in job.counter.holes)
    found = {item: uses[use] for use, item in _ACCESSORIES.items() if uses[use] and scope.renewed}
    if job.plumbing.dishwasher and job.plumbing.dishwasher_drain == "air-gap" and not job.scope.dishwasher.excluded:
        found["air-gap"] = 1
    lines = [sheet.buy(step, item, "accessory", n(count)) for item, count in found.items() if scope.supplied_by != "customer"]
    if found:
        lines += work_for(sheet, scope, step, "fit-accessory", "accessories", total([n(count, item) for item, count in found.items()]))
    return lines
