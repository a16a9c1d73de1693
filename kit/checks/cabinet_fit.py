"""Does the sink go into this cabinet, and what is left of its front?"""

from dataclasses import replace

from kit.checks.finding import fit_finding, plain_finding, tape_tolerance_in
from kit.design.design import Design
from kit.design.doors import MEASURE_FIRST, DoorPlan
from kit.design.front import FrontCut
from kit.design.place_boxes import base_width, is_sawn
from kit.job import FilledJob
from kit.job.field_names import list_words
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value
from kit.units import format_length, format_side

__all__ = ["check_cabinet"]

_ABOVE_TOP = "above the box top"


def check_cabinet(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Body, bowl, rim and depth inside the box; the apron between false front and doors; the frame after the cut."""
    tolerance_in = tape_tolerance_in() + _size_tolerance(job, lists)
    return [*_inside(job, design, tolerance_in), *_apron(job, design, tolerance_in), *_front(job, design), *_nominal(job, lists), *_condition(job)]


def _size_tolerance(job: FilledJob, lists: Lists) -> float:
    """What a nominal size may be off by its kind (fired clay shrinks unevenly); nothing once measured as received."""
    kind = lists.sinks.get(job.sink.item)
    return 0.0 if job.sink.as_received or kind is None else kind.size_tolerance_in


def _inside(job: FilledJob, design: Design, tolerance_in: float) -> list[Finding]:
    model, at = design.placed.model, design.placed.sink
    between, back = model.gap("side left", "side right", "x"), "nailer" if "nailer" in model else "wall"
    body_in = at.rim_x[1] - at.rim_x[0] if job.sink.mount == "under" or job.sink.is_apron else at.outside_x[1] - at.outside_x[0]
    behind = model.gap("sink rim", back, "y")
    findings = [
        fit_finding(
            "cabinet/body-between-sides",
            "Room for the sink body between the cabinet sides",
            between.value_in,
            body_in,
            tolerance_in=tolerance_in,
            basis=f"clear between the sides {format_length(between.value_in)}, body {format_length(body_in)}",
            source="geometry",
            remedy="Choose a narrower sink or a wider base.",
            parts=("sink", "cabinet"),
        ),
        fit_finding(
            "cabinet/depth",
            "Room behind the sink",
            behind.value_in,
            row("checks", "cabinet/back-clearance"),
            tolerance_in=tolerance_in,
            basis=f"from the back of the sink to the {back}",
            remedy=f"Choose a shallower sink{', or one whose apron stands out farther' if job.sink.is_apron else ''}.",
            parts=("sink", "cabinet"),
        ),
    ]
    if design.frame.cleat_reach_in:
        cleats = model.gap("side cleat left", "side cleat right", "x")
        bowl_in = at.outside_x[1] - at.outside_x[0]
        findings += [
            fit_finding(
                "cabinet/bowl-between-cleats",
                "Bowl between the side cleats",
                cleats.value_in,
                bowl_in,
                tolerance_in=tolerance_in,
                basis=f"clear between the cleats {format_length(cleats.value_in)}, bowl outside {format_length(bowl_in)}",
                source="geometry",
                remedy="Use thinner cleats, or carry the sink under the bowl.",
                parts=("bowl", "frame"),
            ),
            fit_finding(
                "cabinet/rim-on-cleat",
                "Rim resting on each cleat",
                model["side cleat left"].span("x")[1] - at.rim_x[0],
                row("checks", "cabinet/rim-on-cleat"),
                tolerance_in=tolerance_in / 2.0,
                basis=f"body {format_length(at.rim_x[1] - at.rim_x[0])} over cleats {format_length(cleats.value_in)} apart",
                remedy="Pack the cleats out, or carry the sink under the bowl.",
                parts=("rim", "frame"),
            ),
        ]
    return findings


def _apron(job: FilledJob, design: Design, tolerance_in: float) -> list[Finding]:
    """Two findings: the apron must reach below the false front's edge and screws, and stay above the doors."""
    down_in, cabinet = design.levels.apron_bottom_down_in, job.cabinet
    if down_in is None:
        return []
    edges = [edge for edge in (cabinet.false_front_bottom_in, cabinet.false_front_screw_in) if edge is not None]
    lowest_in = max(edges) if cabinet.false_front_bottom_in is not None else None
    plan = design.doors
    doors_in = None if cabinet.door_top_in is None else cabinet.door_top_in - cabinet.door_reveal_in
    front = f"false front ends {_shown(cabinet.false_front_bottom_in)}, its lowest screw {_shown(cabinet.false_front_screw_in)}"
    apron = design.placed.sink.apron
    rim, high = format_length(design.levels.rim_above_box_in), format_length(0.0 if apron is None else apron.z[1] - apron.z[0])
    where = f"apron ends {format_side(down_in, 'below the box top', _ABOVE_TOP)} (rim {rim} above it, apron {high} high)"
    return [
        fit_finding(
            "cabinet/apron-covers-false-front",
            "Apron reaches below the false front and its screws",
            down_in,
            lowest_in,
            tolerance_in=tolerance_in,
            worst=Level.CAUTION,
            basis=f"{where}; {front} below the box top",
            source="geometry",
            remedy="Close the gap with a filler rail below the apron, or choose a taller apron.",
            parts=("apron", "false front"),
            measure="Measure from the cabinet top down to the false front's bottom edge and lowest screw.",
            past_zero=_ABOVE_TOP,
        ),
        fit_finding(
            "cabinet/apron-above-doors",
            "Apron height above the doors",
            down_in,
            doors_in,
            most=True,
            tolerance_in=tolerance_in,
            worst=Level.STOP if plan is None or plan.is_too_low else Level.CAUTION,
            basis=f"{where}; doors start {_shown(cabinet.door_top_in)} below it, reveal {format_length(cabinet.door_reveal_in)}{_left(plan)}",
            source="geometry",
            remedy=_remedy(plan, measured=job.sink.as_received),
            parts=("apron", "doors"),
            measure="Measure from the cabinet top down to the top of the doors.",
            past_zero=_ABOVE_TOP,
        ),
    ]


def _left(plan: DoorPlan | None) -> str:
    if plan is None or plan.work == "keep":
        return ""
    return f"; {plan.why}; {format_length(plan.height_in)} of {format_length(plan.height_today_in)} are left"


def _remedy(plan: DoorPlan | None, *, measured: bool) -> str:
    """What is done to the doors, where they can stay doors."""
    if plan is None or plan.work == "keep":
        return "Choose a shorter apron, shorter doors or another mount."
    if plan.is_too_low:
        return f"Choose a shorter apron or another mount: under {format_length(value('practice', 'doors/least-height'))} is left, too short for a door."
    if plan.work == "trim":
        return f"We trim the doors by {format_length(plan.trim_in)} as part of this work; cut them only after the sink is set."
    new = f"New doors {format_length(plan.height_in)} high are part of this work"
    return f"{new}: see the purchase list." if measured else f"{new}. {MEASURE_FIRST}"


def _shown(length_in: float | None) -> str:
    return "not measured" if length_in is None else format_length(length_in)


def _front(job: FilledJob, design: Design) -> list[Finding]:
    cut = design.cut
    if cut is None:
        return []
    framed = job.cabinet.construction == "face-frame"
    unseen = framed and bool(job.cabinet.mid_rail_in) and job.cabinet.mid_rail_top_in is None
    removed = [name for name, gone in (("top rail", cut.rail_removed), ("mid rail", cut.mid_rail_removed), ("false front", cut.false_front_removed)) if gone]
    opened = plain_finding(
        "cabinet/removed",
        "What the front cut removes",
        Level.UNKNOWN if unseen else Level.OK,
        list_words(removed) or "nothing that holds the box",
        "the box fastened to its neighbors first, the frame right after the cut",
        basis=f"cut {format_length(cut.width_in)} x {format_length(cut.height_in)} from the box top{'; mid rail not measured' if unseen else ''}",
        source="common-practice",
        remedy=_after_the_cut(cut, unseen=unseen),
        parts=("cut-out",),
    )
    if not unseen and not is_sawn(design.placed.model, cut):
        off = f"{list_words(removed)} off, nothing cut" if removed else "nothing cut"
        opened = replace(opened, check="What makes room for the apron", measured=off, limit="no rail or stile in its way")
    return [
        fit_finding(
            "cabinet/stile-after-cut",
            "Cabinet front remaining beside the cut, on each side",
            cut.left_over_side_in,
            row("checks", "cabinet/stile-left"),
            basis=f"{format_length(base_width(design.placed.model).value_in)} base, cut {format_length(cut.width_in)} wide in its middle",
            remedy="Choose a narrower sink or a wider base: what is left must hold the hinges.",
            parts=("cut-out", "cabinet"),
        ),
        opened,
    ]


def _after_the_cut(cut: FrontCut, *, unseen: bool) -> str:
    if unseen:
        return "Measure from the box top down to the mid rail."
    if cut.rail_removed:
        return "Fasten the box to the boxes beside it before cutting and build the frame right after: the top rail kept the box square."
    return "Fasten the box to the boxes beside it before cutting: the mid rail kept the box square." if cut.mid_rail_removed else ""


def _nominal(job: FilledJob, lists: Lists) -> list[Finding]:
    if job.sink.as_received:
        return []
    tolerance_in = _size_tolerance(job, lists)
    return [
        plain_finding(
            "cabinet/sink-not-measured",
            "Sink measured on delivery",
            Level.CAUTION,
            "nominal sizes",
            "sizes taken off the sink before anything is cut",
            basis=f"a sink of this kind may be off by {format_length(tolerance_in)}; every fit allows for it",
            source="common-practice",
            remedy="Receive and measure the sink before demolition; make the template from the sink itself.",
            parts=("sink",),
        )
    ]


def _condition(job: FilledJob) -> list[Finding]:
    findings = []
    if job.cabinet.wet_floor:
        findings.append(
            plain_finding(
                "cabinet/wet-floor",
                "Cabinet floor",
                Level.CAUTION,
                "wet, soft or stained",
                "a dry, sound floor",
                basis="as seen at the visit, or allowed for because nobody could test it",
                source="job",
                remedy="Find the leak first. We put in a new cabinet floor; set nothing on the old one.",
                parts=("cabinet",),
            )
        )
    if sides := job.cabinet.sides_to_stiffen:
        findings.append(
            plain_finding(
                "cabinet/swollen-sides",
                "Cabinet sides",
                Level.STOP,
                f"{' and '.join(sides)} swollen or loose",
                "sound sides: the cleats fasten to them",
                basis="as seen at the visit",
                source="job",
                remedy="Replace or double the sides before the frame goes in.",
                parts=("cabinet", "frame"),
            )
        )
    return findings
