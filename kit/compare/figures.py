"""What does an owner weigh in an alternate? Price, margin for a day of the crew, cash, risk, trips, days without a sink."""

from dataclasses import dataclass, fields, replace
from datetime import timedelta
from decimal import Decimal
from typing import Any, TypeVar

from kit.estimating import Estimate
from kit.labor.job_schedule import JobSchedule
from kit.money import EXACT, round_cents, to_decimal
from kit.outlook import JobRisk, assess_risk, cash_of, crew_days_of, plan_schedule, risk_at_terms
from kit.records import Finding

__all__ = ["Figures", "PlannedFigures", "try_option", "weigh_option", "weigh_plan", "weigh_terms"]

P80 = 0.8
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class PlannedFigures:
    """What an owner weighs as it is planned [USD, h, days]: at hand at once.

    `per_crew_day` is the margin for each day that the crew works; `fronted` the most of our own
    money in the job on any day; `lead_days` from ordering to done.
    """

    price: Decimal
    cost: Decimal
    gross: Decimal
    margin: Decimal
    crew_days: float
    per_crew_day: Decimal | None
    own_hours: float
    hired: Decimal
    trips: int
    fronted: Decimal
    days_without_sink: float | None
    lead_days: float
    worst: Finding | None
    cut_out_by: str
    schedule: JobSchedule


@dataclass(frozen=True, slots=True)
class Figures(PlannedFigures):
    """The same with the trials: `p80` is the direct cost that four of five of them don't exceed."""

    p80: Decimal
    risk: JobRisk


AnyFigures = TypeVar("AnyFigures", bound=PlannedFigures)


def weigh_option(priced: Estimate) -> Figures:
    """The figures of an estimate: the calendar, the cash and the trials are worked out for it, once. Raises KitError as `kit.outlook.plan_schedule`."""
    return try_option(weigh_plan(priced), priced)


def weigh_plan(priced: Estimate) -> PlannedFigures:
    """The figures without the trials, which take a hundred times as long; errors as in `weigh_option`."""
    schedule, crew_days = plan_schedule(priced), crew_days_of(priced)
    start = schedule.ordered or schedule.schedule.start
    return PlannedFigures(
        price=priced.price,
        cost=priced.cost,
        gross=priced.amount("gross"),
        margin=priced.margin,
        crew_days=crew_days,
        per_crew_day=_per_crew_day(priced, crew_days),
        own_hours=priced.hours,
        hired=priced.amount("hired"),
        trips=priced.trips_priced,
        fronted=cash_of(priced, schedule).most_fronted,
        days_without_sink=schedule.days_without_sink,
        lead_days=(schedule.finish - start) / _DAY,
        worst=priced.worst,
        cut_out_by=_cut_out_by(priced),
        schedule=schedule,
    )


def try_option(figures: PlannedFigures, priced: Estimate) -> Figures:
    """The same figures with the trials of their estimate."""
    risk = assess_risk(priced, figures.schedule)
    return Figures(**{field.name: getattr(figures, field.name) for field in fields(PlannedFigures)}, p80=risk.cost_at(P80), risk=risk)


def weigh_terms(figures: AnyFigures, priced: Estimate) -> AnyFigures:
    """The figures of the same work at other terms: price, margin, cash and the chance to lose are worked out again; cost, hours and calendar stay."""
    trials: dict[str, Any] = {"risk": risk_at_terms(figures.risk, priced)} if isinstance(figures, Figures) else {}
    return replace(
        figures,
        price=priced.price,
        gross=priced.amount("gross"),
        margin=priced.margin,
        per_crew_day=_per_crew_day(priced, figures.crew_days),
        fronted=cash_of(priced, figures.schedule).most_fronted,
        **trials,
    )


def _per_crew_day(priced: Estimate, crew_days: float) -> Decimal | None:
    """Margin for each day that the crew works [USD]; None where it doesn't."""
    days = to_decimal(crew_days, 6)
    return round_cents(EXACT.divide(priced.amount("gross"), days)) if days else None


def _cut_out_by(priced: Estimate) -> str:
    """Who cuts the opening for the sink, and answers for it."""
    job = priced.job
    if job.counter.made_by != "stays" and job.scope.counter.installed_by in {"customer", "trade"}:
        return {"customer": "the customer", "trade": "a hired trade"}[job.scope.counter.installed_by]
    shop = "the tile setter" if priced.design.setting.laid_in_place else "the countertop shop"
    return {"us": "us", "fabricator": shop, "stays": "us, in the countertop that stays"}[job.counter.made_by]
