"""The revised lifting equation against the examples of its manual.

Waters, Putz-Anderson and Garg, DHHS (NIOSH) 94-110: printed factors are rounded to two places, results to one (p. 29),
so both the full and the rounded product are held to print. Inputs and printed results of examples 1 and 3 are from
memory and are reproduced; of example 4 only the load of 26 lb is.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.checks.lifting import (
    Hands,
    OutsideMethod,
    estimate_reach,
    lifting_frequency_factor,
    recommended_weight,
    screen_lift,
)
from kit.errors import JobError

LIMIT_TOLERANCE, INDEX_TOLERANCE = 0.4, 0.15  # lb and index: the manual rounds its factors
PRINTED_EXCEPTIONS = {0.4348: 0.44, 0.4545: 0.46}  # reach 23 and 22 in, as the manual's table prints them

# printed: waters-1994, Table 5, p. 15, by lifts a minute; short, moderate, long; a pair where the hands' height matters
TABLE_5 = {
    0.2: (1.00, 0.95, 0.85),
    0.5: (0.97, 0.92, 0.81),
    1: (0.94, 0.88, 0.75),
    2: (0.91, 0.84, 0.65),
    3: (0.88, 0.79, 0.55),
    4: (0.84, 0.72, 0.45),
    5: (0.80, 0.60, 0.35),
    6: (0.75, 0.50, 0.27),
    7: (0.70, 0.42, 0.22),
    8: (0.60, 0.35, 0.18),
    9: (0.52, 0.30, (0.00, 0.15)),
    10: (0.45, 0.26, (0.00, 0.13)),
    11: (0.41, (0.00, 0.23), 0.00),
    12: (0.37, (0.00, 0.21), 0.00),
    13: ((0.00, 0.34), 0.00, 0.00),
    14: ((0.00, 0.31), 0.00, 0.00),
    15: ((0.00, 0.28), 0.00, 0.00),
    16: (0.00, 0.00, 0.00),
}


def rounded_weight(end):
    """The manual's way: factors to two places."""
    factors = (end.reach, end.height, end.travel, end.twist, end.frequency, end.grip)
    return 51 * math.prod(PRINTED_EXCEPTIONS.get(round(factor, 4), math.floor(factor * 100 + 0.5) / 100) for factor in factors)


def hold(end, load, manual_weight, manual_index):
    assert end.weight_lb == pytest.approx(manual_weight, abs=LIMIT_TOLERANCE)
    assert end.index == pytest.approx(manual_index, abs=INDEX_TOLERANCE)
    assert rounded_weight(end) == pytest.approx(manual_weight, abs=0.06)
    assert load / rounded_weight(end) == pytest.approx(manual_index, abs=0.06)


def test_example_1_punch_press_stock():
    """Pages 33 to 37: 44 lb, reach 23 in, 15 to 64 in, fair grip. Printed as remembered: 16.3 lb and 2.7, 14.5 lb and 3.0."""
    found = screen_lift(44, Hands(23, 15), Hands(23, 64), coupling="fair")
    remembered_origin, remembered_destination = (16.3, 2.7), (14.5, 3.0)
    hold(found.origin, 44, *remembered_origin)
    hold(found.destination, 44, *remembered_destination)
    assert (found.origin.weight_lb, found.destination.weight_lb) == pytest.approx((16.02, 14.15), abs=0.005)  # hand: full precision
    assert found.governing is found.destination
    assert found.band == "highly stressful"


def test_example_3_bags_into_a_hopper():
    """Pages 41 to 43: 40 lb, reach 18 in, 15 to 36 in, twist 45 deg, fair grip. Printed as remembered: 18.9 lb and 2.1 at the origin."""
    found = screen_lift(40, Hands(18, 15, 45), Hands(10, 36), coupling="fair", placed_with_care=False)
    remembered_origin = (18.9, 2.1)
    hold(found.origin, 40, *remembered_origin)
    assert found.origin.weight_lb == pytest.approx(18.52, abs=0.005)  # hand: full precision
    assert found.destination is None
    assert found.governing is found.origin
    assert found.band == "raised risk"


def test_example_4_package_inspection():
    """Pages 44 to 46: 26 lb, 3 lifts a minute. Printed 34.9 lb and 0.7 at the origin, 15.2 lb and 1.7 at the destination."""
    found = screen_lift(26, Hands(10, 22), Hands(20, 59), coupling="fair", per_min=3)
    printed_origin, printed_destination = (34.9, 0.7), (15.2, 1.7)  # waters-1994, pp. 44-46
    hold(found.origin, 26, *printed_origin)
    hold(found.destination, 26, *printed_destination)
    assert (found.origin.weight_lb, found.destination.weight_lb) == pytest.approx((34.81, 15.25), abs=0.005)  # hand: full precision


def test_apron_sink_from_the_floor():
    """100 lb, poor grip, 10 to 36 in, reach 16 in: 21.7 lb, index 4.6 for one (hand)."""
    found = screen_lift(100, Hands(16, 10), Hands(16, 36), outside=[OutsideMethod.RESTRICTED_SPACE])
    end = found.origin
    assert (end.reach, end.height, end.travel, end.grip) == pytest.approx((0.625, 0.85, 0.8892, 0.9), abs=5e-5)
    assert (end.weight_lb, end.index) == pytest.approx((21.7, 4.6), abs=0.05)
    assert "51 lb x 0.625 x 0.850 x 0.889" in found.working
    assert "100 lb: index 4.6, highly stressful" in found.working


@pytest.mark.parametrize("printed", TABLE_5.items(), ids=lambda item: f"{item[0]} a minute")
def test_frequency_table(printed):
    """Table 5, p. 15, each cell, at hands below 30 in and from 30 in up."""
    per_min, cells = printed
    for duration, cell in zip(("short", "moderate", "long"), cells, strict=True):
        low, high = cell if isinstance(cell, tuple) else (cell, cell)
        assert lifting_frequency_factor(per_min, duration, 29.9) == pytest.approx(low)
        assert lifting_frequency_factor(per_min, duration, 30.0) == pytest.approx(high)


def test_frequency_between_and_outside_the_rows():
    """Straight between rows; below 0.2 counts as 0.2; above the last row nothing may be lifted."""
    assert lifting_frequency_factor(0.0, "short", 20) == lifting_frequency_factor(0.2, "short", 20) == 1.0
    assert lifting_frequency_factor(1.5, "short", 20) == pytest.approx(0.925)  # hand: middle of .94 and .91
    assert lifting_frequency_factor(80 / 15, "short", 20) == pytest.approx(0.80 - 0.05 / 3)  # (10 x 8) / 15 = 5.33, p. 16
    assert lifting_frequency_factor(12.01, "short", 20) == 0.0
    assert lifting_frequency_factor(15.01, "short", 40) == 0.0
    with pytest.raises(JobError, match="per_min: -1 was given"):
        lifting_frequency_factor(-1, "short", 20)


def weight(reach=10.0, height=30.0, travel=10.0, twist=0.0, **rest):
    return recommended_weight(Hands(reach, height, twist), travel, 40.0, coupling="good", **rest).weight_lb


def test_the_best_posture_allows_the_load_constant():
    """51 lb at 10 in reach, 30 in height, 10 in travel, no twist, good grip (pp. 7-12)."""
    assert weight() == 51.0
    assert weight(reach=4.0) == weight(travel=0.0) == weight(travel=9.0) == 51.0  # nearer or shorter counts as 10 in


@pytest.mark.parametrize(
    ("inside", "outside"),
    [
        ({"reach": 25.0}, {"reach": 25.1}),
        ({"height": 70.0}, {"height": 70.1}),
        ({"travel": 70.0}, {"travel": 70.1}),
        ({"twist": 135.0}, {"twist": 135.1}),
    ],
)
def test_beyond_each_limit_nothing_may_be_lifted(inside, outside):
    """Reach 25 in, height and travel 70 in, twist 135 deg: at the limit a weight, just beyond none and no index."""
    assert weight(**inside) > 0.0
    assert weight(**outside) == 0.0
    beyond = {"reach": 10.0, "height": 30.0, "travel": 10.0, "twist": 0.0} | outside
    end = recommended_weight(Hands(beyond["reach"], beyond["height"], beyond["twist"]), beyond["travel"], 40.0)
    assert end.index is None


def test_multipliers_by_hand():
    """Each multiplier from its formula."""
    assert weight(reach=20.0) == pytest.approx(51 * 0.5)
    assert weight(height=0.0) == pytest.approx(51 * 0.775)
    assert weight(height=70.0) == pytest.approx(51 * 0.7)
    assert weight(travel=40.0) == pytest.approx(51 * (0.82 + 1.8 / 40))
    assert weight(twist=90.0) == pytest.approx(51 * 0.712)
    assert weight(frequency=0.5) == pytest.approx(25.5)


@pytest.mark.parametrize(
    ("coupling", "printed_low", "printed_high"),
    [("good", 1.00, 1.00), ("fair", 0.95, 1.00), ("poor", 0.90, 0.90)],
)
def test_coupling_table(coupling, printed_low, printed_high):
    """Table 7: below 30 in, and from 30 in up."""
    assert recommended_weight(Hands(10, 29.9), 10, 40, coupling=coupling).grip == printed_low
    assert recommended_weight(Hands(10, 30), 10, 40, coupling=coupling).grip == printed_high


def test_no_division_by_zero():
    """A weight limit of 0 has no index and says so."""
    found = screen_lift(100, Hands(30, 10), Hands(16, 36))
    assert (found.origin.weight_lb, found.origin.index) == (0.0, None)
    assert found.band == "do not lift this way"
    assert "index none, do not lift this way" in found.working


@pytest.mark.parametrize(
    ("load", "band"),
    [(51.0, "within the limit for one person"), (51.3, "raised risk"), (153.0, "raised risk"), (153.3, "highly stressful")],
)
def test_bands_at_their_limits(load, band):
    """Up to 1 within, up to 3 raised, beyond highly stressful (p. 20)."""
    assert screen_lift(load, Hands(10, 30), Hands(10, 30), coupling="good").band == band


def test_placing_with_care_counts_the_worse_end():
    """A sink is placed with care, so the end that allows less decides."""
    careful = screen_lift(60, Hands(10, 30), Hands(25, 36))
    careless = screen_lift(60, Hands(10, 30), Hands(25, 36), placed_with_care=False)
    assert careful.governing is careful.destination
    assert careful.governing.weight_lb < careless.governing.weight_lb


def test_reasons_that_leave_only_a_screening():
    """Each reason is listed once, in a fixed order, as a sentence."""
    found = screen_lift(60, Hands(10, 30), Hands(12, 36), outside=[OutsideMethod.SEVERAL_PEOPLE, OutsideMethod.CARRIED, OutsideMethod.CARRIED])
    assert found.outside == tuple(sorted({OutsideMethod.CARRIED, OutsideMethod.SEVERAL_PEOPLE}))
    assert OutsideMethod.RESTRICTED_SPACE.value == "in a restricted space, such as over or inside a cabinet"
    assert screen_lift(60, Hands(10, 30), Hands(12, 36)).outside == ()


@pytest.mark.parametrize(
    ("depth", "height", "hand_reach"),
    [(20.0, 10.0, 18.0), (20.0, 9.9, 20.0), (20.0, 30.0, 18.0), (22.0, 0.0, 21.0)],
)
def test_reach_from_the_depth_of_the_load(depth, height, hand_reach):
    """8 in and half the depth, 10 in and half below 10 in (p. 8)."""
    assert estimate_reach(depth, height) == hand_reach


def test_wrong_measures_are_refused():
    """All wrong numbers at once, and a grip that doesn't exist."""
    with pytest.raises(JobError, match=r"(?s)reach_in: 0 was given.*load_lb: -1 was given.*height_in: -2 was given.*twist_deg: 181 was given"):
        recommended_weight(Hands(0, -2, 181), 10, -1)
    with pytest.raises(JobError, match=r'"firm" is not a grip\. Give "good", "fair" or "poor"\.'):
        recommended_weight(Hands(10, 30), 10, 40, coupling="firm")


hands = st.builds(Hands, st.floats(1, 30), st.floats(0, 75), st.floats(0, 180))


@given(st.floats(1, 300), st.floats(1, 300), hands, hands)
def test_a_heavier_sink_never_has_a_lower_index(one, other, origin, destination):
    """The limit doesn't depend on the load, the index grows with it."""
    light, heavy = (screen_lift(load, origin, destination).governing for load in sorted((one, other)))
    assert light.weight_lb == heavy.weight_lb
    assert (light.index is None) == (heavy.index is None)
    assert light.index is None or light.index <= heavy.index


@given(st.floats(1, 30), st.floats(1, 30), st.floats(0, 75), st.floats(0, 180))
def test_reaching_farther_never_allows_more(one, other, height, twist):
    """The limit falls with reach."""
    near, far = (recommended_weight(Hands(reach, height, twist), 20, 50).weight_lb for reach in sorted((one, other)))
    assert far <= near


@given(st.floats(0, 16), st.floats(0, 16), st.sampled_from(["short", "moderate", "long"]), st.floats(0, 70))
def test_lifting_more_often_never_allows_more(one, other, duration, height):
    """The frequency multiplier falls with frequency."""
    seldom, often = (lifting_frequency_factor(rate, duration, height) for rate in sorted((one, other)))
    assert often <= seldom <= 1.0
