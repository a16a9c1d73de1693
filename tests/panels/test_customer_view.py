"""While the customer looks on, neither the page nor any message to it holds cost, wage, margin or hours; a reload does not end it."""

import datetime as dt
import re
from pathlib import Path

import pytest
from turning import control

import kit
from kit.draw.why import explain_number
from kit.errors import KitError
from kit.money import format_money
from kit.panels import Estimator
from kit.panels.visit_steps import STEPS

LEAST = 20  # USD: smaller amounts may be any other number
EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


def secrets(screen: Estimator) -> list[str]:
    """What must not be told: amounts of purchases, work, cost and all that is added to it, but for what the customer pays."""
    made = screen.estimate
    amounts = {one.amount for one in (*made.purchases, *made.tasks)} | {row.amount for row in made.build_up}
    told = {f"{amount:,.2f}" for amount in amounts - {made.price} if amount > LEAST}
    return [*told, "Overhead", "wage", "Margin", "Profit", "Own hours"]


def test_no_message_holds_cost(tmp_path: Path, sent):
    """Turned on from any step, changed from there, and after a new start; the work is back when it is turned off."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 2))
    for step in STEPS:
        screen.go(step.id)
    assert any(secret in message for secret in secrets(screen) for message in sent)  # the work does tell
    screen.ask_why("row:cost")
    sent.clear()
    screen._pressed("F2")
    screen.ask_why("row:cost")
    assert "Why? Set the sink<" in explain_number(screen.estimate, "task:set-sink", private=True)  # by its name
    screen.go("papers")
    screen.state.change({"cabinet.width": "39 in"})
    screen.state.settle()
    with pytest.raises(KitError, match="Papers are not made in the customer's view"):
        screen.papers.make("Workbook")
    assert screen.shown_price == format_money(screen.estimate.price)
    assert [secret for secret in secrets(screen) if any(secret in message for message in sent)] == []
    assert "Care" in screen.customer.value
    assert "hidden" not in screen.customer.value
    assert "color and finish: still to choose" in screen.customer.value
    assert "__" not in screen.customer.value  # on a screen nobody writes on a line
    assert re.findall("<th[^>]*col[^>]*>(.*?)</th>", screen.customer.value) == ["What", "As written down", "What", "When", "What", "How to look after it"]
    sent.clear()
    again = Estimator(folder=tmp_path / "jobs")
    assert again.looked_on
    assert again.shown_price == format_money(again.estimate.price)
    assert [secret for secret in secrets(again) if any(secret in message for message in sent)] == []
    again._pressed("F2")
    assert not again.looked_on
    assert control(again, "terms.profit").value == ""
    assert not Estimator(folder=tmp_path / "jobs").looked_on
