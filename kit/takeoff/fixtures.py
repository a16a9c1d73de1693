"""What is hung at the sink: faucet and accessories in the deck, the disposer below."""

from collections import Counter

from kit.design.named_goods import counter_kind
from kit.errors import Fault, ListError
from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import counted, number, total

__all__ = ["count_accessories", "count_disposer", "count_faucet"]

_ACCESSORIES = {"dispenser": "dispenser", "filter-tap": "filter-tap"}
ELECTRICIAN = "hire-electrician"


def count_faucet(sheet: Sheet) -> list[Line]:
    """What goes into the deck; the faucet's row of the scope table says who supplies and who fits it."""
    job, step, scope = sheet.job, Step.FIT_FAUCET, sheet.job.scope.faucet
    lines = _holes(sheet)
    if scope.ours_to_supply:
        lines.append(sheet.buy(step, "faucet", "faucet", number(1, "faucet"), parts=("faucet",)))
    if scope.renewed:
        lines += sheet.work_for(scope, step, "fit-faucet", "fit", number(1, "faucet"))
    elif scope.stays and (sheet.design.removal.counter_by == "us" or job.scope.sink.renewed):
        lines += sheet.work_for(scope, step, "refit-faucet", "off and on", number(1, "faucet"))
    return [*lines, *_accessories(sheet)]


def _holes(sheet: Sheet) -> list[Line]:
    """A fabricator bills holes with the counter; in a blank of our own we drill them, and in a counter that stays those to drill; tile is laid round them."""
    drilled, counter = sheet.design.placed.counter_holes, sheet.job.counter
    if counter.made_by == "stays":
        return _in_the_old_counter(sheet, sum(hole.to_drill for hole in drilled))
    if counter.made_by != "us" or not drilled or not sheet.job.scope.counter.ours_to_install or sheet.design.setting.laid_in_place:
        return []
    return [sheet.do(Step.FIT_TOP, "drill-hole", "drill and seal", counted(len(drilled), "hole", "holes"), parts=("holes",))]


def _in_the_old_counter(sheet: Sheet, count: int) -> list[Line]:
    """By us where a crew cuts this counter on site or it is tile, else by the shop on a trip, with the opening where that is enlarged too.

    Raises ListError if nobody can be had for it: the counter's row has no hole_item.
    """
    kind, holes = counter_kind(sheet.job, sheet.lists), counted(count, "hole", "holes")
    if not count:
        return []
    if kind.cut_on_site or kind.laid_in_place:
        return [sheet.do(Step.FIT_TOP, "drill-hole", "drill and seal", holes, source="common-practice", parts=("holes",))]
    if kind.hole_item is None:
        raise ListError(
            Fault(f'countertop "{kind.item}"', "has no hole_item for the hole to drill. Add one, or list the hole as one that is there.", "counters.csv")
        )
    lines = [sheet.hire(Step.SET_COUNTER, kind.hole_item, "drill in place", holes, parts=("holes",))]
    if kind.trip_item and not sheet.design.top.enlarged_in:
        lines.append(sheet.hire(Step.SET_COUNTER, kind.trip_item, "drill in place", number(1, "trip")))
    return lines


def _accessories(sheet: Sheet) -> list[Line]:
    step, scope, parts = Step.FIT_FAUCET, sheet.job.scope.faucet, count_accessories(sheet.job)
    lines = [sheet.buy(step, item, "accessory", number(count, item.replace("-", " "))) for item, count in parts.items() if scope.supplied_by != "customer"]
    if parts:
        lines += sheet.work_for(scope, step, "fit-accessory", "accessories", total([number(count, item.replace("-", " ")) for item, count in parts.items()]))
    return lines


def count_accessories(job: FilledJob) -> dict[str, int]:
    """What comes with the faucet, by item: by the holes; the air gap by how the dishwasher's hose is kept from siphoning, since the code may ask for it."""
    scope = job.scope.faucet
    if scope.excluded:
        return {}
    uses: Counter[str] = Counter(hole.use for hole in job.counter.holes)
    parts = {item: uses[use] for use, item in _ACCESSORIES.items() if uses[use] and scope.renewed}
    if job.plumbing.dishwasher and job.plumbing.dishwasher_drain == "air-gap" and not job.scope.dishwasher.excluded:
        parts["air-gap"] = 1
    return parts


def count_disposer(sheet: Sheet) -> list[Line]:
    """Nothing without a disposer, or when it is no part of the job."""
    job, step, scope = sheet.job, Step.CONNECT_DISPOSER, sheet.job.scope.disposer
    if job.plumbing.disposer == "none" or scope.excluded:
        return []
    new, lines = job.plumbing.disposer == "new", []
    if new and scope.ours_to_supply:
        lines.append(sheet.buy(step, "disposer", "disposer", number(1, "disposer"), parts=("disposer",)))
        lines.append(sheet.buy(step, "disposer-cord", "cord", number(1, "cord")))
    if scope.installed_by in {"us", "trade"} and job.sink.bottom_thickness_in > value("practice", "disposer/bottom-most"):
        lines.append(sheet.buy(step, "disposer-flange-extended", "thick bottom", number(1, "flange"), source="from-memory", parts=("disposer",)))
    if scope.ours_to_install:
        lines.append(sheet.buy(step, "putty", "flange", number(1, "flange") * number(value("practice", "sink/putty"), "fl oz each"), source="judgement"))
    lines += sheet.work_for(scope, step, "hang-disposer" if new else "rehang-disposer", "hang", number(1, "disposer"))
    if new and job.plumbing.dishwasher:
        lines += sheet.work_for(scope, step, "knock-out", "dishwasher inlet", number(1, "disposer"))
    if sheet.design.duties.electrician:
        for at, driver in ((Step.ROUGH_ELECTRIC, "rough-outlet"), (Step.ELECTRIC_DEVICE, "fit-device")):
            lines.append(sheet.hire(at, ELECTRICIAN, "outlet", sheet.hire_hours(driver, number(1, "outlet with switch")), source="demo"))
        lines += _outlet_goods(sheet)
    return lines


def _outlet_goods(sheet: Sheet) -> list[Line]:
    """What the electrician brings and bills: box and cable before the wall closes, the device after it; the local rule decides the device."""
    cable = number(sheet.job.plumbing.outlet_cable_ft, "ft of cable for an outlet")
    return [
        sheet.hire(Step.ROUGH_ELECTRIC, "electric-box", "outlet", number(1, "box"), source="common-practice"),
        sheet.hire(Step.ROUGH_ELECTRIC, "electric-cable", "outlet", cable),
        sheet.hire(Step.ELECTRIC_DEVICE, "electric-device", "outlet", number(1, "receptacle with its switch"), source="common-practice"),
    ]
