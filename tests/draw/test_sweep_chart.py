"""The chart of a field that is swept: whole on a tablet, every price that has room."""

import re
from decimal import Decimal

import pytest

from kit.draw.sweep_chart import SweptValue, draw_sweep
from kit.draw.widths import PHONE, TABLET

AIR = 40.0


@pytest.mark.parametrize(("count", "narrow", "room"), [(8, False, TABLET), (3, False, TABLET), (20, False, TABLET), (8, True, PHONE)])
def test_a_chart_is_no_wider_than_its_room(count: int, narrow: bool, room: float) -> None:
    """Eight widths of a base with prices of four digits stand whole on a tablet, each with its price; on a telephone with some of them."""
    values = [SweptValue(f"{32 + at} in", Decimal(8900 + at), at > 1) for at in range(count)]
    chart = draw_sweep("Price by sink base width", values, "Price lists: invented.", narrow=narrow)
    assert float(re.search(r'width="([\d.]+)', chart)[1]) <= room + AIR  # type: ignore[index]
    assert chart.count(">$8,9") == (count if count < 9 and not narrow else chart.count(" in<"))
    assert chart.count(">$8,9") >= 2
