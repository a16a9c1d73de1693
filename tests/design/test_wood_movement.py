"""Equilibrium moisture and movement of wood tops against the Wood Handbook.

Forest Products Laboratory, Wood Handbook (FPL-GTR-190, 2010), chapter 13; Simpson, FPL-RN-0268 (1998).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.design.wood_movement import (
    WOODS,
    dimension_change,
    equilibrium_moisture,
    interior_moisture,
    slot_length,
    top_movement,
    wall_gap,
)
from kit.errors import JobError

# printed: Wood Handbook Table 13-5, radial and tangential; teak and Douglas-fir: tangential in a seller's table, radial from memory; true hickory from memory
TABLE_13_5 = {
    "hard-maple": (0.00165, 0.00353),
    "red-oak": (0.00158, 0.00369),
    "white-oak": (0.00180, 0.00365),
    "black-walnut": (0.00190, 0.00274),
    "black-cherry": (0.00126, 0.00248),
    "white-ash": (0.00169, 0.00274),
    "yellow-birch": (0.00256, 0.00338),
    "paper-birch": (0.00219, 0.00304),
    "beech": (0.00190, 0.00431),
    "teak": (0.00101, 0.00186),
    "douglas-fir": (0.00165, 0.00267),
    "pecan-hickory": (0.00169, 0.00315),
    "true-hickory": (0.00259, 0.00411),
}

# remembered: Wood Handbook Table 4-2 at 70 F, not read; hand: Simpson's formula at full precision
MOISTURE_AT_70 = [
    (20, 4.5, 4.49),
    (25, 5.4, 5.36),
    (30, 6.2, 6.17),
    (40, 7.7, 7.70),
    (50, 9.2, 9.25),
    (55, 10.1, 10.07),
    (60, 11.0, 10.97),
    (65, 12.0, 11.96),
    (70, 13.1, 13.09),
    (75, 14.4, 14.41),
    (80, 16.0, 16.00),
    (85, 17.9, 17.96),
    (90, 20.5, 20.49),
]


@pytest.mark.parametrize(("humidity", "remembered_moisture", "hand_moisture"), MOISTURE_AT_70)
def test_equilibrium_moisture_at_70_f(humidity, remembered_moisture, hand_moisture):
    """The remembered table lies within .06 of the formula in two cells, else within rounding; 50 % and 85 % are the two."""
    found = equilibrium_moisture(humidity, 70.0)
    assert found == pytest.approx(hand_moisture, abs=0.0051)
    assert found == pytest.approx(remembered_moisture, abs=0.1)


@pytest.mark.parametrize("celsius", [0.0, 10.0, 21.11, 30.0, 50.0])
@pytest.mark.parametrize("humidity", [10.0, 35.0, 60.0, 85.0])
def test_equilibrium_moisture_agrees_with_the_metric_form(celsius, humidity):
    """The same formula with its constants for degrees Celsius, as an open package has it, agrees within .05."""
    t, h = celsius, humidity / 100.0
    w, k = 349 + 1.29 * t + 0.0135 * t**2, 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1, k2 = 6.27 - 0.00938 * t - 0.000303 * t**2, 1.91 + 0.0407 * t - 0.000293 * t**2
    hand = 1800 / w * (k * h / (1 - k * h) + (k1 * k * h + 2 * k1 * k2 * k**2 * h**2) / (1 + k1 * k * h + k1 * k2 * k**2 * h**2))
    assert equilibrium_moisture(humidity, celsius * 9 / 5 + 32) == pytest.approx(hand, abs=0.05)


def test_equilibrium_moisture_at_its_ends():
    """Dry air dries wood fully; outside 0 to 100 % and 30 to 210 F the input is refused."""
    assert equilibrium_moisture(0.0) == 0.0


@pytest.mark.parametrize(("humidity", "temperature"), [(100.1, 70.0), (-0.1, 70.0), (50.0, 29.9), (50.0, 210.1)])
def test_beyond_the_range_of_the_equation_is_refused(humidity, temperature):
    """0 to 100 % and 30 to 210 F, ends included."""
    assert equilibrium_moisture(50.0, 30.0) > equilibrium_moisture(50.0, 210.0) > 0.0
    with pytest.raises(JobError, match="to"):
        equilibrium_moisture(humidity, temperature)
    assert 24.0 < equilibrium_moisture(100.0) < 32.0
    with pytest.raises(JobError, match=r"(?s)humidity_percent: 100\.1 was given; give a number, 0 to 100\..*temperature_f: 29 was given"):
        equilibrium_moisture(100.1, 29.0)
    with pytest.raises(JobError, match="humidity_percent: nan was given"):
        equilibrium_moisture(float("nan"))


@pytest.mark.parametrize(("wood", "printed"), TABLE_13_5.items())
def test_movement_coefficients(wood, printed):
    """One inch by one percent moves by the printed coefficient; mixed grain is designed flat and expected halfway."""
    radial, tangential = printed
    assert top_movement(1.0, wood, 9.0, 10.0, "quarter").design_in == pytest.approx(radial)
    assert top_movement(1.0, wood, 9.0, 10.0, "flat").expected_in == pytest.approx(tangential)
    mixed = top_movement(1.0, wood, 9.0, 10.0)
    assert (mixed.expected_in, mixed.design_in) == pytest.approx(((radial + tangential) / 2, tangential))


def test_every_wood_is_in_the_printed_table():
    """No wood is offered without a printed row."""
    assert set(WOODS) == set(TABLE_13_5)


def test_handbook_example_of_white_fir():
    """Chapter 13: 232 mm (9.15 in) flat-sawn white fir to 11 %: printed 1.7 mm (.067 in), final 233.7 mm (9.217 in).

    The start of 8 % and the coefficient .00245 are from memory and agree. Ours: 1.705 mm, .06725 in.
    """
    printed_mm, printed_in, printed_final_mm, printed_final_in = 1.7, 0.067, 233.7, 9.217
    assert dimension_change(232.0, 0.00245, 8.0, 11.0) == pytest.approx(printed_mm, abs=0.05)
    assert dimension_change(9.15, 0.00245, 8.0, 11.0) == pytest.approx(printed_in, abs=5e-4)
    assert 232.0 + dimension_change(232.0, 0.00245, 8.0, 11.0) == pytest.approx(printed_final_mm, abs=0.05)
    assert 9.15 + dimension_change(9.15, 0.00245, 8.0, 11.0) == pytest.approx(printed_final_in, abs=5e-4)


@pytest.mark.parametrize(
    ("wood", "hand_quarter", "hand_flat"),
    [
        ("hard-maple", 0.168, 0.360),
        ("red-oak", 0.161, 0.376),
        ("black-walnut", 0.194, 0.279),
        ("black-cherry", 0.129, 0.253),
        ("beech", 0.194, 0.440),
        ("teak", 0.103, 0.190),
    ],
)
def test_a_counter_from_6_to_10_percent(wood, hand_quarter, hand_flat):
    """25.5 in across the grain (hand): trade texts speak of 1/8 to 1/4 in on 25 in."""
    assert top_movement(25.5, wood, 6.0, 10.0, "quarter").design_in == pytest.approx(hand_quarter, abs=6e-4)
    assert top_movement(25.5, wood, 6.0, 10.0, "flat").design_in == pytest.approx(hand_flat, abs=6e-4)


def test_the_two_equations_meet_at_the_base():
    """From 10 % on, the curved rule starts with the same coefficient; inside 6 to 14 % the straight one is used."""
    inside = dimension_change(25.5, 0.00353, 10.0, 14.0)
    beyond = dimension_change(25.5, 0.00353, 10.0, 14.0001)
    assert beyond == pytest.approx(inside, rel=1e-3)
    hand_shrinkage = 3000 / (1 / 0.00353 + 20)  # 9.89 % for hard maple; the handbook's green-to-dry figure is 9.9 (from memory)
    assert hand_shrinkage == pytest.approx(9.9, abs=0.05)
    hand_dry = 25.5 * (5.0 - 9.0) / (3000 / hand_shrinkage - 30 + 9.0)
    assert dimension_change(25.5, 0.00353, 9.0, 5.0) == pytest.approx(hand_dry)


def test_outside_the_straight_range_it_says_so():
    """6 and 14 % are inside; just outside the record and its working say so."""
    assert top_movement(25.5, "red-oak", 6.0, 14.0).in_range
    for low, high in ((5.9, 14.0), (6.0, 14.1)):
        found = top_movement(25.5, "red-oak", low, high)
        assert not found.in_range
        assert "outside 6 to 14%" in found.working
    assert "red oak, mixed: 25 1/2 in, 6.0 to 14.0%, C 0.00369, D C (Mf - Mi) = 3/4 in" in top_movement(25.5, "red-oak", 6.0, 14.0).working


def test_drying_shrinks_and_nothing_is_nothing():
    """The sign follows the change; no change of moisture moves nothing."""
    assert top_movement(25.5, "teak", 10.0, 8.0).design_in < 0.0
    assert top_movement(25.5, "teak", 8.0, 8.0).design_in == 0.0
    assert dimension_change(25.5, 0.002, 4.0, 4.0) == 0.0


def test_interior_averages():
    """Most of the country 8 %, dry Southwest 6 %, damp south coast 11 % (figure 13-1, quoted by others)."""
    assert [interior_moisture(region) for region in ("most", "dry-southwest", "damp-south-coast")] == [8, 6, 11]


def test_slots():
    """Movement in proportion to the distance from the fixed line, plus shank and 1/16 in (own rule, hand)."""
    assert slot_length(0.36, 25.5, 25.5, 0.19) == pytest.approx(0.36 + 0.19 + 0.0625)
    assert slot_length(-0.36, 12.75, 25.5, 0.19) == pytest.approx(0.18 + 0.19 + 0.0625)
    assert slot_length(0.36, 0.0, 25.5, 0.19) == pytest.approx(0.19 + 0.0625)
    with pytest.raises(JobError, match=r"(?s)shank_in: 0 was given.*from_fixed_in: 26 was given; give a number, 0 to 25\.5"):
        slot_length(0.36, 26.0, 25.5, 0.0)


def test_gap_at_the_wall():
    """The whole growth when the front row is fixed, its share when a middle row is; none when it is set wet (hand)."""
    assert wall_gap(25.5, "hard-maple", 6.0, 10.0) == pytest.approx(0.360, abs=6e-4)
    assert wall_gap(25.5, "hard-maple", 6.0, 10.0, 12.75) == pytest.approx(0.180, abs=6e-4)
    assert wall_gap(25.5, "hard-maple", 6.0, 10.0, 0.0) == 0.0
    assert wall_gap(25.5, "hard-maple", 10.0, 8.0) == wall_gap(25.5, "hard-maple", 8.0, 8.0) == 0.0


def test_wrong_words_and_measures_are_refused():
    """Wood, grain, moisture and sizes that can't be are named."""
    with pytest.raises(JobError, match=r'"bamboo" has no movement coefficients\. Give one of: hard-maple, red-oak'):
        top_movement(25.5, "bamboo", 6.0, 10.0)
    with pytest.raises(JobError, match=r'"end" is not a cut of the wood\. Give "flat", "quarter" or "mixed"\.'):
        top_movement(25.5, "teak", 6.0, 10.0, "end")
    with pytest.raises(JobError, match=r"(?s)dimension_in: 0 was given.*coefficient: -1 was given.*from_percent: 30\.1 was given.*to_percent: -1 was given"):
        dimension_change(0.0, -1.0, 30.1, -1.0)
    with pytest.raises(JobError, match="from_fixed_in: 30 was given"):
        wall_gap(25.5, "teak", 6.0, 10.0, 30.0)


percents = st.floats(0.0, 30.0)


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0), st.floats(30.0, 120.0))
def test_damper_air_never_dries_wood(one, other, temperature):
    """Equilibrium moisture grows with humidity."""
    dry, damp = (equilibrium_moisture(humidity, temperature) for humidity in sorted((one, other)))
    assert dry <= damp


@given(st.sampled_from(WOODS), percents, percents, st.floats(1.0, 48.0), st.floats(1.0, 48.0))
def test_a_deeper_top_never_needs_a_smaller_gap(wood, one, other, narrow, deep):
    """The gap grows with depth, and the expected movement never passes the designed one."""
    narrow, deep = sorted((narrow, deep))
    assert 0.0 <= wall_gap(narrow, wood, one, other) <= wall_gap(deep, wood, one, other)
    moved = top_movement(deep, wood, one, other)
    assert abs(moved.expected_in) <= abs(moved.design_in) + 1e-12


@given(st.sampled_from(WOODS), st.floats(6.0, 14.0), st.floats(6.0, 14.0))
def test_there_and_back_is_nothing(wood, one, other):
    """Inside the straight range, wetting and drying again cancel."""
    there = top_movement(25.5, wood, one, other).design_in
    assert there + top_movement(25.5, wood, other, one).design_in == pytest.approx(0.0, abs=1e-12)
