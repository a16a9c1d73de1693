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


CLIPPED = {"sink.mount": "top", "sink.rim_thickness": "1/8 in"}
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}


@pytest.mark.parametrize("changes", [CLIPPED, CLIPPED | STAYS, {"old.sink_kind": "none"}])
def test_nothing_without_a_night(changes):
    """Clips hold the rim, so the trap is on again the same day, under a shop's countertop too; or no sink was there."""
    assert step_quantities(count_water_kept, changes) == {}


@pytest.mark.parametrize(
    "changes",
    [
        {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None},  # templated ahead: the adhesive alone cures over night
        {"sink.mount": "top", "sink.rim_thickness": "1/2 in"},  # so does the bed of a thick rim
        STAYS,
        CLIPPED | {"plumbing.stub_height": "24 in"},  # the inspector is waited for
    ],
)
def test_a_drain_that_stands_open_for_a_night_is_plugged(changes):
    """For whatever it waits; with old valves the stubs are capped as well."""
    assert step_quantities(count_water_kept, changes) == {SMALL: 1, PLUGGING: 1}
    assert step_quantities(count_water_kept, changes | OLD_STOPS) == {CAPS: 3, CAPPING: 3, SMALL: 1, PLUGGING: 1}


def test_a_drain_lowered_below_a_sink_that_stays_is_plugged():
    """Its trap is off while the inspector is waited for; the faucet's hoses stay on, so no stub is capped."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    kept = {**OLD_STOPS, "scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays"}
    assert step_quantities(count_water_kept, {**kept, "plumbing.stub_height": "24 in"}) == {SMALL: 1, PLUGGING: 1}
    assert step_quantities(count_water_kept, kept) == {}


@pytest.mark.parametrize(("item", "material", "species"), [("wood-maple-own", "wood", "hard-maple"), ("laminate-own", "laminate", None)])
def test_a_counter_of_our_own_leaves_the_kitchen_open_too(item, material, species):
    """For the days on which it is fitted and coated."""
    own = {"counter.made_by": "us", "counter.item": item, "counter.material": material, "counter.species": species}
    found = step_quantities(
        count_water_kept, OLD_STOPS | {**own, "counter.thickness": "1 1/2 in", "scope.counter": {"supplied_by": "us", "installed_by": "us"}}
    )
    assert found == {CAPS: 3, CAPPING: 3, SMALL: 1, PLUGGING: 1}
