"""In which order are the steps of this job done? The trade's usual order, changed by the rules whose condition holds."""

from collections.abc import Collection, Mapping
from functools import lru_cache

from kit.labor.network import bridge_absent
from kit.lists import Lists
from kit.steps import Step

__all__ = ["order_of_work", "order_steps"]


def order_of_work(lists: Lists, conditions: Collection[str]) -> dict[Step, tuple[Step, ...]]:
    """For every step of the trade, done or not, the steps that must end first under these conditions."""
    after = {step: _steps(row.after or ()) for step, row in lists.steps.items()}
    for rule in lists.order_rules:
        if rule.rule in conditions:
            after[rule.step] = _steps(rule.after)
    return after


@lru_cache(maxsize=256)
def _steps(names: tuple[str, ...]) -> tuple[Step, ...]:
    return tuple(Step(name) for name in names)


def order_steps(after: Mapping[Step, tuple[Step, ...]], present: Collection[Step], lists: Lists) -> dict[Step, tuple[Step, ...]]:
    """For the steps that this job has, in the order of the trade, those of them that must end first.

    A step that the job doesn't have is replaced by what it waits for itself. The ways between (`TRIPS`) are no step of the order.
    """
    ordered = sorted((step for step in present if step is not Step.TRIPS), key=lambda step: lists.steps[step].order)
    return bridge_absent(after, ordered)
