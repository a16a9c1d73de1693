"""What a sheet of the estimate adds up to stands below it."""

import re

import pytest
from drawn import estimated

from kit import Estimate
from kit.draw.tables import draw_hours, draw_purchases
from kit.money import format_money

TAG = re.compile(r"<[^>]+>")


def last_row(table: str) -> list[str]:
    assert "<tr class='sk-sum'>" in table
    cells = table.rpartition("<tr class='sk-sum'>")[2].partition("</tr>")[0]
    return [text for cell in re.split(r"</t[hd]>", cells) if (text := TAG.sub("", cell))]


def test_purchases_end_in_what_they_cost(example_estimate: Estimate) -> None:
    """Of all rows added up again; without prices there is nothing to add up."""
    made = example_estimate
    table = draw_purchases(made.purchases, made.lists)
    assert last_row(table) == ["Total, before sales tax", format_money(sum(one.amount for one in made.purchases))]
    assert table.count("class='sk-why'") == len(made.purchases)
    assert "sk-sum" not in draw_purchases(made.purchases, made.lists, private=True)


def test_a_price_that_is_not_for_one_unit_says_for_how_much() -> None:
    """The dump charges $6.50 for 100 lb: what is read in its row gives its amount. Goods have their packs beside the price."""
    made = estimated()
    dump = next(one for one in made.purchases if one.item == "disposal")
    table = TAG.sub(" ", draw_purchases(made.purchases, made.lists))
    assert re.search(rf"Disposal at the dump [^$]+ lb +- +nothing +\$6\.50 per 100 lb +{re.escape(format_money(dump.amount))}", table)
    assert float(dump.amount) == pytest.approx(dump.need / 100 * 6.50, abs=0.0051)
    assert table.count(" per 100 ") == 1


def test_a_short_piece_is_needed_in_inches() -> None:
    """A tailpiece of 5 9/16 in and an arm of 8 3/16, as the cut plan has them: nobody measures 0.46 ft. Longer runs stay in feet."""
    made = estimated()
    table = TAG.sub(" ", draw_purchases(made.purchases, made.lists))
    for name, need in (("Slip-joint tube 1 1/2 in", "5 9/16 +in"), ("PVC drain pipe 1 1/2 in", "8 3/16 +in"), ("2x4 framing lumber", r"[\d.]+ +ft")):
        assert re.search(rf"{name} [^$]+ {need} ", table)


def test_a_minimum_charge_is_a_sum_of_money() -> None:
    """$13.40 to the dump's minimum of $24.00: two decimals, and no dollar is bought at a dollar; without prices it says no sum."""
    made = estimated()
    least = next(one for one in made.purchases if one.least is not None)
    table, private = (TAG.sub(" ", draw_purchases([least], made.lists, private=hidden)) for hidden in (False, True))
    assert float(least.need) == pytest.approx(13.40)
    assert re.search(r"Dump: added to reach the minimum +Invented Transfer Station +\$13\.40 +- +nothing +\$13\.40 ", table)
    assert table.count("$13.40") == 3  # needed, its amount, the total
    assert "$1.00" not in table
    assert "13.4" not in private


def test_worker_hours_end_in_hours_and_cost(example_estimate: Estimate) -> None:
    """The hours are those of the estimate, the amount that of all its tasks."""
    made = example_estimate
    labels = {step: row.name for step, row in made.lists.steps.items()}
    assert last_row(draw_hours(made.tasks, labels)) == ["Total", f"{made.hours:.2f}", format_money(sum(task.amount for task in made.tasks))]
