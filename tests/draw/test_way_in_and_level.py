"""The pictures of House and Level: what does not pass stands in the walls, and the tops of the boxes lie where they were read."""

import pytest
from drawn import boxes, estimated, texts

from kit.draw.level_profile import draw_level_profile
from kit.draw.way_in_picture import draw_way_in

HALL_IN = 30.0


def crate_in_door(svg: str) -> float:
    """Width of the crate as drawn [px]."""
    left, _, right, _ = boxes(svg, "sink")[0]
    return right - left


@pytest.mark.parametrize(("door", "passes"), [("31 1/2 in", True), ("20 in", False)])
def test_a_crate_wider_than_the_door_is_said_below_the_path(door, passes):
    """A crate of 22 in: 18 in front to back and 2 in of packing on each side (practice.csv)."""
    svg = draw_way_in(estimated(site__narrowest_door=door, sink__depth="18 in"))
    assert "22 in" in texts(svg)
    assert ("Sink in its crate through the narrowest door: 22 in" in " ".join(texts(svg))) is not passes


def test_a_piece_that_just_turns_touches_both_walls():
    """2 x (1.41421 x 30 - 1.5) = 81.85 in gets round halls of 30 in: a run as long ends at the outer wall, one 12 in longer in it."""
    hand_most = 81.85
    for more, inside in ((0.0, True), (12.0, False)):
        made = estimated(site__narrowest_turn=f"{HALL_IN} in", counter__thickness="1 1/2 in", **{"counter__runs[1]__length": f"{hand_most + more:.2f} in"})
        svg = draw_way_in(made)
        _, upper, _, lower = boxes(svg, "counter")[0]
        scale = crate_in_door(svg) / 22.0
        reach_in = (lower - upper) / scale / 2.0 + (1.5 / 2.0**0.5) / 2.0  # above the inner corner: half the piece at 45 degrees, and its thickness
        assert (reach_in <= HALL_IN + 0.1) is inside
        assert "around the narrowest turn" in " ".join(texts(svg))  # at its very length: too close to call with a tape


def test_steps_and_walk_stand_on_the_path():
    svg = draw_way_in(estimated(site__stair_steps=14, site__carry="120 ft", site__floor=2))
    assert {"120 ft", "14", "2", "truck"} <= set(texts(svg))


def test_the_box_tops_lie_where_they_were_read():
    """Readings 0, 1/8 and 3/8 in low at 0, 48 and 96 in: the gap at the right end is three times as deep as halfway, and shims fill it."""
    readings = [{"at": "0 in", "low": "0 in"}, {"at": "48 in", "low": "1/8 in"}, {"at": "96 in", "low": "3/8 in"}]
    made = estimated(levelness__readings=readings, **{"counter__runs[1]__length": "96 in"})
    svg = draw_level_profile(made)
    gaps = {round(support.at_in, 1): support for support in made.design.shims.supports if support.pairs}
    drawn = [lower - upper for _, upper, _, lower in boxes(svg, "shims")]
    assert len(drawn) == len(gaps)
    hand_share = (1 / 8 + 1 / 4 / 3) / (3 / 8)  # at 64 in, a third of the way from 48 to 96
    assert 64.0 in gaps
    assert drawn[list(gaps).index(64.0)] / drawn[-1] == pytest.approx(hand_share, abs=0.02)
    assert {"highest", "1/8 in", "3/8 in", "48 in", "96 in"} <= set(texts(svg))


def test_without_readings_the_picture_says_that_the_drop_is_assumed():
    svg = draw_level_profile(estimated(levelness__readings=[], levelness__assumed_drop="1/4 in"))
    assert "1/4 in" in texts(svg)
    assert "No readings yet" in " ".join(texts(svg))


def test_the_assumed_drop_stands_on_a_telephones_paper():
    """On a telephone the run is 260 px long less a little, and no word stands beyond its end: the picture is not cut."""
    svg = draw_level_profile(estimated(levelness__readings=[]), narrow=True)
    assert "1/4 in" in texts(svg)
    assert float(svg.partition('viewBox="')[2].partition('"')[0].split()[2]) < 310.0
