"""Conditions of a job at their limits."""

import pytest
from work_jobs import estimated, lists

from kit.design.design import design_job
from kit.job import change_job
from kit.labor.conditions import holding_conditions
from kit.records import Kind
from kit.steps import Step


@pytest.mark.parametrize(
    ("name", "field", "hand_last", "hand_first"),
    [
        ("stairs", "site.stair_steps", 6, 7),  # more than six steps
        ("tight-access", "site.narrowest_door", "30 in", "29 15/16 in"),  # a sink 18 in deep and 12 in of hands and arms
        ("tight-access", "site.narrowest_turn", "30 in", "29 15/16 in"),
        ("upper-floor", "site.floor", 1, 2),
    ],
)
def test_access_at_its_limits(name, field, hand_last, hand_first):
    """The last job without the condition and the first with it."""
    job = change_job(estimated("stone_apron_single_bowl").job, {"sink.depth": "18 in", "site.narrowest_door": "36 in", "site.narrowest_turn": "36 in"})
    for typed, holds in ((hand_last, False), (hand_first, True)):
        now = change_job(job, {field: typed})
        assert (name in holding_conditions(now, design_job(now, lists()), lists())) == holds


@pytest.mark.parametrize(
    ("name", "changes", "hand_holds"),
    [
        ("steel-stubs", {"plumbing.supply_old": "galvanized", "plumbing.stops_to_renew": 0}, False),
        ("steel-stubs", {"plumbing.supply_old": "galvanized", "plumbing.stops_to_renew": 1}, True),
        ("steel-stubs", {"plumbing.supply_old": "copper", "plumbing.stops_to_renew": 1}, False),
        ("copper-joints", {"plumbing.supply_old": "copper", "plumbing.supply_new": "copper"}, True),
        ("copper-joints", {"plumbing.supply_old": "copper", "plumbing.supply_new": "copper", "plumbing.stops_to_renew": 0}, False),
        ("copper-joints", {"plumbing.supply_old": "galvanized", "plumbing.supply_new": "copper", "plumbing.stop_joint": "threaded"}, False),
        ("copper-joints", {"plumbing.supply_old": "galvanized", "plumbing.supply_new": "copper", "plumbing.stop_joint": "push-fit"}, True),
        ("copper-joints", {"plumbing.supply_old": "pex", "plumbing.supply_new": "pex"}, False),
        ("old-stops", {"plumbing.stop_age": "old", "plumbing.stops_to_renew": 1}, True),  # one of a faucet's two stays
        ("old-stops", {"plumbing.stop_age": "old", "plumbing.stops_to_renew": 2}, False),
        ("old-stops", {"plumbing.stop_age": "new", "plumbing.stops_to_renew": 1}, False),
        ("stub-not-measured", {"plumbing.stub_height": "unknown"}, True),
        ("stub-not-measured", {"plumbing.stub_height": "15 in"}, False),
        ("vent-not-seen", {"plumbing.vent_seen": False}, True),
        ("vent-not-seen", {"plumbing.vent_seen": False, "plumbing.drain_leaves": "floor"}, False),
    ],
)
def test_old_pipes_and_valves_are_met_where_they_are_touched(name, changes, hand_holds):
    """Steel stubs and old valves count where a valve is replaced, or one of the two is kept; what was not looked at, in a wall only."""
    found = estimated("stone_apron_single_bowl", changes)
    assert (name in holding_conditions(found.job, found.design, lists())) == hand_holds


@pytest.mark.parametrize("part", ["sink", "faucet", "counter"])
@pytest.mark.parametrize(("supplied_by", "hand_holds"), [("customer", True), ("us", False)])
def test_goods_of_the_customer_are_those_that_he_brings(part: str, supplied_by: str, hand_holds: bool) -> None:
    """What we bring to the job is none of his."""
    all_ours = {name: {"supplied_by": "us", "installed_by": "us"} for name in ("sink", "faucet", "strainer", "counter")}
    left_out = {name: {"supplied_by": "excluded", "installed_by": "nobody"} for name in ("disposer", "dishwasher", "splash")}
    scope = {**all_ours, **left_out, part: {"supplied_by": supplied_by, "installed_by": "us"}}
    found = estimated("stone_apron_single_bowl", {f"scope.{name}": one for name, one in scope.items()})
    assert ("customer-goods" in holding_conditions(found.job, found.design, lists())) == hand_holds


@pytest.mark.parametrize(("fixing", "hand_held"), [("glued", {"glued-counter", "old-counter-off"}), ("screwed", {"screwed-counter", "old-counter-off"})])
def test_how_the_old_countertop_is_fixed_counts_where_we_take_it_off(fixing, hand_held):
    """One of the two; none where the customer tears it out."""
    both, by_customer = {"glued-counter", "screwed-counter", "old-counter-off"}, {"scope.counter": {"supplied_by": "customer", "installed_by": "customer"}}
    for changes, hand in (({}, hand_held), (by_customer, set())):
        found = estimated("stone_apron_single_bowl", {"old.counter_fixing": fixing, **changes})
        assert both & set(holding_conditions(found.job, found.design, lists())) == hand


@pytest.mark.parametrize(
    ("changes", "hand_more"),
    [
        # nobody pays a stair twice: one person with small goods and the lifters, up and down, and debris in loads; 0.002 h a step
        ({"site.stair_steps": 17, "site.floor": 2}, {"carry-in-step", "haul-step", "protect-step"}),
        ({"site.narrowest_door": "24 in"}, {"tight-turn"}),  # two or more carry it between them
        ({"old.counter_fixing": "glued"}, {"glue-foot"}),
        ({"plumbing.stop_age": "old", "plumbing.stops_to_renew": 1}, {"old-valve-hose"}),  # the one hose, not the branch beside it
        ({"old.drain_photographed": False}, {"unseen-drain"}),  # what is behind the trap, not the pieces before it
    ],
)
def test_what_is_harder_adds_its_own_work_and_nothing_else(changes, hand_more):
    """Stairs, a tight way, glue, an old valve and an unseen drain are work counted by the piece or the foot: nothing beside them takes longer."""
    plain = {
        "sink.weight": "118 lb",
        "site.stair_steps": 0,
        "site.floor": 1,
        "site.narrowest_door": "36 in",
        "site.narrowest_turn": "36 in",
        "old.counter_fixing": "screwed",
        "plumbing.stop_age": "new",
        "plumbing.stops_to_renew": 1,
        "old.drain_photographed": True,
    }
    before, after = (estimated("wood_apron_two_bowl", plain | more) for more in ({}, changes))
    lines = [{line.item: line.quantity for line in found.lines if line.kind is Kind.DO} for found in (before, after)]
    moved = {item for item in lines[0].keys() | lines[1].keys() if lines[0].get(item, 0) != lines[1].get(item, 0)}
    assert moved - {"old-counter-screw", "trip-way", "trip-set-up", "least-visit"} == hand_more
    for task in after.tasks:
        (same,) = [one for one in before.tasks if one.step is task.step]
        assert task.factors == same.factors


def test_people_in_the_house_slow_down_what_crosses_their_rooms():
    """Goods in, floors covered, debris out, the room handed back: a fifth more there, and not a minute at the bench or below the sink."""
    empty, lived_in = (estimated("stone_apron_single_bowl", {"site.occupied": lives}) for lives in (False, True))
    alike = {task.step: task.hours_likely for task in empty.tasks}
    slowed = {task.step for task in lived_in.tasks if "occupied" in dict(task.factors)}
    assert slowed == {Step.RECEIVE, Step.PROTECT, Step.HAUL, Step.CLEAN}
    dust_wall_h = next(line.quantity for line in lived_in.lines if line.item == "dust-wall") * lists().rates["dust-wall"].likely_h
    for task in lived_in.tasks:
        hand_hours = alike[task.step] + (dust_wall_h if task.step is Step.PROTECT else 0.0)
        if task.step is not Step.TRIPS:  # a short visit is paid less beyond its work
            assert task.hours_likely == pytest.approx(hand_hours * (1.2 if task.step in slowed else 1.0), abs=2e-4)
