"""Bars for alternates: lengths in proportion, parts by hatch and letter, every amount in words."""

from decimal import Decimal

import pytest
from drawn import boxes, root, texts, touching, words
from hypothesis import given
from hypothesis import strategies as st

from kit.draw.cost_bars import draw_bars

ROWS = [
    ("top", [("labor", Decimal("820.50")), ("material", Decimal("1320.00"))]),
    ("under", [("labor", Decimal("1641.00")), ("material", Decimal("990.00")), ("profit", Decimal("-330.00"))]),
]


def test_bars_are_as_long_as_their_amounts():
    """1641 is drawn twice as long as 820.50, and 330 a third of 990, to the other side."""
    edges = boxes(draw_bars("Price", ROWS), "part")
    lengths = [one[2] - one[0] for one in edges]
    assert lengths[2] / lengths[0] == pytest.approx(2.0, rel=0.01)
    assert lengths[3] / lengths[4] == pytest.approx(3.0, rel=0.01)
    assert edges[4][2] == pytest.approx(edges[2][0], abs=0.15)


def test_every_sum_and_part_is_written():
    """Sums at the ends, to the cent; parts in the list."""
    found = texts(draw_bars("Price", ROWS))
    hand_sums = ("$2,140.50", "$2,301.00")
    for wanted in (*hand_sums, "top", "under", "labor", "material", "profit"):
        assert wanted in found


def test_parts_differ_by_hatch():
    """No two parts look alike without color."""
    svg = draw_bars("Price", ROWS)
    fills = {element.get("fill") for element in root(svg).iter() if element.get("data-part") == "part"}
    assert len(fills) == 3


@pytest.mark.parametrize("rows", [[], [("none", [])], [("zero", [("part", 0)])]])
def test_nothing_to_compare_is_still_a_drawing(rows):
    """No rows, no parts, nothing but zero."""
    assert root(draw_bars("Nothing", rows)).get("role") == "img"


@given(
    st.lists(st.tuples(st.text(max_size=90), st.lists(st.tuples(st.text(max_size=30), st.floats(-9999, 9999)), max_size=12)), max_size=6), st.text(max_size=40)
)
def test_any_names_and_amounts_are_drawn_legibly(rows, title):
    """Hostile names included; no text lies on another."""
    assert touching(words(draw_bars(title, rows))) == []
