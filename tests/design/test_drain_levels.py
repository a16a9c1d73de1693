"""Levels of the drain and the limits of the code families.

The geometry is our own; its two worked cases are hand work. Code limits are model-code values read in part, second hand
or from memory, as each row of the table says: settings, to be confirmed with the local authority.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.design.drain_levels import (
    FAMILIES,
    DrainMeasures,
    arm_limits,
    code_settings,
    drain_levels,
    drain_remedies,
    pair_bowls,
)
from kit.errors import JobError
from kit.units import format_length

UPC, IPC, IRC = (code_settings(family) for family in ("upc", "ipc", "irc"))

# an invented kitchen: 36 in counter, 7 in basin set on top, strainer, 18 in to the wall, stub at 18 in
OLD = DrainMeasures(
    mount="top",
    counter_top_in=36.0,
    counter_thickness_in=1.5,
    bowl_depth_in=7.0,
    bottom_thickness_in=0.0,
    need_in=6.0,
    bore_in=1.5,
    size_in=1.5,
    run_to_wall_in=18.0,
    run_to_vent_in=24.0,
    stub_in=18.0,
    cabinet_floor_in=5.0,
    trap_seal_in=3.0,
    trap_wall_in=0.06,
    slope_in_per_ft=0.25,
)
NEW = replace(OLD, mount="under", counter_top_in=36.0, bowl_depth_in=9.0, bottom_thickness_in=0.06)


def test_old_basin_set_on_top():
    """36 - 7 = 29; highest stub 29 - 6 + .75 - .375 = 23.375; the stub at 18 stays, and the drop is 11.375 (hand)."""
    found = drain_levels(OLD, IRC)
    assert (found.rim_in, found.outlet_in, found.stub_highest_in) == (36.0, 29.0, 23.375)
    assert (found.weir_built_in, found.drop_built_in, found.lower_by_in) == (17.625, 11.375, 0.0)
    assert drain_remedies(OLD, found, spare_tail_in=2.0) == ()
    assert found.working == ("rim 36; outlet 36 - 7 - 0 = 29; highest stub 29 - 6 + 1 1/2 / 2 - 1/4 x 18 / 12 = 23 3/8; stub at 18, stays there")


def test_fall_of_a_long_run():
    """9 1/2 ft at 1/4 in a foot fall 2 3/8 in (modern-plumbing, p. 325)."""
    printed_fall_in = 2 + 3 / 8
    assert drain_levels(replace(OLD, run_to_wall_in=9.5 * 12), IRC).arm_fall_to_wall_in == printed_fall_in


def test_deeper_bowl_under_the_counter():
    """34.5 - 9.06 = 25.44; highest stub 19.815 (hand)."""
    found = drain_levels(NEW, IRC)
    assert (found.rim_in, found.outlet_in) == pytest.approx((34.5, 25.44))
    assert (found.stub_highest_in, found.lower_by_in) == pytest.approx((19.815, 0.0))


def test_a_disposer_lowers_the_stub():
    """9.5 in from bowl to weir needs the stub at 16.315: 1.685 down (hand); what helps says 1 11/16, the tape's next mark."""
    low = replace(NEW, need_in=9.5)
    found = drain_levels(low, IRC)
    assert (found.stub_highest_in, found.lower_by_in) == pytest.approx((16.315, 1.685))
    assert found.drop_built_in == pytest.approx(9.5)
    assert found.weir_built_in == pytest.approx(17.625 - 1.685)
    hand_mark = format_length(1.6875)
    always = (f"a bowl {hand_mark} shallower", f"the wall opened and the stub {hand_mark} lower")
    assert drain_remedies(low, found, spare_tail_in=None) == (f"a disposer {hand_mark} shorter", *always)
    assert drain_remedies(low, found, spare_tail_in=None, drains_without_disposer=True)[0] == "no disposer"
    saves = f"a low-profile outlet saving {hand_mark}"
    assert drain_remedies(low, found, spare_tail_in=1.6875) == (f"a tailpiece {hand_mark} shorter", saves, *always)
    assert drain_remedies(low, found, spare_tail_in=1.625) == (saves, *always)  # not enough of it is there to cut


def test_what_helps_helps_by_itself():
    """Each way alone brings the highest stub up to the one that is there; a shorter arm is told only where it does: 1/8 in at 1/4 in a foot are 6 in."""
    short = replace(NEW, need_in=9.5, stub_in=16.4375, run_to_wall_in=24.0)  # highest 16.19: 0.2475 too high; next mark 1/4
    found = drain_levels(short, IRC)
    assert drain_remedies(short, found, spare_tail_in=1.0)[2] == "an arm to the wall 11 15/16 in shorter"  # 12 x .2475 / .25 = 11.88
    for change in ({"need_in": 9.25}, {"bowl_depth_in": 8.75}, {"run_to_wall_in": 24.0 - 11.9375}, {"stub_in": 16.1875}):
        assert drain_levels(replace(short, **change), IRC).over_in == 0.0
    near = replace(short, run_to_wall_in=14.0, stub_in=17.0)  # 0.60 too high: 29 in of arm
    assert [way for way in drain_remedies(near, drain_levels(near, IRC), spare_tail_in=1.0) if "arm" in way] == []


def test_the_stub_exactly_at_its_highest():
    """At the limit nothing has to come down; a sixteenth higher, a sixteenth does."""
    at_limit = drain_levels(replace(OLD, stub_in=23.375), IRC)
    assert at_limit.lower_by_in == 0.0
    above = drain_levels(replace(OLD, stub_in=23.4375), IRC)
    assert above.lower_by_in == 0.0625


def test_a_lowered_stub_keeps_a_spare():
    """A stub at its highest stays; a sixteenth above, it comes down to 1/2 in below the highest, and what hangs on it follows (hand)."""
    stays = drain_levels(replace(OLD, stub_in=23.375, spare_in=0.5), IRC)
    assert (stays.lower_by_in, stays.over_in, stays.stub_built_in) == (0.0, 0.0, 23.375)
    lowered = drain_levels(replace(OLD, stub_in=23.4375, spare_in=0.5), IRC)
    assert (lowered.over_in, lowered.lower_by_in, lowered.stub_built_in) == (0.0625, 0.5625, 22.875)
    assert (lowered.drop_built_in, lowered.weir_built_in) == (6.5, 22.5)
    assert lowered.working.endswith("stub at 23 7/16, down by 9/16 to 1/2 below the highest")
    remedies = drain_remedies(replace(OLD, stub_in=23.4375, spare_in=0.5), lowered, spare_tail_in=2.0)
    assert remedies[0] == "a tailpiece 9/16 in shorter"
    assert remedies[-1] == "the wall opened and the stub 9/16 in lower"


@pytest.mark.parametrize(("stub", "wanted", "hand_built"), [(24.0, 22.0, 22.0), (18.0, 17.0, 17.0), (18.0, 18.5, 18.0), (24.0, 23.5, 23.5)])
def test_a_chosen_height_goes_before_the_spare(stub, wanted, hand_built):
    """Also where the stub drains as it is (highest 23.375); never above today's; what doesn't drain is shown as chosen, and a finding stops it."""
    found = drain_levels(replace(OLD, stub_in=stub, wanted_in=wanted, spare_in=0.5), IRC)
    assert (found.stub_built_in, found.lower_by_in) == (hand_built, stub - hand_built)


def test_mounts_set_the_rim():
    """Top and flush count from the counter top, under from its underside; a proud rim stands above."""
    assert drain_levels(replace(OLD, mount="flush"), IRC).rim_in == 36.0
    assert drain_levels(replace(OLD, mount="under"), IRC).rim_in == 34.5
    assert drain_levels(replace(OLD, rim_above_in=0.5), IRC).rim_in == 36.5
    assert "36 + 1/2 = 36 1/2" in drain_levels(replace(OLD, rim_above_in=0.5), IRC).working
    assert "36 - 1 1/2 = 34 1/2" in drain_levels(NEW, IRC).working


def test_a_low_stub_is_a_long_drop():
    """Outlet 29, weir 3/8 in below a stub at 5 3/8: 24 in (hand); a sixteenth lower, a sixteenth more."""
    assert drain_levels(replace(OLD, stub_in=5.375), IRC).drop_built_in == 24.0
    assert drain_levels(replace(OLD, stub_in=5.3125), IRC).drop_built_in == 24.0625


def test_unknown_stub_and_vent_stay_unknown():
    """Without the stub's height the highest one is still worked; what depends on it is None, and the floor is checked for the stub as needed."""
    found = drain_levels(replace(OLD, stub_in=None, run_to_vent_in=None), IRC)
    assert found.stub_highest_in == 23.375
    assert found.lower_by_in is None
    assert found.arm_fall_in is None
    assert found.drop_built_in == 6.0
    assert found.working.endswith("stub not measured")
    assert drain_remedies(replace(OLD, stub_in=None), found, spare_tail_in=2.0) == ()


def test_the_trap_must_clear_the_cabinet_floor():
    """Bottom of the trap: weir - seal - bore - wall (hand: 17.625 - 3 - 1.5 - .06 = 13.065), for the stub as it will be."""
    found = drain_levels(OLD, IRC)
    assert found.trap_bottom_in == pytest.approx(13.065)
    assert found.floor_spare_in == pytest.approx(8.065)
    assert drain_levels(replace(OLD, cabinet_floor_in=13.065), IRC).floor_spare_in == pytest.approx(0.0)
    lowered = drain_levels(replace(NEW, need_in=9.5), IRC)
    assert lowered.trap_bottom_in == pytest.approx(lowered.weir_built_in - 4.56)


def test_a_continuous_waste_needs_its_fall_too():
    """16 in between two bowls at 1/4 in/ft adds 1/3 in to the need (hand)."""
    found = drain_levels(replace(OLD, waste_run_in=16.0), IRC)
    assert found.need_in == pytest.approx(6.0 + 1.0 / 3.0)
    assert found.stub_highest_in == pytest.approx(23.375 - 1.0 / 3.0)
    assert "continuous waste 16 in at 1/4 in/ft included" in found.working


# printed: weir to vent [in] by nominal size; the uniform code's flat table as Minnesota Rules 4715.2620 has it
FLAT_TABLE = {1.25: 30, 1.5: 42, 2.0: 60, 3.0: 72}
# remembered: the slope-based table (2 in read second hand); diameter / slope gives all of them at 1/4 in a foot
SLOPE_TABLE = {1.25: 60, 1.5: 72, 2.0: 96, 3.0: 144}


@pytest.mark.parametrize(("size", "printed_longest"), FLAT_TABLE.items())
def test_flat_arm_table(size, printed_longest):
    """Longest arm of the flat table, and the shortest of two diameters."""
    settings = code_settings("upc")
    assert dict(settings.arm_longest_in)[size] == printed_longest
    assert arm_limits(settings, size, 0.25) == (2 * size, printed_longest)


@pytest.mark.parametrize(("size", "remembered_longest"), SLOPE_TABLE.items())
@pytest.mark.parametrize("family", ["ipc", "irc"])
def test_slope_arm_table(family, size, remembered_longest):
    """Longest arm of the slope-based table: the fall over it is one diameter."""
    settings = code_settings(family)
    assert dict(settings.arm_longest_in)[size] == remembered_longest
    assert arm_limits(settings, size, 0.25) == (2 * size, remembered_longest)
    assert size / 0.25 * 12 == remembered_longest


def test_a_steeper_arm_is_a_shorter_one():
    """At 1/2 in/ft the fall of one diameter is used up in half the length (hand)."""
    assert arm_limits(IRC, 1.5, 0.5) == (3.0, 36.0)
    assert arm_limits(UPC, 1.5, 0.5) == (3.0, 36.0)
    assert arm_limits(UPC, 1.5, 0.25) == (3.0, 42.0)


def test_arm_limits_stand_in_the_levels():
    """Two diameters to 42 in for 1 1/2 in under the flat table."""
    found = drain_levels(OLD, UPC)
    assert (found.arm_shortest_in, found.arm_longest_in) == (3.0, 42.0)


@pytest.mark.parametrize(("run", "slope", "hand_fall"), [(24.0, 0.25, 0.5), (72.0, 0.25, 1.5), (24.0, 0.125, 0.25)])
def test_fall_of_the_arm(run, slope, hand_fall):
    """Run in feet times the slope."""
    assert drain_levels(replace(OLD, run_to_vent_in=run, slope_in_per_ft=slope), IRC).arm_fall_in == hand_fall


@pytest.mark.parametrize("family", FAMILIES)
def test_other_settings(family):
    """Drop, seal, outlets and arm of each family, as the codes and pages read have them."""
    settings = code_settings(family)
    assert settings.family == family
    assert (settings.drop_most_in, settings.seal_most_in) == (24.0, 4.0)
    assert settings.outlets_apart_most_in == 30.0
    assert settings.slope_least_in_per_ft == 0.25
    assert (settings.arm_least_diameters, settings.fall_most_diameters) == (2.0, 1.0)
    assert settings.bowl_depth_spread_most_in == (0.0 if family == "upc" else 6.0)


def test_settings_may_be_replaced():
    """What the local authority says goes in the place of a preset."""
    local = replace(IRC, arm_longest_in={1.5: 60.0})
    assert arm_limits(local, 1.5, 0.25) == (3.0, 60.0)
    assert drain_levels(OLD, local).arm_longest_in == 60.0


@pytest.mark.parametrize(
    ("settings", "apart", "difference", "may_share"),
    [(IPC, 30.0, 6.0, True), (IPC, 30.1, 6.0, False), (IPC, 30.0, 6.1, False), (UPC, 30.0, 0.0, True), (UPC, 30.0, 0.1, True), (UPC, 30.1, 0.0, False)],
)
def test_two_bowls_on_one_trap(settings, apart, difference, may_share):
    """Outlets at most 30 in apart; more than 6 in of depth difference stops in one family and is a question in the other."""
    assert pair_bowls(settings, apart, difference).may_share is may_share


def test_reasons_against_one_trap():
    """A reason stops, a rule that speaks of something else is a question; both say whom to ask."""
    found = pair_bowls(UPC, 31.0, 2.0)
    assert found.reasons == ("the outlets are 31 in apart, more than 30 in (confirm with the local authority).",)
    (question,) = found.questions
    assert question.startswith(
        "one bowl is 2 in deeper than the other; allowed is none: the same depth is needed, but the rule speaks of separate single sinks"
    )
    assert question.endswith("(from memory): confirm with the local authority.")
    assert pair_bowls(UPC, 20.0, 0.0).questions == ()
    assert pair_bowls(replace(UPC, bowl_depth_spread_stops=True), 20.0, 2.0).may_share is False
    assert "allowed is 6 in" in pair_bowls(IRC, 20.0, 7.0).reasons[0]
    assert pair_bowls(IRC, 20.0, 0.0).reasons == ()


def test_wrong_measures_are_refused():
    """Every wrong measure is named, words too."""
    with pytest.raises(JobError, match=r"(?s)bowl_depth_in: 0 was given.*bore_in: -1 was given.*stub_in: -2 was given.*trap_wall_in: nan was given"):
        drain_levels(replace(OLD, bowl_depth_in=0.0, bore_in=-1.0, stub_in=-2.0, trap_wall_in=math.nan), IRC)
    with pytest.raises(JobError, match=r'mount: "sunk" was given; give one of: top, flush, under\.'):
        drain_levels(replace(OLD, mount="sunk"), IRC)
    with pytest.raises(JobError, match=r"rim_above_in: 0\.5 was given; a rim under the countertop can't stand above its seat"):
        drain_levels(replace(NEW, rim_above_in=0.5), IRC)
    with pytest.raises(JobError, match=r'code_family: "local" is not a code family\. Give one of: irc, ipc, upc\.'):
        code_settings("local")
    with pytest.raises(JobError, match=r"size_in: 1 3/4 in was given; the upc settings know arms of 1\.25, 1\.5, 2, 3 in\."):
        arm_limits(UPC, 1.75, 0.25)
    with pytest.raises(JobError, match="slope_in_per_ft: 0 was given"):
        arm_limits(UPC, 1.5, 0.0)
    with pytest.raises(JobError, match=r"(?s)outlets_apart_in: 0 was given.*depth_difference_in: -1 was given"):
        pair_bowls(UPC, 0.0, -1.0)


depths = st.floats(4.0, 14.0)


@given(depths, depths)
def test_a_deeper_bowl_never_raises_the_stub(one, other):
    """The needed stub falls with depth, and what must come down grows."""
    shallow, deep = (drain_levels(replace(OLD, bowl_depth_in=depth, spare_in=0.5), IRC) for depth in sorted((one, other)))
    assert deep.stub_highest_in <= shallow.stub_highest_in
    assert deep.stub_built_in <= shallow.stub_built_in
    assert deep.lower_by_in >= shallow.lower_by_in


@given(st.floats(2.0, 14.0), st.floats(2.0, 14.0), st.floats(1.0, 72.0), st.floats(1.0, 72.0))
def test_more_need_or_a_longer_run_never_raises_the_stub(need, more, run, longer):
    """Need and run both pull the stub down."""
    (need, more), (run, longer) = sorted((need, more)), sorted((run, longer))
    easy = drain_levels(replace(OLD, need_in=need, run_to_wall_in=run), IRC)
    hard = drain_levels(replace(OLD, need_in=more, run_to_wall_in=longer), IRC)
    assert hard.stub_highest_in <= easy.stub_highest_in


@given(depths, st.floats(5.0, 30.0), st.floats(2.0, 14.0), st.sampled_from(["top", "flush", "under"]))
def test_once_lowered_it_drains(depth, stub, need, mount):
    """With the stub brought down as told, the drop is at least the need."""
    given_now = replace(OLD, bowl_depth_in=depth, stub_in=stub, need_in=need, mount=mount)
    found = drain_levels(given_now, IRC)
    assert found.drop_built_in >= found.need_in - 1e-9
    if stub - found.lower_by_in > 0:
        again = drain_levels(replace(given_now, stub_in=stub - found.lower_by_in), IRC)
        assert again.lower_by_in == pytest.approx(0.0, abs=1e-9)
        assert again.drop_built_in == pytest.approx(found.drop_built_in)
