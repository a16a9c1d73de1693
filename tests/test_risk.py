"""Seeded trials of cost and finish, against scipy, numpy, the federal cost guide's table, and what must always hold."""

import subprocess
import sys
import tracemalloc
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from math import asin, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from kit.errors import KitError
from kit.labor.calendar import WorkCalendar
from kit.labor.schedule import Lead, plan_tasks
from kit.labor.three_point import beta_pert_quantiles, beta_pert_shape, beta_pert_variance, pert_mean
from kit.lists.work_rows import SiteRiskRow
from kit.records import PackedPart, Purchase, Task
from kit.risk import sampling
from kit.risk.cost import cost_risk, simulate_cost
from kit.risk.finish import finish_risk
from kit.risk.outcome import rank_of, weigh_driver
from kit.risk.sampling import Block, PointTable, draw_event, draw_item
from kit.risk.uncertain import RiskItem, task_item
from kit.steps import Step

FEDERAL = WorkCalendar()
MONDAY = date(2026, 6, 1)

# Cost Estimating and Assessment Guide (gao-20-195g), Table 12: low, likely, high in thousand dollars per air vehicle
PRINTED_TABLE_12 = (
    (17955, 19645, 21785),
    (8500, 10553, 13000),
    (4000, 4306, 5100),
    (4100, 4305, 4650),
    (550, 600, 650),
    (32300, 35547, 52500),
    (1950, 2136, 2600),
)


def item(name, low, likely, high, *, group="g", cost=1, **more):
    return RiskItem(name, name, low, likely, high, cost_per_unit=Decimal(cost), base=Decimal(str(round(likely * cost, 2))), group=group, **more)


def whole(trials):
    """All trials drawn at once."""
    return Block(0, (trials + 1) // 2, trials)


def site_risk(name, chance, cost, hours=(0.0, 0.0, 0.0), *, step=None, delay_days=0.0):
    return SiteRiskRow(name, name, chance, *map(Decimal, cost), "USD", *hours, "always", step, delay_days, "invented", "invented")


def task(step, hours, after=(), *, crew=1, rate="40.00", trade="crew", wait=0.0, clock="elapsed", amount=None):
    low, likely, high = hours
    return Task(
        step=step,
        line_ids=(),
        hours_low=low,
        hours_likely=likely,
        hours_high=high,
        crew=crew,
        duration_h=likely / crew,
        trade=trade,
        rate=Decimal(rate),
        amount=Decimal(amount) if amount else round(Decimal(str(likely)) * Decimal(rate), 2),
        factors=(),
        basis="invented",
        after=tuple(after),
        wait_h=wait,
        clock=clock,
    )


def purchase(name, amount, *, need=10.0, pack=4.0, packs=3, plan=()):
    return Purchase(
        id=name,
        line_ids=(),
        item=name,
        supplier="invented",
        price_row="",
        need=need,
        unit="ft",
        pack=pack,
        packs=packs,
        charged=float(packs),
        unit_price=Decimal(amount) / (packs or 1),
        amount=Decimal(amount),
        taxable=True,
        used=0.8,
        left_over="",
        plan=plan,
    )


SETTING = {"seed": 11, "trials": 20_000, "correlation": 0.2}
TABLE_12 = [item(f"row {n}", *points) for n, points in enumerate(PRINTED_TABLE_12)]


# --- draws --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("points", [(2, 4, 6), (3, 5, 9), (0, 0, 10), (0, 10, 10), (1, 1.2, 8)])
def test_draws_are_beta_pert(points):
    """Mean, spread and shape of 100,000 draws agree with scipy's beta distribution."""
    drawn = draw_item(item("x", *points), seed=3, block=whole(100_000), correlation=0.3)
    alpha, beta = beta_pert_shape(*points)
    judge = stats.beta(alpha, beta, loc=points[0], scale=points[2] - points[0])
    assert drawn.mean() == pytest.approx(judge.mean(), abs=4 * judge.std() / sqrt(100_000))
    assert drawn.std() == pytest.approx(judge.std(), rel=0.01)
    assert stats.kstest(drawn, judge.cdf).statistic < 1.95 / sqrt(100_000)  # the one-in-a-thousand bound
    assert points[0] <= drawn.min() < drawn.max() <= points[2]


def test_draws_beyond_five_standard_deviations_count_as_five():
    """Above and below; 1.25 of them is a node of the table, where the quantity is that of its chance to ten decimals."""
    table = PointTable(2.0, 3.0, 7.0)
    far, five = table.read(np.array([5.5, -5.5, 60.0, -60.0])), table.read(np.array([5.0, -5.0, 5.0, -5.0]))
    assert far.tolist() == five.tolist()
    assert table.read(np.array([1.25]))[0] == pytest.approx(beta_pert_quantiles(2, 3, 7, [stats.norm.cdf(1.25)])[0], abs=1e-10)


@pytest.mark.parametrize("correlation", [0.0, 0.2, 0.5, 0.9])
def test_items_of_a_group_correlate_as_set(correlation):
    """Rank correlation of a Gaussian copula is 6 / pi asin(rho / 2); items of other groups and of none don't correlate."""
    setting = {"seed": 5, "block": whole(100_000), "correlation": correlation}
    one, two = (draw_item(item(name, 1, 2, 5), **setting) for name in ("one", "two"))
    other, alone = draw_item(item("other", 1, 2, 5, group="h"), **setting), draw_item(item("alone", 1, 2, 5, group=""), **setting)
    hand_rank = 6 / pi * asin(correlation / 2)
    assert stats.spearmanr(one, two).statistic == pytest.approx(hand_rank, abs=0.015)
    for stranger in (other, alone):
        assert stats.spearmanr(one, stranger).statistic == pytest.approx(0, abs=0.015)


def test_an_item_draws_the_same_whatever_else_there_is():
    """Its own stream: alternates differ only by what differs."""
    alone = simulate_cost([TABLE_12[5]], **SETTING)
    risk = simulate_cost(TABLE_12, [site_risk("rot", 0.0, (1, 2, 3))], **SETTING)
    driver = next(found for found in risk.drivers if found.id == "row 5")
    assert driver.mean == alone.drivers[0].mean


@pytest.mark.parametrize("trials", [1, 2, 64, 1001])
def test_trials_worked_out_a_few_at_a_time_are_those_of_all_at_once(trials, monkeypatch):
    """Every trial of cost and finish, to the last bit, and the drivers beside them; an odd number too."""
    setting = {"seed": 4, "trials": trials, "correlation": 0.3}
    tasks = [task(Step.RECEIVE, (1, 2, 5)), task(Step.SET_SINK, (2, 3, 9), (Step.RECEIVE,), crew=2)]
    risks = [site_risk("rot", 0.3, (100, 200, 600), (1.0, 2.0, 4.0), step=Step.SET_SINK, delay_days=2.0)]
    items = [*TABLE_12, item("packs", 9, 10, 14, pack=2.5, packs=4)]
    cost, finish = simulate_cost(items, risks, hour_cost=Decimal(40), **setting), finish_risk(tasks, FEDERAL, MONDAY, risks, **setting)
    monkeypatch.setattr(sampling, "BLOCK", 50)
    few, early = simulate_cost(items, risks, hour_cost=Decimal(40), **setting), finish_risk(tasks, FEDERAL, MONDAY, risks, **setting)
    assert few.deviations.tobytes() == cost.deviations.tobytes()
    assert early.hours.tobytes() == finish.hours.tobytes()
    assert [(one.id, one.mean) for one in few.drivers] == [(one.id, one.mean) for one in cost.drivers]
    assert [one.share for one in few.drivers] == pytest.approx([one.share for one in cost.drivers], abs=1e-12)


def test_a_hundred_items_in_100000_trials_take_no_table_of_all_of_them():
    """A cost of 8 bytes for each item and trial would be 80 MB; half the draws are kept for the finish: 40 MB."""
    items = [item(f"of a hundred {n}", 10, 30, 90) for n in range(100)]
    tracemalloc.start()
    simulate_cost(items, seed=8, trials=100_000, correlation=0.2)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 60_000_000


def test_equal_drivers_stand_by_name_whatever_rounding_says():
    """All together and alike, so each has the same share to many digits."""
    names = ["c", "a", "e", "b", "d"]
    for seed in range(20):
        found = simulate_cost([item(name, 1, 2, 5, cost=40) for name in names], seed=seed, trials=500, correlation=1)
        assert [one.id for one in found.drivers] == sorted(names)


def test_site_risks_happen_as_often_as_their_chance():
    """Share of the trials, and what they cost on average: chance times mean."""
    risk = site_risk("rot", 0.15, (100, 200, 600))
    where, normals = draw_event(risk, seed=2, block=whole(100_000))
    assert len(where) / 100_000 == pytest.approx(0.15, abs=0.004)
    assert normals.mean() == pytest.approx(0, abs=0.03)
    found = simulate_cost([], [risk], seed=2, trials=100_000, correlation=0)
    hand_mean = 0.15 * pert_mean(100, 200, 600)
    assert float(found.mean) == pytest.approx(hand_mean, rel=0.02)
    assert found.quantile(0.8) == 0
    assert Decimal(100) <= found.quantile(0.9) <= Decimal(600)
    certain = simulate_cost([], [replace(risk, chance=1.0)], seed=2, trials=1001, correlation=0)
    assert Decimal(100) <= certain.quantile(0) <= certain.quantile(1) <= Decimal(600)


# --- the total ------------------------------------------------------------------------------------------------------------


def test_federal_table():
    """GAO-20-195G Table 12 (inputs printed): the likely sum of 77,092 is far below the mean and held in few trials only."""
    risk = simulate_cost(TABLE_12, seed=1, trials=100_000, correlation=0.0)
    hand_likely, hand_mean = 77_092, 79_668
    hand_sd = sqrt(sum(beta_pert_variance(*points) for points in PRINTED_TABLE_12))
    assert risk.base == hand_likely
    assert float(risk.mean) == pytest.approx(hand_mean, abs=10)
    assert np.std(risk.deviations) == pytest.approx(hand_sd, rel=0.01)
    assert risk.chance_to_lose(risk.base) > 0.7
    assert Decimal(69_355) <= risk.quantile(0) < risk.quantile(1) <= Decimal(100_285)
    assert risk.drivers[0].id == "row 5"  # the one row that can run away carries most of the spread
    hand_share = beta_pert_variance(*PRINTED_TABLE_12[5]) / hand_sd**2
    assert risk.drivers[0].share == pytest.approx(hand_share, abs=0.01)


@pytest.mark.parametrize(("correlation", "hand_sd"), [(0.0, 3.162), (0.2, 5.292), (0.3, 6.083), (1.0, 10.0)])
def test_ten_equal_items_spread_more_together(correlation, hand_sd):
    """Ten items of spread 1: the square root of 10 + 90 rho. The copula's correlation is a little above that of the quantities."""
    scale = 1 / sqrt(beta_pert_variance(0, 0.5, 1))
    items = [item(f"n{n}", 0, scale / 2, scale) for n in range(10)]
    risk = simulate_cost(items, seed=4, trials=50_000, correlation=correlation)
    assert np.std(risk.deviations) == pytest.approx(hand_sd, rel=0.02)


def test_all_together_quantiles_add_up_and_otherwise_not():
    """Only at correlation 1 is the sum of the items' P80 the P80 of the sum; below, it is less."""
    items = [item("a", 10, 20, 60), item("b", 5, 9, 10), item("c", 0, 0, 40)]
    hand_sum = sum(stats.beta(*beta_pert_shape(i.low, i.likely, i.high), loc=i.low, scale=i.high - i.low).ppf(0.8) for i in items)
    together = simulate_cost(items, seed=6, trials=100_000, correlation=1.0)
    assert float(together.quantile(0.8)) == pytest.approx(hand_sum, rel=0.005)
    assert float(simulate_cost(items, seed=6, trials=100_000, correlation=0.0).quantile(0.8)) < 0.97 * hand_sum


def test_quantiles_are_those_of_numpy():
    """The smallest trial that the wanted share of trials does not exceed."""
    risk = simulate_cost(TABLE_12, seed=1, trials=999, correlation=0.2)
    for chance in (0.0, 0.1, 0.5, 0.8, 0.9, 0.999, 1.0):
        judged = np.quantile(risk.deviations, chance, method="inverted_cdf")
        assert float(risk.quantile(chance) - risk.base) == pytest.approx(judged, abs=0.006)


@pytest.mark.parametrize("trials", [1, 2, 7, 1000])
def test_no_spread_and_no_chance_give_the_plain_estimate_to_the_cent(trials):
    """Cost, contingency and chance to lose, with amounts that binary fractions can't hold."""
    tasks = [task(Step.SEAL, (1.1, 1.1, 1.1), rate="41.37"), task(Step.FILL_TEST, (0.7, 0.7, 0.7), rate="41.37")]
    bought = [purchase("sealant", "8.99", need=12.0), purchase("board", "17.31"), purchase("permit", "250.00", pack=1.0, packs=0)]
    risk = cost_risk(tasks, bought, [site_risk("rot", 0.0, (100, 200, 300), (1, 2, 3))], seed=0, trials=trials, correlation=0.3)
    hand_base = Decimal("45.51") + Decimal("28.96") + Decimal("8.99") + Decimal("17.31") + Decimal("250.00")
    assert risk.base == risk.mean == hand_base
    for chance in (0.1, 0.5, 0.8, 0.9):
        assert risk.quantile(chance) == hand_base
        assert str(risk.quantile(chance)) == str(hand_base)
        assert risk.contingency(chance) == 0
    assert risk.chance_to_lose(hand_base) == 0
    assert risk.chance_to_lose(hand_base - Decimal("0.01")) == 1
    assert risk.drivers == ()


def test_chance_to_lose_falls_from_one_to_nothing():
    """At the median price half of the trials lose, at the P80 one in five; contingency brings the base there."""
    risk = simulate_cost(TABLE_12, seed=1, trials=20_000, correlation=0.2)
    assert risk.chance_to_lose(Decimal(69_000)) == 1
    assert risk.chance_to_lose(Decimal(101_000)) == 0
    assert risk.chance_to_lose(risk.quantile(0.5)) == pytest.approx(0.5, abs=0.001)
    assert risk.chance_to_lose(risk.quantile(0.8)) == pytest.approx(0.2, abs=0.001)
    assert risk.base + risk.contingency(0.8) == risk.quantile(0.8)
    assert risk.contingency(0.01) < 0 < risk.contingency(0.5)
    assert risk.chance_to_lose(risk.quantile(0.9)) == pytest.approx(0.1, abs=0.001)


cents_of = st.integers(0, 30_000).map(lambda cents: cents / 100)
points = st.tuples(cents_of, cents_of, cents_of).map(lambda drawn: (drawn[0], drawn[0] + drawn[1], drawn[0] + drawn[1] + drawn[2]))


@settings(deadline=None, max_examples=60)
@given(st.lists(points, max_size=5), st.lists(st.tuples(st.floats(0, 1), points), max_size=3), st.floats(0, 1), st.integers(0, 2**40), st.integers(1, 300))
def test_p80_is_never_below_p50(rows, risks, correlation, seed, trials):
    """Quantiles rise with the chance, lie between the sums of all lows and highs, and the drivers' shares sum to 1."""
    items = [item(f"i{n}", *row) for n, row in enumerate(rows)]
    events = [site_risk(f"r{n}", chance, row) for n, (chance, row) in enumerate(risks)]
    risk = simulate_cost(items, events, seed=seed, trials=trials, correlation=correlation)
    found = [risk.quantile(chance) for chance in (0, 0.1, 0.5, 0.8, 0.9, 1)]
    assert found == sorted(found)
    cents = 0.01 * (2 + len(rows))
    assert sum(row[0] for row in rows) - cents <= float(found[0])
    assert float(found[-1]) <= sum(row[2] for row in rows) + sum(row[2] for _, row in risks) + cents
    assert sum(driver.share for driver in risk.drivers) == pytest.approx(1 if np.ptp(risk.deviations) > 1e-6 else 0, abs=1e-6)
    assert [driver.share for driver in risk.drivers] == sorted((driver.share for driver in risk.drivers), reverse=True)


def test_more_trials_only_narrow_the_error():
    """Against the exact P80 of one item (scipy): sixteen times the trials, about a quarter of the error."""
    only = item("x", 10, 30, 90)
    judged = stats.beta(*beta_pert_shape(10, 30, 90), loc=10, scale=80).ppf(0.8)
    errors = []
    for trials in (100, 1_600, 25_600):
        found = [simulate_cost([only], seed=seed, trials=trials, correlation=0) for seed in range(60)]
        errors.append(sqrt(np.mean([(float(risk.quantile(0.8)) - judged) ** 2 for risk in found])))
    assert errors[0] > 2 * errors[1] > 4 * errors[2]


def test_mirrored_trials_leave_less_error_in_the_mean():
    """The mean of 2,000 trials varies less over 200 seeds than plain sampling would let it, and is not biased."""
    only = item("x", 10, 30, 90)
    means = [float(simulate_cost([only], seed=seed, trials=2_000, correlation=0).mean) for seed in range(200)]
    plain = sqrt(beta_pert_variance(10, 30, 90) / 2_000)
    assert np.std(means) < 0.5 * plain
    assert np.mean(means) == pytest.approx(pert_mean(10, 30, 90), abs=4 * np.std(means) / sqrt(200) + 0.001)


def test_the_same_seed_gives_the_same_bytes_in_another_process():
    """Nothing depends on the process, the order of sets or the hash seed; another seed gives other trials."""
    lines = (
        "from decimal import Decimal as D; from kit.lists.work_rows import SiteRiskRow; from kit.risk.cost import simulate_cost;"
        "from kit.risk.uncertain import RiskItem; from hashlib import sha256;"
        "r = simulate_cost([RiskItem('a', 'a', 1, 2, 5, D(40), D(80), 'hours'), RiskItem('b', 'b', 1, 3, 5, D(40), D(120), 'hours')],"
        " [SiteRiskRow('rot', 'rot', 0.2, D(10), D(20), D(50), 'USD', 0, 0, 0, 'always', None, 0, '', '')], seed={}, trials=5001, correlation=0.3);"
        "print(sha256(r.deviations.tobytes() + repr(r.drivers).encode()).hexdigest())"
    )
    outputs = [
        subprocess.run(
            [sys.executable, "-c", lines.format(seed)],
            env={"PYTHONHASHSEED": salt, "PYTHONPATH": ":".join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed, salt in ((7, "1"), (7, "2"), (8, "1"))
    ]
    assert outputs[0] == outputs[1]
    assert outputs[0] != outputs[2]


def test_importing_the_room_loads_no_numpy():
    """The slider waits for it, the start of the program doesn't."""
    lines = "import kit.risk.cost, kit.risk.finish, sys; print('numpy' in sys.modules, 'holidays' in sys.modules)"
    found = subprocess.run([sys.executable, "-c", lines], env={"PYTHONPATH": ":".join(sys.path)}, capture_output=True, text=True, check=True).stdout
    assert found.split() == ["False", "False"]


# --- drivers -------------------------------------------------------------------------------------------------------------------


def test_driver_of_an_item_by_hand():
    """One item of hours at 40 USD: P10 and P90 are scipy's, less the likely hours, times the rate."""
    risk = simulate_cost([item("frame", 2, 3, 7, cost=40)], **SETTING)
    driver = risk.drivers[0]
    judge = stats.beta(*beta_pert_shape(2, 3, 7), loc=2, scale=5)
    assert float(driver.low) == pytest.approx(40 * (judge.ppf(0.1) - 3), abs=0.02)
    assert float(driver.high) == pytest.approx(40 * (judge.ppf(0.9) - 3), abs=0.02)
    assert float(driver.mean) == pytest.approx(40 * (judge.mean() - 3), abs=0.5)
    assert driver.share == pytest.approx(1)
    assert driver.chance is None


def test_driver_of_a_site_risk_by_hand():
    """It adds nothing or what it costs on average, hours at their cost included."""
    risk = simulate_cost(
        [], [site_risk("drain in the wall", 0.25, (50, 100, 300), (2, 3, 10))], seed=1, trials=50_000, correlation=0, hour_cost=Decimal("45.00")
    )
    driver = risk.drivers[0]
    hand_high = pert_mean(50, 100, 300) + 45 * pert_mean(2, 3, 10)
    assert (driver.low, driver.chance) == (0, 0.25)
    assert float(driver.high) == pytest.approx(hand_high, abs=0.005)
    assert float(driver.mean) == pytest.approx(0.25 * hand_high, rel=0.02)
    assert [amount.as_tuple().exponent for amount in (driver.low, driver.mean, driver.high)] == [-2, -2, -2]  # all of it in cents
    by_itself = simulate_cost([], [site_risk("rot", 0.25, (50, 100, 300), (2, 3, 10))], seed=1, trials=10, correlation=0).drivers[0]
    assert by_itself.high == Decimal("125.00")  # (50 + 4 x 100 + 300) / 6; hours cost nothing where nobody says what one costs


def test_of_what_is_not_on_hand_the_first_pack_costs_too():
    """Between 1 and 2 of a need in packs of 2.5: one pack of 5.00."""
    risk = simulate_cost([item("x", 1.0, 1.5, 2.0, pack=2.5, cost=5)], seed=1, trials=10, correlation=0)
    assert {risk.quantile(chance) - risk.base for chance in (0, 0.5, 1)} == {Decimal("5.00")}


def test_what_a_driver_does_to_price_and_margin():
    """100 dollars more cost: 138 more price at 1.38 per dollar, or 2.5 points less margin at a price of 4,000."""
    risk = simulate_cost([], [site_risk("rot", 0.3, (100, 100, 100))], **SETTING)
    effect = weigh_driver(risk.drivers[0], income=Decimal(4000), price_per_cost=1.38)
    assert (effect.price_low, effect.price_high) == (Decimal("0.00"), Decimal("138.00"))
    assert (effect.margin_low, effect.margin_high) == (0, -0.025)
    # 12.345 dollars less and 45.675 more at 1.1 per dollar, to the cent: 13.58 and 50.24; of a price of a dollar 12.345 and 45.675 times as much
    both = weigh_driver(replace(risk.drivers[0], low=Decimal("-12.345"), high=Decimal("45.675")), income=Decimal(1), price_per_cost=1.1)
    assert (str(both.price_low), str(both.price_high), both.margin_low, both.margin_high) == ("-13.58", "50.24", 12.345, -45.675)
    assert weigh_driver(risk.drivers[0], income=Decimal("0.50"), price_per_cost=1).margin_high == -200
    with pytest.raises(KitError, match=r"A price of 0 USD has no margin"):
        weigh_driver(risk.drivers[0], income=Decimal(0), price_per_cost=1)


def test_a_share_of_the_trials_is_a_whole_number_of_them():
    """7 percent of 100 trials are the first 7, though 0.07 x 100 is a little more than 7 in binary; 7.1 percent take the eighth."""
    assert 0.07 * 100 > 7
    assert [rank_of(chance, 100) for chance in (0.0, 0.01, 0.07, 0.071, 1.0)] == [0, 0, 6, 7, 99]
    with pytest.raises(KitError, match=r"A chance of 1\.01 can't be right"):
        rank_of(1.01, 100)


def test_a_millionth_of_a_pack_is_dust():
    """12 of a need of 12.0000016 are three packs of 4; a hundred times that much more opens a fourth."""
    for need, hand in ((12.0000016, 0), (12.00016, 5)):
        risk = simulate_cost([item("x", need - 1e-7, need, need + 1e-7, pack=4.0, packs=3, cost=5)], seed=1, trials=10, correlation=0)
        assert risk.quantile(1) - risk.base == hand


def test_a_wait_with_spread_and_hours_without_a_likely_one_are_drawn():
    """Step of 0, 0, 6 h by two people, then a wait of 24, 24, 24 h or of 0, 24, 48: three working hours at most before it."""
    tasks = [task(Step.LEVEL, (0, 0, 6), crew=2), task(Step.SEAL, (1, 1, 1), [Step.LEVEL])]
    sure = finish_risk(tasks, FEDERAL, MONDAY, leads={Step.LEVEL: (Lead("goods", 24.0, 24.0, 24.0),)}, **SETTING)
    wide = finish_risk(tasks, FEDERAL, MONDAY, leads={Step.LEVEL: (Lead("goods", 0.0, 24.0, 48.0),)}, **SETTING)
    assert datetime.fromisoformat("2026-06-02 11:30") < sure.quantile(1) <= datetime.fromisoformat("2026-06-02 12:00")
    judge = stats.beta(*beta_pert_shape(0, 0, 6), loc=0, scale=6)
    hand_half = datetime.fromisoformat("2026-06-02 09:00") + timedelta(hours=judge.ppf(0.5) / 2)
    assert abs(sure.quantile(0.5) - hand_half) < timedelta(minutes=2)
    assert wide.quantile(0) < sure.quantile(0) <= sure.quantile(1) < wide.quantile(1)


# --- from tasks and purchases ----------------------------------------------------------------------------------------------------


def test_hours_above_the_likely_ones_cost_the_rate():
    """A minimum charge in the amount stays; hours beyond the likely ones add their rate."""
    risk = cost_risk([task(Step.SEAL, (2, 2, 6), rate="50.00", amount="180.00")], [], seed=1, trials=4001, correlation=0)
    assert risk.base == Decimal("180.00")
    assert Decimal("180.00") <= risk.quantile(0) < risk.quantile(1) <= Decimal("380.00")
    judge = stats.beta(*beta_pert_shape(2, 2, 6), loc=2, scale=4)
    assert float(risk.quantile(0.8)) == pytest.approx(180 + 50 * (judge.ppf(0.8) - 2), abs=3)


def test_prices_move_by_shares_and_together():
    """Two purchases of 100: the spread of 5 percent down and 20 up is wider when all prices move together."""
    bought = [purchase("a", "100.00"), purchase("b", "100.00")]
    alone, together = (cost_risk([], bought, seed=1, trials=20_000, correlation=rho, price_spread=(-0.05, 0.20)) for rho in (0.0, 1.0))
    assert alone.base == together.base == Decimal("200.00")
    assert Decimal(190) <= alone.quantile(0) < alone.quantile(1) <= Decimal(240)
    hand_sd = 100 * sqrt(beta_pert_variance(-0.05, 0, 0.20))
    assert np.std(alone.deviations) == pytest.approx(sqrt(2) * hand_sd, rel=0.02)
    assert np.std(together.deviations) == pytest.approx(2 * hand_sd, rel=0.02)


def test_waste_costs_nothing_until_the_packs_are_used_up():
    """10 ft of 12 ft in three packs: 15 percent more still fit, 30 percent more may need a fourth pack, never half a one."""
    bought = [purchase("trim", "30.00", need=10.0, pack=4.0, packs=3)]
    assert cost_risk([], bought, seed=1, trials=5000, correlation=0, waste_spread=(-0.1, 0.15)).quantile(1) == Decimal("30.00")
    wide = cost_risk([], bought, seed=1, trials=5000, correlation=0, waste_spread=(0.0, 0.30))
    assert {wide.quantile(chance) for chance in (0.0, 0.5, 0.8, 0.99, 1.0)} == {Decimal("30.00"), Decimal("40.00")}
    hand_chance = stats.beta(1, 5, scale=3).sf(2)  # need beyond 12 ft
    assert wide.chance_to_lose(Decimal("30.00")) == pytest.approx(hand_chance, abs=0.003)
    less = cost_risk([], bought, seed=1, trials=200_000, correlation=0, waste_spread=(-0.9, 0.30))  # from 1 to 13 ft
    assert less.chance_to_lose(Decimal("30.00")) == pytest.approx(stats.beta(4, 2, loc=1, scale=12).sf(12), abs=0.002)


def test_planned_pieces_hired_work_and_fees_have_no_waste():
    """Their spread is that of the price alone."""
    planned = purchase("board", "30.00", plan=(PackedPart("stick", 96.0, 0.0, ("rail",), "none"),))
    fee = purchase("permit", "250.00", packs=0)
    assert cost_risk([], [planned, fee], seed=1, trials=500, correlation=0, waste_spread=(0.0, 0.9)).drivers == ()


def test_hours_of_site_risks_cost_what_an_own_hour_costs():
    """Own tasks of 100 USD for 2 h set 50 USD an hour, one of half an hour among them; a hired trade does not count."""
    own = [task(Step.SEAL, (1.5, 1.5, 1.5), rate="45.00", amount="90.00"), task(Step.SET_SINK, (0.5, 0.5, 0.5), rate="20.00", amount="10.00")]
    tasks = [*own, task(Step.ROUGH_DRAIN, (1, 1, 1), trade="plumber", rate="120.00")]
    rot = site_risk("rot", 1.0, (0, 0, 0), (3, 3, 3))
    assert cost_risk(tasks, [], [rot], seed=1, trials=10, correlation=0).quantile(0.5) == Decimal("370.00")
    with pytest.raises(KitError, match=r"rot has hours, but the job has no own hours that say what an hour costs"):
        cost_risk(tasks[2:], [], [rot], seed=1, trials=10, correlation=0)
    assert cost_risk([], [], [site_risk("rot", 1.0, (5, 5, 5))], seed=1, trials=10, correlation=0).mean == Decimal("5.00")


@pytest.mark.parametrize(
    ("items", "more", "wording"),
    [
        ([item("a", 3, 2, 5)], {}, r"a: 3, 2, 5 are no low, likely and high"),
        ([item("a", 1, 2, 5), item("a", 1, 2, 5)], {}, r"a is there twice and would draw the same twice"),
        ([item("a", 1, 2, 5, pack=-1)], {}, r"a: A pack of -1 can't be right"),
        ([], {"trials": 0}, r"trials: 0 trials show nothing"),
        ([], {"correlation": 1.5}, r"correlation: 1\.5 can't be right"),
        ([], {"correlation": float("nan")}, r"correlation: nan can't be right"),
        ([], {"seed": -1}, r"seed: -1 is no seed"),
    ],
)
def test_what_cannot_be_drawn_is_named(items, more, wording):
    """Points out of order, impossible chances and settings, doubled ids."""
    with pytest.raises(KitError, match=wording):
        simulate_cost(items, **(SETTING | more))


def test_all_faults_come_at_once():
    """Two bad items and a bad setting, three faults."""
    with pytest.raises(KitError, match=r"trials") as caught:
        simulate_cost([item("a", 3, 2, 5), item("b", 3, 2, 5)], seed=1, trials=0, correlation=0)
    assert len(caught.value.faults) == 3


def test_a_confidence_above_one_is_refused():
    """Eighty is not 0.8."""
    with pytest.raises(KitError, match=r"A chance of 80 can't be right\. Give 0 to 1"):
        simulate_cost(TABLE_12, seed=1, trials=10, correlation=0).contingency(80)


# --- finish ----------------------------------------------------------------------------------------------------------------------------


def share_done(risk, when):
    """Share of the trials that are done by then."""
    return np.mean(np.array(risk.hours) <= (when - risk.midnight) / timedelta(hours=1))


def chain():
    """Three invented steps: level, seal with a cure of 24 h, test."""
    return [
        task(Step.LEVEL, (4, 6, 12), crew=1),
        task(Step.SEAL, (1, 2, 3), [Step.LEVEL], wait=24.0),
        task(Step.FILL_TEST, (0.5, 1, 1.5), [Step.SEAL]),
    ]


def test_finish_without_spread_is_the_schedule():
    """Every quantile is the plain finish, which all trials make."""
    tasks = [task(found.step, (found.hours_likely,) * 3, found.after, wait=found.wait_h) for found in chain()]
    risk = finish_risk(tasks, FEDERAL, MONDAY, **SETTING)
    hand_finish = datetime.fromisoformat("2026-06-02 16:00") + timedelta(hours=17)  # sealed Monday 16:00, cured Tuesday 16:00, tested Wednesday
    assert risk.base == hand_finish
    assert {risk.quantile(chance) for chance in (0, 0.5, 0.8, 1)} == {hand_finish}
    assert len(risk.hours) == SETTING["trials"]


def test_finish_with_spread():
    """Quantiles rise, lie in working time, and 80 percent of the trials or more are done by the P80."""
    risk = finish_risk(chain(), FEDERAL, MONDAY, **SETTING)
    found = [risk.quantile(chance) for chance in (0, 0.1, 0.5, 0.8, 0.9, 1)]
    assert found == sorted(found)
    assert found[0] < risk.base < found[-1]
    assert all(8 <= when.hour <= 16 and when.weekday() < 5 for when in found)
    assert share_done(risk, risk.quantile(0.8) + timedelta(minutes=1)) >= 0.8


def test_site_risks_delay_the_finish():
    """A damaged sink, certain: 3 more hours by two people on its step, then seven days."""
    tasks = [task(Step.RECEIVE, (1, 1, 1)), task(Step.SET_SINK, (4, 4, 4), [Step.RECEIVE], crew=2), task(Step.SEAL, (1, 1, 1), [Step.SET_SINK])]
    damaged = site_risk("damaged", 1.0, (0, 0, 0), (3, 3, 3), step=Step.SET_SINK, delay_days=7.0)
    risk = finish_risk(tasks, FEDERAL, MONDAY, [damaged], **SETTING)
    hand_set = datetime.fromisoformat("2026-06-01 09:00") + timedelta(hours=2 + 1.5)
    assert risk.quantile(0.5) == hand_set + timedelta(days=7, hours=1)
    somewhere = finish_risk(tasks, FEDERAL, MONDAY, [replace(damaged, step=None, delay_days=0.0)], **SETTING)
    assert somewhere.quantile(0.5) == datetime.fromisoformat("2026-06-01 09:00") + timedelta(hours=2 + 1 + 3)
    seldom = finish_risk(tasks, FEDERAL, MONDAY, [replace(damaged, chance=0.1)], **SETTING)
    assert seldom.quantile(0.8) == seldom.base
    assert share_done(seldom, seldom.base + timedelta(seconds=1)) == pytest.approx(0.9, abs=0.01)


def test_an_empty_job_is_done_when_it_starts():
    """No steps, no spread, site risks or not."""
    risk = finish_risk([], FEDERAL, MONDAY, [site_risk("rot", 1.0, (1, 1, 1), (1, 1, 1))], **SETTING)
    assert risk.quantile(0.9) == risk.base == datetime.fromisoformat("2026-06-01 08:00")


def test_trials_far_beyond_the_plain_finish_are_kept():
    """Two hours that may become eight thousand: more days are laid out as needed, twice in a row."""
    risk = finish_risk([task(Step.LEVEL, (2, 2, 8000))], FEDERAL, MONDAY, **SETTING)
    assert risk.base == datetime.fromisoformat("2026-06-01 10:00")
    plain = finish_risk([task(Step.LEVEL, (2, 2, 2000))], FEDERAL, MONDAY, **SETTING)
    hand_years = 0.86 * 8000 / 8 / 250  # the longest of 20,000 draws is some 86 percent of the most; 250 working days a year
    assert (risk.quantile(1) - risk.base).days / 365.25 == pytest.approx(hand_years, rel=0.05)
    assert (risk.quantile(0.5) - risk.base) / (plain.quantile(0.5) - plain.base) == pytest.approx(4.0, rel=0.05)


quarters = st.integers(0, 60).map(lambda n: n / 4)


@st.composite
def jobs(draw):
    """Invented steps with spread, waits on either clock, own people and hired trades."""
    steps = list(Step)[: draw(st.integers(1, 7))]
    found = []
    for n, step in enumerate(steps):
        low, more, most = draw(quarters), draw(quarters), draw(quarters)
        found.append(
            task(
                step,
                (low, low + more, low + more + most),
                [other for other in steps[:n] if draw(st.integers(0, 2)) == 0],
                crew=draw(st.integers(1, 2)),
                trade=draw(st.sampled_from(["crew", "crew", "plumber"])),
                wait=draw(st.sampled_from([0.0, 3.25, 24.0, 100.0])),
                clock=draw(st.sampled_from(["working", "elapsed"])),
            )
        )
    return found


starts = st.integers(0, 14 * 96).map(lambda n: datetime.fromisoformat("2026-06-22") + timedelta(minutes=15 * n))


@settings(deadline=None, max_examples=80)
@given(jobs(), starts, st.integers(0, 2**32), st.floats(0, 1))
def test_each_trial_is_the_schedule_of_its_hours(tasks, start, seed, correlation):
    """One trial against the schedule made by the calendar, step by step, for the hours drawn in it."""
    setting = {"seed": seed, "trials": 1, "correlation": correlation}
    drawn = []
    for found in tasks:
        hours = float(draw_item(task_item(found), seed=seed, block=whole(1), correlation=correlation)[0])
        drawn.append(replace(found, duration_h=found.duration_h * hours / found.hours_likely if found.hours_likely else hours / found.crew))
    judged = plan_tasks(drawn, FEDERAL, start).finish
    assert abs(finish_risk(tasks, FEDERAL, start, **setting).quantile(0.5) - judged) <= timedelta(minutes=1)


@settings(deadline=None, max_examples=40)
@given(jobs(), starts, st.data())
def test_a_longer_step_never_makes_the_finish_earlier(tasks, start, data):
    """Trial by trial: more hours at every point of one step leave no quantile earlier."""
    n = data.draw(st.integers(0, len(tasks) - 1))
    more = data.draw(quarters)
    old = tasks[n]
    longer = [*tasks]
    longer[n] = replace(
        old, hours_low=old.hours_low + more, hours_likely=old.hours_likely + more, hours_high=old.hours_high + more, duration_h=old.duration_h + more / old.crew
    )
    setting = {"seed": 9, "trials": 50, "correlation": 0.2}
    before, after = finish_risk(tasks, FEDERAL, start, **setting), finish_risk(longer, FEDERAL, start, **setting)
    assert all(later >= earlier - 1e-6 for earlier, later in zip(before.hours, after.hours, strict=True))
