"""Where paper is blank: squares of 5 px, asked exactly and quickly, whatever numbers come."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.draw import paper_cells
from kit.draw.paper_cells import PaperCells

places = st.tuples(st.floats(-200, 200), st.floats(-200, 200))
ways = st.one_of(places, places.map(lambda way: (way[0], 0.0)), places.map(lambda way: (0.0, way[1])))


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


@given(places, ways, places, st.tuples(st.floats(5, 60), st.floats(5, 60)))
def test_a_line_goes_through_the_boxes_that_its_points_lie_in(start, way, corner, room):
    """Level, upright or aslope: through each box in which 10 px of it lie, and through none that is more than a pixel from all of its points."""
    left, upper, right, lower = corner[0], corner[1], corner[0] + room[0], corner[1] + room[1]
    cells = PaperCells()
    cells.add_line([start, (start[0] + way[0], start[1] + way[1])])
    steps = math.ceil(math.hypot(*way)) + 1
    points = [(start[0] + way[0] * step / steps, start[1] + way[1] * step / steps) for step in range(steps + 1)]
    inside = sum(left < x < right and upper < y < lower for x, y in points)
    near = any(left - 1 < x < right + 1 and upper - 1 < y < lower + 1 for x, y in points)
    assert near or not cells.is_crossed((left, upper, right, lower))
    assert inside < 12 or cells.is_crossed((left, upper, right, lower))


def test_a_place_is_compared_only_with_lines_near_it(monkeypatch):
    """Among 300 lines 10 px apart, level, upright and aslope, a box of 16 x 14 px lies near a dozen at most."""
    cells, asked = PaperCells(), []
    for at in range(0, 1000, 10):
        cells.add_line([(at, 0.0), (at, 2000.0)])
        cells.add_line([(2000.0, at), (3000.0, at)])
        cells.add_line([(4000.0, at), (4100.0, at + 10.0)])
    crosses = paper_cells.crosses
    monkeypatch.setattr(paper_cells, "crosses", lambda line, box: asked.append(line) or crosses(line, box))
    for x, hand_first in ((502.0, (510, 0.0)), (2500.0, (2000.0, 510))):
        assert cells.is_crossed((x, 502.0, x + 16.0, 516.0))
        assert asked[-1][:2] == hand_first
    for x in (502.0, 2500.0, 4040.0):
        cells.is_crossed((x, 502.0, x + 16.0, 516.0))
    hand_most = 5 * 12
    assert len(asked) <= hand_most


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf, 1e300, -1e300])
def test_a_place_that_is_no_place_does_no_harm(odd):
    """A drawing of nothing but zeros has no scale: it is drawn all the same."""
    cells = PaperCells()
    cells.add_line([(odd, 0.0), (10.0, odd), (odd, odd)])
    cells.add_box((0.0, 0.0, 4.0, 4.0))
    assert cells.count((odd, odd, odd, odd)) >= 0
    assert cells.is_in((0.0, odd, 4.0, odd)) is (cells.count((0.0, odd, 4.0, odd)) > 0)
    assert cells.is_in((0.0, 0.0, 1.0, 1.0))
