"""Finished jobs made for a test: steps with hours, goods with quantities, truths drawn from a prior."""

import datetime as dt
import math
import random
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import kit
from kit.archive.spent import SpentRow
from kit.learning.belief import Belief
from kit.learning.job_rows import JobPlan, JobRow, PlannedItem, PlannedStep
from kit.records import CostType
from kit.steps import Step

__all__ = ["FIRST_END", "LISTS", "draw_truth", "finished_job", "goods", "hours"]

LISTS = kit.load_lists(kit.shipped("price_lists"))
FIRST_END = dt.date(2026, 3, 2)


def draw_truth(prior: Belief, draw: random.Random) -> tuple[float, float]:
    """Mean and standard deviation, drawn from a normal-inverse-gamma prior."""
    variance = prior.freedom * prior.variance / draw.gammavariate(prior.freedom / 2, 2)
    return draw.gauss(prior.mean, math.sqrt(variance / prior.jobs)), math.sqrt(variance)


def hours(step: str | None, spent: float, *, code: str = "310", **more: Any) -> SpentRow:
    """Own hours of a step."""
    named = None if step is None else Step(step)
    return SpentRow(1, FIRST_END, code, CostType.LABOUR, "work", Decimal("50.00"), spent, "", "", step=named, **more)


def goods(item: str, *, code: str = "310", **more: Any) -> SpentRow:
    """A purchase of an item."""
    return SpentRow(2, FIRST_END, code, CostType.MATERIAL, item, Decimal("10.00"), 0.0, "", "", item=item, **more)


def finished_job(
    number: int,
    *spent: SpentRow,
    steps: Mapping[str, PlannedStep] | None = None,
    items: Mapping[str, PlannedItem] | None = None,
    stage: Any = "finished",
    **more: Any,
) -> JobRow:
    """The number-th job, ended a week after the one before it and offered six weeks earlier; its plan has one frame of four members unless said otherwise."""
    ended = FIRST_END + dt.timedelta(weeks=number)
    facts: dict[str, Any] = {
        "number": f"JOB-{number:02d}",
        "stage": stage,
        "invented": False,
        "mount": "under",
        "counter": "stone-3cm",
        "counter_name": "3 cm stone countertop",
        "offered": ended - dt.timedelta(weeks=6),
        "valid_until": ended - dt.timedelta(weeks=2),
        "signed": ended - dt.timedelta(weeks=5),
        "ended": ended,
        "price": Decimal("1000.00"),
        "revenue": Decimal("1000.00"),
        "cost_promised": Decimal("700.00"),
        "cost_real": Decimal("750.00"),
        "hours_promised": 10.0,
        "hours_real": 11.0,
        "call_back_hours": 0.0,
        "days": 35,
        "days_worked": 4,
        "plan": JobPlan(steps or {"build-frame": PlannedStep("310", 1.05, (("frame-member", 4.0),), 1.05)}, items or {}),
        "spent": spent,
    }
    return JobRow(**{**facts, **more})
