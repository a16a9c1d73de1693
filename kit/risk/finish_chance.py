"""By a given day, how likely is a network of uncertain activities done? By the normal approximation of PERT, and by trials.

Durations and days are in any one unit of time, counted from the start; three points as `kit.labor.three_point`. The method and the example of fifteen
weeks that its test is held to are from memory (heizer-render); the trials are held against distributions of an outside library.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import reduce
from math import isclose, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING, Generic, TypeVar

from kit.labor.network import ROUNDING, Activity, Link, Network, order_activities, pass_forward, plan_network
from kit.labor.three_point import pert_mean, pert_variance
from kit.risk.sampling import Block, check_settings, draw_item, trial_blocks
from kit.risk.uncertain import RiskItem

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = ["FinishChance", "UncertainActivity", "approximate_finish", "try_finish"]

Id = TypeVar("Id", bound=Hashable)


@dataclass(frozen=True, slots=True)
class UncertainActivity(Generic[Id]):
    """One activity: the least, the likely and the most it may last, and what must end before it starts."""

    id: Id
    low: float
    likely: float
    high: float
    after: tuple[Link[Id], ...] = ()


@dataclass(frozen=True, slots=True)
class FinishChance(Generic[Id]):
    """Finish of a network: mean and standard deviation, the chance (0 to 1) to be done by the day asked for, the path of mean durations."""

    mean: float
    deviation: float
    chance: float
    critical: tuple[Id, ...]


def approximate_finish(activities: Sequence[UncertainActivity[Id]], by: float) -> FinishChance[Id]:
    """Work the chance to finish by a day as PERT does: the critical path of the mean durations, taken as normal.

    Parameters
    ----------
    activities
        Any order.
    by
        Day asked for, from the start.

    Returns
    -------
    Mean (sum of means along the path), deviation (root of the sum of variances), chance and path; of several paths as long, the one
    with the most variance.

    Raises
    ------
    KitError
        As `plan_network`; points out of order.

    Notes
    -----
    Variance is `pert_variance`. Paths beside the critical one are left out, so where some are nearly as long the chance is too high:
    `try_finish` counts them.
    """
    network = _plan_means(activities)
    path, variance = _longest(activities, network)
    deviation = sqrt(variance)
    chance = NormalDist(network.finish, deviation).cdf(by) if deviation else float(by >= network.finish)
    return FinishChance(network.finish, deviation, chance, path)


def try_finish(activities: Sequence[UncertainActivity[Id]], by: float, *, seed: int, trials: int) -> FinishChance[Id]:
    """Work the chance to finish by a day from trials: each draws every duration from its beta-PERT distribution, by itself.

    Parameters
    ----------
    activities, by
        As `approximate_finish`.
    seed, trials
        The same seed gives the same trials; an activity draws the same whatever else the network holds.

    Returns
    -------
    Mean, deviation and share of the trials that are done by the day; the path is that of the mean durations.

    Raises
    ------
    KitError
        As `approximate_finish`; less than one trial, a negative seed.
    """
    import numpy as np

    network = _plan_means(activities)
    items = [RiskItem(f"activity:{one.id}", str(one.id), one.low, one.likely, one.high) for one in activities]
    correlation = 0.0  # each by itself
    check_settings(items, (), seed=seed, trials=trials, correlation=correlation)
    after = {one.id: one.after for one in activities}
    links = {name: after[name] for name in order_activities({name: [link.before for link in before] for name, before in after.items()})}

    def try_block(block: Block) -> "NDArray[np.float64]":
        drawn = {one.id: draw_item(item, seed=seed, block=block, correlation=correlation) for one, item in zip(activities, items, strict=True)}
        early = pass_forward(links, lambda _: np.zeros(block.size), lambda end, link: end + link.lag, lambda name, ready: ready + drawn[name], np.maximum)
        return reduce(np.maximum, (end for _, end in early.values()), np.zeros(block.size))

    ends = np.concatenate([try_block(block) for block in trial_blocks(trials)])
    return FinishChance(float(ends.mean()), float(ends.std()), float((ends <= by).mean()), network.critical)


def _plan_means(activities: Sequence[UncertainActivity[Id]]) -> Network[Id]:
    return plan_network([Activity(one.id, pert_mean(one.low, one.likely, one.high), one.after) for one in activities])


def _longest(activities: Sequence[UncertainActivity[Id]], network: Network[Id]) -> tuple[tuple[Id, ...], float]:
    """Of the paths without float the one with the most variance, and that variance."""
    by_id, critical = {one.id: one for one in activities}, set(network.critical)
    best: dict[Id, tuple[tuple[Id, ...], float]] = {}
    for name in network.critical:
        one, start = by_id[name], network.times[name].early_start
        before = [best[link.before] for link in one.after if link.before in critical and _meets(network.times[link.before].early_finish + link.lag, start)]
        path, variance = max(before, key=lambda path_and_variance: path_and_variance[1], default=((), 0.0))
        best[name] = (*path, name), variance + pert_variance(one.low, one.likely, one.high)
    ends = [best[name] for name in network.critical if _meets(network.times[name].early_finish, network.finish)]
    return max(ends, key=lambda path_and_variance: path_and_variance[1], default=((), 0.0))


def _meets(end: float, start: float) -> bool:
    return isclose(end, start, abs_tol=ROUNDING)
