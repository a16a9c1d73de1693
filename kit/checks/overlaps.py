"""Do two things want the same place, or does one stand where a wrench, a hand or a door must pass? Read from the model."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kit.checks.finding import chance_of_fit, tape_tolerance_in
from kit.checks.overlap_fields import deciding_fields
from kit.design.design import Design
from kit.design.place_stored import free_room_in
from kit.job.field_names import label_of, labels_of, lower_first, part_name
from kit.records import Assumption, Finding, Level
from kit.shapes import AXES
from kit.solids import Body, Overlap, Stage
from kit.sources import table
from kit.units import exceeds, format_length, format_limit

__all__ = ["check_earlier_overlaps", "check_overlaps"]

_USUAL = {"stored", "dishwasher", "supply", "faucet", "clips", "old drain"}
"""Parts that stand in the model in a usual size that nobody measured: what they meet is no stop."""
_WAY_OUT = {"wrench": "Tighten it before the other goes in, or move one of them.", "hand": "Move one of them.", "swing": "Use another hinge, handle or stop."}


@dataclass(frozen=True, slots=True)
class _Verdict:
    """What a finding says of an overlap."""

    check: str
    level: Level
    remedy: str
    measured: str
    limit: str


def check_overlaps(design: Design, assumptions: Sequence[Assumption], stage: Stage = Stage.BUILT) -> list[Finding]:
    """One finding for every two bodies of a stage that overlap by more than their joint allows.

    Both measured: a stop, or a caution with its chance where the tape may be off by as much; a caution too where one is of a usual size
    that nobody measured, or a room for a tool, a hand or a door. A measure that was assumed fixes one of them: unknown, measure that. Two that
    stand there today can't both be where they were measured. A room is not told of where what it serves has the same trouble itself.
    """
    assumed = tuple(assumption.field for assumption in assumptions)
    overlaps = [overlap for overlap in design.placed.model.overlaps(stage) if exceeds(overlap.depth_in, _allowed_in(overlap))]
    solid = {frozenset((overlap.first.name, overlap.second.name)) for overlap in overlaps}
    named = {body.name: body for body in design.placed.model.at(stage)}
    return [_judge(overlap, assumed, named, stage) for overlap in overlaps if not _repeats_solid(overlap, solid)]


def check_earlier_overlaps(design: Design, assumptions: Sequence[Assumption]) -> list[Finding]:
    """Overlaps of today and of the opened base that are none of what is built: a measure is wrong, or something must come out first."""
    known = {finding.id for finding in check_overlaps(design, assumptions)}
    findings: dict[str, Finding] = {}
    for stage in (Stage.TODAY, Stage.OPENED):
        for finding in check_overlaps(design, assumptions, stage):
            if finding.id not in known:
                findings.setdefault(finding.id, finding)
    return list(findings.values())


def _allowed_in(overlap: Overlap) -> float:
    """How deep the two may stand in each other by the table of joints [in]; 0 for all that are no joint. A further bowl's number is no part of it."""
    row = table("joints").get("/".join(sorted(body.name.rstrip(" 0123456789") for body in (overlap.first, overlap.second))).replace(" ", "-"))
    return row.value if row is not None else 0.0


def _room_and_solid(overlap: Overlap) -> tuple[Body | None, Body]:
    """The room of the two, None where both are solid, and the solid that stands in it."""
    if overlap.first.room:
        return overlap.first, overlap.second
    return (overlap.second, overlap.first) if overlap.second.room else (None, overlap.first)


def _repeats_solid(overlap: Overlap, solid: set[frozenset[str]]) -> bool:
    room, body = _room_and_solid(overlap)
    return room is not None and any(frozenset((served, body.name)) in solid for served in room.stands_on)


def _judge(overlap: Overlap, assumed: Sequence[str], named: dict[str, Body], stage: Stage) -> Finding:
    tolerance_in, depth_in = tape_tolerance_in(), overlap.depth_in
    first, second = sorted((overlap.first.name, overlap.second.name))
    deciding = deciding_fields(overlap)
    unmeasured = labels_of(name for field in deciding for name in assumed if field == name.partition("[")[0] or name.startswith(f"{field}."))
    verdict = _verdict(overlap, named, stage)
    level, remedy = verdict.level, verdict.remedy
    if unmeasured and "stored" not in (overlap.first.part, overlap.second.part):  # what can stand anywhere waits for no measure
        level, remedy = Level.UNKNOWN, f"Measure first what was assumed: {'; '.join(map(lower_first, unmeasured))}."
    elif depth_in < tolerance_in:
        level, remedy = Level.CAUTION, "Too close to call with a tape: measure again."
    return Finding(
        f"place/{first}-{second}".replace(" ", "-").replace(",", "").replace("'", ""),
        verdict.check,
        level,
        verdict.measured,
        verdict.limit,
        "in",
        -depth_in,
        tolerance_in,
        None if unmeasured else chance_of_fit(-depth_in, tolerance_in),
        f"fixed by {'; '.join(map(_in_words, deciding))}",
        "geometry",
        remedy,
        tuple(dict.fromkeys(named[name].part for name in _parties(overlap) if name in named)),
    )


def _verdict(overlap: Overlap, named: dict[str, Body], stage: Stage) -> _Verdict:
    """What is said where everything was measured and the tape is good enough."""
    first, second = sorted((overlap.first.name, overlap.second.name))
    room, solid = _room_and_solid(overlap)
    if room is not None:
        away_in = _apart_in(solid, named[room.stands_on[0]])
        thing = part_name(solid.name)
        stands = f"{thing} is {format_length(away_in)} away" if away_in else f"{thing} is in it"
        return _Verdict(f"Room for {room.name}", Level.CAUTION, _WAY_OUT[room.part], stands, "nothing in the way")
    check = f"{part_name(first).capitalize()} and {part_name(second)} are in the same place"
    depth, limit = f"{format_length(overlap.depth_in)} deep", "nothing in the same place"
    if "stored" in {overlap.first.part, overlap.second.part}:
        thing = next(name for name in reversed(named) if name in (first, second) and named[name].part == "stored")  # what has no room was placed last
        return _Verdict(check, Level.CAUTION, _where_it_fits(thing, named), depth, limit)
    if {overlap.first.part, overlap.second.part} & _USUAL:
        return _Verdict(check, Level.CAUTION, "It is drawn in a usual size and place: see whether it fits, and move one of them.", depth, limit)
    if overlap.first.stages & overlap.second.stages & Stage.TODAY:
        level = Level.UNKNOWN if stage is Stage.TODAY else Level.STOP
        return _Verdict(check, level, f"Both are there today, so a measure is wrong. Measure again: {'; '.join(_to_measure_again(overlap))}.", depth, limit)
    return _Verdict(check, Level.STOP, "Move one of them, or choose another size or another way to carry the sink.", depth, limit)


def _where_it_fits(thing: str, named: Mapping[str, Body]) -> str:
    """What may be done about a thing that can stand anywhere: no larger than what is free, or elsewhere."""
    across = (named["side left"].span("x")[1], named["side right"].span("x")[0])
    wide_in, high_in = free_room_in(named.values(), named[thing], across)
    if not wide_in:
        return f"Keep the {thing} elsewhere: there is no room for it below the sink."
    wide, high = (format_limit(size_in, most=True) for size_in in (wide_in, high_in))
    return f"Choose a {thing} at most {wide} wide and {high} high, the room there is, or keep it elsewhere."


def _parties(overlap: Overlap) -> tuple[str, ...]:
    """The two that meet, in the place of a room what it serves."""
    return tuple(body.stands_on[0] if body.room else body.name for body in (overlap.first, overlap.second))


def _to_measure_again(overlap: Overlap) -> tuple[str, ...]:
    """For each of the two the first measure that fixes it and not the other."""
    pairs = ((overlap.first, overlap.second), (overlap.second, overlap.first))
    chosen = (next((field for field in one.fields if field not in other.fields), (*one.fields, "")[0]) for one, other in pairs)
    return tuple(dict.fromkeys(_in_words(field) for field in chosen if field))


def _apart_in(one: Body, other: Body) -> float:
    """The clear distance of two bodies, by the blocks around them [in]."""
    pairs = ((one.span(axis), other.span(axis)) for axis in AXES)
    return math.hypot(*(max(a[0] - b[1], b[0] - a[1], 0.0) for a, b in pairs))


def _in_words(field: str) -> str:
    """A measure by its label, within a sentence: "sink base depth"."""
    return lower_first(label_of(field))
