"""What is to do next with a contract? One thing, from where it stands."""

from typing import Literal

from kit.contract.state import ContractState

__all__ = ["NextStep", "next_step"]

NextStep = Literal["sign", "credit", "collect", "bill", "refund", "close", "nothing"]


def next_step(state: ContractState) -> NextStep:
    """The step that comes first: money that is owed before the next bill, and the end when all is billed and paid."""
    if state.signed is None:
        return "sign"
    if state.credit_due:
        return "credit"
    if state.receivable > 0:
        return "collect"
    if state.left and not state.closed:
        return "bill"
    if state.refund_due:
        return "refund"
    return "nothing" if state.closed else "close"
