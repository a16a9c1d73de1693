"""Who brings what and who fits it: read from the takeoff's lines, so that a customer is promised what is priced and nothing else."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Never

from kit.estimating import Estimate
from kit.export.papers import sentences
from kit.job.counter import Counter
from kit.job.scope import ScopeItem
from kit.records import Kind, Line
from kit.steps import Step

__all__ = ["NOBODY", "PARTS", "STAYS", "Promise", "excluded_parts", "list_promises", "part_name"]

PARTS = {
    "sink": "Sink",
    "faucet": "Faucet",
    "strainer": "Strainer",
    "disposer": "Disposer",
    "dishwasher": "Dishwasher",
    "counter": "Countertop",
    "splash": "Backsplash",
    "drain_move": "Drain in the wall",
    "wall_repair": "Wall",
    "haul_away": "Debris",
    "asbestos": "Asbestos",
}
_FITTED_IN = {  # the work that fits a part: step, and the part of the line's name, "" for all lines of the step
    "sink": ((Step.SET_SINK, "lift and set"),),
    "faucet": ((Step.FIT_FAUCET, "fit"), (Step.FIT_FAUCET, "off and on")),
    "strainer": ((Step.SET_SINK, "bed and tighten"), (Step.CONNECT_DRAIN, "bed and tighten")),
    "disposer": ((Step.CONNECT_DISPOSER, "hang"),),
    "dishwasher": ((Step.CONNECT_DISHWASHER, "drain and water"),),
    "counter": ((Step.SET_COUNTER, ""), (Step.FIT_TOP, "")),
    "splash": ((Step.SET_COUNTER, "splash"), (Step.SET_COUNTER, "scribe and set")),
    "drain_move": ((Step.ROUGH_DRAIN, ""),),
    "wall_repair": ((Step.PATCH_WALL, ""),),
    "haul_away": ((Step.HAUL, ""),),
    "asbestos": ((Step.ABATE, "take out"),),
}
_LEFT = {"wall_repair": "not patched", "haul_away": "stays at the house"}
_THINGS = ("faucet", "strainer", "disposer", "dishwasher")
_TAKEN_OUT = ("haul_away", "asbestos")  # work alone: nothing comes into the house
_US, _YOU, _SHOP, _YOUR_SHOP, _TRADE, NOBODY = "us", "you", "countertop shop", "your countertop shop", "hired trade", "–"
_PLUMBER = "licensed plumber"
STAYS = "stays"


@dataclass(frozen=True, slots=True)
class Promise:
    """One part of the work: who brings it and who fits it, in the customer's words; the takeoff's lines say so where they are ours."""

    name: str
    brought: str
    fitted: str


def list_promises(estimate: Estimate) -> tuple[Promise, ...]:
    """The parts of the job: what we, the shop or a trade do and is priced, what the customer does, what stays.

    What the scope gives us and no line prices (a wall without a patch, debris of nothing) is no part of the job, and so is not promised.
    """
    rows = []
    for name in PARTS:
        item: ScopeItem = getattr(estimate.job.scope, name)
        if item.excluded or (name == "splash" and not _has_splash(estimate.job.counter)) or _no_asbestos(estimate, name):
            continue
        row = Promise(name, _brought(estimate, name, item), _fitted(estimate, name, item))
        nothing_to_do = name in {"wall_repair", "haul_away"} and row.fitted == NOBODY
        if name == "drain_move" or item.stays or (not nothing_to_do and {row.brought, row.fitted} != {NOBODY}):
            rows.append(row)
    return tuple(rows)


def part_name(estimate: Estimate, name: str) -> str:
    """What a part is called; a drain by where it leaves."""
    return "Drain in the floor" if name == "drain_move" and estimate.design.drain.through_floor else PARTS[name]


def _has_splash(counter: Counter[Never]) -> bool:
    return counter.splash == "same" and counter.splash_height_in > 0.0


def _no_asbestos(estimate: Estimate, name: str) -> bool:
    """A firm that nothing was found for is no part of the job, whoever would hire it."""
    return name == "asbestos" and not estimate.design.abatement.parts


def _brought(estimate: Estimate, name: str, item: ScopeItem) -> str:
    if item.stays:
        return STAYS
    if name in _TAKEN_OUT:
        return NOBODY
    kinds = {line.kind for line in estimate.lines if _is_goods(estimate, name)(line)}
    if item.supplied_by == "customer":
        return _YOU
    return _US if kinds & {Kind.BUY, Kind.FEE} else _hired(name) if Kind.HIRE in kinds else NOBODY


def _fitted(estimate: Estimate, name: str, item: ScopeItem) -> str:
    kinds = {line.kind for line in estimate.lines if any(_belongs(line, step, part) for step, part in _FITTED_IN[name])}
    if item.installed_by == "customer":
        return _YOU
    if item.installed_by == "fabricator" and item.supplied_by == "customer":
        return _YOUR_SHOP
    if not kinds and name == "splash":  # laid or billed with the counter
        return _fitted(estimate, "counter", item)
    if Kind.HIRE in kinds and not (item.ours_to_install and Kind.DO in kinds):
        return _hired(name)
    return _US if Kind.DO in kinds else NOBODY


def _hired(name: str) -> str:
    return _SHOP if name in {"counter", "splash"} else _PLUMBER if name == "drain_move" else _TRADE


def _belongs(line: Line, step: Step, part: str) -> bool:
    return line.step is step and (not part or line.id.rpartition("/")[2] == part)


def _is_goods(estimate: Estimate, name: str) -> Callable[[Line], bool]:
    """Which lines bring the part into the house."""
    if name == "sink":
        return lambda line: line.item == estimate.job.sink.item
    if name in _THINGS:
        return lambda line: line.item == name
    if name in {"counter", "splash"}:  # pieces of one order, or laid together
        kind = estimate.lists.counters.get(estimate.job.counter.item)
        items = {kind.area_item, kind.blank_item, estimate.job.counter.item} - {None} if kind else {estimate.job.counter.item}
        return lambda line: line.kind is not Kind.DO and (line.item in items or "counter" in line.parts)
    return lambda line: line.kind is not Kind.DO and any(_belongs(line, step, part) for step, part in _FITTED_IN[name])


def excluded_parts(estimate: Estimate) -> list[str]:
    """What is no part of the job: what the scope leaves out, then the usual sentences."""
    comes_off, tile = _come_off(estimate), estimate.job.counter.splash == "tile-by-others"
    named = [
        f"{part_name(estimate, name)}: {comes_off.get(name, _LEFT.get(name, 'not touched'))}"
        for name in PARTS
        if getattr(estimate.job.scope, name).excluded and name != "asbestos" and not (tile and name == "splash")
    ]
    by_others = f"Backsplash: tile by others{'; we take the old one off' if 'splash' in comes_off else ''}"
    return [*named, *([by_others] if tile else []), *sentences(estimate, "exclusion")]


def _come_off(estimate: Estimate) -> dict[str, str]:
    """What is taken out or comes loose although no new one comes, because it sits on what is renewed, and how that is said."""
    removal, job = estimate.design.removal, estimate.job
    sink_out = removal.sink_by != "nobody"
    comes_off = {"splash": removal.splash_by != "nobody", "sink": sink_out, "faucet": sink_out, "strainer": sink_out and job.scope.sink.renewed}
    comes_off["disposer"] = sink_out and job.old.disposer and job.plumbing.disposer != "keep"
    said = {name: "the old one comes off, no new one" for name, out in comes_off.items() if out}
    if comes_off["strainer"] and job.plumbing.disposer != "none" and len(job.sink.bowls) == 1:
        said["strainer"] = "none, the disposer's flange takes its place"
    if not job.old.disposer and job.plumbing.disposer != "keep":
        said["disposer"] = "no new one"
    if not job.plumbing.dishwasher:
        said["dishwasher"] = "no new one"
    elif any(line.step is Step.FREE_DISHWASHER for line in estimate.lines):
        said["dishwasher"] = "unfastened from the old countertop, not fastened or connected again"
    elif sink_out:
        said["dishwasher"] = "its hose comes off the old drain and is not connected again"
    return said
