"""The drain of a whole job: levels, pipes, fittings, joints."""

import math
from types import MappingProxyType

import pytest
from design_jobs import changed, lists, sheet_of
from hypothesis import given
from hypothesis import strategies as st

from kit.design.drain import design_drain
from kit.design.levels import design_levels
from kit.lists import Lists
from kit.lists.goods_rows import TakeOut

BORE = 1.61  # 1 1/2 in drain pipe, kit/sources/pipes.csv
SECOND_BOWL = {"sink.bowls": [{"width": "14 in", "front_to_back": "15 1/2 in", "depth": "9 in"}] * 2}
SLIP = {"plumbing.drain_new": "slip-joint"}


def route(changes=None, with_lists=None):
    job = changed(changes)
    return design_drain(job, design_levels(job), with_lists or lists())


def fittings(changes=None):
    return {fitting.item: fitting.count for fitting in route(changes).fittings}


def pipes(changes=None):
    return {pipe.name: (pipe.item, pipe.count, pipe.length_in) for pipe in route(changes).pipes}


def test_highest_stub_of_a_sink_under_the_counter():
    """Bowl's underside 34 1/2 - 9 - 5/8; strainer 6 in; half the bore; fall of 16 in at 1/4 in a foot."""
    hand_highest = 34.5 - 9 - 0.625 - 6 + BORE / 2 - 0.25 * 16 / 12
    found = route()
    assert found.stub_max_in == pytest.approx(hand_highest)
    assert found.lower_by_in == 0
    assert not found.moves


@pytest.mark.parametrize(("stub", "hand_lower"), [("19 1/4 in", 0), ("19 3/8 in", 19.375 - 18.846666667), ("24 in", 24 - 18.846666667)])
def test_how_far_the_stub_comes_down(stub, hand_lower):
    """Either side of the highest stub, 19.35 in; one that comes down is set 1/2 in below it."""
    assert route({"plumbing.stub_height": stub}).lower_by_in == pytest.approx(hand_lower)


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
    assert found.lower_by_without_disposer_in == 0
    assert found.lower_by_in == pytest.approx(18 - (19.346666667 - 3.5 - 0.5))


def test_two_bowls_add_the_fall_between_them():
    """Two 14 in bowls in 32 in: three walls of 4/3 in, outlets 15 1/3 in apart, 1/4 in a foot."""
    hand_apart = 14 + 4 / 3
    assert route(SECOND_BOWL).outlets_apart_in == pytest.approx(hand_apart)
    assert route().outlets_apart_in == 0
    outlets = sheet_of(SECOND_BOWL).design.placed.sink.outlets
    assert outlets[1][0] - outlets[0][0] == route(SECOND_BOWL).outlets_apart_in
    assert route().stub_max_in - route(SECOND_BOWL).stub_max_in == pytest.approx(hand_apart * 0.25 / 12)


@pytest.mark.parametrize(("mount", "hand_higher"), [("under", 0.0), ("flush", 1.1875), ("top", 1.1875 + 0.625)])
def test_each_mount_starts_from_its_own_rim(mount, hand_higher):
    """Flush: at the counter's top; top: a rim thickness above it."""
    assert route({"sink.mount": mount}).stub_max_in == pytest.approx(19.346666667 + hand_higher, abs=1e-6)


def test_tailpiece_reaches_from_strainer_to_trap():
    """Drop from the outlet to the weir less 2 in of strainer body."""
    hand_weir = 15 - BORE / 2 + 0.25 * 16 / 12
    assert route().tailpiece_in == pytest.approx(24.875 - hand_weir - 2)


def test_a_long_tailpiece_takes_two_tubes_and_a_coupling():
    """Tubes are 12 in; a stub at 8 in leaves 15.3 in below the strainer."""
    name, count, length = pipes({"plumbing.stub_height": "8 in"})["tailpiece"]
    assert (name, count) == ("tube-slip-joint", 2)
    assert length == pytest.approx((24.875 - (8 - BORE / 2 + 1 / 3) - 2) / 2)
    assert fittings({"plumbing.stub_height": "8 in"})["coupling-slip-joint"] == 1
    assert "coupling-slip-joint" not in fittings()


def test_the_tailpiece_of_a_shallower_bowl_is_longer():
    """9 and 6 in deep: 3 in longer; with a disposer below the deeper one only the other has one."""
    bowls = [{"width": "14 in", "front_to_back": "15 1/2 in", "depth": depth} for depth in ("9 in", "6 in")]
    hand_deep = 24.875 - (15 - BORE / 2 + 0.25 * 16 / 12) - 2

    def tailpieces(**changes):
        return [(pipe.length_in, pipe.count) for pipe in route({"sink.bowls": bowls, **changes}).pipes if pipe.name == "tailpiece"]

    assert tailpieces() == [(pytest.approx(hand_deep), 1), (pytest.approx(hand_deep + 3), 1)]
    assert tailpieces(**{"plumbing.disposer": "new"}) == [(pytest.approx(hand_deep + 3), 1)]
    assert route({"sink.bowls": bowls}).slip_joints == 4


def test_a_disposer_has_a_tube_only_where_the_trap_lies_lower_than_it_needs():
    """Drop 10.35 in of which the disposer takes 9 1/2: less than an inch is left, then more."""
    assert "disposer tube" not in pipes({"plumbing.disposer": "new"})
    assert pipes({"plumbing.disposer": "new", "plumbing.stub_height": "14 in"})["disposer tube"][2] == pytest.approx(11.346666667 - 9.5)
    assert "tailpiece" not in pipes({"plumbing.disposer": "new"})


@pytest.mark.parametrize(("offset", "turns"), [("0 in", False), ("1 in", False), ("1 1/8 in", True), ("-4 in", True)])
def test_the_arm_turns_beyond_an_inch_to_the_side(offset, turns):
    """Either side of 1 in, and to the left."""
    found = fittings({"plumbing.stub_offset": offset})
    assert ("elbow-pvc-1-1-2" in found) is turns
    assert ("arm to the elbow" in pipes({"plumbing.stub_offset": offset})) is turns


def test_legs_of_a_turned_arm_are_the_arm_together():
    """16 in along the arm, 4 in of them to the side."""
    found = pipes({"plumbing.stub_offset": "4 in"})
    assert found["arm to the elbow"][2] == 12
    assert found["arm to the stub"][2] == 4


@pytest.mark.parametrize("size", ["1-1/2", "2"])
def test_an_unknown_take_out_is_never_invented(size):
    """The shipped list has none for drain fittings: centre to centre is bought, and the pipe waits for a measure."""
    found = route({"plumbing.drain_size": size})
    assert [pipe.cut_in for pipe in found.pipes if pipe.name == "arm"] == [None]
    assert found.to_measure == ("arm",)


def test_measured_take_outs_give_the_cut():
    """16 in centre to centre less 1 1/4 and 1/8 in."""
    known = {("trap", "1-1/2"): TakeOut("trap", "1-1/2", 1.25, "measured"), ("coupling", "1-1/2"): TakeOut("coupling", "1-1/2", 0.125, "measured")}
    found = route(with_lists=_with_take_outs(known))
    assert [pipe.cut_in for pipe in found.pipes if pipe.name == "arm"] == [pytest.approx(14.625)]
    assert found.to_measure == ()


def test_fittings_that_touch_leave_the_cut_open():
    """Take-outs longer than the arm: no negative pipe."""
    known = {(name, "1-1/2"): TakeOut(name, "1-1/2", 9.0, "measured") for name in ("trap", "coupling")}
    assert route(with_lists=_with_take_outs(known)).to_measure == ("arm",)


def _with_take_outs(known) -> Lists:
    shipped = lists()
    fields = {name: getattr(shipped, name) for name in Lists.__slots__}
    return Lists(**{**fields, "take_outs": MappingProxyType(known)})


def test_fittings_and_sockets_of_a_cemented_drain():
    """Trap with two sockets, its adapter's spigot in one of them, a coupling at the stub with two."""
    assert fittings() == {"trap-pvc": 1, "trap-adapter-pvc": 1, "coupling-pvc-1-1-2": 1, "branch-tailpiece": 1}
    assert route().cemented_joints == 4
    assert route({"plumbing.stub_offset": "4 in"}).cemented_joints == 6
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
    near = {**SLIP, "plumbing.drain_old": old, "plumbing.arm_to_wall": "12 in"}
    found = route(near)
    assert [item for item in fittings(near) if item.startswith("trap-adapter")] == ([adapter] if adapter else [])
    assert (found.cement, found.cemented_joints) == (cement, joints)


@pytest.mark.parametrize(
    ("changes", "hand_joints"),
    [
        ({}, 2),  # tailpiece into the trap, branch tailpiece
        ({"plumbing.dishwasher": False}, 1),
        (SECOND_BOWL, 4),
        (SLIP, 2 + 2),  # the trap's seal and outlet; 16 in of arm are cemented
        ({**SLIP, "plumbing.arm_to_wall": "12 in"}, 2 + 2),
        ({**SLIP, "plumbing.stub_offset": "4 in"}, 2 + 2),  # the elbow is cemented
        ({"plumbing.disposer": "new"}, 1),
    ],
)
def test_slip_joints(changes, hand_joints):
    """One washer each."""
    assert route(changes).slip_joints == hand_joints


@pytest.mark.parametrize(
    ("changes", "hand_arm"),
    [
        ({"plumbing.arm_to_wall": "12 in"}, [("arm", "tube-slip-joint", 12)]),
        ({"plumbing.arm_to_wall": "12 1/16 in"}, [("arm", "pipe-pvc-1-1-2", 12.0625)]),
        ({"plumbing.arm_to_wall": "12 1/16 in", "plumbing.drain_old": "abs"}, [("arm", "pipe-abs-1-1-2", 12.0625)]),
        ({"plumbing.arm_to_wall": "12 1/16 in", "plumbing.drain_old": "copper"}, [("arm", "pipe-pvc-1-1-2", 12.0625)]),
        (
            {"plumbing.arm_to_wall": "12 in", "plumbing.stub_offset": "4 in"},
            [("arm to the elbow", "pipe-pvc-1-1-2", 8), ("arm to the stub", "pipe-pvc-1-1-2", 4)],
        ),
    ],
)
def test_an_arm_beyond_the_slip_joint_traps_reach_is_cemented(changes, hand_arm):
    """Either side of 12 in, and where it turns: the adapter on the cemented pipe is the last slip joint."""
    found = route({**SLIP, **changes})
    assert [(pipe.name, pipe.item, pipe.length_in) for pipe in found.pipes if pipe.name.startswith("arm")] == hand_arm
    assert not {"elbow-slip-joint", "coupling-slip-joint"} & {fitting.item for fitting in found.fittings}


def test_joints_of_a_slip_joint_trap_on_a_cemented_arm():
    """PVC: adapter 1, coupling 2, with an elbow 2 more; copper: a shielded coupling in the coupling's place; 2 in: a reducer's 2 more."""
    assert route(SLIP).cemented_joints == 3
    assert route({**SLIP, "plumbing.stub_offset": "4 in"}).cemented_joints == 5
    copper = route({**SLIP, "plumbing.drain_old": "copper"})
    assert (copper.transition, copper.cement, copper.cemented_joints) == ("shielded-coupling", "pvc", 1)
    assert route({**SLIP, "plumbing.drain_size": "2"}).cemented_joints == 5


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
    assert {pipe.name: pipe.centres_in for pipe in found.riser.pipes} == pytest.approx({"riser above the tee": 24 - 18.846666667 + 4, "stub": 4.25})
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


def test_no_arm_is_longer_than_a_stick():
    """72 in along and 60 in to the side stay below 10 ft; every piece can be cut from what is sold."""
    for leg in route({"plumbing.arm_to_wall": "72 in", "plumbing.stub_offset": "36 in", "sink.outlet_offset": "0 in"}).pipes:
        assert leg.length_in <= 120


@given(st.floats(min_value=4, max_value=14), st.floats(min_value=4, max_value=14))
def test_a_deeper_bowl_never_raises_the_needed_stub(one, other):
    """Nor lowers the drop that the stub must come down."""
    shallow, deep = (sheet_of({"sink.bowls[1].depth": f"{depth:.4f} in", "plumbing.stub_height": "20 in"}).design.drain for depth in sorted((one, other)))
    assert deep.stub_max_in <= shallow.stub_max_in
    assert (deep.lower_by_in or 0) >= (shallow.lower_by_in or 0)


@given(st.floats(min_value=2, max_value=72), st.floats(min_value=-36, max_value=36))
def test_legs_never_lose_length(arm, side):
    """Whatever turns: the pipes of the arm are at least as long together as the arm, and no piece is nothing."""
    found = [pipe for pipe in route({"plumbing.arm_to_wall": f"{arm:.4f} in", "plumbing.stub_offset": f"{side:.4f} in"}).pipes if pipe.name.startswith("arm")]
    assert math.fsum(pipe.count * pipe.length_in for pipe in found) >= arm - 1e-3
    assert all(pipe.length_in > 0 for pipe in found)
