"""Where a contract stands on one day, and what its sums come to; `following.py` brings it there, event by event."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.contract.events import Billed, Bought, ChangeOffered, ContractDraw, Credited, Offered, Ordered, Signed, Worked
from kit.money import EXACT, sum_money

__all__ = ["BillState", "ChangeState", "ContractState"]

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

    `draws` are all its payments as they are now, billed ones at what was billed. `last` is the id of the last event seen. `closed` and `canceled` are the
    reasons why it ended and why it was canceled, "" until then; a canceled one is closed when all of it is settled.
    """

    number: str
    last: int = 0
    offered: Offered | None = None
    signed: Signed | None = None
    signed_on: dt.date | None = None
    closed: str = ""
    canceled: str = ""
    canceled_on: dt.date | None = None
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
    def ended(self) -> Literal["", "closed", "canceled"]:
        """How the contract ended, "" where it has not; a canceled one is closed once all is settled, and stays a canceled one."""
        return "canceled" if self.canceled else "closed" if self.closed else ""

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
    def refund_due(self) -> Decimal:
        """What the customer paid beyond what is billed [USD]: it goes back, or counts toward the next bill."""
        return max(-self.receivable, _ZERO)

    @property
    def credit_due(self) -> Decimal:
        """What is billed beyond the contract sum, as after a large cut [USD]: a credit note is owed for it."""
        return max(EXACT.subtract(self.billed, self.contract_sum), _ZERO) if self.signed else _ZERO

    @property
    def left_to_pay(self) -> Decimal:
        """What the customer still has to pay on what is billed, the credit note that is owed taken off [USD]."""
        return max(EXACT.subtract(self.receivable, self.credit_due), _ZERO)

    @property
    def back_to_customer(self) -> Decimal:
        """What the customer has paid beyond what is billed once the credit note that is owed is written [USD]."""
        return max(EXACT.subtract(self.credit_due, self.receivable), _ZERO)

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

    def due_on(self, bill: BillState) -> Decimal:
        """What is to be paid on a bill [USD]: a credit that is owed comes off the oldest open ones, as its note will."""
        credit = self.credit_due
        for one in self.bills:
            part = min(credit, one.open)
            if one == bill:
                return EXACT.subtract(one.open, part)
            credit = EXACT.subtract(credit, part)
        return _ZERO

    def overdue(self, day: dt.date) -> tuple[BillState, ...]:
        """The bills that were to be paid before that day and are not, in their order."""
        return tuple(one for one in self.bills if one.open > 0 and one.bill.pay_by < day)

    def outdated(self, change: ChangeState) -> bool:
        """Whether a change order that is not signed can't be signed any more: the contract sum or the bills are others than it was made out for."""
        billed = {one.bill.draw: one.bill.amount for one in self.bills}
        frozen = {draw.draw: draw.due for draw in change.order.draws if draw.draw in billed}
        return change.signed is None and (bool(self.canceled) or change.order.sum_before != self.contract_sum or frozen != billed)

    @property
    def spent(self) -> Decimal:
        """What the job cost so far [USD]: purchases, wages and burden."""
        return sum_money([*(one.amount for one in self.bought), *(part for one in self.worked for part in (one.wages, one.burden))])
