"""Taking off the old counter and its splash."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_quantities

from kit.takeoff.tear_out import count_old_counter

LIFT, SCREWS, BLADES = (f"remove-counter/{part}" for part in ("old-counter-pound/lift off", "old-counter-screw/undo", "glue-blade/glue line"))
PULL, CUT = "remove-counter/splash-glued/pull off", "remove-counter/glue-blade/splash"
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}
SPLASH_STAYS = {"scope.splash": {"supplied_by": "stays", "installed_by": "nobody"}}


def loosen(material):
    return f"remove-counter/old-counter-{material}/loosen and part"


def test_plain_job_by_hand():
    """8 ft of laminate, 24 x 1 1/2 in at 48 lb a cubic foot; 4 spaces and so 5 screws in each of two rows; 10 ft of glued splash, 20 ft a blade."""
    hand_weight = 8 * 2 * 0.125 * 48
    assert step_quantities(count_old_counter) == pytest.approx({PULL: 10, CUT: 10 / 20, loosen("laminate"): 8, LIFT: hand_weight, SCREWS: 10})


@pytest.mark.parametrize(
    ("material", "hand_density"),
    [("laminate", 48), ("wood", 44), ("solid-surface", 109.2), ("stone", 172), ("concrete", 150), ("tile", 100), ("steel", 55)],
)
def test_weight_and_driver_by_material(material, hand_density):
    """Each material has its own rate and its density; 2 cu ft of it."""
    found = step_quantities(count_old_counter, {"old.counter_material": material})
    assert found[loosen(material)] == 8
    assert found[LIFT] == pytest.approx(2 * hand_density)


def test_glued_takes_blades_instead_of_screws():
    """Two rows of 8 ft; a blade cuts 20 ft."""
    found = step_quantities(count_old_counter, {"old.counter_fixing": "glued"})
    assert found[BLADES] == pytest.approx(16 / 20)
    assert SCREWS not in found
    assert BLADES not in step_quantities(count_old_counter)


@pytest.mark.parametrize(("length", "hand_screws"), [("96 in", 10), ("96 1/16 in", 12), ("120 in", 12)])
def test_screws_by_the_foot(length, hand_screws):
    """One every 24 in of two rows and one at the end of each, spaces rounded up."""
    assert step_quantities(count_old_counter, {"counter.runs[1].length": length})[SCREWS] == hand_screws


@pytest.mark.parametrize(
    ("changes", "hand_lines"),
    [
        ({"old.splash": "none"}, {}),
        ({"old.splash": "loose"}, {"remove-counter/splash-loose/pull off": 10}),
        ({"old.splash": "glued"}, {PULL: 10, CUT: 0.5}),
        ({"old.splash": "tile", "old.splash_height": "18 in"}, {"remove-counter/splash-tile/break off": 15}),
        ({"old.splash": "tile", "old.splash_height": "0 in"}, {}),
        (SPLASH_STAYS, {}),
    ],
)
def test_splash_by_how_it_is_held(changes, hand_lines):
    """8 ft of run and 2 ft at the wall end; tile by the square foot; none where it stays."""
    found = step_quantities(count_old_counter, changes)
    assert {name: value for name, value in found.items() if "splash" in name} == pytest.approx(hand_lines)


def test_a_counter_that_stays_is_not_taken_off():
    """Nor its splash, unless a new one comes."""
    assert step_quantities(count_old_counter, {**STAYS, **SPLASH_STAYS}) == {}
    assert step_quantities(count_old_counter, {**STAYS, "scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}}) == {}
    assert set(step_quantities(count_old_counter, STAYS)) == {PULL, CUT}


def test_a_customer_who_fits_the_counter_clears_it():
    """His own work is not in our hours."""
    own = {"scope.counter": {"supplied_by": "customer", "installed_by": "customer"}, **SPLASH_STAYS}
    assert step_quantities(count_old_counter, own) == {}


@given(length=st.integers(60, 239), thickness=st.integers(1, 3), longer=st.integers(0, 1), thicker=st.integers(0, 1))
def test_more_counter_never_weighs_less(length, thickness, longer, thicker):
    """Longer or thicker, never lighter or with fewer screws."""
    small = step_quantities(count_old_counter, {"counter.runs[1].length": f"{length} in", "old.counter_thickness": f"{thickness} in"})
    large = step_quantities(count_old_counter, {"counter.runs[1].length": f"{length + longer} in", "old.counter_thickness": f"{thickness + thicker} in"})
    assert all(large[name] >= value for name, value in small.items())


def test_an_old_counter_of_its_own_size_by_hand():
    """120 in long and 25 in deep, where the new one is 96 x 24: 10 ft to loosen, 5 spaces and so 6 screws a row; its glued splash was 24 in longer."""
    found = step_quantities(count_old_counter, {"old.counter_length": "120 in", "old.counter_depth": "25 in"})
    assert found[loosen("laminate")] == 10
    assert found[LIFT] == pytest.approx(120 * 25 / 144 * 0.125 * 48)
    assert found[SCREWS] == 2 * 6
    assert found["remove-counter/splash-glued/pull off"] == pytest.approx((96 + 24 + 24) / 12)


@pytest.mark.parametrize(("long", "hand_more"), [("96 1/16 in", 1 / 16), ("96 in", 0), ("95 15/16 in", -1 / 16)])
def test_a_splash_is_longer_or_shorter_by_what_the_counter_was(long, hand_more):
    """Either side of the new run's 96 in."""
    found = step_quantities(count_old_counter, {"old.counter_length": long})
    assert found["remove-counter/splash-glued/pull off"] == pytest.approx((96 + 24 + hand_more) / 12)


def test_a_shorter_old_counter_had_a_shorter_splash():
    """72 in where the new one is 96: 24 in less along the wall."""
    found = step_quantities(count_old_counter, {"old.counter_length": "72 in"})
    assert found["remove-counter/splash-glued/pull off"] == pytest.approx((96 + 24 - 24) / 12)
