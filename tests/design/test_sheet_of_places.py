"""Two bases with all that stands in them, body by body, worked on paper: from the base's left outside, from the finished wall, up from the floor [in]."""

import pytest
from design_jobs import sheet_of

from kit.design.place_stored import free_room_in
from kit.shapes import Block
from kit.solids import Body, Stage

# 36 x 24 x 34 1/2 in, face frame 3/4, sides 1/2, back 1/4 and nailer 3/4; a fired-clay apron 33 in wide on cleats, its bowl 30 3/4 in outside
BASE = {
    "cabinet.clear_back": False,
    "cabinet.back_panel": "1/4 in",
    "cabinet.nailer": "3/4 in",
    "cabinet.mid_rail": "1 1/2 in",
    "cabinet.mid_rail_top": "6 3/8 in",
    "cabinet.door_height": "19 in",
    "levelness.readings": [{"at": "0 in", "low": "0 in", "rear_low": "0 in"}, {"at": "96 in", "low": "0 in", "rear_low": "0 in"}],
    "old.counter_length": "90 in",
    "old.counter_depth": "25 in",
    "sink.rear_rim": "1 7/8 in",
    "sink.bowl_width": "30 3/4 in",
    "sink.outlet_offset": "0 in",
    "counter.runs[1].depth": "25 1/2 in",
    "counter.runs[1].left_gap": "0 in",
    "counter.runs[1].right_gap": "0 in",
    "counter.wall_gap": "1/8 in",
    "counter.holes": [{"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "2 1/2 in"}],
    "plumbing.stub_offset": "0 in",
    "plumbing.stud_depth": "3 1/2 in",
    "plumbing.stop_height": "20 in",
    "plumbing.stops_apart": "12 in",
}
BACK = 24 + 0.75 - 18  # of the sink
OUTLET = BACK + 8
FALL = (OUTLET - 5) / 48  # a trap takes 5 in, the arm the rest at 1/4 in a foot
WEIR = 15 + FALL - 1.61 / 2  # the stub stays at 15 in; bore of 1 1/2 in pipe 1.61, outside 1.9
SEAT = 34.5 - 0.625  # where the rim lies
HAND = {
    "side left": ((0, 0.5), (0, 23.25), (0, 34.5)),
    "side right": ((35.5, 36), (0, 23.25), (0, 34.5)),
    "cabinet floor": ((0.5, 35.5), (0.25, 23.25), (4.5, 5)),
    "back panel": ((0.5, 35.5), (0, 0.25), (4.5, 34.5)),
    "nailer": ((0.5, 35.5), (0.25, 1), (31, 34.5)),
    "stile left": ((0, 1.5), (23.25, 24), (4.5, 34.5)),
    "stile right": ((34.5, 36), (23.25, 24), (4.5, 34.5)),
    "bottom rail": ((1.5, 34.5), (23.25, 24), (4.5, 5)),
    "top rail, uncut": ((1.5, 34.5), (23.25, 24), (33, 34.5)),
    "mid rail, uncut": ((1.5, 34.5), (23.25, 24), (34.5 - 6.375 - 1.5, 34.5 - 6.375)),
    "false front": ((0, 36), (24, 24.75), (27.5, 34.5)),
    "doors": ((0, 36), (24, 24.75), (34.5 - 10.125 - 19, 34.5 - 10.125)),
    "toe kick": ((0, 36), (20.25, 21), (0, 4.5)),
    "dishwasher right": ((36.125, 60.125), (1, 24), (0, 34)),
    # today's counter and drop-in, 33 x 22 in the middle of 25; rim 1/4 on top, 1 in wide, 3 behind; bowl 8 deep
    "old countertop": ((-24, 66), (0.125, 25), (34.5, 36)),
    "old backsplash": ((-24, 66), (0, 0.75), (36, 40)),
    "old sink": ((1.5, 34.5), (1.5, 23.5), (28.25, 36.25)),
    "counter": ((-24, 72), (0.125, 25.5), (34.5, 34.5 + 1.1875)),
    # walls of (30 3/4 - 29 1/2) / 2 = 5/8; the apron hangs before the bowl, which ends 24 1/8 from the wall
    "sink rim": ((1.75, 34.25), (BACK, 24.125), (SEAT, 34.5)),
    "sink bowl": ((2.625, 33.375), (BACK + 1.25, 24.125), (34.5 - 9 - 0.625, SEAT)),
    "apron": ((1.5, 34.5), (24.125, 24.75), (24.5, 34.5)),
    # rim 32 1/2 in 35: 1 1/4, 1/2 to lie on and 1/8 for the tape: cleats reach in 1 7/8, 3/8 of that a packer
    "cleat packer left 1": ((0.5, 0.875), (1, 23), (SEAT - 3.5, SEAT)),
    "side cleat left": ((0.875, 2.375), (1, 23), (SEAT - 3.5, SEAT)),
    "side cleat right": ((33.625, 35.125), (1, 23), (SEAT - 3.5, SEAT)),
    # 1/8 behind the bowl; 1/16 of play at each end
    "rear cross piece": ((2.4375, 33.5625), (6.375, 7.875), (SEAT - 3.5, SEAT)),
    "post rear left": ((0.875, 4.375), (6.375, 7.875), (5, SEAT - 3.5)),
    "post rear right": ((31.625, 35.125), (6.375, 7.875), (5, SEAT - 3.5)),
    "post front left": ((0.875, 2.375), (16.75, 20.25), (5, SEAT - 3.5)),
    "block below post front left": ((0.875, 2.375), (16.75, 20.25), (0, 4.5)),
    # half an inch before the strainer's nut, flat below the bowl
    "front tie": ((2.4375, 33.5625), (17, 20.5), (24.875 - 1.5, 24.875)),
    "strainer": ((16.25, 19.75), (OUTLET - 1.75, OUTLET + 1.75), (22.875, 24.875)),
    "tailpiece": ((17.25, 18.75), (OUTLET - 0.75, OUTLET + 0.75), (WEIR + 1.9 - 1, 22.875)),
    "arm": ((17.05, 18.95), (2, OUTLET - 5), (15 - 0.95, 15 + 0.95)),
    "stub": ((17.05, 18.95), (-2.25, 2), (15 - 0.95, 15 + 0.95)),
    "riser": ((17.05, 18.95), (-2.25 - 0.95, -2.25 + 0.95), (0, 96)),
    "left shutoff valve": ((12 - 0.875, 12 + 0.875), (0, 3), (20 - 0.875, 20 + 0.875)),
    "left supply stub": ((12 - 0.3125, 12 + 0.3125), (-0.5, 0), (20 - 0.3125, 20 + 0.3125)),
    "faucet nut": ((16.75, 19.25), (1.25, 3.75), (32, 34.5)),
    "faucet": ((17, 19), (1.5, 3.5), (35.6875, 43.6875)),
    # rooms: a wrench 1 in around, fingers 1 1/2 before a handle, 6 below a nut; doors as deep as one is wide
    "a wrench at the left shutoff valve": ((12 - 1.625, 12 + 1.625), (1.5, 4.5), (20 - 1.625, 20 + 1.625)),
    "a wrench at the faucet nut": ((16.75, 19.25), (1.25, 3.75), (26, 32)),
    "the handle of the faucet": ((15, 21), (1.5, 5.5), (35.6875 + 1.5, 43.6875)),
    "a wrench at the trap's slip nut": ((18 - 1.95, 18 + 1.95), (OUTLET - 1.95, OUTLET + 1.95), (WEIR + 1.9, WEIR + 1.9 + 1.5)),
    "the swing of the doors": ((0, 36), (24.75, 24.75 + 18), (34.5 - 10.125 - 19, 34.5 - 10.125)),
    "the door of the dishwasher right": ((36.125, 60.125), (24.75, 24.75 + 34 - 4.5), (4.5, 34)),
}
TODAY = {"top rail, uncut", "mid rail, uncut", "false front", "old countertop", "old backsplash", "old sink"}


def placed(changes):
    """Each body of a job by its name."""
    return {body.name: body for body in sheet_of(changes).design.placed.model}


def spans_of(bodies, names):
    """What the sheet says of each of them."""
    return {name: tuple(bodies[name].span(axis) for axis in "xyz") for name in names}


def near(hand):
    """A sheet as it is compared."""
    return {name: tuple(pytest.approx(span, abs=1e-9) for span in spans) for name, spans in hand.items()}


def volume(body):
    """Cubic inches of its blocks."""
    return sum((shape.x[1] - shape.x[0]) * (shape.y[1] - shape.y[0]) * (shape.z[1] - shape.z[0]) for shape in body.shapes)


def test_a_sink_on_cleats_with_all_that_stands_around_it():
    """Every body where the paper puts it, today's parts gone when all is built."""
    bodies = placed(BASE)
    assert spans_of(bodies, HAND) == near(HAND)
    assert {name for name in HAND if bodies[name].stages == Stage.TODAY} == TODAY


def test_what_the_cut_and_the_bowls_leave():
    """The cut, 32 5/8 wide and 9 1/2 down, leaves 3/16 of each rail beside either stile; bowls are plates around what they hold."""
    bodies = placed(BASE)
    left = (36 - 32.625) / 2 - 1.5
    assert [volume(bodies[name]) for name in ("top rail", "mid rail")] == pytest.approx([2 * left * 0.75 * 1.5] * 2)
    assert volume(bodies["sink bowl"]) == pytest.approx(30.75 * 16.125 * 9 - 29.5 * 15.5 * 8.375)
    # old rim 33 x 22 x 1/4; its bowl 31 x 18 x 7 3/4 outside, its walls 1/8
    assert volume(bodies["old sink"]) == pytest.approx(33 * 22 * 0.25 + 31 * 18 * 7.75 - 30.75 * 17.75 * 7.625)
    # two parts of a side: 30 in above the toe space, below it only as far as the toe board's back
    assert volume(bodies["side left"]) == pytest.approx(0.5 * (23.25 * 30 + 20.25 * 4.5))


def test_todays_drain_hangs_where_it_was_and_the_new_one_where_it_falls():
    """Stub at 24 in: the old trap as far above the new one as the stub comes down; 4 in of seal at the most (IRC P3201.2, from memory), 1.61 of bore, a wall.

    The old arm is drawn with the new one's fall: they differ by less than a 32nd.
    """
    changes = {**BASE, "plumbing.stub_height": "24 in", "plumbing.strainer_drop": "6 in", "scope.drain_move.supplied_by": "us"}
    chosen = 34.5 - 9 - 0.625 - 6 + 1.61 / 2 - FALL - 0.5  # the arm falls from the weir, and half an inch is kept to spare
    new, old = chosen + FALL - 1.61 / 2, 24 + FALL - 1.61 / 2
    bowl = (4.5 + 22.5) / 2  # middle of the old bowl, 3 in behind the rear of its rim
    hand = {
        "trap": ((17.05, 18.95), (OUTLET - 5, OUTLET + 0.95), (new - 4 - 1.61 - 0.145, new + 1.9)),
        "old trap": ((17.05, 18.95), (bowl - 5, bowl + 0.95), (old - 4 - 1.61 - 0.145, old + 1.9)),
        "old arm": ((17.05, 18.95), (2, bowl - 5), (24 - 0.95, 24 + 0.95)),
        "old strainer": ((16.25, 19.75), (bowl - 1.75, bowl + 1.75), (26.25, 28.25)),
        "old tailpiece": ((17.25, 18.75), (bowl - 0.75, bowl + 0.75), (old + 1.9 - 1, 26.25)),
    }
    assert spans_of(placed(changes), hand) == near(hand)


@pytest.mark.parametrize(("kind", "hand_front"), [("top", 21 - 0.75 - 0.125 + 1), ("tiled-in", 21 - 0.75 - 0.125 + 1), ("under", 21 - 0.75 - 0.125)])
def test_an_old_sink_lies_as_far_back_as_its_base_asks(kind, hand_front):
    """A base 21 in deep: 22 in in the middle of 25 would stand in the face; 1/8 behind it bowl (1 in of rim before it) or sink ends."""
    hand = {"old sink": ((1.5, 34.5), (hand_front - 22, hand_front), (28.25, 36.25))}
    got = spans_of(placed({**BASE, "cabinet.depth": "21 in", "old.sink_kind": kind}), hand)["old sink"]
    assert got[:2] == near(hand)["old sink"][:2]


PLATFORM = {
    **BASE,
    "cabinet.construction": "frameless",
    "cabinet.clear_back": True,
    "cabinet.floor_height": "6 in",
    "cabinet.toe_height": "4 in",
    "sink.carried_at": "bowl",
    "plumbing.disposer": "new",
    "plumbing.disposer_height": "13 in",
    "plumbing.disposer_diameter": "8 in",
    "plumbing.filter": True,
}


def test_a_platform_beside_a_disposer():
    """From 4 1/2 in, where a wrench ends, and from the disposer half an inch is kept; the front joist stands 1/2 in past its posts; no room for a third."""
    low, top = 24.875 - 0.75 - 3.5, 24.875 - 0.75
    hand = {
        "side left": ((0, 0.5), (0, 24), (0, 34.5)),
        "toe kick": ((0, 36), (20.25, 21), (0, 4)),
        "platform panel": ((2.625, 33.375), (BACK + 1.25, 24), (top, 24.875)),
        "platform joist rear": ((0.5625, 35.4375), (8, 9.5), (low, top)),
        "platform joist front": ((0.5625, 35.4375), (19.25, 20.75), (low, top)),
        "post rear left": ((0.5, 4), (8, 9.5), (6, low)),
        "post front right": ((32, 35.5), (18.75, 20.25), (6, low)),
        "block below post front right": ((32, 35.5), (18.75, 20.25), (0, 5.5)),
        "disposer": ((14, 22), (OUTLET - 4, OUTLET + 4), (11.875, 24.875)),
        "a hand below the disposer": ((16, 20), (OUTLET - 2, OUTLET + 2), (9.875, 11.875)),
        "water filter": ((0.5, 5.5), (0.75, 5.75), (6, 20)),
    }
    bodies = placed(PLATFORM)
    assert spans_of(bodies, hand) == near(hand)
    assert "platform joist middle" not in bodies
    assert volume(bodies["platform panel"]) == pytest.approx(30.75 * 16 * 0.75 - 9 * 9 * 0.75)


STANDARD = {
    **BASE,
    "sink.style": "standard",
    "sink.apron_width": None,
    "sink.apron_height": None,
    "sink.body_width": "30 in",
    "sink.bowl_width": "28 in",
    "sink.bowls[1].width": "27 in",
    "sink.weight": "20 lb",
}
# in the middle of 25 1/2 in: from 3 3/4 to 21 3/4, bowl and walls of 1/2 from 5 1/8 to 21 5/8


@pytest.mark.parametrize(
    ("held_by", "hand"),
    [
        ("rails", {"sink rail left": ((2.875, 3.875), (1, 23.25), (SEAT - 1, SEAT)), "sink rail right": ((32.125, 33.125), (1, 23.25), (SEAT - 1, SEAT))}),
        (
            "cradle",
            {"cradle bar rear": ((0.5, 35.5), (5.125, 6.125), (23.875, 24.875)), "cradle bar front": ((0.5, 35.5), (20.625, 21.625), (23.875, 24.875))},
        ),
    ],
)
def test_bars_below_a_standard_sink(held_by, hand):
    """Bars of 1 in: 1/8 beside the bowl below the rim, or below the bowl at its rear and front walls."""
    assert spans_of(placed({**STANDARD, "sink.held_by": held_by}), hand) == near(hand)


@pytest.mark.parametrize(("thick", "hand_clips"), [("1/16 in", 10), ("1/8 in", 10), ("3/16 in", 0)])
def test_clips_draw_a_thin_flange_down(thick, hand_clips):
    """Up to 1/8 in; 2 x (30 + 18) = 96 in around, a clip for every 10."""
    bodies = placed({**STANDARD, "sink.mount": "top", "sink.rim_thickness": thick})
    assert len([name for name in bodies if name.startswith("sink clip")]) == hand_clips


def test_a_swollen_side_gets_its_doubler_around_posts_and_below_cleats():
    """1/2 in thick on the floor at 5, from the nailer to the face frame, up to the cleats; posts that begin 7/8 in from the outside take 1/8 of it."""
    bodies = placed({**BASE, "cabinet.swollen_side": "left"})
    hand = {"side doubler left": ((0.5, 1), (1, 23.25), (5, SEAT - 3.5))}
    assert spans_of(bodies, hand) == near(hand)
    assert volume(bodies["side doubler left"]) == pytest.approx((SEAT - 3.5 - 5) * (0.5 * 22.25 - 0.125 * (1.5 + 3.5)))
    assert "side doubler right" not in bodies


@pytest.mark.parametrize(
    ("weight", "hand_lifters", "hand_machine"),
    [("50 lb", 1, False), ("50 1/16 lb", 2, False), ("110 lb", 2, False), ("110 1/16 lb", 3, False), ("165 lb", 3, False), ("165 1/16 lb", 3, True)],
)
def test_people_for_a_sink_at_the_ends_of_their_rows(weight, hand_lifters, hand_machine):
    """One to 50 lb, two to 110, three to 165, above it a machine (lifters.csv: common practice, no source)."""
    lift = sheet_of({"sink.weight": weight}).design.lift
    assert (lift.lifters, lift.mechanical) == (hand_lifters, hand_machine)


def test_how_large_a_thing_may_be_beside_what_is_there():
    """Between sides 1/2 and 35 1/2 in, from the floor at 5: a shelf over 30 in of the width, 17 to 20 in up, leaves 5 in at full height and 12 below it."""
    thing = Body("tank", "stored", (Block((10, 18), (1, 10), (5, 21)),))
    shelf = Body("shelf", "frame", (Block((5.5, 35.5), (0, 12), (17, 20)),))
    assert free_room_in([shelf, thing], thing, (0.5, 35.5)) == (35, 12)  # as wide as it is, it finds room below only
    narrow = Body("tank", "stored", (Block((10, 15), (1, 10), (5, 21)),))
    assert free_room_in([shelf, narrow], narrow, (0.5, 35.5)) == (5, 16)
    low = Body("low shelf", "frame", (Block((5.5, 35.5), (0, 12), (12.9375, 20)),))  # less than 8 in below it: nothing that is sold
    assert free_room_in([low, thing], thing, (0.5, 35.5)) == (5, 16)
    full = Body("all of it", "frame", (Block((0.5, 32.5), (0, 12), (5, 30)),))
    assert free_room_in([full, thing], thing, (0.5, 35.5)) == (0, 0)  # 3 in: nothing so narrow is sold
