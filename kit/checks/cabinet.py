"""Does the sink go into this cabinet, and what is left of its front?"""

from kit.checks.finding import fit_finding, plain_finding, tape_tolerance_in
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import value

__all__ = ["check_cabinet"]


def check_cabinet(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Body, bowl, rim and depth inside the box; the apron between false front and doors; the frame after the cut."""
    tolerance_in = tape_tolerance_in() + _size_tolerance(job, lists)
    return [*_inside(job, design, tolerance_in), *_apron(job, design, tolerance_in), *_front(job, design), *_nominal(job, lists), *_condition(job)]


def _size_tolerance(job: FilledJob, lists: Lists) -> float:
    """What a nominal size may be off by its kind (fired clay shrinks unevenly); nothing once measured as received."""
    kind = lists.sinks.get(job.sink.item)
    return 0.0 if job.sink.as_received or kind is None else kind.size_tolerance_in


def _inside(job: FilledJob, design: Design, tolerance_in: float) -> list[Finding]:
    cabinet, sink, frame = job.cabinet, job.sink, design.frame
    back_in = value("checks", "cabinet/back-clearance")
    found = [
        fit_finding(
            "cabinet/body-between-sides",
            "Body of the sink between the cabinet's sides",
            cabinet.inside_width_in,
            sink.body_width_in if sink.mount == "under" or sink.is_apron else sink.bowl_width_in,
            tolerance_in=tolerance_in,
            basis=f"{cabinet.width_in:g} in base less two sides of {cabinet.side_thickness_in:g} in; body at the rim {sink.body_width_in:g} in",
            source="common-practice",
            remedy="Choose a narrower sink or a wider base.",
            parts=("sink", "cabinet"),
        ),
        fit_finding(
            "cabinet/depth",
            "Sink front to back in the cabinet",
            cabinet.depth_in,
            sink.depth_in - sink.apron_projection_in + back_in if sink.is_apron else sink.depth_in + 2.0 * back_in,
            tolerance_in=tolerance_in,
            basis=f"sink {sink.depth_in:g} in deep, apron {sink.apron_projection_in:g} in proud of the face, {back_in:g} in left for hands and wall",
            source="common-practice",
            remedy="Choose a shallower sink, or set it further forward if its apron allows.",
            parts=("sink", "cabinet"),
        ),
    ]
    if frame.cleat_reach_in:
        clear_in = cabinet.inside_width_in - 2.0 * frame.cleat_reach_in
        found += [
            fit_finding(
                "cabinet/bowl-between-cleats",
                "Bowl between the side cleats",
                clear_in,
                sink.bowl_width_in,
                tolerance_in=tolerance_in,
                basis=f"{cabinet.inside_width_in:g} in inside less two cleats of {frame.cleat_reach_in:g} in; bowl outside {sink.bowl_width_in:g} in",
                source="common-practice",
                remedy="Thinner cleats, or carry the sink under the bowl.",
                parts=("bowl", "frame"),
            ),
            fit_finding(
                "cabinet/rim-on-cleat",
                "Rim that lies on each cleat",
                frame.rim_on_cleat_in,
                value("checks", "cabinet/rim-on-cleat"),
                tolerance_in=tolerance_in / 2.0,
                basis=f"half of the {sink.body_width_in:g} in body over a cleat that reaches in {frame.cleat_reach_in:g} in",
                source="common-practice",
                remedy="Pack the cleats out, or carry the sink under the bowl.",
                parts=("rim", "frame"),
            ),
        ]
    return found


def _apron(job: FilledJob, design: Design, tolerance_in: float) -> list[Finding]:
    """Two findings: the apron must reach below the false front's edge and screws, and stay above the doors."""
    down_in, cabinet = design.levels.apron_bottom_down_in, job.cabinet
    if down_in is None:
        return []
    edges = [edge for edge in (cabinet.false_front_bottom_in, cabinet.false_front_screw_in) if edge is not None]
    lowest_in = max(edges) if cabinet.false_front_bottom_in is not None else None
    doors_in = None if cabinet.door_top_in is None else cabinet.door_top_in - cabinet.door_reveal_in
    front = f"false front ends {_shown(cabinet.false_front_bottom_in)}, its lowest screw {_shown(cabinet.false_front_screw_in)}"
    where = f"apron ends {down_in:g} in below the box top (rim {design.levels.rim_above_box_in:g} in above it, apron {job.sink.apron_height_in:g} in high)"
    return [
        fit_finding(
            "cabinet/apron-covers-false-front",
            "Apron reaches below the false front and its screws",
            down_in,
            lowest_in,
            tolerance_in=tolerance_in,
            worst=Level.CAUTION,
            basis=f"{where}; {front} below the box top",
            source="common-practice",
            remedy="A filler rail below the apron closes what stays open; or choose a higher apron.",
            parts=("apron", "false front"),
        ),
        fit_finding(
            "cabinet/apron-above-doors",
            "Lower edge of the apron above the doors",
            down_in,
            doors_in,
            most=True,
            tolerance_in=tolerance_in,
            basis=f"{where}; doors start {_shown(cabinet.door_top_in)} below it, reveal {cabinet.door_reveal_in:g} in",
            source="common-practice",
            remedy="A lower apron, shorter doors, or another mount.",
            parts=("apron", "doors"),
        ),
    ]


def _shown(length_in: float | None) -> str:
    return "not measured" if length_in is None else f"{length_in:g} in"


def _front(job: FilledJob, design: Design) -> list[Finding]:
    cut = design.cut
    if cut is None:
        return []
    removed = [name for name, gone in (("top rail", cut.rail_removed), ("false front", cut.false_front_removed)) if gone]
    return [
        fit_finding(
            "cabinet/stile-after-cut",
            "Stile or side left beside the cut",
            cut.left_over_side_in,
            value("checks", "cabinet/stile-left"),
            basis=f"{job.cabinet.width_in:g} in base, cut {cut.width_in:g} in wide in its middle",
            source="common-practice",
            remedy="A narrower sink, or a base one size wider: what is left must still hold hinges and faces.",
            parts=("cut-out", "cabinet"),
        ),
        plain_finding(
            "cabinet/removed",
            "What the cut takes out of the front",
            Level.CAUTION if cut.rail_removed else Level.OK,
            " and ".join(removed) or "nothing that holds the box",
            "box fastened to its neighbours first, tie behind the apron",
            basis=f"cut {cut.width_in:g} x {cut.height_in:g} in from the box top",
            source="common-practice",
            remedy="Fasten the box to its neighbours before cutting and set the front tie: the top rail kept the box square." if cut.rail_removed else "",
            parts=("cut-out",),
        ),
    ]


def _nominal(job: FilledJob, lists: Lists) -> list[Finding]:
    if job.sink.as_received:
        return []
    tolerance_in = _size_tolerance(job, lists)
    return [
        plain_finding(
            "cabinet/sink-not-measured",
            "Sink measured as received",
            Level.CAUTION,
            "nominal sizes",
            "measured on the sink before anything is cut",
            basis=f"its kind may be off by {tolerance_in:g} in; every fit above counts it in",
            source="common-practice",
            remedy="Receive and measure the sink before demolition; make the template from the sink itself.",
            parts=("sink",),
        )
    ]


def _condition(job: FilledJob) -> list[Finding]:
    found = []
    if job.cabinet.wet_floor:
        found.append(
            plain_finding(
                "cabinet/wet-floor",
                "Cabinet floor",
                Level.CAUTION,
                "wet, soft or stained",
                "dry and sound",
                basis="as seen at the visit",
                source="job",
                remedy="Find the leak first; renew the floor before the posts stand on it.",
                parts=("cabinet",),
            )
        )
    if job.cabinet.swollen_sides:
        found.append(
            plain_finding(
                "cabinet/swollen-sides",
                "Cabinet sides",
                Level.STOP,
                "swollen or loose",
                "sound: the cleats are fixed to them",
                basis="as seen at the visit",
                source="job",
                remedy="Replace or double the sides before the frame goes in.",
                parts=("cabinet", "frame"),
            )
        )
    return found
