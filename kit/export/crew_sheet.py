"""The sheet for the crew: the work by half days, what to bring, what to watch, cut list and drawings. No prices, nothing of the office."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import groupby
from typing import Any

from kit.draw.drawings import PICTURE_NAMES, list_pictures
from kit.draw.frame_picture import number_members
from kit.draw.marks import number_findings
from kit.estimating import Estimate
from kit.export.lists_used import counted_pieces, goods_name, sold_as
from kit.export.papers import mark_of, paper_head, sentences
from kit.export.proposal_words import assumed_rows
from kit.export.purchase_list import is_received
from kit.export.said_quantities import say_pack, say_quantity
from kit.export.typeset import share_of_width, typeset
from kit.issued import Issued
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import CUSTOMERS, OFF_SITE, OWN, performer_name
from kit.labor.step_order import DAY_H
from kit.lists.work_rows import Rate
from kit.records import CostType, Kind, Line, Purchase, Task
from kit.sources import value
from kit.steps import Step
from kit.takeoff.connect_drain import CENTERS
from kit.takeoff.working import counted
from kit.units import format_day, format_half_day, format_hour, format_length

__all__ = ["crew_sheet_bytes"]

_TEMPLATE = "crew_sheet.typ"
_ALL = "all"
_IN_SHOP = ", in our shop"
_SHOWN = ("set-out", "section", "frame")
_OFFICE = frozenset({Step.VISIT, Step.ORDER, Step.TRIPS})
_OFFICE_FINDINGS = frozenset({"duties/permit", "duties/plumber", "duties/electrician", "duties/deposit", "duties/sales-tax", "prices/age"})
_MEASURE = "Measure each piece in place before you cut. Stock ends are taken as square: trim a rough one first."
_NUMBERED = " Numbers in [brackets] are those in the picture of the frame."
_NO_CUT = " Don't cut to a center-to-center length: measure it with the fittings in hand."
_TIGHT = " Where less than {end} is left over, there is no room for a bad end: pick a stick with two good ends and measure it before you cut."
_KIND = re.compile(r"\d+ (?!.* x )[^\d()]+")  # "2 supply hoses"; what is worked out names no kind
_OPEN = " or "
_COATS = (Step.COAT_BLANK, Step.FIT_TOP, Step.COAT_EDGES)
_DRYING = ("blank-coats", "coat-dry", "bed-sets", "grout-cures")
_TALLEST = 1.2  # of the text's width
_NATURAL = 822.0  # a drawing of so many units is as wide as the text; smaller ones stay smaller, so that all letters are alike


def crew_sheet_bytes(estimate: Estimate, *, schedule: JobSchedule | None = None, issued: Issued | None = None) -> bytes:
    """The sheet as PDF; without a schedule the work stands in its usual order, without days. The same input gives the same bytes."""
    drawings = {name: svg for name, svg in list_pictures(estimate) if name in _SHOWN or name.startswith(f"{_SHOWN[0]}-")}
    return typeset(_TEMPLATE, _document(estimate, schedule, issued, drawings), drawings)


def _document(estimate: Estimate, schedule: JobSchedule | None, issued: Issued | None, drawings: dict[str, str]) -> dict[str, Any]:
    mark, site = mark_of(estimate, issued), estimate.job.site
    closes = "closes tight" if site.main_shutoff_closes else "does not close tight, or nobody tried: count on it failing"
    return {
        **paper_head(
            estimate, mark.day, title=f"Crew sheet {mark.number}", document=f"{mark.number}, {mark.words}", foot=f"Crew sheet {mark.number}, {mark.words}"
        ),
        "company-lines": (),
        "note": estimate.job.identity.note or "",
        "way": f"Floor {site.floor}, {counted(site.stair_steps, 'step', 'steps').text if site.stair_steps else 'no steps'}, "
        f"{site.carry_ft:g} ft from the truck. "
        f"Narrowest door {format_length(site.narrowest_door_in)}, tightest turn {format_length(site.narrowest_turn_in)}.",
        "house": f"Work from {site.start_hour}:00, {site.work_day_h:g} h a day; {'people live in the house' if site.occupied else 'the house is empty'}. "
        f"Main shutoff {closes}.",
        "lift": _lift_words(estimate),
        "old-top": _old_top_words(estimate),
        "cautions": list(sentences(estimate, "crew", _ALL)),
        "findings": (findings := list(_findings(estimate))),
        "gap": any(row["number"] != number for number, row in enumerate(findings, 1)),
        "assumed": [f"{row['what']}: {row['taken']}" for row in assumed_rows(estimate, choices=True)],
        "halves": list(_halves(estimate, schedule)),
        "cuts": (cuts := list(_cuts(estimate))),
        "cut_note": _cut_note(estimate, cuts),
        "pictures": {name: PICTURE_NAMES[name] for name in drawings},
        "drawings": [{"name": name, "share": share_of_width(svg, widest=_NATURAL, tallest=_TALLEST)} for name, svg in drawings.items()],
    }


def _findings(estimate: Estimate) -> Iterator[dict[str, Any]]:
    """What the crew settles, numbered as in the drawings; what is for the office is left out."""
    for number, finding in number_findings(estimate.findings):
        if finding.id not in _OFFICE_FINDINGS:
            yield {"number": number, "level": finding.level.word, "check": finding.check, "measured": finding.measured, "remedy": finding.remedy}


def _lift_words(estimate: Estimate) -> str:
    """Who lifts the sink, by the crew table, and that two lift it easier where the lifting equation says so."""
    lift = estimate.design.lift
    alone = lift.lifters == 1 and any(finding.id == "lift/screening" and finding.margin is not None and finding.margin < 0.0 for finding in estimate.findings)
    machine = "; a machine or cart as well" if lift.mechanical else ""
    return f"{lift.weight_lb:g} lb, {_people(lift.lifters)}{machine}.{' A second person makes it easier.' if alone else ''}"


def _old_top_words(estimate: Estimate) -> str:
    """An old countertop that is heavier than the people who take it off lift by the crew table; "" for a lighter one, or where others do."""
    task = next((task for task in estimate.tasks if task.step is Step.REMOVE_COUNTER), None)
    if task is None:
        return ""
    weight_lb = sum(line.quantity for line in estimate.lines if line.id in task.line_ids and line.unit == "lb")
    can_lb = max((row.up_to_lb for row in estimate.lists.lifters if row.lifters <= task.crew and not row.mechanical), default=0.0)
    if weight_lb <= can_lb:
        return ""
    return f"{weight_lb:.0f} lb in all. Take it apart: no piece above {can_lb:g} lb for {_people(task.crew)}."


def _people(number: int) -> str:
    return counted(number, "person", "people").text


@dataclass(frozen=True, slots=True)
class _Work:
    """What is done at one step: the tasks of our own and hired people, and when it starts and ends, None without a calendar; what dries after it [h]."""

    step: Step
    tasks: tuple[Task, ...]
    start: datetime | None
    finish: datetime | None
    dries_h: float


def _list_work(estimate: Estimate, schedule: JobSchedule | None) -> Iterator[_Work]:
    """The steps at the house or the shop, as on the calendar, else in the usual order; what the office does has no place here."""
    tasks: dict[Step, list[Task]] = {}
    for task in (*estimate.tasks, *estimate.hired):
        tasks.setdefault(task.step, []).append(task)
    order = (
        [row.step for row in sorted(schedule.schedule.steps, key=lambda row: row.start)]
        if schedule
        else sorted(tasks, key=lambda step: estimate.lists.steps[step].order)
    )
    drying = {estimate.lists.lead_times[name].what for name in _DRYING}
    for step in order:
        if step in tasks and step not in _OFFICE:
            row = schedule.schedule.find(step) if schedule else None
            dries_h = sum(lead.hours_likely for lead in schedule.plan.leads.get(step, ()) if lead.what in drying) if schedule else 0.0
            yield _Work(step, tuple(tasks[step]), row.start if row else None, row.finish if row else None, dries_h)


def _half(work: _Work) -> str:
    """The half day in which a step starts."""
    if work.start is None:
        return "In this order"
    return format_half_day(work.start, beside=work.start.date())


def _from_hour(work: _Work, all_works: Sequence[_Work], usual: int) -> str:
    """From which hour people come, where the work of a day starts later than usual and nothing goes on from the day before."""
    if work.start is None or work.start.hour <= usual:
        return ""
    day = work.start.date()
    before = any(one.start and one.finish and one.start < work.start and one.finish.date() >= day for one in all_works)
    return "" if before else f", from {format_hour(work.start)}"


def _halves(estimate: Estimate, schedule: JobSchedule | None) -> Iterator[dict[str, Any]]:
    """The work by half days: who is there, what to bring, which tools, and each step; where a day starts later than usual, from which hour."""
    all_works = list(_list_work(estimate, schedule))
    numbers = {work.step: number for number, work in enumerate(all_works, start=1)}
    goods = _goods(estimate, list(numbers))
    for when, group in groupby(all_works, _half):
        works = list(group)
        own = max((task.crew for work in works for task in work.tasks if task.trade == OWN), default=0)
        hired = dict.fromkeys(performer_name(task.trade) for work in works for task in work.tasks if task.trade != OWN)
        tools = dict.fromkeys(tool for work in works for tool in estimate.lists.steps[work.step].tools.split(", ") if tool)
        yield {
            "when": when + _from_hour(works[0], all_works, estimate.job.site.start_hour),
            "who": ", ".join(([_people(own)] if own else []) + list(hired)) + (_IN_SHOP if all(work.step in OFF_SITE for work in works) else ""),
            "bring": [good for work in works for good in goods.get(work.step, [])],
            "tools": ", ".join(tools),
            "steps": [_step(estimate, work, numbers) for work in works],
        }


def _step(estimate: Estimate, work: _Work, numbers: Mapping[Step, int]) -> dict[str, Any]:
    lines = [line for line in estimate.lines if line.step is work.step and line.kind is Kind.DO]
    return {
        "number": numbers[work.step],
        "label": estimate.step_names[work.step],
        "who": "; ".join(_who(task) for task in work.tasks) + (_IN_SHOP if work.step in OFF_SITE else "") + _ends_later(work),
        "work": [_work_words(estimate.lists.rates[line.item], line) for line in lines],
        "cautions": list(sentences(estimate, "crew", work.step)),
        "wait": _wait(estimate, work, numbers),
    }


def _work_words(rate: Rate, line: Line) -> str:
    """How much of a work is done; what its words leave open, such as "hoses, traps or tubes", by kind: "2 supply hoses, 1 trap"."""
    says, kinds = rate.count_words(line.quantity), line.basis.split(" + ")
    return f"{says}: {', '.join(kinds)}" if _OPEN in rate.says and all(_KIND.fullmatch(kind) for kind in kinds) else says


def _ends_later(work: _Work) -> str:
    """The day on which a step ends that is begun on an earlier one, so that sheet and proposal have one day for it."""
    if work.start is None or work.finish is None or work.finish.date() == work.start.date():
        return ""
    return f"; done {format_day(work.finish.date(), beside=work.start.date())}"


def _wait(estimate: Estimate, work: _Work, numbers: Mapping[Step, int]) -> str:
    """How long to wait after a step and what may not happen before, "" where no step hangs on it: in a plain swap nobody waits for the bead."""
    waiting = [numbers[task.step] for task in (*estimate.tasks, *estimate.hired) if work.step in task.after and task.step in numbers]
    first = work.tasks[0]
    if not waiting or not (first.wait_h or work.dries_h):
        return ""
    before = next(sentences(estimate, "wait", work.step), f"before step {min(waiting)}")
    if first.wait_h:
        return f"Wait {_elapsed(first.wait_h) if first.clock == 'elapsed' else f'{first.wait_h:g} working h'} {before}."
    each = ", each coat before the next" if work.step is Step.COAT_BLANK and estimate.job.counter.finish_coats > 1 else ""
    return f"{'Let it dry' if work.step in _COATS else 'Wait'} {_elapsed(work.dries_h)} {before}{each}."


def _elapsed(hours: float) -> str:
    days, rest = divmod(hours, DAY_H)
    return f"{days:g} days" if days > 1 and not rest else f"{hours:g} h"


def _who(task: Task) -> str:
    """People and time on the clock, to the quarter of an hour: "2 people, 3/4 h"; of hired people after their name, of the customer's firm only that."""
    if task.trade == CUSTOMERS:
        return f"by the {CUSTOMERS}"
    who = "" if task.trade == OWN else f"{performer_name(task.trade)}: "
    quarters = max(1, round(task.duration_h * 4.0))
    whole, rest = divmod(quarters, 4)
    part = ("", " 1/4", " 1/2", " 3/4")[rest]
    return f"{who}{_people(task.crew)}, {f'{whole}{part}' if whole else part.strip()} h"


def _goods(estimate: Estimate, steps: Sequence[Step]) -> dict[Step, list[str]]:
    """Goods by the first of these steps that needs them: number, what, how it is sold; those that only the office needs come with the first.

    What comes with the goods that are received is needed there, whenever it is fitted: as on the purchase list.
    """
    lines, order = {line.id: line for line in estimate.lines}, {step: number for number, step in enumerate(steps)}
    goods: dict[Step, list[str]] = {}
    for purchase in estimate.purchases:
        if steps and (purchase.packs or _is_rented(estimate, purchase)):
            bought = [lines[line_id] for line_id in purchase.line_ids]
            received = [Step.RECEIVE] if is_received(estimate, purchase.item, bought) else []
            needed = [step for step in (*(line.step for line in bought), *received) if step in order]
            goods.setdefault(min(needed, key=lambda step: order[step], default=steps[0]), []).append(_good(estimate, purchase))
    return goods


def _good(estimate: Estimate, purchase: Purchase) -> str:
    name = goods_name(estimate, purchase.item)
    count, measure = say_quantity(Decimal(purchase.packs or purchase.charged), say_pack(name, sold_as(estimate, purchase)))
    return f"{f'({count}) ' if count else ''}{name}{f', {measure}' if measure else ''}"


def _is_rented(estimate: Estimate, purchase: Purchase) -> bool:
    """Gear that is lent for the job; what the company charges itself, such as a trip to a shop, is none."""
    return estimate.lists.item(purchase.item).cost_type is CostType.OTHER and purchase.supplier != estimate.lists.company.name


def _cut_note(estimate: Estimate, cuts: Sequence[Mapping[str, str]]) -> str:
    """What holds for the cut list of this job: numbers of a frame, sizes between centers, sticks that come out even."""
    bad_end_in = value("practice", "cut/bad-end")
    notes = (
        (_NUMBERED, bool(number_members(estimate))),
        (_NO_CUT, any(CENTERS in row["pieces"] for row in cuts)),
        (_TIGHT.format(end=format_length(bad_end_in)), _is_tight(estimate, bad_end_in)),
    )
    return _MEASURE + "".join(words for words, holds in notes if holds)


def _is_tight(estimate: Estimate, bad_end_in: float) -> bool:
    """Whether a stick that several pieces come out of has less left over than a bad end takes."""
    return any(
        part.left_over_in is not None and part.left_over_in < bad_end_in and len(part.placed) > 1 for purchase in estimate.purchases for part in purchase.plan
    )


def _cuts(estimate: Estimate) -> Iterator[dict[str, Any]]:
    """The cut list stick by stick, sticks that are cut alike counted together."""
    numbers = number_members(estimate)
    for purchase in estimate.purchases:
        for (pieces, left_over), alike in Counter((counted_pieces(part, numbers), part.left_over) for part in purchase.plan).items():
            yield {
                "what": (name := estimate.lists.item(purchase.item).name),
                "stock": say_pack(name, sold_as(estimate, purchase)),
                "count": str(alike),
                "pieces": pieces,
                "left": left_over,
            }
