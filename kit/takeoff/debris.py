"""Debris: what it weighs, what room it takes, how often somebody walks with it, and what the dump asks."""

from dataclasses import dataclass

from kit.design.design import Design
from kit.design.doors import DoorPlan
from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.abatement import base_floor_area
from kit.takeoff.connect_dishwasher import old_dishwasher_goes
from kit.takeoff.receiving import carries, climbs, received_goods, renews_doors, walks
from kit.takeoff.sheet import Sheet
from kit.takeoff.tear_out import old_counter_area, old_counter_density, splash_area
from kit.takeoff.wall_patch import board_areas
from kit.takeoff.working import Amount, counted, number, round_up, total

__all__ = ["count_debris", "old_disposer_goes"]


@dataclass(frozen=True, slots=True)
class Heap:
    """One kind of debris: pounds, cubic feet as it lies on the truck, and whether it goes there in bags."""

    weight: Amount
    volume: Amount
    bagged: bool = False


def count_debris(sheet: Sheet) -> list[Line]:
    """Who hauls and who pays the dump, the scope says; nothing where somebody else does both."""
    haul, heaps = sheet.job.scope.haul_away, _heaps(sheet)
    if not haul.renewed or not heaps:
        return []
    step, lines = Step.HAUL, []
    weight = round_up(total([heap.weight for heap in heaps]))
    volume = round_up(total([heap.volume for heap in heaps]))
    if haul.installed_by == "trade":
        return [sheet.hire(step, "haul-trade", "haul", weight)]
    if haul.ours_to_supply and not (haul.ours_to_install and _rides_along(weight)):
        lines.append(sheet.fee(step, "disposal", "dump", weight))
    if haul.ours_to_supply:
        in_bags = [heap.volume for heap in heaps if heap.bagged]
        lines.append(sheet.buy(step, "debris-bag", "bags", total(in_bags) / number(value("site_work", "debris/bag"), "cu ft a bag"), source="common-practice"))
    if haul.ours_to_install:
        lines += _hauling(sheet, weight, volume)
    return lines


def _hauling(sheet: Sheet, weight: Amount, volume: Amount) -> list[Line]:
    step, pounds = Step.HAUL, number(weight.value, "lb of debris")
    people = carries(pounds)
    by_weight = round_up(pounds / number(value("site_work", "debris/truck-weight"), "lb a load"))
    by_volume = round_up(number(volume.value, "cu ft of debris") / number(value("site_work", "debris/truck-volume"), "cu ft a load"))
    lines = [
        sheet.do(step, "haul-pound", "load and dump", weight),
        sheet.do(step, "haul-foot", "walks", walks(sheet.job, people)),
        sheet.do(step, "haul-step", "stairs", climbs(sheet.job, people)),
    ]
    if _rides_along(pounds):
        return lines
    return [
        *lines,
        sheet.do(step, "dump-run", "runs to the dump", max(by_weight, by_volume, key=lambda loads: loads.value), source="common-practice"),
    ]


def _rides_along(weight: Amount) -> bool:
    """Whether debris goes home in the van and out with the next load of ours: no run for it, and no gate to pay."""
    return weight.value <= value("site_work", "debris/ride-along")


def _heaps(sheet: Sheet) -> list[Heap]:
    job, heaps = sheet.job, []
    if sheet.design.torn_out_by_us("counter"):
        heaps.append(_broken(old_counter_area(job), job.old.counter_thickness_in, old_counter_density(sheet)))
    if sheet.design.torn_out_by_us("splash") and job.old.splash_height_in:
        heaps.append(_old_splash(sheet))
    heaps += [_broken(area, value("site_work", "wall-board/thickness"), number(value("densities", "gypsum"), "lb a cubic foot")) for area in board_areas(sheet)]
    if job.cabinet.wet_floor and not sheet.design.abatement.takes("floor"):
        heaps.append(_old_floor(job))
    if sheet.design.doors is not None and renews_doors(sheet.design):
        heaps.append(_old_doors(sheet.design.doors))
    return [*heaps, *_whole_things(sheet), *_packaging(job)]


def _broken(area: Amount, thickness_in: float, density: Amount) -> Heap:
    """Sheet goods in pieces [sq ft, in, lb/cu ft]: the weight of the sheet, twice its room."""
    solid = area * number(thickness_in, "in thick") / number(12, "in a foot")
    return Heap(solid * density, solid * number(value("site_work", "debris/bulking"), "for loose debris"), bagged=True)


def _old_splash(sheet: Sheet) -> Heap:
    job = sheet.job
    area = splash_area(job)
    if job.old.splash == "tile":
        return _broken(area, value("site_work", "old-splash/tile-thickness"), number(value("site_work", "old-splash/tile"), "lb a cubic foot"))
    return _broken(area, value("site_work", "old-splash/strip-thickness"), old_counter_density(sheet))


def _old_floor(job: FilledJob) -> Heap:
    cabinet = job.cabinet
    return _broken(base_floor_area(job), cabinet.floor_thickness_in, number(value("densities", cabinet.floor_material), "lb a cubic foot"))


def _old_doors(plan: DoorPlan) -> Heap:
    """Doors that new ones replace, whole; as heavy as plywood of their size."""
    doors = counted(plan.count, "old door", "old doors")
    size = doors * number(plan.width_in, "in wide") * number(plan.height_today_in, "in high") * number(value("checks", "corner/door-thickness"), "in thick")
    volume = size / number(1728, "cu in a cu ft")
    return Heap(volume * number(value("densities", "plywood"), "lb a cubic foot"), volume)


def _whole_things(sheet: Sheet) -> list[Heap]:
    """Old sink, disposer and dishwasher, as they are."""
    job, heaps = sheet.job, []
    if sheet.design.torn_out_by_us("sink") and job.scope.sink.renewed:
        box = number(job.old.sink_width_in, "in") * number(job.old.sink_depth_in, "in") * number(value("site_work", "old-sink/height"), "in of old sink")
        heaps.append(Heap(number(job.old.sink_weight_lb, "lb of old sink"), box / number(1728, "cu in a cu ft")))
    if old_disposer_goes(job, sheet.design):
        weight = number(value("site_work", "old-disposer/weight"), "lb of old disposer")
        volume = number(value("site_work", "old-disposer/volume"), "cu ft of old disposer")
        heaps.append(Heap(weight, volume))
    if old_dishwasher_goes(job):
        heaps.append(
            Heap(
                number(value("site_work", "dishwasher/weight"), "lb of old dishwasher"),
                number(value("site_work", "dishwasher/volume"), "cu ft of old dishwasher"),
            )
        )
    return heaps


def old_disposer_goes(job: FilledJob, design: Design) -> bool:
    """Whether we take down an old disposer with the sink and have it to take away."""
    return job.old.disposer and job.plumbing.disposer != "keep" and design.removal.sink_by == "us"


def _packaging(job: FilledJob) -> list[Heap]:
    """Cartons of what came: the sink's and the dishwasher's by weight and size, the small ones by their number."""
    goods, heaps = received_goods(job), []
    if "sink" in goods:
        share = number(value("site_work", "debris/packaging-share"), "of it in packaging")
        box = number(job.sink.body_width_in, "in") * number(job.sink.depth_in, "in") * number(job.sink.deepest_in, "in of sink carton")
        heaps.append(Heap(number(job.sink.weight_lb, "lb of sink") * share, box / number(1728, "cu in a cu ft")))
    if "dishwasher" in goods:
        share = number(value("site_work", "debris/packaging-share"), "of it in packaging")
        volume = number(value("site_work", "dishwasher/volume"), "cu ft of dishwasher carton")
        heaps.append(Heap(number(value("site_work", "dishwasher/weight"), "lb of dishwasher") * share, volume))
    small = len([name for name in goods if name not in {"sink", "dishwasher"}])
    if small:
        cartons = counted(small, "carton", "cartons")
        heaps.append(Heap(cartons * number(value("site_work", "debris/carton"), "lb"), cartons * number(value("site_work", "debris/carton-volume"), "cu ft")))
    return heaps
