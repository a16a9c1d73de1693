"""The order of the work: what must hold in every job, and what depends on the job."""

from datetime import timedelta

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, lists

from kit.estimate import Estimate
from kit.labor.conditions import holding_conditions
from kit.labor.order import order_of_work, order_steps
from kit.lists.conditions import CONDITIONS
from kit.outlook import schedule_of
from kit.steps import Step

S = Step
LEVEL_FIRST = [(S.LEVEL, other) for other in (S.ROUGH_DRAIN, S.STOPS, S.INSPECT, S.CUT_FRONT, S.BUILD_FRAME, S.SET_SINK, S.SET_COUNTER)]
ROUGH_FIRST = [(rough, other) for rough in (S.ROUGH_DRAIN, S.STOPS) for other in (S.INSPECT, S.CUT_FRONT, S.BUILD_FRAME, S.SET_SINK)]
FRAME = [(S.INSPECT, S.CUT_FRONT), (S.CUT_FRONT, S.BUILD_FRAME), (S.BUILD_FRAME, S.SET_SINK)]
END = [(S.SET_SINK, S.SEAL), (S.SET_COUNTER, S.SEAL), (S.SEAL, S.CONNECT_DRAIN), (S.CONNECT_DRAIN, S.FILL_TEST), (S.CONNECT_SUPPLY, S.FILL_TEST)]
GOODS = [(S.ORDER, S.RECEIVE), (S.RECEIVE, S.REMOVE_SINK), (S.RECEIVE, S.REMOVE_COUNTER), (S.REMOVE_COUNTER, S.LEVEL), (S.RECEIVE, S.TEMPLATE)]
PAIRS = [*LEVEL_FIRST, *ROUGH_FIRST, *FRAME, *END, *GOODS]


def check_order(found: Estimate) -> int:
    """What must hold for any job; gives how many pairs of steps were there to look at."""
    plan = schedule_of(found).schedule
    rows = {row.step: row for row in plan.steps}
    seen = [(before, after) for before, after in PAIRS if before in rows and after in rows]
    for before, after in seen:
        assert rows[before].finish <= rows[after].start, f"{before} must end before {after}"
    holds = holding_conditions(found.job, found.design)
    if S.SET_SINK in rows and S.SET_COUNTER in rows:
        first, then = (S.SET_COUNTER, S.SET_SINK) if "counter-first" in holds else (S.SET_SINK, S.SET_COUNTER)
        assert rows[first].finish <= rows[then].start
    if S.TEMPLATE in rows and S.REMOVE_SINK in rows:
        if "sink-first" in holds:
            assert rows[S.REMOVE_SINK].finish <= rows[S.TEMPLATE].start
            assert S.SET_SINK not in rows or rows[S.SET_SINK].finish <= rows[S.TEMPLATE].start
        elif "template-first" in holds:  # neither holds where only a splash is measured
            assert rows[S.TEMPLATE].finish <= rows[S.REMOVE_SINK].start
    if S.SEAL in rows and S.CONNECT_DRAIN in rows:
        assert rows[S.CONNECT_DRAIN].start - rows[S.SEAL].finish >= timedelta(hours=24)
    return len(seen)


@pytest.mark.parametrize("stem", STEMS)
def test_order_of_every_example(stem):
    """Level, rough drain and stops, inspection, front cut, frame, sink, counter, 24 hours, trap, fill test."""
    assert check_order(estimated(stem)) >= 8


def test_order_of_jobs_by_chance():
    """The same for random jobs of every kind."""
    assert sum(check_order(random_estimate(seed)) for seed in range(150)) > 600


def test_every_condition_is_worked_out():
    """The names that the lists may use are the names that are worked out, each once, in one order."""
    found = estimated(STONE)
    holding = holding_conditions(found.job, found.design)
    assert "always" in holding
    assert len(set(CONDITIONS)) == len(CONDITIONS)
    assert list(holding) == [name for name in CONDITIONS if name in holding]


@pytest.mark.parametrize(
    ("stem", "changes", "hand_rules"),
    [
        (STONE, {}, {"sink-first"}),
        (STONE, {"sink.mount": "flush"}, {"template-first"}),
        (STONE, {"sink.mount": "top"}, {"template-first", "counter-first"}),
        ("solid_surface_flush", {}, {"template-first"}),
        ("wood_apron_two_bowl", {}, set()),
        ("laminate_top_mount", {}, {"counter-first"}),
        ("counter_stays_sink_only", {}, {"counter-first"}),
    ],
)
def test_which_rules_of_order_hold(stem, changes, hand_rules):
    """An under-mount apron under a fabricator's top first; other sinks templated first; what lies on the counter after it."""
    found = estimated(stem, changes)
    assert set(holding_conditions(found.job, found.design)) & {"sink-first", "template-first", "counter-first"} == hand_rules


@pytest.mark.parametrize(
    ("stem", "changes", "hand_order"),
    [
        (STONE, {}, [S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.TEMPLATE, S.SET_COUNTER, S.SEAL]),
        (STONE, {"sink.mount": "flush"}, [S.TEMPLATE, S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.SET_COUNTER, S.SEAL]),
        ("wood_apron_two_bowl", {}, [S.REMOVE_SINK, S.BUILD_FRAME, S.SET_SINK, S.SET_COUNTER, S.SEAL]),
        ("laminate_top_mount", {}, [S.REMOVE_SINK, S.SET_COUNTER, S.SET_SINK, S.SEAL]),
    ],
)
def test_order_depends_on_the_job(stem, changes, hand_order):
    """Where the template stands, and whether sink or counter comes first."""
    steps = [row.step for row in schedule_of(estimated(stem, changes)).schedule.steps]
    assert [step for step in steps if step in hand_order] == hand_order


def test_a_top_of_our_own_has_no_template():
    """And nothing that waits for one."""
    found = estimated("wood_apron_two_bowl")
    assert all(task.step is not Step.TEMPLATE for task in (*found.tasks, *found.hired))
    assert next(task for task in found.tasks if task.step is Step.SET_COUNTER).after == (Step.SET_SINK,)


def test_the_last_rule_that_holds_counts():
    """A top mount under a fabricator's counter: the counter first, though the template goes first too."""
    after = order_of_work(lists(), {"template-first", "counter-first"})
    assert after[S.SET_COUNTER] == (S.BUILD_FRAME, S.TEMPLATE)
    assert after[S.PROTECT] == (S.TEMPLATE,)
    assert order_of_work(lists(), set())[S.SET_COUNTER] == (S.TEMPLATE,)


def test_an_absent_step_hands_its_forerunners_on():
    """Without cut, frame and inspection the sink waits for the stops."""
    order = order_steps(order_of_work(lists(), set()), [S.LEVEL, S.STOPS, S.SET_SINK, S.TRIPS], lists())
    assert {step: set(before) for step, before in order.items()} == {S.LEVEL: set(), S.STOPS: {S.LEVEL}, S.SET_SINK: {S.STOPS, S.LEVEL}}
