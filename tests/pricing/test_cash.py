"""Cash that we front: by hand, and what must always hold."""

import datetime as dt
from decimal import Decimal

import pytest

from kit import Estimate, Lists, estimate, read_job, shipped
from kit.errors import PriceError
from kit.job import change_job
from kit.outlook import cash_of
from kit.pricing.cash import plan_cash
from kit.pricing.draws import plan_draws
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
SIGNED = dt.date(2026, 3, 7)


def test_every_dollar_moves_once(example_estimate: Estimate) -> None:
    """What comes in is the price, what goes out is the direct cost, and in the end the customer is ahead by the difference."""
    found = cash_of(example_estimate)
    assert sum(day.paid_to_us for day in found.days) == example_estimate.price
    assert sum(day.paid_by_us for day in found.days) == example_estimate.cost
    assert found.days[-1].fronted == example_estimate.cost - example_estimate.price
    assert [day.day for day in found.days] == sorted({flow.day for flow in found.flows})


def test_the_sum_so_far_is_what_we_front(example_estimate: Estimate) -> None:
    """Added up again from the payments."""
    found = cash_of(example_estimate)
    for day in found.days:
        assert day.fronted == -sum(flow.amount for flow in found.flows if flow.day <= day.day)
    assert found.most_fronted == max([Decimal(0), *(day.fronted for day in found.days)])
    assert found.worst.fronted == max(day.fronted for day in found.days)


def test_terms_of_payment_by_hand(lists: Lists) -> None:
    """The stone shop: half at the template, the rest when its work is set; goods of the plumbing counter when ordered, tax with them."""
    made = estimate(read_job(EXAMPLE), lists)
    ends = {step: dt.date(2026, 4, 1) + dt.timedelta(days=number) for number, step in enumerate(Step)}
    flows = plan_cash(made, plan_draws(made), SIGNED, ends).flows
    shop = [flow for flow in flows if flow.says.startswith("Invented Stone Shop")]
    hand_bill = sum(purchase.amount for purchase in made.purchases if purchase.supplier == "Invented Stone Shop")
    ahead = -sum(flow.amount for flow in shop if flow.day == ends[Step.TEMPLATE])
    assert -sum(flow.amount for flow in shop) == hand_bill
    assert abs(ahead - hand_bill / 2) <= Decimal("0.05")  # each row is split to the cent
    assert {flow.day for flow in shop} == {ends[Step.TEMPLATE], ends[Step.SET_COUNTER]}
    sink = next(flow for flow in flows if "apron-front sink" in flow.says.lower())
    assert (sink.day, sink.amount) == (ends[Step.ORDER], Decimal("-1038.80"))  # hand: 980.00 with 6 percent
    yard = {flow.day for flow in flows if flow.says.startswith("Invented Lumber Yard")}
    assert yard == {ends[Step.RECEIVE] + dt.timedelta(days=30)}


def test_tax_collected_is_not_ours(lists: Lists) -> None:
    """It comes in with the draws and is owed again by the last of them."""
    made = estimate(change_job(read_job(EXAMPLE), {"terms.tax_on": "everything"}), lists)
    found = cash_of(made)
    owed = next(flow for flow in found.flows if "owed to the state" in flow.says)
    assert -owed.amount == made.amount("tax-collected") > 0
    assert found.days[-1].fronted == made.cost - made.amount("net")


def test_a_larger_deposit_never_fronts_more(lists: Lists) -> None:
    """The customer's money comes first."""
    small, large = (cash_of(estimate(change_job(read_job(EXAMPLE), {"terms.deposit": share}), lists)) for share in ("0 %", "30 %"))
    assert large.most_fronted < small.most_fronted


def test_steps_without_a_day_fall_on_the_next_that_has_one(lists: Lists) -> None:
    """One day for the last step only: everything of the work falls on it; without any day it can't be said."""
    made = estimate(read_job(EXAMPLE), lists)
    day = dt.date(2026, 5, 1)
    found = plan_cash(made, plan_draws(made), SIGNED, {Step.PUNCH_LIST: day})
    assert {flow.day for flow in found.flows} <= {SIGNED, day, *(day + dt.timedelta(days=late) for late in (7, 14, 30))}
    with pytest.raises(PriceError, match="cash by day needs the day of at least one step"):
        plan_cash(made, plan_draws(made), SIGNED, {})


def test_the_day_of_signing_is_the_terms_or_the_companys(lists: Lists) -> None:
    """The deposit comes on the day that the terms name, else the company's days after the visit."""
    job = read_job(EXAMPLE)
    hand = job.identity.visit_date + dt.timedelta(days=lists.company.days_to_sign)
    later = hand + dt.timedelta(days=10)
    for signed_on, day in ((None, hand), (later.isoformat(), later)):
        flows = cash_of(estimate(change_job(job, {"terms.signed_on": signed_on}), lists)).flows
        assert [flow.day for flow in flows if flow.says == lists.draws[0].name] == [day]
