"""Finished jobs made for a test: steps with hours, goods with quantities, truths drawn from a prior."""

import datetime as dt
import math
import random
import shutil
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import kit
from kit.archive.spent import SpentRow
from kit.contract.events import Offered
from kit.contract.ledger import Ledger
from kit.issued import list_issued
from kit.learning.belief import Belief
from kit.learning.job_rows import JobPlan, JobRow, PlannedItem, PlannedStep
from kit.records import CostType
from kit.steps import Step

__all__ = ["FIRST_END", "LISTS", "as_own", "draw_truth", "finished_job", "goods", "hours"]

LISTS = kit.load_lists(kit.shipped("price_lists"))
FIRST_END = dt.date(2026, 3, 2)


def draw_truth(prior: Belief, draw: random.Random) -> tuple[float, float]:
    """Mean and standard deviation, drawn from a normal-inverse-gamma prior."""
    variance = prior.freedom * prior.variance / draw.gammavariate(prior.freedom / 2, 2)
    return draw.gauss(prior.mean, math.sqrt(variance / prior.jobs)), math.sqrt(variance)


def hours(step: str | None, spent: float, *, code: str = "310", **more: Any) -> SpentRow:
    """Own hours of a step."""
    named = None if step is None else Step(step)
    return SpentRow(1, FIRST_END, code, CostType.LABOR, "work", Decimal("50.00"), spent, "", "", step=named, **more)


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
        "starts_promised": None,
        "started": None,
        "done_promised": None,
        "done": None,
        "plan": JobPlan(steps or {"build-frame": PlannedStep("310", 1.05, (("frame-member", 4.0),), 1.05)}, items or {}),
        "spent": spent,
    }
    return JobRow(**{**facts, **more})


def as_own(demonstration: Path, folder: Path, jobs: int) -> Path:
    """The first of its jobs as if they had happened, with lists of the firm's own."""
    shutil.copytree(demonstration / "price_lists", folder / "price_lists", dirs_exist_ok=True)
    company = folder / "price_lists" / "company.csv"
    company.write_text(company.read_text(encoding="utf-8").replace("name,Invented Kitchens", "name,Our Own Kitchens"), encoding="utf-8")
    source, ledger = Ledger(demonstration), Ledger(folder)
    known = set(ledger.contracts())
    for number in sorted(source.contracts())[:jobs]:
        if number not in known:
            for path in list_issued(demonstration, number):
                shutil.copy(path, folder / path.name)
            happened = [(event.what, event.day) for event in source.events(number)]
            ledger.append_all(number, [(what.model_copy(update={"invented": False}) if isinstance(what, Offered) else what, day) for what, day in happened])
    return folder
