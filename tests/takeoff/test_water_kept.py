"""Caps and plug between two trips."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.water_kept import count_water_kept

CAPS, CAPPING, SMALL, LARGE, PLUGGING = (
    f"keep-water/{part}" for part in ("stop-cap/caps", "cap-stub/cap and open", "drain-plug-1.5/plug", "drain-plug-2/plug", "plug-drain/plug")
)


OLD_STOPS = {"plumbing.stops_to_renew": 0}


def test_plain_job_by_hand():
    """Two new valves shut hot, cold and the dishwasher's branch: no cap, one small plug."""
    assert step_quantities(count_water_kept) == {SMALL: 1, PLUGGING: 1}


def test_caps_where_the_valves_are_old():
    """Hot, cold and the dishwasher's branch; with one new valve, which the dishwasher hangs on, the other stub alone."""
    assert step_quantities(count_water_kept, OLD_STOPS) == {CAPS: 3, CAPPING: 3, SMALL: 1, PLUGGING: 1}
    assert step_quantities(count_water_kept, {"plumbing.stops_to_renew": 1}) == {CAPS: 1, CAPPING: 1, SMALL: 1, PLUGGING: 1}


@pytest.mark.parametrize(
    ("changes", "hand_caps"),
    [
        ({"plumbing.dishwasher": False}, 2),
        ({"plumbing.filter": True}, 4),
        ({"plumbing.filter": True, "plumbing.hot_tap": True}, 5),
    ],
)
def test_a_cap_on_every_branch(changes, hand_caps):
    """Whatever takes water below the deck."""
    assert step_quantities(count_water_kept, OLD_STOPS | changes)[CAPS] == hand_caps


def test_plug_by_size():
    """A 2 in stub takes the larger plug."""
    assert step_quantities(count_water_kept, {**OLD_STOPS, "plumbing.drain_size": "2"}) == {CAPS: 3, CAPPING: 3, LARGE: 1, PLUGGING: 1}


@pytest.mark.parametrize(
    "changes",
    [
        {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"},
        {"old.sink_kind": "none"},
        {"sink.mount": "flush"},
    ],
)
def test_nothing_without_a_wait(changes):
    """A counter that stays, no sink before, or a template taken before anything comes out: the kitchen doesn't stand open."""
    assert step_quantities(count_water_kept, changes) == {}


@pytest.mark.parametrize(("item", "material", "species"), [("wood-maple-own", "wood", "hard-maple"), ("laminate-own", "laminate", None)])
def test_a_counter_of_our_own_leaves_the_kitchen_open_too(item, material, species):
    """For the days on which it is fitted and coated."""
    own = {"counter.made_by": "us", "counter.item": item, "counter.material": material, "counter.species": species}
    found = step_quantities(
        count_water_kept, OLD_STOPS | {**own, "counter.thickness": "1 1/2 in", "scope.counter": {"supplied_by": "us", "installed_by": "us"}}
    )
    assert found == {CAPS: 3, CAPPING: 3, SMALL: 1, PLUGGING: 1}
