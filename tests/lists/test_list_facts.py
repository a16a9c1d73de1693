"""What stands in each list: rows, invented marks, and the ages of prices on a day."""

import datetime as dt

import pytest

import kit
from kit.lists import load_lists, parse_lists
from kit.lists.facts import is_passed_on, list_facts, price_ages
from kit.lists.list_files import FILES
from kit.shipped_files import shipped

LISTS = kit.load_lists(kit.shipped("price_lists"))
SHIM = "shim,Invented Lumber Yard,2026-01-01,,bundle of 14,14,,,3.80,USD,,"
SPANS = SHIM.replace("2026-01-01,", "2026-01-01,2026-06-30") + "\n" + SHIM.replace("2026-01-01", "2026-07-01")


def changed(file, old, new):
    text = LISTS.texts[file]
    assert old in text
    return parse_lists({**LISTS.texts, file: text.replace(old, new, 1)}, "changed")


def test_every_list_stands_with_its_rows():
    """As many as the file has lines below its header, where no cell holds a line end."""
    facts = {fact.file: fact for fact in list_facts(LISTS)}
    assert tuple(facts) == FILES
    for file in ("prices.csv", "rates.csv", "company.csv"):
        assert facts[file].rows == len(LISTS.texts[file].strip().splitlines()) - 1


def test_a_list_of_ones_own_says_nothing_of_invented():
    """The mark follows the text; a word that only holds it does not count."""
    text = LISTS.texts["books.csv"]
    own = parse_lists({**LISTS.texts, "books.csv": text.replace("invented", "reinvented")}, "own")
    before, after = ({fact.file: fact.invented for fact in list_facts(lists)} for lists in (LISTS, own))
    assert (before["books.csv"], after["books.csv"]) == (True, False)
    assert after["company.csv"]


@pytest.mark.parametrize(
    ("day", "holding", "coming"), [(dt.date(2025, 12, 31), -1, 2), (dt.date(2026, 1, 1), 0, 1), (dt.date(2026, 6, 30), 0, 1), (dt.date(2026, 7, 1), 0, 0)]
)
def test_spans_are_counted_on_their_days(day, holding, coming):
    """Of two spans one holds on any day from the first on; both are to come the day before."""
    found = price_ages(changed("prices.csv", SHIM, SPANS), day)
    usual = price_ages(LISTS, dt.date(2026, 3, 2)).holding
    rest = 0 if day >= dt.date(2026, 1, 1) else usual - 1
    assert found.holding == (0 if holding < 0 else usual)
    assert found.coming == coming + rest


def test_a_price_is_stale_the_day_after_its_last_allowed_one():
    """Counted from the first day on which it holds."""
    most = LISTS.company.stale_after_days
    first = min(price.effective_from for prices in LISTS.prices.values() for price in prices)
    assert price_ages(LISTS, first + dt.timedelta(days=most)).stale == 0
    late = price_ages(LISTS, first + dt.timedelta(days=most + 1))
    assert 0 < late.stale <= late.holding
    assert late.oldest == first


def test_money_that_is_only_passed_on_is_no_price():
    """The permit fee as the job states it, a dollar for a dollar, is not counted; what bills the rest of a least charge is, since that moves."""
    rows = [price for prices in LISTS.prices.values() for price in prices if price.holds_on(dt.date(2026, 3, 2))]
    assert price_ages(LISTS, dt.date(2026, 3, 2)).holding == len(rows) - 1
    assert [price.item for price in rows if is_passed_on(LISTS, price)] == ["permit-stated"]
    assert any(price.least_charge for price in rows)


def test_an_open_price_holds_on_and_on():
    """Without a last day."""
    (price,) = LISTS.prices["shim"]
    assert price.holds_on(dt.date(2099, 1, 1))
    assert not price.holds_on(dt.date(2025, 12, 31))


def test_quantities_are_said_as_a_crew_says_them() -> None:
    """One piece in the singular, more in the plural; measures to the whole unit from ten on, to the half below."""
    rates = load_lists(shipped("price_lists")).rates
    assert rates["door"].count_words(1) == "1 door hung and set true"
    assert rates["door"].count_words(2) == "2 doors hung and set true"
    assert rates["carry-in-foot"].count_words(560.0) == "560 ft carrying goods in"
    assert rates["carry-in-foot"].count_words(1100.0) == "1,100 ft carrying goods in"
    assert rates["carry-in-foot"].count_words(12.5) == "13 ft carrying goods in"  # halves go up, never to the even one
    assert rates["carry-in-foot"].count_words(2.25) == "2 1/2 ft carrying goods in"
    assert rates["old-sealant-foot"].count_words(9.167) == "9 ft of old sealant cut"
    assert rates["front-cut-foot"].count_words(0.2) == "2 in of cabinet front cut and dressed"
    assert rates["front-cut-foot"].count_words(4.5) == "4 1/2 ft of cabinet front cut and dressed"
    assert rates["patch-board"].count_words(0.3) == "1/2 sq ft of drywall patch cut and hung"
    assert all((rate.says_one is not None) == (rate.unit == "each") for rate in rates.values())


def test_a_sink_has_one_name() -> None:
    """Who buys it and who cuts for it read the same words: the item's name is that of the sinks list."""
    lists = load_lists(shipped("price_lists"))
    assert {name: lists.item(name).name for name in lists.sinks} == {name: sink.name for name, sink in lists.sinks.items()}


@pytest.mark.parametrize(
    ("step", "items"),
    [
        ("rough-drain", ("hire-plumber", "minimum-plumber")),
        ("rough-electric", ("hire-electrician", "electric-box", "electric-cable", "minimum-electrician")),
        ("electric-device", ("hire-electrician", "electric-device", "minimum-electrician")),
    ],
)
def test_what_a_trade_costs_goes_under_the_code_of_its_step(step: str, items: tuple[str, ...]) -> None:
    """Hours, parts and minimum alike: the books would split one bill otherwise."""
    assert {LISTS.item(item).cost_code for item in items} == {LISTS.steps[step].cost_code}
