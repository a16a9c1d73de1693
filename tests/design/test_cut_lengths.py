"""Pipe cut lengths by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.design.cut_lengths import cut_between_centers, find_takeout
from kit.errors import CutError, JobError

# measured: one maker's pressure-pattern fittings of 1 1/2 in, as an open table for drawing has them (open-cad-parts)
TAKEOUTS = {"pressure/90-ell/1.5": 1 + 1 / 16, "pressure/45-ell/1.5": 19 / 32}


def test_two_ells_20_in_apart():
    """1 1/2 in pressure 90s, centers 20 in apart: 17 7/8 in (hand)."""
    ell = find_takeout(TAKEOUTS, "pressure", "90-ell", "1.5")
    assert cut_between_centers(20.0, ell, ell) == 17.875


def test_offset_of_8_in_with_45s():
    """Travel 8 x root of 2 = 11.314 in less two take-outs of 19/32 in: 10.126 in (hand)."""
    ell = find_takeout(TAKEOUTS, "pressure", "45-ell", "1.5")
    assert cut_between_centers(8.0 * math.sqrt(2.0), ell, ell) == pytest.approx(10.126, abs=5e-4)


def test_unknown_takeouts_name_the_fitting():
    """A drain fitting's sweep is never guessed; a wrong entry is refused."""
    with pytest.raises(JobError, match=r"dwv/sanitary-tee/1\.5: Its take-out \(center to socket bottom\) is not known\. Measure the part and enter it\."):
        find_takeout(TAKEOUTS, "dwv", "sanitary-tee", "1.5")
    with pytest.raises(JobError, match=r"dwv/sanitary-tee/1\.5: -1 was given"):
        find_takeout({"dwv/sanitary-tee/1.5": -1.0}, "dwv", "sanitary-tee", "1.5")


def test_fittings_that_touch_leave_no_pipe():
    """At the sum of the take-outs nothing is left; a sixteenth more leaves a sixteenth."""
    with pytest.raises(CutError, match=r"no pipe is left between the fittings: their take-outs fill the 2 in\. Set them farther apart"):
        cut_between_centers(2.0, 1.0, 1.0)
    assert cut_between_centers(2.0625, 1.0, 1.0) == 0.0625


def test_wrong_measures_are_refused():
    """All wrong numbers at once."""
    with pytest.raises(JobError, match=r"(?s)centers_in: 0 was given.*takeout_1_in: -1 was given.*takeout_2_in: inf was given"):
        cut_between_centers(0.0, -1.0, math.inf)


lengths = st.floats(0.0, 5.0)


@given(st.floats(0.1, 120.0), lengths, lengths)
def test_the_pieces_make_up_the_distance(centers, one, other):
    """Pipe and take-outs together are the distance between the centers."""
    if centers - one - other <= 0:
        with pytest.raises(CutError, match="no pipe is left"):
            cut_between_centers(centers, one, other)
    else:
        assert cut_between_centers(centers, one, other) + one + other == pytest.approx(centers)
