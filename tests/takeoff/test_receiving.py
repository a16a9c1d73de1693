"""Carrying in, unpacking, measuring the goods."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import changed, step_lines, step_quantities

import kit
from kit.takeoff.receiving import count_receiving, customer_goods, received_goods

WALKS, STAIRS, UNPACK, SIZES, CARE = (
    f"receive/{part}"
    for part in ("carry-in-foot/walks", "carry-in-step/stairs", "unpack-piece/unpack", "measure-size/against the sheet", "customer-goods/customer's goods")
)
TURN = "receive/tight-turn/tight door or turn"
STAYS = {"supplied_by": "stays", "installed_by": "nobody"}
SWAP = {
    "sink.style": "standard",
    "sink.mount": "top",
    "sink.apron_width": None,
    "sink.apron_height": None,
    "scope.counter": STAYS,
    "counter.made_by": "stays",
    "scope.splash": STAYS,
    "counter.splash": "none",
}
BY_US = {"supplied_by": "us", "installed_by": "us"}
BY_CUSTOMER = {"supplied_by": "customer", "installed_by": "us"}
BY_TRADE = {"supplied_by": "trade", "installed_by": "trade"}


def test_plain_job_by_hand():
    """118 lb asks for three people by the list; small goods for one; 40 ft and 3 steps, there and back."""
    hand_people = 3 + 1
    assert step_quantities(count_receiving) == {WALKS: hand_people * 2 * 40, STAIRS: hand_people * 2 * 3, UNPACK: 3, SIZES: 2 + 3 + 2 + 3}


@pytest.mark.parametrize(("weight", "hand_lifters"), [("50 lb", 1), ("50.5 lb", 2), ("110 lb", 2), ("111 lb", 3), ("300 lb", 3)])
def test_people_by_weight(weight, hand_lifters):
    """Both sides of each limit of the list of lifters."""
    assert step_quantities(count_receiving, {"sink.weight": weight})[WALKS] == (hand_lifters + 1) * 2 * 40


@pytest.mark.parametrize(("weight", "hand_turns"), [("50 lb", None), ("51 lb", 1)])
def test_one_person_carries_a_sink_through_a_tight_turn_on_edge(weight, hand_turns):
    """Only two abreast need more than the 18 in of the sink."""
    assert step_quantities(count_receiving, {"sink.weight": weight, "site.narrowest_turn": "20 in"}).get(TURN) == hand_turns


@pytest.mark.parametrize(
    ("place", "narrow", "hand_turns"), [("door", "30 in", None), ("door", "29 15/16 in", 1), ("turn", "30 in", None), ("turn", "29 1/2 in", 1)]
)
def test_a_way_as_wide_as_the_sink_with_its_carriers_is_wide_enough(place, narrow, hand_turns):
    """18 in of sink and 12 of hands and arms."""
    assert step_quantities(count_receiving, {f"site.narrowest_{place}": narrow}).get(TURN) == hand_turns


@pytest.mark.parametrize(("weight", "hand_walks"), [("50 lb", 1), ("51 lb", 2 + 1)])
def test_a_light_drop_in_for_another_comes_in_one_walk(weight, hand_walks):
    """One person takes it with its small goods; a heavier one asks for two, and the small goods for a walk of their own."""
    assert step_quantities(count_receiving, {**SWAP, "sink.weight": weight})[WALKS] == hand_walks * 2 * 40


def test_no_walk_and_no_stairs():
    """A truck at the kitchen's door: nothing to walk or climb, still to unpack."""
    assert set(step_quantities(count_receiving, {"site.carry": "0 ft", "site.stair_steps": 0})) == {UNPACK, SIZES}


@pytest.mark.parametrize(
    ("changes", "hand_goods"),
    [
        ({}, ["sink", "faucet", "strainer"]),
        ({"scope.sink": BY_TRADE}, ["faucet", "strainer"]),
        ({"scope.faucet": {"supplied_by": "stays", "installed_by": "us"}}, ["sink", "strainer"]),
        ({"scope.disposer": BY_US}, ["sink", "faucet", "strainer"]),
        ({"scope.disposer": BY_US, "plumbing.disposer": "new"}, ["sink", "faucet", "disposer"]),  # the one outlet has no strainer
        ({"scope.dishwasher": BY_US}, ["sink", "faucet", "strainer", "dishwasher"]),
        ({"scope.faucet": {"supplied_by": "customer", "installed_by": "customer"}}, ["sink", "strainer"]),
    ],
)
def test_goods_through_our_hands(changes, hand_goods):
    """Supplied or installed by us, and new."""
    assert received_goods(changed(changes)) == hand_goods


def test_customers_goods_are_handled_and_nothing_more():
    """Two pieces to look after; no other line tells them from ours, so no warranty and nothing bought."""
    changes = {"scope.sink": BY_CUSTOMER, "scope.faucet": BY_CUSTOMER}
    assert customer_goods(changed(changes)) == ["sink", "faucet"]
    lines = step_lines(count_receiving, changes)
    assert lines[CARE].quantity == 2
    assert {name: line.quantity for name, line in lines.items() if name != CARE} == step_quantities(count_receiving)
    assert CARE not in step_quantities(count_receiving)


@pytest.mark.parametrize(
    ("changes", "hand_sizes"),
    [
        ({"sink.as_received": True}, None),
        ({"scope.sink": BY_TRADE}, None),
        ({"sink.bowls": [{"width": "14 in", "front_to_back": "15 in", "depth": "9 in"}] * 2}, 2 + 6 + 2 + 3),
        ({"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}, 2 + 3 + 2),
    ],
)
def test_sizes_set_against_the_sheet(changes, hand_sizes):
    """Not where the sink itself was measured, nor where it isn't ours to receive."""
    assert step_quantities(count_receiving, changes).get(SIZES) == hand_sizes


def test_a_dishwasher_takes_two_people():
    """As an appliance, whatever it weighs."""
    assert step_quantities(count_receiving, {"scope.dishwasher": BY_US})[WALKS] == (3 + 2 + 1) * 2 * 40


def test_own_blanks_are_carried_by_weight():
    """A counter made by us comes as blanks: 16 sq ft at 16.5 lb ask for three people, walked once each."""
    changes = {"scope.counter": BY_US, "counter.made_by": "us", "counter.splash": "none"}
    hand_people = 3 + 1 * 3 + 1
    found = step_quantities(count_receiving, changes)
    assert found[WALKS] == hand_people * 2 * 40
    assert found[UNPACK] == 3 + 1


@given(near=st.integers(0, 499), more=st.integers(1, 200))
def test_more_carry_is_never_fewer_hours(near, more):
    """A longer way is never walked in fewer feet."""
    short, long = (step_quantities(count_receiving, {"site.carry": f"{feet} ft"}) for feet in (near, min(500, near + more)))
    assert long.get(WALKS, 0.0) >= short.get(WALKS, 0.0)
    assert {name: value for name, value in long.items() if name != WALKS} == {name: value for name, value in short.items() if name != WALKS}


@given(light=st.integers(5, 399), more=st.integers(1, 200))
def test_a_heavier_sink_is_never_carried_by_fewer(light, more):
    """More pounds, never fewer feet walked."""
    assert (
        step_quantities(count_receiving, {"sink.weight": f"{min(400, light + more)} lb"})[WALKS]
        >= step_quantities(count_receiving, {"sink.weight": f"{light} lb"})[WALKS]
    )


def test_the_strainers_of_two_bowls_are_a_set():
    """Two are bought and unpacked as one; the working says so, and that of one bowl speaks of one strainer."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    told = {}
    for name in ("wood_apron_two_bowl", "stone_apron_single_bowl"):
        found = kit.estimate(kit.read_job(kit.shipped("examples") / f"{name}.toml"), lists)
        told[name] = [line.basis for line in found.lines if line.id in {UNPACK, "order/order-item/orders"}]
    assert all("1 set of strainers" in basis for basis in told["wood_apron_two_bowl"])
    assert all("1 strainer" in basis for basis in told["stone_apron_single_bowl"])
