"""Are there people enough for the lift, and what does the lifting equation say of it."""

import math
from functools import lru_cache

from kit.checks.finding import plain_finding
from kit.checks.lifting import Hands, LiftScreening, OutsideMethod, estimate_reach, screen_lift
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value

__all__ = ["check_lift"]

_NOISE_LB = 1e-6  # of floats: 51 lb stay 51


def _say_index(index: float) -> str:
    """To a tenth; above 1, where the risk begins, never as 1.0."""
    return f"{index:.1f}" if index <= 1.0 or index >= 1.05 else f"{math.ceil(index * 100.0) / 100.0:.2f}"


def check_lift(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Crew on hand against the crew table; the equation for one person stands beside it as a screening."""
    lift, crew = design.lift, job.terms.crew if job.terms.crew is not None else lists.company.crew
    level = Level.STOP if crew < lift.lifters else Level.CAUTION if lift.mechanical else Level.OK
    theirs = job.scope.sink.installed_by == "trade"
    if theirs and not job.scope.sink.ours_to_supply:  # none of ours lifts it
        level = min(level, Level.CAUTION)
    short = "Bring more helpers," if crew < lift.lifters else "Bring a lift,"
    screened = _screen(lift.weight_lb, job.sink.depth_in, design.levels.rim_in)
    end = screened.governing
    alone = end.index is not None and end.index <= 1.0
    most_lb = max(math.floor(end.weight_lb + _NOISE_LB), lift.weight_lb if alone else 0.0)  # no limit is rounded up, nor below a weight that keeps it
    index = "do not lift this way" if end.index is None else f"lifting index {_say_index(end.index)}, {screened.band}"
    return [
        plain_finding(
            "lift/crew",
            "People to lift the sink",
            level,
            f"{crew} on hand for {lift.weight_lb:g} lb",
            f"{lift.lifters}{' and a machine' if lift.mechanical else ''} by the crew table",
            basis=f"crew table: {lift.says}; way in {lift.way_ft:g} ft, {lift.stair_steps} steps",
            source="common-practice",
            remedy="" if level is Level.OK else f"{short} or have it delivered into the kitchen.",
            margin=float(crew - lift.lifters),
            unit="people",
            parts=("sink",),
        ),
        plain_finding(
            "lift/screening",
            "Lifting the sink alone (lifting equation, screening only)",
            Level.OK if crew > 1 or alone else Level.CAUTION,
            f"{lift.weight_lb:g} lb: {index}",
            f"at most {most_lb:g} lb for one person",
            basis=f"{screened.working}; outside the equation: {'; '.join(screened.outside)}",
            source=row("lifting", "load-constant"),
            remedy=_advice(lift.lifters, end.index),
            margin=end.weight_lb - lift.weight_lb,
            unit="lb",
            parts=("sink",),
        ),
        *([_hired(lift.weight_lb, lift.lifters, lift.says)] if theirs and lift.lifters > 1 else []),
        *([_steps_to_count(job)] if job.site.floor > 1 and not job.site.stair_steps else []),
    ]


def _steps_to_count(job: FilledJob) -> Finding:
    """Steps are paid one by one, so an upper floor without any is an elevator, or forgotten."""
    return plain_finding(
        "lift/steps",
        "Steps to an upper floor",
        Level.CAUTION,
        f"none counted to floor {job.site.floor}",
        "the steps on the way in, or an elevator",
        basis="goods up and debris down are paid by the step",
        source="common-practice",
        remedy="Count the steps. With an elevator, measure its door and depth for sink and countertop.",
    )


def _hired(weight_lb: float, lifters: int, says: str) -> Finding:
    """A trade that sets a heavy sink comes with people enough."""
    return plain_finding(
        "lift/hired",
        "People on the crew of the trade that sets the sink",
        Level.CAUTION,
        f"{weight_lb:g} lb",
        f"{lifters} people",
        basis=f"crew table: {says}; the trade's hours are counted as those of {lifters} of its people",
        source="common-practice",
        remedy=f"Book the trade with {lifters} people, or agree that ours help: nobody lifts it alone.",
        parts=("sink",),
    )


def _advice(lifters: int, index: float | None) -> str:
    if index is not None and index <= 1.0:
        return ""
    alone = "Never lift it alone; lift" if lifters > 1 else "A second pair of hands makes it easy; lift"
    return f"{alone} close to the body, from a stand at rim height."


@lru_cache(maxsize=512)
def _screen(weight_lb: float, depth_in: float, rim_in: float) -> LiftScreening:
    floor_in = value("practice", "lift/hands-at-floor")
    return screen_lift(
        weight_lb,
        Hands(estimate_reach(depth_in, floor_in), floor_in),
        Hands(estimate_reach(depth_in, rim_in), rim_in),
        outside=(OutsideMethod.RESTRICTED_SPACE, OutsideMethod.SEVERAL_PEOPLE),
    )
