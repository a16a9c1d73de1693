"""Hours of each step: driver x rate x factors, from the `do` lines."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from kit.design import Design
from kit.job import FilledJob
from kit.labor.conditions import holding_conditions
from kit.lists import Lists
from kit.money import round_cents, to_decimal
from kit.records import Kind, Line, Task
from kit.steps import Step

__all__ = ["burdened_rate", "estimate_hours", "make_task", "revalue_hours"]

HOURS_PLACES = 4
CARRIED = {Step.SET_SINK, Step.RECEIVE}


def burdened_rate(wage: Decimal, burden: Decimal) -> Decimal:
    """What an hour of the own crew costs [USD/h]: wage and burden."""
    return round_cents(wage * (1 + burden))


def estimate_hours(
    job: FilledJob, design: Design, lines: Sequence[Line], lists: Lists, after: Mapping[Step, tuple[Step, ...]] | None = None
) -> tuple[Task, ...]:
    """One task for each step that has `do` lines, in the order of the trade.

    Hours are worker-hours, rounded to four places; duration is hours / crew. As many people work at a step as the crew has and
    the step has room for, but no fewer than the step, its rates and, where the sink is carried or set, its weight ask for.
    `after` gives what each step comes after.
    """
    conditions = holding_conditions(job, design)
    team = job.terms.crew or lists.company.crew
    work: dict[Step, list[Line]] = {}
    for line in lines:
        if line.kind is Kind.DO:
            work.setdefault(line.step, []).append(line)
    tasks = []
    for step in sorted((step for step in Step if step in work), key=lambda step: lists.steps[step].order):
        row, lifters = lists.steps[step], design.lift.lifters if step in CARRIED else 1
        crew = max(row.crew, lifters, min(team, row.crew_most), *(lists.rates[line.item].crew for line in work[step]))
        tasks.append(make_task(job, step, work[step], lists, crew=crew, conditions=conditions, after=(after or {}).get(step, ())))
    return tuple(tasks)


def make_task(job: FilledJob, step: Step, lines: Sequence[Line], lists: Lists, *, crew: int, conditions: Sequence[str], after: tuple[Step, ...] = ()) -> Task:
    """The task of one step from its `do` lines. A factor for "all" steps holds in the house, not on the ways to it."""
    row, general = lists.steps[step], job.terms.hours_factor
    named = {str(step)} if step is Step.TRIPS else {str(step), "all"}
    factors = [(name, lists.factors[name].times) for name in conditions if name in lists.factors and named & set(lists.factors[name].steps)]
    if general is not None:
        factors.append(("hours-factor", general))
    rates = [lists.rates[line.item] for line in lines]
    working = " + ".join(f"{line.quantity:.6g} {rate.unit} {line.item} x {rate.likely:g} h" for line, rate in zip(lines, rates, strict=True))
    if factors:
        working = f"({working})" + "".join(f" x {factor:g} {name}" for name, factor in factors)
    rate_h = burdened_rate(lists.company.wage, lists.burden_share)
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
        after=after,
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


def revalue_hours(tasks: Sequence[Task], lines: Sequence[Line], lists: Lists, rates: Mapping[str, float], rate_h: Decimal) -> tuple[Task, ...]:
    """The same work at other hours for one unit (by driver), factors (`factor:<id>`) and cost of an hour [USD/h]."""
    by_id = {line.id: line for line in lines}
    return tuple(_valued(task, [by_id[line_id] for line_id in task.line_ids], lists, rates, rate_h) for task in tasks)
