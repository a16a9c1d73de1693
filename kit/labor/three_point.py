"""What do low, likely and high say together? Mean, variance and quantiles of three-point estimates.

`low` and `high` are the limits themselves, not the tenth and ninetieth percentile; `likely` is the mode. All three in one unit.

Mind the trap: the short formula `((high - low) / 6) ** 2` is not the variance of a draw from a beta-PERT distribution, not even of a
symmetric one. They agree only where the mode lies about 0.15 of the range from an end. What is drawn here is beta-PERT, so
`beta_pert_variance` is the one that fits it; `pert_variance` is kept for checking estimates made elsewhere.
"""

from collections.abc import Sequence
from math import isfinite
from typing import TYPE_CHECKING

from kit.errors import Fault, KitError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = [
    "beta_pert_quantiles",
    "beta_pert_shape",
    "beta_pert_variance",
    "check_three_points",
    "pert_mean",
    "pert_variance",
]

WEIGHT = 4.0
"""How often the mode counts against the two ends: 4 in PERT, by definition; another one makes it "modified PERT"."""

CELLS = 2048
"""Cells of the numeric integral; its quantiles then agree with closed forms to about a millionth of the range."""


def check_three_points(low: float, likely: float, high: float, place: str = "") -> None:
    """Refuse three points that are not finite or not in order low, likely, high (KitError)."""
    if not (isfinite(low) and isfinite(high) and low <= likely <= high):
        raise KitError(Fault(place, f"{low:g}, {likely:g}, {high:g} are no low, likely and high. Give three numbers, none below the one before it."))


def pert_mean(low: float, likely: float, high: float, weight: float = WEIGHT) -> float:
    """Mean of a PERT estimate [the unit of its points], classic, beta or modified: `(low + weight * likely + high) / (weight + 2)`."""
    check_three_points(low, likely, high)
    return (low + weight * likely + high) / (weight + 2)


def pert_variance(low: float, likely: float, high: float) -> float:
    """Variance [the unit of the points, squared] by the classic short formula, `((high - low) / 6) ** 2`, whatever the mode."""
    check_three_points(low, likely, high)
    return ((high - low) / 6) ** 2


def beta_pert_shape(low: float, likely: float, high: float, weight: float = WEIGHT) -> tuple[float, float]:
    """Get alpha and beta of the beta-PERT distribution, from the mode.

    Returns
    -------
    `1 + weight * (likely - low) / (high - low)` and `1 + weight * (high - likely) / (high - low)`. The form that starts from the
    mean is 0/0 for a symmetric estimate, so it isn't used.

    Raises
    ------
    KitError
        Points out of order, or without any spread.
    """
    check_three_points(low, likely, high)
    if low == high:
        raise KitError(f"{low:g} to {high:g} has no spread, so it has no shape.")
    position = (likely - low) / (high - low)
    return 1 + weight * position, 1 + weight * (1 - position)


def beta_pert_variance(low: float, likely: float, high: float, weight: float = WEIGHT) -> float:
    """Variance [the unit of the points, squared] of a draw from the (modified) beta-PERT distribution: `(mean - low) * (high - mean) / (weight + 3)`."""
    mean = pert_mean(low, likely, high, weight)
    return (mean - low) * (high - mean) / (weight + 3)


def beta_pert_quantiles(
    low: float, likely: float, high: float, chances: "Sequence[float] | NDArray[np.float64]", weight: float = WEIGHT
) -> "NDArray[np.float64]":
    """Find the values that a beta-PERT draw stays below with given chances.

    Parameters
    ----------
    low, likely, high
        The estimate; without spread every quantile is `likely`.
    chances
        From 0 to 1, any number of them.
    weight
        Of the mode.

    Returns
    -------
    One value for each chance, by integrating the density (Simpson's rule on `x = sin(angle) ** 2`, which is smooth at both ends)
    and reading the integral backwards.

    Raises
    ------
    KitError
        Points out of order.
    """
    import numpy as np

    check_three_points(low, likely, high)
    asked_chances = np.asarray(chances, dtype=np.float64)
    if low == high:
        return np.full(asked_chances.shape, float(likely))
    alpha, beta = beta_pert_shape(low, likely, high, weight)
    angle = np.linspace(0.0, np.pi / 2, 2 * CELLS + 1)
    sine, cosine = np.sin(angle), np.cos(angle)
    density = sine ** (2 * alpha - 1) * cosine ** (2 * beta - 1)
    cells = density[:-2:2] + 4 * density[1::2] + density[2::2]
    below = np.concatenate(([0.0], np.cumsum(cells)))
    values: NDArray[np.float64] = low + (high - low) * np.interp(asked_chances, below / below[-1], sine[::2] ** 2)
    return values
