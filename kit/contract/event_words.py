"""What happened to a contract in a few words, as people write amounts and days: for screens, reports, tables and whoever wrote at the same time."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from kit.contract.events import Bought, Closed, Event, Happening, Voided, Worked
from kit.money import format_money
from kit.units import format_day

__all__ = ["entry_words", "event_words"]

_EVENT_WORDS = {
    "offered": "offered: {document}, {price}",
    "signed": "customer signed {document}: contract sum {contract_sum}",
    "change": "change order {number} written: {amount}",
    "change-signed": "customer signed change order {number}",
    "billed": "bill {number}: {label}, {amount}, pay by {pay_by}",
    "paid": "customer paid {amount}, {how}",
    "refunded": "paid back to the customer: {amount}, {how}",
    "credited": "credit note {number}: {amount}, {reason}",
    "bought": "bought: {text}, {amount}",
    "ordered": "ordered: {text}, {amount}, order {order}",
    "worked": "own work: {text}, {hours:g} h, wages {wages}",
    "note": "note: {text}",
    "canceled": "contract canceled: {reason}; {owed} owed in all",
    "closed": "contract closed: {reason}",
    "voided": "entry {event} taken back: {reason}",
}


def entry_words(event: Event, events: Sequence[Event]) -> str:
    """An entry of the ledger in a few words; one that takes another of `events` back says which, not by its number."""
    what = event.what
    if not isinstance(what, Voided):
        return event_words(what)
    slip = next((one for one in events if one.id == what.event), None)
    return f"taken back: {event_words(slip.what)} of {format_day(slip.day)}; {what.reason}" if slip else event_words(what)


def event_words(what: Happening) -> str:
    """An event in a few words, amounts and days as people write them."""
    if isinstance(what, Bought) and what.amount < 0:
        return f"supplier's credit: {what.text}, {format_money(what.amount.copy_abs())}"
    if isinstance(what, Worked) and not what.text:
        return f"own work: {what.hours:g} h, wages {format_money(what.wages)}"
    if isinstance(what, Closed) and what.unpaid:
        return f"contract closed with {format_money(what.unpaid)} unpaid: {what.reason}"
    return _EVENT_WORDS[what.kind].format_map({name: _written(value) for name, value in what}).replace(".; ", "; ").removesuffix(", ")


def _written(value: object) -> object:
    return format_money(value) if isinstance(value, Decimal) else format_day(value) if isinstance(value, dt.date) else value
