"""What does canceling leave of a contract? What is owed for what was done; billed payments stay, and what is billed beyond it is owed as a credit."""

from decimal import Decimal

from kit.contract.events import Canceled, ContractDraw
from kit.contract.state import ContractState
from kit.errors import Fault, LedgerError
from kit.money import EXACT, round_cents, sum_money, times

__all__ = ["canceling_of"]

_ZERO = Decimal("0.00")


def canceling_of(state: ContractState, owed: Decimal, reason: str) -> Canceled:
    """The end of a contract before its work is done.

    Parameters
    ----------
    state
        Where the contract stands.
    owed
        What the customer owes in all [USD], from 0 to the contract sum; the sales tax in it is its share of the contract's.
    reason
        Why, in the owner's words.

    Raises
    ------
    LedgerError
        If the contract is not signed, or no reason is given.
    """
    if state.signed is None:
        raise LedgerError(Fault(state.number, "is not signed: an unsigned offer needs no canceling."))
    if not reason.strip():
        raise LedgerError(Fault(state.number, "needs a reason to be canceled. Give one: it is kept."))
    billed = {one.bill.draw for one in state.bills}
    billed_draws = tuple(draw for draw in state.draws if draw.draw in billed)
    beyond = EXACT.subtract(EXACT.add(owed, state.credited), sum_money([draw.due for draw in billed_draws]))
    own = ContractDraw(draw="canceled", label="Work done until canceled", step=None, deposit=False, earned=owed, held=_ZERO, due=beyond)
    tax = round_cents(EXACT.divide(times(state.tax, owed), state.contract_sum)) if state.contract_sum else _ZERO
    draws = (*billed_draws, own) if beyond > 0 else billed_draws
    return Canceled(owed=owed, tax=tax, sum_before=state.contract_sum, billed=state.billed, draws=draws, reason=reason.strip())
