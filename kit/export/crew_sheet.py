"""The sheet for the crew: steps with days, hours and people, what to bring, what to watch, cut list and drawings. No prices."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

from kit.draw.drawings import PICTURE_NAMES, list_drawings
from kit.draw.frame_picture import number_members
from kit.draw.marks import number_findings
from kit.estimate import Estimate
from kit.export.lists_used import counted_pieces, sold_as
from kit.export.papers import mark_of, paper_head, sentences, short_day
from kit.export.proposal_words import assumed_rows
from kit.export.typeset import share_of_width, typeset
from kit.issued import Issued
from kit.labor.calendar import to_minute
from kit.labor.job_schedule import JobSchedule
from kit.labor.trips import explain_trip
from kit.records import Kind, Purchase, Task
from kit.steps import Step
from kit.units import format_length

__all__ = ["crew_sheet_bytes"]

_TEMPLATE = "crew_sheet.typ"
_ALL = "all"
_TALLEST = 1.2  # of the text's width
_NATURAL = 836.0  # a drawing of so many units is as wide as the text; smaller ones stay smaller, so that all letters are alike


def crew_sheet_bytes(estimate: Estimate, *, schedule: JobSchedule | None = None, issued: Issued | None = None) -> bytes:
    """The sheet as PDF; without a schedule steps stand without days. The same input gives the same bytes."""
    drawings = dict(list_drawings(estimate))
    return typeset(_TEMPLATE, _document(estimate, schedule, issued, drawings), drawings)


def _document(estimate: Estimate, schedule: JobSchedule | None, issued: Issued | None, drawings: dict[str, str]) -> dict[str, Any]:
    mark, lift = mark_of(estimate, issued), estimate.design.lift
    machine = "; a machine or cart as well" if lift.mechanical else ""
    return {
        **paper_head(
            estimate, mark.day, title=f"Crew sheet {mark.number}", document=f"{mark.number}, {mark.words}", foot=f"Crew sheet {mark.number}, {mark.words}"
        ),
        "company-lines": (),
        "note": estimate.job.identity.note or "",
        "site": _site(estimate),
        "lift": f"{lift.weight_lb:g} lb, {lift.lifters} {'person' if lift.lifters == 1 else 'people'}{machine}. {lift.says[:1].upper()}{lift.says[1:]}",
        "hours": f"{estimate.hours:.2f}",
        "cautions": list(sentences(estimate, "crew", _ALL)),
        "findings": [
            {
                "number": number,
                "level": finding.level.word,
                "check": finding.check,
                "measured": finding.measured,
                "limit": finding.limit,
                "remedy": finding.remedy,
            }
            for number, finding in number_findings(estimate.findings)
        ],
        "assumed": [f"{row['what']}: {row['taken']}" for row in assumed_rows(estimate, choices=True)],
        "trips": [f"{estimate.lists.steps[trip.first].name}: {explain_trip(trip, estimate.lists)}" for trip in estimate.trips],
        "steps": list(_steps(estimate, schedule)),
        "cuts": list(_cuts(estimate)),
        "pictures": {name: PICTURE_NAMES.get(name, f"Cut plan {name.removeprefix('cut-')}") for name in drawings},
        "drawings": [{"name": name, "share": share_of_width(svg, widest=_NATURAL, tallest=_TALLEST)} for name, svg in drawings.items()],
    }


def _site(estimate: Estimate) -> list[str]:
    site = estimate.job.site
    closes = "closes tight" if site.main_shutoff_closes else "does not close tight, or nobody tried: take it as failing"
    return [
        f"Storey {site.floor}, {site.stair_steps} steps, {site.carry_ft:g} ft from the truck",
        f"Narrowest door {format_length(site.narrowest_door_in)}, narrowest turn {format_length(site.narrowest_turn_in)}",
        f"Work is allowed {site.work_day_h:g} h a day, from {site.start_hour}:00; {'people live in the house' if site.occupied else 'the house is empty'}",
        f"Main valve {closes}",
    ]


def _steps(estimate: Estimate, schedule: JobSchedule | None) -> Iterator[dict[str, Any]]:
    """Own and hired steps as on the calendar, else in the usual order; the ways between them have no place in it."""
    tasks: dict[Step, list[Task]] = {}
    for task in (*estimate.tasks, *estimate.hired):
        tasks.setdefault(task.step, []).append(task)
    order = [row.step for row in schedule.schedule.steps] if schedule else sorted(tasks, key=lambda step: estimate.lists.steps[step].order)
    goods = _goods(estimate)
    for step in order:
        if step is Step.TRIPS or step not in tasks:
            continue
        row = schedule.schedule.find(step) if schedule else None
        wait = tasks[step][0].wait_h
        yield {
            "label": estimate.lists.steps[step].name,
            "when": f"{short_day(row.start.date())}, {to_minute(row.start):%H:%M}" if row else "",
            "who": [_who(task) for task in tasks[step]],
            "work": [estimate.lists.rates[line.item].count_words(line.quantity) for line in estimate.lines if line.step is step and line.kind is Kind.DO],
            "bring": goods.get(step, []),
            "tools": estimate.lists.steps[step].tools,
            "cautions": list(sentences(estimate, "crew", step)),
            "wait": f"Then wait {wait:g} {'h' if tasks[step][0].clock == 'elapsed' else 'working h'}." if wait else "",
        }


def _who(task: Task) -> str:
    who = "own" if task.trade == "crew" else task.trade
    return f"{task.hours_likely:.2f} h {who}, {task.crew} {'person' if task.crew == 1 else 'people'}"


def _goods(estimate: Estimate) -> dict[Step, list[str]]:
    """Goods by the first step that needs them: number, what, how it is sold."""
    lines, steps = {line.id: line for line in estimate.lines}, estimate.lists.steps
    found: dict[Step, list[str]] = {}
    for purchase in estimate.purchases:
        if purchase.packs:
            first = min((lines[line_id].step for line_id in purchase.line_ids), key=lambda step: steps[step].order)
            found.setdefault(first, []).append(_good(estimate, purchase))
    return found


def _good(estimate: Estimate, purchase: Purchase) -> str:
    name, pack = estimate.lists.item(purchase.item).name, sold_as(estimate, purchase)
    return f"{purchase.packs} x {name}" if pack == "each" else f"{purchase.packs} x {name}, {pack}"


def _cuts(estimate: Estimate) -> Iterator[dict[str, Any]]:
    """The cut list stick by stick, sticks that are cut alike counted together."""
    numbers = number_members(estimate)
    for purchase in estimate.purchases:
        for (pieces, left_over), count in Counter((counted_pieces(part, "x", numbers), part.left_over) for part in purchase.plan).items():
            yield {
                "what": estimate.lists.item(purchase.item).name,
                "stock": sold_as(estimate, purchase),
                "count": str(count),
                "pieces": pieces,
                "left": left_over,
            }
