"""What draws, cash and working back read of a priced job, and where each of its costs falls in the order of the work."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Protocol

from kit.labor.network import order_activities
from kit.lists import Lists
from kit.pricing.job_terms import PriceTerms
from kit.records import BuildUp, CostType, Line, Purchase, Task
from kit.steps import Step

__all__ = ["Priced", "step_of_goods", "step_of_purchase", "work_order"]


class Priced(Protocol):
    """A priced job, such as `kit.Estimate`."""

    @property
    def lists(self) -> Lists: ...  # noqa: D102 - the names say it
    @property
    def step_names(self) -> Mapping[Step, str]: ...  # noqa: D102
    @property
    def lines(self) -> tuple[Line, ...]: ...  # noqa: D102
    @property
    def purchases(self) -> tuple[Purchase, ...]: ...  # noqa: D102
    @property
    def tasks(self) -> tuple[Task, ...]: ...  # noqa: D102
    @property
    def hired(self) -> tuple[Task, ...]: ...  # noqa: D102
    @property
    def terms(self) -> PriceTerms: ...  # noqa: D102
    @property
    def build_up(self) -> tuple[BuildUp, ...]: ...  # noqa: D102
    @property
    def cost_types(self) -> Mapping[str, CostType]: ...  # noqa: D102
    @property
    def price(self) -> Decimal: ...  # noqa: D102
    def amount(self, row: str) -> Decimal: ...  # noqa: D102


def work_order(job: Priced) -> tuple[Step, ...]:
    """Every step of the job, hired ones among them, in an order that can be worked; the ways to the house last."""
    rows = job.lists.steps
    after: dict[Step, tuple[Step, ...]] = {}
    for task in sorted((*job.tasks, *job.hired), key=lambda task: rows[task.step].order):
        after[task.step] = (*after.get(task.step, ()), *task.after)
    for line in sorted(job.lines, key=lambda line: rows[line.step].order):
        after.setdefault(line.step, ())
    return order_activities(after)


def step_of_goods(order: Sequence[Step]) -> Step:
    """Where goods are there: when they are received, at the start in a job that receives none."""
    return Step.RECEIVE if Step.RECEIVE in order else order[0]


def step_of_purchase(job: Priced, purchase: Purchase, order: Sequence[Step]) -> Step:
    """Where a purchase is there or done: goods when they are received, hired work and fees with the last of their steps."""
    if purchase.packs or not purchase.line_ids:
        return step_of_goods(order)
    steps = {line.step for line in job.lines if line.id in purchase.line_ids}
    return max(steps, key=order.index)
