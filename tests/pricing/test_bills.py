"""Bills of a contract: what was billed before, what is due, what is left; over all draws the contract to the cent."""

from decimal import Decimal

import pytest
from random_jobs import random_estimate

from kit.money import sum_money
from kit.pricing.draws import Draw, DrawSchedule, list_bills, plan_draws
from kit.steps import Step


def test_a_contract_of_ten_thousand_worked_by_hand():
    """1,000 at signing; half earned with a tenth held back; the rest but the hold; then the hold."""
    draws = DrawSchedule(
        Decimal("10000.00"),
        (
            Draw("deposit", "At signing", None, Decimal("0.00"), Decimal("0.00"), Decimal("1000.00"), Decimal("0.00")),
            Draw("half", "Half", Step.SET_SINK, Decimal("5000.00"), Decimal("500.00"), Decimal("3500.00"), Decimal("9000.00")),
            Draw("done", "Done", Step.CLEAN, Decimal("10000.00"), Decimal("1000.00"), Decimal("4500.00"), Decimal("10000.00")),
            Draw("punch-list", "Punch list", Step.PUNCH_LIST, Decimal("10000.00"), Decimal("0.00"), Decimal("1000.00"), Decimal("10000.00")),
        ),
        None,
    )
    bills = list_bills(draws)
    assert [bill.number for bill in bills] == [1, 2, 3, 4]
    assert [bill.deposit for bill in bills] == [True, False, False, False]
    hand_before = ["0.00", "1000.00", "4500.00", "9000.00"]
    hand_balance = ["9000.00", "5500.00", "1000.00", "0.00"]
    assert [f"{bill.billed_before}" for bill in bills] == hand_before
    assert [f"{bill.balance}" for bill in bills] == hand_balance
    assert all(bill.later == 0 for bill in bills)


@pytest.mark.parametrize("seed", range(40))
def test_bills_sum_to_the_contract_for_any_job(seed):
    """Before, due and balance make the contract on every bill; the last leaves nothing; what is held back is never more than the balance."""
    made = random_estimate(seed)
    draws = plan_draws(made)
    bills = list_bills(draws)
    assert sum_money([bill.due for bill in bills]) == draws.contract == made.price
    for bill, draw in zip(bills, draws.draws, strict=True):
        assert bill.billed_before + bill.due + bill.balance == made.price
        assert Decimal(0) <= bill.held <= bill.balance
        assert bill.later >= 0
        if not bill.deposit:
            assert bill.earned - bill.held - bill.billed_before - bill.later == bill.due == draw.due
    assert bills[-1].balance == 0
    assert bills[-1].held == 0


def test_what_must_wait_for_the_work_is_said_apart():
    """Where payments follow the work, a draw may ask for less than is earned: the rest is named, not lost."""
    waiting = [bill for seed in range(120) for bill in list_bills(plan_draws(random_estimate(seed))) if bill.later]
    assert waiting
    assert all(bill.due + bill.later == bill.earned - bill.held - bill.billed_before for bill in waiting)
