"""Adjusted-hour arithmetic against the worked example of the public handbook."""

import pytest

from kit.errors import KitError
from kit.labor.man_days import average_efficiency, count_man_days, count_workdays, crew_capability, delay_factor, shift_equivalent


def test_drywall_example():
    """navedtra-14045: 16,000 sq ft at 33 man-hours per 1000 sq ft is 66 man-days, 70 with delay; a crew of 12 needs 9 workdays."""
    printed_man_days, printed_delayed, printed_days, printed_whole_days = 66, 70, 8.3, 9
    printed_crew, printed_availability, printed_equivalent = 12, 0.75, 0.9375
    assert count_man_days(16_000, 1000, 33) == pytest.approx(printed_man_days)
    # the efficiency of 63 percent is worked back from 70 / 66; the book reads its factor from a graph
    assert round(count_man_days(16_000, 1000, 33, delay_factor(63))) == printed_delayed
    assert shift_equivalent(7.5) == printed_equivalent
    assert round(printed_delayed / crew_capability(printed_crew, 1, 7.5, printed_availability), 1) == printed_days
    assert count_workdays(printed_delayed, printed_crew, 7.5, printed_availability) == printed_whole_days


@pytest.mark.parametrize(("efficiency", "hand_factor"), [(67, 1.0), (50, 1.34), (63, 67 / 63), (100, 0.67)])
def test_delay_factor(efficiency, hand_factor):
    """Average work, at 67 percent, has factor 1; worse efficiency a larger one (the rule from memory)."""
    assert delay_factor(efficiency) == pytest.approx(hand_factor, rel=1e-9)


def test_shift_of_nine_hours():
    """Printed in navedtra-14045: a shift of 9 hours is 1.125 man-days."""
    printed_equivalent = 1.125
    assert shift_equivalent(9) == printed_equivalent


def test_capability():
    """Twelve people, 9 days of 7.5 h, 75 percent available: 12 x 9 x 0.9375 x 0.75."""
    hand_man_days = 75.9375
    assert crew_capability(12, 9, 7.5, 0.75) == hand_man_days


def test_average_of_scores():
    """Eight scores, both limits among them."""
    hand_average = (25 + 100 + 60 + 70 + 80 + 55 + 65 + 49) / 8
    assert average_efficiency([25, 100, 60, 70, 80, 55, 65, 49]) == hand_average == 63


@pytest.mark.parametrize("score", [24.9, 100.5])
def test_scores_outside_the_scale_are_refused(score):
    """Just outside either limit."""
    with pytest.raises(KitError, match=rf"score 2: {score:g} is no score\. Wanted: 25 to 100 percent"):
        average_efficiency([50, score])


def test_no_scores_are_refused():
    """There is no average of nothing."""
    with pytest.raises(KitError, match=r"No scores to average"):
        average_efficiency([])


def test_whole_days_are_not_rounded_up_for_binary_dust():
    """0.3 man-days by one person of 0.1 a day are 3 days, though 0.3 / 0.1 is a little less than 3 and 0.6 / 0.2 a little more."""
    assert count_workdays(0.3, 1, 0.8, 1) == 3
    assert count_workdays(0.1 + 0.2, 1, 0.8, 1) == 3
    assert count_workdays(0, 3, 8, 1) == 0


def test_what_divides_by_nothing_is_refused():
    """All faults at once."""
    with pytest.raises(KitError, match=r"unit_size: 0 makes no sense\. Wanted: more than 0") as caught:
        count_man_days(-1, 0, 33)
    assert len(caught.value.faults) == 2
    with pytest.raises(KitError, match=r"efficiency: 0 makes no sense"):
        delay_factor(0)
    with pytest.raises(KitError, match=r"availability: -0\.5 makes no sense"):
        count_workdays(5, 2, 8, -0.5)
