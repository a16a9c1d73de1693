"""Does it still drain, by gravity and by the settings of the code family?"""

from kit.checks.below_floor import check_below_floor
from kit.checks.finding import fit_finding, plain_finding
from kit.design.design import Design
from kit.design.drain_levels import BowlPair, drain_remedies, pair_bowls
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row, value
from kit.sources.sizes import table_size
from kit.units import format_length

__all__ = ["check_drain"]

CONFIRM = "Confirm with the local authority."
_HOSE_SOURCES = {"irc": "irc-memory", "ipc": "ipc", "upc": "king-county-dishwasher"}


def _row(family: str, name: str) -> Row:
    """The row of a family that set the limit: whoever it names said so, and not always the family's own book."""
    return row("trap_arms", f"{family}/{name}")


def _longest_row(job: FilledJob, design: Design) -> Row:
    """The family's length, or its fall where that ends the arm first."""
    settings, size = design.drain.settings, table_size(job.plumbing.drain_size)
    listed = settings.arm_longest_in[float(size)] <= design.drain.levels.arm_longest_in
    return _row(settings.family, f"arm/{size}" if listed else "fall-most-diameters")


_TWO_TRAPS = "Choose closer depths or outlets. Two traps take an arm and a vent each: not in the price. "
_PLUMBERS = "a trap for each bowl is planned by a licensed plumber, as a job of its own"


def check_drain(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Fall to the stub, tailpiece, arm, pipe in the wall, vent, floor below the trap, two bowls, dishwasher, what lies below the floor."""
    return [
        *check_below_floor(job, design),
        *([] if design.drain.not_designed else _to_the_stub(job, design, lists)),
        *_trap_floor(design),
        *_disposer_room(job, design),
        *([] if design.drain.not_designed else _vent(job)),
        *_bowls(design),
        *_dishwasher(job, design),
        *_photograph(job),
        *_to_measure(design),
    ]


def _to_the_stub(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    return [
        *_fall(job, design),
        *_stub_wanted(job, design),
        *_tailpiece(design),
        *_arm(job, design),
        *_riser(job, design, lists),
        *_stud(job, design),
    ]


def _fall(job: FilledJob, design: Design) -> list[Finding]:
    route = design.drain
    lowered = route.is_lowered
    helps = drain_remedies(route.levels)
    least_work = " or ".join(helps[:2])
    remedy = (
        f"A licensed plumber lowers it, as part of this job. Other ways: {least_work}."
        if lowered
        else f"{least_work.capitalize()}, or {helps[-1]}."
        if helps
        else ""
    )
    finding = fit_finding(
        "drain/stub-height",
        "Inlet of the drain's tee low enough for the new sink" if route.through_floor else "Drain stub low enough for the new sink",
        route.stub_in,
        route.stub_max_in,
        most=True,
        worst=Level.CAUTION if lowered else Level.STOP,
        basis=f"{route.levels.working}; what helps, least work first: {'; '.join(helps)}" if helps else route.levels.working,
        source="geometry",
        remedy=remedy if helps else "",
        parts=("stub", "trap"),
    )
    found = [finding]
    without_in = route.lower_by_without_disposer_in or 0.0
    if job.plumbing.disposer != "none" and route.lower_by_in and without_in < route.lower_by_in:
        found.append(
            plain_finding(
                "drain/without-disposer",
                "Drain stub without a disposer",
                Level.OK,
                f"stub comes down by {format_length(without_in)} instead of {format_length(route.lower_by_in)}"
                if without_in > 0.0
                else "the stub stays where it is",
                "a price for that, too",
                basis=f"highest stub {format_length(route.stub_max_without_disposer_in)} with a strainer, {format_length(route.stub_max_in)} with the disposer",
                source="geometry",
                remedy="Ask the customer whether the disposer is worth opening the wall."
                if without_in <= 0.0
                else "Ask the customer whether the disposer is worth the difference; the wall is opened either way.",
                parts=("disposer", "stub"),
            )
        )
    return found


def _stub_wanted(job: FilledJob, design: Design) -> list[Finding]:
    """A height that somebody chose must drain, and lie no higher than today's: a stub is not raised."""
    route, wanted_in = design.drain, job.plumbing.stub_wanted_in
    if wanted_in is None or route.through_floor or wanted_in == route.stub_in:
        return []
    return [
        fit_finding(
            "drain/stub-wanted",
            "Chosen height of the stub",
            wanted_in,
            route.stub_max_in if route.stub_in is None else min(route.stub_max_in, route.stub_in),
            most=True,
            basis=f"highest that drains {format_length(route.stub_max_in)}; a stub is lowered, never raised",
            source="geometry",
            remedy="Choose a lower one, or leave it out.",
            parts=("stub",),
        )
    ]


def _outlets_differ_in(design: Design) -> float:
    """How much higher the outlet of the shallowest bowl lies than that of the deepest [in]."""
    tops = [body.span("z")[1] for body in (*design.placed.model.of_part("strainer"), *design.placed.model.of_part("disposer"))]
    return max(tops) - min(tops)


def _tailpiece(design: Design) -> list[Finding]:
    levels, settings = design.drain.levels, design.drain.settings
    higher_in = _outlets_differ_in(design)  # a shallower bowl lets out higher above the same weir
    return [
        fit_finding(
            "drain/tailpiece",
            "Outlet to the trap's weir",
            None if design.drain.stub_in is None else levels.drop_built_in + higher_in,
            settings.drop_most_in,
            most=True,
            basis=f"bowl underside {format_length(levels.outlet_in + higher_in)}, weir {format_length(levels.weir_built_in)} above the floor",
            source=_row(settings.family, "drop-most"),
            remedy=f"Set the trap higher, with no leg down after it. {CONFIRM}",
            parts=("trap",),
        )
    ]


def _arm(job: FilledJob, design: Design) -> list[Finding]:
    levels, settings, run_in = design.drain.levels, design.drain.settings, design.drain.measures.run_to_vent_in
    to_vent = "not measured" if run_in is None else format_length(run_in)
    end = "the tee on the pipe" if design.drain.through_floor else "wall"
    placed = f"weir to {end} {format_length(design.drain.way.length_in)} as placed, weir to vent {to_vent}"
    basis = f"{placed}, {job.plumbing.drain_size} in pipe, settings of {settings.family}"
    return [
        fit_finding(
            "drain/arm-longest",
            "Trap arm to the vent, longest",
            run_in,
            levels.arm_longest_in,
            most=True,
            basis=basis,
            source=_longest_row(job, design),
            remedy=f"A vent nearer to the trap, or larger pipe. {CONFIRM}",
            parts=("arm",),
        ),
        fit_finding(
            "drain/arm-shortest",
            "Trap arm to the vent, shortest",
            run_in,
            levels.arm_shortest_in,
            basis=basis,
            source=_row(settings.family, "arm-least-diameters"),
            remedy=f"A longer arm before the vent. {CONFIRM}",
            parts=("arm",),
        ),
        fit_finding(
            "drain/arm-fall",
            "Fall of the arm from the weir to the vent",
            levels.arm_fall_in,
            settings.fall_most_diameters * float(table_size(job.plumbing.drain_size)),
            most=True,
            basis=f"{basis}; {format_length(design.drain.measures.slope_in_per_ft)} a foot; the vent may not open below the weir",
            source=_row(settings.family, "fall-most-diameters"),
            remedy=f"A vent nearer to the trap. {CONFIRM}",
            parts=("arm",),
        ),
    ]


def _riser(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Whether the pipe in the wall was found that the stub is lowered on, and what joints are closed in."""
    drain = design.drain
    if not drain.moves or not job.scope.drain_move.renewed:
        return []
    if drain.riser is None:
        level, measured = Level.UNKNOWN, "riser not located"
        basis, remedy = "no vent was seen above the stub: nothing is priced in the wall", "Find riser and vent, measure, and price the wall then."
    else:
        fittings = ", ".join(f"{fitting.count} x {lists.name_of(fitting.item)}" for fitting in drain.riser.fittings)
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
                basis=f"stud {format_length(model['stud'].middle[0])}, stub {format_length(model['stub'].middle[0])} from the base's left, to their middles",
                source="geometry",
                remedy=f"Open the wall and look before anything is cut: the licensed trade decides. {CONFIRM}",
                parts=("stub",),
            )
        ]
    size = table_size(job.plumbing.drain_size)
    hole_in = value("pipes", f"pvc-40/{size}/outside") + value("checks", "stud/hole-play")
    share = value("checks", "stud/hole-share")
    return [
        fit_finding(
            "drain/stud-hole",
            "Hole for the drain in a stud",
            hole_in,
            share * job.plumbing.stud_depth_in,
            most=True,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"{job.plumbing.drain_size} in pipe with play, at most {share:.0%} of a {format_length(job.plumbing.stud_depth_in)} non-bearing stud",
            source=row("checks", "stud/hole-share"),
            remedy=f"Stud shoes or a deeper wall; a stud that carries takes less still: the licensed trade decides. {CONFIRM}",
            parts=("stub",),
        )
    ]


def _disposer_room(job: FilledJob, design: Design) -> list[Finding]:
    if job.plumbing.disposer == "none":
        return []
    model = design.placed.model
    low_in, floor_in = model["sink bowl"].span("z")[0], model["cabinet floor"].span("z")[1]
    return [
        fit_finding(
            "drain/disposer-room",
            "Room for the disposer between bowl and cabinet floor",
            low_in - floor_in,
            model["disposer"].size_in("z"),
            worst=Level.STOP,
            basis=f"underside of the bowl {format_length(low_in)}, cabinet floor {format_length(floor_in)} above the room's floor",
            source="job",
            remedy="A lower disposer (its sheet gives the height), a shallower bowl, or none.",
            parts=("disposer", "cabinet"),
        )
    ]


def _vent(job: FilledJob) -> list[Finding]:
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
            remedy="" if seen else f"Find it {where}; a plumber who looks for it is not included. {CONFIRM}",
            parts=("arm",),
        )
    ]


def _trap_floor(design: Design) -> list[Finding]:
    levels = design.drain.levels
    return [
        fit_finding(
            "drain/trap-above-floor",
            "Trap above the cabinet floor",
            levels.floor_spare_in,
            0.0,
            worst=Level.STOP,
            basis=f"lowest point of the trap {format_length(levels.trap_bottom_in)} above the room's floor, with the deepest seal allowed",
            source="geometry",
            remedy="A shallower seal, as far as allowed, or an open hole in the cabinet floor.",
            parts=("trap", "cabinet"),
        )
    ]


def _bowls(design: Design) -> list[Finding]:
    if len(design.placed.sink.bowls) < 2:
        return []
    apart_in, spread_in = design.drain.outlets_apart_in, _outlets_differ_in(design)
    settings = design.drain.settings
    pair = pair_bowls(settings, apart_in, spread_in)
    return [
        plain_finding(
            "drain/two-bowls",
            "Bowls on one trap",
            _pair_level(pair),
            f"outlets {format_length(apart_in)} apart, depths differ by {format_length(spread_in)}",
            f"outlets within {format_length(settings.outlets_apart_most_in)}, depths within {format_length(settings.bowl_depth_spread_most_in)}",
            basis="; ".join((*pair.reasons, *pair.questions, *(() if pair.may_share else (_PLUMBERS,)))) or "within the settings",
            source=_row(settings.family, "bowl-depth-spread-most" if spread_in > settings.bowl_depth_spread_most_in else "outlets-apart-most"),
            remedy="" if _pair_level(pair) is Level.OK else f"{'' if pair.may_share else _TWO_TRAPS}{CONFIRM}",
            parts=("bowl", "trap"),
        )
    ]


def _pair_level(pair: BowlPair) -> Level:
    if not pair.may_share:
        return Level.STOP
    return Level.CAUTION if pair.questions else Level.OK


def _dishwasher(job: FilledJob, design: Design) -> list[Finding]:
    if not job.plumbing.dishwasher:
        return []
    way, family = job.plumbing.dishwasher_drain, job.site.code_family
    if way == "none":
        level, remedy = Level.STOP, "An air gap in the deck." if family == "upc" else "A high loop under the countertop, or an air gap."
    elif way == "high-loop" and family == "upc":
        level, remedy = Level.STOP, f"This family asks for a listed air gap above the flood level: one more hole in the deck. {CONFIRM}"
    elif way == "air-gap" and not any(hole.use == "air-gap" for hole in design.placed.holes):
        level, remedy = Level.CAUTION, "No hole for the air gap is among the deck's holes: add it before the countertop is cut."
    else:
        level, remedy = Level.OK, ""
    return [
        plain_finding(
            "drain/dishwasher",
            "Dishwasher drain hose kept from siphoning",
            level,
            way.replace("-", " "),
            "air gap" if family == "upc" else "high loop or air gap",
            basis=f"settings of {family}",
            source=_HOSE_SOURCES[family],
            remedy=remedy,
            parts=("disposer",),
        )
    ]


def _photograph(job: FilledJob) -> list[Finding]:
    if job.old.drain_photographed:
        return []
    return [
        plain_finding(
            "drain/photograph",
            "Drain photographed",
            Level.CAUTION,
            "no",
            "a picture before the proposal",
            basis="fittings, stub and vent are read from the picture later",
            source="common-practice",
            remedy="Take the picture before you leave.",
        )
    ]


def _to_measure(design: Design) -> list[Finding]:
    names = design.drain.to_measure
    if not names:
        return []
    return [
        plain_finding(
            "drain/take-outs",
            "Lengths of the drain pipe",
            Level.OK,
            f"{', '.join(names)}: center to center",
            "pieces no shorter than the cut list says",
            basis="bought from center to center; what the fittings take out of it is the allowance, and no open table gives it for this pattern",
            source="common-practice",
            remedy="Don't cut to these lengths: measure with the fittings in hand first.",
            parts=("arm", "trap"),
        )
    ]
