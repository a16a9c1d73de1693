"""Every published or certified instance of the data reaches its optimum. Sources: tests/data/cutting_data.md and the instances' own fields."""

from decimal import Decimal
from typing import Any

import pytest
from cutting_jobs import bars_of, bins_of, read_instances
from long_run import one_in
from plan_checks import certify_cuts, check_cuts, check_slabs

from kit.cutting.lengths import plan_cuts
from kit.cutting.slabs import plan_slabs

BARS = read_instances("cutting_stock_1d.json")
BINS = read_instances("slabs_2d.json")


@pytest.mark.parametrize("instance", BARS, ids=[f"{instance['name']} ({instance['source']})" for instance in BARS])
def test_stock_lengths_reach_the_published_optimum(instance: dict[str, Any]):
    """As many bars as the source says are needed, proven, and the piece values prove it again without the planner."""
    pieces, stock = bars_of(instance)
    plan = plan_cuts(pieces, stock, kerf_in=0.0)
    check_cuts(plan, pieces, stock, 0.0)
    known_bars = instance["optimum"]  # published, or certified by independent solvers: see `optimum_source`
    assert plan.cost == Decimal(known_bars)
    assert plan.proven
    assert certify_cuts(plan, pieces, stock, 0.0) == Decimal(known_bars)


def test_the_paper_mill_wastes_what_the_article_says():
    """73 rolls of 5600 mm lose 0.401 %, as printed."""
    pieces, stock = bars_of(next(instance for instance in BARS if instance["name"] == "papermill"))
    plan = plan_cuts(pieces, stock, kerf_in=0.0)
    check_cuts(plan, pieces, stock, 0.0)
    printed_waste = 0.00401
    waste = sum(stick.left_over_in for stick in plan.cut) / (5600 * len(plan.cut))
    assert waste == pytest.approx(printed_waste, abs=0.000005)


@pytest.mark.parametrize("instance", one_in(3, BINS), ids=[instance["name"] for instance in BINS])
def test_slabs_reach_the_free_optimum(instance: dict[str, Any]):
    """By through cuts no more slabs are needed than by the best free layout, which may need fewer and never more; so the plan is proven."""
    parts, slabs = bins_of(instance)
    plan = plan_slabs(parts, slabs, kerf_in=0.0)
    check_slabs(plan, parts, slabs, 0.0)
    known_free = Decimal(instance["optimum"])  # see `optimum_source`
    assert plan.cost == known_free
    assert plan.proven
