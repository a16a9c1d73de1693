"""Bodies of pipes, valves, taps, of what comes out and of what must stay free: places by hand, from the wall, the base's left outside and the floor."""

import pytest
from design_jobs import sheet_of
from work_jobs import estimated

from kit.design.place_boxes import cut_gaps
from kit.design.place_sink import locate_sink
from kit.solids import Stage
from kit.sources import table, value

approx = pytest.approx
HIGH = {"plumbing.stub_height": "24 in"}
HIGHEST = 34.5 - 9 - 0.625 - 6 + 1.61 / 2 - 0.25 * 9.75 / 12  # of the plain job: 19.48 in
CHOSEN = HIGHEST - 0.5
MIDDLE_OF_WALL = -(0.5 + 3.5 / 2)
FAUCET = "counter.holes"
JOINTS = {frozenset(name.replace("-", " ").split("/")) for name in table("joints")}


def model_of(changes=None):
    return sheet_of(changes or {}).design.placed.model


def overlapping(changes, stage=Stage.BUILT):
    """Pairs that want the same place at a stage, by name."""
    return {frozenset((found.first.name, found.second.name)) for found in model_of(changes).overlaps(stage)} - JOINTS


def test_a_stub_that_stays_runs_in_a_hollow_of_the_wall():
    """From the middle of a 3 1/2 in wall behind 1/2 in of board, where the riser stands; 2 in of it stand out, and the arm begins there."""
    model = model_of()
    assert model["stub"].span("y") == (approx(MIDDLE_OF_WALL), 2.0)
    assert model["arm"].shapes[0].start[1] == 2.0
    assert model["stub"].stages == Stage.ALL
    assert model["riser"].span("y") == (approx(MIDDLE_OF_WALL - 0.95), approx(MIDDLE_OF_WALL + 0.95))
    for stage in Stage.TODAY, Stage.OPENED, Stage.BUILT:
        assert overlapping({}, stage) == set()


@pytest.mark.parametrize(("old", "hand_below"), [("pvc", 0), ("galvanized", 4)])
def test_a_riser_is_cut_above_todays_stub_and_at_the_new_tee(old, hand_below):
    """4 in above; a plastic tee sits on the old pipe, metal is cut 4 in further down; what was below and above stays; the arm leaves at the new height."""
    changes = {**HIGH, "plumbing.drain_old": old}
    model, riser = model_of(changes), sheet_of(changes).design.drain.riser
    hand_cut = (CHOSEN - hand_below, 24 + 4)
    assert model["riser that is cut out"].span("z") == approx(hand_cut)
    assert (model["riser below"].span("z")[1], model["riser above"].span("z")[0]) == approx(hand_cut)
    assert (model["stub today"].middle[2], model["stub"].middle[2]) == approx((24, CHOSEN))
    assert model["riser that is cut out"].size_in("z") == approx(riser.cut_out_in)
    assert model["arm"].shapes[0].start[2] == approx(CHOSEN)
    for stage in Stage.TODAY, Stage.OPENED, Stage.BUILT:
        assert overlapping(changes, stage) == set()


def test_a_riser_nobody_found_has_no_place():
    """Only the stub is known."""
    assert not [body.name for body in model_of({"plumbing.vent_seen": False}) if body.part == "riser"]


def test_shutoff_valves_stand_at_both_sides_of_the_middle():
    """12 in apart in a 36 in base, 3 in out of the wall with their handle; where nobody measured them, 4 in above the stub."""
    model = model_of({"plumbing.stop_height": "21 in", "plumbing.stops_apart": "12 in"})
    assert [model[f"{side} shutoff valve"].middle[0] for side in ("left", "right")] == [12, 24]
    assert model["left shutoff valve"].span("y") == (0, 3)
    assert model["left shutoff valve"].shapes[0].radius_in == 1.25 / 2
    assert model["left shutoff valve"].span("z") == (approx(21 - 0.875), approx(21 + 0.875))
    assert model_of()["left shutoff valve"].middle[2] == 15 + 4
    assert model_of({"plumbing.stub_height": "unknown"})["left shutoff valve"].middle[2] == 20


def test_a_faucet_stands_above_its_nut():
    """8 in high on the counter, in the middle of its hole."""
    model = model_of({FAUCET: [{"use": "faucet", "offset": "0 in", "setback": "2 1/2 in"}]})
    top = 34.5 + 1.1875
    assert model["faucet"].span("z") == (top, top + 8)
    assert model["faucet"].middle[:2] == model["faucet nut"].middle[:2] == (18, 2.5)


@pytest.mark.parametrize(("kind", "hand_rim_top"), [("top", 36.0 + 0.25), ("tiled-in", 36.0), ("under", 34.5), ("apron", 34.5)])
def test_the_old_sink_hangs_in_the_old_counter(kind, hand_rim_top):
    """33 x 22 in, middle of a 36 in base; counter 1 1/2 in on a box 34 1/2 in high; only there today, and in nobody's way."""
    changes = {"old.sink_kind": kind}
    model = model_of(changes)
    assert model["old sink"].span("x") == (1.5, 34.5)
    assert model["old sink"].span("z") == (approx(hand_rim_top - 8), approx(hand_rim_top))
    assert model["old countertop"].span("z") == (34.5, 36.0)
    assert model["old sink"].stages == model["old countertop"].stages == Stage.TODAY
    assert overlapping(changes, Stage.TODAY) == set()


def test_an_old_sink_wider_than_its_base_is_a_slip_of_the_tape():
    """Its bowl, 38 less a rim of 1 in on both sides, is 36 in wide in 35 in clear: the sides are in the way by 1/2 in each."""
    found = overlapping({"old.sink_width": "38 in", "old.sink_kind": "under"}, Stage.TODAY)
    assert found == {frozenset(("old sink", name)) for name in ("side left", "side right")}


def test_a_dishwasher_stands_beside_the_base():
    """24 in wide after a gap of 1/8 in, at most 34 in high; its door needs the floor before it."""
    model = model_of()
    assert model["dishwasher right"].span("x") == (36.125, 60.125)
    assert model["dishwasher right"].span("z") == (0, 34)
    assert model["the door of the dishwasher right"].span("y") == (24.75, 24.75 + 34 - 4.5)


def test_what_lives_below_the_sink_stands_where_the_drain_leaves_room():
    """Tank and filter at the wall, beside valves and drain; the bin at the front, between the front posts where it fits."""
    model = model_of({"plumbing.hot_tap": True, "plumbing.filter": True, "plumbing.bin": True, "sink.carried_at": "bowl"})
    for name, wide in (("pull-out bin", 10), ("hot-water tank", 8), ("water filter", 5)):
        assert model[name].size_in("x") == wide
        assert model[name].span("z")[0] == 5
    assert model["pull-out bin"].span("y")[1] == 23.25


@pytest.mark.parametrize(("diameter", "hand_post", "hand_bin"), [("8 in", 3.5, 4), ("9 in", 1.5, 2), ("12 in", 1.5, 2)])
def test_posts_of_a_platform_turn_where_that_makes_room_for_a_bin(diameter, hand_post, hand_bin):
    """A disposer in the middle of 36 in, sides of 1/2: from 4 to 14 a bin of 10 stands beside posts of 3 1/2; from 2 to 13 1/2 and to 12 beside turned ones."""
    changes = {"plumbing.disposer": "new", "plumbing.disposer_diameter": diameter, "plumbing.bin": True, "sink.carried_at": "bowl"}
    low = {**changes, "sink.bowls[1].depth": "8 in"}  # below the joists 21 5/8 in are free, of which a bin takes 21
    model = model_of(low)
    assert {model[f"post {where} left"].size_in("x") for where in ("rear", "front")} == {hand_post}
    assert model["pull-out bin"].span("x")[0] == hand_bin
    assert not [pair for pair in overlapping(low) if "pull-out bin" in pair]


def test_posts_stay_broad_where_turning_them_makes_no_room():
    """A bowl 9 in deep leaves a bin less than its height below the joists, whichever way the posts stand."""
    model = model_of({"plumbing.bin": True, "sink.carried_at": "bowl"})
    assert model["pull-out bin"].size_in("z") > model["platform joist front"].span("z")[0] - model["pull-out bin"].span("z")[0]
    assert {model[f"post {where} left"].size_in("x") for where in ("rear", "front")} == {3.5}


def test_rooms_are_entered_by_what_they_serve_and_by_nothing_else():
    """A wrench around each valve, below the faucet's nut and at the trap's inlet; doors swing as deep as one is wide."""
    model = model_of({FAUCET: [{"use": "faucet", "offset": "0 in", "setback": "2 1/2 in"}], "plumbing.disposer": "new"})
    rooms = {body.name: body for body in model if body.room}
    assert set(rooms) >= {
        "a wrench at the left shutoff valve",
        "a wrench at the faucet nut",
        "the handle of the faucet",
        "a wrench at the trap's slip nut",
        "a hand below the disposer",
        "the swing of the doors",
    }
    assert rooms["the swing of the doors"].span("y") == (24.75, 24.75 + 18)
    assert rooms["a wrench at the left shutoff valve"].size_in("x") == approx(1.25 + 2)
    assert rooms["a hand below the disposer"].span("z")[1] == model["disposer"].span("z")[0]
    assert all(body.stages == Stage.BUILT for body in rooms.values() if "dishwasher" not in body.name)


def test_joists_of_a_platform_keep_clear_of_valves():
    """Valves at the height of the joists: the rear one moves before the room for their wrench, 4 1/2 in from the wall, and 1/2 in of air."""
    job = {"sink.carried_at": "bowl", "sink.depth": "22 in", "sink.outlet_setback": "12 in"}
    low, at_height = (model_of({**job, "plumbing.stop_height": height}) for height in ("8 in", "22 in"))
    assert at_height["platform joist rear"].span("y")[0] == approx(max(5.0, low["platform joist rear"].span("y")[0]))


def test_a_sink_whose_measures_leave_no_bottom_still_has_a_place():
    """Rim to underside 6 in, a bowl 9 in deep, no wall: design never raises."""
    changes = {"sink.under_most": "6 in", "sink.bowl_width": "29 1/2 in", "sink.rear_rim": "1/2 in", "sink.depth": "16 in", "sink.as_received": True}
    assert model_of({**changes, "sink.apron_projection": "2 in"})["sink bowl"].shapes


@pytest.mark.parametrize("depth", ["21 in", "20 in"])
def test_a_drop_in_goes_back_until_the_wall_of_its_bowl_clears_the_face(depth):
    """In a shallow base the middle of the counter is too far forward: bowl and its wall end just behind the back of the face."""
    found = estimated("laminate_top_mount", {"cabinet.depth": depth})
    place = locate_sink(found.job, found.design.levels)
    back_of_face_in = found.job.cabinet.depth_in - 0.75  # a face frame of 3/4 in
    assert place.outside_y[1] == approx(back_of_face_in - value("practice", "sink/behind-face"))


def test_the_shallower_of_two_bowls_ends_higher():
    """9 and 7 in deep under a rim at 34 1/2, a bottom of 5/8: undersides 24 7/8 and 26 7/8 in above the floor, each plate 5/8 in thick."""
    size = {"width": "14 in", "front_to_back": "15 1/2 in"}
    placed = estimated("stone_apron_single_bowl", {"sink.bowls": [{**size, "depth": "9 in"}, {**size, "depth": "7 in"}]}).design.placed
    bottoms = [[block.z for block in placed.model["sink bowl"].shapes if (block.x, block.y) == (bowl.x, bowl.y)] for bowl in placed.sink.bowls]
    assert bottoms == [[(24.875, 25.5)], [(26.875, 27.5)]]


def test_the_cut_of_the_front_is_marked_from_the_bases_left_outside():
    """32 5/8 of 36 in wide, in its middle: from 1 11/16 to 34 5/16 in; 10 in down from the top at 34 1/2."""
    design = estimated("stone_apron_single_bowl").design
    gaps = cut_gaps(design.placed.model, design.cut)
    hand_left = (36 - 32.625) / 2
    assert {name: gap.span for name, gap in gaps.items()} == {
        "side": pytest.approx((0.0, hand_left)),
        "wide": pytest.approx((hand_left, hand_left + 32.625)),
        "down": pytest.approx((34.5 - design.cut.height_in, 34.5)),
    }
    assert [gap.value_in for gap in gaps.values()] == pytest.approx([hand_left, 32.625, design.cut.height_in])
