"""Room for labels: dimensions in tiers, names in a column."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.draw.dimensions import Size, arrange_sizes
from kit.draw.ink import Ink
from kit.draw.name_places import spread_column

spans = st.lists(st.tuples(st.floats(-500, 500), st.floats(0.5, 300)).map(lambda pair: (pair[0], pair[0] + pair[1])), max_size=12)
labels = st.lists(st.tuples(st.floats(-300, 300), st.floats(5, 60)), max_size=15).map(sorted)


@given(spans)
def test_no_two_dimensions_of_a_tier_share_room(given_spans):
    """Within a tier every two dimensions, the words beside their ticks included, stand apart or meet end to end."""
    rooms = arrange_sizes([Size(low, high, 0.0, "1/2 in") for low, high in given_spans])
    for number, (tier, room, _) in enumerate(rooms):
        for other_tier, other, _ in rooms[number + 1 :]:
            assert tier != other_tier or room[1] <= other[0] + 0.6 or other[1] <= room[0] + 0.6


def test_short_dimensions_stand_nearest_and_what_meets_makes_a_chain():
    """Three that meet share the first tier, the words of the short ones at the far ends; their sum stands outside it."""
    made = arrange_sizes([Size(low, high, 0.0, "1 1/2 in") for low, high in ((0, 360), (0, 20), (20, 340), (340, 360))])
    hand_tiers = [1, 0, 0, 0]
    assert [tier for tier, *_ in made] == hand_tiers
    assert made[1][1][0] < 0
    assert made[3][1][1] > 360


def test_words_of_close_tiers_stand_beside_no_other():
    """Four heights from one floor in tiers 9 px apart, less than letters are high: words of neighbors begin beyond each other's ends."""
    sizes = [Size(0, high, 0.0, "34 1/2 in") for high in (140, 160, 180, 200)]
    hand_half = 9 * 0.602 * 11 / 2
    made = arrange_sizes(sizes, tier=9.0)
    for number, (tier, _, middle) in enumerate(made):
        for other_tier, _, other in made[number + 1 :]:
            assert abs(tier - other_tier) > 1 or abs(middle - other) > 2 * hand_half


def test_words_stay_on_the_sheet():
    """A short dimension at the left edge of a telephone's sheet has its words on its right, though they run along another there."""
    (_, room, _), _ = arrange_sizes([Size(0, 10, 0.0, "1 1/2 in"), Size(10, 200, 0.0, "30 in")], sheet=(-20.0, 240.0))
    assert room[0] == 0
    assert room[1] > 10


def test_one_without_room_among_others_stands_outside_of_all():
    """4 in beside 12 in of another run, whose lines go on through the words of the 4 in in each tier further in."""
    sizes = [Size(100, 104, 0.0, "4 in"), Size(60, 98, 0.0, "12 in"), Size(108, 150, 0.0, "14 in")]
    made = arrange_sizes(sizes)
    half = 4 * 0.602 * 11 / 2
    for number, (tier, _, _) in enumerate(made[1:], 1):
        inside = any(made[0][2] - half < edge < made[0][2] + half for edge in (sizes[number].low, sizes[number].high))
        assert not inside or made[0][0] > tier


def test_words_beside_their_ticks_run_along_no_other_dimension():
    """8 1/2 in from the wall to an opening of 17 in: too short for its words, which stand beyond the wall and not beside the 17 in."""
    (tier, room, _), (other, *_) = arrange_sizes([Size(0, 40, 0.0, "8 1/2 in"), Size(40, 120, 0.0, "17 in")])
    assert tier == other
    assert room[0] < 0
    assert room[1] == 40


def test_no_thin_line_of_a_longer_dimension_goes_through_words():
    """1/8 in at 100 px, and a longer one whose line would pass at 70 px, where the words of the short one usually stand: they stand elsewhere."""
    (_, _, middle), _ = arrange_sizes([Size(100, 101, 0.0, "1/8 in"), Size(70, 300, 0.0, "34 1/2 in")])
    hand_half = 6 * 0.602 * 11 / 2
    assert not middle - hand_half < 70 < middle + hand_half


@given(labels)
def test_labels_of_a_column_never_touch_and_keep_their_order(given_labels):
    """Each label begins where the one above ends, or below."""
    wishes, heights = [wish for wish, _ in given_labels], [height for _, height in given_labels]
    centers = spread_column(wishes, heights)
    for number in range(1, len(centers)):
        assert centers[number] - heights[number] / 2 >= centers[number - 1] + heights[number - 1] / 2 - 1e-6


def test_labels_with_room_stay_where_they_wish():
    """Nothing moves that does not have to."""
    assert spread_column([0.0, 50.0, 100.0], [20.0, 20.0, 20.0]) == pytest.approx((0.0, 50.0, 100.0))


def test_two_labels_at_one_place_part_evenly():
    """Both move by half a label."""
    assert spread_column([10.0, 10.0], [20.0, 20.0]) == pytest.approx((0.0, 20.0))


def test_boxes_that_share_an_edge_do_not_overlap():
    """Side by side is not on each other; a hair more is."""
    ink = Ink(taken=[(1, 0, 2, 1)])
    assert ink.is_free((0, 0, 1, 1))
    assert not ink.is_free((0, 0, 1.01, 1))
