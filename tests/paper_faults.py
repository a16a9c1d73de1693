"""What proposal, change order, takeoff, calendar and payments say differently: read by the tests of papers and of scopes."""

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import Any

from kit.change.effect import change_draws
from kit.change.priced_change import price_change
from kit.estimating import Estimate
from kit.export.change_order import ChangeOrderSource, change_order_document
from kit.export.papers import sentences
from kit.export.proposal import proposal_document
from kit.export.proposal_scope import excluded_parts
from kit.labor.clock import last_day
from kit.labor.schedule import CUSTOMERS
from kit.outlook import plan_schedule
from kit.pricing.draws import plan_draws
from kit.records import Kind, Level
from kit.steps import Step
from kit.units import format_long_day

__all__ = ["change_said_twice", "day_of", "said_twice", "texts_in"]

MONTHS = [dt.date(2026, month, 1).strftime("%B") for month in range(1, 13)]
SILENT = {Step.VISIT, Step.TRIPS}
INNER = re.compile(r"\b(costs?|margin|markup|mark-up|wages?|burden|overhead|profit|contingency|gross|worker-hours?)\b", re.IGNORECASE)
OUR_RISKS = ("sink arrives damaged", "has to be remade", "blank is ruined", "Punch list")
THINGS = {"Faucet": "faucet", "Strainer": "strainer", "Disposer": "disposer", "Dishwasher": "dishwasher"}
PARTS = {
    "Sink": "sink",
    "Faucet": "faucet",
    "Strainer": "strainer",
    "Disposer": "disposer",
    "Dishwasher": "dishwasher",
    "Countertop": "counter",
    "Backsplash": "splash",
    "Drain in the wall": "drain_move",
    "Drain in the floor": "drain_move",
    "Wall": "wall_repair",
    "Debris": "haul_away",
    "Asbestos": "asbestos",
}
OWN_STEPS = {  # what is done for a part and for no other
    "Disposer": {Step.CONNECT_DISPOSER},
    "Dishwasher": {Step.CONNECT_DISHWASHER},
    "Countertop": {Step.TEMPLATE, Step.REST_BLANK, Step.COAT_BLANK, Step.FIT_TOP, Step.COAT_EDGES, Step.LAY_BACKER, Step.GROUT, Step.CAST, Step.SET_COUNTER},
    "Drain in the wall": {Step.ROUGH_DRAIN},
    "Wall": {Step.PATCH_WALL, Step.FINISH_WALL, Step.PAINT_WALL},
    "Debris": {Step.HAUL},
}
TRADES = {"plumber": "hire-plumber", "electrician": "hire-electrician", "hauler": "haul-trade", "other trade": "wall-trade", "abatement firm": "abatement"}
SAID_FOR = {  # words of a step's sentence, and the priced work without which it is an empty promise
    "against dust": "dust-wall",
    "come back": "punch-round",
    "wet floor": "cabinet-floor",
    "swollen side": "cabinet-side",
    "shut-off valves": "fit-stop",
}
HIRED_FOR = {"a licensed plumber": "hire-plumber", "a licensed electrician": "hire-electrician", "laboratory tests a sample": "floor-test"}


def day_of(words: str) -> dt.date:
    """The day that a paper writes out, such as "Thursday, April 2, 2026"."""
    _, month, day, year = words.replace(",", "").split()
    return dt.date(int(year), MONTHS.index(month) + 1, int(day))


def texts_in(data: Any) -> Iterator[str]:
    """Every text of the document, whatever it stands in."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from texts_in(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from texts_in(value)


def said_twice(found: Estimate) -> list[str]:
    """What proposal and estimate say differently; a job that can't be built is read as if it were issued all the same."""
    document = proposal_document(replace(found, findings=tuple(one for one in found.findings if one.level is not Level.STOP)))
    parts = (_scope, _excluded, _asbestos, _choices, _debris, _work, _hired, _payments, _words)
    return [fault for part in parts for fault in part(found, document)]


def _excluded(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    """Nothing is priced that is excluded or said to stay untouched, and what comes off is not said to be left alone."""
    lines = [line for line in found.lines if line.kind in {Kind.DO, Kind.HIRE, Kind.BUY, Kind.FEE}]
    for part, steps in OWN_STEPS.items():
        priced = sorted({line.id for line in lines if line.step in steps})
        if priced and (getattr(found.job.scope, PARTS[part]).excluded or any(text.startswith(f"{part}:") for text in document["excluded"])):
            yield f"{part}: excluded, and priced: {', '.join(priced)}"
        if priced and part not in {row["part"] for row in document["scope"]}:
            yield f"{part}: priced, and no row: {', '.join(priced)}"
    removal = found.design.removal
    for text, by in (("Backsplash: not touched", removal.splash_by), ("Sink: not touched", removal.sink_by), ("Counter: not touched", removal.counter_by)):
        if text in document["excluded"] and by != "nobody":
            yield f"{text}, but it comes off"
    scope = found.job.scope
    if ("new kitchen sink" in document["summary"]) != scope.sink.renewed or ("and a new" in document["summary"]) != scope.counter.renewed:
        yield f"the summary: {document['summary']}"


def _asbestos(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    """A firm of ours is priced, promised and an allowance; the customer's is excluded and asked for; where nothing was found nobody speaks of either."""
    parts, hired = bool(found.design.abatement.parts), any(line.item == "abatement" for line in found.lines)
    ours = found.job.scope.asbestos.installed_by == "trade"
    if hired != (parts and ours):
        yield f"asbestos found in {found.design.abatement.parts}, ours {ours}, priced {hired}"
    if any(row["part"] == "Asbestos" and "hired trade" in row.values() for row in document["scope"]) != hired:
        yield "a firm for asbestos: promised or priced alone"
    if any("Asbestos removal is an allowance" in says for says in document["terms"]) != hired:
        yield "an allowance for asbestos: said or priced alone"
    for said in ("excluded", "yours"):
        if any("asbestos the laboratory found" in says for says in document[said]) != (parts and not ours):
            yield f"asbestos: {said} says it, or should"
    torn = {line.item.removeprefix("old-counter-") for line in found.lines if line.step is Step.REMOVE_COUNTER}
    if found.design.abatement.takes("counter") and found.job.old.counter_material in torn:
        yield "asbestos: taken out twice"


def _choices(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    """The customer signs for what is new only."""
    asked, scope = {row["choice"] for row in document["choices"]}, found.job.scope
    for names, item in (({"Sink", "Mount"}, scope.sink), ({"Countertop", "Color and finish", "Front edge", "Overhang", "Backsplash"}, scope.counter)):
        if not item.renewed and names & asked:
            yield f"{', '.join(sorted(names & asked))}: a choice about what stays"


def _debris(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    removal = found.design.removal
    for row in document["scope"]:
        if row["part"] == "Debris" and row["fitted"] != "you":
            for thing, part in (("old countertop", "counter"), ("old backsplash", "splash"), ("old sink", "sink")):
                by = getattr(removal, f"{part}_by")
                if (thing in row["what"]) != (by == "us" and not found.design.abatement.takes(part)):
                    yield f"Debris: {row['what']}, and the {thing} is taken out by {by}"


def _hired(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    """Whoever is hired is booked and on the calendar; a trade in the scope has a price."""
    hired = {line.item for line in found.lines if line.kind is Kind.HIRE}
    booked = next((line.basis for line in found.lines if line.item == "book-party"), "")
    yield from (f"{name}: booked or priced alone" for name, item in TRADES.items() if (name in booked) != (item in hired))
    steps = {line.step for line in found.lines if line.kind is Kind.HIRE}
    yield from (f"{task.step}: on the calendar and not hired" for task in found.hired if task.step not in steps and task.trade != CUSTOMERS)
    for row in document["scope"]:
        if "hired trade" in {row["brought"], row["fitted"]} and not hired & set(TRADES.values()):
            yield f"{row['part']}: by a trade, and none is priced"


def _scope(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    bought = {line.item for line in found.lines if line.kind is Kind.BUY}
    rows = {row["part"]: row for row in document["scope"]}
    for part, row in rows.items():
        item = getattr(found.job.scope, PARTS[part])
        if part in THINGS and (row["brought"] == "us") != (THINGS[part] in bought):
            yield f"{part}: supplied by {row['brought']}, bought {THINGS[part] in bought}"
        if part == "Sink" and (row["brought"] == "us") != (found.job.sink.item in bought):
            yield "Sink: brought or bought"
        if item.excluded or any(text.startswith(f"{part}:") for text in document["excluded"]):
            yield f"{part}: promised and excluded"
        if "you" in {row["brought"], row["fitted"]} and "customer" not in {item.supplied_by, item.installed_by}:
            yield f"{part}: the customer's, and the scope says otherwise"
        if item.ours_to_install and item.renewed and row["fitted"] == "–" and part not in {"Drain in the wall", "Drain in the floor", "Debris"}:
            yield f"{part}: ours to fit, and not priced"
    for part in ("Sink", *THINGS, "Countertop"):
        item = getattr(found.job.scope, PARTS[part])
        if item.renewed and (rows.get(part, {}).get("fitted", "–") == "–"):
            yield f"{part}: in the scope, and nobody fits it"
    for part, thing in THINGS.items():
        if thing in bought and part not in rows:
            yield f"{part}: priced and not promised"


def _work(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    priced = {line.step for line in found.lines if line.kind in {Kind.DO, Kind.HIRE}}
    calendar = {row.step for row in plan_schedule(found).schedule.steps if row.trade != CUSTOMERS} - SILENT
    yield from (f"{step}: on the calendar and not priced" for step in calendar - priced)
    yield from (f"{step}: priced and not on the calendar" for step in priced - calendar - SILENT)
    named = len(document["steps"])
    if named < len(calendar) - 3:  # a few steps share a sentence
        yield f"{len(calendar)} steps, {named} sentences"
    items = {line.item for line in found.lines}
    said = " ".join(document["steps"])
    yield from (f"{words}, and no {item} is priced" for words, item in SAID_FOR.items() if words in said and item not in items)
    way = any("walk indoors" in line.basis for line in found.lines)
    if ("the way in" in said) != way:
        yield "the way in: said or priced alone"
    rights = " ".join(document["rights"])
    yield from (f"{words}, and {item} is not priced" for words, item in HIRED_FOR.items() if words in rights and item not in items)
    if any("if the laboratory finds asbestos" in says for says in document["excluded"]) != ("floor-test" in items):
        yield "a test without what follows from it, or the other way round"
    if "floor-test" in items and not re.search("until a laboratory has tested|laboratory tests a sample", rights):
        yield "a test is priced and not said"


def _payments(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    steps = {row.step for row in plan_schedule(found).schedule.steps}
    plan = plan_draws(found)
    for draw in plan.draws[:-1]:
        if draw.step is not None and draw.step not in steps:
            yield f"paid {draw.label}, which is no event of this job"
    if len(document["draws"]) != len(plan.draws):
        yield "payments that the plan does not have"
    today = document["day"]
    last = [day_of(row["when"]).isoformat() for row in document["days"] if re.search(r"\d{4}$", row["when"])]
    if last != sorted(last) or any(day < today for day in last[1:]):
        yield f"days {last} of a paper of {today}"


def _words(found: Estimate, document: dict[str, Any]) -> Iterator[str]:
    own = {found.job.identity.customer, found.job.identity.address}
    for text in texts_in({key: value for key, value in document.items() if key not in {"foot", "customer", "address", "summary"}}):
        if text not in own and INNER.search(text):
            yield f"a word of ours: {text}"
        if any(words in text for words in OUR_RISKS):
            yield f"our own risk: {text}"


# --- the change order from one estimate of a job to another ---


def change_said_twice(old: Estimate, new: Estimate) -> list[str]:
    """What the paper of a change says otherwise than takeoff, calendar and payments of the two estimates; nothing where nothing changes."""
    old, new = (replace(one, findings=tuple(finding for finding in one.findings if finding.level is not Level.STOP)) for one in (old, new))
    order = price_change(old, new)
    if not order.rows or order.contract_after < 0:
        return []
    paper = ChangeOrderSource(order, old, new, old.job.identity.visit_date, change_draws(order, old, new))
    document = change_order_document(paper)
    parts = (_change_sums, _change_work, _change_scope, _change_sentences, _change_payments)
    return [fault for part in parts for fault in part(paper, document)]


def _cents(words: str) -> Decimal:
    return Decimal(re.sub(r"[$,+]", "", words))


def _change_sums(paper: ChangeOrderSource, document: dict[str, Any]) -> Iterator[str]:
    """What is bought, hired and worked more or less is what the rows cost us; rows and payments come to the sums."""
    before, after = (sum(one.amount for one in (*estimate.purchases, *estimate.tasks)) for estimate in (paper.old, paper.new))
    if after - before != sum(row.cost for row in paper.order.rows if row.id.partition(":")[0] in {"buy", "task"}):
        yield "rows that leave out what the takeoff adds or saves"
    if sum(_cents(row["amount"]) for group in document["groups"] for row in group["rows"]) != _cents(document["amount"]):
        yield "rows that don't sum to the change"
    if sum(_cents(row["after"]) for row in document["payments"]) != _cents(document["contract-after"]):
        yield "payments that don't sum to the contract"


def _change_work(paper: ChangeOrderSource, document: dict[str, Any]) -> Iterator[str]:
    """A step that comes onto the calendar is said to come, one that leaves it to fall away; whoever is hired for it has a row."""
    old, new = ({row.step for row in plan_schedule(one).schedule.steps} - SILENT for one in (paper.old, paper.new))
    for estimate, steps, said in ((paper.new, new - old, "comes"), (paper.old, old - new, "goes")):
        for step in steps:
            words = list(sentences(estimate, "step", step)) or [f"{estimate.lists.steps[step].name}."]
            yield from (f"{step}: {said}, and unsaid: {one}" for one in words if one not in document[said])
    shown = {row["what"] for group in document["groups"] for row in group["rows"]}
    hired = {line.item for line in paper.new.lines if line.kind is Kind.HIRE} - {line.item for line in paper.old.lines if line.kind is Kind.HIRE}
    charged = {one.item for one in paper.new.purchases if one.amount}
    yield from (f"{item}: hired with the change, and no row" for item in hired & charged if paper.new.lists.name_of(item) not in shown)


def _change_scope(paper: ChangeOrderSource, document: dict[str, Any]) -> Iterator[str]:
    """A part whose row of the scope differs has a row here; one that is new with us is bought."""
    rows = {row["what"]: row["after"] for row in document["words"]}
    bought = {line.item for line in paper.new.lines if line.kind is Kind.BUY}
    for part, name in PARTS.items():
        before, after = (getattr(one.job.scope, name) for one in (paper.old, paper.new))
        if before != after and before.renewed != after.renewed and part in {"Sink", *THINGS} and part not in rows:
            yield f"{part}: from {before} to {after}, and unsaid"
        if part in rows and part in THINGS and ("supplied by us" in rows[part]) != (THINGS[part] in bought):
            yield f"{part}: {rows[part]}, bought {THINGS[part] in bought}"


def _change_sentences(paper: ChangeOrderSource, document: dict[str, Any]) -> Iterator[str]:
    """What the new proposal excludes and asks for, and the old one did not, is said; so is what falls away of it, but of a part that has its row."""
    rows = {row["what"] for row in document["words"]}
    for heading, said in (("Not included", excluded_parts), ("Your part", partial(sentences, use="yours")), ("Good to know", partial(sentences, use="right"))):
        old, new = ([*said(one)] for one in (paper.old, paper.new))
        yield from (f"unsaid: {says}" for says in new if says not in old and f"{heading}: {says}" not in document["says"])
        gone = [says for says in old if says not in new and not (heading == "Not included" and says.partition(":")[0] in rows)]
        yield from (f"still holds: {says}" for says in gone if f"{heading}: {says}" not in document["says-no-more"])
    steps = {row.name for row in paper.new.lists.steps.values()}  # work is charged by the names of its steps
    for text in texts_in({key: document[key] for key in ("words", "comes", "goes", "groups", "says", "says-no-more")}):
        if INNER.search(text) or (text not in steps and any(words in text for words in OUR_RISKS)):
            yield f"a word of ours: {text}"


def _change_payments(paper: ChangeOrderSource, document: dict[str, Any]) -> Iterator[str]:
    """What is still to be paid falls on events of the changed job; the day on which all is done is the changed calendar's."""
    schedule, plan = plan_schedule(paper.new), plan_draws(paper.new, keep_empty=True)
    steps = {row.step for row in schedule.schedule.steps}
    events = {draw.label for draw in plan.draws if draw.step is None or draw.step in steps} | {plan.draws[-1].label}
    yield from (f"paid {draw.label}, which is no event of the changed job" for draw in paper.draws if draw.after and not draw.paid and draw.label not in events)
    done = next(row["after"] for row in document["days"] if row["what"] == "Work complete")
    if done != format_long_day(last_day(schedule.finish)):
        yield f"done {done}"
