"""The cells that a learned ratio moves: by hand, in the cell's own unit, with the source in the row, and nothing else touched."""

import csv
import io

import pytest
from work_history import LISTS

from kit.learning.decisions import ListCell
from kit.learning.list_cells import changes_of, ratio_moved, stands_in, write_cells
from kit.learning.observations import Subject
from kit.learning.words import _few
from kit.lists import parse_lists

FRAME = Subject("hours", "build-frame", "Build the support frame")


def in_minutes():
    """The lists with every rate typed in minutes."""
    header, *rows = csv.reader(io.StringIO(LISTS.texts["rates.csv"]))
    places = [header.index(name) for name in ("low", "likely", "high")]
    for row in rows:
        for place in places:
            row[place] = f"{float(row[place].removesuffix(' h')) * 60:.10g} min"
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([header, *rows])
    return parse_lists({**LISTS.texts, "rates.csv": out.getvalue()}, "minutes")


def cells(subject, ratio, lists=LISTS, key=None):
    return {change.column: (change.before, change.after) for change in changes_of(subject, ratio, lists) if key in (None, change.key)}


def test_all_hours_of_a_steps_rates_move_alike():
    """By hand: 0.15, 0.25 and 0.5 h times 1.2."""
    assert cells(FRAME, 1.2, key="frame-member") == {"low": ("0.15 h", "0.18 h"), "likely": ("0.25 h", "0.3 h"), "high": ("0.5 h", "0.6 h")}
    assert {change.key for change in changes_of(FRAME, 1.2, LISTS)} == {driver for driver, rate in LISTS.rates.items() if rate.step == "build-frame"}


def test_hours_or_minutes_give_the_same_answer():
    """A list typed in minutes stays in minutes, and means the same hours after."""
    minutes = in_minutes()
    assert cells(FRAME, 1.2, minutes, key="frame-member")["likely"] == ("15 min", "18 min")
    by_hours, by_minutes = (write_cells(lists, [(change, "x") for change in changes_of(FRAME, 1.2, lists)]) for lists in (LISTS, minutes))
    for driver, rate in by_hours.rates.items():
        assert by_minutes.rates[driver].likely_h == pytest.approx(rate.likely_h, rel=1e-9)


@pytest.mark.parametrize(("ratio", "hand_after"), [(1.1, "26.5 %"), (0.8, "0.0 %"), (1.0, None)])
def test_waste_moves_by_what_is_bought_and_never_below_none(ratio, hand_after):
    """Shims: 15 %. 1.15 x 1.1 = 1.265; 1.15 x 0.8 = 0.92 is less than the net quantity."""
    found = cells(Subject("waste", "shim", "Tapered wood shim"), ratio)
    assert found == ({} if hand_after is None else {"waste": ("15 %", hand_after)})


def test_days_move_with_the_day_of_the_order_to_half_a_day():
    """A faucet: 2, 5 and 14 days. (2 + 1) x 1.5 - 1 = 3.5; (5 + 1) x 1.5 - 1 = 8; (14 + 1) x 1.5 - 1 = 21.5."""
    subject = Subject("days", "420", "Faucet and accessories")
    assert cells(subject, 1.5) == {"low_days": ("2", "3.5"), "likely_days": ("5", "8"), "high_days": ("14", "21.5")}
    assert ratio_moved(subject, changes_of(subject, 1.52, LISTS)) == pytest.approx(9 / 6)  # (5 + 1) x 1.52 - 1 = 8.12, to half a day 8


def test_only_the_cells_of_the_change_move_and_the_row_says_why():
    """Everything else stays as typed; a second lesson takes the place of the first one's words."""
    subject = Subject("days", "420", "Faucet and accessories")
    once = write_cells(LISTS, [(change, "learned from 9 jobs") for change in changes_of(subject, 1.5, LISTS)])
    twice = write_cells(once, [(change, "learned from 12 jobs") for change in changes_of(subject, 1.2, once)])
    assert {file for file, text in once.texts.items() if text != LISTS.texts[file]} == {"lead_times.csv"}
    differing = [(old, new) for old, new in zip(*(lists.texts["lead_times.csv"].splitlines() for lists in (LISTS, once)), strict=True) if old != new]
    assert len(differing) == 1
    assert once.lead_times["420"].says == f"{LISTS.lead_times['420'].says}; learned from 9 jobs"
    assert twice.lead_times["420"].says == f"{LISTS.lead_times['420'].says}; learned from 12 jobs"
    waste = write_cells(LISTS, [(change, "learned from 9 jobs") for change in changes_of(Subject("waste", "shim", ""), 1.1, LISTS)])
    assert (waste.items["shim"].waste_source, waste.items["shim"].waste) == ("learned from 9 jobs", pytest.approx(0.265))
    assert waste.items["faucet"].waste_source is None


def test_the_ratio_is_that_of_the_cells_as_they_are_written():
    """Waste of 15 % to 26.5 % buys 1.265 / 1.15 as much; days that rounding leaves as they are have not moved."""
    shims = Subject("waste", "shim", "Tapered wood shim")
    assert ratio_moved(shims, changes_of(shims, 1.1, LISTS)) == pytest.approx(1.265 / 1.15)
    faucet = Subject("days", "420", "Faucet and accessories")
    barely = [change for change in changes_of(faucet, 1.04, LISTS) if change.column != "likely_days"]  # (14 + 1) x 1.04 - 1 = 14.6, to half a day 14.5
    assert [change.column for change in barely] == ["high_days"]
    assert ratio_moved(faucet, changes_of(faucet, 1.04, LISTS)) == 1.0  # (5 + 1) x 1.04 - 1 = 5.24: 5 days as before


def test_lists_without_a_column_for_the_source_get_one():
    """An older list of items says nowhere where its waste comes from: the row that was learned does from now on, the others stay empty."""
    header, *rows = csv.reader(io.StringIO(LISTS.texts["items.csv"]))
    place = header.index("waste_source")
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([row[:place] + row[place + 1 :] for row in (header, *rows)])
    older = parse_lists({**LISTS.texts, "items.csv": out.getvalue()}, "older")
    after = write_cells(older, [(change, "learned from 9 jobs") for change in changes_of(Subject("waste", "shim", ""), 1.1, older)])
    assert {item.item: item.waste_source for item in after.items.values() if item.waste_source} == {"shim": "learned from 9 jobs"}


def test_a_cell_stands_while_it_means_what_was_written():
    """0.3 h is 18 min; a figure that somebody changed by hand since is not the one that was learned."""
    lists = write_cells(LISTS, [(change, "x") for change in changes_of(FRAME, 1.2, LISTS)])
    assert stands_in(lists, ListCell(file="rates.csv", key="frame-member", column="likely", cell="18 min"))
    assert not stands_in(LISTS, ListCell(file="rates.csv", key="frame-member", column="likely", cell="18 min"))
    assert not stands_in(LISTS, ListCell(file="rates.csv", key="gone", column="likely", cell="18 min"))


def test_three_names_are_said_and_the_others_counted():
    assert [_few(["cut", "bed", "seal", "wipe"][:count]) for count in (0, 3, 4)] == ["", "cut, bed, seal", "cut, bed, seal and 1 more"]
