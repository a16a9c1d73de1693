"""What `--json` says of an estimate besides its rows: calendar, risk, payments, cash; instants on the kitchen's clock, to the minute."""

from datetime import date
from typing import Any

from kit.document import estimate_document, instant_text, money_text, plain_fields
from kit.estimating import Estimate
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import ScheduledStep
from kit.labor.trips import Trip, explain_people, explain_wait
from kit.outlook import JobRisk, assess_risk, cash_of, crew_days_of, plan_schedule, price_temporary_sink, without_disposer
from kit.pricing.cash import CashPlan
from kit.pricing.draws import Draw, DrawSchedule, plan_draws
from kit.units import format_exact_length

__all__ = ["dated_draws", "whole_document"]

_CHANCES = {"p10": 0.1, "p50": 0.5, "p80": 0.8, "p90": 0.9}


def whole_document(estimate: Estimate) -> dict[str, Any]:
    """The estimate, its `schedule`, `risk`, `draws` and `cash`, and the price `without_disposer` where one moves the drain."""
    other, schedule = without_disposer(estimate), plan_schedule(estimate)
    return {
        **estimate_document(estimate),
        "schedule": _schedule_document(estimate, schedule),
        "risk": _risk_document(assess_risk(estimate, schedule)),
        "without_disposer": None
        if other is None
        else {"price": money_text(other.price), "lower_by": format_exact_length(other.design.drain.lower_by_in or 0.0)},
        **_payments_document(estimate, schedule),
    }


def _schedule_document(estimate: Estimate, schedule: JobSchedule) -> dict[str, Any]:
    return {
        **plain_fields(schedule.schedule, "start"),
        **plain_fields(schedule, "finish", "ordered", "sink_out", "sink_back", "days_without_sink", "days_with_temporary_sink"),
        "temporary_sink_price": money_text(price_temporary_sink(estimate)),
        "crew_days": round(crew_days_of(estimate), 6),
        "days_on_site": schedule.schedule.crew_days,
        "trips": schedule.schedule.trips,
        "trips_priced": schedule.trips_priced,
        "trips_made": [_trip_document(estimate, trip) for trip in schedule.trips],
        "own_hours": schedule.own_hours,
        "hired_hours": schedule.hired_hours,
        "steps": [_step_document(estimate, row) for row in schedule.schedule.steps],
    }


def _trip_document(estimate: Estimate, trip: Trip) -> dict[str, Any]:
    """One trip: its steps, people and hours of work, the step that asks for the most people, what was waited for (None for the first)."""
    return {
        "steps": [str(step) for step in trip.steps],
        "people": trip.people,
        "work_h": round(trip.work_h, 4),
        "people_for": str(trip.crowded),
        "waits_for": None if trip.waits_for is None else str(trip.waits_for),
        "who": explain_people(trip, estimate.step_names),
        "why": explain_wait(trip, estimate.step_names, estimate.lists) or None,
    }


def _step_document(estimate: Estimate, row: ScheduledStep) -> dict[str, Any]:
    return {
        "step": str(row.step),
        "label": estimate.step_names[row.step],
        **plain_fields(row, "trade", "crew", "start", "finish", "latest_start"),
        "float_h": round(row.float_h, 2),
        "free_float_h": round(row.free_float_h, 2),
        **plain_fields(row, "critical", "held_by", "wait_until"),
    }


def _risk_document(risk: JobRisk) -> dict[str, Any]:
    return {
        **{name: getattr(risk.cost, name) for name in ("seed", "trials", "correlation")},
        "cost": {**{name: money_text(risk.cost_at(chance)) for name, chance in _CHANCES.items()}, "mean": money_text(risk.cost.mean)},
        "finish": {name: instant_text(risk.finish_at(chance)) for name, chance in _CHANCES.items()},
        "confidence": risk.confidence,
        "contingency": money_text(risk.contingency),
        "chance_to_lose": risk.chance_to_lose,
        "chance_to_miss_overhead": risk.chance_to_miss_overhead,
        "drivers": [
            {
                "id": driver.id,
                "label": driver.label,
                "share": round(driver.share, 4) + 0.0,
                "chance": driver.chance,
                "cost_low": money_text(driver.low),
                "cost_high": money_text(driver.high),
                "price_low": money_text(effect.price_low),
                "price_high": money_text(effect.price_high),
                "margin_low": round(effect.margin_low, 4) + 0.0,
                "margin_high": round(effect.margin_high, 4) + 0.0,
            }
            for driver, effect in risk.drivers
        ],
    }


def dated_draws(draws: DrawSchedule, cash: CashPlan) -> list[tuple[int, Draw, date]]:
    """The customer's payments by number, each with its day."""
    return [(number, draw, day) for number, (draw, day) in enumerate(zip(draws.draws, cash.draw_days, strict=True), 1)]


def _payments_document(estimate: Estimate, schedule: JobSchedule) -> dict[str, Any]:
    """`draws`, which sum to the price, and `cash` by day; a draw's `step` is None where it is due at signing."""
    if not estimate.price:
        return {"draws": [], "cash": None}
    draws, cash = plan_draws(estimate), cash_of(estimate, schedule)
    return {
        "draws": [
            {"number": number, **plain_fields(draw, "label", "step"), "day": day.isoformat(), **plain_fields(draw, "earned", "held", "due")}
            for number, draw, day in dated_draws(draws, cash)
        ],
        "cash": {**plain_fields(cash, "most_fronted"), "worst_day": cash.worst.day.isoformat(), **plain_fields(cash, "days", "flows")},
    }
