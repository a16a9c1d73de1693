"""Earned value by hand, on the inputs of two exercises of the general web; what their pages print was not taken over."""

from decimal import Decimal

import pytest

from kit.earned_value import BudgetedWork, EarnedValue, measure_earned_value, percent_complete_by_cost
from kit.errors import PriceError

# earned-value-exercise: planned 500, earned 400, spent 600; a budget of 1,000 is ours
EXERCISE = EarnedValue(Decimal(1000), Decimal(500), Decimal(400), Decimal(600))


def part(**changes):
    return BudgetedWork(**({"name": "counter", "budget": Decimal(1000), "planned": Decimal("0.5"), "complete": Decimal("0.4")} | changes))


def test_indices_of_an_exercise():
    """400 / 600 = 0.67 and 400 / 500 = 0.80 (inputs of earned-value-exercise)."""
    hand_cost, hand_schedule = 0.67, 0.80
    assert round(float(EXERCISE.cost_performance), 2) == hand_cost
    assert round(float(EXERCISE.schedule_performance), 2) == hand_schedule


def test_variances_and_what_it_will_cost():
    """CV 400 - 600, SV 400 - 500; EAC 600 + 600, 1000 x 600 / 400, and 600 + 600 / (2/3 x 4/5); VAC from each; TCPI 600 / 400."""
    assert (EXERCISE.cost_variance, EXERCISE.schedule_variance, EXERCISE.percent_complete) == (-200, -100, 40)
    ways = ("at budget", "at cost performance", "at cost and schedule performance")
    assert [EXERCISE.estimate_at_completion(way) for way in ways] == [1200, 1500, 1725]
    assert [EXERCISE.variance_at_completion(way) for way in ways] == [-200, -500, -725]
    assert EXERCISE.to_complete_performance == Decimal("1.5")


@pytest.mark.parametrize(("to_date", "to_complete", "hand_percent"), [(400_000, 600_000, 40), (935_000, 165_000, 85), (1_070_000, 0, 100)])
def test_percent_complete_by_cost(to_date, to_complete, hand_percent):
    """Cost so far over cost so far and to come, in three years of a contract (inputs of cost-to-cost-exercise)."""
    assert percent_complete_by_cost(Decimal(to_date), Decimal(to_complete)) == hand_percent


def test_parts_add_up():
    """Two parts: planned 500 + 200, earned 400 + 0 of 1,200, to the cent; the whole is a third done."""
    found = measure_earned_value([part(), part(name="sink", budget=Decimal(200), planned=Decimal(1), complete=Decimal(0))], "600.00 USD")
    assert found == EarnedValue(Decimal(1200), Decimal(700), Decimal(400), Decimal(600))
    assert round(found.percent_complete, 4) == Decimal("33.3333")
    cent = measure_earned_value([part(budget=Decimal("33.33"), complete=Decimal("0.5"))], Decimal(0))
    assert cent.earned == Decimal("16.67")


def test_nothing_yet_gives_no_index():
    """No cost, nothing planned, nothing earned, no budget, or all of it spent: None and no division by zero."""
    start = EarnedValue(Decimal(100), Decimal(0), Decimal(0), Decimal(0))
    assert (start.cost_performance, start.schedule_performance, start.percent_complete) == (None, None, 0)
    assert start.estimate_at_completion() is None
    assert start.variance_at_completion() is None
    assert start.estimate_at_completion("at budget") == 100
    nothing_earned = EarnedValue(Decimal(100), Decimal(50), Decimal(0), Decimal(10))
    assert nothing_earned.estimate_at_completion("at cost and schedule performance") is None
    assert EarnedValue(Decimal(0), Decimal(0), Decimal(0), Decimal(0)).percent_complete is None
    assert EarnedValue(Decimal(100), Decimal(50), Decimal(50), Decimal(100)).to_complete_performance is None


def test_on_budget_and_on_time_all_three_estimates_agree():
    """Earned as planned at its cost: every variance is 0."""
    found = EarnedValue(Decimal(900), Decimal(300), Decimal(300), Decimal(300))
    assert {found.estimate_at_completion(way) for way in ("at budget", "at cost performance", "at cost and schedule performance")} == {Decimal(900)}
    assert (found.cost_variance, found.schedule_variance, found.variance_at_completion()) == (0, 0, 0)


@pytest.mark.parametrize(
    ("work", "actual", "words"),
    [
        (part(complete=Decimal("1.01")), Decimal(0), r"counter, complete: 1\.01 was given; give a share from 0 to 1"),
        (part(budget=Decimal(-1)), Decimal(0), r"counter, budget: -1 was given; give 0 or more"),
        (part(planned=0.5), Decimal(0), r"counter, planned: .*0\.5"),
        (part(), Decimal(-1), r"actual: -1 was given; give 0 or more"),
    ],
)
def test_what_can_not_be_is_refused(work, actual, words):
    """Place, what was given, what is wanted."""
    with pytest.raises(PriceError, match=words):
        measure_earned_value([work], actual)


def test_costs_that_can_not_be_are_refused():
    """Both below 0 in one report; none at all."""
    with pytest.raises(PriceError, match=r"(?s)cost_to_date: -1 was given.*cost_to_complete: -2 was given"):
        percent_complete_by_cost(Decimal(-1), Decimal(-2))
    with pytest.raises(PriceError, match="nothing to measure"):
        percent_complete_by_cost(Decimal(0), Decimal(0))
