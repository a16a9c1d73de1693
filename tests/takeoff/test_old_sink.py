"""Taking out the old sink."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_quantities

from kit.takeoff.tear_out import count_old_sink

JOINTS, LIFT, SEALANT, TILE, CLIPS, DISPOSER = (
    f"remove-sink/{part}"
    for part in (
        "disconnect-joint/disconnect",
        "old-sink-pound/lift out",
        "old-sealant-foot/cut the sealant",
        "tiled-edge-foot/break the tile edge",
        "old-clip/clips",
        "old-disposer/take off",
    )
)
STAYS = {"supplied_by": "stays", "installed_by": "nobody"}


def test_plain_job_by_hand():
    """33 x 22 in on the counter: 110 in of joint, a clip every 10 in; two hoses, trap, dishwasher hose; 28 lb."""
    hand_around = 2 * (33 + 22)
    assert step_quantities(count_old_sink) == pytest.approx({JOINTS: 4, LIFT: 28, SEALANT: hand_around / 12, CLIPS: 11})


@pytest.mark.parametrize(
    ("kind", "hand_lines"),
    [
        ("top", {SEALANT: 110 / 12, CLIPS: 11}),
        ("under", {SEALANT: 110 / 12, CLIPS: 11}),
        ("tiled-in", {TILE: 110 / 12}),
        ("apron", {SEALANT: (33 + 2 * 22) / 12}),
        ("none", None),
    ],
)
def test_joint_by_kind(kind, hand_lines):
    """Sealant is cut, tile broken; an apron has no joint in front and no clips."""
    found = step_quantities(count_old_sink, {"old.sink_kind": kind})
    assert found == ({} if hand_lines is None else pytest.approx({JOINTS: 4, LIFT: 28, **hand_lines}))


@pytest.mark.parametrize(
    ("changes", "hand_joints"),
    [
        ({"plumbing.dishwasher": False}, 3),
        ({"plumbing.filter": True}, 5),
        ({"plumbing.hot_tap": True}, 5),
        ({"plumbing.dishwasher": False, "plumbing.filter": True, "plumbing.hot_tap": True}, 5),
    ],
)
def test_joints_by_what_lives_below(changes, hand_joints):
    """Each tube and hose is undone."""
    assert step_quantities(count_old_sink, changes)[JOINTS] == hand_joints


def test_old_disposer_comes_off_first():
    """Only where there is one."""
    assert step_quantities(count_old_sink, {"old.disposer": True})[DISPOSER] == 1
    assert DISPOSER not in step_quantities(count_old_sink)


@pytest.mark.parametrize(
    ("changes", "comes_out"),
    [
        ({"scope.sink": STAYS}, True),  # the counter below it goes
        ({"scope.sink": STAYS, "scope.counter": STAYS, "counter.made_by": "stays"}, False),
        ({"scope.counter": STAYS, "counter.made_by": "stays"}, True),
        ({"scope.sink": {"supplied_by": "us", "installed_by": "customer"}, "scope.counter": STAYS, "counter.made_by": "stays"}, False),
    ],
)
def test_out_for_a_new_sink_or_with_the_counter(changes, comes_out):
    """A sink that stays in a counter that stays is left alone; who fits his own sink takes out the old one."""
    assert bool(step_quantities(count_old_sink, changes)) == comes_out


@given(width=st.integers(10, 59), depth=st.integers(10, 29), wider=st.integers(0, 1), deeper=st.integers(0, 1))
def test_more_perimeter_is_never_less_sealant_or_fewer_clips(width, depth, wider, deeper):
    """A larger old sink never has less joint to cut; its clips are the joint over 10 in, rounded up."""
    small = step_quantities(count_old_sink, {"old.sink_width": f"{width} in", "old.sink_depth": f"{depth} in"})
    large = step_quantities(count_old_sink, {"old.sink_width": f"{width + wider} in", "old.sink_depth": f"{depth + deeper} in"})
    assert large[SEALANT] >= small[SEALANT]
    assert large[CLIPS] >= small[CLIPS] == math.ceil(2 * (width + depth) / 10)
