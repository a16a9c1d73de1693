"""Where figures stand: references and sums as formulas write them."""

import pytest

from kit.export.build_up_sheet import row_formula, row_words
from kit.export.sheet_cells import Place, add_up
from kit.money import to_decimal
from kit.records import BuildUp

PLACES = {"buy:a": Place("Purchases", 4, 9), "buy:b": Place("Purchases", 5, 9), "task:visit": Place("Labor", 4, 12), "row:x": Place("Build-up", 4, 1)}
PLACES |= {"row:y": Place("Build-up", 5, 1)}


def row(op, args, places=None):
    return BuildUp("row", "Row", op, args, places, to_decimal(0, 2))


def test_a_place_is_named_as_its_reader_sees_it():
    """At home by its cell, elsewhere with its sheet, quoted where the name asks for it."""
    place = Place("Build-up", 9, 27)
    assert (place.cell, place.seen_from("Build-up"), place.seen_from("Labor")) == ("AB10", "AB10", "'Build-up'!AB10")


@pytest.mark.parametrize(
    ("rows", "formula"),
    [((), "0"), ((4,), "S!C5"), ((4, 5, 6), "SUM(S!C5:C7)"), ((6, 4, 5, 9), "SUM(S!C5:C7,S!C10)"), ((4, 8), "SUM(S!C5,S!C9)")],
)
def test_neighbors_are_joined_to_ranges(rows, formula):
    """Cells below each other are one range, whatever order they come in."""
    assert add_up([Place("S", number, 2) for number in rows], "T") == formula


@pytest.mark.parametrize(
    ("built", "formula", "words"),
    [
        (row("sum", ("buy:a", "buy:b")), "SUM(Purchases!J5:J6)", "sum of 2 purchases"),
        (row("sum", ("task:visit", "buy:a")), "SUM(Labor!M5,Purchases!J5)", "sum of 1 purchase and 1 step"),
        (row("times", ("buy:a", "in:burden"), 2), "ROUND(Purchases!J5*term_burden,decimals_2)", "a times Burden, rounded to the cent"),
        (row("sum", ("x", *["y"] * 12)), f"SUM(B5:B6{',B6' * 11})", "sum of 13 rows, X the first and Y the last"),
        (row("sum", ("0",)), "0", "none on this job"),
        (row("sum", ("1", "in:burden")), "1+term_burden", "1 plus Burden"),
        (row("sum", ("1", "-in:profit")), "1-term_profit", "1 less Profit"),
        (row("sum", ("x", "-y")), "B5-B6", "X less Y"),
        (row("sum", ("-x", "y")), "B6-B5", "less X plus Y"),
        (row("sum", ("-x",)), "0-B5", "less X"),
        (row("times", ("x", "in:burden"), 2), "ROUND(B5*term_burden,decimals_2)", "X times Burden, rounded to the cent"),
        (row("times", ("x", "-y")), "B5*(-B6)", "X times minus Y"),
        (row("divide", ("x", "y"), 4), "IF(ROUND(B6,12)>0,ROUND(B5/B6,decimals_4),NA())", "X divided by Y, rounded to 4 decimals"),
        (row("max", ("x", "in:least")), "MAX(B5,term_least)", "the larger of: X; Least"),
        (row("min", ("x", "y")), "MIN(B5,B6)", "the smaller of: X; Y"),
        (row("round", ("x",), 0), "ROUND(B5,decimals_0)", "X, rounded to a whole number"),
    ],
)
def test_a_row_of_the_build_up_writes_its_formula_and_says_it(built, formula, words):
    """Every operation of a row, as a cell's formula and in words."""
    labels = {"0": "nothing", "x": "X", "y": "Y", "in:burden": "Burden", "in:profit": "Profit", "in:least": "Least"}
    assert row_formula(built, PLACES) == formula
    assert row_words(built, labels) == words
