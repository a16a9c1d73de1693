"""Draws: by hand, capped, following the work, and always summing to the contract."""

import re
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from price_parts import bought, task, terms
from random_jobs import random_estimate
from work_jobs import STEMS, example, lists

from kit import Estimate, Lists, estimate, read_job, shipped
from kit.errors import PriceError
from kit.job import change_job
from kit.lists.money_rows import DrawRow, StatePreset
from kit.outlook import cash_of, plan_schedule
from kit.pricing.draws import due_now, limit_deposit, plan_draws
from kit.records import CostType
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


def preset(share: float | None, amount: str | None) -> StatePreset:
    cap = None if amount is None else Decimal(amount)
    return StatePreset(
        "x", "X", "ca", "exempt", share, cap, "USD", draws_follow_work=True, tax_when_bought=None, dated=SimpleNamespace(), source="demo", says=""
    )  # type: ignore[arg-type]


def test_due_is_earned_less_hold_less_paid_by_hand() -> None:
    """8,400.00 with a deposit of 840.00: 60 percent earned is 5,040 - 504 - 840, the rest 8,400 - 840 - 4,536."""
    contract, tenth = Decimal("8400.00"), Decimal("0.1")
    hand_first, hand_second = Decimal("3696.00"), Decimal("3024.00")
    assert due_now(contract, Decimal("0.6"), tenth, Decimal("840.00")) == hand_first
    assert due_now(contract, Decimal(1), tenth, Decimal("840.00") + hand_first) == hand_second
    hand_release = contract - Decimal("840.00") - hand_first - hand_second
    assert due_now(contract, Decimal(1), Decimal(0), contract - hand_release) == hand_release == Decimal("840.00")


def test_nothing_is_due_where_more_was_paid() -> None:
    """A large deposit and a small first draw: 0, never a refund."""
    assert due_now(Decimal("1000.00"), Decimal("0.1"), Decimal("0.1"), Decimal("500.00")) == 0


@pytest.mark.parametrize(
    ("contract", "share", "amount", "hand_limit"),
    [
        ("50000.00", 0.10, "1000", "1000"),  # not 5,000
        ("8400.00", 0.10, "1000", "840"),
        ("10000.00", 0.10, "1000", "1000"),
        ("10000.10", None, "1000", "1000"),
        ("9999.99", 0.10, None, "999.99"),  # rounded down: 999.999 would be above the cap
        ("9999.99", None, None, None),
    ],
)
def test_a_deposit_is_capped_by_the_lesser_of_share_and_amount(contract: str, share: float | None, amount: str | None, hand_limit: str | None) -> None:
    """The lesser of 1,000 USD and a tenth (ca-bpc-7159); no preset, no cap."""
    assert limit_deposit(Decimal(contract), preset(share, amount)) == (None if hand_limit is None else Decimal(hand_limit))
    assert limit_deposit(Decimal(contract), None) is None


ROWS = (
    DrawRow("deposit", "Deposit", "deposit", None, 0.0, ""),
    DrawRow("set", "When the countertop work is done", "progress", Step.SET_COUNTER, 0.6, ""),
    DrawRow("done", "At completion", "progress", Step.CLEAN, 1.0, ""),
    DrawRow("hold", "Punch list", "hold", Step.PUNCH_LIST, 1.0, ""),
)


def made(lists: Lists, price: str, rows: tuple[DrawRow, ...] = ROWS, **choices: Any) -> Any:
    """A priced job of four steps and one purchase that is paid at once."""
    work = [task(step, amount) for step, amount in ((Step.RECEIVE, "100.00"), (Step.SET_COUNTER, "300.00"), (Step.CLEAN, "50.00"), (Step.PUNCH_LIST, "50.00"))]
    work = [replace(one, after=(before.step,) if before else ()) for before, one in zip([None, *work], work, strict=False)]
    only = SimpleNamespace(steps=lists.steps, draws=rows)
    return SimpleNamespace(
        lists=only,
        lines=(),
        purchases=(bought("board", "500.00"),),
        cost_types={"board": CostType.MATERIAL},
        tasks=tuple(work),
        hired=(),
        terms=terms(deposit_share=Decimal("0.1"), hold_share=Decimal("0.1"), **choices),
        price=Decimal(price),
    )


def test_the_whole_schedule_by_hand(lists: Lists) -> None:
    """Deposit 840.00, 3,696.00, 3,024.00 and the hold of 840.00 are 8,400.00."""
    found = plan_draws(made(lists, "8400.00"))
    assert [draw.due for draw in found.draws] == [Decimal(amount) for amount in ("840.00", "3696.00", "3024.00", "840.00")]
    assert [draw.held for draw in found.draws] == [Decimal(amount) for amount in ("0", "504", "840", "0")]
    assert found.deposit == Decimal("840.00")
    assert (found.draws[0].step, found.draws[-1].step) == (None, Step.PUNCH_LIST)


def test_worth_is_work_done_and_goods_delivered(lists: Lists) -> None:
    """Goods and receiving are 600 of 1,000 in cost, with the counter set 900: worth that part of the contract."""
    found = plan_draws(made(lists, "8400.00"))
    assert [draw.worth for draw in found.draws] == [Decimal(amount) for amount in ("0", "7560", "7980", "8400")]


def test_a_step_that_the_job_lacks_earns_with_the_next(lists: Lists) -> None:
    """No template, no draw at it; the sum stays."""
    rows = (ROWS[0], DrawRow("template", "Template", "progress", Step.TEMPLATE, 0.3, ""), *ROWS[1:])
    found, without = (plan_draws(made(lists, "8400.00", rows_used)) for rows_used in (rows, ROWS))
    assert found.draws == without.draws


def test_completion_is_due_once_the_final_inspection_has_passed(lists: Lists) -> None:
    """The corner job cleans up June 29 and is inspected July 1: its completion payment is due then. A job without one pays when it is clean."""
    corner = estimate(read_job(EXAMPLE.parent / "corner_dishwasher_drain_down.toml"), lists)
    ends = {row.step: row.finish for row in plan_schedule(corner).schedule.steps}
    cash = cash_of(corner)
    days = dict(zip([(draw.id, draw.label) for draw in plan_draws(corner).draws], cash.draw_days, strict=True))
    assert days["completion", "At completion, final inspection passed"] == ends[Step.INSPECT_FINAL].date() > ends[Step.CLEAN].date()
    assert {(draw.label, draw.step) for draw in plan_draws(estimate(read_job(EXAMPLE), lists)).draws if draw.id == "completion"} == {
        ("At completion", Step.CLEAN)
    }


def test_draws_that_follow_the_work_never_run_ahead_of_it(lists: Lists) -> None:
    """95 percent earned on paper when the counter is set, 90 percent in work and goods: 7,560.00 in all by then."""
    eager = (ROWS[0], replace(ROWS[1], earned=0.95), *ROWS[2:])
    for rows in (eager, ROWS):
        found = plan_draws(made(lists, "8400.00", rows, preset=preset(0.1, "1000")))
        paid = Decimal(0)
        for draw in found.draws[1:-1]:
            paid += draw.due
            assert found.deposit + paid <= draw.worth
        assert sum(draw.due for draw in found.draws) == Decimal("8400.00")
    no_hold = made(lists, "8400.00", eager, preset=preset(0.1, "1000"))
    no_hold.terms = replace(no_hold.terms, hold_share=Decimal(0))
    assert [draw.due for draw in plan_draws(no_hold).draws] == [Decimal(amount) for amount in ("840.00", "6720.00", "420.00", "420.00")]


def test_a_preset_caps_the_deposit_of_a_job(lists: Lists) -> None:
    """A quarter is asked for; the state allows the lesser of a tenth and 1,000.00, and what was cut is due later."""
    job = change_job(read_job(EXAMPLE), {"terms.state_preset": "ca-lump-sum", "terms.deposit": "25 %", "site.state": "ca"})
    found = plan_draws(estimate(job, lists))
    assert found.deposit == found.deposit_limit == min(Decimal(1000), (found.contract / 10).quantize(Decimal("0.01"), rounding="ROUND_FLOOR"))
    assert sum(draw.due for draw in found.draws) == found.contract


@pytest.mark.parametrize("contract", ["0.01", "0.05", "1.00", "999.99", "1234.57", "100000.01"])
@pytest.mark.parametrize(("deposit", "hold"), [("0 %", "0 %"), ("10 %", "10 %"), ("33.333 %", "7.5 %"), ("50 %", "50 %")])
def test_draws_sum_to_any_contract(example_estimate: Estimate, lists: Lists, contract: str, deposit: str, hold: str) -> None:
    """To the cent, none below 0, none of nothing."""
    asked = replace(example_estimate, terms=replace(example_estimate.terms, deposit_share=_share(deposit), hold_share=_share(hold)))
    found = plan_draws(asked, contract=Decimal(contract))
    assert sum(draw.due for draw in found.draws) == Decimal(contract)
    assert all(draw.due > 0 for draw in found.draws)
    assert all(draw.due == round(draw.due, 2) for draw in found.draws)
    assert {draw.id for draw in found.draws} <= {row.draw for row in lists.draws}


def _share(text: str) -> Decimal:
    return Decimal(text.removesuffix(" %")) / 100


@pytest.mark.parametrize(
    ("given", "wording"), [({"contract": 8400.0}, "contract sum: 8400.0 is a float"), ({"paid": {"deposit": 840.0}}, "paid at deposit: 840.0 is a")]
)
def test_floats_are_refused(example_estimate: Estimate, given: Any, wording: str) -> None:
    """A contract sum and payments come as Decimal or as text."""
    with pytest.raises(PriceError, match=re.escape(wording)):
        plan_draws(example_estimate, **given)
    assert plan_draws(example_estimate, contract="8400.00 USD") == plan_draws(example_estimate, contract=Decimal("8400.00"))


@pytest.mark.parametrize("stem", STEMS)
def test_every_payment_of_an_example_is_due_at_an_event_of_its_job(stem: str) -> None:
    """A counter that stays is neither templated nor set: what that draw would pay is in the next."""
    check_events(estimate(example(stem), lists()))


def test_every_payment_of_random_jobs_is_due_at_an_event_of_the_job() -> None:
    """Sixty of them: jobs with all five draws and jobs with fewer occur, and the draws always sum to the contract."""
    counts = {check_events(random_estimate(seed)) for seed in range(60)}
    assert {len(steps) for steps in counts} >= {3, 4}


def check_events(found: Estimate) -> tuple[Step, ...]:
    """Each draw names signing or a step that this job's calendar has; gives these steps."""
    on_calendar = {task.step for task in (*found.tasks, *found.hired)}
    plan = plan_draws(found)
    steps = tuple(draw.step for draw in plan.draws if draw.step is not None)
    assert set(steps) <= on_calendar, found.job.identity.job_number
    assert sum((draw.due for draw in plan.draws), Decimal(0)) == plan.contract
    return steps
