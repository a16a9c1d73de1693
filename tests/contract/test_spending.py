"""Spending in the ledger: from a table, all rows or none, never the same table twice; held against the estimate; what it will leave."""

import datetime as dt
from decimal import Decimal
from pathlib import Path

import pytest
from contract_walks import promise

import kit
from kit.archive.compare_spent import compare_spent
from kit.archive.spent import SpentRow, read_spent
from kit.contract.bills import closing_of, next_bill
from kit.contract.canceling import canceling_of
from kit.contract.contract_file import ContractFile
from kit.contract.events import Voided
from kit.contract.job_cost import JobCost, job_cost
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of, signature_of
from kit.contract.spending import record_spending, spending_of, spent_rows
from kit.errors import LedgerError
from kit.records import CostType
from kit.steps import Step

DAY = dt.date(2026, 3, 9)
TODAY = dt.date(2026, 5, 1)
ISSUED = promise("stone_apron_single_bowl")
TABLE = read_spent(kit.shipped("examples") / "stone_apron_single_bowl_spent.csv", ISSUED.estimate.lists)


@pytest.fixture
def contract(tmp_path: Path) -> ContractFile:
    """The first example, signed."""
    ledger = Ledger(tmp_path)
    ledger.append("DEMO-001", offer_of(ISSUED), DAY)
    return ContractFile(tmp_path, ledger, ledger.append("DEMO-001", signature_of(ISSUED), DAY), ISSUED)


def row(**cells) -> SpentRow:
    usual = {"number": 2, "date": DAY, "cost_code": "410", "cost_type": CostType.MATERIAL, "text": "x", "amount": Decimal("100.00"), "hours": 0.0}
    return SpentRow(**{**usual, "supplier": "", "document": "", **cells})


def cost(contract: ContractFile, day: dt.date = TODAY) -> JobCost:
    return job_cost(ISSUED.estimate, contract.ledger.events("DEMO-001"), day)


def test_a_table_stands_in_the_ledger_as_it_came(contract):
    """Rows to the cent and the hour; the comparison is that of the table."""
    after, notes = record_spending(contract, TABLE, TODAY)
    assert (notes.rows, notes.sentences) == (len(TABLE), ())
    rows = spent_rows(after.ledger.events("DEMO-001"))
    assert [(one.date, one.cost_code, one.cost_type, one.amount, one.hours) for one in rows] == sorted(
        ((one.date, one.cost_code, one.cost_type, one.amount, one.hours) for one in TABLE), key=lambda one: one[0]
    )
    found, wanted = cost(after).by_code, compare_spent(ISSUED.estimate, TABLE)
    assert (found.codes, found.types, found.total) == (wanted.codes, wanted.types, wanted.total)
    assert after.state.spent == wanted.total.spent


def test_the_same_table_twice_is_refused_and_single_doubles_are_counted(contract):
    """Refused where every row stands there already; a row that came before is counted and written."""
    after, _ = record_spending(contract, TABLE, TODAY)
    with pytest.raises(LedgerError, match=f"All {len(TABLE)} rows are in its ledger already: this table was entered before"):
        record_spending(after, TABLE, TODAY)
    bill = row(document="B-1")
    _, notes = record_spending(after, (bill, bill, TABLE[0]), TODAY)
    assert notes.sentences == (
        "1 of 3 rows repeat another row of the table: perhaps one bill entered twice.",
        "1 of 3 rows are in the ledger already: perhaps one bill entered twice; undo the extra one (sinkset undo).",
    )
    with pytest.raises(LedgerError, match="has no row"):
        record_spending(after, (), TODAY)


def test_a_table_is_written_whole_or_not_at_all(contract, monkeypatch):
    """Somebody wrote meanwhile: refused, and not one row is there."""
    contract.ledger.append("DEMO-001", next_bill(contract.state, DAY, 10), DAY)
    with pytest.raises(LedgerError, match="has new entries since you looked: bill 1: Deposit"):
        record_spending(contract, TABLE, TODAY)
    assert spent_rows(contract.ledger.events("DEMO-001")) == ()


def test_days_outside_the_job_are_counted(contract):
    """Before the visit and after today; after the end only what is no call-back."""
    first = ISSUED.estimate.job.identity.visit_date
    days = (first - dt.timedelta(days=1), first, TODAY, TODAY + dt.timedelta(days=1))
    _, notes = record_spending(contract, [row(date=day) for day in days], TODAY)
    assert notes.outside == 2


@pytest.mark.parametrize(("burden", "hand_wages", "hand_burden"), [(None, "68.00", "25.84"), (Decimal("20.00"), "73.84", "20.00")])
def test_labor_is_split_into_wages_and_what_comes_on_top(burden, hand_wages, hand_burden):
    """By hand: 93.84 / 1.38 = 68.00; a row that says its burden is taken at its word."""
    labor = row(cost_type=CostType.LABOR, hours=2.0, amount=Decimal("93.84"), burden=burden, step=Step.VISIT)
    found = spending_of(labor, 0.38)
    assert (f"{found.wages}", f"{found.burden}", found.step) == (hand_wages, hand_burden, labor.step)


def test_what_is_ordered_counts_until_its_bills_come(contract):
    """By hand: 500 ordered, 300 of it billed: 200 still to come; a code that costs more than estimated is taken at what it costs."""
    estimated = {one.code: one.estimated for one in compare_spent(ISSUED.estimate, ()).codes}
    order = row(cost_code="430", amount=Decimal("500.00"), order="7", ordered=True)
    after, _ = record_spending(contract, (order, row(cost_code="430", amount=Decimal("300.00"), order="7", document="B-1")), TODAY)
    found = cost(after)
    assert found.committed == {"430": Decimal("200.00")}
    hand_outcome = sum(estimated.values()) - estimated.get("430", 0) + max(estimated.get("430", 0), Decimal("500.00"))
    assert found.at_completion == hand_outcome
    assert found.margin_at_completion == ISSUED.estimate.price - hand_outcome
    assert found.by_code.total.spent == 300


def test_earned_value_follows_the_bills_and_ends_at_the_budget(contract):
    """Nothing billed but the deposit earns nothing; once closed all of it is earned, and it has cost what was spent."""
    after, _ = record_spending(contract, (*TABLE, row(cost_code="410", amount=Decimal("80.00"), date=TODAY, call_back=True)), TODAY)
    ledger = after.ledger
    ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), DAY, 10), DAY)
    start = cost(after)
    assert (start.earned.earned, start.earned.budget) == (0, ISSUED.estimate.cost)
    seen = [start.earned.earned]
    while ledger.state("DEMO-001").left:
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), TODAY, 10), TODAY)
        seen.append(cost(after).earned.earned)
    assert seen == sorted(seen)
    assert seen[-1] == ISSUED.estimate.cost  # all is billed, travel too
    ledger.append("DEMO-001", closing_of(ledger.state("DEMO-001"), "done"), TODAY)
    ended = cost(after)
    assert ended.earned.earned == ended.earned.planned == ISSUED.estimate.cost
    assert ended.at_completion == ended.by_code.total.spent == sum(one.amount for one in TABLE) + 80
    assert ended.margin_at_completion == ended.margin_so_far == ISSUED.estimate.price - ended.at_completion
    assert ended.call_backs == 80


def test_what_should_be_done_by_now_counts_from_the_signature(tmp_path):
    """Signed eight weeks later, the same part of the work is planned eight weeks later, where no holiday comes between."""
    late, planned = dt.timedelta(days=56), {}
    for name, signed in (("soon", DAY), ("late", DAY + late)):
        ledger = Ledger(tmp_path / name)
        ledger.append("DEMO-001", offer_of(ISSUED), DAY)
        ledger.append("DEMO-001", signature_of(ISSUED), signed)
        planned[name] = [job_cost(ISSUED.estimate, ledger.events("DEMO-001"), day).earned.planned for day in (TODAY, TODAY + late)]
    assert planned["late"][0] < planned["soon"][0]
    assert planned["late"][1] == planned["soon"][0] > 0


def test_how_billed_work_went_is_not_judged_by_what_was_bought_ahead(contract):
    """All of the job's costs are in and only the deposit and one payment are billed: no "if the rest goes like that"; all billed, it is what was spent."""
    words = "Cost when all is done, if the rest goes like the work billed so far"
    after, _ = record_spending(contract, TABLE, TODAY)
    ledger = after.ledger
    for _ in range(2):
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), TODAY, 10), TODAY)
    early = cost(after)
    assert 0 < early.earned.earned < early.by_code.total.spent
    assert early.earned.estimate_at_completion() > 2 * ISSUED.estimate.cost  # what the rule of the field would say
    assert words not in dict(early.outcome)
    while ledger.state("DEMO-001").left:
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), TODAY, 10), TODAY)
    late = cost(after)
    assert dict(late.outcome)[words] == late.earned.estimate_at_completion() == late.by_code.total.spent


def test_a_closed_contract_says_what_was_spent_and_left_once(contract):
    """Nothing is to come: neither budget by now nor cost when all is done."""
    after, _ = record_spending(contract, TABLE, TODAY)
    ledger = after.ledger
    while ledger.state("DEMO-001").left:
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), TODAY, 10), TODAY)
    ledger.append("DEMO-001", closing_of(ledger.state("DEMO-001"), "done"), TODAY)
    ended = cost(after)
    assert ended.closed
    revenue, spent = ended.revenue, ended.by_code.total.spent
    assert ended.outcome == (
        ("Contract sum without its sales tax", revenue),
        ("Spent", spent),
        ("Margin", revenue - spent),
        ("Margin as estimated, changes included", revenue - ISSUED.estimate.cost),
    )


def test_money_spent_before_the_signature_is_held_against_the_price_offered(tmp_path):
    """No contract sum yet: the price of the offer is what it is to leave a margin over, and no loss is told."""
    ledger = Ledger(tmp_path)
    state = ledger.append("DEMO-001", offer_of(ISSUED), DAY)
    after, _ = record_spending(ContractFile(tmp_path, ledger, state, ISSUED), (row(amount=Decimal("100.00")),), TODAY)
    words = dict(cost(after).outcome)
    price = ISSUED.estimate.price - ISSUED.estimate.amount("tax-collected")
    assert words["Price offered without its sales tax"] == price
    assert words["Price offered without its sales tax, less what was spent so far"] == price - 100
    assert words["Margin as estimated, changes included"] == price - ISSUED.estimate.cost


def test_a_canceled_contract_costs_what_is_spent_and_ordered(contract):
    """300.00 spent, 200.00 on order, 1,000.00 owed: 500.00 in all, 500.00 of margin, and nothing is held against what would have been done."""
    order = row(cost_code="430", amount=Decimal("200.00"), order="7", ordered=True)
    after, _ = record_spending(contract, (order, row(cost_code="410", amount=Decimal("300.00"))), TODAY)
    going = dict(cost(after).outcome)
    assert (going["Spent so far"], going["Ordered and not billed yet"]) == (Decimal("300.00"), Decimal("200.00"))
    assert going["Margin as estimated, changes included"] == ISSUED.estimate.price - ISSUED.estimate.cost
    assert going["Contract sum without its sales tax, less what was spent so far"] == ISSUED.estimate.price - Decimal("300.00")
    assert "Margin so far" not in going  # nobody has earned it yet
    after.ledger.append("DEMO-001", canceling_of(after.ledger.state("DEMO-001"), Decimal("1000.00"), "sold"), TODAY)
    ended = cost(after)
    assert (ended.at_completion, ended.margin_so_far, ended.margin_at_completion) == (Decimal("500.00"), Decimal("700.00"), Decimal("500.00"))
    words = dict(ended.outcome)
    assert words["Contract sum without its sales tax"] == 1000
    assert not {"Margin as estimated, changes included", "Cost when all is done, if the rest goes like the work billed so far"} & set(words)


def test_spending_that_is_taken_back_counts_no_longer(contract):
    """From the day of the correction on."""
    after, _ = record_spending(contract, (row(),), TODAY)
    after.ledger.append("DEMO-001", Voided(event=after.state.last, reason="another job's"), TODAY)
    assert spent_rows(after.ledger.events("DEMO-001")) == ()


def test_earned_value_stands_by_step(contract):
    """The steps up to the billed payment have earned their budget, all others nothing; together they are the earned value."""
    ledger = contract.ledger
    for _ in range(2):
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), DAY, 10), DAY)
    found, reached = cost(contract), ledger.state("DEMO-001").draws[1].step
    earned = [one.done for one in found.steps]
    assert earned == sorted(earned, reverse=True)
    assert [one.step for one in found.steps if one.done][-1] is reached
    assert sum(one.earned for one in found.steps) == found.earned.earned > 0
    assert sum(one.budget for one in found.steps) == ISSUED.estimate.cost


def test_hours_that_name_no_step_are_counted(contract):
    """Of 8 hours 3 name no step; a step that some name shows its own, the others a dash; where all name one, each shows what it has."""
    worked = {"cost_type": CostType.LABOR, "cost_code": "310", "amount": Decimal("80.00")}
    named = [row(hours=hours, step=step, **worked) for hours, step in ((4.9, Step.SEAL), (0.1, Step.SET_SINK))]
    after, _ = record_spending(contract, (*named, row(hours=3.0, **worked)), TODAY)
    found = cost(after)
    assert found.without_step == "3.00 of 8.00 hours spent name no step: they stand by cost code only."
    spent = {one.step: found.spent_on(one) for one in found.steps}
    assert (spent[Step.SEAL], spent[Step.SET_SINK], spent[Step.LEVEL]) == (("$80.00", "4.90"), ("$80.00", "0.10"), ("-", "-"))
    alone = ContractFile(contract.folder, Ledger(contract.folder / "other"), contract.state, ISSUED)
    alone.ledger.append_all("DEMO-001", [(offer_of(ISSUED), DAY), (signature_of(ISSUED), DAY), *((spending_of(one, 0.38), DAY) for one in named)])
    found = cost(alone)
    assert found.without_step == ""
    assert {one.step: found.spent_on(one) for one in found.steps}[Step.LEVEL] == ("$0.00", "0.00")


def test_a_step_that_a_change_took_away_still_earns_what_comes_before_it(contract):
    """The payment at the template is billed, then the customer keeps the counter: what was done by then stays done."""
    ledger = contract.ledger
    for _ in range(2):
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), DAY, 10), DAY)
    without = promise("counter_stays_sink_only").estimate
    found = job_cost(without, ledger.events("DEMO-001"), TODAY)
    assert Step.TEMPLATE not in {one.step for one in found.steps}
    # what usually comes before the template ends with hauling away, and all that stands before that in this job's order is done with it
    assert [one.step for one in found.steps if one.done][-1] is Step.HAUL
    assert not {Step.SEAL, Step.PUNCH_LIST} & {one.step for one in found.steps if one.done}


def test_a_step_that_comes_before_all_others_and_is_gone_leaves_none_done(contract):
    """A payment due with the first visit is billed, and the job has no visit any more."""
    deposit, second, *others = contract.state.signed.draws
    signed = contract.state.signed.model_copy(update={"draws": (deposit, second.model_copy(update={"step": Step.VISIT}), *others)})
    ledger = Ledger(contract.folder / "other")
    ledger.append_all("DEMO-001", [(offer_of(ISSUED), DAY), (signed, DAY)])
    for _ in range(2):
        ledger.append("DEMO-001", next_bill(ledger.state("DEMO-001"), DAY, 10), DAY)
    found = job_cost(promise("counter_stays_sink_only").estimate, ledger.events("DEMO-001"), TODAY)
    assert Step.VISIT not in {one.step for one in found.steps}
    assert not [one.step for one in found.steps if one.done]
