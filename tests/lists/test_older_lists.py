"""Lists from before rows had names and counters had traits: promises hold them, so they are read for ever."""

import gzip
import json
from pathlib import Path

import pytest

import kit
from kit.lists.list_files import FILES, LISTS
from kit.lists.older import bring_up_to_date
from kit.records import CostType

PROMISES = Path(__file__).parents[1] / "promises"
OLD = json.loads(gzip.decompress((PROMISES / "DEMO-001-r01" / "DEMO-001-r01.json.gz").read_bytes()))["lists"]["texts"]
TODAY = kit.load_lists(kit.shipped("price_lists"))
TRAITS = (
    "slab",
    "brittle",
    "cut_on_site",
    "takes_screws",
    "rabbet",
    "wet_edge",
    "moves",
    "span_most_in",
    "overhang_most_in",
    "limits_source",
    "removed_density",
    "removed_with_backer",
)


def test_older_lists_are_read_and_their_counters_have_the_traits_that_the_code_held():
    """Each counter of then as its row says today, by material and thickness; a name is the id in plain words."""
    old = kit.lists.parse_lists(OLD, "then")
    assert set(old.counters) < set(TODAY.counters)
    for item, kind in old.counters.items():
        assert [getattr(kind, trait) for trait in TRAITS] == [getattr(TODAY.counters[item], trait) for trait in TRAITS]
    assert old.counters["stone-3cm"].name == "stone 3cm"
    assert set(old.steps) == set(TODAY.steps)
    assert (old.steps["visit"].name, old.steps["seal"].tools) == (TODAY.steps["visit"].name, TODAY.steps["seal"].tools)
    assert old.lead_times["goods"].likely_days == TODAY.lead_times["goods"].likely_days


def test_lists_of_today_stay_as_they_are():
    """Byte for byte."""
    assert all(bring_up_to_date(file, TODAY.texts[file]) == TODAY.texts[file] for file in FILES)


def test_accounts_from_before_there_were_postings_get_the_usual_ones():
    """The entries of then stay, two uses have today's names; each other use has an account in plain words. Where one is there, what is missing is a fault."""
    brought = bring_up_to_date("books.csv", OLD["books.csv"])
    hand_renamed = OLD["books.csv"].replace("\ntax-code-paid,", "\ntaxed,").replace("\ntax-code-none,", "\nnot-taxed,")
    assert brought.startswith(hand_renamed.rstrip())
    assert [line.partition(",")[0] for line in brought.splitlines()[5:]] == ["receivable", "held-back", "income", "bank", "wages", "burden", "suppliers"]
    half = brought.rpartition("suppliers")[0]
    assert bring_up_to_date("books.csv", half) == half


@pytest.mark.parametrize("text", ["", "\n", '"', "item,material\nx", "item,item\n1,2\n"])
def test_what_is_no_older_list_stays_as_it_is(text):
    """The reader of tables says what is wrong with it."""
    assert all(bring_up_to_date(file, text) == text for file in LISTS)


def test_rows_keep_their_numbers():
    """A blank row stays where it is, so that a fault names the row that a person sees."""
    header, first, *rest = OLD["counters.csv"].splitlines()
    brought = bring_up_to_date("counters.csv", "\n".join([header, first, "", *rest]))
    assert [line.partition(",")[0] for line in brought.splitlines()][:4] == ["item", "stone-3cm", "", "stone-2cm"]


def test_a_counter_whose_thickness_cannot_be_read_keeps_its_fault():
    """The traits stay empty and the thickness is said to be wrong, both in one report."""
    with pytest.raises(kit.errors.ListError, match=r'row 2, thickness: "thick".*') as caught:
        kit.lists.parse_lists({**OLD, "counters.csv": OLD["counters.csv"].replace("1 3/16 in", "thick", 1)}, "then")
    assert "counters.csv, row 2, brittle is empty." in [str(fault) for fault in caught.value.faults]


def test_british_spelling_of_earlier_lists_and_ledgers_is_read():
    """A cell that is the whole word; sentences stay as they are."""
    assert bring_up_to_date("accounts.csv", "cost_type,expense_account\nlabour,a labour of love\n") == "cost_type,expense_account\nlabor,a labour of love\n"
    assert bring_up_to_date("company.csv", "key,value,note\nlicences,no. 0,\n") == "key,value,note\nlicenses,no. 0,\n"
    assert CostType("labour") is CostType.LABOR
