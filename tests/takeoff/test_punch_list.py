"""The walk at the end and the trip back."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.punch_list import count_punch_list

LOOKS, TRIPS = "punch-list/punch-look/walk through", "punch-list/return-trip/trips"


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


@pytest.mark.parametrize(("more", "hand_trips"), [(None, 1), (0, 1), (1, 2), (10, 11)])
def test_trips(more, hand_trips):
    """One trip back, and what the terms add."""
    assert step_quantities(count_punch_list, {"terms.extra_trips": more})[TRIPS] == hand_trips
