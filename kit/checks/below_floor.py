"""What lies below the kitchen floor, and who may go there: a drain that leaves through the floor, a riser that is cut below it."""

from kit.checks.finding import CONFIRM, FLOOR, fit_finding, plain_finding
from kit.design.design import Design
from kit.design.place_floor_pipe import FLOOR_PIPE, FLOOR_VENT, VENT_IN_WALL
from kit.design.removal import opens_drain
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.records import Finding, Level
from kit.sources import row
from kit.sources.sizes import table_size
from kit.units import format_length, format_side, next_mark

__all__ = ["check_below_floor"]

_CHECK = "Drain through the floor"
_REACHED = {
    "crawl-space": (
        "from the crawl space",
        "A licensed plumber goes under, never alone: look first for water, loose wiring, animals and bad air. Our crew stays out of it.",
    ),
    "basement": ("from the basement", "A licensed plumber works from the basement; a finished ceiling there is opened and closed again."),
    "slab": (
        "only by breaking the slab",
        "A licensed plumber breaks and patches the slab under a permit; cables or heating pipes may lie in it, so have it located first.",
    ),
    "rooms": (
        "through the ceiling of the rooms below",
        "The people who use those rooms must agree. A licensed plumber opens the ceiling; then it is closed and painted.",
    ),
}


def check_below_floor(job: FilledJob, design: Design) -> list[Finding]:
    """A drain through the floor: designed, for a plumber, or left out; a riser cut below the floor is reached by what lies there."""
    return [*_through_floor(job, design), *_floor_pipe(job, design), *_riser_below_floor(job, design)]


def _reached(job: FilledJob) -> tuple[str, str]:
    """How a pipe below the floor is reached, and by whom; a kitchen upstairs has rooms below, whatever its floor is made of."""
    return _REACHED["rooms" if job.site.rooms_below else job.site.below]


def _through_floor(job: FilledJob, design: Design) -> list[Finding]:
    drain = design.drain
    if not drain.through_floor:
        return []
    if drain.not_designed:
        return [_left_to_plumber(job, design)]
    by = "by the hired plumber" if design.duties.floor_plumber else "by our crew"
    vent = "the vent is placed" if FLOOR_VENT in design.placed.model or VENT_IN_WALL in design.placed.model else "nobody measured where the vent goes"
    return [
        plain_finding(
            "drain/through-floor",
            _CHECK,
            Level.OK,
            "goes down through the floor, and a vent was seen on its pipe",
            "a vent on the pipe, and room for a level arm before it",
            basis=f"trap and arm to the tee on the pipe are designed and priced, joined {by}; the tee's inlet is taken to look at the trap; {vent}",
            source="job",
            parts=("trap", "stub"),
        )
    ]


def _left_to_plumber(job: FilledJob, design: Design) -> Finding:
    """An S-trap is not built: without a vent that somebody saw, or room for an arm before it, a licensed plumber is asked."""
    level, done, remedy = _who_looks(job, design)
    way, who = _reached(job)
    return plain_finding(
        "drain/through-floor",
        _CHECK,
        level,
        f"goes down through the floor; {design.drain.not_designed}",
        "a vent on the pipe, and room for a level arm before it",
        basis=f"{done}; the pipe is reached {way}. A trap that drops straight into the pipe below it is an S-trap: it may siphon dry, and codes list it among"
        " the traps that are not allowed (a secondary page). The plumber may bring a vented drain into the wall behind the sink, set a tee with a vent on"
        f" the pipe (measure it, and it is priced here), or use an air admittance valve where the local authority allows one. {who}",
        source="homeowners-traps",
        remedy=f"{remedy} {CONFIRM}",
        parts=("trap", "stub"),
    )


def _who_looks(job: FilledJob, design: Design) -> tuple[Level, str, str]:
    """How bad it is that nothing is designed, what of it is done, and what to do: by whom the scope lets the drain be moved."""
    scope = job.scope.drain_move
    if not opens_drain(job, design.removal, lowered=design.drain.is_lowered):
        return Level.CAUTION, "the trap that is there is not taken apart", "Tell the customer what you saw. A licensed plumber is not included."
    if design.duties.floor_plumber:
        done = "a licensed plumber's service call is in the price; whatever else the drain needs is not: a change order prices it"
        return Level.CAUTION, done, "Ask the licensed plumber before you offer the job, and send a picture."
    if scope.renewed and scope.installed_by == "customer":
        return Level.CAUTION, "trap, arm and vent are left out of design, price and calendar", "Have the customer's licensed plumber look before they sign."
    said = "gives it to our crew, and it is work for a licensed plumber" if scope.ours_to_install else "leaves it out, and the new sink has no drain"
    return (
        Level.STOP,
        f"the scope {said}: none of it is designed or priced",
        "Give moving the drain to a hired trade or the customer. A trade's service call is then priced.",
    )


def _floor_pipe(job: FilledJob, design: Design) -> list[Finding]:
    """What a trap with a level arm needs beside a pipe for which nothing is designed: for the plumber to see, not to build by."""
    drain, model = design.drain, design.placed.model
    if not drain.not_designed:
        return []
    if FLOOR_PIPE not in model:
        return [
            plain_finding(
                "drain/floor-pipe",
                "Where the drain pipe in the floor is",
                Level.UNKNOWN,
                "not measured",
                "its distance from the base's left side and from the wall",
                basis="nothing is kept clear of a pipe nobody measured: frame, bin or tank may be in its way",
                source="geometry",
                remedy="Measure from the left end of the sink base and from the wall to the center of the pipe, and how high it comes up.",
                parts=("stub",),
            )
        ]
    pipe, levels, size = model[FLOOR_PIPE], drain.levels, table_size(job.plumbing.drain_size)
    arm_in = drain.way.length_in if drain.ends_at_pipe else 0.0
    highest_in = levels.outlet_in - levels.need_in + drain.measures.bore_in / 2.0 - drain.measures.slope_in_per_ft * arm_in / 12.0
    basis = "from the trap's outlet straight to the middle of the pipe; none where the trap's bend reaches the pipe"
    family = drain.settings.family
    return [
        fit_finding(
            "drain/floor-pipe-height",
            "Drain pipe in the floor low enough for the arm",
            pipe.span("z")[1],
            highest_in,
            most=True,
            worst=Level.CAUTION,
            basis=f"an arm enters it no higher than {format_side(next_mark(highest_in, down=True), *FLOOR)}; {basis}",
            source="geometry",
            past_zero=FLOOR[1],
            remedy="Have a plumber, not included, cut the pipe down: ask how low.",
            parts=("stub",),
        ),
        fit_finding(
            "drain/floor-arm-longest",
            "Arm to the pipe in the floor, longest",
            arm_in,
            levels.arm_longest_in,
            most=True,
            worst=Level.CAUTION,
            basis=f"{basis}; with a vent at the pipe, settings of the {say_choice('site.code_family', family)}",
            source=row("trap_arms", f"{family}/arm/{size}"),
            remedy="Have a plumber, not included, move or enlarge the pipe; local code decides.",
            parts=("arm", "stub"),
        ),
        fit_finding(
            "drain/floor-arm-shortest",
            "Arm to the pipe in the floor, shortest",
            arm_in,
            levels.arm_shortest_in,
            worst=Level.CAUTION,
            basis=f"{basis}; a trap above the pipe would drop straight into it, settings of the {say_choice('site.code_family', family)}",
            source=row("trap_arms", f"{family}/arm-least-diameters"),
            remedy="Have a plumber, not included, turn the trap or move the pipe; local code decides.",
            parts=("arm", "stub"),
        ),
    ]


def _riser_below_floor(job: FilledJob, design: Design) -> list[Finding]:
    """The riser is cut below the new tee: where that is lower than the floor, somebody must get at it from there."""
    drain = design.drain
    if drain.riser is None or (under_in := drain.riser.below_in - drain.stub_built_in) <= 0.0:
        return []
    way, who = _reached(job)
    return [
        plain_finding(
            "drain/riser-below-floor",
            "Riser cut above the floor",
            Level.STOP if job.site.below == "slab" else Level.CAUTION,
            f"{format_length(under_in)} below the floor",
            "a joint above the floor, in the opened wall; work from below is not priced",
            basis=f"new stub {format_side(drain.stub_built_in, *FLOOR)}, riser cut {format_length(drain.riser.below_in)} below it; reached {way}",
            source="common-practice",
            remedy=who,
            margin=-under_in,
            unit="in",
            parts=("stub",),
        )
    ]
