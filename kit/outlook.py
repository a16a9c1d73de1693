"""What to expect of an estimate: when it is done, and how sure we are of its cost and its finish.

Neither is part of the estimate itself: a slider asks for the price, and for these only when they are looked at.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.facts_html import facts_html
from kit.job import Job, change_job
from kit.labor.clock import last_day
from kit.labor.conditions import holding_conditions
from kit.labor.job_schedule import JobPlan, JobSchedule, plan_job, schedule_job, signing_day
from kit.lists.work_rows import SiteRiskRow
from kit.money import EXACT, format_money, sum_money
from kit.pricing.build_up import price_job
from kit.pricing.cash import CashPlan, plan_cash
from kit.pricing.draws import plan_draws
from kit.pricing.taxed import taxed_purchases
from kit.records import Task
from kit.risk.cost import cost_risk
from kit.risk.finish import FinishRisk, finish_risk
from kit.risk.outcome import CostRisk, Driver, DriverEffect, weigh_driver
from kit.steps import Step
from kit.units import format_half_day, format_trials

__all__ = [
    "TRIALS",
    "JobRisk",
    "ahead_of",
    "assess_risk",
    "cash_of",
    "counted_from",
    "crew_days_of",
    "plan_schedule",
    "price_temporary_sink",
    "risk_at_terms",
    "set_contingency",
    "site_risks_of",
    "without_disposer",
]

TRIALS = 2_000
"""The P80 of cost is then known to about a fifth of a percent, on a small job to 15 USD. Alternates share their draws, which holds their ranking."""

PROBE = Decimal(100)


@dataclass(frozen=True, slots=True)
class JobRisk:
    """The trials of an estimate.

    `income` is the price before tax collected [USD], `overhead` what of it goes to overhead; `confidence` is what the contingency is
    to hold with. `price_per_cost` says by how much the income rises for a dollar more of direct cost, the terms as they are.
    """

    cost: CostRisk
    finish: FinishRisk
    confidence: float
    income: Decimal
    overhead: Decimal
    price_per_cost: float

    @property
    def effects(self) -> tuple[DriverEffect, ...]:
        """What each driver, largest share of the spread first, does to the price when that follows the cost, and to the margin when it stays."""
        if self.income <= 0:
            return ()
        return tuple(weigh_driver(driver, income=self.income, price_per_cost=self.price_per_cost) for driver in self.cost.drivers)

    @property
    def drivers(self) -> list[tuple[Driver, DriverEffect]]:
        """Each driver with its effect, largest share first."""
        return list(zip(self.cost.drivers, self.effects, strict=False))

    @property
    def contingency(self) -> Decimal:
        """What to set aside [USD] beyond the plain cost so that it holds with the wanted confidence; never below 0."""
        return max(Decimal("0.00"), self.cost.contingency(self.confidence))

    @property
    def chance_to_lose(self) -> float:
        """Share of the trials in which the job costs more than it brings in."""
        return self.cost.chance_to_lose(self.income)

    @property
    def chance_to_miss_overhead(self) -> float:
        """Share of the trials in which the job does not carry its overhead."""
        return self.cost.chance_to_lose(EXACT.subtract(self.income, self.overhead))

    def cost_at(self, chance: float) -> Decimal:
        """The direct cost [USD] that this share of the trials does not exceed (0 to 1): 0.8 gives P80."""
        return self.cost.quantile(chance)

    def __repr__(self) -> str:
        return f"<JobRisk: four of five trials cost up to {format_money(self.cost_at(0.8))}>"

    def _repr_html_(self) -> str:
        low, high = self.cost_at(0.5), self.cost_at(0.8)
        facts = [
            ("Direct cost", f"half of the trials up to {format_money(low)}, four of five up to {format_money(high)}"),
            ("Done", f"half of the trials by {format_half_day(self.finish_at(0.5))}, four of five by {format_half_day(self.finish_at(0.8))}"),
            ("Contingency", f"{format_money(self.contingency)} is enough in {format_trials(self.confidence)}"),
            ("Chance of a loss", f"{self.chance_to_lose:.1%}"),
            ("What drives it", "; ".join(driver.label for driver, _ in self.drivers[:3])),
        ]
        return facts_html("How sure cost and finish are", facts)

    def finish_at(self, chance: float) -> datetime:
        """The instant by which this share of the trials is done (0 to 1)."""
        return self.finish.quantile(chance)


def plan_schedule(estimate: Estimate) -> JobSchedule:
    """The job on the calendar, every date counted from its visit.

    Parameters
    ----------
    estimate
        The estimate.

    Returns
    -------
    Its steps with start and finish, trips, and the days without a sink [days of 24 h].

    Raises
    ------
    KitError
        If the order rules let steps wait for each other.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    >>> calendar = kit.plan_schedule(kit.estimate(job, kit.load_lists(kit.shipped("price_lists"))))
    >>> len(calendar.trips), calendar.days_without_sink < 1.0
    (1, True)
    """
    if not estimate.planned:  # an estimate stays as it is, and every paper asks
        estimate.planned.append(schedule_job(_plan_of(estimate), estimate.tasks, estimate.hired, estimate.trips, estimate.trips_priced))
    return estimate.planned[0]


def ahead_of(estimate: Estimate, today: date) -> Estimate:
    """The estimate with its days counted from a paper that goes out after the day on which a signature was expected: it is signed as long after that."""
    lists, visit = estimate.lists, estimate.job.identity.visit_date
    company = lists.company
    if estimate.job.terms.signed_on or visit + timedelta(days=company.days_to_sign) >= today:
        return estimate
    later = replace(company, days_to_sign=(today - visit).days + company.days_to_sign)
    return replace(estimate, lists=replace(lists, company=later))


def counted_from(estimate: Estimate, signed_on: date) -> Estimate:
    """The estimate with its days counted from the day on which the customer signed; no price follows from it."""
    as_read, filled = estimate.job_as_read, estimate.job
    signed = {"signed_on": signed_on}
    return replace(
        estimate,
        job_as_read=as_read.model_copy(update={"terms": as_read.terms.model_copy(update=signed)}),
        job=filled.model_copy(update={"terms": filled.terms.model_copy(update=signed)}),
    )


def crew_days_of(estimate: Estimate) -> float:
    """Days of work that the crew has in the job, ways among them: its hours on the clock, in working days of the house's length."""
    return sum(task.duration_h for task in estimate.tasks) / estimate.job.site.work_day_h


def cash_of(estimate: Estimate, schedule: JobSchedule | None = None) -> CashPlan:
    """How much of our own money is in the job, day by day, on its calendar (that of `plan_schedule`); signed when the terms or the company file say.

    Raises KitError as `plan_schedule`.
    """
    ends = {row.step: last_day(row.finish) for row in (schedule or plan_schedule(estimate)).schedule.steps}
    return plan_cash(estimate, plan_draws(estimate), signing_day(estimate.job, estimate.lists.company), ends)


def price_temporary_sink(current: Estimate) -> Decimal:
    """What a temporary sink adds to the price [USD], in the price already or not; 0 where no sink comes out."""
    job, lent = current.job_as_read, current.job.terms.temporary_sink
    plain = current.revalued is None and not current.own_steps  # then its price is that of its job and lists
    here = current.price if plain else estimate(job, current.lists, exact=False).price
    there = estimate(change_job(job, {"terms.temporary_sink": not lent}), current.lists, exact=False).price
    return EXACT.subtract(here, there) if lent else EXACT.subtract(there, here)


def without_disposer(current: Estimate) -> Estimate | None:
    """The same job without its disposer, where the disposer brings the drain down; None where it has none or the drain stays."""
    if current.job.plumbing.disposer == "none" or not current.design.drain.moves:
        return None
    changes = {"plumbing.disposer": "none", "scope.disposer.supplied_by": "excluded", "scope.disposer.installed_by": "nobody"}
    return estimate(change_job(current.job_as_read, changes), current.lists)


def set_contingency(job: Job, risk: JobRisk) -> Job:
    """The job with the contingency of these trials in its terms, as an amount with confidence and seed; it stays until somebody sets another."""
    return change_job(
        job,
        {
            "terms.contingency_amount": format_money(risk.contingency),
            "terms.contingency_confidence": f"{risk.confidence * 100:.10g} %",
            "terms.contingency_seed": risk.cost.seed,
        },
    )


def site_risks_of(estimate: Estimate) -> tuple[SiteRiskRow, ...]:
    """The rows of `site_risks.csv` whose condition holds for this job."""
    holding = holding_conditions(estimate.job, estimate.design, estimate.lists)
    return tuple(row for row in estimate.lists.site_risks if row.applies_when in holding)


def assess_risk(
    estimate: Estimate,
    schedule: JobSchedule | None = None,
    *,
    seed: int | None = None,
    trials: int = TRIALS,
    correlation: float | None = None,
    confidence: float | None = None,
) -> JobRisk:
    """Try cost and finish of an estimate many times; what is None is the company's own setting.

    Parameters
    ----------
    estimate
        Its hours, prices, waste and leads are spread, and its site risks happen or don't. It stays as it is.
    schedule
        Its calendar (that of `plan_schedule`), where that was planned already.
    seed
        0 or more; the same seed and estimate give the same trials.
    trials
        How often to try.
    correlation
        How far hours of different steps, and prices, go wrong together (0 to 1).
    confidence
        What the contingency is to hold with (0 to 1).

    Returns
    -------
    `cost_at(0.8)` is the direct cost [USD] that four of five trials don't exceed, `finish.quantile(0.8)` the day and hour by which they are done;
    `contingency` [USD], `chance_to_lose` and `chance_to_miss_overhead` (0 to 1), and `drivers`: what matters, with what it does to price and margin.

    Raises
    ------
    KitError
        As `plan_schedule`; or a setting makes no sense.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    >>> risk = kit.assess_risk(kit.estimate(job, kit.load_lists(kit.shipped("price_lists"))), trials=200)
    >>> risk.cost_at(0.5) <= risk.cost_at(0.8)
    True
    """
    company, risks = estimate.lists.company, site_risks_of(estimate)
    plan = _plan_of(estimate) if schedule is None else schedule.plan
    seed = company.risk_seed if seed is None else seed
    correlation = company.risk_correlation if correlation is None else correlation
    confidence = company.risk_confidence if confidence is None else confidence
    if not 0 <= confidence <= 1:
        raise KitError(f"A confidence of {confidence:g} can't be right. Give 0 to 1.")
    taxed = taxed_purchases(estimate)
    cost = cost_risk(
        [_widened(task) for task in estimate.tasks],
        [one if one.taxable == (one.id in taxed) else replace(one, taxable=one.id in taxed) for one in estimate.purchases],
        risks,
        seed=seed,
        trials=trials,
        correlation=correlation,
        price_spread=company.price_spread,
        waste_spread=company.waste_spread,
        counted={purchase.id for purchase in estimate.purchases if not estimate.lists.item(purchase.item).waste},
        tax=estimate.terms.value("in:tax"),
        tax_paid=estimate.amount("tax-paid"),
    )
    finish = finish_risk(
        [_widened(task) for task in plan.tasks],
        plan.calendar,
        plan.start,
        risks,
        seed=seed,
        trials=trials,
        correlation=correlation,
        leads=plan.leads,
        not_before=plan.not_before,
        base=None if schedule is None else schedule.finish,
    )
    bought = {purchase.id: purchase.item for purchase in estimate.purchases}
    cost = replace(cost, drivers=tuple(replace(driver, label=_label(driver, estimate, bought)) for driver in cost.drivers))
    return _weigh_trials(estimate, cost, finish, confidence)


def risk_at_terms(risk: JobRisk, priced: Estimate) -> JobRisk:
    """The same trials held against the price at other terms; cost and finish stay as they were tried."""
    return _weigh_trials(priced, risk.cost, risk.finish, risk.confidence)


def _weigh_trials(estimate: Estimate, cost: CostRisk, finish: FinishRisk, confidence: float) -> JobRisk:
    income = _income(estimate)
    return JobRisk(cost, finish, confidence, income, estimate.amount("overhead"), _price_per_cost(estimate) if income > 0 else 0.0)


def _plan_of(estimate: Estimate) -> JobPlan:
    """What the calendar needs of an estimate: its tasks, what is waited for, its working time."""
    return plan_job(estimate.job, estimate.lines, estimate.tasks, estimate.hired, estimate.trips, estimate.lists, estimate.step_names)


def _widened(task: Task) -> Task:
    """The task with room for its likely hours, which somebody may have set beyond the low or high ones."""
    if task.hours_low <= task.hours_likely <= task.hours_high:
        return task
    return replace(task, hours_low=min(task.hours_low, task.hours_likely), hours_high=max(task.hours_high, task.hours_likely))


def _label(driver: Driver, estimate: Estimate, bought: Mapping[str, str]) -> str:
    """A driver as people call it: the step's label, the name of the item bought (by purchase)."""
    kind, _, name = driver.id.partition(":")
    if kind == "task":
        return f"Hours: {estimate.step_names[Step(name)]}"
    if kind == "buy":
        purchase, _, what = name.rpartition("/")
        return f"{what.capitalize()}: {estimate.lists.item(bought[purchase]).name}"
    return driver.label


def _income(estimate: Estimate) -> Decimal:
    """The price without the tax that is only passed on."""
    passed_on = sum_money([row.amount for row in estimate.build_up if row.id == "tax-collected"])
    return EXACT.subtract(estimate.price, passed_on)


def _price_per_cost(estimate: Estimate) -> float:
    """By how much the income rises for a dollar more of direct cost, the terms as they are: worked out on the build-up itself.

    A rounding of the price is left out: it would make steps of what rises evenly.
    """
    if not estimate.tasks:
        return 1.0
    terms = replace(estimate.terms, inputs=tuple(term for term in estimate.terms.inputs if term.id != "in:round-to"))
    first, *others = estimate.tasks
    dearer = (replace(first, amount=EXACT.add(first.amount, PROBE)), *others)
    before, after = (
        _income(replace(estimate, build_up=price_job(estimate.purchases, estimate.cost_types, tasks, terms))) for tasks in (estimate.tasks, dearer)
    )
    return float(EXACT.divide(EXACT.subtract(after, before), PROBE))
