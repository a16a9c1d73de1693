"""Which contracts does a folder have, and on which is something due? One row each, the due ones first."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from kit.contract.ledger import contract_states
from kit.contract.state import ContractState
from kit.errors import KitError
from kit.issued import issued_path, open_issued

__all__ = ["ContractRow", "list_contracts"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class ContractRow:
    """One contract or offer of a folder: where it stands, who the customer is, and the file of the estimate it stands for.

    `price` is the contract sum, of an offer what was offered [USD].
    """

    state: ContractState
    customer: str
    file: str
    price: Decimal

    @property
    def due(self) -> Decimal:
        """What the customer has to pay now [USD]."""
        return self.state.left_to_pay

    @property
    def pay_by(self) -> dt.date | None:
        """The first day on which something of that is to be paid; None where nothing is due."""
        return min((one.bill.pay_by for one in self.state.bills if one.open), default=None) if self.due else None

    def is_overdue(self, today: dt.date) -> bool:
        """Whether that day is over."""
        return self.pay_by is not None and self.pay_by < today and not self.state.closed

    def urgency(self, today: dt.date) -> str:
        """What wants doing first sorts first: overdue by its day, to be paid by its day, to settle, to bill, to sign, then what is at its end."""
        state = self.state
        if state.closed:
            return "6"
        if self.pay_by is not None:
            return f"{0 if self.is_overdue(today) else 1} {self.pay_by.isoformat()}"
        if state.canceled:
            return "2"
        return "4" if state.signed is None else "3" if state.left else "5"


def list_contracts(folder: Path, customers: dict[str, str] | None = None) -> tuple[ContractRow, ...]:
    """The contracts and offers of a folder: those with something due first, by the day to pay; then the one touched last first.

    Parameters
    ----------
    folder
        Where issued estimates and the ledger lie.
    customers
        Customers by issued document that are known from before; those read now are added.

    Raises
    ------
    LedgerError
        If the ledger can't be read. Where only an estimate can't be opened, its customer is "".
    """
    known: dict[str, str] = {} if customers is None else customers
    rows = [_row(folder, state, known) for state in contract_states(folder) if state.revision]
    return tuple(sorted(rows, key=lambda row: row.pay_by or dt.date.max))


def _row(folder: Path, state: ContractState, customers: dict[str, str]) -> ContractRow:
    path = issued_path(folder, state.number, state.revision)
    if state.document not in customers:
        customers[state.document] = _customer(path)
    offered = state.offered.price if state.offered else _ZERO
    return ContractRow(state, customers[state.document], path.name, state.contract_sum if state.signed else offered)


def _customer(path: Path) -> str:
    try:
        issued = open_issued(path, checked=False)  # it is checked when it is opened
    except KitError:
        return ""
    return str(issued.content["result"]["job"]["identity"]["customer"])
