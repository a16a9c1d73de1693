"""The top of a contract's page: what it comes to, and what is to do next, in words."""

import datetime as dt
from decimal import Decimal
from html import escape

from kit.contract.bills import next_bill
from kit.contract.next_step import next_step
from kit.contract.state import ContractState
from kit.job.field_names import lower_first
from kit.money import EXACT, format_money, sum_money
from kit.units import format_day

__all__ = ["NOTHING_DUE", "draw_next_bill", "draw_sums", "payments_head", "standing_sentences"]

NOTHING_DUE = "nothing due: the credit settles it"
_ZERO = Decimal("0.00")


def draw_sums(state: ContractState) -> str:
    """Contract sum, billed, paid, held back, what the customer has to pay now; of an offer its price. Below them whom money is owed to."""
    if state.signed is None:
        sums = [("Offered", state.offered.price)] if state.offered else []
    else:
        always = [("Contract sum", state.contract_sum), ("Billed", state.billed), ("Paid", state.received), ("Held back", state.held)]
        left = EXACT.add(state.held, state.not_billed)
        sums = [*always, ("Due", state.left_to_pay), *([("Left to bill", left)] if left else [])]
    cells = "".join(f"<div><dt>{escape(what)}</dt><dd>{format_money(amount)}</dd></div>" for what, amount in sums)
    return f"<dl class='sk-sums'>{cells}</dl>{''.join(f'<p>{escape(sentence)}</p>' for sentence in standing_sentences(state))}"


def standing_sentences(state: ContractState) -> list[str]:
    """What the sums alone don't say: that a contract was canceled or has ended, and whom money is owed to."""
    sentences = []
    if state.canceled:
        sentences.append(f"Canceled{f' on {format_day(state.canceled_on)}' if state.canceled_on else ''}: {state.canceled.removesuffix('.')}.")
    if state.closed:
        unpaid = f" {format_money(state.left_to_pay)} is unpaid." if state.left_to_pay else ""
        sentences.append(f"Closed: {state.closed.removesuffix('.')}.{unpaid}")
    if state.refund_due:
        beyond = EXACT.subtract(state.received, state.contract_sum)
        more = "It counts toward the next bill, or goes back."
        if not state.left or state.credit_due:
            more = "It goes back to the customer."
        elif beyond > 0:
            more = f"{format_money(beyond)} of it is beyond the contract sum and goes back to the customer; the rest counts toward the bills to come."
        sentences.append(f"The customer has paid {format_money(state.refund_due)} more than is billed. {more}")
    return sentences


def payments_head(state: ContractState) -> str:
    """Over the payments as they were billed: what of them a canceled contract no longer asks for."""
    gone = EXACT.subtract(sum_money([draw.due for draw in state.draws]), state.contract_sum)
    return f"Payments as billed; {format_money(gone)} more than is owed" if state.canceled and gone > 0 else "Payments"


def draw_next_bill(state: ContractState, today: dt.date, day: dt.date, pay_within: int) -> str:
    """What is unpaid `today`, then what a bill of a `day` would be, how much and why; where nothing is to bill, what to do instead. `pay_within` [days]."""
    head, why = _next_words(state, day, pay_within)
    says = f"<br>{escape(why)}" if why else ""
    return f"{_draw_unpaid(state, today)}<p class='sk-next'><b>{escape(head)}</b>{says}</p>"


def _draw_unpaid(state: ContractState, today: dt.date) -> str:
    """Bills that are still to be paid, before another one is thought of: an overdue one is an alert."""
    unpaid = [one for one in state.bills if one.open > 0 and state.receivable > 0]
    late = state.overdue(today)
    said = [
        f"Bill {one.bill.number} {'is overdue: it was' if one in late else 'is open,'} to be paid by {format_day(one.bill.pay_by)}. "
        f"{format_money(one.open)}{f' of {format_money(one.bill.amount)}' if one.paid else ''} is not paid."
        for one in unpaid
    ]
    collect = " Ask for it before you make another bill." if late and state.left else ""
    after = f" With the credit note, {format_money(state.left_to_pay)} is left to pay." if state.credit_due else ""
    return f"<p role='{'alert' if late else 'status'}'>{'<br>'.join(map(escape, said))}{after or collect}</p>" if said else ""


def _next_words(state: ContractState, day: dt.date, pay_within: int) -> tuple[str, str]:
    step = next_step(state)
    if state.left and step in {"bill", "collect"}:
        return _bill_words(state, day, pay_within)
    return {
        "sign": ("Not signed yet", "Signing fixes sum and payments; the first bill comes after it."),
        "credit": (f"A credit note for {format_money(state.credit_due)} is owed", "More is billed than the contract sum. Give the reason and write it."),
        "collect": ("All is billed", f"{format_money(max(state.receivable, _ZERO))} is not paid yet. Record it when it comes in."),
        "refund": (f"{format_money(state.refund_due)} goes back", "The customer paid more than is billed. Record it when it has gone back."),
        "close": ("Nothing is owed by either side", "Close the contract: say how it was settled, such as nothing owed.")
        if state.canceled
        else ("All is billed and paid", "Close the contract: give the reason, such as done."),
        "nothing": ("Nothing more to do", ""),  # that it is closed stands below the sums
    }[step]


def _bill_words(state: ContractState, day: dt.date, pay_within: int) -> tuple[str, str]:
    bill = next_bill(state, day, pay_within)
    whose = "the deposit that was agreed" if bill.deposit else f"payment {1 + state.draws.index(state.left[0])} of {len(state.draws)}"
    tax = f", sales tax {format_money(bill.tax)} in it" if bill.tax else ""
    held = f" {format_money(bill.held)} stays held back until the last bill." if bill.held else ""
    before = f" Billed before: {format_money(bill.billed_before)} of {format_money(bill.contract_sum)}."
    return (
        f"Bill {bill.number}: {lower_first(bill.label)}, {format_money(bill.amount)}",
        f"It is {whose}{tax}; to pay by {format_day(bill.pay_by)}.{held}{before}",
    )
