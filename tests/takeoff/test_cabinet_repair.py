"""Wet floor and swollen side."""

import pytest
from takeoff_jobs import sheet_of, step_lines

from kit.solids import Stage
from kit.takeoff.prepare_cabinet import count_cabinet_repair

PANEL, RENEW, SIDE, STIFFEN = (
    f"repair-cabinet/{part}" for part in ("plywood-1-2/cabinet floor", "cabinet-floor/replace", "plywood-1-2/swollen side", "cabinet-side/stiffen")
)


def test_sound_cabinet_needs_nothing():
    """Dry floor, firm sides."""
    assert step_lines(count_cabinet_repair) == {}


def test_wet_floor_by_its_area():
    """35 in between the sides, 24 in less 3/4 of face frame deep: measured, so no allowance; cut as one piece, as long as its body."""
    lines = step_lines(count_cabinet_repair, {"cabinet.wet_floor": True})
    hand_area = 35 * 23.25 / 144
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({PANEL: hand_area, RENEW: hand_area})
    assert {line.source for line in lines.values()} == {"job"}
    assert [(piece.length_in, piece.width_in, piece.count) for piece in lines[PANEL].pieces] == [(35.0, 23.25, 1)]
    assert lines[PANEL].waste == 0.0


@pytest.mark.parametrize(("thick", "item"), [("1/4 in", "plywood-1-4"), ("1/2 in", "plywood-1-2"), ("5/8 in", "plywood-3-4"), ("3/4 in", "plywood-3-4")])
def test_a_new_floor_is_as_thick_as_the_old_one(thick, item):
    """The nearest sheet, the thicker of two as near."""
    assert f"repair-cabinet/{item}/cabinet floor" in step_lines(count_cabinet_repair, {"cabinet.wet_floor": True, "cabinet.floor_thickness": thick})


def test_swollen_side_is_an_allowance():
    """Nobody knows which and how far: one side, from the floor at 5 in to the cleat 5/8 + 3 1/2 in below 34 1/2; before the nailer."""
    lines = step_lines(count_cabinet_repair, {"cabinet.swollen_sides": True})
    hand_high, hand_deep = 34.5 - 0.625 - 3.5 - 5, 24 - 0.75 - 0.75
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({SIDE: hand_deep * hand_high / 144, STIFFEN: 1})
    assert {line.source for line in lines.values()} == {"allowance"}
    assert [(piece.length_in, piece.width_in) for piece in lines[SIDE].pieces] == [(hand_high, hand_deep)]


@pytest.mark.parametrize("changes", [{}, {"sink.carried_at": "bowl"}, {"sink.mount": "top"}, {"cabinet.width": "33 in"}])
def test_a_doubler_stands_beside_what_is_there(changes):
    """Cut around posts, below what hangs at the side; it shares no place with anything."""
    model = sheet_of({"cabinet.swollen_sides": True, "cabinet.wet_floor": True, **changes}).design.placed.model
    assert "side doubler left" in model
    assert not [found for found in model.overlaps(Stage.BUILT) if "side doubler left" in {found.first.name, found.second.name}]


def test_a_floor_nobody_tested_is_allowed_for():
    """Unknown counts as wet."""
    assert PANEL in step_lines(count_cabinet_repair, {"cabinet.wet_floor": "unknown"})
