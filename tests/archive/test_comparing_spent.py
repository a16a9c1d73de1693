"""Estimated against spent: sums worked by hand, to the cent; and what a job taught."""

import datetime as dt
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_jobs import random_estimate
from spent_demo import SPENT, table

import kit
from kit.archive.compare_spent import compare_spent
from kit.archive.spent import parse_spent, read_spent
from kit.export.handoff_rows import handoff_rows
from kit.money import sum_money
from kit.outlook import plan_schedule
from kit.records import CostType
from kit.steps import Step


@pytest.fixture(scope="module")
def made(lists):
    """The invented job of the first example."""
    return kit.estimate(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), lists)


@pytest.fixture(scope="module")
def compared(made, lists):
    """The same against the invented table of what was spent."""
    return compare_spent(made, read_spent(SPENT, lists, job="DEMO-001"))


def test_the_example_keeps_the_days_of_its_own_proposal(made, lists):
    """Nothing but the visit before the day from which we order; no work of the house, and no dump, before it starts; no countertop before it is set."""
    plan = plan_schedule(made).schedule
    hand_orders, hand_starts, hand_set = dt.date(2026, 3, 12), dt.date(2026, 3, 26), dt.date(2026, 4, 10)
    assert tuple(plan.find(step).start.date() for step in (Step.ORDER, Step.RECEIVE, Step.SET_COUNTER)) == (hand_orders, hand_starts, hand_set)
    visit, order, *rows = read_spent(SPENT, lists, job="DEMO-001")
    assert (visit.date, order.date) == (made.job.identity.visit_date, hand_orders)
    assert min(row.date for row in rows) > hand_orders
    assert min(row.date for row in rows if row.cost_type in {CostType.LABOR, CostType.FEE}) == hand_starts
    assert {row.date for row in rows if row.cost_type is CostType.HIRED and row.amount > 0} == {hand_set}


def test_spending_by_cost_code_is_what_the_table_holds(compared):
    """Summed by hand from the rows of the example."""
    hand_spent = {
        "110": Decimal("46.92") + Decimal("58.65") + Decimal("164.22") + Decimal("340.17") + Decimal("54.00"),
        "210": Decimal("211.14"),
        "310": Decimal("158.62") + Decimal("539.58") + Decimal("16.05"),
        "410": Decimal("1038.80") + Decimal("140.76"),
        "420": Decimal("280.90") + Decimal("35.19"),
        "430": Decimal("12.40"),
        "440": Decimal("34.24") + Decimal("46.92"),
        "510": Decimal("2657.96") + Decimal("9.96") + Decimal("93.84") - Decimal("60.00"),
        "610": Decimal("118.47") + Decimal("117.30"),
        "620": Decimal("71.15") + Decimal("105.57") + Decimal("23.46"),
        "710": Decimal("0.00"),
        "720": Decimal("101.23") + Decimal("140.76") + Decimal("14.20"),
    }
    assert {row.code: row.spent for row in compared.codes} == hand_spent
    assert compared.total.spent == sum(hand_spent.values()) == Decimal("6572.46")
    hand_hours = {"110": 13.0, "210": 4.5, "310": 11.5, "410": 3.0, "420": 0.75, "440": 1.0, "510": 2.0, "610": 2.5, "620": 2.75, "720": 3.0}
    assert {row.code: row.hours_spent for row in compared.codes if row.hours_spent} == hand_hours
    assert compared.total.hours_spent == 44.0


def test_estimated_is_what_the_rows_for_the_books_hold(example_estimate, lists):
    """By cost code and by kind of cost, the same cents as the hand-off, for every example; together the direct cost."""
    compared = compare_spent(example_estimate, ())
    rows = [row for row in handoff_rows(example_estimate) if row.cost_code]
    for key, results in (("cost_code", compared.codes), ("cost_type", compared.types)):
        wanted = {name: sum_money([row.cost for row in rows if getattr(row, key) == name]) for name in {getattr(row, key) for row in rows}}
        assert {row.code: row.estimated for row in results} == wanted
        assert sum_money([row.estimated for row in results]) == compared.total.estimated == example_estimate.cost
    assert compared.total.hours_estimated == pytest.approx(example_estimate.hours, abs=1e-4)
    assert compared.not_spent == compared.codes


@pytest.mark.parametrize("seed", range(30))
def test_estimated_sums_to_the_direct_cost_under_any_terms(seed):
    """Jobs far from the examples, taxed and rounded in every way: no cent of the direct cost is left out or counted twice."""
    made = random_estimate(seed)
    compared = compare_spent(made, ())
    assert sum_money([row.estimated for row in compared.codes]) == sum_money([row.estimated for row in compared.types]) == made.cost


def test_difference_in_money_share_and_hours(compared):
    """Frame of cabinet: 714.25 spent; the difference, its share and the hours follow from what was estimated."""
    row = next(row for row in compared.codes if row.code == "310")
    assert row.difference == Decimal("714.25") - row.estimated
    assert row.share == pytest.approx(row.difference / row.estimated)
    assert row.hours_difference == pytest.approx(11.5 - row.hours_estimated)
    assert sum_money([row.difference for row in compared.codes]) == compared.total.difference == compared.total.spent - compared.total.estimated


def test_codes_without_spending_and_spending_without_an_estimate(compared):
    """The wall was not patched yet; the plate of the disposer was in no estimate."""
    assert [(row.code, row.rows, row.spent) for row in compared.not_spent] == [("710", 0, Decimal("0.00"))]
    assert [(row.code, row.planned, row.estimated, row.share) for row in compared.not_estimated] == [("430", False, Decimal("0.00"), None)]


def test_what_the_price_leaves_moves_with_the_spending(made, compared):
    """Revenue is the price, no tax being only passed on here; what is left falls by what was overspent."""
    assert compared.revenue == made.price
    assert compared.left_estimated == made.price - made.cost
    assert compared.left_spent == made.price - Decimal("6572.46")


def test_tax_that_is_passed_on_is_no_revenue(made, lists):
    """Sales tax collected on top is owed and leaves nothing over cost."""
    taxed = kit.estimate(kit.job.change_job(made.job_as_read, {"terms.tax_on": "everything"}), lists)
    collected = taxed.amount("tax-collected")
    assert collected > 0
    assert compare_spent(taxed, ()).revenue == taxed.price - collected


AMOUNTS = st.lists(st.tuples(st.integers(-10_000_000, 10_000_000), st.sampled_from(["110", "310", "430", "510"])), min_size=1, max_size=40)


@given(AMOUNTS)
def test_no_cent_is_lost_whatever_is_spent(made, lists, amounts):
    """By code, by kind and together the spent sums are those of the rows, in whole cents."""
    rows = [f"2026-03-17,{code},material,x,{cents / 100:.2f},USD,,,,{'yes' if cents < 0 else ''}," for cents, code in amounts]
    compared = compare_spent(made, parse_spent(table(*rows), "s.csv", lists))
    hand_cents = sum(cents for cents, _ in amounts)
    for results in (compared.codes, compared.types, (compared.total,)):
        assert sum(row.spent for row in results) * 100 == hand_cents
