"""How long does each step take? Our people: driver x rate x factors, from the `do` lines. Hired trades: from the `hire` lines.

Hours of hired trades stand in the calendar only; what they cost stays in the purchases.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from kit.design.design import Design
from kit.design.lift import lifter_row
from kit.job import FilledJob
from kit.labor.schedule import OFF_SITE, OWN
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind
from kit.lists.work_rows import Hired
from kit.money import CHARGED_PLACES, NOISE_PLACES, round_cents, to_decimal
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step
from kit.units import format_worked

__all__ = ["estimate_hours", "factor_name", "hire_trades", "make_task", "revalue_hours"]

HOURS_PLACES = CHARGED_PLACES
OUTSIDE = {*OFF_SITE, Step.TRIPS}  # desk, shop and ways


def estimate_hours(
    job: FilledJob, design: Design, lines: Sequence[Line], lists: Lists, rate_h: Decimal, *, conditions: Sequence[str], after: Mapping[Step, tuple[Step, ...]]
) -> tuple[Task, ...]:
    """One task for each step that has `do` lines, in the order of `after`.

    Hours are worker-hours, rounded to four places; duration is hours / crew. The crew are the fewest people that the step, its rates and,
    where the sink is carried or set, its weight ask for; more of them work at it where more travel (`kit.labor.trips.staff_trips`).
    `rate_h` is what an hour of our people costs [USD/h], `conditions` are those of `holding_conditions`, `after` gives what each step
    comes after.
    """
    work: dict[Step, list[Line]] = {}
    for line in lines:
        if line.kind is Kind.DO:
            work.setdefault(line.step, []).append(line)
    tasks = []
    for step in (step for step in after if step in work):
        row, lifters = lists.steps[step], _lifters(step, job, design, lists)
        crew = max(row.crew, lifters, *(lists.rates[line.item].crew for line in work[step]))
        tasks.append(make_task(job, step, work[step], lists, rate_h, crew=crew, conditions=conditions, after=after[step]))
    return tuple(tasks)


def _lifters(step: Step, job: FilledJob, design: Design, lists: Lists) -> int:
    """The people that the heaviest single thing of a step asks for by the crew table; a weight beyond it takes the table's last row."""
    if step is Step.REMOVE_SINK:
        return lifter_row(job.old.sink_weight_lb, lists).lifters
    if step in {Step.SET_SINK, Step.HANG_SINK}:
        return design.lift.lifters
    if step is not Step.RECEIVE:
        return 1
    blanks = job.counter.made_by == "us" and job.scope.counter.renewed and not design.setting.laid_in_place
    return max(design.lift.lifters, 1 + (blanks or job.scope.dishwasher.renewed))


def make_task(
    job: FilledJob, step: Step, lines: Sequence[Line], lists: Lists, rate_h: Decimal, *, crew: int, conditions: Sequence[str], after: tuple[Step, ...] = ()
) -> Task:
    """The task of one step from its `do` lines. A factor for "all" steps holds in the house, not at the desk or on the ways to it."""
    row, general = lists.steps[step], job.terms.hours_factor
    named = {str(step)} if step in OUTSIDE else {str(step), "all"}
    factors = [(name, lists.factors[name].times) for name in conditions if name in lists.factors and not named.isdisjoint(lists.factors[name].steps)]
    if general is not None:
        factors.append(("hours-factor", general))
    low, likely, high = _hours(lines, factors, lists, {})
    return Task(
        step=step,
        line_ids=tuple(line.id for line in lines),
        hours_low=low,
        hours_likely=likely,
        hours_high=high,
        crew=crew,
        duration_h=likely / crew,
        trade=OWN,
        rate=rate_h,
        amount=_amount(likely, rate_h),
        factors=tuple(factors),
        basis=_working(lines, factors, lists, {}),
        after=after,
        wait_h=row.wait_h,
        clock=row.clock,
    )


def factor_name(lists: Lists, name: str) -> str:
    """What a factor on hours is called; that of the job's terms is in no list."""
    return lists.factors[name].name if name in lists.factors else "all hours of this job"


def _unit_words(unit: str) -> str:
    """The unit behind a quantity; what is counted has none."""
    return "" if unit == "each" else f" {unit}"


def _working(lines: Sequence[Line], factors: Sequence[tuple[str, float]], lists: Lists, rates: Mapping[str, float]) -> str:
    """How the likely hours are counted, in words; parameters as `_hours`."""
    work = [(line.quantity, lists.rates[line.item]) for line in lines]
    working = " + ".join(
        f"{format_worked(quantity)}{_unit_words(rate.unit)} ({rate.name.lower()}) x {rates.get(rate.driver, rate.likely_h):g} h" for quantity, rate in work
    )
    if not factors:
        return working
    return f"({working})" + "".join(f" x {factor:g} ({factor_name(lists, name).lower()})" for name, factor in factors)


def _hours(lines: Sequence[Line], factors: Sequence[tuple[str, float]], lists: Lists, rates: Mapping[str, float]) -> tuple[float, float, float]:
    """Low, likely and high hours of some lines [h], `rates` standing in for the likely hours of the lists."""
    times = math.prod([factor for _, factor in factors])
    work = [(line.quantity, lists.rates[line.item]) for line in lines]
    low = math.fsum([quantity * rate.low_h for quantity, rate in work])
    likely = math.fsum([quantity * rates.get(rate.driver, rate.likely_h) for quantity, rate in work])
    high = math.fsum([quantity * rate.high_h for quantity, rate in work])
    return _round_hours(low * times), _round_hours(likely * times), _round_hours(high * times)


def _amount(hours: float, rate_h: Decimal) -> Decimal:
    return round_cents(to_decimal(hours, HOURS_PLACES) * rate_h)


def _round_hours(hours: float) -> float:
    """Hours to four places, half up, the noise of floats taken away first."""
    return float(to_decimal(round(hours, NOISE_PLACES), HOURS_PLACES))


def revalue_hours(tasks: Sequence[Task], lines: Sequence[Line], lists: Lists, rates: Mapping[str, float], rate_h: Decimal) -> tuple[Task, ...]:
    """The same work at other hours for one unit (by driver), factors (`factor:<id>`) and cost of an hour [USD/h]."""
    by_id = {line.id: line for line in lines}
    return tuple(_revalued(task, [by_id[line_id] for line_id in task.line_ids], lists, rates, rate_h) for task in tasks)


def _revalued(task: Task, lines: Sequence[Line], lists: Lists, rates: Mapping[str, float], rate_h: Decimal) -> Task:
    factors = tuple((name, rates.get(f"factor:{name}", factor)) for name, factor in task.factors)
    low, likely, high = _hours(lines, factors, lists, rates)
    duration_h, amount, basis = likely / task.crew, _amount(likely, rate_h), _working(lines, factors, lists, rates)
    hours = replace(task, hours_low=low, hours_likely=likely, hours_high=high, duration_h=duration_h, factors=factors, basis=basis)
    return replace(hours, rate=rate_h, amount=amount)


def hire_trades(job: FilledJob, design: Design, lines: Sequence[Line], purchases: Sequence[Purchase], lists: Lists) -> dict[Step, Task]:
    """One task for each step in which a hired trade is at work.

    Parameters
    ----------
    job
        The job, assumptions filled in.
    design
        For the people that the sink's weight asks for, where a trade sets it: no fewer of the trade's own come.
    lines
        The takeoff; of each `hire` line the hours follow from `hired.csv`. Items that it doesn't name are prices without time.
    purchases
        For the rate [USD/h] of what is hired by the hour, for show: 0 where the price is for something else.
    lists
        `hired.csv`, and `counters.csv` for what the fabricator's items stand for.

    Returns
    -------
    Tasks whose amount is 0, as purchases already hold what they cost. Where two trades share a step, they work at the same time:
    the task names the one that takes longer.
    """
    kind = lists.counters.get(job.counter.item)
    rates = {purchase.item: purchase.unit_price for purchase in purchases if purchase.unit == "h"}
    work: dict[Step, dict[str, list[tuple[Line, Hired]]]] = {}
    for line in lines:
        row = _row_of(line, kind, lists) if line.kind is Kind.HIRE else None
        if row is not None:
            work.setdefault(line.step, {}).setdefault(row.trade, []).append((line, row))
    lifters = design.lift.lifters if job.scope.sink.installed_by == "trade" else 1
    least = {Step.SET_SINK: lifters, Step.HANG_SINK: lifters}
    return {
        step: max((_hired_task(trade_work, rates, lists, least.get(step, 1)) for trade_work in trades.values()), key=lambda task: task.duration_h)
        for step, trades in work.items()
    }


def _row_of(line: Line, kind: CounterKind | None, lists: Lists) -> Hired | None:
    keys = ((name, step) for name in _names_of(line.item, kind) for step in (line.step, None))
    return next((lists.hired[key] for key in keys if key in lists.hired), None)


def _names_of(item: str, kind: CounterKind | None) -> Iterator[str]:
    """The item, and the columns by which the job's counter names it."""
    yield item
    if kind is not None:
        yield from (column for column in ("trip_item", "area_item", "cast_item", "backer_item", "grout_item") if getattr(kind, column) == item)


def _hired_task(work: Sequence[tuple[Line, Hired]], rates: Mapping[str, Decimal], lists: Lists, least: int) -> Task:
    """The task of one trade in one step, from its lines and their rows, by at least so many people."""
    (line, row), crew = work[0], max(least, *(row.crew for _, row in work))
    low, likely, high = (sum(line.quantity * getattr(row, name) for line, row in work) for name in ("low_h", "likely_h", "high_h"))
    return Task(
        step=line.step,
        line_ids=tuple(line.id for line, _ in work),
        hours_low=low,
        hours_likely=likely,
        hours_high=high,
        crew=crew,
        duration_h=likely / crew,
        trade=row.trade,
        rate=next((rate for line, _ in reversed(work) if (rate := rates.get(line.item))), Decimal(0)),
        amount=Decimal(0),
        factors=(),
        basis=" + ".join(
            f"{format_worked(line.quantity)}{_unit_words(row.unit)} ({lists.name_of(line.item).lower()}) x {row.likely_h:g} h" for line, row in work
        )
        + (f", by {crew} of their people, because of the sink's weight" if least > 1 else ""),
        after=(),
        wait_h=lists.steps[line.step].wait_h,
        clock=lists.steps[line.step].clock,
    )
