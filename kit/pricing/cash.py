"""How much of our own money is in the job, day by day? What we pay, less what the customer has paid."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from kit.errors import Fault, PriceError
from kit.lists.money_rows import PayTerm
from kit.money import EXACT, split_cents, sum_money
from kit.pricing.draws import DrawSchedule
from kit.pricing.priced import Priced, step_of_purchase, work_order
from kit.records import CostType, Purchase
from kit.steps import Step

__all__ = ["CashDay", "CashFlow", "CashPlan", "plan_cash"]


@dataclass(frozen=True, slots=True)
class CashFlow:
    """One payment on a day [USD]: to us above 0, by us below 0."""

    day: date
    amount: Decimal
    says: str


@dataclass(frozen=True, slots=True)
class CashDay:
    """A day on which money moves [USD]: what came in, what went out, and how much of our own money is in the job when it ends."""

    day: date
    paid_to_us: Decimal
    paid_by_us: Decimal
    fronted: Decimal


@dataclass(frozen=True, slots=True)
class CashPlan:
    """The days on which money moves, in order, every payment behind them, and the day of each draw."""

    days: tuple[CashDay, ...]
    flows: tuple[CashFlow, ...]
    draw_days: tuple[date, ...]

    @property
    def worst(self) -> CashDay:
        """The first of the days on which most of our own money is in the job."""
        return max(self.days, key=lambda day: day.fronted)

    @property
    def most_fronted(self) -> Decimal:
        """How much of our own money is in the job on that day; 0 where the customer is always ahead."""
        return max(self.worst.fronted, Decimal("0.00"))


def plan_cash(job: Priced, draws: DrawSchedule, signed: date, ends: Mapping[Step, date]) -> CashPlan:
    """The cash of a job: its draws, its purchases by `pay_terms.csv` with the tax paid on them, own labor, tax owed to the state.

    Parameters
    ----------
    job, draws
        The estimate and its draws.
    signed
        Day on which the customer signs.
    ends
        Day on which each step ends, such as a schedule gives it. A step without a day is taken with the next one that has one.

    Raises
    ------
    PriceError
        If no step has a day.

    Notes
    -----
    Overhead is left out: it is paid with or without this job.
    """
    order = work_order(job)
    dated = [step for step in order if step in ends]
    if not dated:
        raise PriceError(Fault("cash by day", "needs the day of at least one step."))

    def day_of(step: Step | None) -> date:
        if step is None:
            return signed
        at = order.index(step) if step in order else len(order)
        return ends[next((later for later in order[at:] if later in ends), dated[-1])]

    draw_days = tuple(day_of(draw.step) for draw in draws.draws)
    flows = [CashFlow(day, draw.due, draw.label) for day, draw in zip(draw_days, draws.draws, strict=True)]
    for purchase, tax in _with_tax(job):
        flows.extend(_payments(job, purchase, tax, order, day_of))
    flows.extend(_wages(job, day_of))
    credit = next((row.amount for row in job.build_up if row.id == "tax-credit"), Decimal(0))
    settled = max(draw_days, default=signed)
    flows.append(CashFlow(settled, credit, "Credit for sales tax paid on material"))
    flows.append(CashFlow(settled, EXACT.minus(job.amount("tax-collected")), "Sales tax collected, owed to the state"))
    flows = sorted((flow for flow in flows if flow.amount), key=lambda flow: flow.day)
    return CashPlan(tuple(_sum_days(flows)), tuple(flows), draw_days)


def _with_tax(job: Priced) -> Iterator[tuple[Purchase, Decimal]]:
    """Each purchase, and its part of the tax that we pay on purchases, a credit for it left aside."""
    rows = {row.id: row for row in job.build_up}
    tax: dict[str, Decimal] = {}
    for base, amount in (("taxable", "tax-used-up" if "tax-used-up" in rows else "tax-paid"), ("resold", "tax-bought")):
        taxed = [purchase for purchase in job.purchases if base in rows and f"buy:{purchase.id}" in rows[base].args]
        amounts = [purchase.amount for purchase in taxed]
        if any(amounts):
            tax |= zip([purchase.id for purchase in taxed], split_cents(rows[amount].amount, amounts), strict=True)
    for purchase in job.purchases:
        yield purchase, tax.get(purchase.id, Decimal(0))


def _payments(job: Priced, purchase: Purchase, tax: Decimal, order: Sequence[Step], day_of: Callable[[Step | None], date]) -> Iterator[CashFlow]:
    """A purchase and its tax: what is paid ahead, and the rest some days after it is there or done."""
    item = job.lists.item(purchase.item)
    kind = item.cost_type
    ahead, rest = _split(job, kind, purchase.supplier, EXACT.add(purchase.amount, tax))
    term = _term(job, kind, purchase.supplier)
    says = f"{purchase.supplier}: {item.name}"
    yield CashFlow(day_of(term.deposit_step), EXACT.minus(ahead), f"{says}, ahead" if rest else says)
    yield CashFlow(day_of(step_of_purchase(job, purchase, order)) + timedelta(days=term.rest_days), EXACT.minus(rest), says)


def _wages(job: Priced, day_of: Callable[[Step | None], date]) -> Iterator[CashFlow]:
    """Own labor, step by step."""
    term = _term(job, CostType.LABOR, "")
    for task in job.tasks:
        ahead, rest = _split(job, CostType.LABOR, "", task.amount)
        yield CashFlow(day_of(term.deposit_step), EXACT.minus(ahead), f"Own labor, ahead: {job.step_names[task.step]}")
        yield CashFlow(day_of(task.step) + timedelta(days=term.rest_days), EXACT.minus(rest), f"Own labor: {job.step_names[task.step]}")


def _term(job: Priced, kind: CostType, supplier: str) -> PayTerm:
    terms = job.lists.pay_terms
    return terms.get((kind, supplier)) or terms[kind, None]


def _split(job: Priced, kind: CostType, supplier: str, amount: Decimal) -> tuple[Decimal, Decimal]:
    """What is paid ahead and what is left [USD]."""
    share = _term(job, kind, supplier).deposit
    if not share:
        return Decimal("0.00"), amount
    ahead, rest = split_cents(amount, (share, EXACT.subtract(Decimal(1), Decimal(repr(share)))))
    return ahead, rest


def _sum_days(flows: Sequence[CashFlow]) -> Iterator[CashDay]:
    fronted = Decimal("0.00")
    for day in dict.fromkeys(flow.day for flow in flows):
        amounts = [flow.amount for flow in flows if flow.day == day]
        came, went = (sum_money([amount.copy_abs() for amount in amounts if amount.is_signed() is not to_us]) for to_us in (True, False))
        fronted = EXACT.subtract(EXACT.add(fronted, went), came)
        yield CashDay(day, came, went, fronted)
