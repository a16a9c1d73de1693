"""Chance to finish a network by a day: a textbook's example, and distributions of an outside library."""

import numpy as np
import pytest
from scipy import integrate, stats

from kit.errors import KitError
from kit.labor.network import Link
from kit.risk.finish_chance import UncertainActivity, approximate_finish, try_finish

# heizer-render, from memory: eight activities, three points in weeks, critical A-C-E-G-H of 15 weeks, variance 3.11
POINTS = {"A": (1, 2, 3), "B": (2, 3, 4), "C": (1, 2, 3), "D": (2, 4, 6), "E": (1, 4, 7), "F": (1, 2, 9), "G": (3, 4, 11), "H": (1, 2, 3)}
BEFORE = {"A": "", "B": "", "C": "A", "D": "AB", "E": "C", "F": "C", "G": "DE", "H": "FG"}
EXAMPLE = [UncertainActivity(name, *map(float, points), tuple(map(Link, BEFORE[name]))) for name, points in POINTS.items()]


def alone(name, low, likely, high, *before):
    return UncertainActivity(name, float(low), float(likely), float(high), tuple(map(Link, before)))


def beta_pert(low, likely, high):
    return stats.beta(1 + 4 * (likely - low) / (high - low), 1 + 4 * (high - likely) / (high - low), low, high - low)


def test_example_of_15_weeks():
    """Remembered: path A-C-E-G-H, 15 weeks, variance 3.11, 71.57 % by week 16 (from z rounded to .57); by hand the normal gives 71.45 %."""
    remembered_chance = 0.7157
    hand_variance = (4 + 4 + 36 + 64 + 4) / 36
    hand_chance = stats.norm.cdf(1 / hand_variance**0.5)
    found = approximate_finish(EXAMPLE, 16.0)
    assert (found.critical, found.mean) == (("A", "C", "E", "G", "H"), 15.0)
    assert found.deviation**2 == pytest.approx(hand_variance)
    assert found.chance == pytest.approx(hand_chance)
    assert found.chance == pytest.approx(remembered_chance, abs=0.0015)


def test_the_day_for_99_percent():
    """Remembered: 15 + 2.33 x 1.76 = 19.1 weeks."""
    remembered_weeks = 19.1
    assert approximate_finish(EXAMPLE, remembered_weeks).chance == pytest.approx(0.99, abs=0.001)


@pytest.mark.parametrize("by", [2.5, 4.0, 7.0])
def test_one_activity_by_trials_is_its_own_distribution(by):
    """Against the beta distribution of scipy, within four standard errors."""
    hand_chance = beta_pert(1, 4, 9).cdf(by)
    assert try_finish([alone("one", 1, 4, 9)], by, seed=1, trials=10_000).chance == pytest.approx(hand_chance, abs=4 * 0.5 / 100)


def test_two_beside_each_other_multiply():
    """Done by a day only when both are: the product of their chances."""
    both = [alone("one", 1, 4, 9), alone("other", 2, 4, 8)]
    hand_chance = beta_pert(1, 4, 9).cdf(5.0) * beta_pert(2, 4, 8).cdf(5.0)
    assert try_finish(both, 5.0, seed=2, trials=40_000).chance == pytest.approx(hand_chance, abs=4 * 0.5 / 200)


def test_two_after_each_other_add_up():
    """The convolution of their distributions, by numeric integration."""
    first, second = beta_pert(1, 4, 9), beta_pert(2, 4, 8)
    hand_chance = integrate.quad(lambda x: first.pdf(x) * second.cdf(9.0 - x), 1, 9)[0]
    row = [alone("one", 1, 4, 9), alone("other", 2, 4, 8, "one")]
    found = try_finish(row, 9.0, seed=3, trials=40_000)
    assert found.chance == pytest.approx(hand_chance, abs=4 * 0.5 / 200)
    assert found.mean == pytest.approx(first.mean() + second.mean(), abs=0.03)
    assert found.deviation == pytest.approx(np.hypot(first.std(), second.std()), abs=0.03)


def test_paths_beside_the_critical_one_lower_the_chance():
    """Ten equal ones side by side: the approximation looks at one, trials at all."""
    many = [alone(f"part {number}", 1, 4, 7) for number in range(10)]
    assert approximate_finish(many, 4.0).chance == pytest.approx(0.5)
    assert try_finish(many, 4.0, seed=4, trials=10_000).chance == pytest.approx(0.5**10, abs=0.004)


def test_of_paths_as_long_the_least_certain_counts():
    """Two paths of 4: the one with the wide spread."""
    found = approximate_finish([alone("sure", 4, 4, 4), alone("unsure", 1, 4, 7), alone("short", 0, 1, 8)], 5.0)
    assert (found.critical, found.deviation) == (("unsure",), 1.0)


def test_a_path_with_a_wait_in_it_keeps_its_variance():
    """Mean 4 1/3 (1, 4, 9), two days of waiting, mean 2 (1, 2, 3): 8 1/3, variance (8 / 6)^2 + (2 / 6)^2."""
    after = UncertainActivity("after", 1.0, 2.0, 3.0, (Link("first", lag=2.0),))
    found = approximate_finish([alone("first", 1, 4, 9), after], 8.0)
    assert (found.critical, found.mean) == (("first", "after"), pytest.approx(13 / 3 + 2 + 2))
    assert found.deviation**2 == pytest.approx((8 / 6) ** 2 + (2 / 6) ** 2)


def test_of_two_ways_as_long_both_are_looked_at_though_their_sums_differ_by_dust():
    """0.1 and 0.2 days, or 0.3 with a wide spread, before the last: the wide one counts, variance (0.6 / 6)^2, whichever sum is the larger in binary."""
    before = [alone("a", 0.1, 0.1, 0.1), alone("b", 0.2, 0.2, 0.2, "a"), alone("c", 0.0, 0.3, 0.6)]
    found = approximate_finish([*before, alone("d", 1, 1, 1, "b", "c")], 1.3)
    assert (found.critical, found.deviation) == (("c", "d"), pytest.approx(0.1))


def test_a_path_that_is_a_twentieth_shorter_does_not_count():
    """A sure one of 10 days beside an unsure one of 9.5."""
    assert approximate_finish([alone("sure", 10, 10, 10), alone("unsure", 0.5, 9.5, 18.5)], 10.0).critical == ("sure",)


def test_without_spread_the_day_decides():
    """Two days of work: done by day 2, not before; lags count, nothing to do is done at once."""
    sure = [UncertainActivity("dig", 1.0, 1.0, 1.0), UncertainActivity("pour", 0.5, 0.5, 0.5, (Link("dig", 0.5),))]
    assert [approximate_finish(sure, by).chance for by in (1.99, 2.0)] == [0.0, 1.0]
    assert [try_finish(sure, by, seed=1, trials=10).chance for by in (1.99, 2.0)] == [0.0, 1.0]
    assert approximate_finish([], 0.0).chance == try_finish([], 0.0, seed=1, trials=2).chance == 1.0


def test_the_same_seed_gives_the_same_trials():
    """And another one others."""
    found = [try_finish(EXAMPLE, 16.0, seed=seed, trials=500).mean for seed in (1, 1, 2)]
    assert found[0] == found[1] != found[2]


def test_what_can_not_be_is_refused():
    """Points out of order, no trials, a ring."""
    with pytest.raises(KitError, match="are no low, likely and high"):
        approximate_finish([alone("dig", 3, 2, 4)], 1.0)
    with pytest.raises(KitError, match="trials: 0 trials show nothing"):
        try_finish(EXAMPLE, 16.0, seed=1, trials=0)
    with pytest.raises(KitError, match="wait for each other"):
        approximate_finish([alone("dig", 1, 2, 3, "pour"), alone("pour", 1, 2, 3, "dig")], 1.0)
