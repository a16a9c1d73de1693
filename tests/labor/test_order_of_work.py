"""The order of the work: what must hold in every job, and what depends on the job."""

from datetime import timedelta

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, lists

from kit.draw.calendar_chart import draw_calendar
from kit.estimating import Estimate
from kit.labor.conditions import holding_conditions
from kit.labor.step_order import find_leads, order_of_work, order_steps
from kit.lists.condition_names import CONDITIONS
from kit.outlook import plan_schedule
from kit.steps import Step

S = Step
FIRST = [(S.PROTECT, S.SHUT_OFF), (S.SHUT_OFF, S.FRONTS_OFF), (S.SHUT_OFF, S.REMOVE_SINK), (S.FRONTS_OFF, S.CUT_FRONT), (S.FRONTS_OFF, S.REFIT_FRONTS)]
WATER = [(S.REMOVE_SINK, S.STOPS), (S.STOPS, S.REMOVE_COUNTER), (S.STOPS, S.KEEP_WATER), (S.REMOVE_COUNTER, S.LEVEL)]
ABATED = [
    (S.REMOVE_SINK, S.ABATE),
    (S.STOPS, S.ABATE),
    (S.KEEP_WATER, S.ABATE),
    *((S.ABATE, then) for then in (S.REMOVE_COUNTER, S.REPAIR_CABINET, S.LEVEL, S.HAUL)),
]
FLOOR_LAST = [
    (first, then) for first in (S.ROUGH_DRAIN, S.ROUGH_ELECTRIC, S.INSPECT) for then in (S.REPAIR_CABINET, S.LEVEL)
]  # floor and leveling of a base in which a trade works
ON_THE_BENCH = [(S.FIT_FAUCET, S.SET_SINK)]  # where the holes are in the sink's ledge
LEVEL_FIRST = [(S.LEVEL, other) for other in (S.PATCH_WALL, S.CUT_FRONT, S.BUILD_FRAME, S.SET_SINK, S.SET_COUNTER)]
OPEN = [(rough, S.INSPECT) for rough in (S.ROUGH_DRAIN, S.ROUGH_ELECTRIC, S.HAUL)]  # nobody waits for the inspector beside a heap
CLOSED = [(open_work, S.PATCH_WALL) for open_work in (S.ROUGH_DRAIN, S.ROUGH_ELECTRIC, S.INSPECT, S.REMOVE_COUNTER)]
COVERED = [(S.PATCH_WALL, cover) for cover in (S.CUT_FRONT, S.BUILD_FRAME, S.SET_SINK, S.SET_COUNTER, S.ELECTRIC_DEVICE, S.FINISH_WALL)]
REACHED = [(S.SET_COUNTER, S.FINISH_WALL), (S.SET_COUNTER, S.ELECTRIC_DEVICE), (S.ELECTRIC_DEVICE, S.CONNECT_DISPOSER), (S.PAINT_WALL, S.CLEAN)]
FRAME = [(S.CUT_FRONT, S.BUILD_FRAME), (S.BUILD_FRAME, S.SET_SINK)]
OWN_TOP = [(S.REST_BLANK, S.COAT_BLANK), (S.COAT_BLANK, S.RECEIVE), (S.FIT_TOP, S.COAT_EDGES), (S.FIT_TOP, S.SET_COUNTER), (S.COAT_EDGES, S.SET_COUNTER)]
HUNG = [(S.SET_SINK, S.HANG_SINK), (S.SET_COUNTER, S.HANG_SINK), (S.HANG_SINK, S.CONNECT_DRAIN), (S.HANG_SINK, S.CONNECT_DISPOSER)]
END = [
    (S.SET_SINK, S.SEAL),
    (S.SET_COUNTER, S.SEAL),
    (S.SET_SINK, S.CONNECT_DRAIN),
    (S.SET_SINK, S.CONNECT_SUPPLY),
    (S.CONNECT_DRAIN, S.FILL_TEST),
    (S.CONNECT_SUPPLY, S.FILL_TEST),
]
LAST = [(S.FILL_TEST, S.REFIT_FRONTS), (S.FILL_TEST, S.INSPECT_FINAL), (S.CLEAN, S.INSPECT_FINAL), (S.INSPECT_FINAL, S.PUNCH_LIST), (S.FILL_TEST, S.PUNCH_LIST)]
LAID = [(S.TEMPLATE, S.CAST), (S.CAST, S.SET_COUNTER), (S.PATCH_WALL, S.LAY_BACKER), (S.LAY_BACKER, S.SET_COUNTER), (S.SET_COUNTER, S.GROUT), (S.GROUT, S.SEAL)]
CLEARED = [(S.REMOVE_COUNTER, S.HAUL)]  # a hired hauler loads while our people go on
GOODS = [(S.ORDER, S.RECEIVE), (S.RECEIVE, S.REMOVE_SINK), (S.RECEIVE, S.REMOVE_COUNTER), (S.RECEIVE, S.TEMPLATE)]
PAIRS = [*FIRST, *WATER, *ABATED, *LEVEL_FIRST, *OPEN, *CLOSED, *COVERED, *REACHED, *FRAME, *OWN_TOP, *HUNG, *END, *LAST, *CLEARED, *LAID, *GOODS]
DAY = timedelta(hours=24)
CURES = [
    (S.HANG_SINK, S.CONNECT_DRAIN),
    (S.HANG_SINK, S.CONNECT_DISPOSER),
    (S.FINISH_WALL, S.PAINT_WALL),
    (S.SET_COUNTER, S.GROUT),
    (S.GROUT, S.SEAL),
    (S.CAST, S.SET_COUNTER),
    (S.ABATE, S.REMOVE_COUNTER),
    (S.ABATE, S.LEVEL),
]
DRIES = [(S.FIT_TOP, S.COAT_EDGES), (S.COAT_EDGES, S.SET_COUNTER)]


CAST = {"counter.item": "concrete-1-1-2", "counter.material": "concrete", "counter.thickness": "1 1/2 in"}


def check_order(found: Estimate) -> int:
    """What must hold for any job; gives how many pairs of steps were there to look at."""
    plan = plan_schedule(found).schedule
    rows = {row.step: row for row in plan.steps}
    for task in (*found.tasks, *found.hired):
        assert all(rows[before].finish <= rows[task.step].start for before in task.after), task.step
    seen = [(before, after) for before, after in PAIRS if before in rows and after in rows]
    for before, after in seen:
        assert rows[before].finish <= rows[after].start, f"{before} must end before {after}"
    for before, after in (*CURES, *DRIES):
        if before in rows and after in rows and (before, after) not in DRIES[:1]:
            assert rows[after].start - rows[before].finish >= DAY, f"{before} cures or dries before {after}"
    holds = holding_conditions(found.job, found.design, found.lists)
    rough, ledge, swap = "rough-first" in holds, {"ledge-faucet", "ledge-faucet-last"} & {*holds}, "plain-swap" in holds
    moved = [*(FLOOR_LAST if rough else []), *(ON_THE_BENCH if ledge else [(S.SET_SINK, S.FIT_FAUCET)])]
    for before, after in [*moved, *([(S.SET_SINK, S.HAUL), (S.FIT_FAUCET, S.HAUL)] if swap else [])]:
        assert before not in rows or after not in rows or rows[before].finish <= rows[after].start, f"{before} must end before {after}"
    _check_sink(found, rows, holds)
    if S.TEMPLATE in rows and S.REMOVE_SINK in rows:
        if "sink-first" in holds:
            assert rows[S.REMOVE_SINK].finish <= rows[S.TEMPLATE].start
            assert S.SET_SINK not in rows or rows[S.SET_SINK].finish <= rows[S.TEMPLATE].start
        elif "template-first" in holds:  # neither holds where only a splash is measured
            assert rows[S.TEMPLATE].finish <= rows[S.REMOVE_SINK].start
    return len(seen)


def _check_sink(found: Estimate, rows, holds) -> None:
    """Before or after the counter, scribed after or before the sink, used on the day or after the cure, never lifted by too few."""
    first, then = (S.SET_COUNTER, S.SET_SINK) if "counter-first" in holds else (S.SET_SINK, S.SET_COUNTER)
    if S.SET_SINK in rows and S.SET_COUNTER in rows:
        assert rows[first].finish <= rows[then].start
    if S.SET_SINK in rows and S.FIT_TOP in rows:
        before, after = (S.FIT_TOP, S.SET_SINK) if "counter-first" in holds else (S.SET_SINK, S.FIT_TOP)
        assert rows[before].finish <= rows[after].start
    if S.SEAL in rows and S.CONNECT_DRAIN in rows and "clipped-rim" not in holds:
        assert rows[S.CONNECT_DRAIN].start - rows[S.SEAL].finish >= DAY
    for task in found.tasks:
        if task.step in {S.SET_SINK, S.RECEIVE, S.HANG_SINK}:
            assert task.crew >= found.design.lift.lifters


@pytest.mark.parametrize(
    ("stem", "changes", "hand_people"),
    [
        ("solid_surface_flush", {}, 1),
        ("solid_surface_flush", {"scope.dishwasher": {"supplied_by": "us", "installed_by": "us"}}, 2),
        ("wood_apron_two_bowl", {}, 2),  # its countertop is cut from blanks that we carry in
        ("counter_stays_sink_only", {}, 1),
    ],
)
def test_a_light_sink_is_carried_in_by_one_a_dishwasher_or_blanks_by_two(stem: str, changes: dict[str, object], hand_people: int) -> None:
    """A sink of 40 lb, one person's load by the crew table."""
    found = estimated(stem, {"sink.weight": "40 lb", **changes})
    assert found.design.lift.lifters == 1
    assert next(task for task in found.tasks if task.step is S.RECEIVE).crew == hand_people


def check_water(found: Estimate) -> None:
    """Water goes off once: valves are renewed in the trip in which the old sink comes out, and a stub with a new valve needs no cap."""
    trips = [set(trip.steps) for trip in found.trips]
    assert not [trip for trip in trips if S.STOPS in trip and S.REMOVE_SINK not in trip] or all(S.REMOVE_SINK not in trip for trip in trips)
    assert sum(S.SHUT_OFF in trip for trip in trips) <= 1
    caps = sum(line.quantity for line in found.lines if line.item == "cap-stub")
    assert not (caps and found.design.supply.stops >= 2)


@pytest.mark.parametrize("stem", STEMS)
def test_order_of_every_example(stem):
    """Water and power off, fronts, sink and valves, level, rough work, inspection, wall, front cut, frame, sink, counter, cure, trap, test."""
    assert check_order(estimated(stem)) >= 8
    check_water(estimated(stem))


def test_order_of_jobs_by_chance():
    """The same for random jobs of every kind."""
    found = [random_estimate(seed) for seed in range(48)]
    for each in found:
        check_water(each)
    assert sum(map(check_order, found)) > 500


@pytest.mark.long
def test_order_of_many_jobs_by_chance():
    """Three hundred more; each kind of step occurs."""
    steps = set()
    for seed in range(1000, 1300):
        found = random_estimate(seed)
        check_water(found)
        check_order(found)
        steps |= {task.step for task in (*found.tasks, *found.hired)}
    assert steps == set(S)


def test_every_condition_is_worked_out():
    """The names that the lists may use are the names that are worked out, each once, in one order."""
    found = estimated(STONE)
    holding = holding_conditions(found.job, found.design, found.lists)
    assert "always" in holding
    assert len(set(CONDITIONS)) == len(CONDITIONS)
    assert list(holding) == [name for name in CONDITIONS if name in holding]


@pytest.mark.parametrize(
    ("stem", "changes", "hand_rules"),
    [
        (STONE, {}, {"sink-first"}),
        (STONE, {"sink.mount": "flush"}, {"sink-first"}),  # a joint in sight at both sides is cut to the sink where it stands
        (STONE, CAST, {"template-first"}),  # nobody goes without a kitchen while it cures
        (STONE, {"sink.mount": "top"}, {"template-first", "counter-first"}),
        ("solid_surface_flush", {}, {"template-first", "counter-first"}),
        ("wood_apron_two_bowl", {}, set()),
        ("laminate_top_mount", {}, {"counter-first"}),
        ("counter_stays_sink_only", {}, {"counter-first"}),
    ],
)
def test_which_rules_of_order_hold(stem, changes, hand_rules):
    """An apron that a fabricator's top joins at its sides first; other sinks templated first; what lies on the counter or hangs in it after it."""
    found = estimated(stem, changes)
    assert set(holding_conditions(found.job, found.design, found.lists)) & {"sink-first", "template-first", "counter-first"} == hand_rules


@pytest.mark.parametrize(
    ("stem", "changes", "hand_order"),
    [
        (STONE, {}, [S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.HAUL, S.TEMPLATE, S.SET_COUNTER, S.SEAL]),
        (STONE, {"sink.mount": "flush"}, [S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.HAUL, S.TEMPLATE, S.SET_COUNTER, S.SEAL]),
        ("wood_apron_two_bowl", {}, [S.COAT_BLANK, S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.FIT_TOP, S.COAT_EDGES, S.SET_COUNTER, S.SEAL]),
        ("laminate_top_mount", {}, [S.REMOVE_SINK, S.FIT_TOP, S.SET_COUNTER, S.SET_SINK, S.SEAL]),
        ("solid_surface_flush", {}, [S.TEMPLATE, S.REMOVE_SINK, S.SET_COUNTER, S.SET_SINK, S.SEAL]),
    ],
)
def test_order_depends_on_the_job(stem, changes, hand_order):
    """Where the template stands, and whether sink or counter comes first."""
    steps = [row.step for row in plan_schedule(estimated(stem, changes)).schedule.steps]
    assert [step for step in steps if step in hand_order] == hand_order


def test_a_kitchen_waits_in_use_for_what_is_cast():
    """Four weeks of cure are no days without a sink: the old kitchen is taken out when the countertop can travel."""
    found = plan_schedule(estimated(STONE, CAST))
    rows = {row.step: row for row in found.schedule.steps}
    assert rows[S.CAST].finish + 28 * DAY <= rows[S.REMOVE_SINK].start
    assert found.days_without_sink < 14


def test_a_tile_setter_waits_for_the_tile_in_the_color_chosen():
    """Ordered when the customer has signed, by whoever lays it."""
    tile = {"counter.item": "tile-set", "counter.material": "tile", "counter.made_by": "fabricator", "counter.thickness": "1 in"}
    shop = {"supplied_by": "fabricator", "installed_by": "fabricator"}
    found = estimated("laminate_top_mount", tile | {"scope.counter": shop, "scope.splash": shop})
    leads = find_leads(found.job, found.lines, {task.step: task.after for task in (*found.tasks, *found.hired)}, lists())
    assert "tile-area" in {lead.what for lead in leads[S.ORDER]}


def test_a_top_of_our_own_has_no_template():
    """And nothing that waits for one."""
    found = estimated("wood_apron_two_bowl")
    assert all(task.step is not Step.TEMPLATE for task in (*found.tasks, *found.hired))
    assert next(task for task in found.tasks if task.step is Step.SET_COUNTER).after[:3] == (S.COAT_EDGES, S.FIT_TOP, S.SET_SINK)


def test_the_last_rule_that_holds_counts():
    """A top mount under a fabricator's counter: the counter first, though the template goes first too."""
    after = order_of_work(lists(), {"template-first", "counter-first"})
    assert after[S.SET_COUNTER] == (S.BUILD_FRAME, S.PATCH_WALL, S.CAST, S.FIT_TOP, S.COAT_EDGES, S.LAY_BACKER)
    assert after[S.PROTECT] == (S.CAST,)
    assert order_of_work(lists(), set())[S.SET_COUNTER] == (S.COAT_EDGES, S.FIT_TOP, S.LAY_BACKER, S.CAST, S.PATCH_WALL)


def test_an_absent_step_hands_its_forerunners_on():
    """Without cut, frame and inspection the sink waits for the level boxes, and they for the stops."""
    order = order_steps(order_of_work(lists(), set()), [S.LEVEL, S.STOPS, S.SET_SINK, S.TRIPS], lists())
    assert {step: set(before) for step, before in order.items()} == {S.STOPS: set(), S.LEVEL: {S.STOPS}, S.SET_SINK: {S.LEVEL}}


def test_a_plain_swap_is_one_visit_of_one_person():
    """Five to seven hours with travel, the desk apart, and the sink is used the same day; two valves on old pipe are the better part of an hour of it."""
    found = estimated("counter_stays_sink_only")
    plain = estimated("counter_stays_sink_only", {"plumbing.stops_to_renew": 0, "plumbing.stop_age": "new"})
    for each in (found, plain):
        schedule = plan_schedule(each)
        assert (len(schedule.trips), schedule.schedule.trips, schedule.schedule.crew_days) == (1, 1, 1)
        assert schedule.trips[0].people == 1
        assert schedule.sink_out.date() == schedule.sink_back.date()
        at_the_desk = sum(task.hours_likely for task in each.tasks if task.step is S.ORDER)
        assert 5 <= each.hours - at_the_desk <= 7
    assert 0.5 <= found.hours - plain.hours <= 2


def test_a_sink_without_clips_waits_for_its_bed():
    """A thick rim lies by its weight: nothing hangs on it for a day."""
    found = estimated("counter_stays_sink_only", {"sink.rim_thickness": "1/2 in"})
    assert [trip.first for trip in found.trips] == [S.RECEIVE, S.CONNECT_DRAIN]


def test_a_heavy_drop_in_is_no_job_for_one():
    """112 lb in a crew of one: three people set it, and they travel."""
    found = estimated("counter_stays_sink_only", {"sink.weight": "112 lb"})
    assert found.trips[0].people == 3


def test_a_job_signed_in_a_far_year_is_planned_at_once():
    """No loop over days: seventy years between visit and signature."""
    found = estimated(STONE, {"terms.signed_on": "2100-01-05"})
    assert plan_schedule(found).finish.year == 2100
    drawn = draw_calendar(plan_schedule(found), {step: row.name for step, row in found.lists.steps.items()})
    assert len(drawn) < 50_000


def test_a_new_cable_is_inspected_before_the_wall_closes_and_at_the_end():
    """A disposer where none was, the drain where it is: rough inspection after the electrician and before the patch, final one after his device."""
    wired = {"plumbing.disposer": "new", "scope.disposer": {"supplied_by": "us", "installed_by": "us"}, "plumbing.stub_height": "9 in"}
    found = estimated(STONE, wired)
    order = [row.step for row in plan_schedule(found).schedule.steps]
    assert not found.design.drain.is_lowered
    places = [order.index(step) for step in (S.ROUGH_ELECTRIC, S.INSPECT, S.ELECTRIC_DEVICE, S.INSPECT_FINAL)]
    assert places == sorted(places)
    assert S.PATCH_WALL not in order or order.index(S.INSPECT) < order.index(S.PATCH_WALL)
    (permit,) = (finding for finding in found.findings if finding.id == "duties/permit")
    assert permit.measured == "a new cable is run"
    assert any(purchase.item == "permit" for purchase in found.purchases)
    assert S.INSPECT not in [row.step for row in plan_schedule(estimated(STONE)).schedule.steps]
