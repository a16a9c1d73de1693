"""What is shut off and proved before anything is loosened, and what only the test at the end shows."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.fixtures import count_disposer
from kit.takeoff.shut_off import count_shut_off
from kit.takeoff.visits import count_fill_test

PROVED = "shut-off/prove-off/shut off and prove"
US = {"supplied_by": "us", "installed_by": "us"}
STAYS = {"supplied_by": "stays", "installed_by": "nobody"}


@pytest.mark.parametrize(
    ("changes", "hand_proved"),
    [
        ({}, 2),  # water; cables behind the front that is cut and the splash that comes off
        ({"old.disposer": True}, 3),
        ({"scope.dishwasher": US, "old.dishwasher_fixing": "counter"}, 3),
    ],
)
def test_each_supply_is_proved(changes, hand_proved):
    """Water, and every cable or cord that hands come near."""
    assert step_quantities(count_shut_off, changes) == {PROVED: hand_proved}


def test_a_new_disposer_loses_its_knock_out_for_a_dishwasher():
    """And keeps it where none drains into it."""
    new = {"plumbing.disposer": "new", "scope.disposer": US}
    knocked = "connect-disposer/knock-out/dishwasher inlet"
    assert step_quantities(count_disposer, {**new, "plumbing.dishwasher": True})[knocked] == 1
    assert knocked not in step_quantities(count_disposer, {**new, "plumbing.dishwasher": False})
    assert knocked not in step_quantities(count_disposer, {**new, "plumbing.dishwasher": True, "plumbing.disposer": "keep"})


def test_a_trade_that_hangs_the_disposer_clears_its_inlet_on_a_bottom_as_thick_as_ours():
    """1 h and 0.1 h of the plumber's; the longer flange is bought whoever hangs it."""
    theirs = {"plumbing.disposer": "new", "scope.disposer": {"supplied_by": "us", "installed_by": "trade"}, "sink.bottom_thickness": "3/4 in"}
    found = step_quantities(count_disposer, {**theirs, "plumbing.dishwasher": True})
    assert found["connect-disposer/disposer-flange-extended/thick bottom"] == 1
    assert found["connect-disposer/hire-plumber/dishwasher inlet"] == pytest.approx(0.1)
    assert found["connect-disposer/hire-plumber/hang"] == pytest.approx(1)


def test_a_dishwasher_runs_a_cycle_in_the_test():
    """Its hose leaks under the pump's pressure only."""
    cycle = "fill-test/dishwasher-cycle/run a cycle"
    assert step_quantities(count_fill_test, {"plumbing.dishwasher": True})[cycle] == 1
    assert cycle not in step_quantities(count_fill_test, {"plumbing.dishwasher": False})
