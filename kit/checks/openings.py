"""Does the rim find what it lies on: a ledge in the counter, a flange over its opening, cleats within its reach?"""

from kit.checks.finding import fit_finding, plain_finding
from kit.design.design import Design
from kit.design.place_clips import clip_count, has_clips
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value
from kit.units import format_length, format_side

__all__ = ["check_openings"]


def check_openings(job: FilledJob, design: Design, _: Lists) -> list[Finding]:
    """Rim and outlet as measured, ledge of a flush rim, cover of a flange and of an old hole, and whether cleats on the box can reach the rim at all."""
    return [
        *_rim_width(job, design),
        *_rim_depth(job, design),
        *_outlets(design),
        *_ledge(design),
        *_flange_cover(job, design),
        *_old_hole(job, design),
        *_clips(job, design),
        *_rim_within_reach(design),
    ]


def _rim_width(job: FilledJob, design: Design) -> list[Finding]:
    """Rim, body and bowl widths are three readings of two facts: a slip in one moves the opening or the cleats."""
    at = design.placed.sink
    beside_in = (at.rim_x[1] - at.rim_x[0] - (at.outside_x[1] - at.outside_x[0])) / 2.0
    return [
        fit_finding(
            "mounts/rim-width",
            "Rim, body and bowl widths agree",
            abs(job.sink.rim_width_in - beside_in),
            row("checks", "mounts/rim-readings"),
            most=True,
            off=True,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"rim {format_length(job.sink.rim_width_in)} as measured; body less bowl leaves {format_length(beside_in)} on each side",
            remedy="Measure body, bowl and rim again.",
            parts=("rim", "sink"),
        )
    ]


def _rim_depth(job: FilledJob, design: Design) -> list[Finding]:
    """Depth, bowl, rear and front rim are four readings of three facts, where somebody measured the front rim too."""
    front_in, at = job.sink.front_rim_in, design.placed.sink
    if front_in is None:
        return []
    left_in = (at.rim_y[1] if at.apron is None else at.apron.y[1]) - at.inside_y[1]
    return [
        fit_finding(
            "mounts/rim-depth",
            "Sink depth, bowl and rims agree",
            abs(front_in - left_in),
            row("checks", "mounts/rim-readings"),
            most=True,
            off=True,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"front rim {format_length(front_in)} as measured; depth less bowl and rear rim leaves {format_length(left_in)}",
            remedy="Measure depth, bowl and rims again.",
            parts=("rim", "sink"),
        )
    ]


def _outlets(design: Design) -> list[Finding]:
    """The outlet that lies nearest to a wall of its bowl: a strainer finds no room beyond it."""
    at, half_in = design.placed.sink, value("practice", "drain/strainer-nut") / 2.0
    inside_in = min(min(x - bowl.x[0], bowl.x[1] - x, y - bowl.y[0], bowl.y[1] - y) for (x, y), bowl in zip(at.outlets, at.bowls, strict=True))
    return [
        fit_finding(
            "mounts/outlet-in-bowl",
            "Outlet center to the bowl's wall",
            inside_in,
            half_in,
            worst=Level.STOP if inside_in < 0.0 else Level.CAUTION,
            basis=f"center of the outlet {format_side(inside_in, 'from the nearest wall of its bowl', 'outside its bowl')}; "
            f"half a strainer is {format_length(half_in)}",
            source=row("practice", "drain/strainer-nut"),
            remedy="Measure from the back of the sink and from its center line.",
            parts=("bowl", "strainer"),
        )
    ]


def _ledge(design: Design) -> list[Finding]:
    opening, levels = design.placed.opening, design.levels
    if opening.rabbet is None:
        return []
    rabbet = opening.rabbet
    wide_in = min(opening.x[0] - rabbet.x[0], rabbet.x[1] - opening.x[1], opening.y[0] - rabbet.y[0], rabbet.y[1] - opening.y[1])
    deep_in, thick_in = rabbet.z[1] - rabbet.z[0], levels.counter_top_in - levels.box_top_in
    findings = [
        fit_finding(
            "mounts/ledge-width",
            "Ledge left for the rim in its rabbet",
            wide_in,
            row("checks", "mounts/ledge-width"),
            basis=f"rabbet {format_length(rabbet.x[1] - rabbet.x[0])} wide around a hole of {format_length(opening.width_in)}",
            remedy="Choose a sink with a wider rim, or another mount.",
            parts=("rim", "cut-out"),
        ),
        fit_finding(
            "mounts/ledge-thickness",
            f"Countertop{' and sub-top' if levels.box_top_in > levels.packed_top_in else ''} left below the rabbet",
            rabbet.z[0] - levels.packed_top_in,
            row("checks", "mounts/ledge-thickness"),
            basis=f"{format_length(levels.counter_top_in - levels.packed_top_in)} of countertop and sub-top less a rabbet {format_length(deep_in)} deep",
            remedy="Add a sub-top below the countertop, or choose a thicker countertop or another mount.",
            parts=("rim", "counter"),
        ),
    ]
    if levels.box_top_in > levels.packed_top_in:  # a sub-top, which is wood
        findings.append(
            fit_finding(
                "mounts/rabbet-depth",
                "Rabbet stays within the countertop",
                deep_in,
                thick_in,
                most=True,
                tolerance_in=0.0,
                worst=Level.CAUTION,
                basis=f"rabbet {format_length(deep_in)} deep in a countertop {format_length(thick_in)} thick",
                source="common-practice",
                remedy="Have the edge built up below with the countertop's own material, so that no water reaches the wood of the sub-top.",
                parts=("rim", "counter"),
            )
        )
    return findings


def _flange_cover(job: FilledJob, design: Design) -> list[Finding]:
    opening, rim = design.placed.opening, design.placed.sink
    if job.sink.mount != "top":
        return []
    covers = [opening.x[0] - rim.rim_x[0], rim.rim_x[1] - opening.x[1], opening.y[0] - rim.rim_y[0]]
    if not opening.open_front:
        covers.append(rim.rim_y[1] - opening.y[1])
    return [
        fit_finding(
            "mounts/flange-cover",
            "Flange covers the edge of its opening",
            min(covers),
            row("checks", "mounts/flange-cover"),
            basis=f"sink {format_length(rim.rim_x[1] - rim.rim_x[0])} wide over an opening of {format_length(opening.width_in)}",
            remedy="Cut to the maker's template, or choose a sink with a wider flange.",
            parts=("rim", "cut-out"),
        )
    ]


def _old_hole(job: FilledJob, design: Design) -> list[Finding]:
    """A countertop that stays keeps the hole of its old sink: nobody cuts it smaller, the new rim has to reach over it."""
    hole, at = design.top.old_hole, design.placed.sink
    if hole is None or job.scope.sink.supplied_by == "stays":
        return []
    covers = [at.rim_x[1] - at.rim_x[0] - hole.width_in]
    if not design.placed.opening.open_front:
        covers.append(at.rim_y[1] - at.rim_y[0] - hole.front_to_back_in)
    return [
        fit_finding(
            "mounts/old-hole",
            "New rim reaches over the old sink's hole",
            min(covers) / 2.0,
            row("checks", "mounts/ledge-width" if job.sink.mount == "flush" else "mounts/flange-cover"),
            basis=f"the countertop stays; the old sink's hole is taken as {format_length(hole.width_in)} by {format_length(hole.front_to_back_in)}",
            remedy="Choose a sink as large as the old one, or a new countertop.",
            parts=("cut-out",),
        )
    ]


def _clips(job: FilledJob, design: Design) -> list[Finding]:
    """Whether each clip finds room beside the opening: rails, sides and nailer of the base may stand where it should grip."""
    placed = design.placed
    if not has_clips(job, placed.carrying):
        return []
    clips, with_room = clip_count(job), len(placed.model.of_part("clips"))
    return [
        plain_finding(
            "mounts/clips",
            "Room for the clips around the rim",
            Level.OK if with_room == clips else Level.CAUTION,
            f"{with_room} of {clips}",
            f"{clips}, one every {format_length(value('practice', 'sink/clip-spacing'))}",
            basis="where rails, sides or nailer of the base leave less room beside the opening than a clip takes, none is drawn",
            source=row("practice", "sink/clip-spacing"),
            remedy=""
            if with_room == clips
            else "Set clips closer where there is room, else bed the rim in sealant; don't notch the cabinet. Ask the maker how few will do.",
            parts=("rim",),
        )
    ]


def _rim_within_reach(design: Design) -> list[Finding]:
    above_in = design.frame.rim_above_box_in
    if design.placed.frame is None or above_in <= 0.0:
        return []
    return [
        plain_finding(
            "mounts/rim-above-box",
            "Cleats reach the rim",
            Level.STOP,
            f"underside of the rim {format_length(above_in)} above the box",
            "at or below the top of the box",
            basis="cleats are fixed to the sides of the box; the frame shown carries the sink under its bowl",
            source="geometry",
            remedy="Carry it under the bowl where the maker's sheet allows it, or choose the undermount.",
            margin=-above_in,
            unit="in",
            parts=("rim", "frame"),
        )
    ]
