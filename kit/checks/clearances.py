"""Do doors, drawers, dishwasher and people still get past the apron?"""

from kit.checks.finding import fit_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value

__all__ = ["check_clearances"]


def check_clearances(job: FilledJob, design: Design, _: Lists) -> list[Finding]:
    """Corner, the parts beside the sink base in the same run, the aisle, the dishwasher's opening."""
    return [*_corner(job), *_beside(job), *_aisle(job), *_dishwasher_height(job, design)]


def _projection(job: FilledJob) -> float:
    return job.sink.apron_projection_in if job.sink.is_apron else 0.0


def _corner(job: FilledJob) -> list[Finding]:
    corner = job.cabinet.corner
    if corner is None or corner.return_part == "none" or corner.distance_in > corner.travel_in:
        return []
    stands_out_in = max(_projection(job), value("checks", "corner/door-thickness"))
    clear_in = value("checks", "corner/clearance")
    return [
        fit_finding(
            "neighbours/corner",
            f"{corner.return_part.capitalize()} on the return run passes the apron",
            corner.filler_in,
            stands_out_in + clear_in,
            basis=f"corner {corner.distance_in:g} in away, travel {corner.travel_in:g} in; {stands_out_in:g} in stand out, {clear_in:g} in clear",
            source=row("checks", "corner/clearance"),
            remedy="A wider filler at the corner, a shallower apron, or a stop on the travel.",
            parts=("apron", "corner"),
        ),
        fit_finding(
            "neighbours/corner-own-pulls",
            "Doors and pulls of the sink base clear the return run's pulls",
            corner.distance_in,
            corner.pull_in + clear_in,
            basis=f"pull on the return stands out {corner.pull_in:g} in, {clear_in:g} in clear",
            source=row("checks", "corner/clearance"),
            remedy="A filler at the corner, or flatter pulls.",
            worst=Level.CAUTION,
            parts=("doors", "corner"),
        ),
    ]


def _beside(job: FilledJob) -> list[Finding]:
    found = []
    spread_in = ((job.sink.apron_width_in or 0.0) - job.cabinet.width_in) / 2.0
    for side, neighbour in (("left", job.cabinet.left), ("right", job.cabinet.right)):
        if neighbour.kind in {"wall", "open"}:
            continue
        found.append(
            fit_finding(
                f"neighbours/{side}",
                f"{neighbour.kind.capitalize()} on the {side} opens beside the apron",
                neighbour.gap_in - max(0.0, spread_in),
                value("checks", "neighbour/gap"),
                tolerance_in=value("checks", "neighbour/tolerance"),
                worst=Level.STOP if neighbour.kind in {"dishwasher", "range"} and spread_in > 0.0 else Level.CAUTION,
                basis=f"gap {neighbour.gap_in:g} in between the fronts; the apron reaches {max(0.0, spread_in):g} in past the box on each side",
                source=row("checks", "neighbour/gap"),
                remedy="A wider gap or filler; a hinge that stops at about 90 degrees where the apron stands out further than the door.",
                parts=("apron", f"{side} neighbour"),
            )
        )
    return found


def _aisle(job: FilledJob) -> list[Finding]:
    more_in = max(0.0, _projection(job) - job.counter.overhang_in)
    wanted_in = value("checks", "aisle/one-cook")
    return [
        fit_finding(
            "neighbours/aisle",
            "Aisle in front of the apron",
            None if job.cabinet.aisle_in is None else job.cabinet.aisle_in - more_in,
            wanted_in,
            worst=Level.CAUTION,
            basis=f"aisle today less {more_in:g} in that the apron stands out past the counter's edge",
            source=row("checks", "aisle/one-cook"),
            remedy="A planning guideline, not a code: say it to the customer.",
            parts=("apron",),
        )
    ]


def _dishwasher_height(job: FilledJob, design: Design) -> list[Finding]:
    if not job.plumbing.dishwasher or "dishwasher" not in {job.cabinet.left.kind, job.cabinet.right.kind}:
        return []
    raised_in = design.shims.worst_in if design.shims.where == "floor" else 0.0
    return [
        fit_finding(
            "neighbours/dishwasher-height",
            "Opening for the dishwasher after levelling",
            job.cabinet.height_in + raised_in,
            value("checks", "dishwasher/opening"),
            basis=f"box {job.cabinet.height_in:g} in high, raised by up to {raised_in:g} in",
            source=row("checks", "dishwasher/opening"),
            remedy="Its sheet gives the least opening; lower its feet, or raise the counter with strips.",
            worst=Level.CAUTION,
            parts=("right neighbour" if job.cabinet.right.kind == "dishwasher" else "left neighbour",),
        )
    ]
