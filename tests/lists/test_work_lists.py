"""The lists of the work: order rules, hired trades, lead times, site risks, and the company's calendar and risk settings."""

from collections.abc import Callable
from pathlib import Path

import pytest
from list_changes import add_row, change, copy_lists, faults_of

from kit import Lists, load_lists
from kit.lists.condition_names import CONDITIONS
from kit.lists.work_rows import LEADS
from kit.shipped_files import shipped
from kit.steps import Step

Edit = Callable[[Path], object]


def edited(name: str, pattern: str, new: str) -> Edit:
    return lambda folder: change(folder, name, pattern, new)


def added(name: str, row: str) -> Edit:
    return lambda folder: add_row(folder, name, row)


NEXT_RULE = len((shipped("price_lists") / "order_rules.csv").read_text(encoding="utf-8").splitlines()) + 1  # where a row is added

FAULTS: dict[str, tuple[Edit, str]] = {
    "unknown rule": (added("order_rules.csv", "moon,seal,visit,x"), f'order_rules.csv, row {NEXT_RULE}, rule: "moon" is not one of: always, occupied'),
    "unknown step after": (added("order_rules.csv", "always,seal,dream,x"), f'order_rules.csv, row {NEXT_RULE}, after: "dream" is not one of: visit, order'),
    "hired twice": (added("hired.csv", "hire-plumber,,plumber,h,1,1 h,1 h,1 h,demo,x"), 'hired.csv, row 18: "hire-plumber" is there twice.'),
    "rule twice": (added("order_rules.csv", "counter-first,seal,visit,x"), f'order_rules.csv, row {NEXT_RULE}: "counter-first / seal" is there twice.'),
    "unknown factor": (edited("factors.csv", "^occupied,", "busy,"), 'factors.csv, row 2, factor: "busy" is not one of'),
    "no room": (edited("steps.csv", "^visit,([^,]*),10,1,1,", r"visit,\1,10,2,1,"), "steps.csv, row 2 needs 2 people at least but allows 1 at most."),
    "unknown hired item": (
        added("hired.csv", "wizard,,wizard,h,1,1 h,1 h,1 h,demo,x"),
        'driver: "wizard" is neither in items.csv nor a column of counters.csv.',
    ),
    "hired by another unit": (edited("hired.csv", "^(wall-trade,[^,]*,[^,]*),sq ft", r"\1,ft"), 'unit: "wall-trade" is counted in sq ft.'),
    "hired nobody": (edited("hired.csv", "^(hire-plumber,[^,]*,[^,]*,h),1", r"\1,0"), 'crew: "0" is less than 1.'),
    "hired out of order": (edited("hired.csv", "^(hire-plumber,[^,]*,[^,]*,h,1),0.8 h", r"\1,1.8 h"), "low, likely and high are not in rising order."),
    "lead of nothing": (added("lead_times.csv", "moon,Moon,1,2,3,elapsed,x"), 'what: "moon" is not an item, cost code or countertop, nor one of: goods,'),
    "lead missing": (edited("lead_times.csv", "^inspection,.*\n", ""), 'lead_times.csv: Lead time "inspection" has no row.'),
    "lead out of order": (edited("lead_times.csv", "^(goods,[^,]*),0,1,4", r"\1,0,5,4"), "low_days, likely_days and high_days are not in rising order."),
    "lead by no clock": (edited("lead_times.csv", "^(goods,[^,]*,0,1,4),elapsed", r"\1,business"), 'days: "business" is not one of: working, elapsed.'),
    "sure beyond sure": (edited("site_risks.csv", ",18 %,", ",118 %,"), 'site_risks.csv, row 2, chance: "118 %" is more than 100 %.'),
    "costs out of order": (edited("site_risks.csv", ",18 %,40,", ",18 %,400,"), "cost_low, cost_likely and cost_high are not in rising order."),
    "hours out of order": (edited("site_risks.csv", ",2 h,4 h,10 h,", ",5 h,4 h,10 h,"), "hours_low, hours_likely and hours_high are not in rising order."),
    "risk twice": (added("site_risks.csv", "stop-fails,x,1 %,0,0,0,USD,0 h,0 h,0 h,always,,0,demo,x,us,"), '"stop-fails" is there twice.'),
    "risk in another currency": (edited("site_risks.csv", ",500,USD,", ",500,EUR,"), '"EUR" is not USD'),
    "no such day": (edited("company.csv", "^work_days,mon", "work_days,moon"), '"moon tue wed thu fri" must name days of the week: mon, tue'),
    "no such country": (edited("company.csv", "^holidays,US", "holidays,us of a"), '"us of a" is not a country such as US, a state such as US-MA, or none.'),
    "no holidays there": (edited("company.csv", "^holidays,US", "holidays,XX"), 'There is no list of holidays for "XX". Give a country such as US'),
    "no such state": (edited("company.csv", "^holidays,US", "holidays,US-XX"), 'There is no list of holidays for "US-XX". Give a country such as US'),
    "a spread that is none": (edited("company.csv", "^price_spread,-3 % to 8 %", "price_spread,8 %"), '"8 %" is not a span. Give it as "-3 % to 8 %".'),
    "a spread without its middle": (
        edited("company.csv", "^price_spread,-3 % to", "price_spread,3 % to"),
        "must go from -100 % or more, down to up, with 0 % between.",
    ),
    "a confidence beyond sure": (edited("company.csv", "^risk_confidence,80", "risk_confidence,180"), '"180 %" is more than 100 %.'),
    "a bare time": (edited("company.csv", "^least_visit,2 h", "least_visit,2"), '"2" has no unit'),
}


@pytest.mark.parametrize("name", list(FAULTS))
def test_each_fault_is_said(tmp_path: Path, name: str) -> None:
    """File, row, what was given, what is wanted."""
    edit, wanted = FAULTS[name]
    folder = copy_lists(tmp_path)
    edit(folder)
    assert any(wanted in fault for fault in faults_of(folder)), faults_of(folder)


def test_settings_of_the_company_as_they_are_read(tmp_path: Path) -> None:
    """Days of the week as numbers, country and region, spans as shares; none for no holidays."""
    folder = copy_lists(tmp_path)
    change(folder, "company.csv", "^work_days,mon tue wed thu fri", "work_days,tue sat")
    change(folder, "company.csv", "^holidays,US", "holidays,US-MA")
    company = load_lists(folder).company
    assert (company.work_days, company.holidays) == (frozenset({1, 5}), ("US", "MA"))
    assert (company.price_spread, company.waste_spread) == ((-0.03, 0.08), (-0.05, 0.15))
    change(folder, "company.csv", "^holidays,US-MA", "holidays,none")
    assert load_lists(folder).company.holidays == ("", "")


def test_the_shipped_lists_use_their_words(lists: Lists) -> None:
    """Every condition that a list names is known; every general lead is there; each risk says that it is made up."""
    used = {rule.rule for rule in lists.order_rules} | set(lists.factors) | {risk.applies_when for risk in lists.site_risks}
    assert used <= set(CONDITIONS)
    assert set(LEADS) <= set(lists.lead_times)
    assert {risk.source for risk in lists.site_risks} == {row.source for row in lists.hired.values()} == {"demo"}
    assert {rule.step for rule in lists.order_rules} <= set(Step)


def test_a_wait_is_not_named_like_what_is_waited_for(tmp_path: Path) -> None:
    """In a table of reasons "Sink" alone would be no wait."""
    found = load_lists(copy_lists(tmp_path))
    things = {code.name for code in found.cost_codes.values()} | {item.name for item in found.items.values()}
    assert not things & {row.name for row in found.lead_times.values()}
