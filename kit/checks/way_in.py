"""Do the pieces of the counter and the sink in its crate get in: through the narrowest door, around the narrowest turn of hall or stair?

A piece of counter is carried on edge and goes through any doorway slanting; a turn stops it where it is too long. The crate stays upright, and
goes through a door with its narrower side.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import sqrt

from kit.checks.finding import fit_finding, tape_tolerance_in
from kit.design.carried_in import CarriedPiece, list_carried
from kit.design.design import Design
from kit.design.require import require
from kit.job import FilledJob
from kit.records import Assumption, Finding, Level
from kit.units import format_length, format_limit

__all__ = ["check_way_in", "longest_past_turn_in"]

DOOR, TURN = "site.narrowest_door", "site.narrowest_turn"


def longest_past_turn_in(wide_in: float, thick_in: float) -> float:
    """Work the longest level piece [in] that turns a square corner between two halls, each `wide_in` wide; it takes `thick_in` of the floor's width.

    Raises
    ------
    JobError
        If a measure can't be one.

    Notes
    -----
    Halfway round it lies at 45 degrees. From the inner corner to the outer one it is sqrt(2) x wide: the thickness and half the length, as its
    ends touch both outer walls. A piece no longer than the hall is wide is shifted and not turned; one thicker than the hall does not enter it.
    """
    require(positive={"wide_in": wide_in, "thick_in": thick_in})
    if thick_in > wide_in:
        return 0.0
    return max(wide_in, 2.0 * (sqrt(2.0) * wide_in - thick_in))


def check_way_in(job: FilledJob, design: Design, assumptions: Sequence[Assumption]) -> list[Finding]:
    """A measure that was only assumed makes what is too large for it unknown: measure the way."""
    assumed = {assumption.field for assumption in assumptions}
    judge = {"counter": _counter, "sink": _crate}
    return [finding for piece in list_carried(job, design.top) for finding in judge[piece.part](job, piece, assumed)]


def _counter(job: FilledJob, piece: CarriedPiece, assumed: set[str]) -> list[Finding]:
    """The longest piece round the turn."""
    remedy = "Stand it on end if the ceiling allows, find another way in, or ask for a seam."
    return [_past_turn(job, piece, f"Longest piece of the countertop, {piece.name}, around the narrowest turn", assumed, remedy)]


def _crate(job: FilledJob, piece: CarriedPiece, assumed: set[str]) -> list[Finding]:
    """The crate through the door and round the turn."""
    remedy = "Unpack and inspect it outside, then carry it in padded."
    door_in, words = job.site.narrowest_door_in, f"crate {format_length(piece.long_in)} x {format_length(piece.wide_in)}, carried upright"
    known = DOOR not in assumed or piece.wide_in <= door_in
    door = fit_finding(
        "way-in/sink-door",
        "Sink in its crate through the narrowest door",
        piece.wide_in,
        door_in if known else None,
        most=True,
        worst=Level.CAUTION,
        basis=words if known else f"{words}; {format_length(door_in)} assumed",
        source="common-practice",
        remedy=remedy,
        parts=("sink",),
        measure="Measure the narrowest door on the way in.",
    )
    return [door, _past_turn(job, piece, "Sink in its crate around the narrowest turn", assumed, remedy)]


def _past_turn(job: FilledJob, piece: CarriedPiece, check: str, assumed: set[str], remedy: str) -> Finding:
    wide_in, long_in, thick_in = job.site.narrowest_turn_in, piece.long_in, piece.wide_in
    most_in = longest_past_turn_in(wide_in, thick_in)
    known = TURN not in assumed or long_in <= most_in
    thick = format_length(thick_in)
    words = f"{format_length(long_in)} long, {thick} thick as carried; 2 x (1.414 x {format_length(wide_in)} - {thick}), never less than the hall's width"
    found = fit_finding(
        f"way-in/{piece.part}-turn",
        check,
        long_in,
        most_in if known else None,
        most=True,
        worst=Level.CAUTION,
        basis=words if known else f"{words}; the turn is assumed",
        source="geometry",
        remedy=remedy,
        tolerance_in=2.0 * sqrt(2.0) * tape_tolerance_in(),  # an inch of hall is so many inches of piece
        parts=(piece.part,),
        measure="Measure the hall or stair at its narrowest turn.",
    )
    if most_in or not known:
        return found
    return replace(found, measured=f"{thick} wide at a turn of {format_length(wide_in)}", limit=f"a turn at least {format_limit(thick_in, most=False)} wide")
