"""What does each event of a contract move in the books? From the state before it and the state after it, on both sides, to the cent.

A posting is never worked out from an event's own words but from what the event changed: so the balances of any day are those of the state of that day.
An offer, a signature and a note move nothing. A change order or canceling moves nothing either, but where it cuts into what is held back already.
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.contract.events import Bought, Event, Happening, Voided, Worked
from kit.contract.following import contract_state, follow_event
from kit.contract.state import ContractState
from kit.lists.money_rows import BookUse
from kit.money import EXACT, sum_money
from kit.records import CostType

__all__ = ["BookAccount", "Posting", "PostingKind", "book_balances", "postings_of"]

PostingKind = Literal[
    "bill", "payment", "refund", "credit", "deposit", "held-back", "tax", "closing", "purchase", "supplier-credit", "wages", "burden", "cancel"
]
_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class BookAccount:
    """An account by what it is for: a use of books.csv, or the cost of the job with its kind and cost code.

    `supplier` is whom we owe, or whose tax it is; `tax` tells the sales tax in a purchase from the rest of it.
    """

    use: BookUse | Literal["job-cost"]
    cost_type: CostType | None = None
    cost_code: str = ""
    supplier: str = ""
    tax: bool = False


@dataclass(frozen=True, slots=True)
class Posting:
    """An amount [USD, above 0] that goes to `debit` and comes from `credit`, on the day of its event.

    `id` is stable, `event/number`; `cancels` is the event that is taken back with it, None for all others.
    """

    id: str
    event: int
    day: dt.date
    kind: PostingKind
    what: Happening
    debit: BookAccount
    credit: BookAccount
    amount: Decimal
    cancels: int | None = None


def postings_of(contract: str, events: Sequence[Event]) -> tuple[Posting, ...]:
    """The postings of a contract in the order of their days.

    Parameters
    ----------
    contract
        Job number.
    events
        Its events, as `Ledger.events` gives them.

    Raises
    ------
    LedgerError
        If an event can't follow those before it.

    Notes
    -----
    A later event adds postings of its own and leaves those of earlier ones as they are.
    """
    known: list[Event] = []
    postings: list[Posting] = []
    state, before = ContractState(contract), dict[BookAccount, Decimal]()
    taken_back = {event.id: event.what for event in events}
    for event in sorted(events, key=lambda event: (event.day, event.id)):
        known.append(event)
        # only what is taken back changes what came before it: all else follows the state of then, so that the time grows with the events alone
        state = contract_state(contract, known) if isinstance(event.what, Voided) else follow_event(state, event)
        after = _with_spending(before, [event.what]) if isinstance(event.what, Bought | Worked) else book_balances(state)
        moved = {account: EXACT.subtract(after.get(account, _ZERO), before.get(account, _ZERO)) for account in dict.fromkeys((*after, *before))}
        what = taken_back[event.what.event] if isinstance(event.what, Voided) else event.what
        postings += _postings(event, what, moved)
        before = after
    return tuple(postings)


def book_balances(state: ContractState) -> dict[BookAccount, Decimal]:
    """The balance of each account [USD], debit above 0; they sum to nothing."""
    held, tax = state.held, state.tax if state.closed else state.tax_billed
    earned = EXACT.subtract(EXACT.subtract(EXACT.add(state.billed, held), state.deposits), tax)
    balances = {
        BookAccount("deposit-liability"): -state.deposits,
        BookAccount("held-back"): held,
        BookAccount("bank"): state.received,
        BookAccount("receivable"): state.receivable,
        BookAccount("income"): -earned,
        BookAccount("tax-liability"): -tax,
    }
    return _with_spending(balances, [*state.bought, *state.worked])


def _with_spending(balances: Mapping[BookAccount, Decimal], spent: Sequence[Bought | Worked]) -> dict[BookAccount, Decimal]:
    totals = dict(balances)
    for account, amount in (pair for one in spent for pair in _spending(one)):
        totals[account] = EXACT.add(totals.get(account, _ZERO), amount)
    return totals


def _spending(one: Bought | Worked) -> Iterator[tuple[BookAccount, Decimal]]:
    """What was bought is owed to its supplier, what was worked to our people and to whoever gets what comes on top of wages."""
    if isinstance(one, Bought):
        cost = BookAccount("job-cost", one.cost_type, one.cost_code, one.supplier)
        yield cost, EXACT.subtract(one.amount, one.tax)
        yield BookAccount("job-cost", one.cost_type, one.cost_code, one.supplier, tax=True), one.tax
        yield BookAccount("suppliers", supplier=one.supplier), -one.amount
    else:
        yield BookAccount("job-cost", CostType.LABOR, one.cost_code), EXACT.add(one.wages, one.burden)
        yield BookAccount("wages"), -one.wages
        yield BookAccount("burden"), -one.burden


def _postings(event: Event, what: Happening, moved: dict[BookAccount, Decimal]) -> Iterator[Posting]:
    """Each debit matched with the credits that it pays: income first and tax last, so that a deposit is earned as income; what is taken back mirrors it."""
    ordered = sorted(moved.items(), key=lambda pair: {"income": 0, "tax-liability": 2}.get(pair[0].use, 1))
    debits = [(account, amount) for account, amount in ordered if amount > 0]
    credits_ = [(account, -amount) for account, amount in ordered if amount < 0]
    if sum_money([amount for _, amount in debits]) != sum_money([amount for _, amount in credits_]):
        raise AssertionError(f"event {event.id}: debits and credits differ")
    cancels = event.what.event if isinstance(event.what, Voided) else None
    number = 0
    while debits:
        (debit, owed), (credit, paid) = debits[0], credits_[0]
        amount, number = min(owed, paid), number + 1
        kind = "cancel" if cancels else _kind(what, {debit.use, credit.use}, tax=debit.tax or credit.tax)
        yield Posting(f"{event.id}/{number}", event.id, event.day, kind, what, debit, credit, amount, cancels)
        debits[:1] = [(debit, EXACT.subtract(owed, amount))] if owed > amount else []
        credits_[:1] = [(credit, EXACT.subtract(paid, amount))] if paid > amount else []


_KINDS: dict[str, PostingKind] = {
    "billed": "bill",
    "paid": "payment",
    "refunded": "refund",
    "credited": "credit",
    "closed": "closing",
    "bought": "purchase",
    "change-signed": "held-back",
    "canceled": "held-back",
}


def _kind(what: Happening, uses: set[str], *, tax: bool) -> PostingKind:
    if isinstance(what, Worked):
        return "burden" if "burden" in uses else "wages"
    if tax or "tax-liability" in uses:
        return "tax"
    if "held-back" in uses:
        return "held-back"
    if isinstance(what, Bought) and what.amount < 0:
        return "supplier-credit"
    return "deposit" if "deposit-liability" in uses else _KINDS[what.kind]
