"""What may be billed next, and what stands on that bill? Every figure is worked out once, here, and kept with the bill."""

import datetime as dt
from decimal import Decimal

from kit.contract.events import Billed, Closed, ContractDraw, Credited
from kit.contract.state import ContractState
from kit.errors import Fault, LedgerError
from kit.money import EXACT, round_cents, sum_money, times

__all__ = ["closing_of", "credit_note", "next_bill"]

_ZERO = Decimal("0.00")


def next_bill(state: ContractState, day: dt.date, pay_within: int) -> Billed:
    """The next bill of a contract, for the first payment that is left.

    Parameters
    ----------
    state
        Where the contract stands on that day.
    day
        Date of the bill.
    pay_within
        Days until it is to be paid.

    Raises
    ------
    LedgerError
        If the contract is not signed, all of it is billed, or a credit is owed.
    """
    if state.signed is None:
        raise LedgerError(Fault(state.number, "is not signed yet: nothing can be billed. First record that the customer signed: sinkset sign."))
    if not state.left:
        raise LedgerError(Fault(state.number, "has nothing left to bill."))
    draw = state.left[0]
    earned, held = _earned_and_held(state, draw)
    return Billed(
        number=len(state.bills) + 1,
        draw=draw.draw,
        label=draw.label,
        deposit=draw.deposit,
        amount=draw.due,
        tax=_tax(state, draw),
        earned=earned,
        held=held,
        billed_before=state.billed,
        contract_sum=state.contract_sum,
        deposit_earned=_deposit_earned(state, draw),
        pay_by=day + dt.timedelta(days=pay_within),
    )


def _earned_and_held(state: ContractState, draw: ContractDraw) -> tuple[Decimal, Decimal]:
    """What of the contract is earned with this bill, and what of that a later bill asks for [USD].

    A change may fall on some payments only, so the shares of the others know nothing of it: the last bill earns the whole contract sum, no bill
    earns more, and what was billed as a payment of its own is earned beside them.
    """
    later = sum_money([one.due for one in state.left[1:]])
    if not later and not draw.deposit:
        return state.contract_sum, _ZERO
    if not (draw.step or draw.earned):  # the deposit, or a change order that is a payment of its own
        return EXACT.add(_earned_before(state), draw.due), state.held
    own = sum_money([one.bill.amount for one in state.bills if one.bill.draw.startswith("change-")])
    return min(EXACT.add(draw.earned, own), state.contract_sum), min(draw.held, later)


def _earned_before(state: ContractState) -> Decimal:
    return state.bills[-1].bill.earned if state.bills else _ZERO


def _tax(state: ContractState, draw: ContractDraw) -> Decimal:
    """The sales tax in a bill [USD]: the share of the contract's that is billed by then, less what was in earlier bills; the last takes the rest."""
    before = state.tax_billed
    if draw.deposit:
        return _ZERO
    if len(state.left) == 1:
        return EXACT.subtract(state.tax, before)
    by_then = EXACT.add(state.billed, draw.due)
    return max(EXACT.subtract(round_cents(EXACT.divide(times(state.tax, by_then), state.contract_sum)), before), _ZERO)


def _deposit_earned(state: ContractState, draw: ContractDraw) -> Decimal:
    """What of the deposit becomes income with this bill [USD]."""
    if draw.deposit or state.signed is None:
        return _ZERO
    if len(state.left) == 1 or state.signed.deposit_earned == "first-bill":
        return state.deposits
    if state.signed.deposit_earned == "last-bill":
        return _ZERO
    left = sum_money([one.due for one in state.left])
    return min(round_cents(EXACT.divide(times(state.deposits, draw.due), left)), state.deposits)


def credit_note(state: ContractState, reason: str) -> Credited:
    """The credit note for what is billed beyond the contract sum, as after a cut larger than what was unbilled.

    Raises LedgerError if nothing is billed beyond the sum.
    """
    amount = state.credit_due
    if not amount:
        raise LedgerError(Fault(state.number, "owes no credit: nothing is billed beyond the contract sum."))
    income = EXACT.subtract(state.billed, state.deposits)
    return Credited(
        number=len(state.credits) + 1,
        amount=amount,
        tax=max(EXACT.subtract(state.tax_billed, state.tax), _ZERO),
        of_deposit=max(EXACT.subtract(amount, income), _ZERO),
        reason=reason,
    )


def closing_of(state: ContractState, reason: str) -> Closed:
    """The end of a contract; what is left of the deposit becomes income, and what is unpaid stays with the end."""
    return Closed(
        reason=reason,
        deposit_earned=state.deposits,
        tax=EXACT.subtract(state.tax, state.tax_billed),
        after_canceling=bool(state.canceled),
        unpaid=state.left_to_pay,
    )
