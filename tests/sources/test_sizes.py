"""Sizes behind trade names."""

import pytest

from kit.errors import UnitError
from kit.sources import SourceError
from kit.sources.sizes import board_feet, dressed_size, item_size, table_size


def test_a_two_by_four_is_smaller_than_its_name():
    """PS 20, dry: 1 1/2 x 3 1/2 in."""
    printed_size = (1.5, 3.5)  # nist-ps20-2020, minimum dressed sizes
    assert dressed_size("2x4") == printed_size


def test_a_size_that_nobody_dresses_is_refused():
    """No size is made up."""
    with pytest.raises(SourceError, match=r'has no row "3x5/thickness"'):
        dressed_size("3x5")


@pytest.mark.parametrize(
    ("nominal", "length_in", "hand_feet"), [("2x4", 144.0, 8.0), ("1x12", 12.0, 1.0), ("2x12", 72.0, 12.0), ("4x4", 96.0, 128 / 12), ("2x4", 0.0, 0.0)]
)
def test_board_feet_count_nominal_sizes(nominal, length_in, hand_feet):
    """Thickness x width [in] x length [ft] / 12, by name: twelve feet of 2x4 are 8 board feet."""
    assert board_feet(nominal, length_in) == pytest.approx(hand_feet)


@pytest.mark.parametrize(
    ("nominal", "length_in", "wording"),
    [("two by four", 12.0, "is not a nominal size"), ("2x4", -1.0, r"-1\.0 in is no length"), ("2x4", float("nan"), "is no length")],
)
def test_what_is_no_stick_is_refused(nominal, length_in, wording):
    """A name without sizes, a negative length, no number."""
    with pytest.raises(UnitError, match=wording):
        board_feet(nominal, length_in)


@pytest.mark.parametrize(("nominal", "hand_item", "hand_table"), [("1-1/2", "1-1-2", "1.5"), ("2", "2", "2"), ("1-1/4", "1-1-4", "1.25")])
def test_a_nominal_pipe_size_in_items_and_tables(nominal, hand_item, hand_table):
    """One size as typed, as in the ids of items, and in decimal inches."""
    assert (item_size(nominal), table_size(nominal)) == (hand_item, hand_table)
