"""Stops, hoses, faucet and what goes into the deck."""

import pytest
from takeoff_jobs import step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.connect_supply import count_stops, count_supply
from kit.takeoff.fixtures import count_faucet

SHORT = {"plumbing.clean_stub": "1/2 in"}
STONE_HOLES = [{"use": "faucet", "offset": "0 in"}, {"use": "dispenser", "offset": "5 in"}, {"use": "filter-tap", "offset": "-5 in"}]
OWN = {
    "counter.made_by": "us",
    "counter.item": "wood-maple-own",
    "counter.material": "wood",
    "counter.species": "hard-maple",
    "scope.counter": {"supplied_by": "us", "installed_by": "us"},
}


def by(supplied_by, installed_by):
    return {"scope.faucet": {"supplied_by": supplied_by, "installed_by": installed_by}}


def test_two_stops_one_of_them_for_the_dishwasher_too():
    """Clean copper stubs of 2 in: cut, reamed and deburred, nothing to lengthen."""
    assert step_quantities(count_stops) == {
        "stops/stop-push-fit/stops": 1,
        "stops/stop-push-fit-dual/stops": 1,
        "stops/escutcheon/stops": 2,
        "stops/fit-stop/cut, clean and fit": 2,
        "stops/dress-copper/cut, ream and deburr": 2,
    }


def test_without_a_dishwasher_all_stops_are_plain():
    """Two of a kind."""
    found = step_quantities(count_stops, {"plumbing.dishwasher": False})
    assert found["stops/stop-push-fit/stops"] == 2
    assert "stops/stop-push-fit-dual/stops" not in found


def test_one_stop_with_two_outlets():
    """No plain one."""
    found = step_quantities(count_stops, {"plumbing.stops_to_renew": 1})
    assert "stops/stop-push-fit/stops" not in found
    assert found["stops/stop-push-fit-dual/stops"] == 1


def test_no_stop_no_line():
    """Nothing is renewed."""
    assert step_quantities(count_stops, {"plumbing.stops_to_renew": 0, **SHORT}) == {}


@pytest.mark.parametrize(("new", "old", "join"), [("pex", "copper", "push-fit-coupling"), ("copper", "galvanized", "threaded-adapter")])
def test_short_stubs_are_lengthened(new, old, join):
    """6 in of tube and a joint for the pair of materials, each."""
    changes = {**SHORT, "plumbing.supply_new": new, "plumbing.supply_old": old}
    lines = step_lines(count_stops, changes)
    tube = lines[f"stops/tube-{new}-1-2/stub pieces"]
    assert tube.quantity == 1
    assert [(piece.length_in, piece.count) for piece in tube.pieces] == [(6, 2)]
    assert lines[f"stops/{join}/short stubs"].quantity == lines["stops/lengthen-stub/lengthen"].quantity == 2


@pytest.mark.parametrize("joint", ["push-fit", "compression", "press", "threaded"])
def test_stops_by_the_joint_of_their_stubs(joint):
    """One of two has a second outlet; tape on threads only."""
    found = step_quantities(count_stops, {"plumbing.stop_joint": joint})
    assert found[f"stops/stop-{joint}/stops"] == found[f"stops/stop-{joint}-dual/stops"] == 1
    assert found.get("stops/thread-tape/threads", 0) == (2 if joint == "threaded" else 0)


@pytest.mark.parametrize(
    ("joint", "stub", "hand_short"),
    [
        ("push-fit", "1 in", 0),
        ("push-fit", "3/4 in", 2),
        ("compression", "1 1/2 in", 0),
        ("compression", "1 3/8 in", 2),
        ("press", "1 3/8 in", 2),
        ("threaded", "1 in", 0),
        ("threaded", "3/4 in", 2),
    ],
)
def test_how_long_a_stub_must_be(joint, stub, hand_short):
    """1 in for push-fit (its page) and for a threaded stop's adapter, 1 1/2 for compression and press (from memory); the coupling is of the same joint."""
    found = step_quantities(count_stops, {"plumbing.stop_joint": joint, "plumbing.clean_stub": stub})
    coupling = "push-fit" if joint == "threaded" else joint
    assert found.get(f"stops/{coupling}-coupling/short stubs", 0) == found.get("stops/lengthen-stub/lengthen", 0) == hand_short


def test_steel_stubs_get_threaded_stops_or_an_adapter():
    """However long the stub: two threads to tape either way, and PEX between adapter and stop has a stiffener at both ends."""
    threaded = step_quantities(count_stops, {"plumbing.supply_old": "galvanized", "plumbing.stop_joint": "threaded"})
    adapted = step_quantities(count_stops, {"plumbing.supply_old": "galvanized", "plumbing.supply_new": "pex"})
    assert threaded["stops/thread-tape/threads"] == adapted["stops/thread-tape/threads"] == 2
    assert "stops/lengthen-stub/lengthen" not in threaded
    assert adapted["stops/threaded-adapter/short stubs"] == 2
    assert adapted["stops/pex-stiffener/PEX ends"] == 4


@pytest.mark.parametrize(("old", "hand_adapters"), [("copper", 2), ("pex", 2), ("cpvc", 2), ("galvanized", 0)])
def test_a_threaded_stop_takes_an_adapter_where_the_stub_has_no_thread(old, hand_adapters):
    """One a stub, bought and fitted; steel has its own thread. Two threads to tape all the same."""
    found = step_quantities(count_stops, {"plumbing.supply_old": old, "plumbing.stop_joint": "threaded"})
    assert found.get("stops/stub-adapter/adapters", 0) == found.get("stops/fit-adapter/adapters", 0) == hand_adapters
    assert found["stops/thread-tape/threads"] == 2
    assert found.get("stops/pex-stiffener/PEX ends", 0) == (2 if old == "pex" else 0)


@pytest.mark.parametrize(
    ("changes", "hand_ends"),
    [
        ({}, 0),  # copper
        ({"plumbing.supply_old": "pex"}, 2),
        ({"plumbing.supply_old": "pex", "plumbing.stop_joint": "press"}, 0),
        ({"plumbing.supply_old": "pex", "plumbing.supply_new": "pex", **SHORT}, 6),  # old end, both ends of the piece
        ({"plumbing.supply_old": "copper", "plumbing.supply_new": "pex", **SHORT}, 4),
        ({"plumbing.supply_old": "copper", "plumbing.supply_new": "copper", **SHORT}, 0),
    ],
)
def test_a_stiffener_in_each_end_of_pex(changes, hand_ends):
    """In push-fit and compression joints; a press ring holds the tube round its own fitting."""
    assert step_quantities(count_stops, changes).get("stops/pex-stiffener/PEX ends", 0) == hand_ends


def test_hoses_to_a_new_faucet():
    """Hot and cold."""
    assert step_quantities(count_supply) == {"connect-supply/supply-hose/faucet": 2, "connect-supply/connect-hose/faucet": 2}


def test_a_faucet_that_stays_on_old_stops_keeps_its_hoses():
    """Joined again, not bought; each old valve takes more than its hose, a new one not."""
    found = step_quantities(count_supply, {**by("stays", "us"), "plumbing.stops_to_renew": 0})
    assert found == {"connect-supply/connect-hose/faucet": 2, "connect-supply/old-valve-hose/old valves": 2}
    assert "connect-supply/old-valve-hose/old valves" not in step_quantities(count_supply, {"plumbing.stops_to_renew": 0, "plumbing.stop_age": "new"})


@pytest.mark.parametrize("scope", [("us", "trade"), ("customer", "customer"), ("excluded", "nobody")])
def test_a_faucet_that_others_connect(scope):
    """No hose of ours."""
    assert step_quantities(count_supply, by(*scope)) == {}


def test_branches_for_filter_and_hot_water():
    """A tee, a hose and the work for each."""
    found = step_quantities(count_supply, {"plumbing.filter": True, "plumbing.hot_tap": True})
    assert found["connect-supply/supply-tee/branches"] == found["connect-supply/supply-hose/branches"] == found["connect-supply/branch-tap/reconnect"] == 2


def test_faucet_by_us_in_a_fabricator_s_hole():
    """Bought and fitted; the shop drills."""
    assert step_quantities(count_faucet) == {"fit-faucet/faucet/faucet": 1, "fit-faucet/fit-faucet/fit": 1}


@pytest.mark.parametrize(
    ("scope", "hand_lines"),
    [
        (("customer", "us"), {"fit-faucet/fit-faucet/fit"}),
        (("us", "customer"), {"fit-faucet/faucet/faucet"}),
        (("us", "trade"), {"fit-faucet/faucet/faucet", "fit-faucet/hire-plumber/fit"}),
        (("stays", "us"), {"fit-faucet/refit-faucet/off and on"}),
        (("excluded", "nobody"), set()),
    ],
)
def test_faucet_by_scope(scope, hand_lines):
    """Who supplies and who fits."""
    assert set(step_quantities(count_faucet, by(*scope))) == hand_lines


def test_a_trade_s_hours_are_the_likely_ones():
    """0.8 h a faucet in the rates."""
    line = step_lines(count_faucet, by("us", "trade"))["fit-faucet/hire-plumber/fit"]
    assert (line.kind, line.quantity, line.unit) == (Kind.HIRE, 0.8, "h")


def test_a_faucet_that_stays_on_a_counter_and_sink_that_stay_is_not_touched():
    """Nothing moves below it."""
    stays = {"supplied_by": "stays", "installed_by": "us"}
    found = step_quantities(count_faucet, {"scope.faucet": stays, "scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays"})
    assert found == {}


@pytest.mark.parametrize(("changes", "drilled"), [({}, None), (OWN, 3), ({**OWN, "scope.counter": {"supplied_by": "us", "installed_by": "customer"}}, None)])
def test_we_drill_only_our_own_counter(changes, drilled):
    """A fabricator bills his holes."""
    found = step_quantities(count_faucet, {**changes, "counter.holes": STONE_HOLES})
    assert found.get("fit-top/drill-hole/drill and seal") == drilled


def test_accessories_by_their_holes():
    """Dispenser and filter tap: bought and fitted with the faucet."""
    found = step_quantities(count_faucet, {"counter.holes": STONE_HOLES})
    assert (found["fit-faucet/dispenser/accessory"], found["fit-faucet/filter-tap/accessory"], found["fit-faucet/fit-accessory/accessories"]) == (1, 1, 2)


def test_accessories_that_the_customer_bought():
    """Fitted, not bought."""
    found = step_quantities(count_faucet, {"counter.holes": STONE_HOLES, **by("customer", "us")})
    assert "fit-faucet/dispenser/accessory" not in found
    assert found["fit-faucet/fit-accessory/accessories"] == 2


@pytest.mark.parametrize(
    ("changes", "gap"),
    [
        ({"plumbing.dishwasher_drain": "air-gap"}, 1),
        ({"plumbing.dishwasher_drain": "high-loop"}, None),
        ({"plumbing.dishwasher_drain": "air-gap", "plumbing.dishwasher": False}, None),
        ({"plumbing.dishwasher_drain": "air-gap", "scope.dishwasher": {"supplied_by": "excluded", "installed_by": "nobody"}}, None),
    ],
)
def test_an_air_gap_where_the_hose_asks_for_one(changes, gap):
    """By how the hose is kept from siphoning."""
    assert step_quantities(count_faucet, changes).get("fit-faucet/air-gap/accessory") == gap


def test_pressed_pex_takes_a_ring_at_each_end():
    """Two stubs, a ring each; a copper stub that is pressed takes none."""
    pressed = {"plumbing.supply_old": "pex", "plumbing.stop_joint": "press"}
    assert step_quantities(count_stops, pressed)["stops/press-ring/PEX ends"] == 2
    assert "stops/press-ring/PEX ends" not in step_quantities(count_stops, {"plumbing.stop_joint": "press"})
