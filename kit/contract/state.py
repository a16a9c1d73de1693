"""Where does a contract stand on a day? A pure function of its events; nothing here is ever edited."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from kit.contract.events import (
    AfterSigning,
    Billed,
    Bought,
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
from kit.errors import Fault, LedgerError
from kit.money import EXACT, format_money, sum_money

__all__ = ["BillState", "ChangeState", "ContractState", "contract_state", "follow_event", "standing_events"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class ChangeState:
    """A change order, the day it was made out, and the day it was signed, if it was."""

    day: dt.date
    order: ChangeOffered
    signed: dt.date | None = None


@dataclass(frozen=True, slots=True)
class BillState:
    """A bill, the day of it, and what of it is paid [USD]: payments pay the oldest bills first."""

    day: dt.date
    bill: Billed
    paid: Decimal = _ZERO

    @property
    def open(self) -> Decimal:
        """What is still to be paid [USD]."""
        return EXACT.subtract(self.bill.amount, self.paid)


@dataclass(frozen=True, slots=True)
class ContractState:
    """A contract on one day [USD]; everything follows from its events.

    `draws` are all its payments as they are now, billed ones at what was billed. `last` is the id of the last event seen.
    """

    number: str
    last: int = 0
    offered: Offered | None = None
    signed: Signed | None = None
    signed_on: dt.date | None = None
    closed: str = ""
    contract_sum: Decimal = _ZERO
    tax: Decimal = _ZERO
    draws: tuple[ContractDraw, ...] = ()
    changes: tuple[ChangeState, ...] = ()
    bills: tuple[BillState, ...] = ()
    credits: tuple[Credited, ...] = ()
    paid: Decimal = _ZERO
    refunded: Decimal = _ZERO
    deposits: Decimal = _ZERO
    bought: tuple[Bought, ...] = ()
    ordered: tuple[Ordered, ...] = ()
    worked: tuple[Worked, ...] = ()

    @property
    def stage(self) -> Literal["offered", "signed", "closed"]:
        """How far the contract has come: offered, signed or closed."""
        return "closed" if self.closed else "signed" if self.signed else "offered"

    @property
    def document(self) -> str:
        """The issued estimate that the contract stands for now: the one signed, or the one of the last signed change."""
        orders = [change.order for change in self.changes if change.signed]
        return orders[-1].document if orders else self.signed.document if self.signed else self.offered.document if self.offered else ""

    @property
    def revision(self) -> int:
        """The revision of that estimate; 0 where nothing was offered."""
        orders = [change.order for change in self.changes if change.signed]
        stands = orders[-1] if orders else self.signed or self.offered
        return stands.revision if stands else 0

    @property
    def credited(self) -> Decimal:
        """What credit notes took back [USD]."""
        return sum_money([credit.amount for credit in self.credits])

    @property
    def billed(self) -> Decimal:
        """What was billed, less what was credited [USD]."""
        return EXACT.subtract(sum_money([one.bill.amount for one in self.bills]), self.credited)

    @property
    def tax_billed(self) -> Decimal:
        """The sales tax in what was billed, less what was credited [USD]."""
        return EXACT.subtract(sum_money([one.bill.tax for one in self.bills]), sum_money([credit.tax for credit in self.credits]))

    @property
    def received(self) -> Decimal:
        """What the customer paid, less what went back [USD]."""
        return EXACT.subtract(self.paid, self.refunded)

    @property
    def receivable(self) -> Decimal:
        """What is billed and not paid [USD]; below 0 where the customer paid more."""
        return EXACT.subtract(self.billed, self.received)

    @property
    def credit_due(self) -> Decimal:
        """What is billed beyond the contract sum, as after a large cut [USD]: a credit note is owed for it."""
        return max(EXACT.subtract(self.billed, self.contract_sum), _ZERO) if self.signed else _ZERO

    @property
    def held(self) -> Decimal:
        """What is earned and held back until the last draw [USD]."""
        if not self.bills or self.bills[-1].bill.draw == self.draws[-1].draw:
            return _ZERO
        return min(self.bills[-1].bill.held, max(EXACT.subtract(self.contract_sum, self.billed), _ZERO))

    @property
    def not_billed(self) -> Decimal:
        """What is neither billed nor held back [USD]: billed + held back + not billed - credit due = contract sum."""
        return EXACT.add(EXACT.subtract(EXACT.subtract(self.contract_sum, self.billed), self.held), self.credit_due)

    @property
    def left(self) -> tuple[ContractDraw, ...]:
        """The payments that are still to be billed, in their order; none that come to nothing."""
        billed = {one.bill.draw for one in self.bills}
        return tuple(draw for draw in self.draws if draw.draw not in billed and draw.due)

    @property
    def spent(self) -> Decimal:
        """What the job cost so far [USD]: purchases, wages and burden."""
        return sum_money([*(one.amount for one in self.bought), *(part for one in self.worked for part in (one.wages, one.burden))])


def contract_state(number: str, events: Iterable[Event], day: dt.date | None = None) -> ContractState:
    """Where a contract stands at the end of a day, after all its events where no day is given.

    Raises
    ------
    LedgerError
        If an event can't follow those before it: such a ledger was not written by `Ledger.append`.
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

    Raises
    ------
    LedgerError
        If it can't follow: a bill of what is not due, a payment of nothing signed, anything after the end, figures that are not the contract's.
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
        raise LedgerError(Fault(state.number, "is not signed yet. Write down first that the customer signed: sinkset sign."))
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
        case Closed():
            return _close(state, what)


def _sign(state: ContractState, what: Signed, day: dt.date) -> ContractState:
    if state.signed is not None:
        sentence = f"was signed on {state.signed_on} as {state.signed.document}. What changes since then is a change order: sinkset change."
        raise LedgerError(Fault(state.number, sentence))
    _require_sum(state.number, what.draws, what.contract_sum)
    return replace(state, signed=what, signed_on=day, contract_sum=what.contract_sum, tax=what.tax, draws=what.draws)


def _require_sum(number: str, draws: Sequence[ContractDraw], amount: Decimal) -> None:
    together = sum_money([draw.due for draw in draws])
    if together != amount:
        raise LedgerError(Fault(number, f"has payments of {format_money(together)}, which is not its sum of {format_money(amount)}."))


def _offer_change(state: ContractState, what: ChangeOffered, day: dt.date) -> ContractState:
    if what.number != len(state.changes) + 1:
        raise LedgerError(Fault(state.number, f"has {len(state.changes)} change orders: the next one is {len(state.changes) + 1}, not {what.number}."))
    return replace(state, changes=(*state.changes, ChangeState(day, what)))


def _sign_change(state: ContractState, what: ChangeSigned, day: dt.date) -> ContractState:
    change = next((one for one in state.changes if one.order.number == what.number), None)
    if change is None:
        raise LedgerError(Fault(state.number, f"has no change order {what.number}."))
    order = change.order
    if change.signed:
        raise LedgerError(Fault(state.number, f"change order {what.number} was signed on {change.signed}."))
    if order.sum_before != state.contract_sum:
        sentence = f"change order {what.number} starts from {format_money(order.sum_before)}, and the contract is {format_money(state.contract_sum)} now."
        raise LedgerError(Fault(state.number, f"{sentence} Make it out again."))
    billed = {one.bill.draw: one.bill.amount for one in state.bills}
    if {draw.draw: draw.due for draw in order.draws if draw.draw in billed} != billed:
        raise LedgerError(Fault(state.number, f"change order {what.number} was made out before the last bill. Make it out again."))
    _require_sum(state.number, order.draws, max(EXACT.add(order.sum_after, state.credited), sum_money(list(billed.values()))))
    changes = tuple(replace(one, signed=day) if one is change else one for one in state.changes)
    return replace(state, changes=changes, contract_sum=order.sum_after, tax=EXACT.add(state.tax, order.tax), draws=order.draws)


def _bill(state: ContractState, what: Billed, day: dt.date) -> ContractState:
    if what.number != len(state.bills) + 1:
        raise LedgerError(Fault(state.number, f"has {len(state.bills)} bills: the next one is {len(state.bills) + 1}, not {what.number}."))
    following = next(iter(state.left), None)
    if following is None:
        raise LedgerError(Fault(state.number, "has nothing left to bill."))
    said = (what.draw, what.amount, what.billed_before, what.contract_sum)
    if said != (following.draw, following.due, state.billed, state.contract_sum):
        sentence = f"bill {what.number} is not the next one: {following.label}, {format_money(following.due)}. Make it out again."
        raise LedgerError(Fault(state.number, sentence))
    deposits = EXACT.subtract(EXACT.add(state.deposits, what.amount if what.deposit else _ZERO), what.deposit_earned)
    if deposits < 0:
        raise LedgerError(Fault(state.number, f"bill {what.number} earns more of the deposit than there is."))
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
    if what.number != len(state.credits) + 1:
        raise LedgerError(Fault(state.number, f"has {len(state.credits)} credit notes: the next one is {len(state.credits) + 1}, not {what.number}."))
    if what.amount > state.credit_due:
        raise LedgerError(Fault(state.number, f"owes a credit of {format_money(state.credit_due)}, not of {format_money(what.amount)}."))
    deposits = EXACT.subtract(state.deposits, what.of_deposit)
    if deposits < 0:
        raise LedgerError(Fault(state.number, f"credit note {what.number} gives back more of the deposit than there is."))
    return _pay(replace(state, credits=(*state.credits, what), deposits=deposits))


def _refund(state: ContractState, what: Refunded) -> ContractState:
    if what.amount > -state.receivable:
        owed = max(-state.receivable, _ZERO)
        raise LedgerError(Fault(state.number, f"has {format_money(owed)} that was paid beyond what is billed; {format_money(what.amount)} can't go back."))
    return _pay(replace(state, refunded=EXACT.add(state.refunded, what.amount)))


def _close(state: ContractState, what: Closed) -> ContractState:
    if state.left:
        sentence = f"has {format_money(sum_money([draw.due for draw in state.left]))} left to bill. Bill it, or take it out by a change order; then close."
        raise LedgerError(Fault(state.number, sentence))
    if state.credit_due:
        raise LedgerError(Fault(state.number, f"owes the customer a credit of {format_money(state.credit_due)}: write the credit note first."))
    if what.deposit_earned != state.deposits:
        raise LedgerError(Fault(state.number, f"has {format_money(state.deposits)} of the deposit left to earn, not {format_money(what.deposit_earned)}."))
    return replace(state, closed=what.reason, deposits=_ZERO)
