"""One job through the house: the same every time, every figure from its parts, and the same again at other prices."""

import datetime as dt
import threading
from dataclasses import fields, is_dataclass, replace
from decimal import ROUND_DOWN, Decimal, localcontext
from pathlib import Path

import pytest
from random_jobs import change_terms, random_job

from kit import Estimate, Lists, estimate, plan_schedule, read_job, revalue, shipped
from kit.design.what_matters import keep_what_matters
from kit.errors import JobError, KitError, PriceError, UnknownRowError
from kit.estimating import TERMS_OF_TAKEOFF, with_overlaps
from kit.job import Job, change_job, fill_assumptions
from kit.job.terms import Terms
from kit.records import Kind, Level

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


def test_the_same_job_gives_the_same_estimate(example: Path, lists: Lists) -> None:
    """Twice in one thread, and in another thread under a poor decimal context."""
    first = estimate(read_job(example), lists)
    other: list[Estimate] = []

    def work() -> None:
        with localcontext() as context:
            context.prec, context.rounding = 5, ROUND_DOWN
            other.append(estimate(read_job(example), lists))
            other.append(revalue(first, {}, {}, {}))

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert [found.build_up for found in other] == [first.build_up] * 2
    assert other[0] == first == estimate(read_job(example), lists)


def test_an_estimate_of_a_moving_job_is_made_whole_without_working_it_out_again(lists: Lists) -> None:
    """What wants the same place is found afterwards, in its place among the findings; nothing else is another object, the calendar among it."""
    found: list[int] = []
    for seed in range(24):
        job = random_job(seed)
        moving, whole = estimate(job, lists, exact=False), estimate(job, lists)
        calendar = plan_schedule(moving)
        made_whole = with_overlaps(moving)
        assert made_whole == whole
        assert made_whole.design is moving.design
        assert plan_schedule(made_whole) is calendar
        found.append(len(whole.findings) - len(moving.findings))
        assert (made_whole is moving) == (not found[-1])
    assert found.count(0) > 5
    assert sum(map(bool, found)) > 5


def test_every_record_is_frozen(example_estimate: Estimate) -> None:
    """Nothing that an estimate holds can be changed."""
    assumed = fill_assumptions(example_estimate.job_as_read)[1]
    for records in (*(getattr(example_estimate, name) for name in ("lines", "purchases", "tasks", "findings", "build_up")), assumed):
        record = records[0]
        assert is_dataclass(record)
        with pytest.raises(AttributeError, match=r"cannot assign|frozen"):
            setattr(record, fields(record)[0].name, "x")


def test_ids_are_stable_names_and_stand_once(example_estimate: Estimate) -> None:
    """No two lines, purchases, findings or rows share an id."""
    for records in (example_estimate.lines, example_estimate.purchases, example_estimate.findings, example_estimate.build_up, example_estimate.assumptions):
        ids = [record.id for record in records]
        assert len(set(ids)) == len(ids)


def test_every_line_goes_somewhere(example_estimate: Estimate) -> None:
    """What is bought, hired or paid is in a purchase, what is done is in a task, and nothing else is in either."""
    lines = {line.id: line for line in example_estimate.lines}
    bought = [line_id for purchase in example_estimate.purchases for line_id in purchase.line_ids]
    done = [line_id for task in example_estimate.tasks for line_id in task.line_ids]
    assert {line_id for line_id, line in lines.items() if line.kind is not Kind.DO} == set(bought)
    assert {line_id for line_id, line in lines.items() if line.kind is Kind.DO} == set(done)
    assert len(done) == len(set(done))


def test_purchases_hold_what_the_lines_need(example_estimate: Estimate) -> None:
    """Packs of goods hold at least the need, and not a whole pack more where nothing was cut."""
    for purchase in example_estimate.purchases:
        if purchase.packs and not purchase.plan:
            held = purchase.packs * purchase.pack
            assert held >= purchase.need - 1e-6
        assert purchase.amount == round(purchase.amount, 2)
        assert 0.0 <= purchase.used <= 1.0 + 1e-9


def test_the_price_is_made_of_purchases_tasks_and_terms(example_estimate: Estimate) -> None:
    """Summed again from the records, not from the rows."""
    found, terms = example_estimate, {term.id: term.value for term in example_estimate.terms.inputs}
    bought = sum((purchase.amount for purchase in found.purchases), Decimal(0))
    labor = sum((task.amount for task in found.tasks), Decimal(0))
    taxable = sum((purchase.amount for purchase in found.purchases if purchase.taxable), Decimal(0))
    tax = round(taxable * terms["in:tax"] + Decimal("1e-9"), 2) if found.terms.tax_on == "material-cost" else Decimal(0)
    assert found.cost == bought + labor + tax
    assert found.hours == pytest.approx(sum(task.hours_likely for task in found.tasks), abs=1e-3)
    assert found.price > found.cost > 0
    assert found.margin == round((found.price - found.cost) / found.price, 4)


def test_assumptions_are_those_of_the_job(example: Path, lists: Lists) -> None:
    """None that says something is lost on the way, and the job that was priced is the filled one, its scope settled."""
    job = read_job(example)
    filled, assumed = fill_assumptions(job)
    found = estimate(job, lists)
    assert (found.job, found.assumptions) == (filled, keep_what_matters(assumed, filled, found.design))


def test_worst_finding_comes_first(lists: Lists) -> None:
    """A sink too wide for its base: priced, marked, and the stop stands first."""
    job = read_job(EXAMPLE)
    sound, wide = estimate(job, lists), estimate(change_job(job, {"cabinet.width": "31 in"}), lists)
    assert sound.buildable
    assert not wide.buildable
    assert wide.worst is not None
    assert wide.worst.level is Level.STOP
    assert wide.price > 0


def test_what_the_lists_do_not_hold_is_said(lists: Lists) -> None:
    """A counter and a sink that no list knows."""
    job = read_job(EXAMPLE)
    with pytest.raises(JobError, match=r'counter\.item: "moon-rock" is not in counters\.csv\. Known: '):
        estimate(change_job(job, {"counter.item": "moon-rock"}), lists)
    with pytest.raises(JobError, match=r'counter\.item: "stone-3cm" is stone, but counter\.material says tile'):
        estimate(change_job(job, {"counter.material": "tile"}), lists)
    with pytest.raises(KitError, match="moon-sink"):
        estimate(change_job(job, {"sink.item": "moon-sink"}), lists)
    with pytest.raises(KitError, match="has no price in force on Wed, Dec 31, 2025"):
        estimate(change_job(job, {"identity.visit_date": dt.date(2025, 12, 31)}), lists)


# --- at other prices ---


def test_revaluing_with_nothing_changes_nothing(example_estimate: Estimate) -> None:
    """The same purchases, tasks and rows."""
    assert revalue(example_estimate, {}, {}, {}) == example_estimate


def test_revaluing_with_its_own_figures_changes_nothing(example_estimate: Estimate) -> None:
    """Every price, rate and term given as it is."""
    found = example_estimate
    prices = {purchase.id: purchase.unit_price for purchase in found.purchases}
    rates = {line.item: found.lists.rates[line.item].likely_h for line in found.lines if line.kind is Kind.DO}
    factors = {f"factor:{name}": times for task in found.tasks for name, times in task.factors}
    terms = {term.id: term.value for term in found.terms.inputs}
    assert revalue(found, prices, rates | factors, terms) == found


def test_one_price_moves_by_hand(lists: Lists) -> None:
    """The sink 100.00 dearer: cost goes up by 106.00 with 6 % tax, the packs stay."""
    found = estimate(read_job(EXAMPLE), lists)
    dearer = revalue(found, {"fired-clay-apron-33": Decimal("1080.00")}, {}, {})
    before = next(purchase for purchase in found.purchases if purchase.id == "fired-clay-apron-33").unit_price
    hand_more = (Decimal("1080.00") - before) * Decimal("1.06")
    assert abs(dearer.cost - found.cost - hand_more) <= Decimal("0.01")  # the tax is rounded once
    assert [purchase.packs for purchase in dearer.purchases] == [purchase.packs for purchase in found.purchases]
    assert dearer.lines == found.lines


def test_a_price_lowered_by_hand_brings_the_minimum_of_the_job(lists: Lists) -> None:
    """The stone shop asks 1450.00 for a job at least: its area for nothing leaves less, and what is short is charged; back again it goes."""
    found = estimate(read_job(EXAMPLE), lists)
    area = next(purchase for purchase in found.purchases if purchase.item == "stone-3cm-area")
    shop = [purchase for purchase in found.purchases if purchase.supplier == area.supplier]
    assert not [purchase for purchase in shop if purchase.least is not None]
    free = revalue(found, {area.id: Decimal(0)}, {}, {})
    hand_short = Decimal("1450.00") - sum((purchase.amount for purchase in shop if purchase is not area), Decimal(0))
    assert 0 < hand_short < area.amount
    minimum = next(purchase for purchase in free.purchases if purchase.item == "minimum-stone-shop")
    assert minimum.amount == hand_short
    assert free.amount("hired") == found.amount("hired") - area.amount + hand_short
    assert revalue(free, {area.id: area.unit_price}, {}, {}) == found


def test_wage_moves_every_task(lists: Lists) -> None:
    """A wage of 50.00 with the burden of the company: each task's amount is hours times the new rate, to the cent."""
    found = revalue(estimate(read_job(EXAMPLE), lists), {}, {}, {"in:wage": Decimal("50.00")})
    hand_rate = Decimal("69.00")  # 50.00 x 1.38
    for task in found.tasks:
        assert task.rate == hand_rate
        assert abs(task.amount - Decimal(str(task.hours_likely)) * hand_rate) <= Decimal("0.005")


def test_unknown_names_are_refused_all_at_once(lists: Lists) -> None:
    """A price, a rate and a term that are no part of the estimate."""
    found = estimate(read_job(EXAMPLE), lists)
    with pytest.raises(PriceError, match=r"(?s)in:luck is not part of this estimate.*moon is not.*nap is not"):
        revalue(found, {"moon": Decimal(1)}, {"nap": 1.0}, {"in:luck": Decimal(1)})


def test_a_price_as_a_float_is_refused_in_words(lists: Lists) -> None:
    """Prices and terms, each named; text with its currency is read, text without one refused."""
    found = estimate(read_job(EXAMPLE), lists)
    sink = "fired-clay-apron-33"
    with pytest.raises(PriceError, match=rf'(?s)^{sink}: 1080\.0 is a float; give a Decimal or text such as "12\.50 USD"'):
        revalue(found, {sink: 1080.0}, {}, {})  # type: ignore[dict-item]
    with pytest.raises(
        PriceError, match=r'(?s)in:least: 90\.5 is a float; give a Decimal or text.*in:overhead: 0\.2 is a float; give a Decimal such as Decimal\("0\.12"\)'
    ):
        revalue(found, {}, {}, {"in:least": 90.5, "in:overhead": 0.2})  # type: ignore[dict-item]
    with pytest.raises(PriceError, match=rf'{sink}: "1080" has no currency'):
        revalue(found, {sink: "1080"}, {}, {})
    with pytest.raises(PriceError, match="in:overhead: NaN is not an amount"):
        revalue(found, {}, {}, {"in:overhead": Decimal("nan")})
    assert revalue(found, {sink: "1080.00 USD"}, {}, {}).price == revalue(found, {sink: Decimal(1080)}, {}, {}).price


@pytest.mark.parametrize("caught", [KeyError, KitError, UnknownRowError])
def test_a_row_that_is_not_there_names_those_that_are(lists: Lists, caught: type[Exception]) -> None:
    """Near names first; also a KeyError, in words and not quoted."""
    found = estimate(read_job(EXAMPLE), lists)
    with pytest.raises(caught, match=r'^build-up has no row "prise"\. Did you mean price\? Rows: .*material, .*net, .*price, .*margin\.$'):
        found.amount("prise")
    with pytest.raises(caught, match=r'has no row "xyz"\. Rows: '):
        found.amount("xyz")


def test_an_estimate_near_another_is_the_same_sooner(lists: Lists) -> None:
    """Each term typed anew, and then a measure: worked out from the estimate before or by itself; terms that move no quantity spare the design."""
    spared, moved = set(), set()
    for seed in range(12):
        job = random_job(seed)
        before = estimate(job, lists)
        for number in range(12):
            changed = change_terms(job, 100 * seed + number)
            plain, near = _outcome(changed, lists), _outcome(changed, lists, near=before)
            assert near == plain
            if isinstance(near, Estimate):
                names = {name for name in Terms.model_fields if getattr(changed.terms, name) != getattr(job.terms, name)}
                (spared if near.design is before.design else moved).update(names)
        wider = change_job(job, {"site.carry": "77 ft"})
        assert estimate(wider, lists, near=before) == estimate(wider, lists) != before
    assert spared == set(Terms.model_fields) - set(TERMS_OF_TAKEOFF)
    assert moved > set(TERMS_OF_TAKEOFF)
    other = replace(lists)
    assert estimate(job, other, near=before).design is not before.design
    assert estimate(job, lists, near=revalue(before, {}, {}, {})).revalued is None


def _outcome(job: Job, lists: Lists, *, near: Estimate | None = None) -> Estimate | str:
    """The estimate, or what it is refused for."""
    try:
        return estimate(job, lists, near=near)
    except KitError as error:
        return str(error)
