"""Trap and arm to the pipe of a drain that leaves through the floor: designed where its vent was seen and an arm fits, else with a reason."""

import pytest
from floor_jobs import VENTED, sheet_of

from kit.checks.overlaps import check_overlaps
from kit.design.place_floor_pipe import FLOOR_VENT, VENT_IN_WALL
from kit.records import Level
from kit.solids import Stage

approx = pytest.approx

# the outlet lies 24 + 3/4 - 18 + 8 in from the wall in the middle of 36 in; the pipe 6 in left of it and 8 behind: 10 in away, 5 of them the trap's bend
HAND_ARM = 10 - 5
HAND_WEIR = 14 - 1.61 / 2 + HAND_ARM / 48
HAND_HIGHEST = 34.5 - 9 - 0.625 - 6 + 1.61 / 2 - HAND_ARM / 48


def drain_of(changes):
    """The drain of the vented job with some fields changed."""
    return sheet_of({**VENTED, **changes}).design.drain


def test_the_arm_goes_straight_to_the_inlet_of_the_tee():
    """3/5 of its way to the side, 4/5 to the wall; the inlet reaches 2 in out of the pipe's middle, the arm is what is left to the trap."""
    design = sheet_of(VENTED).design
    drain, model = design.drain, design.placed.model
    assert drain.not_designed == ""
    assert drain.way.length_in == drain.measures.run_to_vent_in == approx(HAND_ARM)
    assert (drain.stub_built_in, drain.levels.weir_built_in, drain.stub_max_in) == approx((14, HAND_WEIR, HAND_HIGHEST))
    (arm,), (inlet,) = model["arm"].shapes, model["stub"].shapes
    assert (inlet.start, inlet.end) == (approx((12, 6.75, 14)), approx((13.2, 8.35, 14)))
    assert (arm.start, arm.end) == (approx((13.2, 8.35, 14)), approx((15, 10.75, 14)))
    lengths = {pipe.name: pipe.length_in for pipe in drain.pipes}
    assert lengths == approx({"tailpiece": 24.875 - HAND_WEIR - 2 - 1.9 + 1, "arm": HAND_ARM - 2})
    assert [(one.item, one.count) for one in drain.fittings][:3] == [("trap-pvc", 1), ("trap-adapter-pvc", 1), ("coupling-pvc-1-1-2", 1)]


def test_pipe_and_vent_stand_where_they_were_measured():
    """The pipe up to the middle of its tee, the vent on to below its elbow and into the wall; none where nobody measured its height."""
    model = sheet_of(VENTED).design.placed.model
    assert model["drain pipe in the floor"].span("z") == (0, 14)
    assert model["vent of the drain in the floor"].span("z") == approx((14, 24 - 0.95))
    assert model["vent into the wall"].span("y") == approx((0, 6.75 + 0.95))
    assert "vent into the wall" not in sheet_of({**VENTED, "plumbing.floor_vent": "unknown"}).design.placed.model


@pytest.mark.parametrize(("above", "bodies"), [(0, 0), (1 / 16, 1), (1, 2)])
def test_a_vent_leaves_above_the_inlet_or_has_no_place(above, bodies):
    """At the height of the inlet none; less than a pipe's radius above it no upright, only the way into the wall; an inch above both."""
    height = sheet_of(VENTED).job.plumbing.vented_inlet_in + above
    model = sheet_of({**VENTED, "plumbing.floor_vent": f"{height} in"}).design.placed.model
    assert sum(name in model for name in (FLOOR_VENT, VENT_IN_WALL)) == bodies


@pytest.mark.parametrize("place", [("12 in", "6 3/4 in"), ("24 in", "6 3/4 in"), ("18 in", "4 in"), ("28 in", "14 3/4 in"), ("18 in", "24 in")])
@pytest.mark.parametrize("changes", [{}, {"plumbing.drain_new": "slip-joint"}, {"plumbing.drain_size": "2"}, {"plumbing.drain_old": "cast-iron"}])
def test_what_is_joined_shares_no_place_but_its_joints(place, changes):
    """Behind, beside and before the outlet, straight and leaning: nothing of the drain is in another part of it."""
    x, y = place
    cells = {**VENTED, "plumbing.floor_pipe_from_left": x, "plumbing.floor_pipe_from_wall": y, **changes}
    design = sheet_of({**cells, "plumbing.floor_vent": "unknown"}).design
    drain = {"stub", "arm", "trap", "tailpiece"}
    both = [one for one in design.placed.model.overlaps(Stage.BUILT) if {one.first.part, one.second.part} <= drain]
    told = {one.id for one in check_overlaps(design, ())}
    assert design.drain.not_designed == ""
    assert both
    assert not [one for one in told if any(name in one for name in ("-arm", "/arm", "trap-", "-stub", "/stub"))]


@pytest.mark.parametrize(
    ("changes", "hand_words"),
    [
        ({"plumbing.floor_pipe_vent": "unknown"}, "no vent was seen on its pipe"),
        ({"plumbing.floor_pipe_vent": "none"}, "no vent was seen on its pipe"),
        ({"plumbing.floor_inlet": "unknown"}, "nobody measured where its pipe is or how high its inlet is"),
        ({"plumbing.floor_pipe_from_wall": "unknown"}, "nobody measured where its pipe is or how high its inlet is"),
        # 3 in of arm asked for, two diameters: the outlet 7 15/16 in from the pipe leaves 2 15/16, right over it nothing
        ({"plumbing.floor_pipe_from_left": "18 in", "plumbing.floor_pipe_from_wall": "6 13/16 in"}, "2 15/16 in of arm, at least 3 in"),
        ({"plumbing.floor_pipe_from_left": "18 in", "plumbing.floor_pipe_from_wall": "14 3/4 in"}, "0 in of arm, at least 3 in"),
        ({"plumbing.floor_inlet": "19 5/8 in"}, "its inlet stands too high: 19 5/8 in; the arm needs it no higher than 19 9/16 in above the floor"),
        # 24 in to the weir instead of 6, a base 4 1/2 in lower: 19.5758 - 18 - 4 1/2
        ({"plumbing.strainer_drop": "24 in", "cabinet.height": "30 in"}, "14 in; the arm needs it no higher than 2 15/16 in below the floor"),
        ({"plumbing.floor_vent": "14 in"}, "its vent goes into the wall 14 in above the floor, no higher than the inlet"),
    ],
)
def test_what_is_not_designed_says_why(changes, hand_words):
    """And has no pipe, no fitting, no joint, no trap and no arm."""
    design = sheet_of({**VENTED, **changes}).design
    assert hand_words in design.drain.not_designed
    assert (design.drain.pipes, design.drain.fittings, design.drain.slip_joints, design.drain.lower_by_in) == ((), (), 0, None)
    assert not {"trap", "arm", "stub"} & {body.name for body in design.placed.model}


def test_just_inside_is_designed():
    """3 in of arm, and an inlet as high as drains: 19.5758 in."""
    assert drain_of({"plumbing.floor_pipe_from_left": "18 in", "plumbing.floor_pipe_from_wall": "6 3/4 in"}).not_designed == ""
    assert drain_of({"plumbing.floor_inlet": "19 9/16 in"}).not_designed == ""
    assert approx(19.5758, abs=1e-4) == HAND_HIGHEST


def test_a_disposer_keeps_the_trap_beside_it():
    """Clear of the disposer by 4 + 0.95 + its air, in the direction of the pipe; the arm is what is left of the way beyond the bend."""
    far = {"plumbing.disposer": "new", "plumbing.floor_pipe_from_left": "3 in", "plumbing.floor_pipe_from_wall": "3 1/2 in", "plumbing.floor_inlet": "10 in"}
    drain = drain_of({**far, "plumbing.floor_vent": "unknown"})
    hand_apart, hand_beside = (15**2 + 11.25**2) ** 0.5, 4 + 0.95 + 0.5
    assert drain.not_designed == ""
    assert drain.way.length_in == approx(hand_apart - hand_beside - 5)


def test_a_drain_into_the_wall_knows_nothing_of_the_pipe():
    """Measures that were typed for a pipe in the floor count only where the drain goes there."""
    wall, plain = (sheet_of(cells).design for cells in ({**VENTED, "plumbing.drain_leaves": "wall"}, {}))
    assert wall.drain == plain.drain
    assert wall.placed.model.bodies == plain.placed.model.bodies
    assert Level.STOP not in {one.level for one in check_overlaps(wall, ())}
