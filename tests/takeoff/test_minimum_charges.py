"""Minimum charges of hired trades, shops and the dump."""

from decimal import Decimal

import pytest
from takeoff_jobs import changed, lists

from kit.estimating import estimate, revalue
from kit.money import sum_money

HIGH = {"plumbing.stub_height": "24 in"}


def bought(changes=None, company=None):
    return {purchase.id: purchase for purchase in estimate(changed(changes or {}), company or lists()).purchases}


def test_a_plumber_comes_for_no_less_than_his_minimum():
    """Plastic takes 3 1/4 h at 118: 383.50, above 236; a strainer alone takes 1/4 h, 29.50, and 206.50 are short of it."""
    assert "minimum-plumber" not in bought(HIGH)
    short = bought({"scope.strainer": {"supplied_by": "us", "installed_by": "trade"}})["minimum-plumber"]
    assert (short.supplier, short.need, short.amount) == ("Invented Plumber", 206.5, Decimal("206.50"))
    assert short.tops_up == ("hire-plumber",)


def test_a_shop_has_one_minimum_for_the_whole_job():
    """All that the shop does counts together, and no goods of a yard."""
    laminate = {"counter.item": "laminate-shop", "counter.material": "laminate", "counter.thickness": "1 1/2 in"}
    found = bought({**laminate, "counter.runs[1].length": "50 in", "counter.sink_center": "24 in", "counter.splash": "none"})
    shop = [purchase for purchase in found.values() if purchase.supplier == "Invented Top Shop" and purchase.id != "minimum-top-shop"]
    assert len(shop) > 3
    hand_short = Decimal("750.00") - sum_money([purchase.amount for purchase in shop])
    assert found["minimum-top-shop"].amount == hand_short > 0


def test_the_dump_has_a_minimum_at_its_gate():
    """6.50 for 100 lb: 24.00 is reached at 370 lb."""
    light, heavy = bought(), bought({"old.counter_material": "concrete"})
    hand_short = Decimal("24.00") - light["disposal"].amount
    assert light["minimum-tip"].amount == hand_short > 0
    assert heavy["disposal"].amount > 24
    assert "minimum-tip" not in heavy


def test_a_price_that_rises_eats_the_minimum_up():
    """Priced anew, what is charged for a small job stays the minimum until the work costs more."""
    small = estimate(changed({"scope.strainer": {"supplied_by": "us", "installed_by": "trade"}}), lists())
    for price, hand_short in (("100.00 USD", [Decimal("211.00")]), ("1000.00 USD", [])):
        purchases = revalue(small, {"hire-plumber": price}, {}, {}).purchases
        assert [purchase.amount for purchase in purchases if purchase.id == "minimum-plumber"] == hand_short


@pytest.mark.parametrize("drop", ["20 in", "24 in", "30 in"])
def test_a_minimum_never_makes_more_work_cheaper(drop):
    """The plumber costs at least his minimum."""
    paid = [purchase.amount for purchase in bought({"plumbing.stub_height": drop}).values() if purchase.supplier == "Invented Plumber"]
    assert sum_money(paid) >= 236
