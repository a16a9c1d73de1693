"""What comes on the cost: the readings of "ten and ten", hired trades, warranty, rounding, least charge, contingency."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from price_parts import amounts, priced, terms

from kit.errors import PriceError
from kit.money import to_decimal
from kit.pricing.build_up import row_kinds
from kit.pricing.job_terms import PriceTerms

TEN = {"overhead": "0.10", "profit": "0.10"}


def price_of(asked: PriceTerms, **parts: str) -> Decimal:
    return amounts(priced(asked, **parts))["price"]


def test_markup_of_a_quarter_is_a_margin_of_a_fifth() -> None:
    """Cost 200,000 at 25 percent is 250,000, and a fifth of that is over the cost (etb-markup, worked example)."""
    printed_price, printed_margin = Decimal(250000), Decimal("0.20")
    for asked in (terms("markup", profit="0.25"), terms("margin", profit="0.20")):
        found = amounts(priced(asked, material="200000.00"))
        assert (found["price"], found["margin"]) == (printed_price, printed_margin)


def test_overhead_as_shares_of_the_price() -> None:
    """Two overheads of 10 percent of the price each: 200,000 x 1.25 = 250,000 (etb-markup, overhead as a share of the price)."""
    printed_price = Decimal(250000)
    assert price_of(terms("margin", overhead_as="of-price", **TEN), material="200000.00") == printed_price
    assert price_of(terms("markup", overhead_as="of-price", overhead="0.20"), material="200000.00") == printed_price


def test_ten_on_top_of_ten() -> None:
    """Overhead of 10 percent and 10 percent of profit on both make 21 (ten-and-ten, a forum of engineers)."""
    printed_factor = Decimal("1.21")
    assert price_of(terms("markup", overhead_as="of-cost", **TEN), material="200000.00") == 200000 * printed_factor


@pytest.mark.parametrize(
    ("overhead_as", "profit_as", "hand_factor"),
    [
        ("of-cost", "of-cost", "1.20"),  # side by side: 1 + 0.1 + 0.1
        ("of-cost", "markup", "1.21"),  # one on top of the other: 1.1 x 1.1
        ("of-price", "margin", "1.25"),  # shares of the price: 1 / (1 - 0.1 - 0.1)
        ("of-cost", "margin", "1.2222"),  # 1.1 / 0.9
        ("of-price", "markup", "1.2360"),  # 1.1 / (1 - 0.1 x 1.1)
        ("of-price", "of-cost", "1.2222"),  # 1.1 / 0.9
    ],
)
def test_ten_and_ten_by_hand(overhead_as: Any, profit_as: Any, hand_factor: str) -> None:
    """Each reading on a cost of 10,000, and the price is the sum of its parts."""
    found = amounts(priced(terms(profit_as, overhead_as=overhead_as, **TEN), labor="10000.00"))
    assert round(found["price"] / 10000, 4) == Decimal(hand_factor)
    assert found["cost"] + found["overhead"] + found["profit"] == found["price"]
    if overhead_as == "of-price":
        assert abs(found["overhead"] - found["price"] / 10) <= Decimal("0.01")
    if profit_as == "margin":
        assert abs(found["profit"] - found["price"] / 10) <= Decimal("0.01")


@pytest.mark.parametrize(
    "asked", [terms("margin", overhead_as="of-price", overhead="0.6", profit="0.4"), terms("markup", overhead_as="of-price", overhead="0.6", profit="0.7")]
)
def test_shares_that_leave_nothing_for_the_cost_are_refused(asked: PriceTerms) -> None:
    """Overhead and profit eat the whole price: 60 and 40 percent, or 60 percent marked up to 102."""
    with pytest.raises(PriceError, match=r"Price at the target .* can't be worked out"):
        priced(asked, labor="100.00")


# --- hired trades ---


def test_hired_trades_with_handling_in_place_of_overhead_and_profit() -> None:
    """1,000 own at 20 and 10 percent is 1,320; 2,000 hired with 5 percent handling is 2,100."""
    asked = terms("markup", hired_as="handling-only", handling="0.05", overhead="0.20", profit="0.10")
    found = amounts(priced(asked, labor="1000.00", hired="2000.00"))
    assert (found["carried"], found["handling"], found["price"]) == (Decimal(1000), Decimal(100), Decimal(3420))
    assert found["profit"] == Decimal(120)  # hand: 10 % of 1,200


def test_hired_trades_with_handling_first() -> None:
    """(1,000 + 2,000 + 100) x 1.20 x 1.10 = 4,092."""
    asked = terms("markup", hired_as="handling-first", handling="0.05", overhead="0.20", profit="0.10")
    found = amounts(priced(asked, labor="1000.00", hired="2000.00"))
    assert (found["carried"], found["price"], found["cost"]) == (Decimal(3100), Decimal(4092), Decimal(3000))


def test_hired_trades_as_own_work_have_no_handling() -> None:
    """3,000 x 1.20 x 1.10 = 3,960, and no row of handling."""
    found = amounts(priced(terms("markup", overhead="0.20", profit="0.10"), labor="1000.00", hired="2000.00"))
    assert found["price"] == Decimal(3960)
    assert "handling" not in found


# --- reserves ---


def test_warranty_reserve_is_on_what_we_warrant() -> None:
    """2 percent of material, labor and hired work (fees and tax left aside) comes before the profit and is no direct cost."""
    asked = terms("markup", "material-cost", tax="0.10", warranty="0.02", profit="0.10")
    found = amounts(priced(asked, material="1000.00", hired="500.00", labor="300.00"))
    assert (found["warranted"], found["warranty"]) == (Decimal(1800), Decimal(36))
    assert found["cost"] == Decimal(1900)  # with 100 of tax
    assert found["price"] == Decimal("2129.60")  # hand: (1900 + 36) x 1.10


# --- rounding and least charge ---


@pytest.mark.parametrize(
    ("labor", "step", "hand_price"),
    [("1234.49", "1.00", "1234"), ("1234.50", "1.00", "1235"), ("1237.49", "5.00", "1235"), ("1237.50", "5.00", "1240"), ("1234.99", "10.00", "1230")],
)
def test_the_price_is_rounded_half_up_to_its_step(labor: str, step: str, hand_price: str) -> None:
    """To 1, 5 and 10 dollars; what the rounding adds is a row of its own and goes into the profit."""
    found = amounts(priced(terms(round_to=step), labor=labor))
    assert found["price"] == Decimal(hand_price)
    assert found["rounding"] == found["profit"] == Decimal(hand_price) - Decimal(labor)


def test_the_least_charge_stands_as_it_is() -> None:
    """Rounding never takes it down: 452 stays 452 where prices go to the nearest 10."""
    found = amounts(priced(terms(least="452.00", round_to="10.00"), labor="20.00"))
    assert (found["rounded"], found["price"]) == (Decimal(20), Decimal(452))


shares = st.integers(0, 200).map(lambda value: str(Decimal(value) / 1000))
cents = st.integers(0, 20_000_00).map(lambda value: f"{Decimal(value) / 100:.2f}")


@given(
    st.sampled_from(["markup", "margin", "of-cost"]),
    st.sampled_from(["of-cost", "of-price"]),
    st.sampled_from(["as-own", "handling-first", "handling-only"]),
    st.sampled_from(["material-cost", "material-price", "everything", "exempt"]),
    st.sampled_from(["invoice", "item"]),
    st.sampled_from([None, "1.00", "5.00", "10.00"]),
    st.tuples(*[shares] * 6),
    st.tuples(cents, cents, cents),
)
def test_every_reading_sums_to_the_cent(
    profit_as: Any, overhead_as: Any, hired_as: Any, tax_on: Any, tax_rounding: Any, round_to: str | None, rates: tuple[str, ...], parts: tuple[str, ...]
) -> None:
    """Whatever the choices: cost, handling, reserves, overhead and profit are the price before tax; tax collected comes on top."""
    tax, contingency, warranty, overhead, profit, handling = rates
    more = {"handling": handling} if hired_as != "as-own" else {}
    more |= {"material_markup": "0"} if tax_on == "material-price" else {}
    asked = terms(
        profit_as,
        tax_on,
        least="500.00",
        round_to=round_to,
        tax=tax,
        contingency=contingency,
        warranty=warranty,
        overhead=overhead,
        profit=profit,
        overhead_as=overhead_as,
        hired_as=hired_as,
        tax_rounding=tax_rounding,
        **more,
    )
    material, hired, labor = parts
    found = amounts(priced(asked, material=material, hired=hired, labor=labor))
    whole = sum((found.get(name, Decimal(0)) for name in ("cost", "handling", "contingency", "warranty", "overhead", "profit")), Decimal(0))
    assert whole == found["net"]
    assert found["price"] == found["net"] + found["tax-collected"]
    assert found["cost"] == Decimal(material) + Decimal(hired) + Decimal(labor) + found["tax-paid"]
    assert found["margin"] == to_decimal((found["net"] - found["cost"]) / found["net"], 4) or found["net"] == 500
    assert found["tax-paid"] == 0 or found["tax-collected"] == 0
    assert all(row == round(row, 2) for row in (found["net"], found["price"], found["cost"], found["profit"]))


@pytest.mark.parametrize(("profit_as", "of_price"), [("margin", False), ("markup", True)])
def test_money_over_a_number_is_money_and_over_money_a_number(profit_as: Any, of_price: bool) -> None:
    """A price is cost over the share that is left of it; a margin is dollars over dollars, and so is a count of rounding steps."""
    asked = terms(profit_as, round_to="5.00", wage="20.00", overhead_as="of-price" if of_price else "of-cost")
    kinds = row_kinds(priced(asked, labor="100.00"), asked)
    assert [kinds[row] for row in ("wanted", "round-steps", "rounded", "margin", "keep")] == ["money", "number", "money", "number", "number"]
