"""A job walked trip by trip: who comes and why, each step with its reason and hours, each quantity with its working, what each purchase is for."""

from collections.abc import Collection, Iterator, Mapping
from html import escape
from itertools import groupby

from kit.buying.buy import SHOP_TRIP
from kit.buying.price_ages import price_row_of
from kit.draw.tables import draw_table
from kit.estimating import Estimate
from kit.labor.clock import last_day
from kit.labor.conditions import holding_conditions
from kit.labor.hours import factor_name
from kit.labor.schedule import CUSTOMERS, OFF_SITE, OWN, performer_name
from kit.labor.step_order import find_leads
from kit.labor.trips import explain_people, explain_wait
from kit.money import format_money
from kit.outlook import plan_schedule
from kit.records import Kind, Line, Purchase, Task
from kit.steps import Step
from kit.takeoff.working import working_words
from kit.units import format_days, format_long_day, whole_pieces

__all__ = ["draw_walk", "explain_line", "explain_order", "explain_purchase"]

Row = tuple[str, ...]
_PER = {"each": "each", "hour": "an hour", "lb": "a lb", "ft": "a ft", "sq ft": "a sq ft"}
_OFFICE = "At the desk and in our shop"


def draw_walk(estimate: Estimate) -> str:
    """HTML of an estimate in the order of its calendar: an opening, each trip with its steps and their lines, the ways between, then the purchases in a table.

    It looks like the screens where their style sheet is on the page (`kit.draw.style.STYLE`).

    Raises KitError as `kit.outlook.plan_schedule`.
    """
    table = draw_table("Purchases: what each is for", ("What", "From", "Amount", "How it comes about"), _purchases(estimate), numbers=(2,))
    return f"<div class='sk-screen'><p>{escape(_opening(estimate))}</p>{''.join(_sections(estimate))}{table}</div>"


def _opening(estimate: Estimate) -> str:
    schedule = plan_schedule(estimate)
    hired = f", and {schedule.hired_hours:.1f} h of hired trades" if schedule.hired_hours else ""
    days = schedule.days_without_sink
    without = "" if days is None else f" The kitchen is without a sink for {format_days(days)}."
    extra = f", {estimate.job.terms.extra_trips} of them extra" if estimate.job.terms.extra_trips else ""
    trips = f"{schedule.trips_priced} trips{extra}" if schedule.trips_priced > 1 else "one trip"
    return (
        f"{format_money(estimate.price)} for {schedule.own_hours:.1f} h of our own people in {trips}{hired}.{without} "
        f"If the customer signs as expected, the work is complete on {format_long_day(last_day(schedule.finish))}."
    )


def _sections(estimate: Estimate) -> Iterator[str]:
    """One for each trip, and one for what is done without us or before we come."""
    tasks: dict[Step, list[Task]] = {}
    for task in (*estimate.tasks, *estimate.hired):
        tasks.setdefault(task.step, []).append(task)
    steps = [row.step for row in plan_schedule(estimate).schedule.steps]
    seen: set[str] = set()
    for heading, together in groupby(steps, lambda step: _heading(estimate, step, tasks[step])):
        again = f"{heading.partition(':')[0]}, continued" if heading in seen and heading.startswith("Trip") else heading
        seen.add(heading)
        yield f"<h4>{escape(again)}</h4><ul>{''.join(_step(estimate, step, tasks[step]) for step in together)}</ul>"
    if Step.TRIPS in tasks:
        yield f"<h4>{escape('Before and after each trip')}</h4><ul>{_step(estimate, Step.TRIPS, tasks[Step.TRIPS])}</ul>"


def _heading(estimate: Estimate, step: Step, tasks: list[Task]) -> str:
    for number, trip in enumerate(estimate.trips, 1):
        if step in trip.steps:
            waited = explain_wait(trip, estimate.step_names, estimate.lists)
            return f"Trip {number}: {explain_people(trip, estimate.step_names)}{f'. Waited for: {waited}' if waited else ''}"
    return _OFFICE if step in OFF_SITE else f"Without us: the {performer_name(tasks[0].trade)}"


def _step(estimate: Estimate, step: Step, tasks: list[Task]) -> str:
    """A step with who does it, its hours and why it stands here; below it every line that it takes."""
    who = "; ".join(_who(estimate, task) for task in tasks)
    order = explain_order(estimate, tasks[0])
    lines = "".join(f"<li>{escape(explain_line(estimate, line))}</li>" for line in estimate.lines if line.step is step)
    sentence = f"{who}. {order[:1].upper()}{order[1:]}."
    return f"<li><b>{escape(estimate.step_names[step])}</b>: {escape(sentence)}<ul>{lines}</ul></li>"


def _who(estimate: Estimate, task: Task) -> str:
    """People, hours of work with the factors in them, and how long they are there together; of a firm that is not ours nobody counts them."""
    if task.trade == CUSTOMERS:
        return f"The {CUSTOMERS}: no hour and no price of ours"
    factors = "".join(f", x {times:g} for {factor_name(estimate.lists, name).lower()}" for name, times in task.factors)
    people = "1 person" if task.crew == 1 else f"{task.crew} people"
    together = "" if task.crew == 1 else f", {task.duration_h:.1f} h on the clock"
    return f"{people}{'' if task.trade == OWN else f' from the {performer_name(task.trade)}'}, {task.hours_likely:.2f} h of work{together}{factors}"


def explain_line(estimate: Estimate, line: Line) -> str:
    """A line as a tradesperson reads it: what is done and how long it takes, or what it takes; then how it was counted."""
    lists = estimate.lists
    if line.kind is Kind.DO:
        rate = lists.rates[line.item]
        per = "each" if rate.unit == "each" else f"a {rate.unit}"
        counted = rate.count_words(line.quantity) if rate.unit == "each" else f"{line.quantity:,.4g} {rate.unit} {rate.says}"
        sentence = counted if rate.unit == "h" else f"{counted}: {line.quantity * rate.likely_h:.2f} h at {rate.likely_h:g} h {per}"
    else:
        waste = f" and {line.waste:.0%} waste" if line.waste else ""
        if line.unit == "each":
            whole = "" if line.quantity.is_integer() else f"{whole_pieces(line.need):,}, from "
            sentence = f"{lists.name_of(line.item)}: {whole}{line.quantity:,.4g}{waste}"
        else:
            sentence = f"{lists.name_of(line.item)}: {line.quantity:,.4g} {line.unit}{waste}"
    return f"{sentence}. Counted: {working_words(line.basis)}."


def explain_order(estimate: Estimate, task: Task) -> str:
    """What a step comes after, the last steps alone, what is waited for then, and the rule of this job where one moves it."""
    if task.step is Step.TRIPS:
        return "before and after each trip"
    rows, tasks = estimate.lists.steps, (*estimate.tasks, *estimate.hired)
    after = {one.step: one.after for one in tasks}
    leads = find_leads(estimate.job, estimate.lines, after, estimate.lists)
    names = estimate.lists.lead_times

    def waits(step: Step) -> str:
        reasons = [f"{rows[step].wait_h:g} h to wait"] if rows[step].wait_h else []
        reasons += [names[lead.what].name.lower() for lead in leads.get(step, ()) if lead.hours_likely and last_with[lead.what] is step]
        return f" ({'; '.join(reasons)})" if reasons else ""

    last = [step for step in task.after if not any(step in _all_before(other, after) for other in task.after)]
    last_with = {lead.what: step for step in last for lead in leads.get(step, ())}  # what is waited for after several is said once
    came = ", ".join(f'"{estimate.step_names[step]}"{waits(step)}' for step in last)
    holds = holding_conditions(estimate.job, estimate.design, estimate.lists)
    rules = [rule.says for rule in estimate.lists.order_rules if rule.rule in holds and rule.step == task.step]
    return "; ".join((f"after {came}" if came else "the first of the job", *rules[-1:]))


def _all_before(step: Step, after: Mapping[Step, Collection[Step]]) -> set[Step]:
    """Every step that must have ended before a step begins, near or far."""
    earlier: set[Step] = set()
    left = [*after.get(step, ())]
    while left:
        one = left.pop()
        if one not in earlier:
            earlier.add(one)
            left += after.get(one, ())
    return earlier


def _purchases(estimate: Estimate) -> Iterator[Row]:
    for one in estimate.purchases:
        yield estimate.lists.name_of(one.item), one.supplier, format_money(one.amount), explain_purchase(estimate, one)


def _figure(value: float) -> str:
    return f"{value:,.2f}".rstrip("0").rstrip(".")


def explain_purchase(estimate: Estimate, purchase: Purchase) -> str:
    """What a purchase is for, and how the need becomes packs; a minimum says what it tops up."""
    if purchase.least is not None:
        return f"at least {format_money(purchase.least)} a job; the rest of the bill falls short by this"
    if purchase.item == SHOP_TRIP:
        shops = dict.fromkeys(one.supplier for one in estimate.purchases if one.packs)
        return f"one trip for each shop: {', '.join(shops)}; at {format_money(purchase.unit_price)}"
    lines = {line.id: line for line in estimate.lines}
    steps = dict.fromkeys(f'"{estimate.step_names[lines[line_id].step]}"' for line_id in purchase.line_ids if line_id in lines)
    unit = "" if purchase.unit == "each" else f" {purchase.unit}"
    row = price_row_of(purchase, estimate.lists)
    sold = row.sold_as if row is not None else purchase.unit
    if row is not None and sold == row.currency:  # a fee that is its own price
        return f"{format_money(purchase.amount)} for {', '.join(steps)}"
    needed = f"{_figure(purchase.need) if unit else whole_pieces(purchase.need)}{unit} for {', '.join(steps)}"
    if not purchase.packs:
        return f"{needed}, at {format_money(purchase.unit_price)} {_PER.get(sold) or f'for {sold}'}"
    how = "by the cut plan" if purchase.plan else "rounded up"
    single = purchase.pack == 1 and not unit
    same = single and whole_pieces(purchase.need) == purchase.packs
    bought = "" if same else f": {purchase.packs}{'' if single else f' x {sold}'}, {how}"
    left = f"; left over: {purchase.left_over}" if purchase.left_over else ""
    return f"{needed}{bought}, at {format_money(purchase.unit_price)}{' each' if purchase.packs > 1 else ''}{left}"
