"""Tables of price lists: long reports say how long they are, every text is escaped, and places are told apart."""

import datetime as dt
from decimal import Decimal

import kit
from kit.draw.list_tables import (
    MOST_ROWS,
    draw_came_in,
    draw_list_changes,
    draw_list_faults,
    draw_list_summary,
    draw_lists_facts,
    draw_lists_in_use,
    draw_repriced,
)
from kit.errors import Fault
from kit.lists.list_changes import ListChange
from kit.lists.take_in import IncomingLists, ListSource
from kit.repricing import Repriced

LISTS = kit.load_lists(kit.shipped("price_lists"))
DAY = dt.date(2026, 3, 2)


def test_a_long_report_says_how_many_and_shows_the_first():
    """Nothing is cut off in silence."""
    faults = tuple(Fault(f"row {number}, pack", "is wrong.", "prices.csv") for number in range(2, 2 + MOST_ROWS + 5))
    found = draw_list_faults(IncomingLists((), (), faults, None))
    assert f"{MOST_ROWS + 5} faults, the first {MOST_ROWS}" in found
    assert found.count("is wrong.") == MOST_ROWS


def test_row_and_column_stand_apart():
    """A row alone, a row with its column, a place without a row, and a file with none."""
    faults = (Fault("row 7, pack", "a", "prices.csv"), Fault("row 8", "b", "prices.csv"), Fault("byte 3", "c", "x.csv"), Fault("", "d"))
    found = draw_list_faults(IncomingLists((ListSource("<b>.csv", "prices.csv", "its header", ""),), (), faults, None))
    assert "prices.csv, from &lt;b&gt;.csv</th><td class='sk-number'>7</td><td>pack</td>" in found
    assert "<td class='sk-number'>8</td><td></td>" in found
    assert "x.csv</th><td class='sk-number'></td><td>byte 3</td>" in found
    assert "<th scope='row'>-</th>" in found


def test_what_came_in_says_what_was_left_out():
    """And whether a list is the same as the one in use."""
    same = ListSource("rates.csv", "rates.csv", "its name", LISTS.texts["rates.csv"])
    found = draw_came_in(IncomingLists((same,), ("book.xlsx, sheet Notes",), (), LISTS), LISTS)
    assert "the same as the one in use" in found
    assert "book.xlsx, sheet Notes" in found
    assert "left out" in found
    assert draw_came_in(IncomingLists((), (), (), None), LISTS) == ""


def test_changes_and_jobs_that_come_or_go():
    """A row that is new or gone, no change at all, a job without a price."""
    found = draw_list_changes((ListChange("items.csv", "peg", "", "there"), ListChange("items.csv", "<i>", "there", "")), DAY)
    assert "<td data-label='In use'>(none)</td><td data-label='New'>there</td>" in found
    assert "&lt;i&gt;" in found
    assert draw_list_changes((), DAY) == "<p>Nothing changes on Mon, Mar 2, 2026.</p>"
    jobs = (
        Repriced("a.toml", Decimal(100), None, "no price <b>"),
        Repriced("b.toml", Decimal(100), Decimal("98.50")),
        Repriced("c.toml", Decimal(1), Decimal(1)),
    )
    found = draw_repriced(jobs, {"a.toml": "price_lists"}, {"b.toml": "B. Sample, 2"})
    assert "no price &lt;b&gt;" in found
    assert ">-$1.50 (-1.50%)<" in found
    assert ">$0.00<" in found
    assert ">B. Sample, 2<" in found


def test_what_new_lists_come_to_stands_in_one_line():
    """How many changes, from the least to the most of what moves, and which jobs lose their price."""
    changes = (
        ListChange("prices.csv", "a", "$1.00", "$1.10", Decimal("0.1")),
        ListChange("prices.csv", "b", "$1.00", "$0.97", Decimal("-0.03")),
        ListChange("rates.csv", "c", "1 h", "2 h"),
    )
    jobs = (Repriced("a.toml", Decimal(100), None, "gone"), Repriced("b.toml", Decimal(200), Decimal(205)))
    found = draw_list_summary(changes, jobs, {"a.toml": "A. Sample, 1"}, "2 jobs on hand")
    for text in ("2 prices and 1 other cell", "-3.0% to +10.0%", "+$5.00; \u25a0 1 of 2 would have no price: A. Sample, 1"):
        assert text in found
    cheaper = Repriced("c.toml", Decimal(200), Decimal("198.84"))
    assert "-$1.16 to +$5.00; each keeps a price" in draw_list_summary(changes, (jobs[1], cheaper), {}, "2 jobs on hand")
    assert "Changes: <b>none</b>" in draw_list_summary((), (), {}, "0 jobs on hand")
    dated = ListChange("company.csv", "price date", "Thu, Jan 1, 2026", "Mon, Mar 2, 2026")
    same = Repriced("c.toml", Decimal(200), Decimal(200))
    found = draw_list_summary((dated,), (same,), {}, "1 job on hand")
    for text in ("Changes: <b>only the date of the lists</b>", "1 job on hand: <b>the same price; each keeps a price</b>"):
        assert text in found
    assert "Prices move by" not in found


def test_the_head_of_the_lists_in_use():
    """Folder, region, currency, date; what they are on a day before any price holds."""
    found = draw_lists_in_use(LISTS, {"items.csv": "<b>all</b>"}, dt.date(2025, 1, 1)) + draw_lists_facts(LISTS, "mine", dt.date(2025, 1, 1))
    for text in (">mine<", ">Example County<", ">USD<", ">Thu, Jan 1, 2026<", "&lt;b&gt;all", "0 prices in force on Wed, Jan 1, 2025; ", "\u25b3 invented"):
        assert text in found
