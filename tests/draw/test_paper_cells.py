"""Where paper is blank: squares of 5 px, asked exactly and quickly, whatever numbers come."""

import math

import pytest

from kit.draw.paper_cells import PaperCells


def test_a_box_is_found_where_it_lies_and_nowhere_else():
    """Two squares across and one down."""
    cells = PaperCells()
    cells.add_box((0.0, 0.0, 9.0, 4.0))
    hand_squares = 2
    assert cells.count((-100.0, -100.0, 100.0, 100.0)) == hand_squares
    assert cells.is_in((9.5, 4.5, 9.9, 4.9))
    assert not cells.is_in((10.0, 0.0, 14.0, 4.0))


def test_what_is_laid_into_a_hatch_is_blank():
    """But for its rim."""
    cells = PaperCells()
    cells.add_box((0.0, 0.0, 100.0, 100.0), [(20.0, 20.0, 80.0, 80.0)])
    assert not cells.is_in((40.0, 40.0, 60.0, 60.0))
    assert cells.is_in((5.0, 40.0, 6.0, 60.0))


def test_a_slope_is_kept_along_its_way():
    """Every point of it is in a square that is kept."""
    cells = PaperCells()
    cells.add_line([(0.0, 0.0), (60.0, 35.0)])
    assert all(cells.is_in((x, x * 35 / 60, x, x * 35 / 60)) for x in range(0, 61, 20))
    assert not cells.is_in((40.0, 0.0, 50.0, 5.0))


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf, 1e300, -1e300])
def test_a_place_that_is_no_place_does_no_harm(odd):
    """A drawing of nothing but zeros has no scale: it is drawn all the same."""
    cells = PaperCells()
    cells.add_line([(odd, 0.0), (10.0, odd), (odd, odd)])
    cells.add_box((0.0, 0.0, 4.0, 4.0))
    assert cells.count((odd, odd, odd, odd)) >= 0
    assert cells.is_in((0.0, 0.0, 1.0, 1.0))
