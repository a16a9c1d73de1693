"""Weight, room, walks, runs and the tip."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import changed, step_lines, step_quantities

from kit.records import Kind
from kit.sources import value
from kit.takeoff.debris import _packaging, count_debris

TIP, BAGS, LOAD, WALKS, STAIRS, RUNS, TRADE = (
    f"haul/{part}"
    for part in (
        "disposal/dump",
        "debris-bag/bags",
        "haul-pound/load and dump",
        "haul-foot/walks",
        "haul-step/stairs",
        "dump-run/runs to the dump",
        "haul-trade/haul",
    )
)
NOTHING_ELSE = {
    "old.splash": "none",
    "old.sink_kind": "none",
    "scope.sink": {"supplied_by": "customer", "installed_by": "customer"},
    "scope.faucet": {"supplied_by": "stays", "installed_by": "nobody"},
    "scope.strainer": {"supplied_by": "stays", "installed_by": "nobody"},
}


def haul(supplied_by, installed_by):
    return {"scope.haul_away": {"supplied_by": supplied_by, "installed_by": installed_by}}


def test_plain_job_by_hand():
    """Counter, splash, torn board, old sink, a tenth of the new sink's weight in packaging, two cartons; bags for what is broken."""
    hand_counter = 8 * 2 * 1.5 / 12 * 48
    hand_splash = 10 * 4 / 12 * 0.75 / 12 * 48
    hand_board = 10 * 4 / 12 * 0.5 / 12 * 48
    hand_weight = math.ceil(hand_counter + hand_splash + hand_board + 28 + 11.8 + 2 * 2)
    hand_room = 2 * (hand_counter + hand_splash + hand_board) / 48
    hand_walks = math.ceil(hand_weight / 50)
    assert step_quantities(count_debris) == pytest.approx(
        {TIP: hand_weight, BAGS: hand_room / 3, LOAD: hand_weight, WALKS: hand_walks * 2 * 40, STAIRS: hand_walks * 2 * 3, RUNS: 1}
    )


@pytest.mark.parametrize(
    ("scope", "hand_ids"),
    [
        (haul("us", "us"), {TIP, BAGS, LOAD, WALKS, STAIRS, RUNS}),
        (haul("customer", "us"), {LOAD, WALKS, STAIRS, RUNS}),
        (haul("us", "customer"), {TIP, BAGS}),
        (haul("trade", "trade"), {TRADE}),
        (haul("customer", "customer"), set()),
        (haul("excluded", "nobody"), set()),
    ],
)
def test_who_hauls_and_who_pays(scope, hand_ids):
    """The scope decides; the dump is a fee, a hauler is hired."""
    lines = step_lines(count_debris, scope)
    assert set(lines) == hand_ids
    assert {TIP: Kind.FEE, TRADE: Kind.HIRE}.items() >= {name: line.kind for name, line in lines.items() if name in {TIP, TRADE}}.items()


@pytest.mark.parametrize(
    ("changes", "hand_weight"),
    [
        ({}, 96),
        ({"old.counter_material": "stone"}, 344),
        ({"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}, 0),
        ({"old.sink_kind": "top"}, 96 + 28),
        ({"old.sink_kind": "top", "scope.sink": {"supplied_by": "stays", "installed_by": "us"}}, 96),
        ({"old.sink_kind": "top", "old.disposer": True}, 96 + 28 + 20),
        ({"old.sink_kind": "top", "old.disposer": True, "plumbing.disposer": "keep"}, 96 + 28),
        ({"cabinet.wet_floor": True}, 96 + 9),  # 35 x 24 x 1/2 in of plywood at 36 lb a cubic foot: 8 3/4 lb
        # 35 x 24 x 1 in are .486 cu ft: 23 1/3 lb at 48, 22.8 lb of unknown solid wood, as oak of 47
        ({"cabinet.wet_floor": True, "cabinet.floor_thickness": "1 in", "cabinet.floor_material": "particleboard"}, 96 + 24),
        ({"cabinet.wet_floor": True, "cabinet.floor_thickness": "1 in", "cabinet.floor_material": "mdf"}, 96 + 24),
        ({"cabinet.wet_floor": True, "cabinet.floor_thickness": "1 in", "cabinet.floor_material": "solid-wood"}, 96 + 23),
        ({"old.splash": "tile", "old.splash_height": "18 in", "scope.wall_repair": {"supplied_by": "excluded", "installed_by": "nobody"}}, 96 + 75),
        ({"old.splash": "tile", "old.splash_height": "18 in"}, 96 + 75 + 30),
        ({"scope.faucet": {"supplied_by": "us", "installed_by": "us"}}, 98),
    ],
)
def test_each_heap_by_hand(changes, hand_weight):
    """One heap at a time beside 2 cu ft of laminate; what stays or is hung again is no debris."""
    assert step_quantities(count_debris, {**NOTHING_ELSE, **changes}).get(TIP, 0) == hand_weight


@pytest.mark.parametrize(("thickness", "hand_walks"), [("1 1/2 in", 2), ("1 9/16 in", 2), ("1 5/8 in", 3)])
def test_walks_of_fifty_pounds(thickness, hand_walks):
    """96, 100 and 104 lb of counter: both sides of a full load of two walks."""
    assert step_quantities(count_debris, {**NOTHING_ELSE, "old.counter_thickness": thickness})[WALKS] == hand_walks * 2 * 40


@pytest.mark.parametrize(("thickness", "hand_runs"), [("15/16 in", 0), ("31/32 in", 1)])
def test_sixty_pounds_ride_home_in_the_van(thickness, hand_runs):
    """16 sq ft of counter weigh 64 lb for each inch: 60 lb at 15/16 in need no run of their own and pay no gate, 62 lb at 31/32 in do both."""
    found = step_quantities(count_debris, {**NOTHING_ELSE, "old.counter_thickness": thickness})
    assert found.get(RUNS, 0) == hand_runs
    assert (TIP in found) == bool(hand_runs)


@pytest.mark.parametrize(("length", "thickness", "hand_runs"), [("96 in", "1 1/2 in", 1), ("234 in", "2 in", 1), ("240 in", "4 in", 2)])
def test_runs_by_weight_or_room(length, thickness, hand_runs):
    """1200 lb of stone or 54 cu ft of room fill the truck: 19 1/2 ft of 2 in stone are 1118 lb, 20 ft of 4 in are 2294 lb."""
    changes = {**NOTHING_ELSE, "old.counter_material": "stone", "counter.runs[1].length": length, "old.counter_thickness": thickness}
    assert step_quantities(count_debris, changes)[RUNS] == hand_runs


def test_bulky_debris_fills_the_truck_before_its_weight():
    """160 sq ft of wood, 2.02 in thick, weigh 1185 lb and take 53.9 cu ft; at 2.04 in still 1197 lb, but 54.4 cu ft: a second run."""
    run = {"length": "240 in", "depth": "24 in", "left_end": "open", "right_end": "open"}
    changes = {**NOTHING_ELSE, "counter.runs": [run, run, run, run], "old.counter_material": "wood"}
    thin, thick = (step_quantities(count_debris, {**changes, "old.counter_thickness": thickness}) for thickness in ("2.02 in", "2.04 in"))
    assert (thin[TIP], thin[RUNS]) == (1186, 1)
    assert (thick[TIP], thick[RUNS]) == (1197, 2)


@pytest.mark.parametrize(("thickness", "hand_runs"), [("1 7/8 in", 1), ("1.87505 in", 2)])
def test_an_old_sink_takes_the_room_of_its_box(thickness, hand_runs):
    """160 sq ft of wood, 1 7/8 in thick, take 50 cu ft in pieces; 36 x 24 x 8 in of old sink are 4 more: the bed of 54 is full, and a hair is another run."""
    run = {"length": "240 in", "depth": "24 in", "left_end": "open", "right_end": "open"}
    changes = {"counter.runs": [run, run, run, run], "old.counter_material": "wood", "old.counter_thickness": thickness}
    sink = {"old.sink_kind": "top", "old.sink_width": "36 in", "old.sink_depth": "24 in"}
    assert step_quantities(count_debris, {**NOTHING_ELSE, **changes, **sink})[RUNS] == hand_runs


def test_the_carton_of_a_sink_takes_the_room_of_the_sink():
    """Body 32 1/2 x 18 in, 9 deep: 3.047 cu ft, and what the packaging weighs is its share of 118 lb."""
    (sink, *_) = _packaging(changed())
    assert sink.volume.value == pytest.approx(32.5 * 18 * 9 / 1728)
    assert sink.weight.value == pytest.approx(118 * value("site_work", "debris/packaging-share"))


def test_no_bags_for_whole_things():
    """An old sink and cartons go as they are."""
    stays = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays", "old.splash": "none"}
    found = step_quantities(count_debris, stays)
    assert found[LOAD] == math.ceil(28 + 11.8 + 4)
    assert BAGS not in found


def test_nothing_to_haul_is_no_step():
    """No debris, no lines."""
    assert (
        step_quantities(count_debris, {**NOTHING_ELSE, "scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}) == {}
    )


@given(thickness=st.integers(1, 30), thicker=st.integers(0, 1), weight=st.integers(5, 390), heavier=st.integers(0, 10), feet=st.integers(0, 400))
def test_heavier_debris_is_never_cheaper(thickness, thicker, weight, heavier, feet):
    """A thicker old counter and a heavier old sink never cost less at the tip, and never fewer walks or runs."""
    small, large = (
        step_quantities(count_debris, {"old.counter_thickness": f"{eighths / 8} in", "old.sink_weight": f"{pounds} lb", "site.carry": f"{feet} ft"})
        for eighths, pounds in ((thickness + 1, weight), (thickness + 1 + thicker, weight + heavier))
    )
    assert all(large[name] >= value for name, value in small.items())


@given(feet=st.integers(0, 480), more=st.integers(0, 20))
def test_more_carry_is_never_less_hauling(feet, more):
    """The way is walked as often, and farther."""
    near, far = (step_quantities(count_debris, {"site.carry": f"{length} ft"}) for length in (feet, feet + more))
    assert all(far.get(name, 0) >= value for name, value in near.items())
