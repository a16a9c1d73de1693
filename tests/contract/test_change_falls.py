"""Which payments a change order moves: as was agreed with the signature, or as the order itself says; each worked by hand."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace

import pytest
from contract_walks import FIRST_DAY, promise

import kit
from kit.change.priced_change import ChangeOrder, ChangeRow
from kit.contract.bills import closing_of, next_bill
from kit.contract.canceling import canceling_of
from kit.contract.changed_draws import change_of
from kit.contract.event_words import entry_words, event_words
from kit.contract.events import Bought, Canceled, ChangeSigned, Credited, Event, Paid, Refunded, Voided, Worked, happening_from_json, happening_to_json
from kit.contract.following import contract_state
from kit.contract.next_step import next_step
from kit.contract.signing import contract_draws, signature_of
from kit.draw.contract_top import standing_sentences
from kit.errors import LedgerError
from kit.job import change_job
from kit.pricing.draws import plan_draws
from kit.steps import Step

ISSUED = promise("stone_apron_single_bowl")
WRITTEN = dt.datetime(2026, 3, 9, tzinfo=dt.UTC)


def changed(*changes, after=()):
    """The contract with these signed changes: each an amount and where it falls."""
    happened = [*after] or [signature_of(ISSUED)]
    for number, (amount, falls) in enumerate(changes, 1):
        state = state_of(happened)
        row = ChangeRow("more", "more", "add", None, 0.0, 1.0, "each", Decimal(amount), Decimal(0), Decimal(amount))
        order = ChangeOrder(number, "walk", (row,), (), 0.0, state.contract_sum)
        happened += [change_of(state, order, ISSUED, falls=falls), ChangeSigned(number=number)]
    return state_of(happened)


def state_of(happened):
    return contract_state(ISSUED.number, [Event(at, ISSUED.number, FIRST_DAY, WRITTEN, what) for at, what in enumerate(happened, 1)])


def dues(state):
    return {draw.draw: draw.due for draw in state.draws}


def by_name(deposit, template, put, completion, punch, **own):
    known = {"deposit": deposit, "template": template, "set": put, "completion": completion, "punch-list": punch}
    return {**{name: Decimal(due) for name, due in known.items()}, **{name.replace("_", "-"): Decimal(due) for name, due in own.items()}}


def test_a_change_falls_where_it_says():
    """The contract is 8,921.09 and agreed by shares; 500.00 on the last payment move that alone, as a payment of its own none of the others."""
    agreed = by_name("892.11", "2319.49", "3211.58", "1605.80", "892.11")
    assert dues(changed()) == agreed
    assert dues(changed(("500.00", "last-draw"))) == {**agreed, "punch-list": Decimal("1392.11")}
    assert dues(changed(("500.00", "own-draw"))) == {**agreed, "change-1": Decimal("500.00")}
    # by shares of 9,421.09: 40 % 3,768.44, of it held 376.84; 80 % 7,536.87, held 753.69; all, held 942.11 (of 942.109)
    hand_shares = by_name("892.11", "2499.49", "3391.58", "1695.80", "942.11")
    assert dues(changed(("500.00", None))) == dues(changed(("500.00", "by-shares"))) == hand_shares


@pytest.mark.parametrize(
    ("gone", "after_billing", "hand"),
    [
        ("template", False, by_name("892.11", "2319.49", "3211.58", "1605.80", "1392.11") | {"set": Decimal("5531.07")}),
        ("template", True, by_name("892.11", "2319.49", "3211.58", "1605.80", "1392.11")),  # billed already: it stays
        ("set", False, by_name("892.11", "2319.49", "3211.58", "1605.80", "1392.11") | {"completion": Decimal("4817.38")}),
    ],
)
def test_what_a_payment_without_its_event_would_have_paid_comes_with_the_next(gone, after_billing, hand):
    """500.00 on the last payment, and the change takes an event out: 2,319.49 and 3,211.58 are 5,531.07; 3,211.58 and 1,605.80 are 4,817.38."""
    happened = [signature_of(ISSUED)]
    for _ in range(2 if after_billing else 0):
        happened.append(next_bill(state_of(happened), FIRST_DAY, 10))
    state = state_of(happened)
    steps = {draw.draw: draw.step for draw in state.draws}
    made = [task for task in (*ISSUED.estimate.tasks, *ISSUED.estimate.hired) if task.step is not steps[gone]]
    new = SimpleNamespace(
        estimate=replace(ISSUED.estimate, tasks=tuple(made), hired=()), document=ISSUED.document, revision=ISSUED.revision, sha256=ISSUED.sha256
    )
    row = ChangeRow("more", "more", "add", None, 0.0, 1.0, "each", Decimal(500), Decimal(0), Decimal("500.00"))
    offered = change_of(state, ChangeOrder(1, "walk", (row,), (), 0.0, state.contract_sum), new, falls="last-draw")
    left = hand if after_billing else {name: due for name, due in hand.items() if name != gone}
    assert {draw.draw: draw.due for draw in offered.draws} == left


def test_completion_waits_for_an_inspection_only_while_the_work_has_one():
    """The drain that comes down under a permit goes out of the work by a change: completion is due at its end again, and the other way round."""
    here = ISSUED.estimate
    lowered = kit.estimate(change_job(here.job_as_read, {"plumbing.stub_height": "24 in"}), here.lists)
    row = ChangeRow("more", "more", "add", None, 0.0, 1.0, "each", Decimal(500), Decimal(0), Decimal("500.00"))
    inspected, done = (Step.INSPECT_FINAL, "At completion, final inspection passed"), (Step.CLEAN, "At completion")
    for signed, after, hand in ((lowered, here, done), (here, lowered, inspected)):
        was = contract_draws(plan_draws(signed))
        state = state_of([signature_of(ISSUED).model_copy(update={"draws": was, "contract_sum": signed.price})])
        new = SimpleNamespace(estimate=after, document=ISSUED.document, revision=ISSUED.revision, sha256=ISSUED.sha256)
        offered = change_of(state, ChangeOrder(1, "walk", (row,), (), 0.0, state.contract_sum), new, falls="last-draw")
        assert [draw.due for draw in offered.draws[:-1]] == [draw.due for draw in was[:-1]]
        assert {(draw.step, draw.label) for draw in offered.draws if draw.draw == "completion"} == {hand}


def test_a_later_change_by_shares_leaves_what_an_earlier_one_put_elsewhere():
    """Of four changes in turn, each moves its own payments only."""
    first = ("500.00", "last-draw"), ("100.00", "by-shares")
    # shares of 9,521.09 less the 500.00 of the first: 40 % 3,608.44, held 360.84; 80 % 7,216.87, held 721.69; held 902.11 at the end
    hand_two = by_name("892.11", "2355.49", "3247.58", "1623.80", "1402.11")
    assert dues(changed(*first)) == hand_two
    assert dues(changed(*first, ("250.00", "own-draw"))) == {**hand_two, "change-3": Decimal("250.00")}
    # shares of 9,750.00 less 500.00 and 250.00: 40 % 3,600.00, held 360.00; 80 % 7,200.00, held 720.00; held 900.00 at the end
    hand_four = by_name("892.11", "2347.89", "3240.00", "1620.00", "1400.00", change_3="250.00")
    assert dues(changed(*first, ("250.00", "own-draw"), ("-21.09", None))) == hand_four
    # a cut of the last payment stays with it as well: shares of 8,921.09 again, the last less 300.00
    assert dues(changed(("-300.00", "last-draw"), ("-100.00", None), ("100.00", None))) == by_name("892.11", "2319.49", "3211.58", "1605.80", "592.11")


def test_a_canceled_contract_of_which_nothing_is_owed_is_changed_no_more():
    """It has no payment left to say which one is the last; the change is refused in words all the same."""
    signed = changed()
    happened = [signature_of(ISSUED), canceling_of(signed, Decimal("0.00"), "the customer moved")]
    with pytest.raises(LedgerError, match=r"was canceled on Mon, Mar 9, 2026 \(the customer moved\): nothing in it can change"):
        changed(("500.00", "by-shares"), after=happened)


@pytest.mark.parametrize(("falls", "frozen"), [(None, "by-shares"), ("last-draw", "last-draw")])
def test_where_a_change_falls_is_frozen_with_it(falls, frozen):
    """An order of an older ledger, which says nothing, falls as was agreed."""
    order = changed(("500.00", falls)).changes[0].order
    assert order.falls == frozen
    old = happening_to_json(order).replace(f'"falls":"{frozen}",', "")
    assert happening_from_json(old).falls is None


@pytest.mark.parametrize(
    ("changes", "hand_bills"),
    [
        # 8,921.09 less 300.00 on the last payment of 892.11: only 592.11 are held back, and no bill earns more than 8,621.09
        ((("-300.00", "last-draw"),), [("7136.87", "713.69"), ("8621.09", "592.11"), ("8621.09", "0.00")]),
        # less 1,000.00: the last payment is gone, 107.89 come off the one before it, which is the last bill now
        ((("-1000.00", "last-draw"),), [("7136.87", "713.69"), ("7921.09", "0.00")]),
        ((("500.00", "last-draw"),), [("7136.87", "713.69"), ("8921.09", "892.11"), ("9421.09", "0.00")]),
        # 500.00 billed as a payment of their own are earned beside 80 % of 8,921.09
        ((("500.00", "own-draw"),), [("7636.87", "713.69"), ("9421.09", "892.11"), ("9421.09", "0.00")]),
    ],
)
def test_bills_add_up_wherever_a_change_falls(changes, hand_bills):
    """Earned so far, less held back, less billed before is what each bill asks for, with nothing left over; the last earns the whole sum."""
    state = changed(*changes)
    happened = [signature_of(ISSUED), *(happening for one in state.changes for happening in (one.order, ChangeSigned(number=one.order.number)))]
    bills = []
    while state.left:
        bills.append(next_bill(state, FIRST_DAY, 10))
        state = state_of([*happened, *bills])
    assert all(bill.earned - bill.held - bill.billed_before == bill.amount for bill in bills if not bill.deposit)
    planned = [bill for bill in bills if bill.draw in {"set", "completion", "punch-list"}]
    assert [(bill.earned, bill.held) for bill in planned] == [(Decimal(earned), Decimal(held)) for earned, held in hand_bills]


def order_of(state, amount, number=1):
    rows = [ChangeRow("more", "more", "add", None, 0.0, 1.0, "each", Decimal(amount), Decimal(0), Decimal(amount))] if amount else []
    return ChangeOrder(number, "walk", tuple(rows), (), 0.0, state.contract_sum)


def test_an_order_that_starts_elsewhere_changes_nothing_or_takes_too_much_is_refused():
    """The contract is 8,921.09; an order made out for another sum, one of no rows, and one that takes a cent more than there is."""
    state = changed()
    for order, words in (
        (order_of(changed(("500.00", None)), "100.00"), r"is \$8,921\.09 now; the change order starts from \$9,421\.09"),
        (order_of(state, ""), "change order 1 changes nothing"),
        (order_of(state, "-8921.10"), r"change order 1 would leave a contract sum of -\$0\.01"),
    ):
        with pytest.raises(LedgerError, match=words):
            change_of(state, order, ISSUED)
    assert change_of(state, order_of(state, "-8921.09"), ISSUED).sum_after == 0


def test_an_order_is_signed_once_in_its_turn_and_for_what_it_was_made_out_for():
    """Numbers follow; a second signature, one after another order's, and one after a bill that moved a payment are refused: the order is outdated then."""
    offered = [signature_of(ISSUED)]
    for number in (1, 2):
        state = state_of(offered)
        offered.append(change_of(state, order_of(state, "100.00", number), ISSUED))
    state = state_of(offered)
    for what, words in (
        (change_of(state, order_of(state, "5.00", 4), ISSUED), "gets change order 3 next, not change order 4"),
        (ChangeSigned(number=3), "has no change order 3"),
    ):
        with pytest.raises(LedgerError, match=words):
            state_of([*offered, what])
    assert [state.outdated(change) for change in state.changes] == [False, False]
    first = [*offered, ChangeSigned(number=1)]
    with pytest.raises(LedgerError, match="Change order 1 was signed on Mon, Mar 9, 2026"):
        state_of([*first, ChangeSigned(number=1)])
    with pytest.raises(LedgerError, match=r"Change order 2 starts from \$8,921\.09, and the contract is \$9,021\.09 now\. Write it again"):
        state_of([*first, ChangeSigned(number=2)])
    assert [state_of(first).outdated(change) for change in state_of(first).changes] == [False, True]
    deposit = [*offered, next_bill(state, FIRST_DAY, 10)]
    second = [*deposit, next_bill(state_of(deposit), FIRST_DAY, 10)]  # the template's payment, which the orders move by their shares
    assert [state_of(happened).outdated(state_of(happened).changes[0]) for happened in (deposit, second)] == [False, True]
    with pytest.raises(LedgerError, match=r"Change order 1 was written before the last bill\. Write it again"):
        state_of([*second, ChangeSigned(number=1)])
    canceled = [*offered, canceling_of(state, Decimal(0), "sold")]
    assert state_of(canceled).outdated(state_of(canceled).changes[0])
    with pytest.raises(LedgerError, match="nothing in it can change"):
        state_of([*canceled, ChangeSigned(number=1)])


def test_payments_that_don_t_come_to_the_sum_are_refused():
    """A signature whose payments are a dollar short; a closing that leaves a part of the deposit unearned."""
    signed = signature_of(ISSUED)
    short = signed.model_copy(update={"contract_sum": signed.contract_sum + 1})
    with pytest.raises(LedgerError, match=r"has payments of \$8,921\.09, which is not its sum of \$8,922\.09"):
        state_of([short])
    happened = [signed]
    while state_of(happened).left:
        happened.append(next_bill(state_of(happened), FIRST_DAY, 10))
    closing = closing_of(state_of(happened), "done")
    assert state_of([*happened, closing]).closed == "done"
    with pytest.raises(LedgerError, match=r"has \$0\.00 of the deposit left to earn, not \$0\.01"):
        state_of([*happened, closing.model_copy(update={"deposit_earned": Decimal("0.01")})])
    with pytest.raises(LedgerError, match="has nothing left to bill"):
        next_bill(state_of(happened), FIRST_DAY, 10)


@pytest.mark.parametrize(
    ("rule", "hand_earned"),
    [
        ("first-bill", ("0.00", "892.11", "0.00", "0.00", "0.00")),
        ("last-bill", ("0.00", "0.00", "0.00", "0.00", "892.11")),
        # 892.11 x 2,319.49 / 8,028.98; 634.39 x 3,211.58 / 5,709.49; 277.55 x 1,605.80 / 2,497.91; the rest
        ("by-shares", ("0.00", "257.72", "356.84", "178.43", "99.12")),
    ],
)
def test_the_deposit_becomes_income_by_its_rule(rule, hand_earned):
    """A deposit of 892.11, then bills of 2,319.49, 3,211.58, 1,605.80 and 892.11: with the first of them, the last, or each by its share of what is left."""
    happened = [signature_of(ISSUED).model_copy(update={"deposit_earned": rule})]
    while state_of(happened).left:
        happened.append(next_bill(state_of(happened), FIRST_DAY, 10))
    assert tuple(str(bill.deposit_earned) for bill in happened[1:]) == hand_earned
    assert state_of(happened).deposits == 0


def test_what_was_taken_back_is_said_in_words_of_its_own():
    events = [Event(1, "N", FIRST_DAY, WRITTEN, Paid(amount="12.50", how="check 7")), Event(2, "N", FIRST_DAY, WRITTEN, Voided(event=1, reason="a slip"))]
    assert entry_words(events[0], events) == event_words(events[0].what)
    assert entry_words(events[1], events) == f"taken back: {event_words(events[0].what)} of Mon, Mar 9, 2026; a slip"
    assert "$12.50" in event_words(events[0].what)
    assert entry_words(events[1], []) == event_words(events[1].what) == "entry 1 taken back: a slip"


def test_own_work_says_what_was_done_and_a_credit_is_no_negative_purchase():
    """The words of the time sheet stand with its hours; without words, the hours alone. What a supplier gives back has no minus sign."""
    worked = Worked(cost_code="310", text="Build the frame", hours=7.25, wages="246.50", burden="93.67")
    assert event_words(worked) == "own work: Build the frame, 7.25 h, wages $246.50"
    assert event_words(worked.model_copy(update={"text": ""})) == "own work: 7.25 h, wages $246.50"
    bought = Bought(cost_code="410", cost_type="material", text="Basket strainer", amount="60.00")
    assert event_words(bought) == "bought: Basket strainer, $60.00"
    assert event_words(bought.model_copy(update={"amount": -bought.amount})) == "supplier's credit: Basket strainer, $60.00"


def test_a_reason_typed_as_a_sentence_ends_once():
    canceled = Canceled(owed="1500", tax="0", sum_before="2000", billed="0", draws=(), reason="The customer sold the house.")
    assert event_words(canceled) == "contract canceled: The customer sold the house; $1,500.00 owed in all"
    ended = replace(state_of([signature_of(ISSUED)]), canceled="The customer sold the house.", canceled_on=FIRST_DAY, closed="Settled.")
    assert standing_sentences(ended)[:2] == ["Canceled on Mon, Mar 9, 2026: The customer sold the house.", "Closed: Settled."]


def test_the_least_amount_falls_where_the_change_says_and_none_falls_nowhere():
    """A cent is a payment of its own like any other; rows that cancel each other out move nothing."""
    agreed = dues(changed())
    assert dues(changed(("0.01", "own-draw"))) == {**agreed, "change-1": Decimal("0.01")}
    assert dues(changed(("0.00", "own-draw"))) == agreed
    happened = [signature_of(ISSUED)]
    while state_of(happened).left:
        happened.append(next_bill(state_of(happened), FIRST_DAY, 10))
    order = change_of(state_of(happened), order_of(state_of(happened), "0.50"), ISSUED, falls="last-draw")
    assert [(draw.draw, draw.due) for draw in order.draws][-1] == ("change-1", Decimal("0.50"))  # all of the others are billed


def test_a_payment_of_its_own_stands_first_where_no_deposit_is_paid():
    """Nothing is billed and no payment is due at signing: nothing stands before it."""
    signed = signature_of(ISSUED)
    deposit, *others = signed.draws
    happened = [signed.model_copy(update={"draws": tuple(others), "contract_sum": signed.contract_sum - deposit.due})]
    order = change_of(state_of(happened), order_of(state_of(happened), "500.00"), ISSUED, falls="own-draw")
    assert [draw.draw for draw in order.draws] == ["change-1", "template", "set", "completion", "punch-list"]


def test_cuts_by_shares_down_to_nothing():
    """40 % of 2,479.47 are 991.79, less 99.18 held and the deposit 0.50; 80 % 1,983.58 less 198.36. Then less than the deposit, then nothing."""
    assert dues(changed(("-6441.62", None))) == by_name("892.11", "0.50", "892.61", "446.30", "247.95")
    assert dues(changed(("-8920.59", None))) == {"deposit": Decimal("0.50")}
    assert set(dues(changed(("-8921.09", None))).values()) == {Decimal("0.00")}


def test_a_cent_owed_beyond_what_is_billed_is_a_payment_of_its_own():
    """The deposit of 892.11 is billed: a canceled contract of which 892.12 are owed has one cent left to bill, of 892.11 none."""
    happened = [signature_of(ISSUED), next_bill(changed(), FIRST_DAY, 10)]
    for owed, left in (("892.12", {"deposit": "892.11", "canceled": "0.01"}), ("892.11", {"deposit": "892.11"})):
        canceled = canceling_of(state_of(happened), Decimal(owed), "sold")
        assert {draw.draw: str(draw.due) for draw in canceled.draws} == left


@pytest.mark.parametrize("kind", [Paid, Refunded, Credited])
def test_money_that_moves_is_a_cent_at_least(kind):
    """Nothing is no payment, no refund and no credit."""
    more = {"number": 1, "tax": "0", "of_deposit": "0", "reason": "cut"} if kind is Credited else {}
    assert kind(amount="0.01", **more).amount == Decimal("0.01")
    with pytest.raises(ValueError, match="greater than 0"):
        kind(amount="0.00", **more)


def test_of_a_canceled_contract_nothing_or_a_cent_may_be_owed():
    for owed in ("0.00", "0.01"):
        assert Canceled(owed=owed, tax="0", sum_before="5", billed="0", draws=(), reason="sold").owed == Decimal(owed)
    with pytest.raises(ValueError, match="greater than or equal to 0"):
        Canceled(owed="-0.01", tax="0", sum_before="5", billed="0", draws=(), reason="sold")


def test_only_what_is_below_nothing_is_a_supplier_s_credit():
    bought = Bought(cost_code="410", cost_type="material", text="Screws", amount="0.00")
    assert event_words(bought) == "bought: Screws, $0.00"
    assert event_words(bought.model_copy(update={"amount": Decimal("0.50")})) == "bought: Screws, $0.50"
    assert event_words(bought.model_copy(update={"amount": Decimal("-0.50")})) == "supplier's credit: Screws, $0.50"


def test_a_cent_that_is_due_is_collected_before_the_next_bill():
    happened = [signature_of(ISSUED), next_bill(changed(), FIRST_DAY, 10), Paid(amount="892.10")]
    assert next_step(state_of(happened)) == "collect"
    assert next_step(state_of([*happened, Paid(amount="0.01")])) == "bill"
