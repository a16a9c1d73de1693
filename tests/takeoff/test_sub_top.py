"""A new sub-top below the counter."""

import pytest
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.takeoff.prepare_cabinet import count_sub_top

PLYWOOD, SCREWS, LAID = "level/plywood-3-4/sub-top", "level/screw-box/sub-top", "level/sub-top-foot/cut and screw down"
NEW = {"counter.sub_top": "new", "counter.sub_top_thickness": "3/4 in"}
CUSTOMER = {"supplied_by": "customer", "installed_by": "customer"}


def test_one_layer_over_the_run_by_hand():
    """96 x 23 7/8 in of plywood in one piece, so that two come out of a sheet; a screw every foot along front and rear, 8 ft to cut and lay."""
    lines = step_lines(count_sub_top, NEW)
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({PLYWOOD: 96 * 23.875 / 144, SCREWS: 2 * 96 / 12, LAID: 96 / 12})
    assert [(piece.length_in, piece.count, piece.width_in) for piece in lines[PLYWOOD].pieces] == [(96, 1, 23.875)]


def test_the_strip_is_as_deep_as_it_lies():
    """From a saw cut of 1/8 in before the wall to the face of a base 24 in deep."""
    body = sheet_of(NEW).design.placed.model["sub-top"]
    assert body.span("y") == (0.125, 24)


@pytest.mark.parametrize(("thickness", "hand_layers"), [("3/4 in", 1), ("13/16 in", 2), ("1 1/2 in", 2), ("1 9/16 in", 3)])
def test_as_many_layers_as_the_thickness_asks(thickness, hand_layers):
    """Panels of 3/4 in; every layer is bought, laid and screwed."""
    lines = step_lines(count_sub_top, {**NEW, "counter.sub_top_thickness": thickness})
    assert lines[PLYWOOD].quantity == pytest.approx(96 * 23.875 / 144 * hand_layers)
    assert lines[SCREWS].quantity == pytest.approx(16 * hand_layers)
    assert lines[LAID].quantity == pytest.approx(8 * hand_layers)
    assert [piece.count for piece in lines[PLYWOOD].pieces] == [hand_layers]


@pytest.mark.parametrize(("length", "hand_length", "hand_pieces"), [("96 in", 96, 1), ("100 in", 50, 2), ("200 in", 200 / 3, 3)])
def test_a_run_longer_than_a_sheet_is_laid_in_equal_pieces(length, hand_length, hand_pieces):
    """A sheet is 96 in long."""
    pieces = step_lines(count_sub_top, {**NEW, "counter.runs[1].length": length})[PLYWOOD].pieces
    assert [(piece.length_in, piece.count) for piece in pieces] == [(pytest.approx(hand_length), hand_pieces)]


@pytest.mark.parametrize("changes", [{}, {"counter.sub_top": "there", "counter.sub_top_thickness": "3/4 in"}, {**NEW, "scope.counter": CUSTOMER}])
def test_no_new_sub_top_where_none_is_wanted_or_the_customer_clears_the_place(changes):
    """Nothing is bought and nothing laid."""
    assert step_quantities(count_sub_top, changes) == {}
