"""What do hired trades do, and for how long? Their hours stand in the calendar; their cost stays in the purchases."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from kit.job import FilledJob
from kit.lists import CounterKind, Hired, Lists
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step

__all__ = ["hire_trades"]

_NOTHING = Decimal(0)


def hire_trades(job: FilledJob, lines: Sequence[Line], purchases: Sequence[Purchase], lists: Lists) -> tuple[Task, ...]:
    """One task for each step in which a hired trade is at work, in the order of the trade.

    Parameters
    ----------
    job
        The job, assumptions filled in.
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
    found: dict[Step, dict[str, Task]] = {}
    for line in lines:
        row = _row_of(line, kind, lists) if line.kind is Kind.HIRE else None
        if row is not None:
            trades = found.setdefault(line.step, {})
            trades[row.trade] = _add(trades.get(row.trade), line, row, rates.get(line.item, _NOTHING), lists)
    ordered = sorted(found, key=lambda step: lists.steps[step].order)
    return tuple(max(found[step].values(), key=lambda task: task.duration_h) for step in ordered)


def _row_of(line: Line, kind: CounterKind | None, lists: Lists) -> Hired | None:
    keys = ((name, step) for name in _names_of(line.item, kind) for step in (line.step, None))
    return next((lists.hired[key] for key in keys if key in lists.hired), None)


def _names_of(item: str, kind: CounterKind | None) -> Iterator[str]:
    """The item, and the columns by which the job's counter names it."""
    yield item
    if kind is not None:
        yield from (column for column in ("trip_item", "area_item") if getattr(kind, column) == item)


def _add(task: Task | None, line: Line, row: Hired, rate: Decimal, lists: Lists) -> Task:
    low, likely, high = (line.quantity * hours for hours in (row.low, row.likely, row.high))
    step = lists.steps[line.step]
    working = f"{line.quantity:.6g} {row.unit} {line.item} x {row.likely:g} h"
    if task is None:
        return Task(
            step=line.step,
            line_ids=(line.id,),
            hours_low=low,
            hours_likely=likely,
            hours_high=high,
            crew=row.crew,
            duration_h=likely / row.crew,
            trade=row.trade,
            rate=rate,
            amount=_NOTHING,
            factors=(),
            basis=working,
            after=(),
            wait_h=step.wait,
            clock=step.clock,
        )
    crew, hours = max(task.crew, row.crew), task.hours_likely + likely
    return replace(
        task,
        line_ids=(*task.line_ids, line.id),
        hours_low=task.hours_low + low,
        hours_likely=hours,
        hours_high=task.hours_high + high,
        crew=crew,
        duration_h=hours / crew,
        rate=rate or task.rate,
        basis=f"{task.basis} + {working}",
    )
