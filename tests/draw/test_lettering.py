"""Words of drawings: safe to write, measured on the safe side, wrapped."""

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.draw.lettering import SIZE, clean, measure_text, wrap_text, write_text


@given(st.text(max_size=200))
def test_any_text_can_be_written(text):
    """Whatever a name holds, the SVG parses and gives the cleaned words back."""
    element = ET.fromstring(f"<svg>{write_text(1.0, 2.0, clean(text))}</svg>")[0]
    assert (element.text or "") == clean(text)


@pytest.mark.parametrize("bad", ["\x00", "\x1b", "\ud800", "\ufffe", "\u202e", "\u2066"])
def test_what_must_not_be_written_is_replaced(bad):
    """Control characters, lone surrogates and marks that turn the writing direction never reach the drawing."""
    assert clean(f"post{bad}x") == "post\ufffdx"


def test_lines_and_tabs_become_single_spaces():
    """A name of several lines stands on one."""
    assert clean("  two\n\tlines  here ") == "two lines here"


def test_a_long_name_is_cut():
    """A name longer than wanted ends in dots and is no longer than wanted."""
    assert clean("x" * 300, 20) == "x" * 17 + "..."


def test_a_measure_is_at_least_what_a_fixed_width_typeface_takes():
    """Ten letters take no less than ten advances of 0.602 of the size, wide letters twice that."""
    hand_least = 10 * 0.602 * SIZE
    assert measure_text("a" * 10) >= hand_least
    assert measure_text("\u6c34" * 10) >= 2 * hand_least


def test_measures_stay_whole_when_wrapped():
    """A number stays with its fraction and its unit."""
    assert wrap_text("bowl 14 1/2 in x 16 in", measure_text("bowl 14 1/2 in x")) == ("bowl 14 1/2 in x", "16 in")


@given(st.text("abc 1/2in", max_size=80), st.floats(20.0, 400.0))
def test_wrapped_lines_keep_every_letter_and_fit(text, width):
    """Nothing is lost, and no line is wider than asked for unless it is one letter."""
    lines = wrap_text(text, width)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(measure_text(line) <= width or len(line) == 1 for line in lines)
