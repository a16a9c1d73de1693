"""What to expect of an estimate: risk through the whole chain, on shipped examples and changed ones."""

import math
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from statistics import fmean, stdev

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated
from work_jobs import lists as shipped_lists

from kit import Estimate, Lists, estimate, read_job, revalue, shipped
from kit.errors import KitError
from kit.job import change_job
from kit.outlook import JobRisk, ahead_of, assess_risk, plan_schedule, set_contingency, site_risks_of, without_disposer
from kit.units import round_up_days

FEW = 4000


def certain(used: Lists) -> Lists:
    """The lists without any spread or chance."""
    company = replace(used.company, price_spread=(0.0, 0.0), waste_spread=(0.0, 0.0))
    rates = {name: replace(rate, low_h=rate.likely_h, high_h=rate.likely_h) for name, rate in used.rates.items()}
    hired = {key: replace(row, low_h=row.likely_h, high_h=row.likely_h) for key, row in used.hired.items()}
    leads = {name: replace(row, low_days=row.likely_days, high_days=row.likely_days) for name, row in used.lead_times.items()}
    risks = tuple(replace(row, chance=0.0) for row in used.site_risks)
    return replace(used, company=company, rates=rates, hired=hired, lead_times=leads, site_risks=risks)


def test_the_calendar_is_worked_out_once_for_an_estimate_and_anew_for_another():
    """Every paper asks for it. An estimate that goes out after its signature was expected, or whose steps take longer, has a calendar of its own."""
    found = estimated(STONE)
    told = plan_schedule(found)
    assert plan_schedule(found) is told
    late = ahead_of(found, found.job.identity.visit_date + timedelta(days=90))
    slow = replace(found, tasks=tuple(replace(task, duration_h=task.duration_h * 2.0) for task in found.tasks))
    assert plan_schedule(late).finish > told.finish
    assert plan_schedule(slow).finish > told.finish
    assert plan_schedule(found) is told


def test_the_plain_cost_is_that_of_the_estimate(example_estimate: Estimate):
    """To the cent, tax paid among it."""
    risk = assess_risk(example_estimate, trials=FEW)
    assert risk.cost.base == example_estimate.cost
    assert str(risk.cost.base) == f"{example_estimate.cost:.2f}"
    assert risk.finish.base == plan_schedule(example_estimate).finish


def test_no_spread_and_no_chance_give_the_plain_estimate(example: Path, lists: Lists):
    """Cost to the cent, finish to the minute, no contingency, no drivers."""
    made = estimate(read_job(example), certain(lists))
    risk = assess_risk(made, trials=501)
    for chance in (0.0, 0.1, 0.5, 0.8, 1.0):
        assert risk.cost_at(chance) == made.cost
        assert abs((risk.finish_at(chance) - plan_schedule(made).finish).total_seconds()) <= 30
    assert risk.contingency == 0
    assert (risk.cost.drivers, risk.effects) == ((), ())


def test_the_same_seed_gives_the_same_trials(example_estimate: Estimate):
    """And another seed others, a little beside."""
    first, again, other = (assess_risk(example_estimate, seed=seed, trials=FEW) for seed in (5, 5, 6))
    assert first == again
    assert first.cost.deviations != other.cost.deviations
    assert float(other.cost_at(0.8)) == pytest.approx(float(first.cost_at(0.8)), rel=0.03)  # few trials


@settings(deadline=None, max_examples=25)
@given(st.integers(0, 400))
@example(63)
def test_p80_is_never_below_p50(seed):
    """Cost and finish of jobs by chance; the contingency holds with its confidence; losing is less likely at a better price."""
    risk = assess_risk(random_estimate(seed), seed=seed, trials=600)
    for at in (risk.cost_at, risk.finish_at):
        assert at(0.1) <= at(0.5) <= at(0.8) <= at(0.9)
    half_a_cent = Decimal("0.005")  # the contingency is to the cent, so trials may lie that far above it
    assert risk.cost.chance_to_lose(risk.cost.base + risk.contingency + half_a_cent) <= 1 - risk.confidence + 1e-9
    assert risk.chance_to_lose <= risk.chance_to_miss_overhead
    assert sum(driver.share for driver in risk.cost.drivers) == pytest.approx(1)
    shares = [driver.share for driver in risk.cost.drivers]
    assert shares == sorted(shares, reverse=True)


def test_more_trials_only_narrow_the_error():
    """The P80 of sixteen times the trials varies less over twenty seeds, around the same amount."""
    found = estimated(STONE)
    few, many = ([float(assess_risk(found, seed=seed, trials=trials).cost_at(0.8)) for seed in range(20)] for trials in (500, 8_000))
    assert stdev(many) < 0.6 * stdev(few)
    assert fmean(many) == pytest.approx(fmean(few), abs=4 * stdev(few))


def test_settings_are_the_companys_unless_given():
    """Seed, correlation and confidence of company.csv; an own confidence moves the contingency only."""
    found = estimated(STONE)
    plain, sure = assess_risk(found, trials=FEW), assess_risk(found, trials=FEW, confidence=0.95)
    company = found.lists.company
    assert (plain.cost.seed, plain.cost.correlation, plain.confidence) == (company.risk_seed, company.risk_correlation, company.risk_confidence)
    assert sure.contingency > plain.contingency
    assert f"${plain.contingency:,} is enough in 4 in 5 trials" in plain._repr_html_()
    assert sure.cost == plain.cost
    with pytest.raises(KitError, match=r"A confidence of 1\.5 can't be right\. Give 0 to 1"):
        assess_risk(found, confidence=1.5)
    with pytest.raises(KitError, match=r"correlation: -0\.1 can't be right"):
        assess_risk(found, correlation=-0.1)


def test_more_correlation_spreads_wider():
    """Hours that go wrong together."""
    found = estimated(STONE)
    narrow, wide = (assess_risk(found, trials=FEW, correlation=correlation) for correlation in (0.0, 0.8))
    assert wide.cost_at(0.9) - wide.cost_at(0.1) > narrow.cost_at(0.9) - narrow.cost_at(0.1)


# --- what may be found in the house ---


@pytest.mark.parametrize(
    ("changes", "wanted", "unwanted"),
    [
        ({}, {"floor-hidden", "sides-swollen", "counter-glued", "sink-damaged", "top-remade"}, {"floor-rotten", "valve-stuck", "drain-bad", "blank-spoiled"}),
        ({"cabinet.wet_floor": True}, {"floor-rotten"}, {"floor-hidden"}),
        ({"cabinet.swollen_side": "both"}, set(), {"sides-swollen"}),
        ({"site.main_shutoff_closes": False}, {"valve-stuck"}, set()),
        ({"plumbing.stop_age": "new"}, set(), {"stop-fails"}),
        ({"old.counter_fixing": "glued"}, set(), {"counter-glued"}),
        ({"old.drain_photographed": False}, {"drain-bad"}, set()),
        ({"plumbing.stub_height": "unknown"}, {"stub-high"}, set()),
        ({"plumbing.vent_seen": False}, {"vent-missing"}, set()),
        ({"scope.sink": {"supplied_by": "stays", "installed_by": "nobody"}}, set(), {"sink-damaged"}),
    ],
)
def test_which_site_risks_count(changes, wanted, unwanted):
    """Each by its condition."""
    found = {risk.risk for risk in site_risks_of(estimated(STONE, changes))}
    assert wanted <= found
    assert not unwanted & found


def test_a_site_risk_costs_and_delays():
    """A sink that surely arrives damaged costs its hours and two weeks, before anything is taken apart."""
    damaged = tuple(replace(row, chance=1.0 if row.risk == "sink-damaged" else 0.0) for row in shipped_lists().site_risks)
    used = certain(shipped_lists())
    made = estimated(STONE, {"terms.validity_days": 11}, replace(used, site_risks=damaged))
    risk = assess_risk(made, trials=501)
    hand_least, hand_most = Decimal("0.5") * made.tasks[0].rate, 200 + 2 * made.tasks[0].rate
    assert hand_least - Decimal("0.5") <= risk.cost_at(0) - made.cost <= risk.cost_at(1) - made.cost <= hand_most + Decimal("0.5")
    assert (risk.finish_at(0) - plan_schedule(made).finish).days >= 13  # two weeks, of which a part falls into spare time
    assert [driver.chance for driver in risk.cost.drivers] == [1.0]


def test_a_slow_fabricator_moves_the_finish_and_not_the_cost():
    """Five days more at worst, the same price."""
    used = certain(shipped_lists())
    fabrication = used.lead_times["stone"]
    slow = replace(used, lead_times={**used.lead_times, "stone": replace(fabrication, high_days=fabrication.likely_days + 5)})
    plain, late = (assess_risk(estimated(STONE, {"terms.validity_days": 12}, one), trials=1001) for one in (used, slow))
    assert late.cost_at(0.9) == plain.cost_at(0.9)
    assert late.finish_at(0.9) > plain.finish_at(0.9)
    assert (late.finish_at(1.0) - plain.finish_at(1.0)).days <= 8


def test_a_counted_piece_is_bought_once():
    """Waste spread buys no second sink and no second faucet."""
    risk = assess_risk(estimated(STONE), trials=FEW)
    waste = {driver.id for driver in risk.cost.drivers if driver.id.endswith("/waste")}
    assert "buy:fired-clay-apron-33/waste" not in waste
    sink = next(driver for driver in risk.cost.drivers if driver.id == "buy:fired-clay-apron-33/price")
    assert sink.high < Decimal("0.09") * 980 * Decimal("1.06")


def test_a_dearer_price_brings_tax_only_where_the_tax_is_ours():
    """What a faucet may cost more carries 6 percent tax only where we pay it; dust sheets, which the work uses up, carry it either way."""
    used = shipped_lists()
    bought = ("faucet", "dust-sheet")
    highs = {}
    for tax_on in ("material-cost", "everything", "exempt"):
        made = estimated(STONE, {"terms.tax_on": tax_on}, used)
        drivers = {driver.id: driver.high for driver in assess_risk(made, trials=FEW).cost.drivers}
        highs[tax_on] = [drivers[f"buy:{name}/price"] for name in bought]
    ratios = {tax_on: [float(high / plain) for high, plain in zip(found, highs["exempt"], strict=True)] for tax_on, found in highs.items()}
    hand = {"material-cost": [1.06, 1.06], "everything": [1.0, 1.06], "exempt": [1.0, 1.0]}
    for tax_on, wanted in hand.items():
        assert ratios[tax_on] == pytest.approx(wanted, abs=0.02), tax_on  # a cent of the dust sheets is a hundredth of it


# --- what drives it ---


def test_what_a_driver_does_to_price_and_margin():
    """(1 + 4 % + 22 %) / (1 - 12 %) dollars of price for a dollar of cost; a point of margin for a hundredth of the price.

    The slope is measured between two prices in whole cents: a ten-thousandth of it is theirs.
    """
    found = estimated(STONE)
    risk = assess_risk(found, trials=FEW)
    hand_slope = 1.26 / 0.88
    for driver, effect in zip(risk.cost.drivers, risk.effects, strict=True):
        assert float(effect.price_high) == pytest.approx(float(driver.high) * hand_slope, rel=1e-4, abs=0.02)
        assert effect.margin_high == pytest.approx(-float(driver.high) / float(found.price))
        assert effect.label == driver.label


def test_drivers_are_called_as_people_call_them():
    """Steps by their label, goods by their name."""
    labels = [driver.label for driver in assess_risk(estimated(STONE), trials=FEW).cost.drivers]
    assert "Hours: Build the support frame" in labels
    assert "Price: 33 in fireclay apron-front sink" in labels
    assert not any(label in {"build-frame", "fired-clay-apron-33"} for label in labels)


def test_at_the_least_charge_the_price_does_not_follow_the_cost():
    """What costs more there, costs margin only."""
    found = estimated(STONE)
    tiny = revalue(found, {}, {}, {"in:least": Decimal(90_000)})
    risk = assess_risk(tiny, trials=FEW)
    assert {effect.price_high for effect in risk.effects} == {Decimal("0.00")}
    assert risk.chance_to_lose == 0


def test_hours_set_beyond_their_span_are_tried_all_the_same():
    """A rate that somebody set in the sheet far above its high value widens the span instead of failing."""
    risk = assess_risk(revalue(estimated(STONE), {}, {"frame-member": 2.0}, {}), trials=FEW)
    assert risk.cost_at(0.5) > 0


# --- contingency ---


def contingency_of(job, used: Lists) -> tuple[Estimate, JobRisk]:
    made = estimate(job, used)
    return made, assess_risk(made, trials=FEW)


def test_a_contingency_goes_into_the_terms_as_an_amount(example: Path, lists: Lists):
    """With confidence and seed; the price holds it in place of the share, and a change of the job leaves it as it is."""
    job = read_job(example)
    before, risk = contingency_of(job, lists)
    held = set_contingency(job, risk)
    assert (held.terms.contingency_amount, held.terms.contingency_confidence_share, held.terms.contingency_seed) == (risk.contingency, 0.8, 1)
    after = estimate(held, lists)
    assert after.amount("contingency") == risk.contingency
    assert after.cost == before.cost
    assert "enough in 4 in 5 trials, seed 1" in next(term.label for term in after.terms.inputs if term.id == "in:contingency")
    heavier = estimate(change_job(held, {"sink.weight": "60 lb"}), lists)
    assert heavier.amount("contingency") == risk.contingency


def test_price_with_the_contingency_by_hand(lists: Lists):
    """(cost + contingency + 22 % of cost) / 0.88."""
    job = change_job(read_job(shipped("examples") / f"{STONE}.toml"), {"terms.contingency_amount": "500.00 USD"})
    made = estimate(job, lists)
    hand_price = round((float(made.cost) * 1.22 + 500) / 0.88, 2)
    assert float(made.price) == pytest.approx(hand_price, abs=0.011)


def test_the_price_without_the_disposer_stands_beside_it() -> None:
    """Where the disposer brings the drain down, the same job without it is priced; elsewhere there is nothing to say."""
    lowered = estimate(read_job(shipped("examples") / "corner_dishwasher_drain_down.toml"), shipped_lists())
    plain = without_disposer(lowered)
    assert plain is not None
    assert plain.price < lowered.price
    assert (plain.design.drain.lower_by_in or 0.0) < (lowered.design.drain.lower_by_in or 0.0)
    assert not any(line.step == "connect-disposer" for line in plain.lines)
    assert without_disposer(plain) is None


@pytest.mark.parametrize("stem", STEMS)
def test_days_without_a_sink_are_those_between_the_half_days_that_stand_beside_them(stem):
    """From Thu, Mar 26, morning to Mon, Apr 13, morning are 18 days, though the tests end seven minutes later in it than the tear-out did."""
    found = plan_schedule(estimated(stem))
    hand_halves = (found.sink_back.date() - found.sink_out.date()).days * 2 + (found.sink_back.hour >= 12) - (found.sink_out.hour >= 12)
    said = round_up_days(found.days_without_sink)
    if hand_halves >= 4:
        assert said == math.ceil(hand_halves / 2)
    else:
        assert said <= hand_halves / 2


def test_more_than_the_same_half_of_a_day_is_half_a_day_more():
    """By hand: 18 days and 4 hours are the same half of a day, 18 days and 5 hours are not; a day and 2 hours likewise."""
    assert [round_up_days(days) for days in (18.0, 18 + 4 / 24, 18 + 5 / 24, 1 + 2 / 24, 1 + 5 / 24)] == [18.0, 18.0, 19.0, 1.0, 1.5]
