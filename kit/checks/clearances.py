"""Do doors, drawers, dishwasher and people still get past the apron?"""

from kit.checks.finding import fit_finding
from kit.design.design import Design
from kit.design.place_boxes import base_width, face_in
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.shapes import Block
from kit.sources import row, value
from kit.spans import TOUCH_IN
from kit.units import format_length

__all__ = ["check_clearances"]


def check_clearances(job: FilledJob, design: Design, _: Lists) -> list[Finding]:
    """Corner, the parts beside the sink base in the same run, the aisle, the dishwasher's opening; a sink without an apron leaves the front as it is."""
    apron = design.placed.sink.apron
    return [
        *([] if apron is None else [*_corner(job, design, apron), *_beside(job, design, apron), *_aisle(job, design, apron)]),
        *_dishwasher_height(job, design),
    ]


def _corner(job: FilledJob, design: Design, apron: Block) -> list[Finding]:
    corner = job.cabinet.corner
    if corner is None or corner.return_part == "none" or corner.distance_in > corner.travel_in:
        return []
    stands_out_in = max(apron.y[1] - face_in(design.placed.model), value("checks", "corner/door-thickness"))
    clear_in = value("checks", "corner/clearance")
    return [
        fit_finding(
            "neighbors/corner",
            f"{corner.return_part.capitalize()} on the return run clears the apron",
            corner.filler_in,
            stands_out_in + clear_in,
            basis=f"corner {format_length(corner.distance_in)} away, travel {format_length(corner.travel_in)}; "
            f"stands out {format_length(stands_out_in)}, {format_length(clear_in)} clear",
            source=row("checks", "corner/clearance"),
            remedy="Install a wider filler at the corner, choose a shallower apron, or limit how far it opens.",
            parts=("apron", "corner"),
        ),
        fit_finding(
            "neighbors/corner-own-pulls",
            "Doors and pulls of the sink base clear the return run's pulls",
            corner.distance_in,
            corner.pull_in + clear_in,
            basis=f"pull on the return stands out {format_length(corner.pull_in)}, {format_length(clear_in)} clear",
            source=row("checks", "corner/clearance"),
            remedy="Install a filler at the corner, or flatter pulls.",
            worst=Level.CAUTION,
            parts=("doors", "corner"),
        ),
    ]


_SLIDES_OUT = {"drawer", "dishwasher", "range"}


def _beside(job: FilledJob, design: Design, apron: Block) -> list[Finding]:
    """The gap between the fronts, and the room that a narrower apron leaves on its base; one that reaches past the base takes from it."""
    findings, beside_in = [], apron.x[0] - base_width(design.placed.model).span[0]
    for side, neighbor in (("left", job.cabinet.left), ("right", job.cabinet.right)):
        if neighbor.kind in {"wall", "open"}:
            continue
        past = (
            f"the apron reaches {format_length(-beside_in)} past the base" if beside_in < 0.0 else f"the apron ends {format_length(beside_in)} inside the base"
        )
        findings.append(
            fit_finding(
                f"neighbors/{side}",
                f"{neighbor.kind.capitalize()} on the {side} opens beside the apron",
                neighbor.gap_in + beside_in,
                row("checks", "neighbor/gap"),
                tolerance_in=value("checks", "neighbor/tolerance"),
                worst=Level.STOP if beside_in < 0.0 and (neighbor.kind in _SLIDES_OUT or neighbor.gap_in < -beside_in) else Level.CAUTION,
                basis=f"gap {format_length(neighbor.gap_in)} between the fronts; {past} on each side",
                remedy=_way_past(neighbor.kind, covered=beside_in < 0.0),
                parts=("apron", f"{side} neighbor"),
            )
        )
    return findings


def _way_past(kind: str, *, covered: bool) -> str:
    """What helps a door, a drawer or an appliance past an apron."""
    apron = "Choose a narrower apron or install a filler." if covered else "Install a filler."
    return f"{apron} Where the apron stands out past the door, install a 90-degree hinge." if kind == "door" else apron


def _aisle(job: FilledJob, design: Design, apron: Block) -> list[Finding]:
    """Only an apron that stands out past the counter's edge takes from the aisle."""
    more_in = apron.y[1] - design.placed.model["counter"].span("y")[1]
    if more_in <= TOUCH_IN:
        return []
    return [
        fit_finding(
            "neighbors/aisle",
            "Aisle in front of the apron",
            None if job.cabinet.aisle_in is None else job.cabinet.aisle_in - more_in,
            row("checks", "aisle/one-cook"),
            worst=Level.CAUTION,
            basis=f"aisle today less {format_length(more_in)} that the apron stands out past the countertop's edge",
            remedy="A planning guideline, not a code: tell the customer.",
            parts=("apron",),
        )
    ]


def _dishwasher_height(job: FilledJob, design: Design) -> list[Finding]:
    if not job.plumbing.dishwasher or "dishwasher" not in {job.cabinet.left.kind, job.cabinet.right.kind}:
        return []
    model = design.placed.model
    on_top = "sub-top" if "sub-top" in model else "counter"
    opening_in = model.gap("subfloor", on_top, "z").value_in
    return [
        fit_finding(
            "neighbors/dishwasher-height",
            "Opening for the dishwasher after leveling",
            opening_in,
            row("checks", "dishwasher/opening"),
            basis=f"from the floor to the underside of the {'sub-top' if on_top == 'sub-top' else 'countertop'}, base and packers as they will stand",
            remedy="Check its sheet for the least opening. Lower its feet, or raise the countertop on strips.",
            worst=Level.CAUTION,
            parts=("right neighbor" if job.cabinet.right.kind == "dishwasher" else "left neighbor",),
        )
    ]
