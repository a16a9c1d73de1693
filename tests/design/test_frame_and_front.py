"""Frame screws, toe board, and the cut in the cabinet's front."""

import pytest
from design_jobs import sheet_of
from hypothesis import given
from hypothesis import strategies as st

NARROW = {"sink.body_width": "31 1/2 in", "sink.bowl_width": "29 in", "sink.bowls": [{"width": "28 in", "front_to_back": "15 1/2 in", "depth": "9 in"}]}


def frame(changes=None):
    return sheet_of(changes).design.frame


def cut(changes=None):
    return sheet_of(changes).design.cut


def test_screws_of_the_frame_by_hand():
    """22 1/4 in cleats: a screw every 6 in and one more; four at each cross piece, post and block; six along the tie."""
    hand_cleats = 2 * (22.25 // 6 + 1)
    hand_others = 4 + (31.875 // 6 + 1) + 4 * 4 + 4 * 4
    assert frame().cleat_screws == hand_cleats == 8
    assert frame().screws == hand_others == 42


@pytest.mark.parametrize(
    ("side", "hand_screw"),
    [("1/4 in", 1.625), ("3/8 in", 1.75), ("1/2 in", 1.75), ("5/8 in", 2.0), ("3/4 in", 2.0), ("1 1/8 in", 2.5)],
)
def test_a_cleat_screw_ends_inside_the_side(side, hand_screw):
    """1 1/2 in of cleat and the side, less 1/8 in: the longest that fits; either side of each length."""
    job = {"cabinet.side_thickness": side, "sink.bowl_width": "32 1/2 in"}
    found = frame(job)
    assert found.cleat_reach_in == 1.5
    assert found.cleat_screw_in == hand_screw


def test_a_packed_cleat_takes_longer_screws_and_more_of_them():
    """Body of 31 1/2 in in 35 in: 1 3/4 in beside it, 1/2 in of rim on the cleat and 1/8 in for the tape: cleat and packer reach in 2 3/8 in."""
    found = frame(NARROW)
    assert found.cleat_reach_in == pytest.approx(2.375)
    assert found.cleat_screw_in == 2.5
    assert found.cleat_screws == 16


def test_no_frame_no_screws():
    """A standard sink that lies on the counter, light enough for its edge."""
    found = frame({"sink.weight": "30 lb", "sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "top"})
    assert (found.members, found.screws, found.cleat_screws, found.cleat_screw_in) == ((), 0, 0, 0.0)


def test_a_platform_has_no_cleats():
    """Carried under the bowl."""
    found = frame({"sink.carried_at": "bowl"})
    assert found.cleat_screws == 0
    assert found.screws > 0


@pytest.mark.parametrize(("toe", "off"), [("4 1/2 in", True), ("1/16 in", True), ("0 in", False)])
def test_toe_board_only_where_there_is_a_toe_space(toe, off):
    """Blocks go in below the cabinet floor either way."""
    assert frame({"cabinet.toe_height": toe}).toe_board_off is off


def test_an_overlay_apron_covers_its_cut():
    """33 in apron, 10 in down: half an inch less on every side, but wide enough for the body and 1/16 in on both sides."""
    assert (cut().width_in, cut().height_in) == (32.625, 9.5)
    narrow = cut({"sink.body_width": "31 1/2 in", "sink.bowl_width": "31 in"})
    assert narrow.width_in == 32


def test_an_inset_apron_has_air_round_it():
    """A sixteenth."""
    found = cut({"sink.style": "apron-inset"})
    assert (found.width_in, found.height_in) == (33.125, 10.0625)


def test_no_apron_no_cut():
    """Nor one that ends at the box top: flush in a counter as thick as the apron is high."""
    assert cut({"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}) is None
    assert cut({"sink.mount": "flush", "counter.thickness": "4 in", "sink.apron_height": "4 in"}) is None
    assert cut({"sink.mount": "flush", "counter.thickness": "4 in", "sink.apron_height": "4 1/16 in"}) is not None


def test_an_apron_that_hardly_reaches_below_the_box_top_takes_no_height():
    """A quarter inch of it below the top, and it covers its cut by half an inch: only the rail goes."""
    found = cut({"sink.mount": "flush", "counter.thickness": "4 in", "sink.apron_height": "4 1/4 in"})
    assert (found.height_in, found.rail_removed) == (0.0, True)


@pytest.mark.parametrize(("bottom", "removed"), [(None, True), ("7 in", True), ("0 in", False)])
def test_a_false_front_goes_unless_there_is_none(bottom, removed):
    """One that nobody measured is taken as there; a lower edge at the box top means none."""
    assert cut({"cabinet.false_front_bottom": bottom}).false_front_removed is removed


@pytest.mark.parametrize(
    ("left", "right", "boxes"),
    [("drawer", "dishwasher", 1), ("door", "drawer", 2), ("wall", "range", 0), ("open", "dishwasher", 0)],
)
def test_only_boxes_hold_the_box(left, right, boxes):
    """A door or drawer box beside it; no wall, range or dishwasher."""
    found = cut({"cabinet.left.kind": left, "cabinet.right.kind": right})
    assert found.neighbor_boxes == boxes


@pytest.mark.parametrize(
    ("construction", "rail", "removed"), [("face-frame", "1 1/2 in", True), ("face-frame", "0 in", False), ("frameless", "1 1/2 in", False)]
)
def test_a_rail_goes_where_there_is_one(construction, rail, removed):
    """And the tie behind the apron takes its place."""
    job = {"cabinet.construction": construction, "cabinet.top_rail": rail}
    assert cut(job).rail_removed is removed
    assert (frame(job).of("front tie") is not None) is removed


@pytest.mark.parametrize(("construction", "thickness"), [("face-frame", 0.75), ("frameless", 0.5)])
def test_the_raw_edge_is_as_thick_as_what_is_cut(construction, thickness):
    """The face frame, or the side of a box without one."""
    assert cut({"cabinet.construction": construction}).edge_thickness_in == thickness


@given(st.floats(min_value=5, max_value=400), st.floats(min_value=5, max_value=400))
def test_a_heavier_sink_never_needs_less_support(one, other):
    """Design load, members and screws."""
    light, heavy = (sheet_of({"sink.weight": f"{weight:.3f} lb"}).design for weight in sorted((one, other)))
    assert heavy.load.design_lb >= light.load.design_lb
    assert heavy.lift.lifters >= light.lift.lifters
    assert heavy.frame.screws >= light.frame.screws
