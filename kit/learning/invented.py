"""An invented history of jobs, for demonstrations and tests: offered, some signed, worked, bought, billed, paid and closed, with its truth known.

Nothing in it ever happened, and nothing in it is a reference. Every job is marked as invented in the ledger and says so in its documents; no lists
but the kit's own invented ones learn from it.
"""

import datetime as dt
import math
import random
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from kit.contract.bills import closing_of, next_bill
from kit.contract.events import Bought, Event, Happening, Paid, Worked
from kit.contract.following import follow_event
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of, signature_of
from kit.contract.state import ContractState
from kit.errors import Fault, KitError
from kit.estimating import Estimate, estimate
from kit.issued import Issued, issue_estimate, open_issued
from kit.job import Job, change_job, read_job
from kit.job.prices import PRICE_FOLDER
from kit.labor.calendar import cooling_off_end
from kit.learning.learn import prior_of
from kit.learning.observations import SubjectKind, has_waste
from kit.lists import Lists, load_lists, parse_lists
from kit.lists.burden import SHARE_PLACES
from kit.lists.company import Company
from kit.lists.goods_rows import Item
from kit.money import round_cents, sum_money, times, to_decimal
from kit.outlook import plan_schedule
from kit.pricing.taxed import split_paid_tax
from kit.records import CostType, Purchase, Task
from kit.shipped_files import shipped
from kit.whole_files import explain_os_error, place_folder

__all__ = ["INVENTED_REASON", "InventedTruth", "write_invented_history"]

INVENTED_REASON = "Invented for a demonstration: there is no such job, customer or price."
FIRST_VISIT = dt.date(2023, 1, 9)
_SPAN_DAYS = 1000  # over which the visits are spread, whatever their number
_SIGNED = {"top": 0.65, "under": 0.5, "flush": 0.4}  # invented shares of offers that are signed
_STRAYS = 0.01  # invented share of steps that go wrong out of all proportion
_STRAY_TIMES = 6.0
_MOMENT = dt.datetime(2023, 1, 1, tzinfo=dt.UTC)


@dataclass(frozen=True, slots=True)
class InventedTruth:
    """What the jobs of a history are drawn from: for each subject (`hours/set-sink`) mean and spread of the logarithm, drawn from the company's prior."""

    seed: int
    company: Company

    def of(self, kind: SubjectKind, row: str) -> tuple[float, float]:
        """Mean and standard deviation of the logarithm of what it takes over what the lists say; always the same for one seed."""
        prior, draw = prior_of(self.company, kind), random.Random(f"{self.seed}/{kind}/{row}")  # noqa: S311 - chance for a demonstration
        variance = prior.freedom * prior.variance / draw.gammavariate(prior.freedom / 2, 2)
        return draw.gauss(prior.mean, math.sqrt(variance / prior.jobs)), math.sqrt(variance)

    def ratio(self, kind: SubjectKind, row: str, draw: random.Random) -> float:
        """What one job takes over what the lists say, by chance."""
        return math.exp(draw.gauss(*self.of(kind, row)))


def write_invented_history(folder: Path, *, jobs: int, seed: int) -> InventedTruth:
    """Write an invented history into a new folder: issued estimates, the ledger, and a copy of the kit's invented lists.

    Parameters
    ----------
    folder
        Not there yet, or empty.
    jobs
        How many are offered.
    seed
        The same one gives the same history.

    Returns
    -------
    What it was drawn from, for whoever wants to see whether learning finds it.

    Raises
    ------
    KitError
        If there is anything in the folder, which may be somebody's own, or it can't be written; nothing is left behind then.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        empty = not any(folder.iterdir())
    except OSError as error:
        raise KitError(Fault("", f"can't be written: {explain_os_error(error)}.", str(folder))) from None
    if not empty:
        raise KitError(Fault("", "is not empty. An invented history needs a folder of its own, so that it never mixes with your jobs.", str(folder)))
    try:
        place_folder(folder / PRICE_FOLDER, {path.name: path.read_bytes() for path in shipped(PRICE_FOLDER).iterdir() if path.is_file()})
        return _live_all(folder, jobs, seed)
    except (KitError, OSError) as error:
        shutil.rmtree(folder, ignore_errors=True)
        if isinstance(error, KitError):
            raise
        raise KitError(Fault("", f"can't be written: {explain_os_error(error)}.", str(folder))) from None


def _live_all(folder: Path, jobs: int, seed: int) -> InventedTruth:
    own = load_lists(shipped(PRICE_FOLDER))
    lists = _since(own, FIRST_VISIT)
    examples, truth, ledger = _examples(), InventedTruth(seed, own.company), Ledger(folder)
    for number in range(1, jobs + 1):
        draw = random.Random(f"{seed}/job/{number}")  # noqa: S311 - chance for a demonstration
        visit = FIRST_VISIT + dt.timedelta(days=_SPAN_DAYS * number // jobs)
        job = _job(examples[draw.randrange(len(examples))], number, visit, draw)
        _live(folder, ledger, estimate(job, lists), draw, truth)
    return truth


def _examples() -> list[Job]:
    return [read_job(path) for path in sorted(shipped("examples").glob("*.toml"))]


def _since(lists: Lists, day: dt.date) -> Lists:
    """The kit's lists as if their prices had held since a day."""
    since = min(price.effective_from for prices in lists.prices.values() for price in prices).isoformat()
    texts = {**lists.texts, **{file: lists.texts[file].replace(since, day.isoformat()) for file in ("prices.csv", "company.csv")}}
    return parse_lists(texts, "invented lists of the kit")


def _job(example: Job, number: int, visit: dt.date, draw: random.Random) -> Job:
    changes = {
        "identity.job_number": f"INVENTED-{number:03d}",
        "identity.customer": f"Invented customer {number}",
        "identity.address": f"{number} Invented Street, Sampleton",
        "identity.visit_date": visit,
        "identity.note": INVENTED_REASON,
        "site.carry": f"{draw.randrange(20, 120, 10)} ft",
        "site.stair_steps": draw.choice((0, 0, 3, 6, 12)),
    }
    return change_job(example, changes)


def _live(folder: Path, ledger: Ledger, priced: Estimate, draw: random.Random, truth: InventedTruth) -> None:
    """One job from the offer on, as far as it goes."""
    day = priced.job.identity.visit_date + dt.timedelta(days=1)
    issued = open_issued(issue_estimate(priced, folder, stop_reason=INVENTED_REASON, today=day))
    offer = offer_of(issued).model_copy(update={"invented": True})
    events: list[tuple[Happening, dt.date]] = [(offer, day)]
    if draw.random() < _SIGNED[priced.job.sink.mount]:
        signed = day + dt.timedelta(days=draw.randint(2, 12))
        spent = sorted([*_buy(priced, signed, draw, truth), *_work(priced, signed, draw, truth)], key=lambda one: one[1])
        events += [*spent, *_bill(issued, offer, signed, max(day for _, day in spent))]
    ledger.append_all(issued.number, sorted(events, key=lambda one: one[1]))


def _work(priced: Estimate, signed: dt.date, draw: random.Random, truth: InventedTruth) -> Iterator[tuple[Happening, dt.date]]:
    """Hours and wages of every step, in the order of the calendar; travel, which is no step of it, last."""
    company, day = priced.lists.company, signed + dt.timedelta(days=21)
    order = [row.step for row in plan_schedule(priced).schedule.steps]
    worked: list[Worked] = []
    pauses: list[int] = []
    for task in priced.tasks:
        ratio = truth.ratio("hours", task.step, draw) * (_STRAY_TIMES if draw.random() < _STRAYS else 1.0)
        paid = _paid_hours(priced, task)
        hours = max(round((task.hours_likely - paid) * ratio + paid, 2), 0.01)
        wages = round_cents(times(company.wage, to_decimal(hours, 2)))
        burden = round_cents(times(wages, to_decimal(company.burden, SHARE_PLACES)))
        step = priced.lists.steps[task.step]
        worked.append(Worked(cost_code=step.cost_code, step=task.step, text=f"{step.name} (invented)", hours=hours, wages=wages, burden=burden))
        pauses.append(draw.randint(0, 1))
    for what, pause in zip(sorted(worked, key=lambda one: order.index(one.step) if one.step in order else len(order)), pauses, strict=True):
        yield what, day
        day += dt.timedelta(days=pause)


def _paid_hours(priced: Estimate, task: Task) -> float:
    """Hours of a step that are paid whatever its work took."""
    rates = [(line.quantity, priced.lists.rates[line.item]) for line in priced.lines if line.id in task.line_ids]
    return math.fsum(quantity * rate.likely_h for quantity, rate in rates if rate.is_policy) * math.prod(factor for _, factor in task.factors)


def _buy(priced: Estimate, signed: dt.date, draw: random.Random, truth: InventedTruth) -> Iterator[tuple[Happening, dt.date]]:
    """Every purchase with its days, and what was left of it; the tax that is paid on purchases as a row of its own for each cost code."""
    lists = priced.lists
    ordered = cooling_off_end(signed, days=lists.company.cooling_off_days).date()  # as the proposals say
    waits: dict[str, int] = {}  # what is ordered together comes together
    planned = {line.item: math.fsum(one.quantity for one in priced.lines if one.item == line.item) for line in priced.lines if line.kind == "buy"}
    bought: dict[str, list[Purchase]] = {}
    for purchase in priced.purchases:
        bought.setdefault(purchase.item, []).append(purchase)
    for item, rows in bought.items():
        row = lists.item(item)
        amount = round_cents(times(sum_money([one.amount for one in rows]), to_decimal(draw.uniform(0.97, 1.06), 4)))
        lead = next((lists.lead_times[name] for name in lists.waits_for_goods(item, row.cost_code) if name in lists.lead_times), None)
        delivered = ordered
        if lead is not None and row.cost_type is CostType.MATERIAL:
            wait = waits.setdefault(lead.what, max(round((lead.likely_days + 1) * truth.ratio("days", lead.what, draw)) - 1, 0))
            delivered += dt.timedelta(days=wait)
        what = Bought(cost_code=row.cost_code, cost_type=row.cost_type, text=f"{row.name} (invented)", amount=amount, supplier=rows[0].supplier, item=item)
        goods = item in planned and row.cost_type is CostType.MATERIAL
        yield what.model_copy(update=_goods(rows, planned[item], row, ordered, delivered, draw, truth) if goods else {}), delivered
    for (kind, code), tax in split_paid_tax(priced).items():
        yield Bought(cost_code=code, cost_type=kind, text="sales tax (invented)", amount=tax, tax=tax), ordered


def _goods(
    rows: Sequence[Purchase], net: float, item: Item, ordered: dt.date, delivered: dt.date, draw: random.Random, truth: InventedTruth
) -> dict[str, object]:
    quantity = math.fsum(one.pack * one.packs for one in rows)
    used = round(net * (1 + item.waste) * (truth.ratio("waste", item.item, draw) if has_waste(item) else 1.0), 3)
    bought = max(quantity, used)
    return {"quantity": bought, "left": round(bought - used, 3), "order_day": ordered, "delivery_day": delivered}


def _bill(issued: Issued, offer: Happening, signed: dt.date, worked: dt.date) -> Iterator[tuple[Happening, dt.date]]:
    """The signature, every bill with its payment, and the end."""
    state = ContractState(issued.number)

    def write(what: Happening, day: dt.date) -> tuple[Happening, dt.date]:
        nonlocal state
        state = follow_event(state, Event(state.last + 1, issued.number, day, _MOMENT, what))
        return what, day

    write(offer, issued.issued)
    yield write(signature_of(issued), signed)
    day = signed
    while state.left:
        bill = next_bill(state, day, issued.figures.pay_within_days)
        yield write(bill, day)
        yield write(Paid(amount=bill.amount, how="invented"), day)
        day = worked
    yield write(closing_of(state, "done (invented)"), worked + dt.timedelta(days=7))
