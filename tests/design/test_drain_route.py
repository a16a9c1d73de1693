"""The drain of a whole job: levels, pipes, fittings, joints."""

import math
from dataclasses import replace
from types import MappingProxyType

import pytest
from design_jobs import changed, lists, sheet_of
from hypothesis import given
from hypothesis import strategies as st
from work_jobs import STEMS, estimated

from kit.design.drain import design_drain
from kit.design.drain_parts import disposer_tube_in
from kit.design.levels import design_levels
from kit.design.waste_way import WasteWay
from kit.lists import Lists
from kit.lists.goods_rows import TakeOut
from kit.sources import value

BORE = 1.61  # 1 1/2 in drain pipe, kit/sources/pipes.csv
SECOND_BOWL = {"sink.bowls": [{"width": "14 in", "front_to_back": "15 1/2 in", "depth": "9 in"}] * 2}
SLIP = {"plumbing.drain_new": "slip-joint"}
# the outlet lies 24 + 3/4 - 18 + 8 = 14 3/4 in from the wall; the trap's bend takes 5 in of that, the stub stands 2 in out of the wall
ARM = 14.75 - 5
ELBOW = 1.9 / 2 + 0.6875  # from the middle of an elbow to its mouth: half a pipe and a socket 11/16 in deep
HIGHEST = 34.5 - 9 - 0.625 - 6 + BORE / 2 - 0.25 * ARM / 12
WEIR = 15 - BORE / 2 + 0.25 * ARM / 12
TAIL = 24.875 - 2 - (WEIR + 1.9 - 1)  # from below the strainer's 2 in to 1 in below the top of a 1.9 in pipe
FAR = {"sink.outlet_setback": "15 1/4 in"}  # 17 in of arm
ASIDE = {"plumbing.stub_offset": "8 in"}  # 3 in more than the bend reaches


def route(changes=None, with_lists=None):
    job = changed(changes)
    return design_drain(job, design_levels(job), with_lists or lists())


def fittings(changes=None):
    return {fitting.item: fitting.count for fitting in route(changes).fittings}


def pipes(changes=None):
    return {pipe.name: (pipe.item, pipe.count, pipe.length_in) for pipe in route(changes).pipes}


def test_highest_stub_of_a_sink_under_the_counter():
    """Bowl's underside 34 1/2 - 9 - 5/8; strainer 6 in; half the bore; fall of 9 3/4 in at 1/4 in a foot: 19.48 in."""
    found = route()
    assert found.stub_max_in == pytest.approx(HIGHEST)
    assert found.lower_by_in == 0
    assert not found.moves


@pytest.mark.parametrize(("stub", "hand_lower"), [("19 7/16 in", 0), ("19 1/2 in", 19.5 - HIGHEST + 0.5), ("24 in", 24 - HIGHEST + 0.5)])
def test_how_far_the_stub_comes_down(stub, hand_lower):
    """Either side of the highest stub; one that comes down is set 1/2 in below it."""
    assert route({"plumbing.stub_height": stub}).lower_by_in == pytest.approx(hand_lower)


def test_levels_fall_along_the_arm_as_it_is_placed():
    """Whatever was measured today; beyond the wall the vent is as far as it was: 28 less 16 in."""
    for today in ("2 in", "16 in", "28 in"):
        found = route({"plumbing.arm_to_wall": today})
        assert found.measures.run_to_wall_in == found.way.length_in == ARM
        assert found.measures.run_to_vent_in == ARM + 28 - float(today.split()[0])
    assert route({"plumbing.arm_to_wall": "30 in"}).measures.run_to_vent_in == ARM


def test_a_stub_nobody_measured_is_not_lowered():
    """Unknown is no number; nothing is priced for it."""
    found = route({"plumbing.stub_height": "unknown"})
    assert found.lower_by_in is None
    assert found.lower_by_without_disposer_in is None
    assert not found.moves
    assert found.riser is None


def test_with_and_without_a_disposer_side_by_side():
    """A disposer needs 9 1/2 in where a strainer needs 6 in."""
    found = route({"plumbing.disposer": "new", "plumbing.stub_height": "18 in"})
    assert found.stub_max_without_disposer_in - found.stub_max_in == pytest.approx(3.5)
    # the trap stands 8 / 2 + 0.95 + 1/2 in beside the outlet; the bend can't swing back past the disposer: 5.45 in over to the stub behind it
    hand_arm = (14.75 - 5) + (4 + 0.95 + 0.5)
    assert found.stub_max_in == pytest.approx(HIGHEST - 3.5 - (hand_arm - ARM) / 48)
    assert found.lower_by_without_disposer_in == 0
    assert found.lower_by_in == pytest.approx(18 - (found.stub_max_in - 0.5))


def test_two_bowls_add_the_fall_between_them():
    """Two 14 in bowls in 32 in: three walls of 4/3 in, outlets 15 1/3 in apart, 1/4 in a foot."""
    hand_apart = 14 + 4 / 3
    assert route(SECOND_BOWL).outlets_apart_in == pytest.approx(hand_apart)
    assert route().outlets_apart_in == 0
    outlets = sheet_of(SECOND_BOWL).design.placed.sink.outlets
    assert outlets[1][0] - outlets[0][0] == route(SECOND_BOWL).outlets_apart_in
    hand_aside = hand_apart / 2 - 5  # the stub lies between them: what the bend does not reach
    hand_arm = 14.75 + hand_aside
    assert route(SECOND_BOWL).way.length_in == pytest.approx(hand_arm)
    assert route().stub_max_in - route(SECOND_BOWL).stub_max_in == pytest.approx((hand_apart + hand_arm - ARM) * 0.25 / 12)


@pytest.mark.parametrize(("mount", "hand_higher"), [("under", 0.0), ("flush", 1.1875), ("top", 1.1875 + 0.625)])
def test_each_mount_starts_from_its_own_rim(mount, hand_higher):
    """Flush: at the counter's top; top: a rim thickness above it."""
    assert route({"sink.mount": mount}).stub_max_in == pytest.approx(HIGHEST + hand_higher)


def test_tailpiece_reaches_from_strainer_to_trap():
    """From below the strainer's body to 1 in inside the trap's slip joint: as long as its body."""
    assert route().tailpiece_in == pytest.approx(TAIL)
    assert sheet_of().design.placed.model["tailpiece"].size_in("z") == pytest.approx(TAIL)


def test_a_long_tailpiece_takes_two_tubes_and_a_coupling():
    """Tubes are 12 in; a stub at 8 in leaves 14.6 in below the strainer."""
    name, count, length = pipes({"plumbing.stub_height": "8 in"})["tailpiece"]
    assert (name, count) == ("tube-slip-joint", 2)
    assert length == pytest.approx((TAIL + 7) / 2)
    assert fittings({"plumbing.stub_height": "8 in"})["coupling-slip-joint"] == 1
    assert "coupling-slip-joint" not in fittings()


def test_the_tailpiece_of_a_shallower_bowl_is_longer():
    """9 and 6 in deep: 3 in longer; with a disposer below the deeper one only the other has one."""
    bowls = [{"width": "14 in", "front_to_back": "15 1/2 in", "depth": depth} for depth in ("9 in", "6 in")]

    def tailpieces(**changes):
        found = sheet_of({"sink.bowls": bowls, **changes}).design
        bodies = {name: found.placed.model[name].size_in("z") for name in ("tailpiece", "tailpiece 2") if name in found.placed.model}
        assert sorted(bodies.values()) == pytest.approx(sorted(pipe.length_in for pipe in found.drain.pipes if pipe.name == "tailpiece"))
        return [(pipe.length_in, pipe.count) for pipe in found.drain.pipes if pipe.name == "tailpiece"]

    deep, shallow = tailpieces()
    assert (deep[1], shallow) == (1, (pytest.approx(deep[0] + 3), 1))
    assert len(tailpieces(**{"plumbing.disposer": "new"})) == 1
    assert route({"sink.bowls": bowls}).slip_joints == 4


def test_a_trap_a_half_inch_too_low_is_taken_up_by_the_disposers_elbow():
    """Up to the 1 in that an elbow or a slip joint gives (practice table): exactly an inch needs no tube, a hair more one as long as what lacks."""
    job, levels = changed({"plumbing.disposer": "new"}), route({"plumbing.disposer": "new"}).levels
    spare = value("practice", "drain/turn-from")
    exact, more = (replace(levels, need_in=8.0, drop_built_in=8.0 + extra) for extra in (spare, spare + 0.25))
    assert (disposer_tube_in(job, exact), disposer_tube_in(job, more)) == (0.0, spare + 0.25)
    assert disposer_tube_in(changed(), more) == 0.0


def test_the_waste_of_the_farthest_of_three_bowls_goes_on_from_the_middle_one():
    """The stub at the right: the trap hangs below the right bowl, the middle one drains into it and the left one into the middle one's tee."""
    bowls = {"sink.bowls": [{"width": "9 in", "front_to_back": "15 1/2 in", "depth": "9 in"}] * 3}
    for offset, order in (("10 in", (2, 1, 0)), ("-10 in", (0, 1, 2))):
        found = sheet_of({**bowls, "plumbing.stub_offset": offset}).design
        outlets, wastes = found.placed.sink.outlets, {waste.points[-1]: waste for waste in found.drain.wastes}
        over_trap, middle, far = (outlets[place] for place in order)
        assert found.drain.way.inlet == over_trap
        assert [(wastes[spot].points, wastes[spot].goes_on) for spot in (middle, far)] == [((over_trap, middle), False), ((middle, far), True)]


def test_a_disposer_has_a_tube_only_where_the_trap_lies_lower_than_it_needs():
    """Drop 10.4 in of which the disposer takes 9 1/2: less than an inch is left, then an inch more, and a body as long."""
    assert "disposer tube" not in pipes({"plumbing.disposer": "new"})
    design = sheet_of({"plumbing.disposer": "new", "plumbing.stub_height": "14 in"}).design
    (tube,) = (pipe.length_in for pipe in design.drain.pipes if pipe.name == "disposer tube")
    assert tube == pytest.approx(24.875 - 9.5 - (14 - BORE / 2 + design.drain.way.length_in / 48))
    assert design.placed.model["disposer tube"].size_in("z") == pytest.approx(tube)
    assert "tailpiece" not in pipes({"plumbing.disposer": "new"})


@pytest.mark.parametrize(("offset", "turns"), [("0 in", False), ("5 in", False), ("6 in", False), ("6 1/8 in", True), ("-8 in", True)])
def test_the_arm_turns_where_bend_and_slip_joint_no_longer_reach(offset, turns):
    """Either side of 5 in of bend and 1 in, and to the left."""
    found = fittings({"plumbing.stub_offset": offset})
    assert ("elbow-pvc-1-1-2" in found) is turns
    assert ("arm to the elbow" in pipes({"plumbing.stub_offset": offset})) is turns


def test_a_bend_that_is_swung_leaves_a_longer_arm():
    """Stub 3 in aside: the bend goes 4 in to the wall and not 5."""
    assert route({"plumbing.stub_offset": "3 in"}).way.length_in == pytest.approx(14.75 - 4)


def test_legs_of_a_turned_arm_are_the_arm_together():
    """8 in aside: the bend lies along the wall, 3 in to the elbow, 14 3/4 to the wall, of which the stub is 2."""
    found = pipes(ASIDE)
    assert found["arm to the elbow"][2] == pytest.approx(3)
    assert found["arm to the stub"][2] == pytest.approx(14.75 - 2)


def test_an_arm_that_goes_round_a_disposer_turns_twice():
    """The stub is straight behind it: one elbow's half from the trap, 5.45 over, the rest to the stub."""
    found = route({"plumbing.disposer": "new"})
    legs = {pipe.name: pipe.length_in for pipe in found.pipes if pipe.name.startswith("arm")}
    assert legs == pytest.approx({"arm to the elbow": ELBOW, "arm between the elbows": 4 + 0.95 + 0.5, "arm to the stub": 14.75 - 5 - ELBOW - 2})
    assert {fitting.item: fitting.count for fitting in found.fittings}["elbow-pvc-1-1-2"] == 2


@pytest.mark.parametrize("size", ["1-1/2", "2"])
def test_an_unknown_take_out_is_never_invented(size):
    """The shipped list has none for drain fittings: center to center is bought, and the pipe waits for a measure."""
    found = route({"plumbing.drain_size": size})
    assert [pipe.cut_in for pipe in found.pipes if pipe.name == "arm"] == [None]
    assert found.to_measure == ("arm",)


def test_measured_take_outs_give_the_cut():
    """9 3/4 less 2 in of stub, center to center, less 1 1/4 and 1/8 in."""
    known = {("trap", "1-1/2"): TakeOut("trap", "1-1/2", 1.25, "measured"), ("coupling", "1-1/2"): TakeOut("coupling", "1-1/2", 0.125, "measured")}
    found = route(with_lists=_with_take_outs(known))
    assert [pipe.cut_in for pipe in found.pipes if pipe.name == "arm"] == [pytest.approx(ARM - 2 - 1.375)]
    assert found.to_measure == ()


def test_fittings_that_touch_leave_the_cut_open():
    """Take-outs longer than the arm: no negative pipe."""
    known = {(name, "1-1/2"): TakeOut(name, "1-1/2", 9.0, "measured") for name in ("trap", "coupling")}
    assert route(with_lists=_with_take_outs(known)).to_measure == ("arm",)


def _with_take_outs(known) -> Lists:
    return replace(lists(), take_outs=MappingProxyType(known))


def test_fittings_and_sockets_of_a_cemented_drain():
    """Trap with two sockets, its adapter's spigot in one of them, a coupling at the stub with two."""
    assert fittings() == {"trap-pvc": 1, "trap-adapter-pvc": 1, "coupling-pvc-1-1-2": 1, "branch-tailpiece": 1}
    assert route().cemented_joints == 4
    assert route(ASIDE).cemented_joints == 6
    assert route({"plumbing.drain_size": "2"}).cemented_joints == 6  # a reducer between trap and arm


def test_another_material_gets_its_coupling_and_none_of_its_own():
    """Cast iron to PVC: a shielded coupling takes the place of the cemented one."""
    found = route({"plumbing.drain_old": "cast-iron"})
    assert found.transition == "shielded-coupling"
    assert "coupling-pvc-1-1-2" not in fittings({"plumbing.drain_old": "cast-iron"})
    assert found.cemented_joints == 2


@pytest.mark.parametrize(
    ("old", "adapter", "cement", "joints"),
    [("pvc", "trap-adapter-pvc", "pvc", 1), ("abs", "trap-adapter-abs", "abs", 1), ("copper", "trap-adapter-metal", None, 0), ("slip-joint", None, None, 0)],
)
def test_a_slip_joint_trap_on_each_stub(old, adapter, cement, joints):
    """Its adapter is cemented to plastic, clamped to metal, and there already on an old slip joint."""
    near = {**SLIP, "plumbing.drain_old": old}
    found = route(near)
    assert [item for item in fittings(near) if item.startswith("trap-adapter")] == ([adapter] if adapter else [])
    assert (found.cement, found.cemented_joints) == (cement, joints)


@pytest.mark.parametrize(
    ("old", "hand_parts", "hand_joints"),
    [
        ("pvc", {"trap-adapter-pvc", "reducer-pvc"}, 2),
        ("abs", {"trap-adapter-abs", "reducer-abs"}, 2),
        ("copper", {"trap-adapter-metal-2"}, 0),
        ("slip-joint", set(), 0),
    ],
)
def test_a_slip_joint_trap_on_a_two_inch_stub(old, hand_parts, hand_joints):
    """Pipe to reducer and reducer to adapter are cemented; metal takes an adapter from its size to the trap's."""
    large = {**SLIP, "plumbing.drain_old": old, "plumbing.drain_size": "2"}
    assert {item for item in fittings(large) if item.startswith(("trap-adapter", "reducer"))} == hand_parts
    assert route(large).cemented_joints == hand_joints


@pytest.mark.parametrize(
    ("changes", "hand_joints"),
    [
        ({}, 2),  # tailpiece into the trap, branch tailpiece
        ({"plumbing.dishwasher": False}, 1),
        (SECOND_BOWL, 4),
        (SLIP, 2 + 2),  # the trap's seal and outlet
        ({**SLIP, **FAR}, 2 + 2),  # 17 in of arm are cemented
        ({**SLIP, **ASIDE}, 2 + 2),  # the elbow is cemented
        ({"plumbing.disposer": "new"}, 1),
    ],
)
def test_slip_joints(changes, hand_joints):
    """One washer each."""
    assert route(changes).slip_joints == hand_joints


@pytest.mark.parametrize(
    ("changes", "hand_arm"),
    [
        ({"sink.outlet_setback": "12 1/4 in"}, [("arm", "tube-slip-joint", 12)]),
        ({"sink.outlet_setback": "12 5/16 in"}, [("arm", "pipe-pvc-1-1-2", 12.0625)]),
        ({"sink.outlet_setback": "12 5/16 in", "plumbing.drain_old": "abs"}, [("arm", "pipe-abs-1-1-2", 12.0625)]),
        ({"sink.outlet_setback": "12 5/16 in", "plumbing.drain_old": "copper"}, [("arm", "pipe-pvc-1-1-2", 12.0625)]),
        (ASIDE, [("arm to the elbow", "pipe-pvc-1-1-2", 3), ("arm to the stub", "pipe-pvc-1-1-2", 12.75)]),
    ],
)
def test_an_arm_beyond_the_slip_joint_traps_reach_is_cemented(changes, hand_arm):
    """Either side of 12 in from the stub, and where it turns: the adapter on the cemented pipe is the last slip joint."""
    found = route({**SLIP, **changes})
    assert [(pipe.name, pipe.item, pytest.approx(pipe.length_in)) for pipe in found.pipes if pipe.name.startswith("arm")] == hand_arm
    assert not {"elbow-slip-joint", "coupling-slip-joint"} & {fitting.item for fitting in found.fittings}


def test_joints_of_a_slip_joint_trap_on_a_cemented_arm():
    """PVC: adapter 1, coupling 2, with an elbow 2 more; copper: a shielded coupling in the coupling's place; 2 in: a reducer's 2 more."""
    far = {**SLIP, **FAR}
    assert route(far).cemented_joints == 3
    assert route({**SLIP, **ASIDE}).cemented_joints == 5
    copper = route({**far, "plumbing.drain_old": "copper"})
    assert (copper.transition, copper.cement, copper.cemented_joints) == ("shielded-coupling", "pvc", 1)
    assert route({**far, "plumbing.drain_size": "2"}).cemented_joints == 5


def test_a_dishwasher_drains_into_the_disposer_where_there_is_one():
    """Only without one does it need a branch tailpiece."""
    assert "branch-tailpiece" in fittings()
    assert "branch-tailpiece" not in fittings({"plumbing.disposer": "new"})
    assert "branch-tailpiece" not in fittings({"plumbing.dishwasher": False})


@pytest.mark.parametrize(("disposer", "item"), [("none", "continuous-waste"), ("new", "continuous-waste-disposer")])
def test_a_second_bowl_takes_a_continuous_waste(disposer, item):
    """One set a further bowl, another kind to a disposer."""
    assert fittings({**SECOND_BOWL, "plumbing.disposer": disposer})[item] == 1
    assert not [name for name in fittings({"plumbing.disposer": disposer}) if name.startswith("continuous")]


def test_the_riser_is_the_drop_and_what_is_cut_beside_it():
    """4 in beyond the drop, and the stub out of the wall; none while the stub stays, is no part of the job, or the riser was not found."""
    found = route({"plumbing.stub_height": "24 in"})
    assert {pipe.name: pipe.centers_in for pipe in found.riser.pipes} == pytest.approx({"riser above the tee": 24 - HIGHEST + 0.5 + 4, "stub": 4.25})
    assert found.riser.cemented_joints == 5
    assert found.is_lowered
    assert route().riser is None
    for changes in ({"plumbing.vent_seen": False}, {"scope.drain_move": {"supplied_by": "excluded", "installed_by": "nobody"}}):
        left = route({"plumbing.stub_height": "24 in", **changes})
        assert left.moves
        assert not left.is_lowered


def test_design_limits_are_those_of_the_code_family():
    """Settings, to be confirmed with the local authority."""
    assert route({"site.code_family": "upc"}).settings.arm_longest_in[1.5] == 42
    assert route({"site.code_family": "irc"}).settings.arm_longest_in[1.5] == 72


@given(st.floats(min_value=4, max_value=14), st.floats(min_value=4, max_value=14))
def test_a_deeper_bowl_never_raises_the_needed_stub(one, other):
    """Nor lowers the drop that the stub must come down."""
    shallow, deep = (sheet_of({"sink.bowls[1].depth": f"{depth:.4f} in", "plumbing.stub_height": "20 in"}).design.drain for depth in sorted((one, other)))
    assert deep.stub_max_in <= shallow.stub_max_in
    assert (deep.lower_by_in or 0) >= (shallow.lower_by_in or 0)


@given(st.floats(min_value=2, max_value=16), st.floats(min_value=-36, max_value=36), st.booleans())
def test_pieces_of_the_arm_are_as_long_as_its_body(setback, aside, disposer):
    """Whatever turns: the pieces together are the rods of the model, none is nothing or longer than a stick, and never shorter than the way straight out."""
    changes = {"sink.outlet_setback": f"{setback:.4f} in", "plumbing.stub_offset": f"{aside:.4f} in", "plumbing.disposer": "new" if disposer else "none"}
    design = sheet_of(changes).design
    found = [pipe for pipe in design.drain.pipes if pipe.name.startswith("arm")]
    rods = [math.dist(rod.start, rod.end) for rod in design.placed.model["arm"].shapes]
    assert math.fsum(pipe.count * pipe.length_in for pipe in found) == pytest.approx(math.fsum(rods))
    assert all(0 < pipe.length_in <= 120 for pipe in found)
    assert design.drain.way.length_in >= design.drain.way.outlet[1] - 1e-9


def test_a_waste_that_its_set_misses_by_a_hair_needs_no_tube_beyond_it():
    """Less than a millionth of an inch is the noise of floats: a tube of it would have no pieces."""
    reach_in = value("practice", "drain/kit-reach")
    assert WasteWay(((0.0, 0.0), (reach_in + 1e-9, 0.0))).beyond_set_in == 0.0
    assert WasteWay(((0.0, 0.0), (reach_in + 0.25, 0.0))).beyond_set_in == 0.25


@pytest.mark.parametrize("stem", STEMS)
def test_the_trap_reaches_from_the_end_of_the_arm_to_below_the_outlet(stem):
    """In the model: it begins where the arm ends, and stands a pipe's radius round the middle of what hangs above it."""
    placed, way = estimated(stem).design.placed, estimated(stem).design.drain.way
    trap, radius_in = placed.model["trap"].shapes, placed.model.size("arm", "z").value_in / 2
    ends = [block for block in trap if all(span[0] - 1e-9 <= at <= span[1] + 1e-9 for span, at in zip((block.x, block.y), way.points[-1], strict=True))]
    round_inlet = [
        block
        for block in trap
        if all(span[0] <= at - radius_in + 1e-9 and at + radius_in - 1e-9 <= span[1] for span, at in zip((block.x, block.y), way.inlet, strict=True))
    ]
    assert ends
    assert round_inlet
    assert placed.model["arm"].span("y")[1] == pytest.approx(min(block.y[0] for block in trap))


def test_a_trap_in_line_with_its_arm_by_hand():
    """A disposer's outlet 8 1/2 in from the wall, a bend of 5 in, a pipe 1.9 in thick: from 3 1/2 in to 9.45 in from the wall."""
    (trap,) = estimated("solid_surface_flush").design.placed.model["trap"].shapes
    assert trap.y == pytest.approx((8.5 - 5.0, 8.5 + 1.9 / 2))
