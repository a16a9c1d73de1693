"""What is small or hidden has a place too: outlets, clips, shims, packers of the run, fillers, what is in the wall, today's drain. By hand."""

import pytest
from design_jobs import sheet_of

from kit.checks.overlaps import check_overlaps
from kit.design.place_room import GROUND
from kit.design.waste_way import WasteWay
from kit.records import Level
from kit.shapes import Rod, overlap_depth
from kit.solids import Stage
from kit.sources import value
from kit.takeoff.connect_drain import count_drain, count_drain_lowered
from kit.takeoff.fronts import count_fronts_back

approx = pytest.approx
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "counter.holes": []}
TWO = {"sink.bowls": [{"width": "14 in", "front_to_back": "15 1/2 in", "depth": "9 in"}] * 2, "sink.bowl_width": "30 in", "sink.body_width": "32 in"}


def model_of(changes=None):
    return sheet_of(changes or {}).design.placed.model


def outlets(changes):
    return [x for x, _ in sheet_of(changes).design.placed.sink.outlets]


@pytest.mark.parametrize(
    ("changes", "hand"),
    [
        ({}, [18]),
        ({"sink.outlet_offset": "4 in"}, [22]),
        ({"sink.outlet_offset": "-4 in"}, [14]),
        # 14 + 14 in 30: three walls of 2/3, so middles 7 + 1/3 to both sides; 0 and unknown say the same
        (TWO, [18 - 22 / 3, 18 + 22 / 3]),
        ({**TWO, "sink.outlet_offset": "0 in"}, [18 - 22 / 3, 18 + 22 / 3]),
        ({**TWO, "sink.outlet_offset": "6 in"}, [12, 24]),
        ({**TWO, "sink.outlet_offset": "unknown"}, [18 - 22 / 3, 18 + 22 / 3]),
    ],
)
def test_outlets_stand_where_they_were_measured(changes, hand):
    """Base 36 in wide, sink centered on it; strainers hang there, and the arm turns from the nearest."""
    assert outlets(changes) == approx(hand)
    hung = sorted(body.middle[0] for body in model_of(changes) if body.part == "strainer")
    assert hung == approx(hand)


def test_the_arm_turns_by_what_the_bend_does_not_reach():
    """Stub 4 in right of the middle, outlet 4 in right: straight; outlet 4 in left: 8 in to the side, 5 of them by the trap's bend."""
    straight, turned = (sheet_of({"plumbing.stub_offset": "4 in", "sink.outlet_offset": offset}).design.drain.pipes for offset in ("4 in", "-4 in"))
    assert "arm to the elbow" not in {pipe.name for pipe in straight}
    assert [pipe.centers_in for pipe in turned if pipe.name == "arm to the elbow"] == [8 - 5]


def test_nothing_of_a_drain_through_the_floor_is_designed_without_a_vent():
    """Strainers hang; no trap, arm or stub, and of the drain no line but the plumber's call-out."""
    sheet = sheet_of({"plumbing.drain_leaves": "floor", "plumbing.stub_height": "24 in"})
    assert not [body.name for body in sheet.design.placed.model if body.part in {"trap", "arm", "stub", "riser"} and "supply" not in body.name]
    assert [line.id for line in count_drain(sheet)] == ["connect-drain/hire-plumber/call-out"]
    assert count_drain_lowered(sheet) == []


def test_clips_hold_an_undermount_to_the_counter_and_the_load_goes_through_them():
    """32 1/2 x 18 in around: 101 in, 11 clips; from the rim by clips and counter to the floor."""
    model = model_of(
        {**STANDARD, "sink.mount": "under", "sink.held_by": "clips", "sink.body_width": "30 in", "sink.bowl_width": "28 in", "sink.bowls[1].width": "27 in"}
    )
    clips = model.of_part("clips")
    assert len(clips) == 10  # 2 x (30 + 18) / 10, rounded up
    rim_in, hand_thick_in = model["sink rim"].span("z")[0], 0.5
    hand_levels = {(rim_in - hand_thick_in, rim_in), (rim_in - hand_thick_in, 34.5)}  # the part below the rim, and the foot up to the counter
    assert {block.z for clip in clips for block in clip.shapes} == hand_levels
    assert set(model.path_down("sink rim", GROUND)) >= {"sink clip 1", "counter", "side left", "subfloor"}
    assert not [found for found in model.overlaps(Stage.BUILT) if "clips" in {found.first.part, found.second.part}]


def test_clips_of_a_drop_in_lie_below_the_counter():
    """Thin flange on the counter: their tops touch its underside at 34 1/2."""
    model = model_of(
        {
            **STANDARD,
            "sink.mount": "top",
            "sink.weight": "20 lb",
            "sink.rim_thickness": "1/16 in",
            "sink.body_width": "30 in",
            "sink.bowl_width": "28 in",
            "sink.bowls[1].width": "27 in",
        }
    )
    assert {clip.span("z")[1] for clip in model.of_part("clips")} == {34.5}
    assert model["sink rim"].stands_on == ("counter",)


def test_shims_stand_below_three_corners_of_a_delivered_sink():
    """Rim to underside 9 1/16 in, 1/8 between the corners: from the panel up to the bowl that is 1/8 less deep there."""
    model = model_of({"sink.carried_at": "bowl", "sink.under_most": "9 5/8 in", "sink.corners_apart": "1/8 in"})
    shims = [body for body in model.of_part("shims") if "corner" in body.name]
    assert [body.size_in("z") for body in shims] == [approx(0.125)] * 3
    panel = model["platform panel"]
    assert {body.span("z")[0] for body in shims} == {panel.span("z")[1]}
    rear_in, front_in = panel.span("y")  # shims are 1 1/2 in wide, flush with the panel's edges
    assert [body.span("y") for body in shims] == [(front_in - 1.5, front_in), (rear_in, rear_in + 1.5), (front_in - 1.5, front_in)]
    assert not [found for found in model.overlaps(Stage.BUILT) if "corner" in found.first.name + found.second.name]


def test_packers_level_the_run_on_boxes_that_stay_fixed():
    """Run of 96 in, 1 in low but at its left end; supports at 64 and 96 in beside the base: 1 in less what a pair of shims fills."""
    model = model_of({"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "32 in", "low": "1 in"}], "cabinet.fixed": True})
    packers = [body for body in model if body.name.startswith("packer of the run")]
    assert [body.size_in("y") for body in packers] == [24, 24]
    assert all(body.span("z")[1] < model["counter"].span("z")[0] for body in packers)


def test_fillers_close_what_the_apron_leaves_open_and_are_bought_at_their_length():
    """Apron 30 in on a base of 36 with stiles of 1 1/2: 1 1/2 beside on both sides."""
    changes = {"sink.apron_width": "30 in", "sink.body_width": "29 in", "sink.bowl_width": "27 in", "sink.bowls[1].width": "26 in"}
    sheet = sheet_of(changes)
    bodies = sheet.design.placed.model.of_part("fillers")
    pieces = {(piece.name, piece.length_in): piece.count for line in count_fronts_back(sheet) for piece in line.pieces}
    assert [body.span("x") for body in bodies if body.name.startswith("side")] == [(1.5, 3), (33, 34.5)]
    assert sum(pieces.values()) == len(bodies)
    assert {length for _, length in pieces} == {round(body.length_in, 6) for body in bodies}


def test_supply_stubs_come_through_the_board_and_a_known_stud_stands_in_the_wall():
    """Valves 6 in to both sides; board of 1/2 in, stud of 3 1/2 behind it, 1 1/2 wide."""
    model = model_of({"plumbing.stops_apart": "12 in", "plumbing.stud_offset": "9 in"})
    assert [model[f"{side} supply stub"].middle[0] for side in ("left", "right")] == [12, 24]
    assert model["left supply stub"].span("y") == (-0.5, 0)
    assert (model["stud"].span("x"), model["stud"].span("y")) == ((26.25, 27.75), (-4, -0.5))
    assert "stud" not in model_of()


def test_todays_drain_hangs_below_the_old_sink_and_comes_out_with_it():
    """From the middle of the old bowl to today's stub at 15 in; nothing of it without an old sink or a stub that was measured."""
    model = model_of()
    old = {body.name: body for body in model.of_part("old drain", Stage.TODAY)}
    assert set(old) == {"old strainer", "old tailpiece", "old trap", "old arm"}
    assert all(body.stages is Stage.TODAY for body in old.values())
    assert old["old arm"].shapes[0].start[2] == approx(15)
    assert old["old strainer"].span("z")[1] == model["old sink"].span("z")[0]
    for changes in ({"old.sink_kind": "none"}, {"plumbing.stub_height": "unknown"}):
        assert not model_of(changes).of_part("old drain", Stage.TODAY)


def test_the_old_counter_is_as_long_and_deep_as_it_was():
    """One run; new counter 96 x 25 1/2."""
    model = model_of({"old.counter_length": "80 in", "old.counter_depth": "24 in"})
    assert model["old countertop"].size_in("x") == 80
    assert model["old countertop"].span("y")[1] == 24


def test_the_strip_behind_a_flush_sink_is_carried_through_its_cleat():
    """Counter on sides and cleat, cleat on the sides; with a sub-top that lies between."""
    flush = {"sink.mount": "flush", "sink.carried_at": "bowl", "counter.holes": []}
    assert model_of(flush)["counter"].stands_on == ("side left", "side right", "strip cleat 1")
    model = model_of({**flush, "counter.sub_top": "new"})
    assert model["counter"].stands_on == ("sub-top",)
    assert set(model["sub-top"].stands_on) == {"side left", "side right", "strip cleat 1"}
    assert set(model.path_down("counter", GROUND)) & set(GROUND)


def test_a_dishwasher_fills_the_space_that_is_listed_for_it():
    """Space of 24 in beside the base, 1/8 in of gap."""
    model = model_of({"cabinet.boxes": [{"side": "right", "kind": "dishwasher", "width": "24 in"}, {"side": "right", "kind": "drawer", "width": "18 in"}]})
    assert model["dishwasher right"].span("x") == (36.125, 60)
    assert not [found for found in model.overlaps(Stage.BUILT) if "dishwasher right" in {found.first.name, found.second.name}]


APART_IN = 44 / 3  # the outlets of TWO


def wastes(changes):
    model = model_of({**TWO, **changes})
    return {body.name: body for body in model if body.name.startswith(("continuous waste", "waste tube"))}, model


def test_the_waste_of_a_second_bowl_lies_on_the_trap_between_the_outlets():
    """Outlets 14 2/3 in apart, within the reach of a set: one tube of 1 1/2 in, its underside on the top of the trap; frame and bin are held against it."""
    found, model = wastes({"plumbing.bin": True})
    (waste,) = found.values()
    assert waste.span("x") == approx((18 - APART_IN / 2, 18 + APART_IN / 2))
    assert waste.span("z") == approx((model["trap"].span("z")[1], model["trap"].span("z")[1] + 1.5))
    assert waste.span("y") == approx(model["tailpiece 2"].span("y"))
    assert not [one.second.name for one in model.overlaps(Stage.BUILT) if one.first is waste and one.second.part in {"frame", "trap", "arm"}]


@pytest.mark.parametrize(("aside", "hand_deep"), [(0, 0.75), (1, 0.75 + 0.75 / 2**0.5)])
def test_a_waste_may_lean_into_the_tee_of_a_tailpiece(aside, hand_deep):
    """It ends in the middle of the tailpiece: half of that, and the round of its own end where it comes in aslant, at most at half a right angle."""
    tailpiece, waste = Rod((0, 0, 0), (0, 0, 10), 0.75), Rod((10, 10 * aside, 5), (0, 0, 5), 0.75)
    assert overlap_depth(waste, tailpiece) == approx(hand_deep)
    assert hand_deep <= value("joints", "continuous-waste/tailpiece")


def test_a_tube_next_to_the_trap_makes_up_what_a_set_does_not_reach():
    """Outlets 20 in apart: 4 in beyond the 16 in of the set."""
    found, _ = wastes({"sink.outlet_offset": "10 in"})
    assert {name: body.size_in("x") for name, body in found.items()} == approx({"waste tube between bowls": 4, "continuous waste": 16})


def test_a_hair_more_than_a_set_reaches_takes_no_tube():
    """Found by a random job: 16 in and the last digit of a float made a tube in no pieces."""
    ways = [WasteWay(((0.0, 9.0), (far_in, 9.0))).beyond_set_in for far_in in (15.0, 16.0, 16.0 + 4e-15, 16.5)]
    assert ways == [0, 0, 0, 0.5]


def test_the_waste_beside_a_disposer_is_shorter_by_where_its_trap_stands():
    """8 in disposer, 1/2 in of air and half of a 1.9 in pipe: the trap stands 5.45 in nearer to the other bowl."""
    beside = {"plumbing.disposer": "new", "plumbing.disposer_diameter": "8 in"}
    drain = sheet_of({**TWO, **beside}).design.drain
    assert [waste.length_in for waste in drain.wastes] == approx([APART_IN - 5.45])
    assert drain.measures.waste_run_in == approx(APART_IN - 5.45)
    assert drain.outlets_apart_in == approx(APART_IN)


def test_a_waste_goes_behind_a_disposer_that_hangs_between():
    """Stub to the left of both outlets, so the trap stands left of the disposer: two elbows, and 5 1/4 in (4 + 1/2 + 3/4) to the wall and back."""
    sheet = sheet_of({**TWO, "plumbing.disposer": "new", "plumbing.disposer_diameter": "8 in", "plumbing.stub_offset": "-14 in"})
    (waste,), model = sheet.design.drain.wastes, sheet.design.placed.model
    assert waste.length_in == approx(APART_IN + 5.45 + 2 * 5.25)
    assert {fitting.item: fitting.count for fitting in sheet.design.drain.fittings}["elbow-slip-joint"] == 2
    along = [rod for rod in (*model["continuous waste"].shapes, *model["waste tube between bowls"].shapes) if rod.start[0] != rod.end[0]]
    assert [model["disposer"].span("y")[0] - rod.y[1] for rod in along] == approx([0.5] * len(along))
    assert not [one for one in model.overlaps(Stage.BUILT) if {one.first.part, one.second.part} == {"disposer", "tailpiece"}]


def test_three_bowls_have_a_waste_on_each_side_or_one_through_the_other():
    """Bowls of 9 in, outlets 9 3/4 in apart: the trap below the middle one, or below the left one with the middle one's waste going on."""
    three = {"sink.bowls": [{"width": "9 in", "front_to_back": "15 1/2 in", "depth": "9 in"}] * 3}
    middle, left = (sheet_of({**TWO, **three, "plumbing.stub_offset": offset}).design for offset in ("0 in", "-12 in"))
    assert [waste.length_in for waste in middle.drain.wastes] == approx([9.75, 9.75])
    assert (middle.drain.measures.waste_run_in, left.drain.measures.waste_run_in) == approx((9.75, 19.5))
    for design in (middle, left):
        assert design.drain.slip_joints == 1 + 2 * 2 + 1
        assert not [one for one in design.placed.model.overlaps(Stage.BUILT) if {one.first.part, one.second.part} & {"frame", "bowl"}]


FLOOR = {"plumbing.drain_leaves": "floor", "plumbing.floor_pipe_from_left": "12 in", "plumbing.floor_pipe_from_wall": "8 in", "plumbing.floor_pipe_top": "9 in"}


def test_the_pipe_of_a_drain_through_the_floor_stands_where_it_was_measured():
    """1.9 in outside around 12 in from the base's left and 8 in from the wall, up to 9 in, through a hole in the cabinet floor; nothing stands in it."""
    model = model_of(FLOOR)
    pipe = model["drain pipe in the floor"]
    assert [pipe.span(axis) for axis in ("x", "y", "z")] == [approx((11.05, 12.95)), approx((7.05, 8.95)), (0, 9)]
    assert not [one for one in model.overlaps(Stage.BUILT) if pipe in {one.first, one.second}]
    assert model["cabinet floor"].length_in == approx(35)
    for missing in ("plumbing.floor_pipe_from_left", "plumbing.floor_pipe_from_wall"):
        assert "drain pipe in the floor" not in model_of({**FLOOR, missing: "unknown"})
    assert "drain pipe in the floor" not in model_of({**FLOOR, "plumbing.drain_leaves": "wall"})


@pytest.mark.parametrize(("x", "y"), [(x, y) for x in ("4 in", "12 in", "20 in") for y in ("5 in", "12 in")])
def test_bin_and_filter_keep_clear_of_the_pipe_in_the_floor(x, y):
    """A pull-out bin and a filter go beside it where there is room."""
    changes = {**FLOOR, "plumbing.floor_pipe_from_left": x, "plumbing.floor_pipe_from_wall": y, "plumbing.bin": True, "plumbing.filter": True}
    model = model_of(changes)
    met = [one for one in model.overlaps(Stage.BUILT) if "drain pipe in the floor" in {one.first.name, one.second.name}]
    assert all(one.first.part != "stored" != one.second.part for one in met)
    assert {"pull-out bin", "water filter"} <= {body.name for body in model}


def test_a_post_in_the_place_of_the_pipe_in_the_floor_is_found():
    """A post stands against the side at the back; so does the pipe, 3 in from the base's left."""
    sheet = sheet_of({**FLOOR, "plumbing.floor_pipe_from_left": "3 in", "plumbing.floor_pipe_from_wall": "7 in", "sink.carried_at": "bowl"})
    (found,) = [one for one in check_overlaps(sheet.design, ()) if "drain-pipe-in-the-floor" in one.id and "post-rear-left" in one.id and "block" not in one.id]
    assert found.level is Level.STOP
    assert found.basis == "fixed by sink base depth; floor drain pipe from the wall"
