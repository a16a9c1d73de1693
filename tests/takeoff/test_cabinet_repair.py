"""Wet floor and swollen side."""

import pytest
from takeoff_jobs import step_lines

from kit.takeoff.prepare_cabinet import count_cabinet_repair

PANEL, RENEW, SIDE, STIFFEN = (
    f"repair-cabinet/{part}" for part in ("plywood-1-2/cabinet floor", "cabinet-floor/renew", "plywood-1-2/swollen side", "cabinet-side/stiffen")
)


def test_sound_cabinet_needs_nothing():
    """Dry floor, firm sides."""
    assert step_lines(count_cabinet_repair) == {}


def test_wet_floor_by_its_area():
    """35 in between the sides, 24 in deep: measured, so no allowance; cut as one piece."""
    lines = step_lines(count_cabinet_repair, {"cabinet.wet_floor": True})
    hand_area = 35 * 24 / 144
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({PANEL: hand_area, RENEW: hand_area})
    assert {line.source for line in lines.values()} == {"job"}
    assert [(piece.length_in, piece.width_in, piece.count) for piece in lines[PANEL].pieces] == [(35.0, 24.0, 1)]
    assert lines[PANEL].waste == 0.0


def test_swollen_side_is_an_allowance():
    """How far the swelling goes nobody knows before the counter is off: one side, 24 x 30 in."""
    lines = step_lines(count_cabinet_repair, {"cabinet.swollen_sides": True})
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({SIDE: 24 * 30 / 144, STIFFEN: 1})
    assert {line.source for line in lines.values()} == {"allowance"}


def test_a_floor_nobody_tested_is_allowed_for():
    """Unknown counts as wet."""
    assert PANEL in step_lines(count_cabinet_repair, {"cabinet.wet_floor": "unknown"})
