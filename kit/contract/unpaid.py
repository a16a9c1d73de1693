"""What is asked before more is recorded than is unpaid, or a contract is closed with money unpaid? The same for command and screen; "" where nothing is."""

from decimal import Decimal

from kit.contract.state import ContractState
from kit.money import EXACT, format_money

__all__ = ["more_than_unpaid", "unpaid_at_end"]


def more_than_unpaid(state: ContractState, amount: Decimal) -> str:
    """What a payment comes to beyond the bills that are unpaid, a credit note that is owed taken off them."""
    unpaid = state.left_to_pay
    if state.signed is None or amount <= unpaid:
        return ""
    over = format_money(EXACT.subtract(amount, unpaid))
    if not unpaid:
        return f"has no bill that is unpaid, and {over} would be paid beyond what is billed."
    return f"has {format_money(unpaid)} billed and unpaid: {format_money(amount)} is {over} more."


def unpaid_at_end(state: ContractState) -> str:
    """What of the bills is not paid as a contract ends."""
    return f"has {format_money(state.left_to_pay)} billed and unpaid." if state.left_to_pay else ""
