"""A whole ledger as tables: contracts, events, payments, bills, changes, spending and postings as CSV, and what every column means."""

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from types import SimpleNamespace

from kit.contract.changed_draws import agreed_falls
from kit.contract.event_words import event_words
from kit.contract.events import Billed, Credited, Event, Paid, Refunded, happening_to_json
from kit.contract.following import contract_state, standing_events
from kit.contract.ledger import Ledger
from kit.contract.postings import postings_of
from kit.contract.spending import spent_rows
from kit.contract.state import ContractState
from kit.errors import IssueError
from kit.export.csv_text import csv_bytes
from kit.export.posting_rows import account_name, tax_in
from kit.export.table_files import columns_of, describe_tables, table_schema
from kit.issued import issued_path, open_issued
from kit.lists import Lists
from kit.money import round_cents

__all__ = ["LEDGER_TABLES", "ledger_files"]

_COLUMNS_FILE = "ledger_columns.csv"
_Rows = Iterator[SimpleNamespace]
LEDGER_TABLES = {
    "contracts": ("contract",),
    "events": ("event",),
    "payments_due": ("contract", "place"),
    "bills": ("contract", "bill"),
    "payments": ("event",),
    "changes": ("contract", "change"),
    "spending": ("event",),
    "postings": ("contract", "posting"),
}
"""The tables and the columns that name a row of each."""


def ledger_files(folder: Path, day: dt.date | None = None) -> dict[str, bytes]:
    """Name and content of each table of a folder's ledger as it stood at the end of a day, and of `datapackage.json`, which describes them.

    Raises LedgerError if the ledger can't be read.
    """
    ledger = Ledger(folder)
    known = {number: tuple(event for event in ledger.events(number) if day is None or event.day <= day) for number in sorted(ledger.contracts())}
    rows: dict[str, list[SimpleNamespace]] = {name: [] for name in LEDGER_TABLES}
    for number, events in known.items():
        if events:
            state = contract_state(number, events)
            for name, find in _FINDS.items():
                rows[name] += find(state, events)
            rows["postings"] += _postings(folder, state, events)
    files = {f"{name}.csv": csv_bytes(columns_of(_COLUMNS_FILE, name), rows[name]) for name in LEDGER_TABLES}
    schemas = {name: _schema(name) for name in LEDGER_TABLES}
    last = max((event.day for events in known.values() for event in events), default=day or dt.date.min)
    package = describe_tables("ledger", "The contracts of a folder: events, bills, payments, changes, spending, postings", last, schemas, files)
    return {**files, "datapackage.json": package}


def _schema(name: str) -> dict[str, object]:
    schema = table_schema(_COLUMNS_FILE, columns_of(_COLUMNS_FILE, name), LEDGER_TABLES[name], table=name)
    if name == "contracts":
        return schema
    return {**schema, "foreignKeys": [{"fields": ["contract"], "reference": {"resource": "contracts", "fields": ["contract"]}}]}


def _contract(state: ContractState, _: Sequence[Event]) -> _Rows:
    yield SimpleNamespace(
        contract=state.number,
        state=state.stage,
        canceled=state.canceled_on,
        document=state.document,
        signed=state.signed_on,
        offered=state.offered.price if state.offered else None,
        contract_sum=state.contract_sum,
        tax=round_cents(state.tax),
        billed=state.billed,
        paid=state.received,
        receivable=state.receivable,
        refund_due=state.refund_due,
        held_back=state.held,
        not_billed=state.not_billed,
        credit_due=state.credit_due,
        deposits=state.deposits,
        spent=state.spent,
    )


def _events(state: ContractState, events: Sequence[Event]) -> _Rows:
    standing = {event.id for event in standing_events(events)}
    for event in events:
        what = event.what
        yield SimpleNamespace(
            contract=state.number,
            event=event.id,
            day=event.day,
            written=event.written.strftime("%Y-%m-%dT%H:%M:%SZ"),
            kind=what.kind,
            stands=event.id in standing or what.kind == "voided",
            words=event_words(what),
            what=happening_to_json(what),
        )


def _due(state: ContractState, _: Sequence[Event]) -> _Rows:
    bills = {one.bill.draw: one.bill for one in state.bills}
    for place, draw in enumerate(state.draws, 1):
        bill = bills.get(draw.draw)
        due, number = (bill.amount, bill.number) if bill else (draw.due, None)
        yield SimpleNamespace(contract=state.number, place=place, draw=draw.draw, label=draw.label, due=due, bill=number)


def _bills(state: ContractState, _: Sequence[Event]) -> _Rows:
    for one in state.bills:
        yield SimpleNamespace(contract=state.number, day=one.day, paid=one.paid, **{**dict(one.bill), "bill": one.bill.number})


def _payments(state: ContractState, events: Sequence[Event]) -> _Rows:
    for event in standing_events(events):
        what = event.what
        if isinstance(what, Paid | Refunded | Credited):
            how = what.reason if isinstance(what, Credited) else what.how
            yield SimpleNamespace(contract=state.number, event=event.id, day=event.day, kind=what.kind, amount=what.amount, how=how)


def _changes(state: ContractState, _: Sequence[Event]) -> _Rows:
    for one in state.changes:
        cells = {**dict(one.order), "change": one.order.number, "tax": round_cents(one.order.tax), "falls": one.order.falls or agreed_falls(state)}
        yield SimpleNamespace(contract=state.number, day=one.day, signed=one.signed, **cells)


def _spending(state: ContractState, events: Sequence[Event]) -> _Rows:
    columns = set(columns_of(_COLUMNS_FILE, "spending")) - {"contract", "event", "day"}
    for row in spent_rows(events):
        cells = {name: getattr(row, name) for name in columns}
        yield SimpleNamespace(contract=state.number, event=row.number, day=row.date, **cells)


def _postings(folder: Path, state: ContractState, events: Sequence[Event]) -> _Rows:
    """What each event moves, by what its accounts are for and by the firm's own names; without these where the estimate with the names can't be read."""
    posted = postings_of(state.number, events)
    lists = _lists_of(folder, state) if posted else None
    for one in posted:
        cost = one.debit if one.debit.use == "job-cost" else one.credit
        yield SimpleNamespace(
            contract=state.number,
            posting=one.id,
            event=one.event,
            day=one.day,
            kind=one.kind,
            debit_use=one.debit.use,
            credit_use=one.credit.use,
            debit_account=account_name(lists, one.debit) if lists else "",
            credit_account=account_name(lists, one.credit) if lists else "",
            amount=one.amount,
            draw=one.what.draw if isinstance(one.what, Billed) else "",
            cost_code=cost.cost_code,
            supplier=cost.supplier,
            tax=tax_in(one),
            cancels=one.cancels,
        )


def _lists_of(folder: Path, state: ContractState) -> Lists | None:
    """The lists of the estimate that was signed; of the offered one before that."""
    frozen = state.signed or state.offered
    try:
        return open_issued(issued_path(folder, state.number, frozen.revision)).lists if frozen else None
    except IssueError:
        return None


_FINDS: dict[str, Callable[[ContractState, Sequence[Event]], _Rows]] = {
    "contracts": _contract,
    "events": _events,
    "payments_due": _due,
    "bills": _bills,
    "payments": _payments,
    "changes": _changes,
    "spending": _spending,
}
