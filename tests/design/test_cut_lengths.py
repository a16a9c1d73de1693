"""Pipe cut lengths against textbooks and by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.design.cut_lengths import (
    arm_fall,
    cut_between_centres,
    cut_between_faces,
    cut_from_end_to_centre,
    find_socket,
    find_takeout,
    offset_travel,
    shipped_sockets,
    shipped_takeouts,
    takeout_from_face,
)
from kit.errors import CutError, JobError

# measured: one maker's pressure-pattern fittings, as an open table for drawing has them; 1 1/4, 1 1/2 and 2 in
TAKEOUTS = {"90-ell": (31 / 32, 1 + 1 / 16, 1 + 5 / 16), "45-ell": (3 / 8, 19 / 32, 11 / 16), "tee": (7 / 8, 1 + 1 / 16, 1 + 3 / 8)}
PRESSURE_SOCKETS = (1 + 3 / 16, 1 + 9 / 32, 1 + 3 / 8)


def test_textbook_drain_with_a_tee():
    """Modern Plumbing (2022), p. 325: 16 in, ell centre to tee face, less 3 laying length, plus 1 1/2: 14 1/2; 9 1/2 ft fall 2 3/8."""
    printed_cut, printed_fall = 14.5, 2.375
    assert cut_from_end_to_centre(16.0, 3.0, find_socket(shipped_sockets(), "dwv", "3")) == printed_cut
    assert arm_fall(9.5 * 12.0, 0.25) == printed_fall


def test_two_ells_20_in_apart():
    """1 1/2 in pressure 90s, centres 20 in apart: 17 7/8 in (hand)."""
    ell = find_takeout(shipped_takeouts(), "pressure", "90-ell", "1.5")
    assert cut_between_centres(20.0, ell, ell) == 17.875


def test_offset_of_8_in_with_45s():
    """Travel 11.314 in less two take-outs of 19/32 in: 10.126 in (hand)."""
    ell = find_takeout(shipped_takeouts(), "pressure", "45-ell", "1.5")
    assert cut_between_centres(offset_travel(8.0), ell, ell) == pytest.approx(10.126, abs=5e-4)


def test_offset_travel_of_the_old_textbook():
    """Elements of Plumbing: 12 in offset is 16.92 in, with the factor 1.41; the root of 2 gives .05 in more."""
    printed_travel, printed_factor = 16.92, 1.41
    assert offset_travel(12.0) == pytest.approx(printed_travel, abs=0.051)
    assert offset_travel(12.0) - printed_travel == pytest.approx(12.0 * (math.sqrt(2.0) - printed_factor))
    assert offset_travel(12.0, 90.0) == pytest.approx(12.0)
    assert offset_travel(12.0, 22.5) == pytest.approx(12.0 * 2.6131, rel=1e-4)  # hand: cosecant of 22.5 deg


@pytest.mark.parametrize(("fitting", "measured"), TAKEOUTS.items())
def test_shipped_takeouts(fitting, measured):
    """The three sizes of each pressure-pattern fitting, and centre to face less the socket gives them again."""
    for size, takeout, socket in zip(("1.25", "1.5", "2"), measured, PRESSURE_SOCKETS, strict=True):
        assert find_takeout(shipped_takeouts(), "pressure", fitting, size) == takeout
        assert find_socket(shipped_sockets(), "pressure", size) == socket


@pytest.mark.parametrize(("fitting", "measured_face"), [("90-ell", 2 + 11 / 32), ("45-ell", 1 + 29 / 32), ("tee", 2 + 3 / 8)])
def test_centre_to_face_agrees(fitting, measured_face):
    """Centre to hub face less engagement is the take-out, within 1/32 in as the parts are drawn."""
    takeout = takeout_from_face(measured_face, find_socket(shipped_sockets(), "pressure", "1.5"))
    assert takeout == pytest.approx(find_takeout(shipped_takeouts(), "pressure", fitting, "1.5"), abs=1 / 32)


def test_shipped_sockets():
    """Engagements: drain fittings 2 and 3 in from a textbook, the smaller ones, copper and push-fit 3/4 from memory."""
    hand = {"dwv/1.25": 11 / 16, "dwv/1.5": 11 / 16, "dwv/2": 3 / 4, "dwv/3": 1.5, "copper/0.5": 0.5, "copper/0.75": 0.75}
    hand |= {"push-fit/0.5": 15 / 16, "push-fit/0.75": 1 + 1 / 16}
    hand |= dict(zip(("pressure/1.25", "pressure/1.5", "pressure/2"), PRESSURE_SOCKETS, strict=True))
    assert dict(shipped_sockets()) == hand


def test_faces_and_engagements():
    """Face to face plus both engagements; two sockets that touch still take pipe."""
    assert cut_between_faces(10.0, 0.5, 0.9375) == 11.4375
    assert cut_between_faces(0.0, 0.5, 0.5) == 1.0


def test_unknown_takeouts_name_the_fitting():
    """A drain fitting's sweep is never guessed."""
    with pytest.raises(JobError, match=r"dwv/sanitary-tee/1\.5: its take-out \(centre to socket bottom\) is not known\. Measure it on the part and enter it\."):
        find_takeout(shipped_takeouts(), "dwv", "sanitary-tee", "1.5")
    with pytest.raises(JobError, match=r"pressure/3: its engagement \(depth of the socket\) is not known\. Measure it"):
        find_socket(shipped_sockets(), "pressure", "3")


def test_a_measured_takeout_is_taken():
    """The user's table stands beside the shipped one; a wrong entry is refused."""
    own = {**shipped_takeouts(), "dwv/sanitary-tee/1.5": 1.75}
    assert find_takeout(own, "dwv", "sanitary-tee", "1.5") == 1.75
    with pytest.raises(JobError, match=r"dwv/sanitary-tee/1\.5: -1 was given"):
        find_takeout({"dwv/sanitary-tee/1.5": -1.0}, "dwv", "sanitary-tee", "1.5")


def test_fittings_that_touch_leave_no_pipe():
    """At the sum of the take-outs nothing is left; a sixteenth more leaves a sixteenth."""
    with pytest.raises(CutError, match=r"no pipe is left between the fittings: 2 in, their take-outs fill it\. Set them farther apart"):
        cut_between_centres(2.0, 1.0, 1.0)
    assert cut_between_centres(2.0625, 1.0, 1.0) == 0.0625
    with pytest.raises(CutError, match="no pipe is left"):
        cut_between_faces(0.0, 0.0, 0.0)
    with pytest.raises(CutError, match="no pipe is left"):
        cut_from_end_to_centre(1.0, 1.0)


def test_wrong_measures_are_refused():
    """All wrong numbers at once, and angles that turn no pipe."""
    with pytest.raises(JobError, match=r"(?s)centres_in: 0 was given.*takeout_1_in: -1 was given.*takeout_2_in: inf was given"):
        cut_between_centres(0.0, -1.0, math.inf)
    with pytest.raises(JobError, match="offset_in: 0 was given"):
        offset_travel(0.0)
    for angle in (0.0, -45.0, 90.1, math.nan):
        with pytest.raises(JobError, match=r"angle_deg: .* was given; wanted is a number, more than 0 and up to 90"):
            offset_travel(8.0, angle)
    with pytest.raises(JobError, match=r"engagement_in: 2 was given; wanted is no more than the 1 in from centre to face\."):
        takeout_from_face(1.0, 2.0)
    with pytest.raises(JobError, match="run_in: -1 was given"):
        arm_fall(-1.0, 0.25)


lengths = st.floats(0.0, 5.0)


@given(st.floats(0.1, 120.0), lengths, lengths)
def test_the_pieces_make_up_the_distance(centres, one, other):
    """Pipe and take-outs together are the distance between the centres."""
    if centres - one - other <= 0:
        with pytest.raises(CutError, match="no pipe is left"):
            cut_between_centres(centres, one, other)
    else:
        assert cut_between_centres(centres, one, other) + one + other == pytest.approx(centres)


@given(st.floats(6.0, 120.0), lengths, lengths, lengths, lengths)
def test_both_rules_give_one_length(centres, takeout_1, takeout_2, socket_1, socket_2):
    """Centre to centre less take-outs is face to face plus engagements."""
    faces = centres - (takeout_1 + socket_1) - (takeout_2 + socket_2)
    if faces >= 0.0 and faces + socket_1 + socket_2 > 1e-6:
        assert cut_between_centres(centres, takeout_1, takeout_2) == pytest.approx(cut_between_faces(faces, socket_1, socket_2), abs=1e-9)


@given(st.floats(0.1, 60.0), st.floats(1.0, 90.0), st.floats(1.0, 90.0))
def test_a_flatter_turn_is_a_longer_way(offset, one, other):
    """Travel falls as the fittings turn more, and is never less than the offset."""
    flat, steep = sorted((one, other))
    assert offset_travel(offset, flat) >= offset_travel(offset, steep) >= offset * (1 - 1e-12)
