"""Limits of the kitchen and of duties, read again from what is printed elsewhere."""

from kit.design.wood_movement import equilibrium_moisture
from kit.sources import value


def check_work_aisle_for_one_cook():
    """Three and a half feet (nkba-guidelines)."""
    assert value("checks", "aisle/one-cook") == 3.5 * 12


def check_moisture_swing_of_a_year():
    """From 25 to 60 % humidity at 70 F by the published formula (simpson-1998)."""
    hand_swing = equilibrium_moisture(60.0) - equilibrium_moisture(25.0)
    assert abs(value("checks", "wood/moisture-swing") - hand_swing) < 0.02


def check_lead_rule():
    """Houses built before 1978; 6 sq ft a room inside (cfr-40-745, 745.83)."""
    printed_year, printed_area = 1978, 6
    assert value("checks", "lead/year") == printed_year
    assert value("checks", "lead/area-least") == printed_area


def check_suspect_flooring():
    """Installed no later than 1980 (cfr-29-1926-1101)."""
    printed_year = 1980
    assert value("checks", "flooring/year") == printed_year
