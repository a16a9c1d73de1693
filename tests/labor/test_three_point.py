"""Three-point estimates: formulas, the variance trap, and scipy as the outside judge."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from kit.errors import KitError
from kit.labor.three_point import (
    beta_pert_quantiles,
    beta_pert_shape,
    beta_pert_variance,
    check_three_points,
    pert_mean,
    pert_variance,
)

# Cost Estimating and Assessment Guide (gao-20-195g), Table 12: low, likely, high in thousand dollars per air vehicle
PRINTED_TABLE_12 = (
    (17955, 19645, 21785),
    (8500, 10553, 13000),
    (4000, 4306, 5100),
    (4100, 4305, 4650),
    (550, 600, 650),
    (32300, 35547, 52500),
    (1950, 2136, 2600),
)

points = st.tuples(st.floats(-50, 50), st.floats(0.01, 50), st.floats(0, 1)).map(lambda drawn: (drawn[0], drawn[0] + drawn[1] * drawn[2], drawn[0] + drawn[1]))


@pytest.mark.parametrize(
    ("estimate", "shape", "mean", "hand_beta_sd", "hand_classic_sd"),
    [
        ((2, 4, 6), (3, 3), 4.0, sqrt(4 / 7), 4 / 6),
        ((3, 5, 9), (7 / 3, 11 / 3), 16 / 3, sqrt((16 / 3 - 3) * (9 - 16 / 3) / 7), 1.0),
    ],
)
def test_both_spreads_of_an_estimate(estimate, shape, mean, hand_beta_sd, hand_classic_sd):
    """Worked by hand: 0.7559 and 0.6667 for 2, 4, 6; 1.1055 and 1 for 3, 5, 9."""
    assert beta_pert_shape(*estimate) == pytest.approx(shape)
    assert pert_mean(*estimate) == pytest.approx(mean)
    assert sqrt(beta_pert_variance(*estimate)) == pytest.approx(hand_beta_sd)
    assert sqrt(pert_variance(*estimate)) == pytest.approx(hand_classic_sd)


def test_the_short_formula_is_not_the_variance_of_a_draw():
    """Symmetric, the short formula says a ninth less than the square root of what is drawn; they meet near 0.15 of the range from an end."""
    assert sqrt(beta_pert_variance(0, 0.5, 1)) / sqrt(pert_variance(0, 0.5, 1)) == pytest.approx(6 / sqrt(28))
    # hand: (1 + 4 p)(5 - 4 p) / 36 / 7 = 1 / 36 gives 16 p^2 - 16 p + 2 = 0
    hand_meeting = (1 - sqrt(0.5)) / 2
    assert hand_meeting == pytest.approx(0.15, abs=0.005)
    assert beta_pert_variance(0, hand_meeting, 1) == pytest.approx(pert_variance(0, hand_meeting, 1))
    assert beta_pert_variance(0, 0.1, 1) < pert_variance(0, 0.1, 1) < beta_pert_variance(0, 0.2, 1)


def test_sums_of_the_federal_table():
    """GAO-20-195G Table 12: printed inputs; sums worked out. The sum of the likely ones is not the mean of the sum."""
    likely = sum(points[1] for points in PRINTED_TABLE_12)
    mean = sum(pert_mean(*points) for points in PRINTED_TABLE_12)
    assert likely == 77_092
    assert mean == pytest.approx(79_668, abs=0.5)
    assert (sum(points[0] for points in PRINTED_TABLE_12), sum(points[2] for points in PRINTED_TABLE_12)) == (69_355, 100_285)
    assert likely < mean


@settings(deadline=None)
@given(points)
def test_moments_agree_with_scipy(estimate):
    """Mean and variance are those of scipy's beta distribution."""
    low, _, high = estimate
    alpha, beta = beta_pert_shape(*estimate)
    judge = stats.beta(alpha, beta, loc=low, scale=high - low)
    assert pert_mean(*estimate) == pytest.approx(judge.mean(), abs=1e-9)
    assert beta_pert_variance(*estimate) == pytest.approx(judge.var(), rel=1e-6)


@settings(deadline=None, max_examples=50)
@given(points, st.floats(0.5, 10))
def test_modified_weight_agrees_with_scipy(estimate, weight):
    """Another weight of the mode: mean (low + weight mode + high) / (weight + 2), variance over weight + 3."""
    low, _, high = estimate
    judge = stats.beta(*beta_pert_shape(*estimate, weight), loc=low, scale=high - low)
    assert pert_mean(*estimate, weight) == pytest.approx(judge.mean(), abs=1e-9)
    assert beta_pert_variance(*estimate, weight) == pytest.approx(judge.var(), rel=1e-6)


@pytest.mark.parametrize("position", [0.0, 0.01, 0.15, 0.3, 0.5, 0.77, 0.99, 1.0])
def test_quantiles_agree_with_scipy(position):
    """To two millionths of the range, mode at either end included."""
    chances = [0.0, 0.0001, 0.01, 0.1, 0.25, 0.5, 0.8, 0.9, 0.99, 0.9999, 1.0]
    judged = stats.beta(1 + 4 * position, 5 - 4 * position).ppf(chances)
    assert list(beta_pert_quantiles(0, position, 1, chances)) == pytest.approx(list(judged), abs=2e-6)


def test_quantiles_in_closed_form_where_the_mode_is_an_end():
    """With the mode at the low end the chance is 1 - (1 - x)^5, at the high end x^5."""
    assert beta_pert_quantiles(0, 0, 1, [0.5])[0] == pytest.approx(1 - 0.5 ** (1 / 5), abs=2e-6)
    assert beta_pert_quantiles(10, 20, 20, [0.5])[0] == pytest.approx(10 + 10 * 0.5 ** (1 / 5), abs=2e-5)


def test_an_estimate_without_spread_is_itself():
    """Mean and quantiles are the value, the variances 0, and there is no shape."""
    assert pert_mean(5, 5, 5) == 5
    assert pert_variance(5, 5, 5) == beta_pert_variance(5, 5, 5) == 0
    assert list(beta_pert_quantiles(5, 5, 5, [0, 0.5, 1])) == [5, 5, 5]
    with pytest.raises(KitError, match=r"5 to 5 has no spread, so it has no shape"):
        beta_pert_shape(5, 5, 5)


@pytest.mark.parametrize("estimate", [(2, 1, 3), (1, 4, 3), (float("nan"), 1, 2), (1, float("nan"), 2), (0, 1, float("inf")), (float("-inf"), 1, 2)])
def test_points_out_of_order_are_refused(estimate):
    """Low, likely, high must be three numbers in this order."""
    with pytest.raises(KitError, match=r"task:seal: .* are no low, likely and high\. Give three numbers"):
        check_three_points(*estimate, "task:seal")
    with pytest.raises(KitError, match=r"are no low, likely and high"):
        pert_mean(*estimate)


@pytest.mark.parametrize("position", [0.0, 0.3, 0.5, 1.0])
def test_the_integral_is_exact_where_it_is_worked_out(position):
    """At the ends of its 2,048 cells, where nothing lies between two values, the chance is scipy's to ten decimals (Simpson's rule)."""
    nodes = np.sin(np.linspace(0, np.pi / 2, 2049)[100:1700:100]) ** 2
    chances = stats.beta(1 + 4 * position, 5 - 4 * position).cdf(nodes)
    assert list(beta_pert_quantiles(0, position, 1, chances)) == pytest.approx(list(nodes), abs=1e-9)
