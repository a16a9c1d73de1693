"""Which papers does a contract have? Bills, credit notes, and that of its end where money goes back, each as of the moment when it was written down."""

from collections.abc import Sequence
from dataclasses import dataclass

from kit.contract.contract_file import written_state
from kit.contract.events import Billed, Canceled, Closed, Credited, Event
from kit.contract.following import standing_events
from kit.contract.state import ContractState
from kit.export.bill import bill_bytes
from kit.export.papers import mark_of_issued
from kit.export.settlement import settlement_bytes
from kit.issued import Issued
from kit.job.field_names import lower_first
from kit.money import format_money

__all__ = ["EventPaper", "event_paper_bytes", "event_paper_name", "list_event_papers", "pays_back_at_end"]

_NAMES = {"billed": "bill", "credited": "credit", "canceled": "canceled", "closed": "closed"}


@dataclass(frozen=True, slots=True)
class EventPaper:
    """A paper of a contract: the event that it is of, the name of its file, and in words what it is."""

    event: int
    name: str
    words: str


def list_event_papers(issued: Issued, events: Sequence[Event]) -> tuple[EventPaper, ...]:
    """The papers of what holds in a ledger, in the order of their days. The end of a contract has one where the customer had paid more than was billed."""
    papers = (_paper(issued, events, event) for event in standing_events(events))
    return tuple(paper for paper in papers if paper is not None)


def _paper(issued: Issued, events: Sequence[Event], event: Event) -> EventPaper | None:
    what = event.what
    if isinstance(what, Billed):
        words = f"Bill {what.number}: {lower_first(what.label)}, {format_money(what.amount)}"
        return EventPaper(event.id, event_paper_name(issued, what.kind, what.number), words)
    if isinstance(what, Credited):
        return EventPaper(event.id, event_paper_name(issued, what.kind, what.number), f"Credit note {what.number}: {format_money(what.amount)}")
    if isinstance(what, Canceled) or (isinstance(what, Closed) and pays_back_at_end(written_state(issued.number, events, event.id))):
        return EventPaper(event.id, event_paper_name(issued, what.kind), f"Contract {what.kind}")
    return None


def pays_back_at_end(state: ContractState) -> bool:
    """Whether the end of a contract needs a paper: more was paid than billed. The papers of a canceled one say so already."""
    return state.refund_due > 0 and not state.canceled


def event_paper_name(issued: Issued, kind: str, number: int = 0) -> str:
    """The name of its file by the kind of its event and its number, such as `DEMO-001-bill-2.pdf`."""
    end = f"{_NAMES[kind]}-{number}" if number else _NAMES[kind]
    return f"{mark_of_issued(issued).file_stem.rpartition('-r')[0]}-{end}.pdf"


def event_paper_bytes(issued: Issued, events: Sequence[Event], event: int) -> bytes:
    """The paper of an event as PDF: nothing that was written after it changes a word. The same input gives the same bytes.

    Parameters
    ----------
    issued
        The estimate that was signed.
    events
        All events of the contract.
    event
        Id of an event in `list_event_papers`.
    """
    state = written_state(issued.number, events, event)
    written = next(one for one in events if one.id == event)
    if isinstance(written.what, Billed):
        return bill_bytes(issued, state, written.what.number)
    if isinstance(written.what, Credited | Canceled | Closed):
        return settlement_bytes(issued, state, written.what, written.day)
    raise AssertionError(f"event {event} has no paper")
