"""Contracts on the command line: signed, billed, paid, and where each of them stands; as JSON, as a report, as papers."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.cli.changing import ChangeRequest
from kit.cli.job_source import JobSource
from kit.cli.jobs_table import job_row_document, show_job_rows
from kit.cli.out_folder import Writer, file_writers
from kit.cli.report_text import Page, typed_path
from kit.cli.spent_command import cost_document, cost_of, show_cost
from kit.contract.contract_file import ContractFile, billed_state, open_contract
from kit.contract.event_words import event_words
from kit.contract.events import ContractDraw, Event, happening_to_json
from kit.contract.ledger import contract_states
from kit.contract.state import ContractState
from kit.document import money_text, plain_fields
from kit.draw.contract_top import NOTHING_DUE, payments_head, standing_sentences
from kit.errors import Fault, KitError
from kit.export.change_files import price_contract_change
from kit.export.change_order import ChangeOrderSource
from kit.export.event_papers import EventPaper, event_paper_bytes, list_event_papers
from kit.export.posting_files import posting_files
from kit.export.reminder import reminder_bytes, reminder_name
from kit.issued import office_day
from kit.issued.file_names import issued_path
from kit.job.field_names import lower_first
from kit.learning.job_rows import list_jobs
from kit.money import EXACT, format_money
from kit.units import format_day

__all__ = [
    "bill_files",
    "books_files",
    "change_contract",
    "contract_document",
    "contract_report",
    "event_files",
    "jobs_document",
    "jobs_report",
    "read_day",
]


def read_day(text: str | None, option: str = "--day") -> dt.date:
    """The day of an option, which is named where it is no day; today where it is left out. Raises KitError if it is no day."""
    if text is None:
        return office_day()
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise KitError(Fault(option, f'"{text}" is not a day. Give year, month and day, such as 2026-03-31.')) from None


def bill_files(contract: ContractFile, number: int) -> dict[str, Writer]:
    """An earlier bill as PDF, and the rows for the books of what was written down with it."""
    return event_files(contract, billed_state(contract.state.number, contract.ledger.events(contract.state.number), number).last)


def reminder_files(contract: ContractFile, day: dt.date) -> dict[str, Writer]:
    """A reminder of the bills that are overdue on a day, as PDF."""
    return file_writers({reminder_name(contract.state.number, day): reminder_bytes(contract.issued, contract.state, day)})


def event_files(contract: ContractFile, event: int | None = None) -> dict[str, Writer]:
    """Paper and rows for the books of an event, of the one that was written down last where none is said."""
    events, event_id = contract.ledger.events(contract.state.number), event or contract.state.last
    papers = _paper_files(contract, [paper for paper in list_event_papers(contract.issued, events) if paper.event == event_id], events)
    return file_writers({**papers, **posting_files(contract.issued, events, only=frozenset({event_id}))})


def books_files(contract: ContractFile, day: dt.date | None = None) -> dict[str, Writer]:
    """Every bill, credit note and canceling as PDF, and the rows for the books of all events up to a day."""
    events = [event for event in contract.ledger.events(contract.state.number) if day is None or event.day <= day]
    return file_writers({**_paper_files(contract, list_event_papers(contract.issued, events), events), **posting_files(contract.issued, events)})


def _paper_files(contract: ContractFile, papers: Iterable[EventPaper], events: Sequence[Event]) -> dict[str, bytes]:
    return {paper.name: event_paper_bytes(contract.issued, events, paper.event) for paper in papers}


def change_contract(source: JobSource, new: JobSource, request: ChangeRequest) -> tuple[JobSource, ChangeOrderSource] | None:
    """The change of a signed contract: number, sum and payments are those of the ledger. None where nothing is signed.

    Raises KitError if the options say other figures than the ledger, or the change can't be priced.
    """
    if source.issued is None:
        return None
    contract = open_contract(source.path)
    if contract.state.signed is None:
        return None
    said = {"--contract": request.contract, "--paid": request.paid, "--number": request.number if request.number > 1 else None}
    faults = [Fault(option, "is in the ledger of this contract: leave it out.") for option, value in said.items() if value is not None]
    if faults:
        raise KitError(faults)
    day = request.day or office_day()
    asked: dict[str, Any] = {"rule": request.rule, "finds": request.finds, "falls": request.falls, "reason": request.reason}
    changing = price_contract_change(contract, new.estimate, day, new_issued=new.issued, **asked)
    return replace(source, issued=changing.old_issued), changing


def contract_document(contract: ContractFile, day: dt.date | None = None) -> dict[str, Any]:
    """Where a contract stands as plain data: sums, `draws`, `bills`, `changes`, what may be billed next, and its `events`."""
    import json

    state = contract.ledger.state(contract.state.number, day)
    events = [event for event in contract.ledger.events(state.number) if day is None or event.day <= day]
    cost = cost_of(contract, events, day or office_day())
    return {
        **_sums(state),
        "cost": cost_document(cost) if cost else None,
        "draws": [json.loads(draw.model_dump_json()) for draw in state.draws],
        "bills": [{"day": one.day.isoformat(), **json.loads(happening_to_json(one.bill)), "paid": money_text(one.paid)} for one in state.bills],
        "changes": [
            {"day": one.day.isoformat(), "signed": one.signed.isoformat() if one.signed else None, **json.loads(happening_to_json(one.order))}
            for one in state.changes
        ],
        "events": [{"id": event.id, "day": event.day.isoformat(), **json.loads(happening_to_json(event.what))} for event in events],
    }


def _sums(state: ContractState) -> dict[str, Any]:
    following = state.left[0] if state.left and state.signed else None
    return {
        "job": state.number,
        "state": state.stage,
        "document": state.document,
        "signed": state.signed_on.isoformat() if state.signed_on else None,
        "offered": money_text(state.offered.price) if state.offered else None,
        **plain_fields(state, "contract_sum", "billed"),
        "paid": money_text(state.received),
        **plain_fields(state, "receivable"),
        "held_back": money_text(state.held),
        **plain_fields(state, "not_billed", "credit_due", "refund_due", "deposits", "spent"),
        "canceled": {"day": state.canceled_on.isoformat(), "reason": state.canceled} if state.canceled_on else None,
        "next_bill": {"label": following.label, "amount": money_text(following.due)} if following else None,
    }


def contract_report(contract: ContractFile, day: dt.date | None = None) -> str:
    """The contract for the owner: sums, payments, bills, changes, the events with their numbers."""
    state = contract.ledger.state(contract.state.number, day)
    page = Page()
    page.title(
        f"Contract {state.number}: {contract.issued.customer}",
        ", ".join(filter(None, (_stage_words(state).capitalize(), state.document, f"as of {format_day(day or office_day())}" if day or state.signed else ""))),
    )
    if state.signed is None:
        offered = f"Offered at {format_money(state.offered.price)}; not signed yet." if state.offered else "No offer is in the ledger: undone, or not made yet."
        page.note(offered)
        return page.text()
    page.table("Where the contract is", ("What", ">Amount"), [(what, format_money(amount)) for what, amount in _standing(state)])
    page.table(payments_head(state), ("When", ">Amount", "State"), [_payment_row(state, draw, day or office_day()) for draw in state.draws])
    page.table(
        "Change orders",
        ("No.", "Written", "Signed", ">Amount", ">Sum after"),
        [
            (
                str(one.order.number),
                format_day(one.day),
                format_day(one.signed) if one.signed else "out of date" if state.outdated(one) else "not yet",
                format_money(one.order.amount),
                format_money(one.order.sum_after),
            )
            for one in state.changes
        ],
    )
    events = [event for event in contract.ledger.events(state.number) if day is None or event.day <= day]
    cost = cost_of(contract, events, day or office_day())
    if cost:
        show_cost(page, cost)
    page.table("What happened", (">Entry", "Day", "What"), [(str(event.id), format_day(event.day), event_words(event.what)) for event in events])
    for sentence in standing_sentences(state):
        page.note(sentence)
    page.note(_next_words(state, contract.folder))
    return page.text()


def _stage_words(state: ContractState) -> str:
    if not state.canceled:
        return state.stage if state.signed or state.offered else "not offered"
    return "canceled, closed" if state.closed else "canceled"


def _standing(state: ContractState) -> list[tuple[str, Decimal]]:
    rows = [
        ("Contract sum", state.contract_sum),
        ("Billed, less credits" if state.credits else "Billed", state.billed),
        ("Left to bill", EXACT.add(state.held, state.not_billed)),
        ("of which held back until the last bill", state.held),
        ("Credit owed to the customer", state.credit_due),
        ("Paid", state.received),
        ("Billed and not paid", max(state.receivable, Decimal("0.00"))),
        ("Paid beyond what is billed", state.refund_due),
        ("Deposit not booked as income yet", state.deposits),
        ("Spent so far", state.spent),
    ]
    return [row for row in rows if row[1] or row[0] in {"Contract sum", "Billed", "Billed, less credits", "Paid"}]


def _payment_row(state: ContractState, draw: ContractDraw, day: dt.date) -> tuple[str, str, str]:
    billed = next((one for one in state.bills if one.bill.draw == draw.draw), None)
    if billed is None:
        return draw.label, format_money(draw.due), "not billed"
    when = "past due, was due" if billed in state.overdue(day) else "open, pay by"
    due = state.due_on(billed)
    said = f"bill {billed.bill.number}, {f'{format_money(due)} {when} {format_day(billed.bill.pay_by)}' if due else NOTHING_DUE}"
    if not billed.open:
        said = "paid or credited" if state.credits else "paid"
    return draw.label, format_money(billed.bill.amount), said


def _next_words(state: ContractState, folder: Path) -> str:
    """What is to do next, with its command as it is typed here."""
    file = typed_path(issued_path(folder, state.number, state.revision))
    if state.credit_due:
        return f"Next: write the credit note for {format_money(state.credit_due)} (sinkset bill {file} --credit TEXT)."
    if state.left:
        when = "now" if state.left[0].deposit or state.canceled else "when the work has come that far"
        return f"Next bill: {lower_first(state.left[0].label)}, {format_money(state.left[0].due)}. Write it {when}: sinkset bill {file}"
    if state.refund_due:
        return f'Next: pay {format_money(state.refund_due)} back and write it down (sinkset paid {file} "{state.refund_due} USD" --back).'
    if state.receivable:
        return f"All of it is billed; {format_money(state.receivable)} is still to be paid."
    if state.stage != "signed":
        return "Nothing is left to do."
    return ("Nothing is owed by either side" if state.canceled else "All of it is billed and paid") + f". Next: sinkset close {file} TEXT"


def jobs_document(folder: Path, day: dt.date | None) -> Mapping[str, Any]:
    """Every contract of a folder: its sums, and what it was to cost and take beside what it did."""
    jobs = list_jobs(folder, day, checked=False)
    rows = {row.number: job_row_document(row) for row in jobs.rows}
    contracts = [{**_sums(state), **rows.get(state.number, {})} for state in contract_states(folder, day)]
    return {"folder": str(folder), "as_of": day.isoformat() if day else None, "contracts": contracts, "left_out": list(jobs.unreadable)}


def jobs_report(folder: Path, day: dt.date | None) -> str:
    """Every job of a folder in one table; then what is billed and paid."""
    page, states, jobs = Page(), list(contract_states(folder, day)), list_jobs(folder, day, checked=False)
    page.title(f"Jobs in {folder if folder.name else 'this folder'}", f"As of {format_day(day or office_day())}")
    show_job_rows(page, jobs)
    order = [row.number for row in jobs.rows]
    states = sorted(states, key=lambda state: order.index(state.number) if state.number in order else len(order))  # as in the tables above
    rows = [(state.number, _stage_words(state), *_row_of(state)) for state in states]
    page.table("What is billed and paid", ("Job", "Contract", ">Sum", ">Billed", ">Paid", ">Held back", ">Due"), rows)
    for state in states:
        if state.refund_due:
            page.note(f"{state.number}: {' '.join(standing_sentences(state))}")
    if any(state.signed is None for state in states):
        page.note("For an offer, the sum is the price last offered; nothing is owed until it is signed.")
    if not rows:
        page.note("No estimate in this folder is offered or signed yet.")
    return page.text()


def _row_of(state: ContractState) -> tuple[str, ...]:
    """The sums of a contract; of an offer its price alone."""
    if state.signed is None:
        return format_money(state.offered.price) if state.offered else "", "", "", "", ""
    due = f"{format_money(state.back_to_customer)} back" if state.back_to_customer else format_money(state.left_to_pay)
    return *(format_money(one) for one in (state.contract_sum, state.billed, state.received, state.held)), due
