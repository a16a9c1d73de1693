"""What keeps dust from lungs, and steam from wood."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.prepare_cabinet import count_barrier
from kit.takeoff.protection import count_protection

VACUUM, RESPIRATORS = "protect/hepa-vacuum/fine dust", "protect/respirator/fine dust"
FOIL, LAYING = "level/vapor-barrier/above the dishwasher", "level/lay-barrier/above the dishwasher"
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}
WOOD = {
    "counter.made_by": "us",
    "counter.item": "wood-maple-own",
    "counter.material": "wood",
    "counter.species": "hard-maple",
    "scope.counter": {"supplied_by": "us", "installed_by": "us"},
}
CUSTOMER = {"supplied_by": "customer", "installed_by": "customer"}


@pytest.mark.parametrize(
    ("changes", "dusty"),
    [
        ({}, False),  # a laminate counter with a glued splash, built 1994
        ({"site.year_built": 1977}, True),
        ({"site.year_built": 1978}, False),
        ({"old.counter_material": "stone"}, True),
        ({"old.counter_material": "tile"}, True),
        ({"old.counter_material": "wood"}, False),
        ({"old.counter_material": "stone", **STAYS}, False),
        ({"old.counter_material": "stone", "scope.counter": CUSTOMER}, False),  # he takes it out himself
        ({"old.splash": "tile"}, True),
        ({"old.sink_kind": "tiled-in"}, True),
    ],
)
def test_fine_dust_asks_for_vacuum_and_respirators(changes, dusty):
    """Lead-safe work, and tile, stone or concrete that we break out: a vacuum for each of two stays, a respirator for each of two people."""
    found = step_quantities(count_protection, changes)
    hand_stays = 1 if "scope.counter" in changes else 2
    assert (found.get(VACUUM, 0), found.get(RESPIRATORS, 0)) == ((hand_stays, 2) if dusty else (0, 0))


def test_foil_above_a_dishwasher_under_wood():
    """24 x 24 in."""
    assert step_quantities(count_barrier, WOOD) == {FOIL: 4, LAYING: 1}


@pytest.mark.parametrize("changes", [{}, {**WOOD, "plumbing.dishwasher": False}, {**WOOD, **STAYS}])
def test_no_foil_under_stone_without_dishwasher_or_where_the_counter_stays(changes):
    """Stone stands steam."""
    assert step_quantities(count_barrier, changes) == {}
