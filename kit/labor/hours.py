"""Hours of each step: driver x rate x factors, from the `do` lines."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from kit.design import Design
from kit.job import Job
from kit.lists import Lists
from kit.money import round_cents, to_decimal
from kit.records import Kind, Line, Task
from kit.steps import Step

__all__ = ["burdened_rate", "estimate_hours", "job_factors", "revalue_hours"]

HOURS_PLACES = 4
FEW_STEPS = 6


def job_factors(job: Job, design: Design) -> tuple[str, ...]:
    """The conditions of this job that have a factor, by their id in the list."""
    found = {
        "occupied": job.site.occupied,
        "upper-floor": job.site.floor > 1,
        "stairs": design.lift.stair_steps > FEW_STEPS,
        "old-stops": job.plumbing.stop_age == "old",
        "glued-counter": job.old.counter_fixing == "glued",
        "tight-access": min(job.site.narrowest_door_in, job.site.narrowest_turn_in) < job.sink.depth_in + 12.0,
        "drain-not-photographed": not job.old.drain_photographed,
    }
    return tuple(name for name, holds in found.items() if holds)


def burdened_rate(wage: Decimal, burden: Decimal) -> Decimal:
    """What an hour of the own crew costs [USD/h]: wage and burden."""
    return round_cents(wage * (1 + burden))


def estimate_hours(job: Job, design: Design, lines: Sequence[Line], lists: Lists) -> tuple[Task, ...]:
    """One task for each step that has `do` lines, in the order of the trade.

    Hours are worker-hours, rounded to four places; duration is hours / crew. The crew is the largest of the step's
    own, its rates' and, where the sink is carried or set, the lift's.
    """
    conditions = job_factors(job, design)
    general = job.terms.hours_factor
    rate_h = burdened_rate(lists.company.wage, to_decimal(lists.company.burden, 6))
    work: dict[Step, list[Line]] = {}
    for line in lines:
        if line.kind is Kind.DO:
            work.setdefault(line.step, []).append(line)
    ordered = sorted((step for step in Step if step in work), key=lambda step: lists.steps[step].order)
    return tuple(_task(design, step, work[step], conditions, general, lists, rate_h) for step in ordered)


def _task(design: Design, step: Step, lines: Sequence[Line], conditions: Sequence[str], general: float | None, lists: Lists, rate_h: Decimal) -> Task:
    row = lists.steps[step]
    factors = [(name, lists.factors[name].times) for name in conditions if name in lists.factors and {str(step), "all"} & set(lists.factors[name].steps)]
    if general is not None:
        factors.append(("hours-factor", general))
    rates = [lists.rates[line.item] for line in lines]
    crew = max(row.crew, *(rate.crew for rate in rates), design.lift.lifters if step in {Step.SET_SINK, Step.RECEIVE} else 1)
    working = " + ".join(f"{line.quantity:.6g} {rate.unit} {line.item} x {rate.likely:g} h" for line, rate in zip(lines, rates, strict=True))
    if factors:
        working = f"({working})" + "".join(f" x {factor:g} {name}" for name, factor in factors)
    blank = Task(
        step=step,
        line_ids=tuple(line.id for line in lines),
        hours_low=0.0,
        hours_likely=0.0,
        hours_high=0.0,
        crew=crew,
        duration_h=0.0,
        trade="crew",
        rate=rate_h,
        amount=round_cents(rate_h * 0),
        factors=tuple(factors),
        basis=working,
        after=tuple(Step(name) for name in row.after or ()),
        wait_h=row.wait,
        clock=row.clock,
    )
    return _valued(blank, lines, lists, {}, rate_h)


def _valued(task: Task, lines: Sequence[Line], lists: Lists, rates: Mapping[str, float], rate_h: Decimal) -> Task:
    """The task with its hours and amount, `rates` standing in for the likely hours and factors of the lists."""
    factors = tuple((name, rates.get(f"factor:{name}", factor)) for name, factor in task.factors)
    times = math.prod(factor for _, factor in factors)
    low, likely, high = (
        _round_hours(
            math.fsum(
                line.quantity * (rates[line.item] if name == "likely" and line.item in rates else getattr(lists.rates[line.item], name)) for line in lines
            )
            * times
        )
        for name in ("low", "likely", "high")
    )
    return replace(
        task,
        hours_low=low,
        hours_likely=likely,
        hours_high=high,
        duration_h=likely / task.crew,
        rate=rate_h,
        amount=round_cents(to_decimal(likely, HOURS_PLACES) * rate_h),
        factors=factors,
    )


def _round_hours(hours: float) -> float:
    """Hours to four places, half up; to twelve first, which takes away the noise of floats, as the sheet does."""
    return float(to_decimal(round(hours, 12), HOURS_PLACES))


def revalue_hours(tasks: Sequence[Task], lines: Sequence[Line], lists: Lists, rates: Mapping[str, float], wage: Decimal, burden: Decimal) -> tuple[Task, ...]:
    """The same work at other hours for one unit (by driver), factors (`factor:<id>`), wage and burden."""
    by_id = {line.id: line for line in lines}
    rate_h = burdened_rate(wage, burden)
    return tuple(_valued(task, [by_id[line_id] for line_id in task.line_ids], lists, rates, rate_h) for task in tasks)
