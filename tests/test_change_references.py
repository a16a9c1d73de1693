"""Markups of change orders, payments and margins against figures that are printed somewhere, and what holds for any job."""

from decimal import Decimal
from types import SimpleNamespace
from typing import Any

import pytest
from change_jobs import CHANGES
from price_parts import bought, task, terms
from random_jobs import random_estimate
from test_change import clause, made

from kit import Estimate, Lists, estimate
from kit.change.effect import change_days, change_draws
from kit.change.priced_change import price_change
from kit.errors import KitError
from kit.job import change_job
from kit.money import round_cents
from kit.pricing.draws import limit_deposit
from kit.pricing.work_back import find_price_for_margin
from kit.sources import sources
from kit.steps import Step

# change-clause-a, the markups of the clause: own forces 15 percent on adds and 5 on credits, subcontractors 5 and none
PRINTED_A = {"own": (0.15, 0.05), "hired": (0.05, 0.0)}
# change-clause-b, the rates of the letter: labor 15 percent, materials 10, subcontracts 5; deductive changes at the same rates
PRINTED_B = {"own": (0.15, 0.15), "hired": (0.05, 0.05), "material": (0.10, 0.10)}


def test_the_sources_of_these_figures_are_named() -> None:
    """Each key has its entry, and says whether it was printed or stands on the general web."""
    hand_status = {"change-clause-a": "published", "change-clause-b": "published", "ca-bpc-7159": "published", "etb-markup": "general web"}
    assert {key: sources()[key].status for key in hand_status} == hand_status


@pytest.mark.parametrize(
    ("printed", "hand"),
    [
        (PRINTED_A, {"labor": ("115.00", "-105.00"), "hired": ("105.00", "-100.00")}),
        (PRINTED_B, {"labor": ("115.00", "-115.00"), "hired": ("105.00", "-105.00")}),
    ],
)
def test_published_markups_on_a_hundred_that_comes_and_a_hundred_that_goes(lists: Lists, printed: Any, hand: Any) -> None:
    """100.00 at the printed share, as an add and as a credit."""
    rules = clause(printed["own"], printed["hired"], printed.get("material"))
    nothing = made(lists, rules)
    for kind, parts in (("labor", {"tasks": [task(Step.SEAL, "100.00")]}), ("hired", {"purchases": [bought("shop", "100.00", taxable=False)]})):
        something = made(lists, rules, **parts)
        found = tuple(f"{price_change(*pair, rule='clause').amount}" for pair in ((nothing, something), (something, nothing)))
        assert found == hand[kind]


def test_published_cap_of_a_deposit(lists: Lists) -> None:
    """ca-bpc-7159, read on a secondary page: a contract of 50,000 allows 1,000, not 5,000."""
    printed_contract, printed_most = Decimal(50_000), Decimal(1_000)
    assert limit_deposit(printed_contract, lists.state_presets["ca-lump-sum"]) == printed_most


def test_published_margin_and_markup_through_the_whole_build_up() -> None:
    """etb-markup, worked example: cost 200,000 at 25 percent is 250,000, of which 20 percent are gross profit."""
    printed_cost, printed_price, printed_markup, printed_margin = "200000.00", Decimal(250_000), Decimal("0.25"), Decimal("0.20")
    job: Any = SimpleNamespace(purchases=(), cost_types={}, tasks=(task(Step.SET_SINK, printed_cost),), terms=terms("markup"))
    found = find_price_for_margin(job, printed_margin)
    assert (found.price, found.margin, found.profit) == (printed_price, printed_margin, printed_markup)


@pytest.mark.parametrize(
    ("margin", "hand_markup"),
    [("10", "11.11"), ("15", "17.65"), ("20", "25.00"), ("25", "33.33"), ("30", "42.86"), ("40", "66.67"), ("50", "100.00")],
)
def test_markup_that_gives_a_margin(margin: str, hand_markup: str) -> None:
    """The table every contractor knows, margin / (1 - margin), in percent to two decimals, through the build-up of a job of 200,000."""
    job: Any = SimpleNamespace(purchases=(), cost_types={}, tasks=(task(Step.SET_SINK, "200000.00"),), terms=terms("markup"))
    found = find_price_for_margin(job, Decimal(margin) / 100)
    assert round_cents((found.price - found.cost) / found.cost * 100) == Decimal(hand_markup)


def a_change_of(old: Estimate, seed: int) -> Estimate:
    """The first of the changes, from one that the seed picks, that this job can take."""
    names = list(CHANGES)
    for step in range(len(names)):
        try:
            return estimate(change_job(old.job_as_read, CHANGES[names[(seed + step) % len(names)]]), old.lists, exact=False)
        except KitError:
            continue
    raise AssertionError(old.job_as_read)


@pytest.mark.parametrize("seed", range(24))
def test_a_change_of_any_job_sums_to_the_cent(seed: int) -> None:
    """Rows to the change, contracts forward, payments to the contract, whatever was paid; there and back costs what the credits keep."""
    old = random_estimate(seed)
    new = a_change_of(old, seed)
    there = price_change(old, new)
    back = price_change(new, old, number=2, contract=there.contract_after)
    assert there.amount == sum(row.amount for row in there.rows)
    assert back.contract_after == old.price + there.amount + back.amount
    for order, one, other in ((there, old, new), (back, new, old)):
        if order.contract_after <= 0:
            continue
        most = len(change_draws(order, one, other, paid=())) - 1  # after the last payment there is nothing to change
        for paid in (None, (), (Decimal(10), Decimal("20.01"))[:most]):
            draws = change_draws(order, one, other, paid=paid)
            assert sum(draw.before for draw in draws) == order.contract_before
            assert sum(draw.after for draw in draws) == order.contract_after
    days = change_days(old, new)
    assert change_days(new, old).later == -days.later
