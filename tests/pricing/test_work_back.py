"""Working back: exact, by the build-up itself."""

from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from price_parts import bought, task, terms

from kit import Estimate, Lists, estimate, read_job, revalue, shipped
from kit.errors import PriceError
from kit.job import change_job
from kit.pricing.job_terms import PriceTerms
from kit.pricing.priced import step_of_goods
from kit.pricing.work_back import find_price, find_price_for_crew_days, find_price_for_margin
from kit.records import CostType
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


def made(asked: PriceTerms, labor: str = "1000.00", hired: str = "0.00") -> Any:
    return SimpleNamespace(
        purchases=(bought("shop", hired, taxable=False),), cost_types={"shop": CostType.HIRED}, tasks=(task(Step.SET_SINK, labor),), terms=asked
    )


@pytest.mark.parametrize(
    ("margin", "hand_price"),
    [("0.10", "1111.11"), ("0.15", "1176.47"), ("0.20", "1250.00"), ("0.25", "1333.33"), ("0.30", "1428.57"), ("0.40", "1666.67"), ("0.50", "2000.00")],
)
def test_price_for_a_margin_by_hand(margin: str, hand_price: str) -> None:
    """Cost 1,000.00: the price is the cost over one less the margin, to the cent that reaches it."""
    found = find_price_for_margin(made(terms("markup")), Decimal(margin))
    assert Decimal(0) <= found.price - Decimal(hand_price) <= Decimal("0.01")
    assert found.exact
    assert (found.price - 1000) / found.price >= Decimal(margin)
    assert (found.price - Decimal("1000.01")) / (found.price - Decimal("0.01")) < Decimal(margin)


def test_markup_that_gives_a_margin_of_a_fifth() -> None:
    """25 percent (etb-markup): the profit that is found is the input that a person would type."""
    assert round(find_price_for_margin(made(terms("markup")), Decimal("0.20")).profit, 6) == Decimal("0.25")


@pytest.mark.parametrize("profit_as", ["markup", "margin", "of-cost"])
@pytest.mark.parametrize("overhead_as", ["of-cost", "of-price"])
@pytest.mark.parametrize("price", ["900.00", "1000.00", "1234.57", "99999.99"])
def test_margin_at_a_price(profit_as: Any, overhead_as: Any, price: str) -> None:
    """Any reading of profit and overhead, a price below cost among them: met to the cent, margin as by hand."""
    found = find_price(made(terms(profit_as, overhead="0.10", overhead_as=overhead_as)), Decimal(price))
    assert (found.price, found.exact) == (Decimal(price), True)
    assert found.margin == round((Decimal(price) - 1000) / Decimal(price), 4)


def test_rounding_lifts_to_the_next_price_there_is() -> None:
    """Prices go to the nearest 10: 1,234.00 is asked for, 1,240.00 is the next."""
    found = find_price(made(terms(round_to="10.00")), Decimal("1234.00"))
    assert (found.price, found.exact) == (Decimal(1240), False)
    assert find_price(made(terms(round_to="10.00")), Decimal("1240.00")).exact


def test_the_least_charge_stands() -> None:
    """A price below the least charge can't be had."""
    found = find_price(made(terms(least="1500.00")), Decimal("1200.00"))
    assert (found.price, found.exact) == (Decimal(1500), False)
    # 1,000.01 leave more than half; a cent less would leave just half
    assert not find_price_for_margin(made(terms(least="1000.01"), labor="500.00"), Decimal("0.5")).exact
    assert find_price_for_margin(made(terms(least="1000.00"), labor="500.00"), Decimal("0.5")).exact


def test_tax_collected_is_in_the_price_and_not_in_the_margin() -> None:
    """1,070.00 with 7 percent on everything is 1,000.00 before it."""
    found = find_price(made(terms("markup", "everything", tax="0.07"), labor="800.00"), Decimal("1070.00"))
    assert (found.price, found.amount("net"), found.margin) == (Decimal("1070.00"), Decimal("1000.00"), Decimal("0.2000"))


def test_margin_for_each_crew_day_by_hand() -> None:
    """Cost 1,000.00 and 2.5 days at 400.00: 2,000.00; half a day of it: 1,200.00."""
    found = find_price_for_crew_days(made(terms("margin")), Decimal("400.00"), Decimal("2.5"))
    assert (found.price, found.amount("gross"), found.exact) == (Decimal("2000.00"), Decimal("1000.00"), True)
    half = find_price_for_crew_days(made(terms("margin")), Decimal("400.00"), Decimal("0.5"))
    assert (half.price, half.amount("gross"), half.exact) == (Decimal("1200.00"), Decimal("200.00"), True)


def test_what_no_profit_reaches_is_refused() -> None:
    """A margin of all, no crew-days, and a job whose price no profit moves."""
    with pytest.raises(PriceError, match="target margin: No price leaves that much"):
        find_price_for_margin(made(terms()), Decimal(1))
    with pytest.raises(PriceError, match="crew-days: 0 is not above 0"):
        find_price_for_crew_days(made(terms()), Decimal(100), Decimal(0))
    only_hired = made(terms(hired_as="handling-only", handling="0.10"), labor="0.00", hired="500.00")
    with pytest.raises(PriceError, match="working back: No profit reaches what you need"):
        find_price(only_hired, Decimal("600.00"))
    assert find_price(only_hired, Decimal("550.00")).exact


@given(cost=st.integers(1, 30_000_00), margin=st.integers(-50, 80), profit_as=st.sampled_from(["markup", "margin", "of-cost"]), overhead=st.integers(0, 40))
def test_the_lowest_price_that_leaves_the_margin(cost: int, margin: int, profit_as: Any, overhead: int) -> None:
    """Reached, and a cent less would not."""
    wanted = Decimal(margin) / 100
    job = made(terms(profit_as, overhead=str(Decimal(overhead) / 100)), labor=str(Decimal(cost) / 100))
    found = find_price_for_margin(job, wanted)
    net, direct = found.amount("net"), found.amount("cost")
    assert net - direct >= net * wanted
    assert found.exact == (net - direct - Decimal("0.01") < (net - Decimal("0.01")) * wanted)
    assert found.exact


def test_the_plainest_profit_is_the_answer() -> None:
    """Cost 1,003.00, prices to the nearest 100: from 24.63 percent on it is 1,250.00 and more, which is 1,300.00. 25 percent is plainer than 24.7."""
    assert find_price(made(terms(round_to="100.00"), labor="1003.00"), Decimal(1300)).profit == Decimal("0.25")


def test_a_profit_is_a_hundred_times_the_cost_at_most() -> None:
    """Cost 1,000.00: 101,000.00 can be asked, a cent more can't; of a share of the price nearly all, by either way of adding profit."""
    assert find_price(made(terms()), Decimal("101000.00")).profit == 100
    with pytest.raises(PriceError, match="No profit reaches what you need"):
        find_price(made(terms()), Decimal("101000.01"))
    for asked in (terms("margin"), terms("markup", overhead="0.10", overhead_as="of-price")):
        assert find_price(made(asked), Decimal("99000000.00")).price >= 99_000_000


def test_goods_of_a_job_that_receives_none_are_there_at_its_start() -> None:
    """Else when they are received."""
    assert step_of_goods((Step.VISIT, Step.SEAL)) is Step.VISIT
    assert step_of_goods((Step.VISIT, Step.RECEIVE, Step.SEAL)) is Step.RECEIVE


# --- on the examples ---


def test_the_estimate_re_valued_gives_the_same(example_estimate: Estimate) -> None:
    """What is found goes into `revalue` as a term, and the whole build-up is the same, row by row."""
    for found in (
        find_price_for_margin(example_estimate, Decimal("0.35")),
        find_price(example_estimate, example_estimate.price + 500),
        find_price_for_crew_days(example_estimate, Decimal("950.00"), Decimal("3.5")),
    ):
        assert found.exact
        assert revalue(example_estimate, {}, {}, found.terms).build_up == found.build_up


def test_its_own_price_gives_its_own_profit(example_estimate: Estimate) -> None:
    """Asked for the price it has, the profit is the one it has, up to what a cent allows."""
    found = find_price(example_estimate, example_estimate.price)
    assert abs(found.profit - example_estimate.terms.value("in:profit")) < Decimal("0.00001")
    assert found.build_up[-1].amount == example_estimate.margin


def test_every_rounding_of_the_price_is_kept(lists: Lists) -> None:
    """With prices to the nearest 25, the answer is one of those."""
    job = estimate(change_job(read_job(EXAMPLE), {"terms.round_to": "25.00 USD"}), lists)
    found = find_price_for_margin(job, Decimal("0.33"))
    assert found.price % 25 == 0
    assert found.amount("gross") >= found.amount("net") * Decimal("0.33")
    assert find_price_for_margin(estimate(read_job(EXAMPLE), lists), Decimal("0.33")).price <= found.price


def test_a_price_to_the_cent_has_no_rounding_row(lists: Lists) -> None:
    """A cent is no step to round to: no row of the price says so; two cents are one."""
    rows = {
        step: {row.id for row in estimate(change_job(read_job(EXAMPLE), {"terms.round_to": f"{step} USD"}), lists).build_up}
        for step in ("0.00", "0.01", "0.02")
    }
    assert [name for name, found in rows.items() if "rounded" in found] == ["0.02"]


@pytest.mark.parametrize(
    ("asked", "wording"),
    [
        (lambda job: find_price(job, 7000.0), r'target price: 7000\.0 is a float; give a Decimal or text such as "12\.50 USD"'),
        (lambda job: find_price_for_margin(job, 0.3), r"target margin: 0\.3 is a float; give a Decimal such as"),
        (lambda job: find_price_for_crew_days(job, 900.0, Decimal(3)), r"target for each crew-day: 900\.0 is a float"),
        (lambda job: find_price_for_crew_days(job, Decimal(900), 3.5), r"crew-days: 3\.5 is a float"),
    ],
)
def test_floats_are_refused(example_estimate: Estimate, asked: Any, wording: str) -> None:
    """Money and shares come as Decimal; money as text too."""
    with pytest.raises(PriceError, match=wording):
        asked(example_estimate)
    assert find_price(example_estimate, "9000.00 USD").price == find_price(example_estimate, Decimal(9000)).price
