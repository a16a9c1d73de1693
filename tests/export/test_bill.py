"""The bill as a paper: what stands in it, what must not, figures of the ledger only, the same bytes for the same input."""

import datetime as dt
import re
from decimal import Decimal

import export_demo as demo
import pytest
from paper_text import pages_of, text_of
from test_proposal import INNER_WORDS, amounts_in, shown

from kit.change.priced_change import price_change
from kit.contract.bills import next_bill
from kit.contract.canceling import canceling_of
from kit.contract.changed_draws import change_of
from kit.contract.events import ChangeOffered, ChangeSigned, Event, Happening, Paid
from kit.contract.following import contract_state, follow_event
from kit.contract.signing import signature_of
from kit.contract.state import ContractState
from kit.errors import LedgerError
from kit.export.bill import bill_bytes, bill_document
from kit.export.event_papers import event_paper_name
from kit.export.papers import company_lines
from kit.issued import Issued, issue_estimate, open_issued
from kit.job import change_job
from kit.money import round_cents
from kit.outlook import plan_schedule

STAYS = {"supplied_by": "stays", "installed_by": "nobody"}
ISSUED, DAY = dt.date(2026, 3, 5), dt.date(2026, 3, 30)


def issue(folder, name="stone_apron_single_bowl", customer=None, **terms) -> Issued:
    """An example as issued, under terms of its own."""
    changes = {f"terms.{key}": value for key, value in terms.items()} | ({"identity.customer": customer} if customer else {})
    job = change_job(demo.example(name).job_as_read, changes)
    return open_issued(issue_estimate(demo.kit.estimate(job, demo.LISTS), folder, today=ISSUED, stop_reason="of the test"))


def signed(issued: Issued, bills: int, *more: Happening) -> ContractState:
    """The contract after so many bills, then what else happened."""
    number, happened = issued.number, [signature_of(issued)]

    def state() -> ContractState:
        return contract_state(number, [Event(place, number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), what) for place, what in enumerate(happened, 1)])

    for _ in range(bills):
        happened.append(next_bill(state(), DAY, 10))  # noqa: PERF401 - each follows from the one before
    happened.extend(more)
    return state()


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Issued:
    """The first example, issued."""
    return issue(tmp_path_factory.mktemp("issued"))


@pytest.mark.parametrize("name", demo.SOME)
def test_nothing_but_payments_of_the_contract_is_in_it(tmp_path, name):
    """Every amount is one of the contract's; no cost, no inner word, no hour; one page."""
    found = issue(tmp_path, name)
    count = len(signed(found, 0).draws)
    state = signed(found, count)
    for number in range(1, count + 1):
        content = bill_bytes(found, state, number)
        text = text_of(content)
        bill = state.bills[number - 1].bill
        balance = bill.contract_sum - bill.billed_before - bill.amount
        rest = abs(bill.earned - bill.held - bill.billed_before - bill.amount)
        unpaid = sum(one.bill.amount for one in state.bills[:number])  # nobody has paid
        figures = {unpaid, bill.contract_sum, bill.earned, bill.held, bill.billed_before, balance, rest, *(one.bill.amount for one in state.bills)}
        assert {amount.removeprefix("-") for amount in amounts_in(text)} <= {shown(figure) for figure in figures}
        assert re.findall(INNER_WORDS, text, re.IGNORECASE) == []
        assert f"{found.estimate.cost}" not in text.replace(",", "")
        assert len(pages_of(content)) == 1


def test_the_third_bill_worked_by_hand(issued):
    """80 % earned, a tenth of it held back, two payments before: the rest is due, and all three rows of each sum agree."""
    price, state = issued.estimate.price, signed(issued, 3)
    hand_earned = round_cents(price * Decimal("0.8"))
    hand_held = round_cents(hand_earned * Decimal("0.1"))
    hand_before = round_cents(price * Decimal("0.1")) + state.draws[1].due
    hand_due = hand_earned - hand_held - hand_before
    document = bill_document(issued, state, 3)
    assert [row["amount"] for row in document["working"]] == [shown(hand_earned), shown(-hand_held), shown(-hand_before)]
    assert document["due"] == shown(hand_due)
    assert (document["lead"], document["label"]) == ("Due now, payment 3 of 5:", "when the countertop work is done")
    assert [row["amount"] for row in document["standing"]] == [
        shown(price),
        shown(hand_before),
        shown(hand_due),
        shown(price - hand_before - hand_due),
        shown(hand_held),
    ]
    assert [row["state"] for row in document["rows"]] == ["billed before", "billed before", "this bill", "not due yet", "not due yet"]


def test_a_bill_says_which_earlier_ones_are_not_paid(issued):
    """The deposit paid, the second bill paid in part: the third says what is open, since when, and what is due in all; a paid payment says so."""
    hand_part = Decimal("100.00")
    deposit, second = (one.bill.amount for one in signed(issued, 2).bills)
    state = signed(issued, 3, Paid(amount=deposit + hand_part))
    document = bill_document(issued, state, 3)
    assert [row["state"] for row in document["rows"]] == ["paid", "billed before", "this bill", "not due yet", "not due yet"]
    hand_open = second - hand_part
    hand_all = shown(hand_open + state.bills[2].bill.amount)
    hand_words = f"Not paid yet: bill 2, {shown(hand_open)}, due Thursday, April 9, 2026. With this bill {hand_all} is due in all."
    assert hand_words in text_of(bill_bytes(issued, state, 3))
    assert bill_document(issued, signed(issued, 2, Paid(amount=deposit)), 2)["earlier"] == ""


def test_what_is_paid_already_stands_beside_what_is_due(issued):
    """100 dollars more than the deposit: the next bill says what is left of it to pay before it says how to pay."""
    deposit, second = (one.bill.amount for one in signed(issued, 2).bills)
    hand_left = shown(second - Decimal("100.00"))
    text = text_of(bill_bytes(issued, signed(issued, 2, Paid(amount=deposit + Decimal("100.00"))), 2))
    assert text.index(f"You have paid $100.00 of this bill already: {hand_left} is left to pay.") < text.index("How to pay")


def test_over_all_bills_the_contract_is_billed_to_the_cent(issued):
    """What stands as due on the papers sums to the price."""
    state = signed(issued, 5)
    due = [bill_document(issued, state, number)["due"] for number in range(1, 6)]
    assert sum(Decimal(text.lstrip("$").replace(",", "")) for text in due) == issued.estimate.price
    with pytest.raises(LedgerError, match="has nothing left to bill"):
        next_bill(state, DAY, 10)


def test_it_says_of_what_contract_it_is_how_to_pay_and_that_it_is_invented(issued):
    """Number, revision, day of the signature, customer, address, date of the bill, last day to pay, how to pay, tax."""
    text = text_of(bill_bytes(issued, signed(issued, 1), 1))
    for wanted in (
        "DEMO-001, bill 1",
        "revision 1, signed Monday, March 30, 2026",
        "Monday, March 30, 2026",
        "Please pay by Thursday, April 9, 2026.",
        issued.estimate.lists.company.how_to_pay,
        *company_lines(issued.lists.company),
        issued.estimate.job.identity.customer,
        issued.estimate.job.identity.address,
        "No sales tax is in this bill.",
        "The deposit is part of the contract sum. The deposit is your money until we send the first bill after it.",
        "invented demo data",
        "Page 1 of 1",
    ):
        assert wanted in text, wanted


def test_sales_tax_of_all_bills_is_that_of_the_contract(tmp_path):
    """Tax on everything is in the price: none on the deposit, all of it by the last bill, each bill says its own."""
    found = issue(tmp_path, tax_on="everything")
    state = signed(found, 5)
    assert state.bills[0].bill.tax == 0
    assert sum(one.bill.tax for one in state.bills) == found.estimate.amount("tax-collected") > 0
    assert f"Sales tax of {shown(state.bills[1].bill.tax)} is in this bill." in text_of(bill_bytes(found, state, 2))


def test_a_change_signed_between_two_bills_moves_the_later_ones_as_its_paper_said(issued):
    """The first bills stay; the rows of the change stand on the next bill."""
    before = signed(issued, 2)
    draws = (*before.draws[:4], before.draws[4].model_copy(update={"due": before.draws[4].due + Decimal("250.00")}))
    order = ChangeOffered(
        number=1,
        document="DEMO-001-r02",
        revision=2,
        sha256="0" * 64,
        amount=Decimal("250.00"),
        tax=Decimal("0.00"),
        sum_before=before.contract_sum,
        sum_after=before.contract_sum + Decimal("250.00"),
        draws=draws,
        rows=(("One more hole", Decimal("250.00")),),
    )
    state = signed(issued, 2, order, ChangeSigned(number=1))
    assert state.bills == before.bills
    event = Event(9, issued.number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), next_bill(state, DAY, 10))
    document = bill_document(issued, follow_event(state, event), 3)
    assert "Page 1 of 1" in text_of(bill_bytes(issued, follow_event(state, event), 3))
    assert document["contract"] == shown(issued.estimate.price + Decimal("250.00"))
    assert [row["what"] for row in document["changes"]] == ["Contract as signed", "Change order 1"]
    assert document["rows"][4]["amount"] == shown(draws[4].due)


@pytest.mark.parametrize("number", [0, 3, -1])
def test_a_bill_that_was_not_made_is_refused(issued, number):
    """The report says how many there are."""
    with pytest.raises(LedgerError, match=f"DEMO-001 has no bill {number}; it has 2"):
        bill_bytes(issued, signed(issued, 2), number)


@pytest.mark.usefixtures("each_set_anew")
def test_the_same_bill_has_the_same_bytes_and_its_own_name_whatever_comes_after(issued):
    """Set twice alike; named after the job and its number; later payments of the contract do not change its figures."""
    assert event_paper_name(issued, "billed", 2) == "DEMO-001-bill-2.pdf"
    assert bill_bytes(issued, signed(issued, 2), 2) == bill_bytes(issued, signed(issued, 2), 2)
    early, late = (bill_document(issued, signed(issued, count), 2) for count in (2, 4))
    assert {key: value for key, value in early.items() if key != "rows"} == {key: value for key, value in late.items() if key != "rows"}


def test_text_of_the_customer_is_never_markup(tmp_path):
    """Signs of the typesetter stand as they were typed."""
    odd = "#strong[Invented] *One* $x$ <b> @a"
    found = issue(tmp_path, customer=odd)
    assert odd in text_of(bill_bytes(found, signed(found, 1), 1))


@pytest.mark.parametrize("rule", ["by-shares", "last-draw", "own-draw"])
def test_no_bill_waits_for_what_a_change_took_out_of_the_work(tmp_path, rule):
    """The counter stays after all: its payments fall on what is left of the work, and the bill says which change its summary is older than."""
    before = issue(tmp_path)
    signature = signature_of(before).model_copy(update={"change_falls": rule})
    job = change_job(before.estimate.job_as_read, {"scope.counter": STAYS, "scope.splash": STAYS, "counter.made_by": "stays", "cabinet.wet_floor": True})
    after = open_issued(issue_estimate(demo.kit.estimate(job, demo.LISTS), tmp_path, today=ISSUED, stop_reason="of the test", signed_on=DAY))
    started = contract_state(before.number, [Event(1, before.number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), signature)])
    order = price_change(before.estimate, after.estimate, contract=started.contract_sum)
    happened = [signature, change_of(started, order, after), ChangeSigned(number=1)]
    state = contract_state(before.number, [Event(at, before.number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), what) for at, what in enumerate(happened, 1)])
    steps = {row.step for row in plan_schedule(after.estimate).schedule.steps}
    assert {draw.step for draw in state.draws if draw.due} - {None} <= steps
    assert sum(draw.due for draw in state.draws) == order.contract_after
    billed = follow_event(state, Event(9, before.number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), next_bill(state, DAY, 10)))
    summary = bill_document(before, billed, 1)["summary"]
    assert summary.startswith("A new kitchen sink")
    assert summary.endswith("Change order 1 says what changed since.")


def test_the_last_bill_of_a_canceled_contract_says_what_canceling_took_off(issued):
    """2,000.00 owed of what was signed: the rest stands as canceled, and no extra work is spoken of."""
    state = signed(issued, 1, canceling_of(signed(issued, 1), Decimal("2000.00"), "the customer moved"))
    event = Event(9, issued.number, DAY, dt.datetime(2026, 3, 30, tzinfo=dt.UTC), next_bill(state, DAY, 10))
    document = bill_document(issued, follow_event(state, event), 2)
    assert document["contract"] == shown(Decimal("2000.00"))
    assert [(row["what"], row["amount"]) for row in document["changes"]] == [
        ("Contract as signed", shown(issued.estimate.price)),
        ("Canceled: not done and not owed", shown(Decimal("2000.00") - issued.estimate.price)),
    ]
    assert document["note"] == "No sales tax is in this bill. The contract is canceled: nothing more is done under it."
    assert "Page 1 of 1" in text_of(bill_bytes(issued, follow_event(state, event), 2))
