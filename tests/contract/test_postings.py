"""The books of a contract: what each event moves, on both sides; balances of every day are those of the state."""

import datetime as dt
from collections import Counter
from decimal import Decimal

import pytest
from contract_walks import FIRST_DAY, promise, walk

from kit.contract.bills import closing_of, next_bill
from kit.contract.events import Billed, Bought, Event, Paid, Voided, Worked
from kit.contract.following import contract_state
from kit.contract.postings import BookAccount, Posting, postings_of
from kit.contract.signing import offer_of, signature_of
from kit.records import CostType

ZERO = Decimal("0.00")


def balances(postings: list[Posting]) -> Counter:
    """The balance of each use, counted from the postings alone."""
    found: Counter = Counter()
    for one in postings:
        assert one.amount > 0
        found[one.debit.use] += one.amount
        found[one.credit.use] -= one.amount
    return found


def check_books(seed: int) -> Counter:
    """Postings of one walk after each of its events; gives how many there were of each kind."""
    earlier: tuple[Posting, ...] = ()
    for events, state in walk(seed):
        postings = postings_of(state.number, events)
        assert postings[: len(earlier)] == earlier  # nothing that stood moves
        assert {one.event for one in postings[len(earlier) :]} <= {events[-1].id}
        found = balances(list(postings))
        assert sum(found.values()) == 0
        assert found["receivable"] == state.receivable
        assert found["held-back"] == state.held
        assert found["bank"] == state.received
        assert found["deposit-liability"] == -state.deposits
        assert found["job-cost"] == state.spent
        tax = state.tax if state.closed else state.tax_billed
        assert found["tax-liability"] == -tax
        assert found["income"] == -(state.billed + state.held - state.deposits - tax)
        assert found["wages"] == -sum((one.wages for one in state.worked), ZERO)
        assert found["burden"] == -sum((one.burden for one in state.worked), ZERO)
        assert found["suppliers"] == -sum((one.amount for one in state.bought), ZERO)
        earlier = postings
    check_mirrors(events, earlier)
    return Counter(one.kind for one in earlier)


def check_mirrors(events: tuple[Event, ...], postings: tuple[Posting, ...]) -> None:
    """What is taken back moves every account by what it had been moved, the other way, on the day of the correction."""
    seen = {event.id for event in events if event.what.kind == "voided"}  # the ledger refuses to take those back, and anything twice
    for event in events:
        if event.what.kind == "voided" and event.what.event not in seen:
            seen.add(event.what.event)
            back = [one for one in postings if one.event == event.id]
            there = [one for one in postings if one.event == event.what.event]
            assert {(one.kind, one.cancels, one.day) for one in back} <= {("cancel", event.what.event, event.day)}
            assert [(one.debit, one.credit, one.amount) for one in back] == [(one.credit, one.debit, one.amount) for one in there]


@pytest.mark.parametrize("seed", range(25))
def test_balances_are_those_of_the_state_after_every_event(seed):
    """Debits = credits to the cent; an event adds its own postings and moves none that stood."""
    check_books(seed)


@pytest.mark.long
def test_books_of_a_thousand_contracts_hold_every_kind():
    """The same of a thousand; no kind of posting is missing among them but what a closing moves, which is rare and has its own test."""
    kinds = sum((check_books(seed) for seed in range(1000)), Counter())
    assert set(kinds) >= {"bill", "payment", "refund", "credit", "deposit", "held-back", "tax", "purchase", "wages", "burden", "cancel"}


def lines(postings: tuple[Posting, ...]) -> list[tuple[str, str, str, str]]:
    return [(one.kind, one.debit.use, one.credit.use, f"{one.amount}") for one in postings]


def life(*happenings) -> list[Event]:
    """Events of the first example's contract, one a day; each is what happened or what the state makes happen."""
    issued, events = promise("stone_apron_single_bowl", taxed=True), []
    for number, what in enumerate((offer_of(issued), signature_of(issued), *happenings)):
        day = FIRST_DAY + dt.timedelta(days=number)
        made = what(contract_state(issued.number, events), day) if callable(what) else what
        events.append(Event(number + 1, issued.number, day, dt.datetime.now(dt.UTC), made))
    return events


def bill(state, day) -> Billed:
    return next_bill(state, day, 10)


def test_a_deposit_a_bill_and_the_last_bill_on_both_sides():
    """By hand: the deposit is owed; the first bill after it earns it; held back goes up, then down with the last bill."""
    events = life(bill, bill, bill, bill, bill)
    state, postings = contract_state("DEMO-001", events), postings_of("DEMO-001", events)
    bills = [one.bill for one in state.bills]
    assert bills[0].deposit
    assert bills[-1].draw == state.draws[-1].draw
    hand_deposit, hand_held = bills[0].amount, bills[1].held
    assert lines(tuple(one for one in postings if one.event == 3)) == [("deposit", "receivable", "deposit-liability", f"{hand_deposit}")]
    assert lines(tuple(one for one in postings if one.event == 4)) == [
        ("deposit", "deposit-liability", "income", f"{hand_deposit}"),
        ("held-back", "held-back", "income", f"{hand_held}"),
        ("bill", "receivable", "income", f"{bills[1].amount - bills[1].tax}"),
        ("tax", "receivable", "tax-liability", f"{bills[1].tax}"),
    ]
    assert [one.id for one in postings if one.event == 4] == ["4/1", "4/2", "4/3", "4/4"]
    last = [one for one in postings if one.event == 2 + len(bills)]
    assert lines(tuple(last)) == [  # what was held back is paid; the tax in it was income until now
        ("held-back", "income", "held-back", f"{bills[4].tax}"),
        ("held-back", "receivable", "held-back", f"{bills[3].held - bills[4].tax}"),
        ("tax", "receivable", "tax-liability", f"{bills[4].tax}"),
    ]
    assert {one.day for one in last} == {state.bills[-1].day}


def test_wages_stand_apart_from_burden_and_tax_by_supplier():
    """Two hours at 34.00 with 25.84 on top; goods of 106.00 of which 6.00 is tax."""
    goods = Bought(cost_code="06", cost_type=CostType.MATERIAL, text="lumber", amount="106.00", tax="6.00", supplier="Yard (invented)")
    postings = postings_of("DEMO-001", life(goods, Worked(cost_code="06", hours=2, wages="68.00", burden="25.84")))
    assert lines(postings) == [
        ("purchase", "job-cost", "suppliers", "100.00"),
        ("tax", "job-cost", "suppliers", "6.00"),
        ("wages", "job-cost", "wages", "68.00"),
        ("burden", "job-cost", "burden", "25.84"),
    ]
    assert postings[1].debit == BookAccount("job-cost", CostType.MATERIAL, "06", "Yard (invented)", tax=True)


def test_a_credit_of_a_supplier_is_no_purchase():
    """60.00 off for a chip: less is owed to the shop, and the cost of the job is less; the row says that it is a credit."""
    credit = Bought(cost_code="07", cost_type=CostType.HIRED, text="60.00 off for a chip", amount="-60.00", supplier="Shop (invented)")
    assert lines(postings_of("DEMO-001", life(credit))) == [("supplier-credit", "suppliers", "job-cost", "60.00")]


def test_what_is_taken_back_stands_reversed_on_the_day_of_the_correction():
    """A payment that was a slip: the row of then stays, another one of the later day takes it back."""
    events = life(bill, Paid(amount="500.00"), Voided(event=4, reason="another customer's check"))
    paid, back = postings_of("DEMO-001", events)[-2:]
    assert lines((paid, back)) == [("payment", "bank", "receivable", "500.00"), ("cancel", "receivable", "bank", "500.00")]
    assert (back.day, back.cancels, back.what) == (events[-1].day, 4, events[3].what)


def test_the_end_turns_the_rest_of_the_deposit_into_income():
    """By the rule that earns it with the last bill, nothing is left; canceled before any bill but the deposit's, all of it."""
    events = life(bill)
    state = contract_state("DEMO-001", events)
    cut = state.signed.model_copy(update={"contract_sum": state.draws[0].due, "draws": state.draws[:1], "tax": ZERO})
    events = [events[0], Event(2, "DEMO-001", events[1].day, events[1].written, cut), *events[2:]]
    events[2] = Event(3, "DEMO-001", events[2].day, events[2].written, events[2].what.model_copy(update={"contract_sum": cut.contract_sum}))
    day = FIRST_DAY + dt.timedelta(days=9)
    events.append(Event(4, "DEMO-001", day, events[0].written, closing_of(contract_state("DEMO-001", events), "done")))
    assert lines(postings_of("DEMO-001", events))[-1] == ("deposit", "deposit-liability", "income", f"{state.draws[0].due}")
