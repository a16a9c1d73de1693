"""Numbers that nobody read for this kit, typed a second time from memory, and our own working beside printed rules."""

import pytest

from kit.checks.wood_screws import withdrawal
from kit.design.wood_movement import equilibrium_moisture
from kit.sources import table, value
from kit.takeoff.sealant import joint_depth
from kit.units import convert

# bending, tension, shear, bearing, compression, elasticity, stability, gravity (awc-2015-supplement-memory)
BETTER_GRADES = {
    "spf/select-structural": (1250, 700, 135, 425, 1400, 1.5e6, 0.55e6, 0.42),
    "spf/construction": (1000, 500, 135, 425, 1400, 1.3e6, 0.47e6, 0.42),
    "hem-fir/select-structural": (1400, 925, 150, 405, 1500, 1.6e6, 0.58e6, 0.43),
    "hem-fir/1": (975, 625, 150, 405, 1350, 1.5e6, 0.55e6, 0.43),
    "hem-fir/construction": (975, 600, 150, 405, 1550, 1.3e6, 0.47e6, 0.43),
    "df-l/select-structural": (1500, 1000, 180, 625, 1700, 1.9e6, 0.69e6, 0.50),
    "df-l/1": (1000, 675, 180, 625, 1500, 1.7e6, 0.62e6, 0.50),
    "df-l/construction": (1000, 650, 180, 625, 1650, 1.5e6, 0.55e6, 0.50),
    "spf-south/select-structural": (1300, 575, 135, 335, 1200, 1.3e6, 0.47e6, 0.36),
    "spf-south/1": (875, 400, 135, 335, 1050, 1.2e6, 0.44e6, 0.36),
    "spf-south/construction": (875, 400, 135, 335, 1200, 1.0e6, 0.37e6, 0.36),
    "southern-pine/select-structural/4": (2350, 1650, 175, 565, 1900, 1.8e6, 0.66e6, 0.55),
    "southern-pine/1/4": (1500, 1000, 175, 565, 1650, 1.6e6, 0.58e6, 0.55),
    "southern-pine/construction/4": (875, 500, 175, 565, 1600, 1.4e6, 0.51e6, 0.55),
    "southern-pine/select-structural/6": (2100, 1450, 175, 565, 1800, 1.8e6, 0.66e6, 0.55),
    "southern-pine/1/6": (1350, 875, 175, 565, 1550, 1.6e6, 0.58e6, 0.55),
}
NAMES = ("bending", "tension", "shear", "bearing", "compression", "elasticity", "stability", "gravity")


def check_better_grades():
    """Grades beside No. 2 and stud, from memory; of each wood the elasticity for buckling is 1.03 (1 - 1.645 x 0.25) / 1.66 of the mean one, to 10,000 psi."""
    for wood, remembered in BETTER_GRADES.items():
        assert tuple(value("wood_design_values", f"{wood}/{name}") for name in NAMES) == remembered
    for name, row in table("wood_design_values").items():
        if name.endswith("/stability"):
            hand_stability = 1.03 * (1 - 1.645 * 0.25) / 1.66 * value("wood_design_values", name.replace("stability", "elasticity"))
            assert row.value == pytest.approx(hand_stability, abs=5000)


def check_size_factors_of_construction_grade():
    """Up to 4 in wide, and 1 there (from memory)."""
    assert [value("size_factors", f"construction/{name}/4") for name in ("bending", "compression")] == [1.0, 1.0]


def check_true_hickory():
    """0.00259 radial, 0.00411 tangential (from memory); it moves more than pecan hickory both ways."""
    assert [value("wood_movement", f"true-hickory/{way}") for way in ("radial", "tangential")] == [0.00259, 0.00411]


def check_fibre_saturation():
    """About 30 percent (from memory)."""
    assert value("wood_movement", "range/saturation") == 30


def check_units_by_definition():
    """25.4 mm an inch, 231 cu in and 128 fl oz a gallon, 16 oz a pound, 0.9144 m a yard: exact, by definition."""
    for (amount, unit, into), exact in {
        (1, "in", "mm"): 25.4,
        (1, "gal", "cu in"): 231,
        (1, "gal", "fl oz"): 128,
        (1, "lb", "oz"): 16,
        (1, "yd", "m"): 0.9144,
    }.items():
        assert convert(amount, unit, into) == pytest.approx(exact, rel=1e-12)


def check_withdrawal_of_a_nail_and_a_lag_screw():
    """Inputs of two examples (awc-2018-examples, E2.1a and E2.3), the loads worked here: 1380 G^2.5 D and 1800 G^1.5 D^0.75, times the length."""
    hand_nail = 1380 * 0.42**2.5 * 0.131 * 2.395
    hand_lag = 1800 * 0.55**1.5 * 0.5**0.75 * 2.1875
    assert withdrawal("nail", 0.42, 0.131, 2.395) == pytest.approx(hand_nail, rel=1e-9)
    assert withdrawal("lag", 0.55, 0.5, 2.1875) == pytest.approx(hand_lag, rel=1e-9)
    assert (round(hand_nail, 1), round(hand_lag)) == (49.5, 955)


def check_joint_depths_by_both_rules():
    """Depth equals width up to 1/2 in, then 1/2 in up to 1 in, then 5/8 in; or half the width, 1/4 to 1/2 in: our reading of both rules."""
    assert [joint_depth(wide) for wide in (0.25, 0.375, 0.5, 0.75, 1.0, 1.25)] == [0.25, 0.375, 0.5, 0.5, 0.5, 0.625]
    assert [joint_depth(wide, "half of width") for wide in (0.375, 0.5, 0.75, 1.0, 1.5)] == [0.25, 0.25, 0.375, 0.5, 0.5]


def check_moisture_table():
    """The handbook's table at 70 F as remembered: two cells are .06 off the formula, the others round the same."""
    for humidity, remembered in ((20, 4.5), (30, 6.2), (40, 7.7), (50, 9.2), (60, 11.0), (70, 13.1), (80, 16.0), (90, 20.5)):
        assert equilibrium_moisture(humidity) == pytest.approx(remembered, abs=0.061)


def check_panel_of_a_platform():
    """A 3/4 in panel of four plies across its strength axis, as remembered (apa-d510-memory), typed a second time: by foot of width."""
    assert [value("panel_strength", f"3/4/{name}") for name in ("bending-across", "stiffness-across", "shear")] == [270, 65_000, 300]
