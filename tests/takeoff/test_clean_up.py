"""Clean-up by the floor that was covered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_quantities

from kit.takeoff.protection import count_clean_up

FLOOR, LEAD = "clean/clean-floor/sweep and wipe", "clean/lead-clean/clean and check"


def test_plain_job_by_hand():
    """8 ft before a 42 in aisle and half of 40 ft, 3 ft wide."""
    assert step_quantities(count_clean_up) == pytest.approx({FLOOR: 8 * 3.5 + 20 * 3})


@pytest.mark.parametrize(("year", "hand_area"), [(1977, 28), (1978, None)])
def test_lead_safe_cleaning(year, hand_area):
    """The floor at work once more, before 1978."""
    assert step_quantities(count_clean_up, {"site.year_built": year}).get(LEAD) == hand_area


@given(feet=st.integers(0, 480), more=st.integers(0, 20))
def test_more_way_is_never_less_to_clean(feet, more):
    """A longer way, never a smaller floor."""
    assert step_quantities(count_clean_up, {"site.carry": f"{feet + more} ft"})[FLOOR] >= step_quantities(count_clean_up, {"site.carry": f"{feet} ft"})[FLOOR]
