"""What can happen to a contract, from the day it is offered to the day it is closed. An event is never edited: it is corrected by another."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter

from kit.lists.money_rows import ChangeFalls, DepositEarned
from kit.records import CostType
from kit.steps import Step

__all__ = [
    "AfterSigning",
    "Billed",
    "Bought",
    "Canceled",
    "ChangeOffered",
    "ChangeSigned",
    "Closed",
    "ContractDraw",
    "Credited",
    "Event",
    "Happening",
    "Noted",
    "Offered",
    "Ordered",
    "Paid",
    "Refunded",
    "Signed",
    "Voided",
    "Worked",
    "happening_from_json",
    "happening_to_json",
]


class _Record(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class ContractDraw(_Record):
    """One payment that a contract has [USD]: `due` when `step` is done, at signing where it is a deposit.

    `earned` and `held` are what is earned of the contract and held back by then.
    """

    draw: str
    label: str
    step: Step | None
    deposit: bool
    earned: Decimal
    held: Decimal
    due: Decimal


class Offered(_Record):
    """An estimate was issued: its document, fingerprint and price [USD]. An `invented` one belongs to a demonstration: no figure is learned from it."""

    kind: Literal["offered"] = "offered"
    document: str
    revision: int
    sha256: str
    price: Decimal
    invented: bool = False


class Signed(_Record):
    """The customer signed an issued estimate: contract sum [USD], sales tax in it, its payments, and the rules that hold from now on."""

    kind: Literal["signed"] = "signed"
    document: str
    revision: int
    sha256: str
    contract_sum: Decimal
    tax: Decimal
    draws: tuple[ContractDraw, ...]
    change_falls: ChangeFalls
    deposit_earned: DepositEarned


class ChangeOffered(_Record):
    """A change order was made out: what it adds [USD; below 0 takes away], and every payment as it is once it is signed.

    `document` and `revision` name the issued estimate that it leads to, `rows` say what changes and for how much, `falls` which payments it moves
    (None in ledgers written before a change order chose it: as was agreed with the signature).
    """

    kind: Literal["change"] = "change"
    number: int
    document: str
    revision: int
    sha256: str
    amount: Decimal
    tax: Decimal
    sum_before: Decimal
    sum_after: Decimal
    draws: tuple[ContractDraw, ...]
    rows: tuple[tuple[str, Decimal], ...]
    falls: ChangeFalls | None = None
    reason: str = ""


class ChangeSigned(_Record):
    """The customer signed a change order."""

    kind: Literal["change-signed"] = "change-signed"
    number: int


class Billed(_Record):
    """A bill went out: the draw it is for, and every figure that stands on it [USD].

    `tax` is the sales tax in `amount`, `deposit_earned` what of the deposit becomes income with it.
    """

    kind: Literal["billed"] = "billed"
    number: int
    draw: str
    label: str
    deposit: bool
    amount: Decimal
    tax: Decimal
    earned: Decimal
    held: Decimal
    billed_before: Decimal
    contract_sum: Decimal
    deposit_earned: Decimal
    pay_by: dt.date


class Paid(_Record):
    """The customer paid [USD, above 0]; `how` in the owner's words, such as "check 1042"."""

    kind: Literal["paid"] = "paid"
    amount: Decimal = Field(gt=0)
    how: str = ""


class Credited(_Record):
    """A credit note: what was billed and is owed no longer [USD, above 0], the tax in it, and what of it was a deposit."""

    kind: Literal["credited"] = "credited"
    number: int
    amount: Decimal = Field(gt=0)
    tax: Decimal
    of_deposit: Decimal
    reason: str


class Refunded(_Record):
    """Money went back to the customer [USD, above 0]."""

    kind: Literal["refunded"] = "refunded"
    amount: Decimal = Field(gt=0)
    how: str = ""


class Bought(_Record):
    """Something was bought, hired or paid for the job [USD; below 0 for a credit of the supplier]; `bill` is the supplier's own number.

    `tax` is the sales tax in `amount`, `order` the number under which it was ordered; `call_back` marks what was redone after the work was finished.
    `quantity` of `item` came in (below 0: went back), in the unit of its list, and `left` of it was left over; `order_day` and `delivery_day` say
    when it was ordered and delivered. All of these may be unknown.
    """

    kind: Literal["bought"] = "bought"
    cost_code: str
    cost_type: CostType
    text: str
    amount: Decimal
    tax: Decimal = Decimal("0.00")
    supplier: str = ""
    bill: str = ""
    order: str = ""
    call_back: bool = False
    item: str = ""
    quantity: float | None = None
    left: float | None = None
    order_day: dt.date | None = None
    delivery_day: dt.date | None = None


class Ordered(_Record):
    """Something was ordered and is not to be paid yet [USD]: it counts as committed until purchases under the same `order` come to it."""

    kind: Literal["ordered"] = "ordered"
    cost_code: str
    cost_type: CostType
    text: str
    amount: Decimal
    supplier: str = ""
    order: str


class Worked(_Record):
    """Own people worked: worker-hours [h], wages and what comes on top of wages [USD]; `step` where it is known, `sheet` the time sheet's number."""

    kind: Literal["worked"] = "worked"
    cost_code: str
    step: Step | None = None
    text: str = ""
    hours: float
    wages: Decimal
    burden: Decimal
    sheet: str = ""
    call_back: bool = False


class Noted(_Record):
    """A note, such as what was said on the phone."""

    kind: Literal["note"] = "note"
    text: str


class Canceled(_Record):
    """The contract was canceled: what the customer owes in all for what was done until then, the sales tax in it [USD], and why.

    `sum_before` and `billed` are the contract sum and what was billed of it when it was canceled.
    `draws` are its payments from now on: billed ones as they were billed, and one of its own for what is owed beyond them.
    """

    kind: Literal["canceled"] = "canceled"
    owed: Decimal = Field(ge=0)
    tax: Decimal
    sum_before: Decimal
    billed: Decimal
    draws: tuple[ContractDraw, ...]
    reason: str


class Closed(_Record):
    """Nothing more is billed; what is left of the deposit is earned, with the sales tax that was on no bill yet [USD].

    The reason says how it ended, such as "done", or why something stays `unpaid`; whether the contract was canceled is an event of its own.
    """

    kind: Literal["closed"] = "closed"
    reason: str
    deposit_earned: Decimal
    tax: Decimal
    after_canceling: bool | None = None
    unpaid: Decimal = Decimal("0.00")

    @property
    def canceled_before(self) -> str:
        """The reason where a ledger written before there was such an event says by it that the contract was canceled."""
        return self.reason if self.after_canceling is None and self.reason.strip().casefold().startswith("cancel") else ""


class Voided(_Record):
    """An earlier event holds no longer, from this day on."""

    kind: Literal["voided"] = "voided"
    event: int
    reason: str


AfterSigning = ChangeOffered | ChangeSigned | Billed | Paid | Credited | Refunded | Canceled | Closed
"""What can happen to a signed contract only."""

Happening = Annotated[Offered | Signed | Bought | Ordered | Worked | Noted | Voided | AfterSigning, Field(discriminator="kind")]
_HAPPENING: TypeAdapter[Happening] = TypeAdapter(Happening)


@dataclass(frozen=True, slots=True)
class Event:
    """One event of a contract: `id` counts in the order of writing, `day` is the day for which it holds, `written` when it was put down (UTC)."""

    id: int
    contract: str
    day: dt.date
    written: dt.datetime
    what: Happening


def happening_to_json(what: Happening) -> str:
    """What happened as JSON, money as text."""
    return _HAPPENING.dump_json(what).decode()


def happening_from_json(text: str) -> Happening:
    """What happened, from JSON; a `pydantic.ValidationError` where it is nothing that this version knows."""
    return _HAPPENING.validate_json(text)
