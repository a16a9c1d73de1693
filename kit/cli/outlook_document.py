"""When it is done and how sure we are, as plain data: instants on the clock of the kitchen's wall, to the minute."""

from datetime import datetime
from typing import Any

from kit.document import money_text, plain
from kit.estimate import Estimate
from kit.labor.calendar import to_minute
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import ScheduledStep
from kit.outlook import JobRisk, price_temporary_sink, risk_of, schedule_of, without_disposer
from kit.units import format_exact_length

__all__ = ["CHANCES", "outlook_document", "outlook_figures"]

CHANCES = {"p10": 0.1, "p50": 0.5, "p80": 0.8, "p90": 0.9}


def outlook_document(estimate: Estimate) -> dict[str, Any]:
    """`schedule` and `risk` of an estimate, and the price `without_disposer` where one moves the drain; instants to the minute on the kitchen's clock."""
    plain = without_disposer(estimate)
    return {
        "schedule": _schedule_document(estimate, schedule_of(estimate)),
        "risk": _risk_document(risk_of(estimate)),
        "without_disposer": None
        if plain is None
        else {"price": money_text(plain.price), "lower_by": format_exact_length(plain.design.drain.lower_by_in or 0.0)},
    }


def _schedule_document(estimate: Estimate, found: JobSchedule) -> dict[str, Any]:
    return {
        "start": _instant(found.schedule.start),
        "finish": _instant(found.finish),
        "ordered": _instant(found.ordered),
        "sink_out": _instant(found.sink_out),
        "sink_back": _instant(found.sink_back),
        "days_without_sink": plain(found.days_without_sink),
        "days_with_temporary_sink": plain(found.days_with_temporary_sink),
        "temporary_sink_price": money_text(price_temporary_sink(estimate)),
        "crew_days": found.schedule.crew_days,
        "trips": found.schedule.trips,
        "trips_priced": len(found.trips) + (estimate.job.terms.extra_trips or 0),
        "own_hours": found.own_hours,
        "hired_hours": found.hired_hours,
        "steps": [_step_document(estimate, row) for row in found.schedule.steps],
    }


def _step_document(estimate: Estimate, row: ScheduledStep) -> dict[str, Any]:
    return {
        "step": str(row.step),
        "label": estimate.lists.steps[row.step].label,
        "trade": row.trade,
        "crew": row.crew,
        "start": _instant(row.start),
        "finish": _instant(row.finish),
        "latest_start": _instant(row.latest_start),
        "float_h": round(row.float_h, 2),
        "free_float_h": round(row.free_float_h, 2),
        "critical": row.critical,
        "held_by": None if row.held_by is None else str(row.held_by),
        "wait_until": _instant(row.wait_until),
    }


def _risk_document(risk: JobRisk) -> dict[str, Any]:
    return {
        "seed": risk.cost.seed,
        "trials": risk.cost.trials,
        "correlation": risk.cost.correlation,
        "cost": {**{name: money_text(risk.cost_at(chance)) for name, chance in CHANCES.items()}, "mean": money_text(risk.cost.mean)},
        "finish": {name: _instant(risk.finish_at(chance)) for name, chance in CHANCES.items()},
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
            for driver, effect in zip(risk.cost.drivers, risk.effects, strict=False)
        ],
    }


def outlook_figures(estimate: Estimate) -> dict[str, Any]:
    """What a comparison shows of an alternate: finish, days without a sink, P50 and P80."""
    schedule, risk = schedule_of(estimate), risk_of(estimate)
    return {
        "finish": _instant(schedule.finish),
        "finish_p50": _instant(risk.finish_at(0.5)),
        "finish_p80": _instant(risk.finish_at(0.8)),
        "cost_p50": money_text(risk.cost_at(0.5)),
        "cost_p80": money_text(risk.cost_at(0.8)),
        "days_without_sink": plain(schedule.days_without_sink),
        "chance_to_lose": risk.chance_to_lose,
    }


def _instant(when: datetime | None) -> str | None:
    return None if when is None else to_minute(when).isoformat(timespec="minutes")
