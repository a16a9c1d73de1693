"""Reading, printing and converting measures."""

import math
import re
import subprocess
import sys
from decimal import ROUND_DOWN, localcontext
from functools import partial

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.errors import KitError, UnitError
from kit.units import convert, format_exact, format_exact_length, format_length, from_quantity, parse_quantity, to_quantity
from kit.units.defined import BY_NAME, BY_SPELLING, CUBIC_INCHES_PER_FLUID_OUNCE, CUBIC_INCHES_PER_GALLON, EXAMPLES, canonical_unit, find_unit

parse_length = partial(parse_quantity, dimension="length")


@pytest.mark.parametrize(
    "text",
    [
        "33 1/2 in",
        '33-1/2"',
        "33-1/2 in",
        '33 1/2"',
        "33½ in",
        "33½″",
        "33-½ in",
        "33 ½ in",
        "33.5 in",
        "33.50in",
        "33 1⁄2 in",
        "33 1/2 in.",
        "2' 9 1/2\"",
        "2'9½\"",
        "2'-9 1/2\"",
        "2’ 9.5”",
        "2 ft 9 1/2 in",
        "2ft9.5in",
        "2 ft. 9-1/2 in.",
        "2 feet 9 1/2 inches",
        "  33.5   IN ",
        "33.5\u00a0in",
        "67/2 in",
        "850.9 mm",
        "85.09 cm",
        "0.8509 m",
        "850.9 millimetres",
        "33.5''",
    ],
)
def test_every_way_of_writing_a_length_gives_the_same_inches(text):
    """Fractions, decimals, feet and inches, marks and metric all give 33.5 in, exactly (33.5 x 25.4 mm = 850.9 mm)."""
    assert parse_length(text) == 33.5


@pytest.mark.parametrize(
    ("text", "hand_in"), [("0 in", 0.0), ("3 ft", 36.0), ("1 yd", 36.0), (".25 in", 0.25), ("1/16 in", 0.0625), ("838 mm", 838 / 25.4), ("⅜ in", 0.375)]
)
def test_lengths_at_the_edges(text, hand_in):
    """Zero, whole feet, decimals without a leading zero, small fractions, metric."""
    assert parse_length(text) == hand_in


@pytest.mark.parametrize(
    ("text", "hand_in"), [("-1/8 in", -0.125), ("+1/8 in", 0.125), ("−3 mm", -3 / 25.4), ("-0 in", 0.0), ("1/8 in", 0.125), ("-½ in", -0.5)]
)
def test_a_level_reading_may_have_a_sign(text, hand_in):
    """With signed=True a leading sign counts; minus zero is zero."""
    value = parse_length(text, signed=True)
    assert value == pytest.approx(hand_in, rel=1e-15)
    assert math.copysign(1, value) == math.copysign(1, hand_in)


@pytest.mark.parametrize(
    ("text", "wording"),
    [
        ("33", '"33" has no unit. Give one, such as "33 in" or "838 mm".'),
        ("33 1/2", '"33 1/2" has no unit. Give one, such as "33 in" or "838 mm".'),
        ("-33", '"-33" has no unit. Give one, such as "33 in" or "838 mm".'),
        ("2' 9", '"2\' 9" has no unit after 9.'),
        ("5 lb", '"5 lb" is a weight, not a length. Give a length, such as "33 in" or "838 mm".'),
        ("10 sq ft", '"10 sq ft" is an area, not a length.'),
        ("12 ft²", "is an area, not a length."),
        ("33 furlongs", '"33 furlongs" has a unit that is not known, furlongs.'),
        ("-3 in", '"-3 in" is negative. Give zero or more'),
        ("+3 in", '"+3 in" has a sign. Give zero or more'),
        ("", "A length is missing. Give one, such as"),
        ("   ", "A length is missing."),
        ("1/0 in", '"1/0 in" divides by zero.'),
        ("33 5/2 in", '"33 5/2 in": 5/2 beside a whole number must be less than one.'),
        ("2 ft 14 in", '"2 ft 14 in": after 2 ft, give less than 12 in.'),
        ("2 ft 3 ft", '"2 ft 3 ft": after 2 ft, give less than 12 in.'),
        ("9" * 500 + " in", "is too long to be a length."),
        ("9" * 13 + " in", "is too large to be a length."),
    ],
)
def test_a_length_that_cannot_be_read_says_what_is_wanted(text, wording):
    """The sentence says what was given and what is wanted."""
    with pytest.raises(UnitError, match=re.escape(wording)):
        parse_length(text)


@pytest.mark.parametrize(
    "text",
    [
        "nan in",
        "inf in",
        "-inf in",
        "abc",
        "in",
        '"',
        "33 1/2 1/2 in",
        "33.5 1/2 in",
        "33 - 1/2 in",
        "2.5 ft 3 in",
        "2 in 3 ft",
        "2 ft -9 in",
        "1/2/3 in",
        "1.2.3 in",
        "1e3 in",
        "1,250 mm",
        "5. in",
        "3 ft-",
        "--3 in",
        "2'.5\"",
        "3 ft2 in",
        "33 in in",
        "0x10 in",
        "٣ in",
        "33 in; 5 in",
        "2 ft 9 lb",
        "=1 in",
    ],
)
def test_nonsense_is_refused(text):
    """What is no number with a unit is refused, never guessed at."""
    with pytest.raises(UnitError, match=r"is not a length\. Give one, such as|has a unit that is not known, in in"):
        parse_length(text, signed=True)


@pytest.mark.parametrize("value", [33, 33.5, None, True])
def test_a_value_that_is_no_text_has_no_unit(value):
    """A number from a file (33 instead of "33 in") is told apart from text."""
    with pytest.raises(UnitError, match=r"has no unit\. Give one, such as"):
        parse_length(value)


@pytest.mark.parametrize(
    ("text", "dimension", "hand_value"),
    [
        ("12 sq ft", "area", 1728.0),
        ("12 ft²", "area", 1728.0),
        ("100 sq in", "area", 100.0),
        ("1 sq m", "area", 1e6 / 645.16),
        ("1 sq yd", "area", 1296.0),
        ("120 lb", "weight", 120.0),
        ("5 lb 8 oz", "weight", 5.5),
        ("12 oz", "weight", 0.75),
        ("45.359237 kg", "weight", 100.0),
        ("453.59237 g", "weight", 1.0),
        ("1.5 h", "time", 1.5),
        ("90 min", "time", 1.5),
        ("1 h 30 min", "time", 1.5),
        ("1 1/2 hours", "time", 1.5),
        ("15 %", "share", 0.15),
        ("15%", "share", 0.15),
        ("12 1/2 %", "share", 0.125),
        ("8.25 percent", "share", 0.0825),
        ("0 %", "share", 0.0),
        ("10.1 fl oz", "volume", 10.1),
        ("1 gal", "volume", 128.0),
        ("1 qt", "volume", 32.0),
        ("1 pt", "volume", 16.0),
        ("231 cu in", "volume", 128.0),
        ("1 cu ft", "volume", 1728 * 128 / 231),
        ("1 cu yd", "volume", 46656 * 128 / 231),
        ("300 ml", "volume", 300 * 1000 / 25.4**3 * 128 / 231),
        ("1/4 in/ft", "slope", 0.25),
        ('1/4" per ft', "slope", 0.25),
        ("1/8 in per ft", "slope", 0.125),
        ("20 mm/m", "slope", 0.24),
        ("45 deg", "angle", 45.0),
        ("45°", "angle", 45.0),
    ],
)
def test_other_measures_come_in_their_canonical_unit(text, dimension, hand_value):
    """Area in sq in, weight in lb, time in h, share as a number, volume in fl oz, slope in in/ft, angle in deg."""
    assert parse_quantity(text, dimension) == pytest.approx(hand_value, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "dimension", "wording"),
    [
        ("15", "share", '"15" has no unit. Give one, such as "15 %".'),
        ("0.15", "share", '"0.15" has no unit. Give one, such as "15 %".'),
        ("0.15 share", "share", "has a unit that is not known, share."),
        ("2", "time", '"2" has no unit. Give one, such as "1.5 h" or "90 min".'),
        ("2 days", "time", '"2 days" does not say whether days are worked or elapsed. Give hours, such as "8 h" or "24 h".'),
        ("3 ft", "area", '"3 ft" is a length, not an area. Give an area, such as "12 sq ft" or "1.1 sq m".'),
        ("3 oz", "volume", '"3 oz" is a weight, not a volume. Give a volume, such as "10.1 fl oz" or "300 ml".'),
        ("3 fl oz", "weight", '"3 fl oz" is a volume, not a weight.'),
        ("2 %", "slope", '"2 %" is a share, not a slope. Give a slope, such as "1/4 in/ft".'),
        ("", "angle", "An angle is missing. Give one, such as"),
        ("-5 %", "share", '"-5 %" is negative.'),
    ],
)
def test_other_measures_are_refused_with_the_same_pattern(text, dimension, wording):
    """No unit, another dimension, ambiguous days: one wording pattern for all."""
    with pytest.raises(UnitError, match=re.escape(wording)):
        parse_quantity(text, dimension)


@given(st.text(max_size=30))
def test_any_text_gives_a_number_or_one_of_our_errors(text):
    """No text makes the reader fail in another way, and what it gives is finite and not negative."""
    try:
        value = parse_length(text)
    except KitError:
        return
    assert math.isfinite(value)
    assert value >= 0


@given(st.floats(min_value=-1e9, max_value=1e9))
def test_a_saved_length_reads_back_as_the_same_float(inches):
    """format_exact_length loses nothing."""
    assert parse_length(format_exact_length(inches), signed=True) == inches


@given(st.floats(min_value=-1e6, max_value=1e6), st.sampled_from(sorted(EXAMPLES)))
def test_a_saved_measure_reads_back_as_the_same_float(value, dimension):
    """format_exact loses nothing, whatever is measured."""
    assert parse_quantity(format_exact(value, dimension), dimension, signed=True) == value


@given(st.floats(min_value=0, max_value=1e5))
def test_a_printed_length_is_within_half_a_sixteenth(inches):
    """A printed length is read back to within 1/32 in."""
    printed = parse_length(format_length(inches))
    assert abs(printed - inches) <= 1 / 32


@pytest.mark.parametrize(
    ("inches", "hand_text"),
    [
        (33.5, "33 1/2 in"),
        (0.0, "0 in"),
        (-0.0, "0 in"),
        (0.0625, "1/16 in"),
        (1 / 32, "1/16 in"),
        (0.031, "0 in"),
        (-0.01, "0 in"),
        (-1.25, "-1 1/4 in"),
        (24.0, "24 in"),
        (23.99, "24 in"),
        (-30.0, "-30 in"),
        (33.4375, "33 7/16 in"),
    ],
)
def test_printed_lengths_look_like_a_tape(inches, hand_text):
    """Fractions in lowest terms, halves away from zero, no minus zero, carries into the next inch."""
    assert format_length(inches) == hand_text


def test_other_steps_of_the_tape():
    """A finer or coarser tape is a matter of the denominator."""
    assert format_length(33.40625, denominator=32) == "33 13/32 in"
    assert format_length(33.40625, denominator=8) == "33 3/8 in"
    with pytest.raises(UnitError, match=r"A tape can't be read to 1/0 in"):
        format_length(1.0, denominator=0)


@pytest.mark.parametrize("printer", [format_length, format_exact_length])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_printed(printer, value):
    """Nan and infinity never reach a screen as a length."""
    with pytest.raises(UnitError, match="is not a length"):
        printer(value)


@pytest.mark.parametrize(
    ("value", "dimension", "hand_text"),
    [
        (838 / 25.4, "length", "838 mm"),
        (12.5 / 25.4, "length", "12.5 mm"),
        (33.015625, "length", "33 1/64 in"),
        (0.1, "length", "0.1 in"),
        (100 / 3, "length", "33 1/3 in"),
        (-100 / 3, "length", "-33 1/3 in"),
        (838.25 / 25.4, "length", "838.25 mm"),
        (132.27735731092656, "weight", "60 kg"),
        (1 / 3, "share", "33 1/3 %"),
        (17 / 60, "time", "17 min"),
        (-2.5, "length", "-2 1/2 in"),
        (0.15, "share", "15 %"),
        (0.0825, "share", "8.25 %"),
        (1.5, "time", "1.5 h"),
        (120.0, "weight", "120 lb"),
        (0.25, "slope", "1/4 in/ft"),
        (1e-7, "weight", "0.0000001 lb"),
        (1e5, "area", "100000 sq in"),
    ],
)
def test_saved_measures_are_short(value, dimension, hand_text):
    """Files hold what a person would have typed."""
    assert format_exact(value, dimension) == hand_text
    with localcontext(prec=4, rounding=ROUND_DOWN):  # that of another thread
        assert format_exact(value, dimension) == hand_text


@pytest.mark.parametrize("name", sorted(BY_NAME))
def test_every_unit_agrees_with_pint(name):
    """Reference library: each factor against pint, to the last digits of a float."""
    unit = find_unit(name)
    reference = to_quantity(1.0, name).to(find_unit(canonical_unit(unit.dimension)).pint_name).magnitude
    assert float(unit.factor) == pytest.approx(reference, rel=1e-12)


@pytest.mark.parametrize("spelling", sorted(BY_SPELLING))
def test_every_spelling_reads_as_its_unit(spelling):
    """No spelling is shadowed by a shorter one."""
    unit = BY_SPELLING[spelling]
    assert parse_quantity(f"2 {spelling}", unit.dimension) == float(2 * unit.factor)
    assert parse_quantity(f"2{spelling}", unit.dimension) == float(2 * unit.factor)


def test_quantities_go_out_and_come_back():
    """A pint quantity out, the same number in; another unit is converted, another dimension refused."""
    quantity = to_quantity(33.5, "in")
    assert from_quantity(quantity, "in") == 33.5
    assert from_quantity(quantity, "mm") == pytest.approx(850.9)
    assert from_quantity(to_quantity(1.0, "gal"), "cu in") == pytest.approx(CUBIC_INCHES_PER_GALLON)
    with pytest.raises(UnitError, match=r"33\.5 inch can't be given in lb"):
        from_quantity(quantity, "lb")


def test_quantities_of_one_registry_add_up():
    """One application registry: quantities made here mix with the caller's own."""
    total = to_quantity(1.0, "ft") + pint.application_registry.Quantity(1.0, "inch")
    assert from_quantity(total, "in") == pytest.approx(13.0)


def test_conversion_within_a_dimension():
    """Takeoff units and purchase units meet here."""
    assert convert(10.0, "ft", "in") == 120.0
    assert convert(360.0, "sq in", "sq ft") == 2.5
    assert convert(1.0, "fl oz", "cu in") == CUBIC_INCHES_PER_FLUID_OUNCE
    with pytest.raises(UnitError, match=r"in measures a length, lb a weight: they can't be converted"):
        convert(1.0, "in", "lb")
    with pytest.raises(UnitError, match=r'"cubit" is not a unit the kit knows'):
        convert(1.0, "cubit", "in")


@given(
    st.floats(min_value=1e-3, max_value=1e6), st.sampled_from([("in", "mm"), ("sq ft", "sq m"), ("lb", "kg"), ("gal", "l"), ("h", "min"), ("in/ft", "mm/m")])
)
def test_conversion_goes_there_and_back(value, pair):
    """Converting and converting back gives the value to the last digits."""
    unit, into = pair
    assert convert(convert(value, unit, into), into, unit) == pytest.approx(value, rel=1e-14)


def test_units_and_money_load_nothing_heavy():
    """Importing the two rooms brings in neither pint nor numpy nor pandas."""
    code = "import sys, kit.units, kit.money; print(sorted({'pint', 'numpy', 'pandas'} & set(sys.modules)))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"


def test_nothing_has_no_sign_in_a_file() -> None:
    """A float's minus zero and zero are one amount, whichever was written first."""
    for dimension, hand_text in (("share", "0 %"), ("length", "0 in"), ("weight", "0 lb"), ("time", "0 h")):
        assert [format_exact(value, dimension) for value in (-0.0, 0.0, -0.0)] == [hand_text] * 3
