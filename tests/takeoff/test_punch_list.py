"""The walk at the end and what it finds."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.visits import count_punch_list

LOOKS, ROUND = "punch-list/punch-look/walk through", "punch-list/punch-round/put right"


@pytest.mark.parametrize(
    ("changes", "hand_looks"),
    [
        ({}, 2 + 2 + 1 + 1),  # crew and fabricator, doors, bowl, hole
        ({"counter.holes": []}, 5),
        ({"cabinet.width": "24 in"}, 5),
        ({"plumbing.stub_height": "24 in"}, 7),
        ({"sink.bowls": [{"width": "14 in", "front_to_back": "15 in", "depth": "9 in"}] * 2}, 7),
    ],
)
def test_looks_by_parties_and_openings(changes, hand_looks):
    """Every party that worked, every door, bowl and hole."""
    assert step_quantities(count_punch_list, changes)[LOOKS] == hand_looks


def test_one_round_of_putting_right():
    """However much the terms say about trips: these are counted with the ways."""
    assert step_quantities(count_punch_list, {})[ROUND] == step_quantities(count_punch_list, {"terms.extra_trips": 3})[ROUND] == 1
