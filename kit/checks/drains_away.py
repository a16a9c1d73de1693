"""Does it still drain, by gravity and by the settings of the code family?"""

from kit.checks.below_floor import check_below_floor
from kit.checks.dishwasher_hose import check_hose
from kit.checks.drain_in_wall import check_lowered, check_vent
from kit.checks.finding import CONFIRM, FLOOR, fit_finding, plain_finding
from kit.design.design import Design
from kit.design.drain_levels import BowlPair, drain_remedies, pair_bowls
from kit.design.drain_parts import tailpiece_spare_in
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row
from kit.sources.sizes import table_size
from kit.units import format_length, format_side, next_mark

__all__ = ["check_drain"]


def _row(family: str, name: str) -> Row:
    """The row of a family that set the limit: whoever it names said so, and not always the family's own book."""
    return row("trap_arms", f"{family}/{name}")


def _longest_row(job: FilledJob, design: Design) -> Row:
    """The family's length, or its fall where that ends the arm first."""
    settings, size = design.drain.settings, table_size(job.plumbing.drain_size)
    listed = settings.arm_longest_in[float(size)] <= design.drain.levels.arm_longest_in
    return _row(settings.family, f"arm/{size}" if listed else "fall-most-diameters")


_TWO_TRAPS = "Choose bowls closer in depth or outlet. A second trap with arm and vent is not in the price. "
_PLUMBERS = "a trap for each bowl is planned by a licensed plumber, as a job of its own"


def check_drain(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Fall to the stub, tailpiece, arm, pipe in the wall, vent, floor below the trap, two bowls, dishwasher, what lies below the floor."""
    return [
        *check_below_floor(job, design),
        *([] if design.drain.not_designed else _to_the_stub(job, design, lists)),
        *_trap_floor(design),
        *_disposer_room(job, design),
        *([] if design.drain.not_designed else check_vent(job)),
        *_bowls(design),
        *check_hose(job, design),
        *_photograph(job),
        *_to_measure(design),
    ]


def _to_the_stub(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    return [
        *_fall(job, design),
        *_stub_wanted(job, design),
        *_tailpiece(design),
        *_arm(job, design),
        *_turns(design),
        *check_lowered(job, design, lists),
    ]


def _fall(job: FilledJob, design: Design) -> list[Finding]:
    route = design.drain
    lowered = route.is_lowered
    without_in, disposer = route.lower_by_without_disposer_in or 0.0, job.plumbing.disposer != "none"
    tail_in = None if disposer else tailpiece_spare_in(job, route.levels)
    helps = drain_remedies(route.measures, route.levels, spare_tail_in=tail_in, drains_without_disposer=disposer and not without_in)
    least_work = " or ".join(helps[:2])
    remedy = (
        f"A licensed plumber lowers it, as part of this job. Or: {least_work}." if lowered else f"{least_work.capitalize()}, or {helps[-1]}." if helps else ""
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
        past_zero=FLOOR[1],
    )
    findings = [finding]
    if disposer and route.lower_by_in and without_in < route.lower_by_in:
        findings.append(
            plain_finding(
                "drain/without-disposer",
                "Drain stub without a disposer",
                Level.OK,
                f"stub comes down by {format_length(without_in)} instead of {format_length(route.lower_by_in)}" if without_in else "the stub stays where it is",
                "a price without it, too",
                basis=f"highest stub {format_side(next_mark(route.stub_max_without_disposer_in, down=True), *FLOOR)} with a strainer, "
                f"{format_side(next_mark(route.stub_max_in, down=True), *FLOOR)} with the disposer",
                source="geometry",
                remedy="Ask the customer whether the disposer is worth the difference; the wall is opened either way."
                if without_in
                else "Ask the customer whether the disposer is worth opening the wall.",
                parts=("disposer", "stub"),
            )
        )
    return findings


def _stub_wanted(job: FilledJob, design: Design) -> list[Finding]:
    """A height that somebody chose must drain, and lie no higher than today's: a stub is not raised."""
    route, wanted_in = design.drain, job.plumbing.stub_wanted_in
    if wanted_in is None or route.through_floor or wanted_in == route.stub_in:
        return []
    return [
        fit_finding(
            "drain/stub-wanted",
            "Stub height you chose",
            wanted_in,
            route.stub_max_in if route.stub_in is None else min(route.stub_max_in, route.stub_in),
            most=True,
            basis=f"highest that drains {format_side(next_mark(route.stub_max_in, down=True), *FLOOR)}; a stub is lowered, never raised",
            source="geometry",
            remedy="Choose a lower one, or leave it out.",
            parts=("stub",),
            past_zero=FLOOR[1],
        )
    ]


def _outlets_differ_in(design: Design) -> float:
    """How much higher the outlet of the shallowest bowl lies than that of the deepest [in]."""
    tops = [body.span("z")[1] for body in (*design.placed.model.of_part("strainer"), *design.placed.model.of_part("disposer"))]
    return max(tops) - min(tops)


def _tailpiece(design: Design) -> list[Finding]:
    levels, settings = design.drain.levels, design.drain.settings
    higher_in = _outlets_differ_in(design)  # a shallower bowl lets out higher above the same weir
    drop_in = None if design.drain.stub_in is None else levels.drop_built_in + higher_in
    if drop_in is not None and drop_in < 0.0:  # uphill: the height of the stub is the finding
        return []
    return [
        fit_finding(
            "drain/tailpiece",
            "Outlet to the trap's weir",
            drop_in,
            settings.drop_most_in,
            most=True,
            basis=f"bowl underside {format_side(levels.outlet_in + higher_in, *FLOOR)}, weir {format_side(levels.weir_built_in, *FLOOR)}",
            source=_row(settings.family, "drop-most"),
            remedy=f"Set the trap higher; no leg may drop after it. {CONFIRM}",
            parts=("trap",),
        )
    ]


def _arm(job: FilledJob, design: Design) -> list[Finding]:
    levels, settings, run_in = design.drain.levels, design.drain.settings, design.drain.measures.run_to_vent_in
    to_vent = "not measured" if run_in is None else format_length(run_in)
    end = "the tee on the pipe" if design.drain.through_floor else "wall"
    placed = f"weir to {end} {format_length(design.drain.way.length_in)} as placed, weir to vent {to_vent}"
    basis = f"{placed}, {say_choice('plumbing.drain_size', job.plumbing.drain_size)} pipe, settings of the {say_choice('site.code_family', settings.family)}"
    return [
        fit_finding(
            "drain/arm-longest",
            "Trap arm to the vent, longest",
            run_in,
            levels.arm_longest_in,
            most=True,
            basis=basis,
            source=_longest_row(job, design),
            remedy=f"Move the vent closer to the trap, or use larger pipe. {CONFIRM}",
            parts=("arm",),
        ),
        fit_finding(
            "drain/arm-shortest",
            "Trap arm to the vent, shortest",
            run_in,
            levels.arm_shortest_in,
            basis=basis,
            source=_row(settings.family, "arm-least-diameters"),
            remedy=f"Lengthen the arm before the vent. {CONFIRM}",
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
            remedy=f"Move the vent closer to the trap. {CONFIRM}",
            parts=("arm",),
        ),
    ]


def _turns(design: Design) -> list[Finding]:
    """Whether the pieces of an arm that turns are long enough for the fittings at their ends; the one that is shortest for them."""
    if len(design.drain.way.legs_in) == 1:
        return []
    pipe = min((pipe for pipe in design.drain.pipes if pipe.name.startswith("arm")), key=lambda pipe: pipe.centers_in - pipe.least_in)
    return [
        fit_finding(
            "drain/arm-turns",
            "Room for the elbows of the trap arm",
            pipe.centers_in,
            pipe.least_in,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"{pipe.name}, center to center; an elbow takes half the outside of its pipe and the depth of a socket, a coupling a socket",
            source="from-memory",
            remedy="Lay the fittings out before you cut. Swing the trap, use street elbows, or pick a sink whose outlet is farther from the wall.",
            parts=("arm", "trap"),
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
            remedy="Choose a shorter disposer (check its sheet), a shallower bowl, or no disposer.",
            parts=("disposer", "cabinet"),
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
            basis=f"lowest point of the trap {format_side(levels.trap_bottom_in, *FLOOR)} of the room, with the deepest seal allowed",
            source="geometry",
            remedy="Use a trap with a shallower seal, or cut a hole in the cabinet floor.",
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
            remedy="Photograph the drain and what is around it before anything is taken apart.",
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
            f"{', '.join(names)}, center to center",
            "pieces no shorter than the cut list says",
            basis="bought from center to center; what the fittings take out of it is the allowance, and no open table gives it for this pattern",
            source="common-practice",
            remedy="Don't cut to these lengths: measure with the fittings in hand first.",
            parts=("arm", "trap"),
        )
    ]
