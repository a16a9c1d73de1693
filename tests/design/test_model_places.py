"""Where everything stands: openings of each mount, members of the frame, and the laws of the whole model, by hand from the wall."""

import itertools
from functools import cache

import pytest
from design_jobs import sheet_of

from kit.design.place_room import GROUND
from kit.shapes import Block
from kit.solids import Stage

WALL = {
    # worked by hand from the wall: base 24 in deep, counter front 25 1/2 in from the wall, 1/4 in gap behind the counter
    "cabinet.depth": "24 in",
    "counter.runs": [{"length": "96 in", "depth": "25 1/2 in", "left_end": "wall", "right_end": "open"}],
    "counter.wall_gap": "1/4 in",
    "sink.body_width": "33 in",
    "sink.bowl_width": "30 in",
    "sink.apron_width": "33 in",
    "sink.depth": "22 in",
    "sink.apron_projection": "1 3/4 in",
    "sink.rear_rim": "2 1/4 in",
    "sink.bowls": [{"width": "29 in", "front_to_back": "17 in", "depth": "8 1/2 in"}],
    "sink.bottom_thickness": "3/8 in",
    "counter.reveal": "-1/8 in",
}
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "counter.holes": []}
approx = pytest.approx


def placed(changes=None):
    return sheet_of({**WALL, **(changes or {})}).design.placed


def cut_out(changes=None):
    return sheet_of({**WALL, **(changes or {})}).design.top.cut_out


def test_the_opening_of_an_undermount_apron_by_hand():
    """Sink back 24 + 1 3/4 - 22 = 3 3/4 from the wall, bowl from 6 in; the counter hangs 1/8 in over it on three sides."""
    hand_rear_edge = 24 + 1.75 - 22 + 2.25 + 0.125
    assert placed().opening.y == (hand_rear_edge, 25.5)
    assert hand_rear_edge == 6.125
    found = cut_out()
    assert (found.width_in, found.front_to_back_in, found.rear_strip_in) == (28.75, 19.375, 5.875)
    assert (found.front_strip_in, found.open_front) == (0, True)


def test_a_divider_belongs_to_the_opening():
    """Two bowls of 14 in and the wall between them: outside 30 in, three walls of 2/3 in."""
    bowls = [{"width": "14 in", "front_to_back": "17 in", "depth": "8 1/2 in"}] * 2
    assert cut_out({"sink.bowls": bowls}).width_in == approx(28 + 2 / 3 - 0.25)


def test_a_standard_undermount_is_open_to_the_bowl_all_around():
    """Inside 29 x 17 less 1/8 in on every side."""
    found = cut_out(STANDARD)
    assert (found.width_in, found.front_to_back_in, found.open_front) == (28.75, 16.75, False)


def test_a_flush_apron_has_a_joint_around_its_body():
    """33 in body and 1/8 in at both sides; rear edge 1/8 in behind its back."""
    found = placed({"sink.mount": "flush", "sink.carried_at": "bowl"}).opening
    assert (found.width_in, found.y[0], found.open_front) == (33.25, 3.625, True)


def test_a_flush_sink_hangs_in_a_rabbet():
    """Hole for the 30 in body and 1/8 in of air; rabbet for the 33 x 22 rim and its joint, as deep as rim and bed."""
    found = placed({**STANDARD, "sink.mount": "flush", "sink.rim_thickness": "3/8 in"}).opening
    assert found.width_in == 30.25
    assert found.rabbet is not None
    assert (found.rabbet.x[1] - found.rabbet.x[0], found.rabbet.y[1] - found.rabbet.y[0]) == (33.25, 22.25)
    assert found.rabbet.z[1] - found.rabbet.z[0] == approx(0.375 + 0.0625)


def test_a_drop_in_covers_its_opening_on_every_side():
    """Hole for the body below the flange."""
    found, sink = placed({**STANDARD, "sink.mount": "top"}).opening, placed({**STANDARD, "sink.mount": "top"}).sink
    assert found.width_in == 30.25
    assert sink.rim_x[0] < found.x[0] < found.x[1] < sink.rim_x[1]
    assert sink.rim_y[0] < found.y[0] < found.y[1] < sink.rim_y[1]


def test_the_makers_template_goes_first():
    """Whatever the body is."""
    found = cut_out({**STANDARD, "sink.mount": "top", "sink.template_width": "32 in", "sink.template_depth": "21 in"})
    assert (found.width_in, found.front_to_back_in) == (32, 21)


def test_cross_pieces_go_between_bare_cleats():
    """34 1/2 in clear inside, two cleats of 1 1/2 in, 1/8 in of play."""
    job = {"cabinet.width": "36 in", "cabinet.side_thickness": "3/4 in", "sink.bowl_width": "31 1/2 in", "sink.body_width": "33 in"}
    members = placed(job).model
    hand_length = 34.5 - 2 * 1.5 - 0.125
    assert members["rear cross piece"].length_in == approx(hand_length) == approx(31.375)
    assert not [body for body in members if body.name.startswith("cleat packer")]


@pytest.mark.parametrize(("mount", "hand_top"), [("under", 34.5 - 8.875), ("flush", 34.5 + 1.5 - 8.875)])
def test_platform_under_the_bowl(mount, hand_top):
    """Box 34 1/2 in high, counter 1 1/2 in, bowl 8 1/2 + bottom 3/8: 25 5/8 in under, 27 1/8 in flush."""
    job = {"sink.mount": mount, "sink.carried_at": "bowl", "counter.thickness": "1 1/2 in", "counter.reveal": "0 in"}
    panel = placed(job).model["platform panel"]
    assert panel.span("z")[1] == approx(hand_top)
    assert panel.span("y")[1] <= 24.0 - 0.75


def test_the_rear_cross_piece_lies_under_the_rear_rim_clear_of_the_bowl():
    """An eighth before the bowl's rear wall, which stands half an inch behind its inside; the rim reaches over it."""
    found = placed()
    hand_wall = 6 - 0.5
    assert found.model["rear cross piece"].span("y") == (approx(hand_wall - 0.125 - 1.5), approx(hand_wall - 0.125))
    assert found.model["sink rim"].span("y")[0] < found.model["rear cross piece"].span("y")[1]
    assert found.model.gap("rear cross piece", "sink rim", "z").value_in == approx(0)


def test_the_front_tie_ends_at_the_posts_and_overlaps_none():
    """Between the front posts, less its play, at their height front to back."""
    model = placed().model
    tie, left, right = model["front tie"], model["post front left"], model["post front right"]
    assert right.span("x")[0] - left.span("x")[1] - tie.length_in == approx(0.125)
    assert tie.span("y") == left.span("y")


def test_the_front_tie_keeps_off_the_strainer():
    """Outlet 8 in from a back 24 + 3/4 - 18 from the wall, a nut of 3 1/2 in, and 1/2 in of air; else the tie stands as the posts do."""
    model = sheet_of().design.placed.model
    hand_rear = 6.75 + 8 + 3.5 / 2 + 0.5
    assert model["front tie"].span("y") == approx((hand_rear, hand_rear + 3.5))
    assert model["post front left"].span("y") == approx((24 - 0.75 - 3 - 3.5, 24 - 0.75 - 3))


def test_cleats_never_stand_above_the_box():
    """A flush rim whose underside lies above the box is carried under its bowl, and that it can't be on cleats is said."""
    design = sheet_of({**WALL, "sink.mount": "flush", "sink.carried_at": "rim", "counter.thickness": "1 1/2 in"}).design
    assert design.frame.of("side cleat") is None
    assert design.frame.rim_above_box_in == approx(1.5 - 0.625)
    assert max(body.span("z")[1] for body in design.placed.frame.bodies) <= 34.5


def test_members_end_before_back_panel_and_nailer():
    """Closed back of 1/4 in and a nailer of 3/4 in."""
    model = placed({"cabinet.clear_back": False}).model
    assert model["side cleat left"].span("y")[0] == 1.0


@cache
def _design(mount, carried, style, framing):
    changes = {"sink.mount": mount, "sink.carried_at": carried, "cabinet.construction": framing, **(STANDARD if style == "standard" else {})}
    return sheet_of({**WALL, **changes, "counter.reveal": "0 in"}).design


every_design = pytest.mark.parametrize(
    "kind", list(itertools.product(("top", "flush", "under"), ("rim", "bowl"), ("apron", "standard"), ("face-frame", "frameless"))), ids=", ".join
)


@every_design
def test_nothing_overlaps_but_a_joint(kind):
    """Every mount, way of carrying, style and box: the tailpiece in its trap, the stub in the riser's tee."""
    names = {"/".join(sorted((found.first.name, found.second.name))) for found in _design(*kind).placed.model.overlaps(Stage.BUILT)}
    assert names <= {"tailpiece/trap", "riser/stub"}


@every_design
def test_the_load_arrives_at_the_floor(kind):
    """From rim and bowl down; and every member that is bought stands where its length says."""
    design = _design(*kind)
    model = design.placed.model
    assert set(model.path_down("sink rim", GROUND)) & set(GROUND)
    for body in model.members():
        low, high = body.span(body.along)
        assert high - low == approx(body.length_in)
        assert set(model.path_down(body.name, GROUND)) & set(GROUND), body.name
    assert sum(member.count for member in design.frame.members) == len([body for body in model.members() if body.part == "frame"])


def test_what_carries_touches_what_it_carries():
    """Cleat under rim, post under cleat, block under the floor that the post stands on."""
    model = placed().model
    assert model["side cleat left"].span("z")[1] == model["sink rim"].span("z")[0]
    assert model["post rear left"].span("z")[1] == model["side cleat left"].span("z")[0]
    assert model["post rear left"].span("z")[0] == model["cabinet floor"].span("z")[1]
    assert model["block below post rear left"].span("z") == (0.0, model["cabinet floor"].span("z")[0])
    assert all(isinstance(shape, Block) for shape in model["side cleat left"].shapes)
