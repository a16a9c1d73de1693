"""Where a run of counter is seamed."""

from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kit.design.seams import place_seams

lengths = st.floats(min_value=12, max_value=240)
longest = st.floats(min_value=48, max_value=144)


@pytest.mark.parametrize(
    ("length", "most", "hand_places"),
    [(96, 110, ()), (110, 110, ()), (110.01, 110, (55.005,)), (150, 110, (75,)), (240, 80, (80, 160)), (12, 144, ())],
)
def test_no_more_pieces_than_needed_and_all_alike(length, most, hand_places):
    """One piece up to the longest, both sides of it; equal shares where nothing is in the way."""
    assert place_seams(length, most) == pytest.approx(hand_places)


@pytest.mark.parametrize(("wanted", "hand_places"), [(0, ()), (1, (48,)), (2, (32, 64))])
def test_seams_that_are_wanted_where_one_piece_would_reach(wanted, hand_places):
    """96 in of 110 in slabs: none is needed, those wanted are equal shares; a longer run has what it needs where fewer are wanted."""
    assert place_seams(96, 110, least_seams=wanted) == pytest.approx(hand_places)
    assert len(place_seams(240, 80, least_seams=wanted)) == 2


def test_a_seam_moves_out_of_the_sink():
    """A sink from 60 to 90 in: the seam at 75 in goes to the nearer edge that leaves no piece too long."""
    assert place_seams(150, 110, [(60, 90)]) == (60,)
    assert place_seams(150, 110, [(60, 89)]) == (89,)


def test_a_seam_stays_where_it_touches_the_edge_of_a_stretch():
    """The edge itself is clear."""
    assert place_seams(150, 110, [(75, 100)]) == (75,)


def test_one_piece_more_where_the_fewest_find_no_place():
    """150 in of at most 80 in: two pieces need their seam from 70 to 80 in, where the sink is; three pieces go round it."""
    found = place_seams(150, 80, [(66, 84)])
    assert len(found) == 2
    assert all(not 66 < place < 84 for place in found)


def test_a_seam_stands_farther_from_its_share_where_the_next_one_needs_it():
    """190 in of at most 100, clear of 25 to 60 and of 70 to 165: from 63 1/3 no piece of 100 in reaches past 165, from 70 one does."""
    assert place_seams(190, 100, [(25, 60), (70, 165)]) == (70, 165)


def test_falls_back_to_equal_pieces_where_nothing_is_clear():
    """A stretch over the whole run: the fewest pieces, and a check says so."""
    assert place_seams(150, 110, [(-3, 153)]) == (75,)


@given(lengths, longest, st.floats(min_value=0, max_value=200), st.floats(min_value=1, max_value=50))
def test_pieces_fit_and_add_up(length, most, start, width):
    """No piece is longer than the longest; together they are the run."""
    places = (0.0, *place_seams(length, most, [(start, start + width)]), length)
    pieces = [right - left for left, right in pairwise(places)]
    assert sum(pieces) == pytest.approx(length)
    assert max(pieces) <= most + 1e-5
    assert min(pieces) > 0


@given(lengths, longest, longest)
def test_a_longer_slab_never_takes_more_seams(length, one, other):
    """Without anything to keep clear of."""
    assume(one <= other)
    assert len(place_seams(length, one)) >= len(place_seams(length, other))
