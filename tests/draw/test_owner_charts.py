"""The charts of an owner: bars and steps as long as their amounts, marks where the figures are, every word legible, nothing by color alone."""

import datetime as dt
import re
from dataclasses import replace
from decimal import Decimal
from functools import partial
from html import escape

import pytest
from drawn import STONE, boxes, estimated, job, lists, root, texts, touching, words

from kit.archive.compare_spent import CodeResult
from kit.compare.differences import Difference, list_differences
from kit.compare.figures import weigh_plan
from kit.compare.longer import WhyDays
from kit.compare.options import compare_alternates
from kit.draw.alternates import draw_options, draw_price_parts, draw_was_now, draw_why_days
from kit.draw.calendar_chart import draw_calendar
from kit.draw.cash_chart import draw_cash, draw_cash_days
from kit.draw.cost_bars import draw_bars
from kit.draw.price_steps import draw_price_steps
from kit.draw.small_section import draw_small_section
from kit.draw.spent_bars import draw_spent_bars
from kit.draw.spread import draw_cost_spread, draw_finish_spread
from kit.draw.tables import draw_risk
from kit.job import change_job
from kit.labor.clock import last_day
from kit.money import format_money
from kit.outlook import assess_risk, cash_of, plan_schedule
from kit.records import Level
from kit.units import format_day

CAUSES = [
    Difference("buy/a", "Stone", Decimal("1500.00"), Decimal("300.00")),
    Difference("do/b", "Own work: frame", Decimal("0.00"), Decimal("400.00"), 0.0, 8.0),
    *(Difference(f"buy/{number}", f"Small {number}", Decimal("0.00"), Decimal("2.00")) for number in range(10)),
    Difference("price", "Profit", Decimal("900.00"), Decimal("680.00")),
]
HAND_PARTS = [("hired trades and countertop shop", Decimal("12623.25")), ("fees, tax and the rest of cost", Decimal("162.41"))]
HAND_OLD, HAND_NEW = Decimal("9000.00"), Decimal("8000.00")  # 9000 - 1200 + 400 + 10 x 2 - 220


def test_a_price_steps_through_its_causes_to_the_other():
    """Each bar begins where the one before ends; the last one ends at the second price; small causes are one bar."""
    svg = draw_price_steps(("one", "other"), (HAND_OLD, HAND_NEW), CAUSES)
    bars = boxes(svg, "cause")
    lengths = [right - left for left, _, right, _ in bars]
    assert lengths[0] / lengths[1] == pytest.approx(1200 / 400, rel=0.01)
    hand_ways = [-1, 1, 1, 1, 1, 1, 1, -1, 1]  # five of the small ones keep their own bar, beside stone, frame and profit; the other five share one
    at = [edges[0] for edges in boxes(svg, "price")]
    place = at[0]
    for (left, _, right, _), way in zip(bars, hand_ways, strict=True):
        start, end = (right, left) if way < 0 else (left, right)
        assert start == pytest.approx(place, abs=0.3)
        place = end
    assert place == pytest.approx(at[1], abs=0.3)
    found = texts(svg)
    assert {"$9,000.00", "$8,000.00", "-$1,200.00", "+$400.00", "-$220.00"} <= set(found)
    assert any("smaller changes" in words for words in found)
    assert touching(words(svg)) == []


def test_the_price_of_one_job_is_drawn_with_its_parts():
    """Each part with its amount, to the cent; together the price."""
    made = estimated(STONE)
    at_desk, on_phone = re.findall(r"<svg.*?</svg>", draw_price_parts(made))
    assert float(root(on_phone).get("width")) <= 280 < float(root(at_desk).get("width"))
    found = texts(at_desk)
    amounts = [Decimal(says.rpartition("$")[2].replace(",", "")) for says in found if ": $" in says]
    assert (len(amounts), sum(amounts)) == (5, made.price)
    assert format_money(made.price) in found


def narrow_charts():
    """Each chart as a telephone shows it, by name: of an example, and of a contract with large amounts."""
    made = estimated(STONE)
    risk, schedule, cash = assess_risk(made, trials=500), plan_schedule(made), cash_of(made)
    options = [option for option in compare_alternates(job(STONE), lists()) if option.estimate is not None]
    first, last = options[0], options[-1]
    codes = [CodeResult("720", "Protection, clean-up and haul-away of debris", True, 3, Decimal("12540.00"), Decimal("13740.50"), 122.5, 124.0)]
    differences = list_differences(first.estimate, last.estimate)
    labels = {step: row.name for step, row in made.lists.steps.items()}
    return {
        "cost": partial(draw_cost_spread, risk),
        "finish": partial(draw_finish_spread, risk),
        "cash": partial(draw_cash, cash),
        "steps": partial(draw_price_steps, (first.title, last.title), (first.estimate.price, last.estimate.price), differences),
        "parts": partial(draw_bars, "What the price is made of", [(option.title, HAND_PARTS) for option in options]),
        "spent": partial(draw_spent_bars, "Estimated and spent", codes),
        "calendar": partial(draw_calendar, schedule, labels),
    }


def test_charts_are_whole_on_a_telephone():
    """Each fits 320 px of screen beside its margins, no words meet or are cut short, and what it says is what the one for a desk says."""
    for name, draw in narrow_charts().items():
        narrow, wide = draw(narrow=True), draw(narrow=False)
        assert float(root(narrow).get("width")) <= 280 < float(root(wide).get("width")) <= 742, name  # 742: what a tablet held upright has
        said, at_desk = " ".join(texts(narrow)), " ".join(texts(wide))
        assert set(re.findall(r"\$[\d,.]+\d", at_desk)) == set(re.findall(r"\$[\d,.]+\d", said)), name
        assert "..." not in said, name
        left, right = float(root(narrow).get("viewBox").split()[0]), sum(float(part) for part in root(narrow).get("viewBox").split()[0:3:2])
        assert all(left <= word.box[0] and word.box[2] <= right for word in words(narrow)), name
        assert touching(words(narrow)) == [], name
        assert touching(words(wide)) == [], name


def test_two_prices_that_are_the_same_are_still_a_drawing():
    """Nothing changes: two marks in one place."""
    svg = draw_price_steps(("one", "one"), (HAND_OLD, HAND_OLD), [])
    assert root(svg).get("role") == "img"
    assert boxes(svg, "cause") == []


def test_the_spread_marks_half_and_four_out_of_five():
    """The figures are those of the trials; the bars hold nearly all of them, four fifths of their height hatched."""
    risk = assess_risk(estimated(STONE), trials=2000)
    cost, finish = draw_cost_spread(risk), draw_finish_spread(risk)
    visit = risk.finish.midnight.date()
    for chance, start in ((0.5, "half"), (0.8, "4 in 5")):
        assert f"{start}: no more than {format_money(risk.cost_at(chance))} (P{chance * 100:.0f})" in texts(cost)
        assert f"{start}: done by {format_day(last_day(risk.finish_at(chance)), beside=visit)} (P{chance * 100:.0f})" in texts(finish)
    hand_ends = [(risk.cost_at(0.005), risk.cost_at(0.995)), (last_day(risk.finish_at(0.005)), last_day(risk.finish_at(0.995)))]
    assert {format_money(amount) for amount in hand_ends[0]} <= set(texts(cost))  # what the scale begins and ends with
    assert {format_day(hand_ends[1][0]), format_day(hand_ends[1][1], beside=hand_ends[1][0])} <= set(texts(finish))
    assert f">4 in 5</th><td class='sk-number'>{format_money(risk.cost_at(0.8))}<" in draw_risk(risk)
    planned = last_day(risk.finish.base)
    end = dt.datetime.combine(planned + dt.timedelta(days=1), dt.time())
    by_then = sum(risk.finish.midnight + dt.timedelta(hours=hours) <= end for hours in risk.finish.hours)
    assert 0 < by_then < 2000
    assert f"The calendar ends on {format_day(planned)}: each step and wait takes its likely time. {by_then / 2000:.0%} of the trials" in draw_risk(risk)
    for svg in (cost, finish):
        assert float(root(svg).get("width")) <= 610  # two beside each other at a desk, letters at full size
        assert root(svg).get("role") == "img"
        bars = [element for element in root(svg).iter() if element.get("data-part") == "trials"]
        heights = {hatched: sum(_height(bar) for bar in bars if ("url" in (bar.get("fill") or "")) is hatched) for hatched in (True, False)}
        last = _height([bar for bar in bars if "url" in (bar.get("fill") or "")][-1])
        assert heights[True] - last < 0.8 * sum(heights.values()) < heights[True] + last
        assert touching(words(svg)) == []


def _height(bar):
    upper, lower = re.search(r"M\S+ (\S+)H\S+?V(\S+?)H", bar.get("d")).groups()
    return float(lower) - float(upper)


def test_the_cash_of_each_day_is_drawn_and_listed():
    """Our money above the line, the customer's below; the most of ours is said with its day."""
    plan = cash_of(estimated(STONE))
    svg, table = draw_cash(plan), draw_cash_days(plan)
    ups = [_height(bar) for bar in root(svg).iter() if bar.get("data-part") == "balance" and "url" in (bar.get("fill") or "")]
    assert len(ups) == sum(day.fronted > 0 for day in plan.days)
    assert max(ups) / min(ups) == pytest.approx(float(plan.most_fronted / min(day.fronted for day in plan.days if day.fronted > 0)), rel=0.05)
    assert f"our money out at most: {format_money(plan.most_fronted)} on {format_day(plan.worst.day)}" in texts(svg)
    ahead = min(plan.days, key=lambda day: day.fronted)
    assert ahead.fronted < 0
    assert f"customer furthest ahead: {format_money(-ahead.fronted)} on {format_day(ahead.day)}" in texts(svg)
    assert touching(words(svg)) == []
    for day in plan.days:
        assert f">{format_money(day.fronted)}</td>" in table


def test_each_option_has_its_row_its_section_and_its_reason():
    """Cost and margin are not among them: a customer may look on. Sections differ where the sink is set otherwise."""
    options = compare_alternates(change_job(job(STONE), {"cabinet.width": "33 1/2 in"}), lists())
    table, counted = draw_options(options), set()
    assert table.count("data-option=") == len(options)
    for option in options:
        row = table.split(f"data-option='{option.id}'")[1].split("</tr>")[0]
        assert escape(option.reason) in row or option.verdict == "usable"
        if option.estimate is not None:
            assert f">{format_money(option.estimate.price)}<" in row
            assert format_money(option.estimate.cost) not in row
            assert row.count("<svg") == 1
            stops = sum(finding.level is Level.STOP for finding in option.estimate.findings)
            counted.add(min(stops, 2))
            assert re.findall(r"(\d+) (stops?)<", row) == ([(str(stops), "stop" if stops == 1 else "stops")] if stops else [])
    assert {0, 2} <= counted
    kept = [option for option in options if option.counter_kept and option.estimate is not None]
    lines = re.findall(r'data-part="bowl"[^>]*stroke-width="([.\d]+)"', "".join(draw_small_section(option.estimate, option.name) for option in kept))
    assert min(map(float, lines)) >= 0.4  # in: a sheet of steel is seen where the picture is 72 px wide
    sections = {re.sub(r"aria-label.*?</title>", "", draw_small_section(option.estimate, option.name)) for option in kept}
    assert len(sections) == len(kept) == 3


def test_a_share_was_and_now_differ_by_what_is_shown():
    """30.16% and 30.44% are shown as 30.2% and 30.4%: 0.2 points apart, whatever further digits say. No change has no sign."""
    made = estimated("stone_apron_single_bowl")
    was = replace(weigh_plan(made), margin=Decimal("0.30159"))
    hand_rows = {"0.30435": "30.4%+0.2 points", "0.29951": "30.0%-0.2 points", "0.30201": "30.2%0.0 points"}
    for margin, hand_row in hand_rows.items():
        table = re.sub(r"<[^>]+>", "", draw_was_now("One", was, replace(was, margin=Decimal(margin))))
        assert f"Margin of the price30.2%{hand_row}" in table


def test_as_many_days_have_no_sign():
    """An alternate that waits for other things and is done on the same day: 0, never +0; more and fewer keep their sign."""
    option = next(option for option in compare_alternates(job(STONE), lists()) if option.estimate is not None)
    hand_days = {0.04: "0", 2.0: "+2", -3.54: "-3.5"}
    for days, hand_words in hand_days.items():
        assert f">{hand_words}<" in draw_why_days([option], {option.id: WhyDays(days, ("one wait for another",))})
