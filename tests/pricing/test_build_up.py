"""The build-up of the price: each row from its definition, by hand, and what must always hold."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit import Estimate, Lists, estimate, read_job, shipped
from kit.errors import PriceError
from kit.job import change_job
from kit.pricing.build_up import compute_rows, price_job, row_kinds
from kit.pricing.job_terms import Input, PriceTerms, resolve_terms
from kit.records import BuildUp, CostType, Op, Purchase, Task
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
SHARES = {"tax": "0.06", "burden": "0.38", "contingency": "0.04", "overhead": "0.22", "profit": "0.12"}


def terms(profit_as: Any = "margin", tax_on: Any = "material-cost", least: str = "450.00", wage: str = "34.00", **shares: str) -> PriceTerms:
    values = {**SHARES, **shares}
    inputs = [Input(f"in:{name}", name, Decimal(value), "share") for name, value in values.items()]
    money = [Input("in:wage", "wage", Decimal(wage), "money"), Input("in:least", "least", Decimal(least), "money")]
    return PriceTerms((*inputs, *money), profit_as, tax_on, deposit_share=Decimal(0), hold_share=Decimal(0))


def purchase(item: str, amount: str, *, taxable: bool = True) -> Purchase:
    price = Decimal(amount)
    return Purchase(item, (), item, "Invented Yard", f"{item}@row", 1.0, "each", 1.0, 1, 1.0, price, price, taxable, 1.0, "nothing")


def task(step: Step, hours: float, amount: str) -> Task:
    return Task(step, (), hours, hours, hours, 1, hours, "crew", Decimal("46.92"), Decimal(amount), (), "", (), 0.0, "working")


BOUGHT = (purchase("board", "100.00"), purchase("seal", "50.10"), purchase("shop", "900.00", taxable=False), purchase("permit", "85.00", taxable=False))
TYPES = {"board": CostType.MATERIAL, "seal": CostType.MATERIAL, "shop": CostType.HIRED, "permit": CostType.FEE}
WORK = (task(Step.SET_SINK, 2.0, "93.84"), task(Step.SEAL, 1.0, "46.92"))


def amounts(found: tuple[BuildUp, ...]) -> dict[str, Decimal]:
    return {row.id: row.amount for row in found}


def test_every_row_by_hand_with_profit_as_margin() -> None:
    """Material 150.10 with 6 % tax, hired 900, fee 85, three hours at 46.92; 4 % and 22 % on cost; 12 % of the price is profit."""
    found = amounts(price_job(BOUGHT, TYPES, WORK, terms()))
    hand_cost = Decimal("150.10") + Decimal("9.01") + 900 + 85 + Decimal("140.76")  # 6 % of 150.10 is 9.006
    hand_contingency, hand_overhead = Decimal("51.39"), Decimal("282.67")  # 4 % and 22 % of 1284.87: 51.3948, 282.6714
    hand_price = Decimal("1839.69")  # 1618.93 / 0.88 = 1839.6931...
    assert found["cost"] == hand_cost == Decimal("1284.87")
    assert (found["contingency"], found["overhead"]) == (hand_contingency, hand_overhead)
    assert found["price"] == hand_price
    assert found["profit"] == hand_price - Decimal("1618.93")
    assert found["margin"] == Decimal("0.3016")  # (1839.69 - 1284.87) / 1839.69 = 0.30158...


def test_profit_as_markup_is_counted_on_cost() -> None:
    """12 % on 1618.93 is 1813.20, less than 12 % of the price: markup and margin are different words."""
    markup = amounts(price_job(BOUGHT, TYPES, WORK, terms("markup")))
    margin = amounts(price_job(BOUGHT, TYPES, WORK, terms("margin")))
    assert markup["price"] == Decimal("1813.20")  # hand: 1618.93 x 1.12 = 1813.2016
    assert markup["price"] < margin["price"]


def test_exempt_jobs_pay_no_tax() -> None:
    """The row stays and is zero."""
    found = amounts(price_job(BOUGHT, TYPES, WORK, terms(tax_on="exempt")))
    assert (found["taxable"], found["tax-paid"]) == (0, 0)


def test_the_least_charge_lifts_a_small_price() -> None:
    """The least charge is the price, and the profit is what remains."""
    found = amounts(price_job((), {}, (task(Step.SEAL, 1.0, "46.92"),), terms()))
    assert found["price"] == Decimal("450.00")
    assert found["profit"] == Decimal("450.00") - found["before-profit"]


def test_nothing_to_do_costs_nothing() -> None:
    """No purchases, no tasks, no least charge: zero, and a margin of nothing can't be worked out."""
    with pytest.raises(PriceError, match=r"Gross margin .*can't be worked out"):
        price_job((), {}, (), terms(least="0.00"))


@pytest.mark.parametrize("profit", ["1", "1.5"])
def test_a_margin_that_no_price_reaches_is_refused(profit: str) -> None:
    """All of the price and more."""
    with pytest.raises(PriceError, match=r"Price at the target margin can't be worked out"):
        price_job(BOUGHT, TYPES, WORK, terms(profit=profit))


@pytest.mark.parametrize(
    ("op", "args", "places", "wanted"),
    [
        ("sum", ("a", "-b", "1", "0"), None, "-0.5"),
        ("times", ("a", "b", "b"), None, "15.625"),
        ("times", ("a", "b", "b"), 2, "15.63"),
        ("divide", ("a", "b"), 4, "0.4000"),
        ("max", ("a", "b"), None, "2.5"),
        ("min", ("a", "-b"), None, "-2.5"),
        ("round", ("b",), 0, "3"),
        ("round", ("-b",), 0, "-3"),
    ],
)
def test_each_operation_by_hand(op: Op, args: tuple[str, ...], places: int | None, wanted: str) -> None:
    """With a = 1 and b = 2.5; halves go away from zero."""
    values = {"a": Decimal(1) if op != "times" else Decimal("2.5"), "b": Decimal("2.5")}
    row = compute_rows([BuildUp("x", "x", op, args, places, Decimal(0))], values)[0]
    assert row.amount == Decimal(wanted)


def test_rows_read_rows_before_them() -> None:
    """A row's id is a name for the rows that follow."""
    rows = [BuildUp("x", "x", "sum", ("a", "1"), None, Decimal(0)), BuildUp("y", "y", "times", ("x", "x"), None, Decimal(0))]
    assert [row.amount for row in compute_rows(rows, {"a": Decimal(2)})] == [3, 9]


cents = st.integers(0, 10_000_00).map(lambda value: f"{value / 100:.2f}")
share = st.integers(0, 300).map(lambda value: str(Decimal(value) / 1000))


@given(goods=cents, hired=cents, labor=cents, more=st.integers(1, 500_00), shares=st.fixed_dictionaries(dict.fromkeys(SHARES, share)))
def test_a_dearer_board_never_lowers_the_price(goods: str, hired: str, labor: str, more: int, shares: Mapping[str, str]) -> None:
    """And the price is always the sum of its parts to the cent."""
    work = (task(Step.SEAL, 1.0, labor),)
    bought = [purchase("board", goods), purchase("shop", hired, taxable=False)]
    found = amounts(price_job(bought, TYPES, work, terms(least="1.00", **shares)))
    dearer = amounts(price_job([replace(bought[0], amount=bought[0].amount + Decimal(more) / 100), bought[1]], TYPES, work, terms(least="1.00", **shares)))
    assert dearer["price"] >= found["price"]
    parts = found["material"] + found["hired"] + found["tax-paid"] + found["labor"] + found["contingency"] + found["overhead"] + found["profit"]
    assert parts == found["price"]
    assert found["price"] == round(found["price"], 2)


# --- terms ---


def test_terms_are_the_companys_unless_the_job_says_otherwise(lists: Lists) -> None:
    """Each of the job's own terms takes the place of the company's."""
    job = change_job(read_job(EXAMPLE), {"terms": {}})
    company = resolve_terms(job, lists)
    assert company.value("in:overhead") == Decimal(str(lists.company.overhead))
    assert (company.profit_as, company.tax_on) == (lists.company.profit_as, lists.company.tax_on)
    own = resolve_terms(
        change_job(
            job,
            {
                "terms.overhead": "31 %",
                "terms.profit": "8.25 %",
                "terms.profit_as": "markup",
                "terms.contingency": "0 %",
                "terms.tax": "7.125 %",
                "terms.tax_on": "exempt",
            },
        ),
        lists,
    )
    assert [own.value(f"in:{name}") for name in ("overhead", "profit", "contingency", "tax")] == [Decimal(text) for text in ("0.31", "0.0825", "0", "0.07125")]
    assert (own.profit_as, own.tax_on) == ("markup", "exempt")
    assert own.value("in:wage") == lists.company.wage


def test_a_contingency_as_an_amount_says_which_trials_it_came_from(lists: Lists) -> None:
    """It stands in place of the share; the share of the trials and the seed are left out where nobody knows them."""
    job = change_job(read_job(EXAMPLE), {"terms.contingency_amount": "450 USD"})
    for changes, words in (
        ({}, "Contingency as an amount"),
        ({"terms.contingency_confidence": "80 %"}, "Contingency as an amount (enough in 4 in 5 trials)"),
        ({"terms.contingency_confidence": "72.5 %", "terms.contingency_seed": 7}, "Contingency as an amount (enough in 72.5% of the trials, seed 7)"),
    ):
        (term,) = (term for term in resolve_terms(change_job(job, changes), lists).inputs if term.id == "in:contingency")
        assert (term.label, term.value, term.kind) == (words, Decimal("450.00"), "money")


def test_a_share_is_kept_to_ten_decimals(lists: Lists) -> None:
    """Half up: 12.345678905 percent."""
    job = change_job(read_job(EXAMPLE), {"terms.overhead": "12.345678905 %"})
    assert resolve_terms(job, lists).value("in:overhead") == Decimal("0.1234567891")


# --- kinds of rows ---


def test_rows_are_money_or_numbers(example_estimate: Estimate) -> None:
    """Sums of money are money; factors, shares and money by money are numbers."""
    kinds = row_kinds(example_estimate.build_up, example_estimate.terms)
    numbers = {name for name, kind in kinds.items() if kind == "number"}
    assert {"burden-factor", "margin"} <= numbers
    assert {"material", "fees", "tax-paid", "labor-rate", "cost", "overhead", "price", "profit", "gross"}.isdisjoint(numbers)
    for row in example_estimate.build_up:
        assert kinds[row.id] == "number" or row.amount == round(row.amount, 2), row.id


def test_a_sum_of_nothing_is_no_money(lists: Lists) -> None:
    """A job without fees has zero dollars of them."""
    kinds = row_kinds(price_job((), {}, (), terms()), terms())
    assert kinds["fees"] == "money"
    assert kinds["keep"] == "number"
    assert kinds["margin"] == "number"
    assert estimate(read_job(EXAMPLE), lists).build_up
