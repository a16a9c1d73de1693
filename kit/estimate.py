"""One job through the whole house: no arithmetic of its own, every intermediate value kept."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal, localcontext

from kit.buying import check_price_ages, plan_purchases
from kit.checks import check_job, worst_first
from kit.design import Design, design_job
from kit.errors import Fault, PriceError
from kit.job import FilledJob, Job, fill_assumptions
from kit.labor.hours import revalue_hours
from kit.labor.job_work import plan_work
from kit.labor.trips import Trip
from kit.lists import Lists
from kit.money import EXACT, round_cents, to_decimal
from kit.pricing import PriceTerms, charge_packs, cost_of_hour, price_job, resolve_terms
from kit.records import Assumption, BuildUp, CostType, Finding, Kind, Level, Line, Purchase, Task
from kit.takeoff import take_off

__all__ = ["Estimate", "estimate", "revalue"]


@dataclass(frozen=True, slots=True)
class Estimate:
    """Everything that one job gave on its way through the house; `job_as_read` is the job before assumptions were filled in.

    `tasks` are our own people's; what hired trades do is `hired`, for the calendar only: purchases hold what it costs.
    """

    job_as_read: Job
    job: FilledJob
    lists: Lists
    assumptions: tuple[Assumption, ...]
    design: Design
    findings: tuple[Finding, ...]
    lines: tuple[Line, ...]
    purchases: tuple[Purchase, ...]
    tasks: tuple[Task, ...]
    hired: tuple[Task, ...]
    trips: tuple[Trip, ...]
    terms: PriceTerms
    build_up: tuple[BuildUp, ...]

    def amount(self, row: str) -> Decimal:
        """The amount of a row of the build-up, such as "price"."""
        return next(found.amount for found in self.build_up if found.id == row)

    @property
    def price(self) -> Decimal:
        """What the customer pays."""
        return self.amount("price")

    @property
    def cost(self) -> Decimal:
        """Direct cost before overhead, tax paid on purchases included."""
        return self.amount("cost")

    @property
    def margin(self) -> Decimal:
        """Share of the price over direct cost."""
        return self.amount("margin")

    @property
    def hours(self) -> float:
        """Own worker-hours."""
        return round(sum(task.hours_likely for task in self.tasks), 4)

    @property
    def worst(self) -> Finding | None:
        """The worst finding, None when nothing was checked."""
        return self.findings[0] if self.findings else None

    @property
    def buildable(self) -> bool:
        """Whether no finding says stop."""
        return all(finding.level is not Level.STOP for finding in self.findings)

    @property
    def proven(self) -> bool:
        """Whether every cut plan is proven cheapest: only such an estimate is issued or exported."""
        return all(purchase.proven for purchase in self.purchases)

    @property
    def cost_types(self) -> dict[str, CostType]:
        """Cost type of each purchase by its item."""
        return {purchase.item: self.lists.item(purchase.item).cost_type for purchase in self.purchases}


def estimate(job: Job, lists: Lists, *, exact: bool = True) -> Estimate:
    """The priced estimate of a job; with `exact` off its cut plans are first plans, for as long as a slider moves.

    Raises
    ------
    JobError, ListError
        If the job names what the lists don't hold. Parts that are sound but don't fit together are findings.
    PriceError
        If the terms leave no price.
    """
    with localcontext(EXACT):  # the same cents whatever the thread's own context is
        return _estimate(job, lists, exact=exact)


def _estimate(job: Job, lists: Lists, *, exact: bool) -> Estimate:
    filled, assumptions = fill_assumptions(job)
    design = design_job(filled, lists)
    lines = take_off(filled, design, lists)
    terms = resolve_terms(filled, lists)
    purchases = charge_packs(plan_purchases(filled, lines, lists, exact=exact), terms.packs_charged)
    work = plan_work(filled, design, lines, purchases, lists)
    cost_types = {purchase.item: lists.item(purchase.item).cost_type for purchase in purchases}
    return Estimate(
        job_as_read=job,
        job=filled,
        lists=lists,
        assumptions=assumptions,
        design=design,
        findings=worst_first([*check_job(filled, design, lists), *check_price_ages(filled, purchases, lists)]),
        lines=(*lines, *work.trip_lines),
        purchases=purchases,
        tasks=work.tasks,
        hired=work.hired,
        trips=work.trips,
        terms=terms,
        build_up=price_job(purchases, cost_types, work.tasks, terms),
    )


def revalue(estimate: Estimate, prices: Mapping[str, Decimal], rates: Mapping[str, float], terms: Mapping[str, Decimal]) -> Estimate:
    """The same packs, plans, suppliers and work at other prices, hour rates and terms.

    Parameters
    ----------
    estimate
        The estimate to start from.
    prices
        New price of a pack [USD] by purchase id.
    rates
        New hours for one unit [h] by driver, or new factor by `factor:<id>`.
    terms
        New value of an input by its id, such as `in:overhead`.

    Raises
    ------
    PriceError
        If a name is not part of the estimate, or the terms leave no price.
    """
    bought = {purchase.id for purchase in estimate.purchases}
    worked = {line.item for line in estimate.lines if line.kind is Kind.DO} | {f"factor:{name}" for task in estimate.tasks for name, _ in task.factors}
    named = {term.id for term in estimate.terms.inputs}
    unknown = sorted((set(prices) - bought) | (set(rates) - worked) | (set(terms) - named))
    if unknown:
        raise PriceError([Fault(name, "is not part of this estimate.") for name in unknown])
    with localcontext(EXACT):
        return _revalue(estimate, prices, rates, terms)


def _revalue(estimate: Estimate, prices: Mapping[str, Decimal], rates: Mapping[str, float], terms: Mapping[str, Decimal]) -> Estimate:
    purchases = tuple(
        replace(purchase, unit_price=prices[purchase.id], amount=round_cents(prices[purchase.id] * to_decimal(purchase.charged, 4)))
        if purchase.id in prices
        else purchase
        for purchase in estimate.purchases
    )
    changed = replace(estimate.terms, inputs=tuple(replace(term, value=terms.get(term.id, term.value)) for term in estimate.terms.inputs))
    tasks = revalue_hours(estimate.tasks, estimate.lines, estimate.lists, rates, cost_of_hour(changed))
    return replace(estimate, purchases=purchases, tasks=tasks, terms=changed, build_up=price_job(purchases, estimate.cost_types, tasks, changed))
