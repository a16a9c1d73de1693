"""Room for labels: dimensions in tiers, names in a column."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.draw.ink import overlaps
from kit.draw.labels import pack_tiers, spread_column

spans = st.lists(st.tuples(st.floats(-500, 500), st.floats(0.5, 300)).map(lambda pair: (pair[0], pair[0] + pair[1])), max_size=12)
labels = st.lists(st.tuples(st.floats(-300, 300), st.floats(5, 60)), max_size=15).map(sorted)


@given(spans, st.floats(0, 10))
def test_no_two_dimensions_of_a_tier_touch(given_spans, gap):
    """Within a tier every two spans keep the gap."""
    tiers = pack_tiers(given_spans, [high - low for low, high in given_spans], gap)
    for number, one in enumerate(given_spans):
        for other in range(number + 1, len(given_spans)):
            if tiers[number] == tiers[other]:
                assert one[1] + gap <= given_spans[other][0] or given_spans[other][1] + gap <= one[0]


def test_short_dimensions_stand_nearest():
    """A chain of three shares the first tier; their sum stands outside it."""
    hand_tiers = (1, 0, 0, 0)
    assert pack_tiers([(0, 36), (0, 2), (3, 33), (34, 36)], [36, 2, 30, 2], 1.0) == hand_tiers


@given(labels)
def test_labels_of_a_column_never_touch_and_keep_their_order(given_labels):
    """Each label begins where the one above ends, or below."""
    wishes, heights = [wish for wish, _ in given_labels], [height for _, height in given_labels]
    centres = spread_column(wishes, heights)
    for number in range(1, len(centres)):
        assert centres[number] - heights[number] / 2 >= centres[number - 1] + heights[number - 1] / 2 - 1e-6


def test_labels_with_room_stay_where_they_wish():
    """Nothing moves that does not have to."""
    assert spread_column([0.0, 50.0, 100.0], [20.0, 20.0, 20.0]) == pytest.approx((0.0, 50.0, 100.0))


def test_two_labels_at_one_place_part_evenly():
    """Both move by half a label."""
    assert spread_column([10.0, 10.0], [20.0, 20.0]) == pytest.approx((0.0, 20.0))


def test_boxes_that_share_an_edge_do_not_overlap():
    """Side by side is not on each other; a hair more is."""
    assert not overlaps((0, 0, 1, 1), (1, 0, 2, 1))
    assert overlaps((0, 0, 1.01, 1), (1, 0, 2, 1))
