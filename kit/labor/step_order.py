"""In which order are the steps of this job done, and what is waited for between them?

The order is the trade's usual one, changed by the rules whose condition holds. Goods and papers are waited for after ordering, and so
are the inspector and the fabricator; how long, at best and at worst, are rows of `lead_times.csv`.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from functools import cache

from kit.job import FilledJob
from kit.labor.network import bridge_absent
from kit.labor.schedule import Lead
from kit.lists import Lists
from kit.lists.work_rows import LeadTime
from kit.records import Kind, Line
from kit.sources import value
from kit.steps import Step

__all__ = ["DAY_H", "find_leads", "order_of_work", "order_steps"]

DAY_H = 24.0


def order_of_work(lists: Lists, conditions: Collection[str]) -> dict[Step, tuple[Step, ...]]:
    """For every step of the trade, done or not, the steps that must end first under these conditions."""
    after = {step: _steps(row.after or ()) for step, row in lists.steps.items()}
    for rule in lists.order_rules:
        if rule.rule in conditions:
            after[rule.step] = _steps(rule.after)
    return after


@cache
def _steps(names: tuple[str, ...]) -> tuple[Step, ...]:
    return tuple(Step(name) for name in names)


def order_steps(after: Mapping[Step, tuple[Step, ...]], present: Collection[Step], lists: Lists) -> dict[Step, tuple[Step, ...]]:
    """For the steps that this job has, in the order of the trade, those of them that must end first.

    A step that the job doesn't have is replaced by what it waits for itself. The ways between (`TRIPS`) are no step of the order.
    """
    ordered = sorted((step for step in present if step is not Step.TRIPS), key=lambda step: lists.steps[step].order)
    return bridge_absent(after, ordered)


def find_leads(job: FilledJob, lines: Sequence[Line], after: Mapping[Step, Collection[Step]], lists: Lists) -> dict[Step, tuple[Lead, ...]]:
    """The leads after each step, each row of `lead_times.csv` once.

    Parameters
    ----------
    job
        For the hours of a working day.
    lines
        The takeoff: goods, papers and tests are waited for after `order`.
    after
        The steps of this job, and what each of them comes after: the inspector is called for when these are done.
    lists
        `lead_times.csv`.

    Returns
    -------
    Leads after `order`, after what is inspected, cleared of asbestos, coated, cast, laid or grouted, and after `template`, where the job has these steps.
    """
    rows: dict[Step, list[LeadTime]] = {}
    if Step.ORDER in after:
        by_what = {row.what: row for line in lines if (row := _row_of(line, lists))}
        rows[Step.ORDER] = list(by_what.values())
    for visit in (Step.INSPECT, Step.INSPECT_FINAL):
        for step in _last_of(after.get(visit, ()), after):
            rows.setdefault(step, []).append(lists.lead_times["inspection"])
    coated = lists.counters.get(job.counter.item)
    if job.counter.made_by == "us" and coated is not None and coated.finish_item is not None:
        for step in (Step.COAT_BLANK, Step.FIT_TOP, Step.COAT_EDGES):
            if step in after:
                row = lists.lead_times["blank-coats" if step is Step.COAT_BLANK else "coat-dry"]
                rows.setdefault(step, []).append(_times(row, _coats(job, step)))
    firm = "clearance" if any(line.step is Step.ABATE and line.kind is Kind.HIRE for line in lines) else "customer-firm"
    cures = {Step.ABATE: firm, Step.CAST: "curing", **({Step.SET_COUNTER: "bed-sets", Step.GROUT: "grout-cures"} if Step.GROUT in after else {})}
    for step, what in cures.items():
        if step in after:
            rows.setdefault(step, []).append(lists.lead_times[what])
    if Step.TEMPLATE in after:
        names = (job.counter.item, job.counter.material, "fabrication")
        rows.setdefault(Step.TEMPLATE, []).append(next(lists.lead_times[name] for name in names if name in lists.lead_times))
    return {step: tuple(_lead(row, job.site.work_day_h) for row in waited) for step, waited in rows.items()}


def _last_of(steps: Collection[Step], after: Mapping[Step, Collection[Step]]) -> list[Step]:
    """Those of some steps that no other of them comes after: nobody calls the inspector before the rough work is done, and nothing else waits for him."""
    return [step for step in steps if not any(step in after.get(other, ()) for other in steps)]


def _coats(job: FilledJob, step: Step) -> int:
    """Coats that dry after a step: all of the blank; on fresh edges one on the day of the cut, the others at the step that comes back for them."""
    if step is Step.COAT_BLANK:
        return job.counter.finish_coats
    return 1 if step is Step.FIT_TOP else round(value("practice", "front/seal-coats")) - 1


def _times(row: LeadTime, waits: int) -> LeadTime:
    return replace(row, low_days=row.low_days * waits, likely_days=row.likely_days * waits, high_days=row.high_days * waits)


def _row_of(line: Line, lists: Lists) -> LeadTime | None:
    """The row of the line's item; of goods else that of their cost code, else that of goods in general; a firm for asbestos is booked."""
    names: tuple[str, ...] = (line.item,)
    if line.kind is Kind.BUY:
        names = lists.waits_for_goods(line.item, lists.items[line.item].cost_code)
    elif line.kind is Kind.FEE and line.step is Step.ORDER:
        names = (line.item, "permit")
    elif line.step is Step.ABATE:
        names = ("abatement-firm",)
    return next((lists.lead_times[name] for name in names if name in lists.lead_times), None)


def _lead(row: LeadTime, work_day_h: float) -> Lead:
    hours = DAY_H if row.days == "elapsed" else work_day_h
    return Lead(row.what, row.low_days * hours, row.likely_days * hours, row.high_days * hours, row.days)
