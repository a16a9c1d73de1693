"""Sealant by seam and bead."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_quantities

from kit.sources import value
from kit.takeoff.sealant import bead_area, count_sealant, joint_depth

OUNCE = 231 / 128  # cu in
RIM, TO_COUNTER, WALL, SEAMS = (f"seal/sealant/{name}" for name in ("rim", "backsplash to countertop", "countertop to wall", "seams"))
TOOL = "seal/seal-foot/mask, lay and tool"
TO_WALL = "seal/paintable-caulk/backsplash to wall"  # the wall is painted over it
OWN = {
    "counter.made_by": "us",
    "counter.item": "laminate-own",
    "counter.material": "laminate",
    "scope.counter": {"supplied_by": "us", "installed_by": "us"},
    "scope.splash": {"supplied_by": "us", "installed_by": "us"},
}
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}


def volume(changes=None):
    """All sealant of the job [fl oz]."""
    return sum(quantity for name, quantity in step_quantities(count_sealant, changes).items() if "/sealant/" in name)


def runs(*lengths):
    """Runs that meet at corners."""
    last = len(lengths) - 1
    return [
        {"length": f"{length} in", "depth": "24 in", "left_end": "corner" if number else "open", "right_end": "open" if number == last else "corner"}
        for number, length in enumerate(lengths)
    ]


def test_joints_of_an_apron_sink_under_stone_by_hand():
    """Rim: 29 1/2 in behind and twice 15 3/8 in, a 1/4 in rope; splash 96 + 24 in at its foot and at its head, 1/4 in fillets."""
    rim, splash = 29.5 + 2 * 15.375, 96 + 24
    length = rim + 2 * splash
    assert step_quantities(count_sealant) == pytest.approx(
        {
            RIM: rim * math.pi / 64 / OUNCE,
            TO_COUNTER: splash * 0.25**2 / 2 / OUNCE,
            TO_WALL: splash * 0.25**2 / 2 / OUNCE,
            "seal/masking-tape/beads": 2 * length / 12,
            "seal/seal-foot/mask, lay and tool": length / 12,
        }
    )


def test_a_cartridge_goes_24_feet_in_a_filled_joint():
    """10.1 fl oz fill 24.3 ft of 1/4 x 1/4 in (cartridge-yields: its 18.3 cu in); a rabbet 1/8 in around a 33 x 22 in rim takes that share."""
    hand = 2 * (33.25 + 22.25) / 12 / 24.3 * 10.1
    found = step_quantities(count_sealant, {**STANDARD, "sink.mount": "flush", "sink.body_width": "33 in", "sink.depth": "22 in"})
    assert found[RIM] == pytest.approx(hand, rel=0.005)


@pytest.mark.parametrize(("width_in", "printed_ft", "tolerance"), [(0.25, 25, 0.5), (0.375, 11, 0.5), (0.5, 6.2, 0.05)])
def test_a_long_cartridge_goes_as_far_as_the_published_list_says(width_in, printed_ft, tolerance):
    """cartridge-yields, the list for 10.3 fl oz: feet of a square joint; filled joints of these widths are square (petrie-2000)."""
    area = bead_area("rectangle", width_in, joint_depth(width_in))
    assert value("sealant", "cartridge/long") * OUNCE / area / 12 == pytest.approx(printed_ft, abs=tolerance)


def test_a_filled_joint_is_never_shallower_than_it_may_be():
    """A 1/8 in flush joint is 1/4 in deep."""
    found = step_quantities(count_sealant, {**STANDARD, "sink.mount": "flush", "counter.bead": "1/8 in"})
    assert found[RIM] == pytest.approx(2 * (32.75 + 18.25) * 0.125 * 0.25 / OUNCE)


def test_without_a_splash_the_counter_meets_the_wall():
    """Back and one end: 96 + 24 in."""
    found = step_quantities(count_sealant, {"counter.splash": "none"})
    assert found[WALL] == pytest.approx(120 * 0.25**2 / 2 / OUNCE)
    assert TO_COUNTER not in found


def test_a_splash_of_others_leaves_the_counter_joint_to_us():
    """Tile by others, or a splash that is no part of the job."""
    for changes in ({"counter.splash": "tile-by-others"}, {"scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}}):
        found = step_quantities(count_sealant, changes)
        assert WALL in found
        assert TO_WALL not in found


def test_seams_only_of_our_own_counter():
    """A fabricator fills his."""
    two = {"counter.runs": runs(96, 50)}
    assert SEAMS not in step_quantities(count_sealant, two)
    assert step_quantities(count_sealant, {**OWN, **two})[SEAMS] == pytest.approx(24 * 0.25**2 / 2 / OUNCE)


def test_a_counter_that_stays_has_only_its_rim():
    """Nothing else is touched."""
    stays = {"counter.made_by": "stays", "scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.splash": "none"}
    assert {name for name in step_quantities(count_sealant, {**STANDARD, "sink.mount": "top", **stays}) if "/sealant/" in name} == {RIM}


def test_nothing_touched_nothing_sealed():
    """Sink and counter both stay."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    assert step_quantities(count_sealant, {"scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays", "counter.splash": "none"}) == {}


@pytest.mark.parametrize("who", ["fabricator", "customer"])
def test_whoever_sets_the_sink_beds_its_rim(who):
    """What the customer or the shop sets is no bead of ours."""
    assert RIM not in step_quantities(count_sealant, {"scope.sink": {"supplied_by": "us", "installed_by": who}})


def test_a_trade_beds_the_rim_of_the_sink_that_it_sets():
    """As much sealant as ours, bought by us; its feet are hired at our 0.05 h, and our own beads are the others."""
    ours, theirs = (step_quantities(count_sealant, {"scope.sink": {"supplied_by": "us", "installed_by": who}}) for who in ("us", "trade"))
    assert theirs[RIM] == ours[RIM]
    rim_ft = ours[TOOL] - theirs[TOOL]
    assert rim_ft > 4
    assert theirs["seal/hire-plumber/bed the rim"] == pytest.approx(rim_ft * 0.05)


def test_a_sink_that_stays_is_bedded_again_under_a_new_counter():
    """By us, who took it out."""
    stays = {"scope.sink": {"supplied_by": "stays", "installed_by": "nobody"}}
    assert step_quantities(count_sealant, stays) == step_quantities(count_sealant)


@given(st.floats(min_value=0.125, max_value=0.5), st.floats(min_value=0.125, max_value=0.5), st.sampled_from(["top", "flush", "under"]))
def test_a_thicker_bead_never_takes_less(one, other, mount):
    """By its area."""
    thin, thick = (volume({**STANDARD, "sink.mount": mount, "counter.bead": f"{bead:.5f} in"}) for bead in sorted((one, other)))
    assert thick >= thin


@given(st.integers(min_value=1, max_value=3))
def test_more_seams_never_take_less_sealant(corners):
    """180 in of our own counter with more and more corners, their splash the same in all."""
    few, many = (volume({**OWN, "counter.runs": runs(*([180 / parts] * parts))}) for parts in (corners, corners + 1))
    assert many >= few
