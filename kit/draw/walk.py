"""A job walked line by line: who travels and why, why each step stands where it does, how its hours and each quantity come about."""

from collections.abc import Iterator

from kit.buying.buy import SHOP_TRIP
from kit.draw.tables import draw_table
from kit.estimate import Estimate
from kit.labor.conditions import holding_conditions
from kit.labor.order import find_leads
from kit.labor.trips import explain_people, explain_wait
from kit.money import format_money
from kit.records import Purchase, Task
from kit.steps import Step

__all__ = ["draw_walk", "explain_hours", "explain_order", "explain_purchase"]

Row = tuple[str, ...]


def draw_walk(estimate: Estimate) -> str:
    """HTML tables of an estimate in the order of the work: trips, steps, takeoff lines, purchases, each with its reason in words."""
    return "".join(
        (
            draw_table("Trips: who travels, and why", ("Trip", "Steps", "Who, and for what", "Waited for before"), _trips(estimate)),
            draw_table("Steps: order and hours", ("Step", "Who", "Why here", "Hours", "How they come about"), _steps(estimate), numbers=(3,)),
            draw_table("Takeoff: each quantity and its working", ("Step", "What", "Quantity", "Working"), _lines(estimate), numbers=(2,)),
            draw_table("Purchases: what each is for", ("What", "From", "Amount", "How it comes about"), _purchases(estimate), numbers=(2,)),
        )
    )


def _trips(estimate: Estimate) -> Iterator[Row]:
    names = estimate.lists.steps
    for number, trip in enumerate(estimate.trips, 1):
        steps = ", ".join(names[step].name.lower() for step in trip.steps)
        yield str(number), steps, explain_people(trip, estimate.lists), explain_wait(trip, estimate.lists) or "the first trip"


def _steps(estimate: Estimate) -> Iterator[Row]:
    rows = estimate.lists.steps
    for task in sorted((*estimate.tasks, *estimate.hired), key=lambda task: rows[task.step].order):
        who = "1 person" if task.crew == 1 else f"{task.crew} people"
        whose = "ours" if task.trade == "crew" else task.trade
        yield rows[task.step].name, f"{who}, {whose}", explain_order(estimate, task), f"{task.hours_likely:.2f}", explain_hours(estimate, task)


def explain_order(estimate: Estimate, task: Task) -> str:
    """What a step comes after, what is waited for then, and the rule of this job where one moves it."""
    if task.step is Step.TRIPS:
        return "before and after each trip"
    rows, tasks = estimate.lists.steps, (*estimate.tasks, *estimate.hired)
    after = {one.step: one.after for one in tasks}
    leads = find_leads(estimate.job, estimate.lines, after, estimate.lists)
    names = estimate.lists.lead_times

    def waits(step: Step) -> str:
        found = [f"{rows[step].wait_h:g} h to wait"] if rows[step].wait_h else []
        found += [names[lead.what].name.lower() for lead in leads.get(step, ()) if lead.hours_likely]
        return f" ({', '.join(found)})" if found else ""

    came = ", ".join(rows[step].name.lower() + waits(step) for step in task.after)
    holds = holding_conditions(estimate.job, estimate.design, estimate.lists)
    rules = [rule.says for rule in estimate.lists.order_rules if rule.rule in holds and rule.step == task.step]
    return "; ".join((f"after {came}" if came else "the first of the job", *rules[-1:]))


def explain_hours(estimate: Estimate, task: Task) -> str:
    """Each line's quantity times its rate, and the factors, by name: 2 dry fits x 0.2 h."""
    lists = estimate.lists
    if task.trade != "crew":
        return task.basis.replace(" each (", " (")
    lines = {line.id: line for line in estimate.lines}
    rated = [(lines[line_id], lists.rates[lines[line_id].item]) for line_id in task.line_ids]
    parts = " + ".join(
        f"{line.quantity:.4g} {'' if rate.unit == 'each' else f'{rate.unit} '}({rate.name.lower()}) x {rate.likely_h:g} h" for line, rate in rated
    )
    factors = [(lists.factors[name].name.lower() if name in lists.factors else "hours factor of the terms", times) for name, times in task.factors]
    return parts if not factors else f"({parts})" + "".join(f" x {times:g} for {name}" for name, times in factors)


def _lines(estimate: Estimate) -> Iterator[Row]:
    lists = estimate.lists
    for line in estimate.lines:
        waste = f"; {line.waste:.0%} waste" if line.waste else ""
        yield lists.steps[line.step].name, lists.name_of(line.item), f"{line.quantity:,.2f} {line.unit}", line.basis + waste


def _purchases(estimate: Estimate) -> Iterator[Row]:
    for one in estimate.purchases:
        yield estimate.lists.name_of(one.item), one.supplier, format_money(one.amount), explain_purchase(estimate, one)


def explain_purchase(estimate: Estimate, purchase: Purchase) -> str:
    """What a purchase is for, and how the need becomes packs; a minimum says what it tops up."""
    if purchase.least is not None:
        return f"at least {format_money(purchase.least)} a job; the rest of the bill falls short by this"
    if purchase.item == SHOP_TRIP:
        shops = dict.fromkeys(one.supplier for one in estimate.purchases if one.packs)
        return f"one trip for each shop: {', '.join(shops)}; at {format_money(purchase.unit_price)}"
    rows, lines = estimate.lists.steps, {line.id: line for line in estimate.lines}
    steps = dict.fromkeys(rows[lines[line_id].step].name.lower() for line_id in purchase.line_ids if line_id in lines)
    needed = f"{purchase.need:,.2f} {purchase.unit} for {', '.join(steps)}"
    if not purchase.packs:
        per = f" for {purchase.pack:g} {purchase.unit}" if purchase.pack != 1 else ""
        return f"{needed}, at {format_money(purchase.unit_price)}{per}"
    how = "by the cut plan" if purchase.plan else "rounded up"
    left = f"; left over: {purchase.left_over}" if purchase.left_over else ""
    return f"{needed}: {purchase.packs} of {purchase.pack:g} {purchase.unit} {how}, at {format_money(purchase.unit_price)}{left}"
