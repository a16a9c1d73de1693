"""Counter pieces and the sink in its crate on their way in."""

from math import cos, radians, sin

import pytest
from random_jobs import random_estimate
from work_jobs import STONE, estimated

from kit.checks.way_in import longest_past_turn_in
from kit.errors import JobError

LONG = {"counter.runs": [{"length": "108 in", "depth": "25 1/2 in", "left_end": "wall", "right_end": "wall"}], "counter.sink_center": "60 in"}


def findings(changes):
    found = estimated(STONE, {"cabinet.left.kind": "drawer", **LONG, **changes})
    return {finding.id: finding for finding in found.findings if finding.id.startswith("way-in/")}


def test_a_slab_round_a_corner_by_hand():
    """A hall of 36 in: 36 x 1.41421 = 50.912 in from corner to corner; less 1 3/16 in of slab 49.724 in; the slab is twice that long."""
    assert longest_past_turn_in(36.0, 1.1875) == pytest.approx(99.4484, abs=1e-3)


def test_a_thin_pole_is_the_ladder_of_the_textbooks():
    """(a^(2/3) + b^(2/3))^(3/2) for halls a and b: the ladder problem, from memory."""
    hand = (36.0 ** (2 / 3) + 36.0 ** (2 / 3)) ** 1.5
    assert longest_past_turn_in(36.0, 1e-9) == pytest.approx(hand)


@pytest.mark.parametrize("thick_in", [1.0, 6.0, 12.0, 20.0])
def test_no_angle_leaves_less_room(thick_in):
    """Turned by any angle, a piece whose ends touch both outer walls keeps the inner corner at least its thickness away."""
    wide = 36.0
    long_in = longest_past_turn_in(wide, thick_in)
    for degrees in range(1, 90):
        turned = radians(degrees)
        # outer walls are the axes, the ends lie at (L cos, 0) and (0, L sin); the inner corner is at (w, w)
        room = wide * sin(turned) + wide * cos(turned) - long_in * sin(turned) * cos(turned)
        assert room >= thick_in - 1e-9


def test_what_is_shifted_and_what_does_not_enter():
    """A square crate no longer than the hall is wide is pushed round; one wider than the hall stays out."""
    assert longest_past_turn_in(36.0, 36.0) == 36.0
    assert longest_past_turn_in(36.0, 36.01) == 0.0
    with pytest.raises(JobError, match="wide_in"):
        longest_past_turn_in(0.0, 1.0)


@pytest.mark.parametrize(
    ("turn", "hand_level"),
    [("40 in", "ok"), ("39 1/8 in", "caution"), ("36 in", "caution"), ("unknown", "unknown")],
)
def test_a_long_piece_at_the_turn(turn, hand_level):
    """108 in of 3 cm stone: 40 in turn 110.8 in; 39 1/8 in turn 108.3 in, too close to call; 36 in turn 99.4 in; 36 in that nobody measured: measure it."""
    found = findings({"site.narrowest_turn": turn})["way-in/counter-turn"]
    assert found.level.word == hand_level
    assert ("Measure the hall" in found.remedy) == (turn == "unknown")


def test_the_crate_by_hand():
    """A body of 32 1/2 x 18 in with 2 in on each side: a crate of 36 1/2 x 22 in; a door of 22 3/4 in lets it in, one of 21 in does not."""
    wide = findings({"site.narrowest_door": "22 3/4 in"})["way-in/sink-door"]
    assert (wide.measured, wide.margin) == ("22 in", 0.75)
    assert findings({"site.narrowest_door": "21 in"})["way-in/sink-door"].level.word == "caution"
    # a turn of 30 in: 2 x (42.426 - 22) = 40.85 in; of 28 in: 2 x (39.598 - 22) = 35.2 in, and 36 1/2 in is too long
    assert findings({"site.narrowest_turn": "30 in"})["way-in/sink-turn"].margin == pytest.approx(40.8528 - 36.5, abs=1e-3)
    tight = findings({"site.narrowest_turn": "28 in"})["way-in/sink-turn"]
    assert tight.level.word == "caution"
    assert "Unpack and inspect it outside" in tight.remedy
    shut = findings({"site.narrowest_turn": "20 in"})["way-in/sink-turn"]  # the crate is wider than the hall
    assert (shut.level.word, shut.measured, shut.limit) == ("caution", "22 in wide at a turn of 20 in", "a turn at least 22 in wide")


def test_what_stays_is_not_carried():
    """No counter comes, no slab turns; no random job with a wider way is worse off."""
    found = {finding.id for finding in estimated("counter_stays_sink_only").findings}
    assert "way-in/counter-turn" not in found
    assert "way-in/sink-door" in found
    levels = {finding.level.word for seed in range(24) for finding in random_estimate(seed).findings if finding.id.startswith("way-in/")}
    assert {"ok", "caution"} <= levels
