"""What waits in the wall for the drain: the pipe that a lowered stub is joined to, a stud in its way, a vent that somebody saw?"""

from kit.checks.finding import CONFIRM, SIDES, fit_finding, plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value
from kit.sources.sizes import table_size
from kit.units import format_length, format_side

__all__ = ["check_lowered", "check_vent"]


def check_lowered(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """The pipe that a lowered stub is joined to, and the stud that it passes."""
    return [*_riser(job, design, lists), *_stud(job, design)]


def check_vent(job: FilledJob) -> list[Finding]:
    """Whether somebody saw the vent: above the stub, or on the pipe in the floor."""
    in_floor = job.plumbing.drain_leaves == "floor"
    seen = job.plumbing.floor_pipe_vent == "wall" if in_floor else job.plumbing.vent_seen
    where = "before you offer the job" if in_floor else "before the wall is closed"
    return [
        plain_finding(
            "drain/vent",
            "Vent",
            Level.OK if seen else Level.UNKNOWN,
            "seen" if seen else "not seen",
            "a vent that somebody saw",
            basis="as seen at the visit",
            source="job",
            remedy="" if seen else f"Find it {where}; a plumber to look for it is not included. {CONFIRM}",
            parts=("arm",),
        )
    ]


def _riser(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Whether the pipe in the wall was found that the stub is lowered on, and what joints are closed in."""
    drain = design.drain
    if not drain.moves or not job.scope.drain_move.renewed:
        return []
    if drain.riser is None:
        level, measured = Level.UNKNOWN, "riser not located"
        basis, remedy = "no vent was seen above the stub: nothing is priced in the wall", "Find and measure the riser and the vent, then price the wall."
    else:
        fittings = ", ".join(f"({fitting.count}) {lists.name_of(fitting.item)}" for fitting in drain.riser.fittings)
        level, measured = Level.CAUTION if drain.riser.transition else Level.OK, fittings
        joints = f"{drain.riser.cemented_joints} cemented joints; the last coupling slides on, no end moves"
        basis = f"{format_length(drain.riser.cut_out_in)} of riser cut out, {joints}"
        remedy = f"The shielded couplings end up inside the closed wall. {CONFIRM}" if drain.riser.transition else ""
    return [
        plain_finding(
            "drain/riser",
            "Pipe in the wall for the lowered stub",
            level,
            measured,
            "fittings that join it, and no slip joint in a closed wall",
            basis=basis,
            source="from-memory",
            remedy=remedy,
            parts=("stub",),
        )
    ]


def _stud(job: FilledJob, design: Design) -> list[Finding]:
    """The hole that the lowered drain needs in a stud; none where the nearest stud was found and stands clear of the new pipe."""
    if not design.drain.moves:
        return []
    model = design.placed.model
    if "stud" in model and (clear_in := model.gap("stud", "stub", "x").value_in) > 0.0:
        return [
            fit_finding(
                "drain/stud-clear",
                "Lowered drain clear of the stud",
                clear_in,
                0.0,
                worst=Level.CAUTION,
                basis=f"from the base's left side, middle of the stud {format_side(model['stud'].middle[0], *SIDES)}, "
                f"of the stub {format_side(model['stub'].middle[0], *SIDES)}",
                source="geometry",
                remedy=f"Open the wall and look before anything is cut: the licensed trade decides. {CONFIRM}",
                parts=("stub",),
            )
        ]
    size = table_size(job.plumbing.drain_size)
    hole_in = value("pipes", f"pvc-40/{size}/outside") + value("checks", "stud/hole-play")
    share, pipe = value("checks", "stud/hole-share"), say_choice("plumbing.drain_size", job.plumbing.drain_size)
    return [
        fit_finding(
            "drain/stud-hole",
            "Hole for the drain in a stud",
            hole_in,
            share * job.plumbing.stud_depth_in,
            most=True,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"{pipe} pipe with play, at most {share:.0%} of a {format_length(job.plumbing.stud_depth_in)} non-bearing stud",
            source=row("checks", "stud/hole-share"),
            remedy=f"Fit stud shoes or deepen the wall. A bearing stud may lose less: the licensed trade decides. {CONFIRM}",
            parts=("stub",),
        )
    ]
