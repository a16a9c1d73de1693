"""The burden worked out from its parts in the build-up: it follows the wage, in `revalue` and in the sheet."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit import Estimate, Lists, estimate, load_lists, read_job, revalue, shipped
from kit.draw.why import explain_number
from kit.errors import PriceError
from kit.lists.burden import add_up_burden
from kit.lists.money_rows import BurdenPart
from kit.pricing.build_up import cost_of_hour, row_kinds
from kit.pricing.job_terms import resolve_terms

STONE = shipped("examples") / "stone_apron_single_bowl.toml"
LISTS = load_lists(shipped("price_lists"))


def from_parts(lists: Lists, wage: str = "34.00", parts: tuple[BurdenPart, ...] | None = None) -> Lists:
    """The lists as they are read where the company file says `burden_from,parts`."""
    own = lists.burden if parts is None else parts
    share = float(add_up_burden(Decimal(wage), own).share)
    return replace(lists, burden=own, company=replace(lists.company, wage=Decimal(wage), burden_from="parts", burden=share))


def part(name: str, counted_as: Any, **figures: Any) -> BurdenPart:
    money = {key: Decimal(figures[key]) if key in figures else None for key in ("amount", "up_to")}
    return BurdenPart(name, name, counted_as, figures.get("hours"), figures.get("share"), money["amount"], money["up_to"], "USD", "")


def exercise() -> tuple[BurdenPart, ...]:
    """The parts of a published exercise (burden-exercise): 23 an hour, 2150 worked hours."""
    return (
        part("paid", "paid-hours", hours=2080.0),
        part("leave", "hours-off", hours=80.0),
        part("overtime", "overtime-hours", hours=150.0, share=0.5),
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


def rows_of(found: Estimate) -> dict[str, Decimal]:
    return {row.id: row.amount for row in found.build_up}


def test_a_year_of_a_published_exercise_row_by_row() -> None:
    """2150 worked hours as printed (burden-exercise); by hand gross pay 55,115.00, and 34.45 for each hour."""
    hand_pay, printed_hours, hand_cost_of_hour = Decimal("55115.00"), Decimal(2150), Decimal("34.45")
    found = estimate(read_job(STONE), from_parts(LISTS, "23.00", exercise()))
    rows = rows_of(found)
    assert (rows["pay"], rows["hours-worked"]) == (hand_pay, printed_hours)
    assert (rows["burden:federal-unemployment"], rows["burden:state-unemployment"]) == (Decimal("56.00"), Decimal("580.00"))  # 0.8 % of 7,000, 5.8 % of 10,000
    assert rows["labor-rate"] == hand_cost_of_hour
    assert {task.rate for task in found.tasks} == {hand_cost_of_hour}


def test_the_burden_follows_the_wage_by_hand() -> None:
    """2000 h, 1 percent of the first 10,000 and 3,000 a year: 3,100 is 15.5 percent of 20,000 and 7.75 percent of 40,000."""
    parts = (part("paid", "paid-hours", hours=2000.0), part("tax", "of-pay", share=0.01, up_to="10000"), part("health", "a-year", amount="3000"))
    found = estimate(read_job(STONE), from_parts(LISTS, "10.00", parts))
    dearer = revalue(found, {}, {}, {"in:wage": Decimal("20.00")})
    assert (rows_of(found)["burden"], rows_of(dearer)["burden"]) == (Decimal("0.155000"), Decimal("0.077500"))
    assert (rows_of(found)["labor-rate"], rows_of(dearer)["labor-rate"]) == (Decimal("11.55"), Decimal("21.55"))
    assert {task.rate for task in dearer.tasks} == {Decimal("21.55")}  # a share that stays fixed would give 23.10
    assert dearer.cost - found.cost == sum((task.amount for task in dearer.tasks), Decimal(0)) - sum((task.amount for task in found.tasks), Decimal(0))


def test_revalue_gives_what_lists_with_that_wage_give() -> None:
    """A raise typed as a term is the raise in the company file, to the cent."""
    found = estimate(read_job(STONE), from_parts(LISTS))
    for wage in ("19.75", "41.33", "95.00"):
        listed = estimate(read_job(STONE), from_parts(LISTS, wage))
        assert revalue(found, {}, {}, {"in:wage": Decimal(wage)}).build_up == listed.build_up
        assert rows_of(listed)["burden"] == add_up_burden(Decimal(wage), LISTS.burden).share


def test_each_figure_of_the_parts_can_be_changed() -> None:
    """Two days more of leave, a dearer class of work, a higher limit: each moves the cost per hour, and nothing else does it."""
    found = estimate(read_job(STONE), from_parts(LISTS))
    rate = rows_of(found)["labor-rate"]
    for name, value in {
        "in:burden-vacation-hours": "96",
        "in:burden-comp-share": "0.12",
        "in:burden-state-unemployment-up-to": "40000",
        "in:burden-health-amount": "9000",
    }.items():
        assert rows_of(revalue(found, {}, {}, {name: Decimal(value)}))["labor-rate"] > rate
    assert not found.terms.has("in:burden")
    with pytest.raises(PriceError, match="in:burden is not part of this estimate"):
        revalue(found, {}, {}, {"in:burden": Decimal("0.5")})


def test_a_share_stays_a_share() -> None:
    """Where the company gives a share, it stays as the wage moves: nobody said what it is made of."""
    found = estimate(read_job(STONE), replace(LISTS, company=replace(LISTS.company, burden_from="share", burden=0.38)))
    dearer = revalue(found, {}, {}, {"in:wage": Decimal("50.00")})
    assert rows_of(dearer)["labor-rate"] == Decimal("69.00")  # hand: 50 x 1.38
    assert "burden" not in rows_of(found)


def test_a_year_without_work_is_refused() -> None:
    """All hours off: nothing to divide by."""
    found = estimate(read_job(STONE), from_parts(LISTS))
    with pytest.raises(PriceError, match=r"Burden on the wage, from its parts can't be worked out: .* Give a wage, and fewer hours off than are paid\."):
        revalue(found, {}, {}, {"in:burden-vacation-hours": Decimal(2080)})


def test_rows_of_the_burden_have_their_kinds_and_answer_why() -> None:
    """Hours and shares are numbers, pay and taxes money; each row says what it is made of."""
    found = estimate(read_job(STONE), from_parts(LISTS))
    kinds = row_kinds(found.build_up, found.terms)
    assert {kinds[name] for name in ("hours-worked", "burden")} == {"number"}
    assert {kinds[name] for name in ("pay", "up-to:social-security", "burden:medicare", "year", "wages-worked", "on-top", "labor-rate")} == {"money"}
    told = explain_number(found, "row:up-to:federal-unemployment")
    assert "Federal unemployment tax: up to so much pay" in told
    assert "Wage of the hours worked" in explain_number(found, "row:burden")


kinds_of_parts = st.sampled_from(["of-pay", "of-plain-pay", "a-year", "a-worked-hour", "hours-off", "overtime-hours", "pay-added"])


@given(
    wage=st.integers(1000, 15000).map(lambda cents: Decimal(cents) / 100),
    drawn=st.lists(st.tuples(kinds_of_parts, st.integers(0, 3000), st.integers(0, 200), st.booleans()), max_size=8),
)
def test_rows_and_lists_add_up_the_same_year(wage: Decimal, drawn: list[tuple[Any, int, int, bool]]) -> None:
    """Whatever the parts: the share of the rows is that of the lists, to six places, and the rate is the one that tasks are charged at."""
    parts = [part("paid", "paid-hours", hours=2080.0)]
    for number, (counted_as, share, whole, capped) in enumerate(drawn):
        hours = {"hours": whole / 8} if counted_as in {"hours-off", "overtime-hours"} else {}
        shares = {"share": share / 10000} if counted_as in {"of-pay", "of-plain-pay", "overtime-hours"} else {}
        amounts = {"amount": f"{whole}.25"} if counted_as in {"a-year", "a-worked-hour", "pay-added"} else {}
        limit = {"up_to": str(whole * 400)} if capped and counted_as in {"of-pay", "of-plain-pay"} else {}
        parts.append(part(f"part-{number}", counted_as, **hours, **shares, **amounts, **limit))
    lists = from_parts(LISTS, str(wage), tuple(parts))
    hand_year = add_up_burden(wage, tuple(parts))
    terms = resolve_terms(read_job(STONE), lists)
    assert cost_of_hour(terms) == round(wage * (1 + hand_year.share) + Decimal("1e-9"), 2)
