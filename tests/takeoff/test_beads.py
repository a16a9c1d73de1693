"""Sections of beads, and how far a cartridge goes by them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.errors import JobError
from kit.takeoff.sealant import bead_area, joint_depth

sizes = st.floats(min_value=1 / 64, max_value=4)
shapes = st.sampled_from(["rectangle", "round", "flat fillet", "concave fillet"])


@pytest.mark.parametrize(
    ("shape", "size", "hand_area"),
    [("rectangle", 0.25, 0.0625), ("round", 0.25, math.pi / 64), ("flat fillet", 0.25, 0.03125), ("concave fillet", 1.0, 0.2146)],
)
def test_area_of_each_shape(shape, size, hand_area):
    """Square, circle, half a square, square less a quarter circle."""
    assert bead_area(shape, size) == pytest.approx(hand_area, abs=5e-5)


CUBIC_INCHES = 231 / 128  # in a fluid ounce, by definition of the gallon


@pytest.mark.parametrize(
    ("shape", "width", "depth", "cartridge", "hand_feet"),
    [
        ("rectangle", 1 / 4, None, 10.1, 24.3),  # a chart with 50 ft is wrong by two
        ("rectangle", 1 / 8, None, 10.1, 97.2),
        ("rectangle", 3 / 16, None, 10.1, 43.2),
        ("rectangle", 3 / 8, 1 / 4, 10.1, 16.2),
        ("rectangle", 1 / 2, 1 / 4, 10.3, 12.4),
        ("round", 3 / 16, None, 28.0, 152.5),
        ("round", 1 / 4, None, 28.0, 85.8),
        ("round", 3 / 8, None, 10.1, 13.8),
        ("flat fillet", 1 / 4, None, 2.8, 13.5),
        ("flat fillet", 3 / 8, None, 10.1, 21.6),
    ],
)
def test_yields_of_usual_beads(shape, width, depth, cartridge, hand_feet):
    """The feet that a cartridge fills, its volume over the bead's area, worked apart from the kit to a tenth of a foot."""
    assert cartridge * CUBIC_INCHES / (12 * bead_area(shape, width, depth)) == pytest.approx(hand_feet, abs=0.06)


@given(shapes, sizes)
def test_twice_the_size_takes_four_times_the_sealant(shape, size):
    """In every shape."""
    assert bead_area(shape, 2 * size) == pytest.approx(4 * bead_area(shape, size))


@given(st.floats(min_value=0.25, max_value=3))
def test_depth_rules_stay_in_their_bounds(width):
    """Never less than 1/4 in, never deeper than wide, never more than 5/8 in; the equal rule never buys less."""
    equal, half = joint_depth(width), joint_depth(width, "half of width")
    assert 0.25 <= half <= equal <= min(width, 0.625)


@pytest.mark.parametrize(
    ("arguments", "wording"),
    [
        (("rectangle", 0.0), r"A bead needs a size: 0 x 0 in"),
        (("rectangle", 0.25, -0.25), r"A bead needs a size: 0\.25 x -0\.25 in"),
        (("round", float("nan")), "A bead needs a size"),
        (("round", float("inf")), "A bead needs a size"),
        (("round", 0.25, 0.25), r"A round bead has one size; a depth of 0\.25 in is one too many"),
    ],
)
def test_a_bead_without_a_size_is_refused(arguments, wording):
    """Zero, negative, no number, and a depth that the shape does not have."""
    with pytest.raises(JobError, match=wording):
        bead_area(*arguments)


def test_impossible_joints_are_refused():
    """A joint narrower than both rules allow."""
    with pytest.raises(JobError, match=r"A joint of 0\.2 in is narrower than the 0\.25 in"):
        joint_depth(0.2)
