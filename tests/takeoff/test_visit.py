"""What there is to measure at the visit."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.visits import count_visit

MEASURE = "visit/measure-part/measure"


def test_parts_of_the_plain_job():
    """Base, one run, old sink, one hole, two readings."""
    hand_parts = 1 + 1 + 1 + 1 + 2
    assert step_quantities(count_visit) == {MEASURE: hand_parts}


@pytest.mark.parametrize(
    ("changes", "hand_parts"),
    [
        ({"old.sink_kind": "none"}, 5),
        ({"counter.holes": []}, 5),
        ({"levelness.readings": []}, 4),
        ({"cabinet.corner": {"side": "left", "distance": "30 in", "return_part": "door"}}, 7),
        ({"old.sink_kind": "none", "counter.holes": [], "levelness.readings": []}, 2),
    ],
)
def test_each_part_is_counted_once(changes, hand_parts):
    """What is not there is not measured."""
    assert step_quantities(count_visit, changes) == {MEASURE: hand_parts}
