"""How does a contract get from one day to the next? Its state follows from its events alone, and refuses what can't follow."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from kit.contract.events import (
    AfterSigning,
    Billed,
    Bought,
    Canceled,
    ChangeOffered,
    ChangeSigned,
    Closed,
    ContractDraw,
    Credited,
    Event,
    Happening,
    Noted,
    Offered,
    Ordered,
    Paid,
    Refunded,
    Signed,
    Voided,
    Worked,
)
from kit.contract.state import BillState, ChangeState, ContractState
from kit.errors import Fault, LedgerError
from kit.job.field_names import lower_first
from kit.money import EXACT, format_money, sum_money
from kit.units import format_day

__all__ = ["contract_state", "follow_event", "standing_events"]

_ZERO = Decimal("0.00")


def contract_state(number: str, events: Iterable[Event], day: dt.date | None = None) -> ContractState:
    """Where a contract stands at the end of a day, after all its events where no day is given.

    Raises LedgerError if an event can't follow those before it: such a ledger was not written by `Ledger.append`.
    """
    known = [event for event in events if day is None or event.day <= day]
    state = ContractState(number)
    for event in standing_events(known):
        state = follow_event(state, event)
    return replace(state, last=max((event.id for event in known), default=0))


def standing_events(known: Iterable[Event]) -> list[Event]:
    """The events that hold, in the order of their days; what was taken back is left out."""
    known = list(known)
    voided = {event.what.event for event in known if isinstance(event.what, Voided)}
    return sorted((event for event in known if event.id not in voided and not isinstance(event.what, Voided)), key=lambda event: (event.day, event.id))


def follow_event(state: ContractState, event: Event) -> ContractState:
    """The state after one more event.

    Raises LedgerError if it can't follow: a bill of what is not due, a payment of nothing signed, anything after the end, figures that are not the
    contract's.
    """
    if state.closed and not isinstance(event.what, Paid | Refunded | Bought | Ordered | Worked | Noted):  # a call-back still costs something
        raise LedgerError(Fault(state.number, f"is closed ({state.closed}): only payments, refunds, spending and notes can follow."))
    return _follow(state, event.what, event.day)


def _follow(state: ContractState, what: Happening, day: dt.date) -> ContractState:
    match what:
        case Offered():
            return replace(state, offered=what)
        case Signed():
            return _sign(state, what, day)
        case Bought():
            return replace(state, bought=(*state.bought, what))
        case Ordered():
            return replace(state, ordered=(*state.ordered, what))
        case Worked():
            return replace(state, worked=(*state.worked, what))
        case Noted() | Voided():
            return state
    if state.signed is None:
        raise LedgerError(Fault(state.number, "is not signed yet. First record that the customer signed: sinkset sign."))
    return _follow_signed(state, what, day)


def _follow_signed(state: ContractState, what: AfterSigning, day: dt.date) -> ContractState:
    match what:
        case ChangeOffered():
            return _offer_change(state, what, day)
        case ChangeSigned():
            return _sign_change(state, what, day)
        case Billed():
            return _bill(state, what, day)
        case Paid():
            return _pay(replace(state, paid=EXACT.add(state.paid, what.amount)))
        case Credited():
            return _credit(state, what)
        case Refunded():
            return _refund(state, what)
        case Canceled():
            return _cancel(state, what, day)
        case Closed():
            return _close(state, what)


def _sign(state: ContractState, what: Signed, day: dt.date) -> ContractState:
    if state.signed is not None:
        sentence = f"was signed {_on(state.signed_on)}as {state.signed.document}. What changes since then is a change order: sinkset change."
        raise LedgerError(Fault(state.number, sentence))
    _require_sum(state.number, what.draws, what.contract_sum)
    return replace(state, signed=what, signed_on=day, contract_sum=what.contract_sum, tax=what.tax, draws=what.draws)


def _require_sum(number: str, draws: Sequence[ContractDraw], amount: Decimal) -> None:
    together = sum_money([draw.due for draw in draws])
    if together != amount:
        raise LedgerError(Fault(number, f"has payments of {format_money(together)}, which is not its sum of {format_money(amount)}."))


def _on(day: dt.date | None) -> str:
    return f"on {format_day(day)} " if day else ""


def _require_going(state: ContractState) -> None:
    if state.canceled:
        raise LedgerError(Fault(state.number, f"was canceled {_on(state.canceled_on)}({state.canceled}): nothing in it can change."))


def _require_next(state: ContractState, kind: str, made: Sequence[object], number: int) -> None:
    if number != len(made) + 1:
        raise LedgerError(Fault(state.number, f"gets {kind} {len(made) + 1} next, not {kind} {number}."))


def _offer_change(state: ContractState, what: ChangeOffered, day: dt.date) -> ContractState:
    _require_going(state)
    _require_next(state, "change order", state.changes, what.number)
    return replace(state, changes=(*state.changes, ChangeState(day, what)))


def _sign_change(state: ContractState, what: ChangeSigned, day: dt.date) -> ContractState:
    _require_going(state)
    change = next((one for one in state.changes if one.order.number == what.number), None)
    if change is None:
        raise LedgerError(Fault(state.number, f"has no change order {what.number}."))
    order = change.order
    if change.signed:
        raise LedgerError(Fault(state.number, f"Change order {what.number} was signed on {format_day(change.signed)}."))
    if order.sum_before != state.contract_sum:
        sentence = f"Change order {what.number} starts from {format_money(order.sum_before)}, and the contract is {format_money(state.contract_sum)} now."
        raise LedgerError(Fault(state.number, f"{sentence} Write it again."))
    billed = {one.bill.draw: one.bill.amount for one in state.bills}
    if {draw.draw: draw.due for draw in order.draws if draw.draw in billed} != billed:
        raise LedgerError(Fault(state.number, f"Change order {what.number} was written before the last bill. Write it again."))
    _require_sum(state.number, order.draws, max(EXACT.add(order.sum_after, state.credited), sum_money(list(billed.values()))))
    changes = tuple(replace(one, signed=day) if one is change else one for one in state.changes)
    return replace(state, changes=changes, contract_sum=order.sum_after, tax=EXACT.add(state.tax, order.tax), draws=order.draws)


def _bill(state: ContractState, what: Billed, day: dt.date) -> ContractState:
    _require_next(state, "bill", state.bills, what.number)
    following = next(iter(state.left), None)
    if following is None:
        raise LedgerError(Fault(state.number, "has nothing left to bill."))
    said = (what.draw, what.amount, what.billed_before, what.contract_sum)
    if said != (following.draw, following.due, state.billed, state.contract_sum):
        sentence = f"Bill {what.number} is not the next one: {lower_first(following.label)}, {format_money(following.due)}. Write it again."
        raise LedgerError(Fault(state.number, sentence))
    deposits = EXACT.subtract(EXACT.add(state.deposits, what.amount if what.deposit else _ZERO), what.deposit_earned)
    if deposits < 0:
        raise LedgerError(Fault(state.number, f"Bill {what.number} earns more of the deposit than there is."))
    return _pay(replace(state, bills=(*state.bills, BillState(day, what)), deposits=deposits))


def _pay(state: ContractState) -> ContractState:
    """Payments and credits on the oldest bills first."""
    left = EXACT.add(state.received, state.credited)
    bills = []
    for one in state.bills:
        part = max(min(left, one.bill.amount), _ZERO)
        bills.append(replace(one, paid=part))
        left = EXACT.subtract(left, part)
    return replace(state, bills=tuple(bills))


def _credit(state: ContractState, what: Credited) -> ContractState:
    _require_next(state, "credit note", state.credits, what.number)
    if what.amount > state.credit_due:
        raise LedgerError(Fault(state.number, f"owes a credit of {format_money(state.credit_due)}, not of {format_money(what.amount)}."))
    deposits = EXACT.subtract(state.deposits, what.of_deposit)
    if deposits < 0:
        raise LedgerError(Fault(state.number, f"Credit note {what.number} gives back more of the deposit than there is."))
    return _pay(replace(state, credits=(*state.credits, what), deposits=deposits))


def _refund(state: ContractState, what: Refunded) -> ContractState:
    if what.amount > -state.receivable:
        owed = max(-state.receivable, _ZERO)
        raise LedgerError(Fault(state.number, f"has {format_money(owed)} that was paid beyond what is billed; {format_money(what.amount)} can't go back."))
    return _pay(replace(state, refunded=EXACT.add(state.refunded, what.amount)))


def _cancel(state: ContractState, what: Canceled, day: dt.date) -> ContractState:
    _require_going(state)
    if what.owed > state.contract_sum:
        sentence = f"is {format_money(state.contract_sum)}: {format_money(what.owed)} can't be owed for a part of it."
        raise LedgerError(Fault(state.number, sentence))
    if (what.sum_before, what.billed) != (state.contract_sum, state.billed):
        raise LedgerError(Fault(state.number, "differs from the one it was canceled with. Undo the canceling first, then cancel again."))
    _require_sum(state.number, what.draws, max(EXACT.add(what.owed, state.credited), sum_money([one.bill.amount for one in state.bills])))
    return replace(state, canceled=what.reason, canceled_on=day, contract_sum=what.owed, tax=what.tax, draws=what.draws)


def _close(state: ContractState, what: Closed) -> ContractState:
    if state.left:
        left = format_money(sum_money([draw.due for draw in state.left]))
        sentence = f"has {left} left to bill. Bill it, take it out by a change order, or cancel the contract; then close."
        raise LedgerError(Fault(state.number, sentence))
    if state.credit_due:
        raise LedgerError(Fault(state.number, f"owes the customer a credit of {format_money(state.credit_due)}: write the credit note first."))
    if what.deposit_earned != state.deposits:
        raise LedgerError(Fault(state.number, f"has {format_money(state.deposits)} of the deposit left to earn, not {format_money(what.deposit_earned)}."))
    return replace(state, closed=what.reason, canceled=state.canceled or what.canceled_before, deposits=_ZERO)
