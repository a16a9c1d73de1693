"""A contract as a command or a screen works on it: opened beside its issued estimate, and one thing after the other written down."""

import datetime as dt
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from kit.contract.bills import closing_of, credit_note, next_bill
from kit.contract.canceling import canceling_of
from kit.contract.events import Billed, ChangeSigned, Event, Happening, Offered, Paid, Refunded, Voided
from kit.contract.following import contract_state, standing_events
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of, signature_of
from kit.contract.state import ContractState
from kit.contract.unpaid import more_than_unpaid, unpaid_at_end
from kit.errors import Fault, KitError, LedgerError
from kit.issued import Issued, issued_path, open_issued
from kit.money import parse_money

__all__ = [
    "ContractFile",
    "bill_contract",
    "billed_state",
    "cancel_contract",
    "current_promise",
    "offer_contract",
    "open_contract",
    "record_end",
    "record_payment",
    "refuse_ended",
    "say_ended",
    "sign_contract",
    "take_back",
    "written_state",
]


_NEW_WORK = "For new work, give the job a new number."
_ENDED = {
    "closed": f"is closed: nothing more is offered, changed or billed under this number. {_NEW_WORK}",
    "canceled": f"was canceled: nothing more is offered or changed under this number, only what is owed is settled. {_NEW_WORK}",
}


@dataclass(frozen=True, slots=True)
class ContractFile:
    """A contract as a command works on it: the folder's ledger, where it stands, and the estimate that was signed, or is to be."""

    folder: Path
    ledger: Ledger
    state: ContractState
    issued: Issued

    def write(self, what: Happening, day: dt.date) -> "ContractFile":
        """The same after one more event, written down."""
        return replace(self, state=self.ledger.append(self.state.number, what, day, seen=self.state.last))


def open_contract(path: Path) -> ContractFile:
    """The contract of an issued estimate's job; its signed revision, where one is signed already.

    Raises KitError if it is no issued estimate, or the ledger beside it can't be read.
    """
    issued = open_issued(path)
    ledger = Ledger(path.parent)
    state = ledger.state(issued.number)
    if state.signed is not None and state.signed.revision != issued.revision:
        issued = open_issued(issued_path(path.parent, issued.number, state.signed.revision))
    if state.signed is not None and state.signed.sha256 != issued.sha256:
        raise LedgerError(Fault(issued.document, "is not the document that was signed: its fingerprint is another.", path.name))
    return ContractFile(path.parent, ledger, state, issued)


def offer_contract(contract: ContractFile) -> ContractFile:
    """The estimate was offered, on the day it was issued; once it is signed, a later revision is a matter of change orders."""
    offered = (event.what.document for event in contract.ledger.events(contract.state.number) if isinstance(event.what, Offered))
    if contract.state.signed is not None or contract.issued.document in offered:  # an earlier revision may be signed after a later one was offered
        return contract
    return contract.write(offer_of(contract.issued), contract.issued.issued)


def say_ended(number: str, ended: str) -> str:
    """What the end of a contract (`ContractState.ended`) means for its number, in sentences; "" where it has not ended."""
    return f"The contract {number} {_ENDED[ended]}" if ended else ""


def refuse_ended(folder: Path, number: str) -> None:
    """Nothing is issued any more under the number of a contract that has ended: raises LedgerError. A ledger that can't be read refuses where it is written."""
    ended = ""
    with suppress(KitError):
        ended = Ledger(folder).state(number).ended
    if ended:
        raise LedgerError(Fault("", say_ended(number, ended)))


def current_promise(contract: ContractFile, state: ContractState) -> Issued:
    """What the contract stands for in a state: the signed estimate, or that of the last signed change; errors as in `open_issued`."""
    if state.revision in {0, contract.issued.revision}:
        return contract.issued
    return open_issued(issued_path(contract.folder, state.number, state.revision))


def billed_state(number: str, events: Sequence[Event], bill: int) -> ContractState:
    """Where a contract stood when a bill was written: what was written after it changes no word of its paper. Raises LedgerError if it has no such bill."""
    written = [event.id for event in standing_events(events) if isinstance(event.what, Billed) and event.what.number == bill]
    if not written:
        raise LedgerError(Fault(number, f"has no bill {bill}."))
    return written_state(number, events, written[0])


def written_state(number: str, events: Sequence[Event], event: int) -> ContractState:
    """Where a contract stood when an event was written down, with it: what is written later changes no word of its paper."""
    return contract_state(number, [one for one in events if one.id <= event])


def sign_contract(contract: ContractFile, day: dt.date, change: int | None) -> ContractFile:
    """The customer signed the estimate, or a change order."""
    if change is not None:
        return contract.write(ChangeSigned(number=change), day)
    return offer_contract(contract).write(signature_of(contract.issued), day)


def bill_contract(contract: ContractFile, day: dt.date, *, credit: str | None) -> ContractFile:
    """The next bill, or the credit note that is owed, written down."""
    if credit is not None:
        return contract.write(credit_note(contract.state, credit), day)
    return contract.write(next_bill(contract.state, day, contract.issued.figures.pay_within_days), day)


def record_payment(contract: ContractFile, amount: str, day: dt.date, *, how: str, back: bool, overpaid: bool = False) -> ContractFile:
    """Money from the customer, or back to the customer.

    Raises LedgerError if it is none, or more than is unpaid where nobody says that it was `overpaid`.
    """
    money = parse_money(amount)
    if not money:
        raise LedgerError(Fault(contract.state.number, "A payment of 0 is none. Give what was paid."))
    asked = "" if back or overpaid else more_than_unpaid(contract.state, money)
    if asked:
        raise LedgerError(Fault(contract.state.number, f"{asked} Check the amount. If it did come in, record it with --overpaid."))
    return contract.write(Refunded(amount=money, how=how) if back else Paid(amount=money, how=how), day)


def cancel_contract(contract: ContractFile, owed: str, reason: str, day: dt.date) -> ContractFile:
    """The contract is canceled; `owed` is what the customer owes in all, such as "0 USD"."""
    return contract.write(canceling_of(contract.state, parse_money(owed), reason), day)


_DONE = {"done", "all done", "finished", "complete", "completed"}


def record_end(contract: ContractFile, reason: str, day: dt.date, *, unpaid: bool = False) -> ContractFile:
    """Write down that the contract has ended and nothing more is billed.

    Raises LedgerError if a canceled one, or one with money unpaid, is said to be done, or money is unpaid where nobody says that it may stay `unpaid`.
    """
    done, asked = reason.strip().strip(".").casefold() in _DONE, unpaid_at_end(contract.state)
    if asked and not unpaid:
        raise LedgerError(Fault(contract.state.number, f"{asked} Record the payment first, or close it with --unpaid and say why it stays unpaid."))
    if asked and done:
        raise LedgerError(Fault(contract.state.number, f'{asked} "{reason.strip()}" is no reason why: say it, such as "written off, customer moved".'))
    if contract.state.canceled and done:
        sentence = f'was canceled: it did not end as "{reason.strip()}". Say how it was settled, such as "settled, nothing owed".'
        raise LedgerError(Fault(contract.state.number, sentence))
    return contract.write(closing_of(contract.state, reason), day)


def take_back(contract: ContractFile, event: int, reason: str, day: dt.date) -> ContractFile:
    """An event was a slip: it holds no longer."""
    return contract.write(Voided(event=event, reason=reason), day)
