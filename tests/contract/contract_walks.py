"""Random lives of contracts, for the tests of the ledger: signed, changed, billed, paid, credited, refunded, canceled, in any order that the rules allow."""

import datetime as dt
import random
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from typing import Any

import kit
from kit.change.priced_change import ChangeOrder, ChangeRow
from kit.contract.bills import closing_of, credit_note, next_bill
from kit.contract.canceling import canceling_of
from kit.contract.changed_draws import change_of
from kit.contract.events import Bought, ChangeSigned, Event, Happening, Noted, Paid, Refunded, Voided, Worked
from kit.contract.following import contract_state
from kit.contract.signing import offer_of, signature_of
from kit.contract.state import ContractState
from kit.errors import LedgerError
from kit.issued import Issued
from kit.job import change_job
from kit.money import sum_money
from kit.records import CostType

__all__ = ["FIRST_DAY", "issued_of", "promise", "walk"]

FIRST_DAY = dt.date(2026, 3, 9)
RULES = ("by-shares", "last-draw", "own-draw")
EARNED = ("first-bill", "by-shares", "last-bill")
NAMES = ("stone_apron_single_bowl", "laminate_top_mount", "counter_stays_sink_only")


@cache
def promise(name: str, *, taxed: bool = False) -> Issued:
    """An example as if it had been issued, its price taxed on the whole where `taxed`."""
    job = kit.read_job(kit.shipped("examples") / f"{name}.toml")
    if taxed:
        job = change_job(job, {"terms.tax_on": "everything"})
    estimate = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    return Issued.of(estimate, job.identity.job_number, 1, FIRST_DAY, "0" * 64)


def issued_of(state: ContractState) -> Issued:
    """What a walk's contract was issued as."""
    return next(one for one in map(promise, NAMES) if one.number == state.number)


def walk(seed: int) -> Iterator[tuple[tuple[Event, ...], ContractState]]:
    """The events of one contract and its state after each of them."""
    draw = random.Random(seed)
    issued = promise(draw.choice(NAMES), taxed=draw.random() < 0.4)
    events: list[Event] = []
    state, day = ContractState(issued.number), FIRST_DAY
    signed = signature_of(issued).model_copy(update={"change_falls": draw.choice(RULES), "deposit_earned": draw.choice(EARNED)})
    for what in (offer_of(issued), signed):
        events.append(Event(len(events) + 1, issued.number, day, dt.datetime.now(dt.UTC), what))
        state = contract_state(issued.number, events)
        yield tuple(events), state
    for _ in range(draw.randint(3, 20)):
        day += dt.timedelta(days=draw.randint(0, 6))
        for what in _moves(draw, state, issued, day, events):
            event = Event(len(events) + 1, issued.number, day, dt.datetime.now(dt.UTC), what)
            try:
                state = contract_state(issued.number, [*events, event])
            except LedgerError:  # what can't follow is not written down
                continue
            events.append(event)
            yield tuple(events), state


def _moves(  # noqa: C901, PLR0911 - one line for each move
    draw: random.Random, state: ContractState, issued: Issued, day: dt.date, events: list[Event]
) -> list[Happening]:
    move = draw.choice(("bill", "bill", "pay", "change", "credit", "refund", "buy", "work", "note", "void", "close", "cancel", "none"))
    try:
        match move:
            case "bill":
                return [next_bill(state, day, 10)]
            case "pay" if state.receivable > 0:
                return [Paid(amount=draw.choice((state.receivable, Decimal(draw.randint(1, 100_000)) / 100)))]
            case "change":
                order = _order(draw, state)
                return [change_of(state, order, issued, falls=draw.choice((None, *RULES))), ChangeSigned(number=order.number)][: draw.choice((1, 2, 2))]
            case "credit":
                return [credit_note(state, "cut")]
            case "refund" if state.receivable < 0:
                return [Refunded(amount=-state.receivable)]
            case "buy":
                return [Bought(cost_code="06", cost_type=CostType.MATERIAL, text="lumber", amount=Decimal(draw.randint(-500, 9000)) / 100)]
            case "work":
                return [Worked(cost_code="06", hours=draw.randint(1, 16) / 2, wages=Decimal("68.00"), burden=Decimal("25.84"))]
            case "note":
                return [Noted(text="called")]
            case "void":
                return [Voided(event=draw.choice(events[2:] or events).id, reason="a slip")]
            case "cancel" if draw.random() < 0.3:
                return [canceling_of(state, (state.contract_sum * draw.choice((0, 0, 10, 40, 80, 100)) / 100).quantize(Decimal("0.01")), "canceled by chance")]
            case "close":
                return [closing_of(state, "done")]
    except LedgerError:
        pass
    return []


def _order(draw: random.Random, state: ContractState) -> ChangeOrder:
    amount = Decimal(draw.randint(-150_000, 300_000)) / 100
    if draw.random() < 0.3:  # a large cut
        amount = -(state.contract_sum * draw.randint(30, 100) / 100).quantize(Decimal("0.01"))
    amount = max(amount, -state.contract_sum)
    tax = Decimal(draw.randint(0, 500)) / 100 if state.tax and amount > 10 else Decimal("0.00")
    rows: Any = [("more", "add", amount - tax), *([("tax", "tax", tax)] if tax else [])]
    made = tuple(ChangeRow(label, label, kind, None, 0.0, 1.0, "each", amount, Decimal(0), amount) for label, kind, amount in rows)
    assert sum_money([row.amount for row in made]) == amount
    return ChangeOrder(len(state.changes) + 1, "walk", made, (), 0.0, state.contract_sum)
