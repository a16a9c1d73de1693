"""What an hour costs, from its parts: published examples, limits, and what must always hold."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from list_changes import change, copy_lists

from kit import Lists, load_lists
from kit.errors import ListError
from kit.lists.burden import add_up_burden
from kit.lists.money_rows import BurdenPart
from kit.money import to_decimal


def part(name: str, counted_as: Any, hours: float | None = None, share: float | None = None, amount: str | None = None, up_to: str | None = None) -> BurdenPart:
    money = (None if text is None else Decimal(text) for text in (amount, up_to))
    return BurdenPart(name, name, counted_as, hours, share, *money, "USD", "")


def test_payroll_taxes_of_the_shipped_list(lists: Lists) -> None:
    """FICA 7.65 percent (remodeling-burden); wage base of 2026 and unemployment taxes a worker and year (payroll-taxes)."""
    printed_fica, printed_base, printed_federal, printed_texas = Decimal("0.0765"), Decimal(184_500), Decimal(42), Decimal(243)
    rows = {row.part: (to_decimal(row.share or 0.0, 4), row.up_to or Decimal(0)) for row in lists.burden}
    assert rows["social-security"][0] + rows["medicare"][0] == printed_fica
    assert rows["social-security"][1] == printed_base
    assert [share * base for share, base in (rows["federal-unemployment"], rows["state-unemployment"])] == [printed_federal, printed_texas]


def test_shares_of_the_wage_as_a_magazine_adds_them() -> None:
    """Carpenter at 20 an hour; taxes, insurance, leave, tools and escalation are 42.15 percent: 28.43 (remodeling-burden)."""
    printed_shares = (0.0765, 0.01, 0.10, 0.12, 0.04, 0.02, 0.02, 0.01, 0.025)
    parts = (part("paid", "paid-hours", 2080.0), *(part(f"part {n}", "of-pay", share=share) for n, share in enumerate(printed_shares)))
    found = add_up_burden(Decimal(20), parts)
    printed_share, printed_cost_of_hour = Decimal("0.4215"), Decimal("28.43")
    assert found.share == printed_share
    assert round(found.cost_of_hour, 2) == printed_cost_of_hour


def test_hours_off_are_paid_and_not_worked() -> None:
    """Vacation 80, holidays 48, sick days 40 of 2080 paid hours leave 1912 (remodeling-burden)."""
    parts = (part("paid", "paid-hours", 2080.0), part("a", "hours-off", 80.0), part("b", "hours-off", 48.0), part("c", "hours-off", 40.0))
    found = add_up_burden(Decimal(20), parts)
    printed_worked_hours = 1912.0
    assert found.worked_h == printed_worked_hours
    assert found.pay == Decimal("41600.00")  # hand: 2080 x 20


def exercise() -> tuple[BurdenPart, ...]:
    """The parts of a published exercise (burden-exercise); every premium and the match is taken on all pay, allowance and bonus among it."""
    return (
        part("paid", "paid-hours", 2080.0),  # 50 weeks of 40 h and two of paid leave
        part("leave", "hours-off", 80.0),
        part("overtime", "overtime-hours", 150.0, 0.5),  # 30 weeks of 5 h, at one and a half
        part("vehicle", "pay-added", amount="1800"),
        part("bonus", "pay-added", amount="300"),
        part("social-security", "of-pay", share=0.062, up_to="106800"),
        part("medicare", "of-pay", share=0.0145),
        part("federal-unemployment", "of-pay", share=0.008, up_to="7000"),
        part("state-unemployment", "of-pay", share=0.058, up_to="10000"),
        part("comp", "of-pay", share=0.1225),
        part("liability", "of-pay", share=0.0055),
        part("health", "a-year", amount="5400"),
        part("retirement", "of-pay", share=0.03),
    )


def test_a_year_of_a_published_exercise() -> None:
    """Wage 23, 2150 worked hours (printed, burden-exercise); worked by hand: gross 55,115.00, in all 74,075.47, 34.45 an hour."""
    found = add_up_burden(Decimal(23), exercise())
    hand_cost_of_hour = Decimal("34.45")
    assert found.worked_h == 2150.0
    assert found.pay == Decimal("55115.00")
    assert abs(found.total - Decimal("74075.47")) <= Decimal("0.02")  # each part is rounded to the cent
    assert round(found.cost_of_hour, 2) == hand_cost_of_hour
    assert round(1 + found.share, 3) == Decimal("1.498")


def test_taxes_that_stop_at_a_limit_are_money_a_year() -> None:
    """0.8 percent of 7,000 and 5.8 percent of 10,000 are 56 and 580, whatever the wage; 6.2 percent stops at its own limit."""
    for wage in (23, 40, 90):
        amounts = dict(add_up_burden(Decimal(wage), exercise()).parts)
        assert (amounts["federal-unemployment"], amounts["state-unemployment"]) == (Decimal("56.00"), Decimal("580.00"))
    assert amounts["social-security"] == Decimal("6621.60")  # hand: 0.062 x 106,800


def test_comp_may_leave_out_what_overtime_puts_on_top() -> None:
    """10 an hour, 100 hours and 10 of overtime at one and a half: 10 percent of 1100, not of 1150."""
    parts = (part("paid", "paid-hours", 100.0), part("over", "overtime-hours", 10.0, 0.5))
    plain = add_up_burden(Decimal(10), (*parts, part("comp", "of-plain-pay", share=0.1)))
    all_pay = add_up_burden(Decimal(10), (*parts, part("comp", "of-pay", share=0.1)))
    assert (plain.parts, all_pay.parts) == ((("comp", Decimal("110.00")),), (("comp", Decimal("115.00")),))
    assert plain.pay == all_pay.pay == Decimal("1150.00")


def test_money_for_each_worked_hour() -> None:
    """A vehicle at 0.85 an hour costs 0.85 an hour, leave or not."""
    parts = (part("paid", "paid-hours", 2000.0), part("leave", "hours-off", 500.0))
    without, with_it = (add_up_burden(Decimal(30), (*parts, *more)).cost_of_hour for more in ((), (part("vehicle", "a-worked-hour", amount="0.85"),)))
    assert with_it - without == Decimal("0.85")
    assert without == Decimal(40)  # hand: 2000 x 30 / 1500


@pytest.mark.parametrize("parts", [(), (part("paid", "paid-hours", 80.0), part("off", "hours-off", 80.0))])
def test_a_year_without_work_has_no_cost_of_an_hour(parts: tuple[BurdenPart, ...]) -> None:
    """Nothing to divide by."""
    with pytest.raises(ListError, match="A year of 0 worked hours at a wage of 20 has no cost per hour"):
        add_up_burden(Decimal(20), parts)


@given(wage=st.decimals(10, 200, places=2), off=st.floats(0, 1000), more=st.floats(1, 1000))
def test_more_leave_never_makes_an_hour_cheaper(wage: Decimal, off: float, more: float) -> None:
    """And an hour never costs less than the wage."""
    parts = (part("paid", "paid-hours", 2080.0), part("off", "hours-off", round(off, 2)), part("ss", "of-pay", share=0.062, up_to="50000"))
    less_worked = (parts[0], replace(parts[1], hours=round(off + min(more, 1000), 2)), parts[2])
    found, longer = add_up_burden(wage, parts), add_up_burden(wage, less_worked)
    assert longer.cost_of_hour > found.cost_of_hour >= wage


# --- in the lists ---


def test_the_company_takes_a_share_or_the_parts(lists: Lists, tmp_path: Any) -> None:
    """With parts, the burden that every room reads is theirs."""
    folder = copy_lists(tmp_path)
    change(folder, "company.csv", "^burden,[^,]*", "burden,11 %")
    change(folder, "company.csv", "^burden_from,[^,]*", "burden_from,share")
    assert load_lists(folder).company.burden == 0.11
    change(folder, "company.csv", "^burden_from,share", "burden_from,parts")
    parts = load_lists(folder)
    assert parts.company.burden == float(add_up_burden(lists.company.wage, lists.burden).share)
    assert 0.2 < parts.company.burden < 0.8
