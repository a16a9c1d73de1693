"""Grubbs's test: its limit by scipy, the handbook's example, and how often it cries wolf."""

import math
import random

import pytest
from scipy.stats import binom, t

from kit.learning.outliers import LEAST_TESTED, find_outliers, grubbs_limit

# the uranium example of the NIST/SEMATECH e-Handbook, 1.3.5.17.1, from memory: it gives G = 2.4687 and, one-sided at 0.05, a limit of 2.0317
URANIUM = (199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57)
REMEMBERED = (2.4687, 2.0317)


@pytest.mark.parametrize(("count", "chance"), [(3, 0.05), (8, 0.1), (30, 0.01), (100, 0.05)])
def test_the_limit_follows_from_student_t(count, chance):
    """The handbook's formula with scipy's t."""
    squared = t.isf(chance / (2 * count), count - 2) ** 2
    hand_limit = (count - 1) / math.sqrt(count) * math.sqrt(squared / (count - 2 + squared))
    assert grubbs_limit(count, chance) == pytest.approx(hand_limit)


def test_the_example_of_the_handbook():
    """A one-sided test at 0.05 is a two-sided one at 0.1; nothing else stands out once the far value is gone."""
    (found,) = find_outliers(URANIUM, 0.1)
    assert found.place == 7
    assert (found.distance, found.limit) == pytest.approx(REMEMBERED, abs=1e-4)


def test_two_that_stand_out_are_found_one_after_the_other():
    """The nearer one only once the farther one is out."""
    values = (*[value / 10 for value in range(12)], 4.0, 9.0)
    assert [one.place for one in find_outliers(values, 0.01)] == [13, 12]


def test_few_values_and_equal_ones_are_not_tested():
    """Six with a far one, which stands out of seven; many that are all the same."""
    assert find_outliers((*[0.0, 0.1, 0.0, 0.1, 0.05], 9.0), 0.05) == ()
    assert [one.place for one in find_outliers((*[0.0, 0.1, 0.0, 0.1, 0.05, 0.05], 9.0), 0.05)] == [6]
    assert find_outliers((0.3,) * (LEAST_TESTED + 3), 0.05) == ()


def test_it_cries_wolf_as_often_as_its_chance_says():
    """One normal sample in twenty at 0.05, within what chance allows once in a thousand."""
    draw, samples = random.Random(3), 2000
    found = sum(bool(find_outliers([draw.gauss(0, 1) for _ in range(10)], 0.05)) for _ in range(samples))
    low, high = binom.interval(0.999, samples, 0.05)
    assert low <= found <= high
