"""Each figure that an estimate reads acts in a module that the kit names; a figure that is off moves what is worked out from it, and nothing stays off."""

from decimal import Decimal
from html import unescape

import pytest

import kit
from kit.draw.figures_page import draw_figures_page
from kit.figures import moves
from kit.figures.moves import figures_read, find_moves
from kit.figures.where import HOUSE, ROOM_WORDS, all_figures, modules_reading, places_of_use
from kit.sources import list_tables, row, table, value

LISTS = kit.load_lists(kit.shipped("price_lists"))
SWAP = kit.estimate(kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml"), LISTS)
OLD_HOUSE = kit.estimate(kit.read_job(kit.shipped("examples") / "corner_dishwasher_drain_down.toml"), LISTS)


@pytest.mark.parametrize("priced", [SWAP, OLD_HOUSE], ids=["swap", "old house"])
def test_what_an_estimate_reads_acts_somewhere(priced):
    """None of the figures that are watched being read is without a place."""
    read = figures_read(priced)
    assert len(read) > 200
    assert [figure for figure in read if not modules_reading(figure, LISTS)] == []


def test_a_place_is_the_question_of_its_module():
    """A figure named in a call, one built from parts, one that only a price list names, one that nothing names."""
    assert any(place.startswith("How the boxes are brought level") for place in modules_reading(row("practice", "level/support-spacing")))
    assert any(place.startswith("Does it still drain") for place in modules_reading(row("trap_arms", "irc/slope-least")))
    assert "Price lists, counters.csv" in modules_reading(row("densities", "particleboard"), LISTS)
    assert modules_reading(row("sealant", "cartridge/long"), LISTS) == places_of_use(row("sealant", "cartridge/long"), LISTS) == ()
    assert places_of_use(row("calendar", "cooling-off/business-days")) == ("fit checks", "hours and calendar")
    assert {place for figure in all_figures() for place in places_of_use(figure)} == set(ROOM_WORDS.values())
    assert all((HOUSE / room).is_dir() for room in ROOM_WORDS)
    assert len(all_figures()) == sum(len(table(name)) for name in list_tables())


def test_what_a_figure_moves(monkeypatch):
    """Fillings of the test a tenth off move the gallons of its line, its hours and the price; a year moves by ten; nothing stays off."""
    named = [row("practice", "fill/fillings"), row("checks", "lead/year"), row("calendar", "job/last-year")]
    monkeypatch.setattr(moves, "figures_read", lambda _: tuple(named))
    fill, *others = find_moves(SWAP)
    line = next(line for line in SWAP.lines if line.item == "fill-gallon")
    task = next(task for task in SWAP.tasks if task.step == line.step)
    hand_hours = 0.1 * line.quantity * 0.007  # rates.csv: 0.007 h a gallon
    for _, factor in task.factors:
        hand_hours *= factor
    assert abs(fill.hours) == pytest.approx(hand_hours, abs=2e-4)
    hand_cost = Decimal(str(abs(fill.hours))) * SWAP.amount("labor-rate")
    assert abs(abs(fill.cost) - hand_cost) < Decimal("0.02")
    assert abs(fill.price) > abs(fill.cost)
    assert [(move.price, move.hours, move.findings) for move in others] == [(0, 0.0, ())] * 2  # no painted surface is disturbed, and no day is checked again
    assert moves._wrong_value(row("checks", "lead/year"), 1.1) == 1988.0
    assert moves._wrong_value(row("wood_factors", "duration/ten-year"), 1.1) == pytest.approx(1.1)
    assert value("practice", "fill/fillings") == 2.0
    assert kit.estimate(SWAP.job_as_read, LISTS).price == SWAP.price


def test_a_figure_with_which_there_is_no_price_says_why(monkeypatch):
    """Only where neither a tenth more nor a tenth less gives one; the tables are whole afterwards."""
    monkeypatch.setattr(moves, "figures_read", lambda _: (row("lifting_frequency", "short/low/0.2"),))
    (move,) = find_moves(SWAP)  # 1.1 is refused: it is a share; 0.9 gives a price
    assert move.refused == ""
    assert value("lifting_frequency", "short/low/0.2") == 1.0


def test_the_page_is_whole_and_escaped():
    """Heads, rows and list of the tables; a name that looks like markup is text."""
    page = draw_figures_page("Figures", "A & b.", ("Figure", "Value"), {"A <b>": [("x < y", "1 in")]}, [("book-1", "A book & more")])
    assert "<p>A &amp; b.</p>" in page
    assert page.index("book-1") > page.index("x &lt; y")
    assert page.startswith("<!doctype html>")
    assert "x &lt; y" in page
    assert "<b>" not in page.partition("</style>")[2]
    assert "A <b> (1)" in unescape(page).replace("</a>", "")
    assert "http" not in page.partition("</style>")[2]
