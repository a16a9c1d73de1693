"""The job in words for the customer: what is done, who brings what, what is to be chosen, what was taken for granted."""

import re
from collections.abc import Iterator
from typing import Any, Never

from kit.design.named_goods import counter_kind
from kit.estimating import Estimate
from kit.export.papers import sentences
from kit.export.proposal_scope import list_promises, part_name
from kit.job import FilledJob
from kit.job.counter import Hole
from kit.job.field_names import list_words, lower_first, say_choice, say_value
from kit.job.fields import Record
from kit.job.scope import ScopeItem
from kit.labor.job_schedule import JobSchedule
from kit.pricing.allowances import list_allowances
from kit.steps import Step
from kit.takeoff.connect_dishwasher import old_dishwasher_goes
from kit.takeoff.debris import old_disposer_goes
from kit.takeoff.fixtures import count_accessories
from kit.units import format_amount, format_length

__all__ = ["TO_WRITE_IN", "allowance_rows", "assumed_rows", "care_rows", "choice_rows", "help_of", "scope_rows", "step_sentences", "summary_of"]

TO_WRITE_IN = "_" * 16
"""Where the customer writes in a choice."""
_MOUNTS = {"top": "dropped in from above (top mount)", "flush": "level with the countertop (flush mount)", "under": "mounted below the countertop (undermount)"}
_EDGES = {"eased": "eased (square, its corner just broken)", "round": "rounded", "bevel": "beveled", "built-up": "built up thicker"}
_USES = {"faucet": "Faucet hole", "air-gap": "Air-gap hole", "dispenser": "Dispenser hole", "filter-tap": "Filter-tap hole"}
_UNSAID = {Step.VISIT, Step.TRIPS}  # done before the proposal; the days show them


def summary_of(estimate: Estimate) -> str:
    """The work in one sentence."""
    job, new = estimate.job, estimate.design.removal.counter_comes_off
    sink = f"A new kitchen sink, {_MOUNTS[job.sink.mount]}" if job.scope.sink.renewed else "Your present sink"
    material = _material(estimate, job.counter.material).replace("solid surface", "solid-surface")  # before its noun
    return f"{sink}{f', and a new {material} countertop' if new else '; your present countertop stays'}."


def step_sentences(estimate: Estimate, schedule: JobSchedule) -> list[str]:
    """What is done, in the order of the calendar; a step without a sentence of its own is named by its label."""
    said: list[str] = []
    for row in schedule.schedule.steps:
        if row.step not in _UNSAID:
            said += list(sentences(estimate, "step", row.step)) or [f"{estimate.step_names[row.step]}."]
    return list(dict.fromkeys(said))


def scope_rows(estimate: Estimate) -> list[dict[str, str]]:
    """The scope table without what is excluded: part, what it is, who brings it, who fits it, as the takeoff's lines have it."""
    rows = []
    for promise in list_promises(estimate):
        name, item = promise.name, getattr(estimate.job.scope, promise.name)
        what = _kept(name, estimate, fitted=promise.fitted) if item.stays and name != "counter" else _describe(name, estimate)
        brought, fitted = promise.brought, promise.fitted
        if name == "drain_move" and estimate.design.drain.through_floor:
            what, brought, fitted = _floor_drain(estimate, item)
        elif name == "drain_move" and not estimate.design.drain.is_lowered:
            moves = estimate.design.drain.moves and item.renewed
            what, brought, fitted = "priced when the pipe in the wall is found" if moves else "stays where it is", "–", "–"
        rows.append({"part": part_name(estimate, name), "what": what, "brought": brought, "fitted": fitted})
    return rows


def _floor_drain(estimate: Estimate, item: ScopeItem) -> tuple[str, str, str]:
    """What becomes of a drain through the floor, who brings its parts and who joins it."""
    drain, duties = estimate.design.drain, estimate.design.duties
    if duties.floor_plumber:
        what, brought = ("a plumber's service call", "licensed plumber") if drain.not_designed else ("trap and arm joined to its pipe", "us")
        return what, "you" if item.supplied_by == "customer" else brought, "licensed plumber"
    if drain.not_designed and item.renewed and item.installed_by == "customer":
        return "joined by your licensed plumber", "you", "you"
    if drain.not_designed or all(line.step is not Step.CONNECT_DRAIN for line in estimate.lines):
        return "stays as it is", "–", "–"
    return "its pipe stays, trap and arm are joined to it", "us", "us"


def _material(estimate: Estimate, material: str) -> str:
    """What a customer calls a material: its word in the lists, else its short name."""
    return next(sentences(estimate, "material", material), material.replace("-", " "))


def _describe(name: str, estimate: Estimate) -> str:
    job, lists = estimate.job, estimate.lists
    counter = job.counter
    match name:
        case "sink":
            listed = lists.items.get(job.sink.item)
            return f"{listed.name if listed else job.sink.item}, {format_length(job.sink.body_width_in)} x {format_length(job.sink.depth_in)} at the rim"
        case "counter":
            runs = ", ".join(f"{format_length(run.length_in)} x {format_length(run.depth_in)}" for run in counter.runs)
            present = " (your present one)" if counter.made_by == "stays" else ""
            of_wood = counter.species is not None and counter_kind(job, lists).moves
            material = say_choice("counter.species", str(counter.species)) if of_wood else _material(estimate, counter.material)
            return f"{material}{present}, {format_length(counter.thickness_in)} thick: {runs}"
        case "splash":
            return {"none": "none", "same": "of the countertop's material", "tile-by-others": "tile by others"}[counter.splash]
        case "drain_move":
            return "lowered so that the new sink drains"
    return {
        "faucet": f"{_hoses(estimate)}{_accessories(estimate)}",
        "strainer": "one" if len(job.sink.bowls) == 1 else f"{len(job.sink.bowls)}, one for each bowl",
        "disposer": "new, hung and connected",
        "dishwasher": "new, connected to water and drain",
        "wall_repair": _patched(estimate),
        "haul_away": _hauled(estimate),
        "asbestos": f"a certified firm takes out and carries away: {estimate.design.abatement.names}",
    }[name]


def _kept(name: str, estimate: Estimate, *, fitted: str) -> str:
    """What stays, and what is done with it all the same."""
    if name == "dishwasher" and fitted != "–":
        return "your present one, reconnected"
    if name == "disposer" and fitted != "–":
        return "your present one, hung on the new sink"
    if name == "faucet" and fitted != "–":
        return f"your present one, taken off and put back{_accessories(estimate)}"
    return "your present one stays"


def _hoses(estimate: Estimate) -> str:
    """Whether a new faucet comes with its supply hoses; we bring them whenever we connect it."""
    bought = estimate.design.supply.hoses > 0
    if estimate.job.scope.faucet.supplied_by == "customer":
        return "without its supply hoses, which we bring" if bought else "with its supply hoses"
    return "with its supply hoses" if bought else "without supply hoses"


def _accessories(estimate: Estimate) -> str:
    """What else goes into the deck with the faucet."""
    counts = count_accessories(estimate.job)
    names = [f"{f'{count} x ' if count > 1 else ''}{estimate.lists.name_of(item).lower()}" for item, count in counts.items()]
    return "".join(f", {'a new ' if estimate.job.scope.faucet.stays else ''}{name}" for name in names)


def _patched(estimate: Estimate) -> str:
    splash = estimate.design.removal.splash_by == "us"
    places = (("the old backsplash comes off", splash), ("the drain is moved", estimate.design.drain.is_lowered))
    return f"patched where {' and where '.join(where for where, there in places if there)}"


def _hauled(estimate: Estimate) -> str:
    """What we take away: what we take out, and packing."""
    design, job = estimate.design, estimate.job
    things = [
        *((f"old {name}", design.torn_out_by_us(part)) for part, name in (("sink", "sink"), ("counter", "countertop"), ("splash", "backsplash"))),
        ("old disposer", old_disposer_goes(job, design)),
        ("old dishwasher", old_dishwasher_goes(job)),
        ("wet cabinet floor", job.cabinet.wet_floor and not design.abatement.takes("floor")),
        ("old doors", design.doors is not None and design.doors.work == "new"),
    ]
    return f"{', '.join([*(thing for thing, there in things if there), 'packing'])}: taken away"


def choice_rows(estimate: Estimate) -> list[dict[str, Any]]:
    """What the customer signs: choice, as written down, and whether it was only taken for granted."""
    job = estimate.job
    open_fields = {assumed.field for assumed in estimate.assumptions}
    rows: list[dict[str, Any]] = []

    def add(choice: str, taken: str, *fields: str) -> None:
        rows.append({"choice": choice, "taken": taken, "open": any(field in open_fields for field in fields)})

    if job.scope.sink.renewed:
        add("Sink", _MOUNTS[job.sink.mount], "sink.mount")
        if job.sink.mount == "under":
            add("Reveal", _reveal(job.counter.reveal_in), "counter.reveal")
    if job.counter.made_by != "stays":
        add("Countertop", f"color and finish: {TO_WRITE_IN}")
        add("Front edge", _EDGES[job.counter.edge], "counter.edge")
        add("Overhang", f"{format_length(job.counter.overhang_in)} beyond the cabinet's face", "counter.overhang")
        if job.counter.splash == "same":
            add("Backsplash", f"{format_length(high_in)} high" if (high_in := job.counter.splash_height_in) else "none", "counter.splash_height")
    in_sink = estimate.design.placed.faucet_in_sink
    if in_sink:
        add(_USES["faucet"], "in the sink's faucet deck")
    for number, hole in enumerate(job.counter.holes, 1):
        if in_sink and hole.use == "faucet":
            continue
        add(_USES[hole.use], _hole(hole), *(f"counter.holes[{number}].{key}" for key in ("diameter", "offset", "setback")))
    return rows


def _reveal(reveal_in: float) -> str:
    if reveal_in == 0:
        return "none: the countertop ends where the bowl begins"
    size = format_length(abs(reveal_in))
    return f"{size} of the rim shows" if reveal_in > 0 else f"the countertop hangs {size} over the bowl"


def _hole(hole: Hole[Never]) -> str:
    side = "on the sink's center line"
    if hole.offset_in:
        side = f"{format_length(abs(hole.offset_in))} {'right' if hole.offset_in > 0 else 'left'} of the sink's center line"
    return f"{format_length(hole.diameter_in)}, {side}, {format_length(hole.setback_in)} from the wall"


def assumed_rows(estimate: Estimate, *, choices: bool = False) -> list[dict[str, str]]:
    """What nobody could tell at the visit, as the job's own help says it, and what was taken; with `choices` also what is still to be chosen."""
    signed = set() if choices else {row["choice"] for row in choice_rows(estimate) if row["open"]}
    chosen = {"counter.reveal": "Reveal", "counter.edge": "Front edge", "counter.overhang": "Overhang", "counter.splash_height": "Backsplash"}
    alike: dict[tuple[str, str], list[str]] = {}
    for assumed in estimate.assumptions:
        if chosen.get(assumed.field) not in signed:
            says = help_of(estimate.job, assumed.field), say_value(assumed.field, assumed.value)
            alike.setdefault(says, []).extend(_part_of(estimate.job, assumed.field))
    return [{"what": f"{list_words(parts).capitalize()}: {lower_first(what)}" if parts else what, "taken": taken} for (what, taken), parts in alike.items()]


def _part_of(job: FilledJob, field: str) -> list[str]:
    """Which of several alike a field belongs to: the faucet hole, run 1 of two."""
    found = re.match(r"counter\.(holes|runs)\[(\d+)\]", field)
    if found is None or (found[1] == "runs" and len(job.counter.runs) == 1):
        return []
    number = int(found[2])
    return [_USES[job.counter.holes[number - 1].use] if found[1] == "holes" else f"run {number}"]


def allowance_rows(estimate: Estimate) -> list[dict[str, str]]:
    """What of the house is in the price with a quantity that nobody could measure, step and thing by name; a call-back for our own work is ours."""
    lists = estimate.lists
    rows = []
    for one in list_allowances(estimate.lines, estimate.purchases, estimate.tasks, lists):
        if one.step is Step.PUNCH_LIST:
            continue
        thing = lists.rates[one.item].name if one.item in lists.rates else lists.item(one.item).name
        amount = format_amount(one.quantity)
        rows.append({"what": f"{estimate.step_names[one.step]}: {thing}", "taken": amount if one.unit == "each" else f"{amount} {one.unit}"})
    return rows


def help_of(record: Record, field: str) -> str:
    """What a field asks for, in its first sentence, found by its path in the job file, such as `counter.runs[1].depth`."""
    part, _, rest = field.partition(".")
    name, _, number = part.rstrip("]").partition("[")
    if not rest:
        return next(rule.help for key, rule in type(record).rules.items() if record.key(key) == name).partition(". ")[0]
    inner = getattr(record, name)
    return help_of(inner[int(number) - 1] if number else inner, rest)


def care_rows(estimate: Estimate) -> Iterator[dict[str, str]]:
    """How to keep counter and sink, by their material."""
    job = estimate.job
    for says in sentences(estimate, "care", job.counter.material):
        yield {"what": f"Countertop ({_material(estimate, job.counter.material)})", "says": says}
    kind = estimate.lists.sinks.get(job.sink.item)
    if kind is not None:
        for says in sentences(estimate, "care", kind.material):
            yield {"what": f"Sink ({_material(estimate, kind.material)})", "says": says}
