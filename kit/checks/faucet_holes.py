"""Does the faucet find its place: as many holes as it takes, in counter or faucet deck, clear of splash and opening, in a deck that it clamps?"""

import math
from collections.abc import Iterator

from kit.checks.finding import WALL, fit_finding, plain_finding, tape_tolerance_in
from kit.design.design import Design
from kit.design.place_holes import DeckHole, count_ledge_holes, count_open_holes
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row, value
from kit.spans import Span
from kit.units import format_length, format_side

__all__ = ["check_faucet_holes"]

_FITTINGS = {"faucet": "a faucet", "air-gap": "an air gap", "dispenser": "a dispenser", "filter-tap": "a filter tap"}

_COVERS = ("Bring a plate or covers for the open holes: none are in the price.", "The customer brings a plate or covers for the open holes.")
"""Where our people, or a trade, install the faucet, and where the customer does."""


def check_faucet_holes(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Each hole against splash and opening, the deck against the shank, and the number of holes against what the faucet takes."""
    holes = design.placed.holes
    findings = []
    for number, hole in enumerate(holes, 1):
        findings.append(_to_splash(job, design, hole, number))
        findings += [] if hole.in_sink else _to_opening(job, design, hole, number)
    return [*findings, *_shank(design), *_number(job, design, lists)]


def _to_splash(job: FilledJob, design: Design, hole: DeckHole, number: int) -> Finding:
    model = design.placed.model
    splash_in = model["splash"].span("y")[1] if "splash" in model else 0.0
    return fit_finding(
        f"mounts/hole-{number}-to-splash",
        f"Hole {number} ({hole.use.replace('-', ' ')}) clear of the backsplash",
        hole.room[1][0] - splash_in,
        max(value("checks", "faucet/hole-to-splash") - hole.diameter_in / 2.0, 0.0),
        worst=Level.CAUTION,
        basis=f"center {format_side(hole.y_in, *WALL)}, half of {format_length(hole.diameter_in)}, backsplash {format_length(splash_in)}",
        source=row("checks", "faucet/hole-to-splash"),
        remedy=f"Check the maker's sheet. {_other_place(job, hole)}",
        parts=("holes", "splash"),
    )


def _other_place(job: FilledJob, hole: DeckHole) -> str:
    if hole.in_sink or (job.counter.made_by == "stays" and not hole.to_drill):
        return f"The hole is there: choose {_FITTINGS[hole.use]} that fits it."
    return "Move the hole forward." if job.counter.splash == "none" else "Move the hole forward or use a thinner backsplash."


def _to_opening(job: FilledJob, design: Design, hole: DeckHole, number: int) -> list[Finding]:
    """A hole behind the opening, or one that comes too near to it beside the sink; and none below a rim in or on the counter, as far as a tape can tell."""
    opening, at = design.placed.opening, design.placed.sink
    source: str | Row = row("checks", "faucet/hole-to-cut")
    behind = opening.x[0] < hole.x_in < opening.x[1]
    name, x, y, limit_in, stop_in = "opening", opening.x, opening.y, value("checks", "faucet/hole-to-cut"), 0.0
    rim = (opening.rabbet.x, opening.rabbet.y) if opening.rabbet is not None else (at.rim_x, at.rim_y)
    if job.sink.mount != "under" and _clear_in(hole, *rim) < max(0.0, _clear_in(hole, x, y) - limit_in):
        name, (x, y), limit_in, stop_in, source = "rim of the sink", rim, 0.0, -tape_tolerance_in(), "geometry"
    clear_in = _clear_in(hole, x, y)
    if not behind and clear_in >= limit_in:
        return []
    beside = f"hole's center {format_side(max(x[0] - hole.x_in, hole.x_in - x[1]), 'beside', 'inside')} the {name}, half of {format_length(hole.diameter_in)}"
    return [
        fit_finding(
            f"mounts/hole-{number}-to-cut-out",
            f"Hole {number} ({hole.use.replace('-', ' ')}) clear of the sink's cutout",
            clear_in,
            limit_in,
            worst=Level.STOP if clear_in < stop_in else Level.CAUTION,
            basis=f"{name} {format_side(y[0], *WALL)}, hole's center {format_side(hole.y_in, *WALL)}" if behind else beside,
            source=source,
            remedy="Move the hole back, or beside the sink." if behind else "Move the hole farther from the sink.",
            parts=("holes", "cut-out"),
        )
    ]


def _clear_in(hole: DeckHole, x: Span, y: Span) -> float:
    """From the edge of a hole to the nearest edge of what is cut or covered [in]; below 0 as deep as it lies in it."""
    beside_in, behind_in = (max(span[0] - at_in, at_in - span[1]) for span, at_in in ((x, hole.x_in), (y, hole.y_in)))
    outside_in = math.hypot(max(beside_in, 0.0), max(behind_in, 0.0))
    return (outside_in or max(beside_in, behind_in)) - hole.diameter_in / 2.0


def _shank(design: Design) -> Iterator[Finding]:
    faucets = [hole for hole in design.placed.holes if hole.use == "faucet"]
    if faucets:
        yield fit_finding(
            "mounts/deck-against-shank",
            "Deck thickness against the faucet's shank",
            design.placed.model["sink rim" if faucets[0].in_sink else "counter"].size_in("z"),
            row("checks", "faucet/shank"),
            most=True,
            worst=Level.CAUTION,
            basis="a usual shank clamps up to 1 3/4 in; the faucet's sheet goes first",
            remedy="Use an extension kit, or counterbore from below.",
            parts=("holes", "rim" if faucets[0].in_sink else "counter"),
        )


def _number(job: FilledJob, design: Design, lists: Lists) -> Iterator[Finding]:
    """A faucet with too few holes can't be installed, and what stays open in the sink's faucet deck is closed by a plate or a cover."""
    if job.scope.faucet.excluded:
        return
    holes, faucet_holes = sum(hole.use == "faucet" for hole in design.placed.holes), job.plumbing.faucet_holes
    open_holes = count_open_holes(job, lists, design.placed.holes)
    where = "in the sink's faucet deck" if design.placed.faucet_in_sink else "in the countertop"
    taken = f"{holes} of {count_ledge_holes(job, lists)}" if open_holes and design.placed.faucet_in_sink else f"{holes}"
    level = Level.UNKNOWN if faucet_holes and not holes else Level.OK if holes == faucet_holes else Level.CAUTION
    remedy = {
        Level.OK: _COVERS[job.scope.faucet.installed_by == "customer"] if open_holes else "",
        Level.CAUTION: "Choose a faucet that takes as many holes as there are, or change the holes.",
        Level.UNKNOWN: "Say where the faucet goes: list its hole in the countertop, or enter the holes in the sink's faucet deck.",
    }[level]
    yield plain_finding(
        "mounts/faucet-holes",
        "Holes for the faucet",
        level,
        f"{taken} {where}" if holes else "none listed",
        f"{faucet_holes} for the faucet" if faucet_holes else "none: the faucet comes from the wall",
        basis=f"the sink's faucet deck has {count_ledge_holes(job, lists)}"
        + (f", {open_holes} of them to close with a plate or a cover" if open_holes else ""),
        source="common-practice",
        remedy=remedy,
        parts=("holes",),
    )
