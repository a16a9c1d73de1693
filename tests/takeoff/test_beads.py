"""How far a cartridge goes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.errors import JobError
from kit.takeoff.sealant import bead_area, bead_volume, feet_per_cartridge, joint_depth

sizes = st.floats(min_value=1 / 64, max_value=4)
shapes = st.sampled_from(["rectangle", "round", "flat fillet", "concave fillet"])


@pytest.mark.parametrize(
    ("shape", "size", "hand_area"),
    [("rectangle", 0.25, 0.0625), ("round", 0.25, math.pi / 64), ("flat fillet", 0.25, 0.03125), ("concave fillet", 1.0, 0.2146)],
)
def test_area_of_each_shape(shape, size, hand_area):
    """Square, circle, half a square, square less a quarter circle."""
    assert bead_area(shape, size) == pytest.approx(hand_area, abs=5e-5)


def test_quarter_inch_square_joint_yields_its_volume():
    """A 10.1 fl oz cartridge fills about 24 ft of 1/4 x 1/4 in joint; a chart with 50 ft is wrong by two."""
    hand_feet = 10.1 * 231 / 128 / (12 * 0.25 * 0.25)
    assert feet_per_cartridge(10.1, bead_area("rectangle", 0.25)) == pytest.approx(hand_feet)
    assert hand_feet == pytest.approx(24.3, abs=0.05)


@pytest.mark.parametrize(
    ("shape", "width", "depth", "cartridge", "hand_feet"),
    [
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
    """Volume over area, worked apart from the kit to a tenth of a foot."""
    assert feet_per_cartridge(cartridge, bead_area(shape, width, depth)) == pytest.approx(hand_feet, abs=0.06)


def test_a_sink_rim_takes_a_third_of_a_cartridge():
    """33 x 22 in: 110 in of 1/4 in rope are 2.99 fl oz, 0.30 of a 10.1 fl oz cartridge."""
    hand_share = 110 * math.pi * 0.25**2 / 4 / (231 / 128) / 10.1
    assert bead_volume(2 * (33 + 22), bead_area("round", 0.25)) / 10.1 == pytest.approx(hand_share)
    assert hand_share == pytest.approx(0.30, abs=0.005)


@given(shapes, sizes, st.floats(min_value=1, max_value=30), st.floats(min_value=1.01, max_value=3))
def test_a_larger_bead_never_goes_further(shape, size, cartridge, factor):
    """Doubling the size costs four times the sealant; a larger bead never yields more feet."""
    assert feet_per_cartridge(cartridge, bead_area(shape, size * factor)) < feet_per_cartridge(cartridge, bead_area(shape, size))
    assert bead_area(shape, 2 * size) == pytest.approx(4 * bead_area(shape, size))


@given(sizes, st.floats(min_value=1, max_value=30))
def test_length_and_volume_are_each_others_inverse(size, cartridge):
    """The feet that a cartridge holds take the whole cartridge."""
    area = bead_area("rectangle", size)
    assert bead_volume(12 * feet_per_cartridge(cartridge, area), area) == pytest.approx(cartridge)


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
    """No area, and a joint narrower than both rules allow."""
    with pytest.raises(JobError, match="A bead without area has no end"):
        feet_per_cartridge(10.1, 0.0)
    with pytest.raises(JobError, match=r"A joint of 0\.2 in is narrower than the 0\.25 in"):
        joint_depth(0.2)
