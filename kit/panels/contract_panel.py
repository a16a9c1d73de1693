"""The part of the bookkeeper's screen that keeps the contract: signed, changed, billed, paid, closed; every figure is the ledger's."""

import datetime as dt
from collections.abc import Callable
from functools import partial
from typing import Any

import ipywidgets as widgets

from kit.contract.contract_file import (
    ContractFile,
    bill_contract,
    cancel_contract,
    open_contract,
    record_end,
    record_payment,
    sign_contract,
    take_back,
)
from kit.contract.event_words import entry_words
from kit.contract.next_step import next_step
from kit.contract.state import ContractState
from kit.contract.unpaid import more_than_unpaid, unpaid_at_end
from kit.draw.book_tables import draw_control, draw_events, draw_payments
from kit.draw.contract_top import draw_next_bill, draw_sums
from kit.draw.folds import fold_words
from kit.errors import KitError
from kit.export.control import check_postings
from kit.export.event_papers import event_paper_bytes, list_event_papers, pays_back_at_end
from kit.export.posting_files import posting_files
from kit.export.reminder import reminder_bytes, reminder_name
from kit.issued import office_day
from kit.money import format_money, parse_money
from kit.panels.controls import typed_dollars
from kit.panels.issued_files import IssuedFiles
from kit.panels.question import Question
from kit.panels.screen import CSV, JSON, PDF, DownloadFile, Note, Working, lay_actions, lay_bar, lay_box, lay_words, make_button, make_download
from kit.units import format_day

__all__ = ["FIELD", "ContractPanel"]

HELP = (
    "From the signature on, sum and payments are in the ledger beside your jobs. Nothing in it is ever changed: a mistake is taken back by "
    "another entry. Bills go out in the order of the payments."
)
SELDOM_HELP = (
    "A credit note is owed where a change cuts off more than was left to bill; money goes back only where more was paid than billed. "
    "What is taken back stays in "
    "the ledger with the reason, and no longer counts from that day on. For a canceled contract, say what is owed in all for work "
    "done, billed or not: anything billed beyond it is a credit, anything not billed yet is the last bill. "
    "State law may say what you may keep and by when money goes back: "
    "confirm it. A contract is closed when all of it is billed."
)
POSTINGS_HELP = (
    "Posting rows say what each event moves on your accounts, dated by its own day; debits equal credits. An event's rows never change: "
    "import those that are new, by the column posting."
)


def _lay(wide: int, label: int) -> dict[str, Any]:
    """How wide a field is with its label, and the label alone [px]."""
    return {"layout": {"width": f"{wide}px"}, "style": {"description_width": f"{label}px"}}


_WIDE, FIELD = _lay(560, 130), _lay(420, 130)


class ContractPanel:
    """The contract of the issued estimate that is open.

    Parameters
    ----------
    issued_files
        Issued estimates of the folder; the ledger lies beside them.
    working
        The progress bar of the screen.
    day
        The day that it is, from which each entry's own may differ; that of the clock when left out.
    """

    def __init__(self, issued_files: IssuedFiles, working: Working, day: dt.date | None = None) -> None:
        self.issued_files, self._working, self._day = issued_files, working, day
        self.contract: ContractFile | None = None
        self.shown: Callable[[], object] = lambda: None
        self.note = Note()
        self.question = Question(self.note)
        self.sums, self.next, self.facts, self.events_table, self.totals = (widgets.HTML() for _ in range(5))
        self._postings: dict[str, bytes] = {}
        self.day = widgets.DatePicker(value=self.today(), description="Day", tooltip="The day on which it happened", **FIELD)
        self.amount = widgets.Text(description="Amount [USD]", placeholder="such as 919.70", tooltip="What was paid", **_lay(280, 130))
        self.how = widgets.Text(description="Paid how", placeholder="such as check 1042", tooltip="In your own words", **_lay(330, 70))
        self.papers = widgets.Dropdown(description="Paper", tooltip="Bills and credit notes that were made, and the paper of a canceled contract", **_WIDE)
        self.papers.add_class("sk-fills")
        self.events = widgets.Dropdown(description="Entry", tooltip="What was recorded, latest first", **FIELD)
        self.reason = widgets.Text(description="Reason", placeholder="such as typed twice", tooltip="Why, in your own words; it is kept", **FIELD)
        self.owed = widgets.Text(description="Owed in all [USD]", placeholder="such as 300.00, or 0", tooltip="For a canceled contract: for work done", **FIELD)
        self._make_buttons()
        self.day.observe(lambda _: self._show_next(), names="value")
        for field in (self.reason, self.owed, self.events):
            field.observe(lambda _: self._offer_seldom(), names="value")
        self._lay_out()

    def _make_buttons(self) -> None:
        def button(label: str, tip: str, action: Callable[[], object]) -> Any:
            return make_button(label, tip, self.note.guard(action))

        self.sign_button = button("Customer signed", "Sum and payments are fixed from now on", self.sign)
        self.bill_button = button("Make the next bill", "For the next payment of the contract", self.bill)
        self.paid_button = button("Payment came in", "Record what the customer paid", self.pay)
        self.refund_button = button("Money went back", "Record what went back to the customer", partial(self.pay, back=True))
        self.credit_button = button("Write the credit note", "For what is billed beyond the contract sum", self.credit)
        self.undo_button = button("Take this entry back", "It was a mistake: it no longer counts from that day on", self.undo)
        self.cancel_button = button("Contract was canceled", "Its sum becomes what is owed for work done", self.cancel)
        self.close_button = button("Close the contract", "Nothing more is billed; what is left of the deposit is earned", self.close)

    def _lay_out(self) -> None:
        """The top, which holds what is to do next, and the parts of the page."""
        download = make_download("Download paper", "The chosen paper as PDF", self.paper, self.note, self._working)
        self._papers_row = lay_bar(self.papers, lay_actions(download))
        self._reminder = make_download("Download reminder", "What is past due, for how long, and how to pay, as PDF", self.reminder, self.note, self._working)
        self._unpaid_row = lay_actions()
        self._payment_row = lay_bar(self.amount, self.how, lay_actions(self.paid_button, self.refund_button))
        self._end_row = lay_bar(self.reason, lay_actions(self.credit_button, self.close_button))
        self._now, self._any_time = lay_bar(), lay_bar()
        self._seldom_rows = [
            widgets.HTML(fold_words("When to use which", SELDOM_HELP)),
            self._end_row,
            lay_bar(self.owed, lay_actions(self.cancel_button)),
            lay_bar(self.events, lay_actions(self.undo_button)),
        ]
        self._seldom = lay_box("sk-seldom")
        _show_if(self._seldom, wanted=False)
        self.top: Any = lay_box("sk-contract-top", self.sums, self.next, lay_bar(self.day), self._now, self.question.box, self.note.box)
        self.bills: Any = lay_box("sk-bills", lay_box("sk-scroll sk-contract", self.facts), self._papers_row, self._any_time)
        ledger = lay_box("sk-scroll sk-events", self.events_table)
        self.ledger: Any = lay_box("sk-ledger", ledger, widgets.HTML(fold_words("How the ledger works", HELP)), self._lay_seldom(), self._seldom)
        self.postings: Any = self._lay_postings()

    def _lay_seldom(self) -> Any:
        shown = widgets.ToggleButton(description="Seldom needed", tooltip="Credit note, end of the contract, canceling, mistakes")
        shown.observe(lambda change: _show_if(self._seldom, wanted=bool(change["new"])), names="value")
        return lay_actions(shown)

    def _lay_postings(self) -> Any:
        """The rows that say what each event moves on the accounts."""
        postings = [
            make_download(f"Download {what}", tooltip, partial(self.posting_file, ending), self.note, self._working)
            for what, tooltip, ending in (
                ("posting rows", "What each event moves on your accounts, as CSV", ".csv"),
                ("description", "What the columns mean, for people and programs", ".datapackage.json"),
                ("control totals", "Count, debits, credits, sums by account, cost code, tax and payment", ".control.json"),
            )
        ]
        self._posting_row = lay_actions(*postings)
        words = lay_words("h3", "What was billed, paid and spent")
        return widgets.VBox(
            [words, lay_box("sk-scroll sk-postings", self.totals), self._posting_row, widgets.HTML(fold_words("What posting rows are", POSTINGS_HELP))]
        )

    def today(self) -> dt.date:
        """The day that it is: what is overdue is judged by it, whatever the day of an entry."""
        return self._day or office_day()

    def open(self, name: str) -> None:
        """Turn to the contract of an issued estimate."""
        self.show(open_contract(self.issued_files.path(name)))

    def show(self, contract: ContractFile) -> None:
        """Put a contract on the screen as it stands now; `shown` is told."""
        state, events = contract.state, contract.ledger.events(contract.state.number)
        self.contract = contract
        self.question.drop()
        self._offer_actions(state)
        papers = list_event_papers(contract.issued, events)
        self.papers.options = [(paper.words, paper.event) for paper in papers]
        self.papers.value = max((paper.event for paper in papers), default=None)
        _show_if(self._papers_row, wanted=bool(papers))
        entries = [(f"{format_day(event.day)}: {entry_words(event, events)}", event.id) for event in reversed(events)]
        self.events.options = [("choose", None), *entries]
        self.events.index = 0
        self._offer_seldom()
        self.sums.value = draw_sums(state)
        self.facts.value = draw_payments(state, self.today()) if state.signed else "<p>No bill yet.</p>"
        self.events_table.value = draw_events(events)
        self._show_next()
        self._postings = posting_files(contract.issued, events)
        self.totals.value = self._check_postings()
        _show_if(self._posting_row, wanted=bool(self._postings))
        self.shown()

    def clear(self) -> None:
        """Nothing of the contract is left in the page but what a person typed; the next `show` goes on with it."""
        self.contract = None
        self.question.drop()
        self.note.say()
        self.papers.options = self.events.options = ()
        for shown in (self.sums, self.next, self.facts, self.events_table, self.totals):
            shown.value = ""

    def _offer_actions(self, state: ContractState) -> None:
        """What can be done: what is to do next stands on top, the rest in its part of the page."""
        going, step = state.stage == "signed", next_step(state)
        self.sign_button.disabled = state.signed is not None
        self.bill_button.disabled = not (going and state.left)
        self.paid_button.disabled = state.signed is None or (bool(state.closed) and not state.left_to_pay)
        self.refund_button.disabled = state.receivable >= 0
        self.credit_button.disabled = not state.credit_due
        self.close_button.disabled = not going or bool(state.left) or bool(state.credit_due)
        self.reason.placeholder = f"such as {'less work was done' if state.credit_due else 'typed twice' if state.left else 'done'}"
        for button in (self.refund_button, self.credit_button):
            _show_if(button, wanted=not button.disabled)
        first = next((min(one.open, state.left_to_pay) for one in state.bills if one.open > 0), state.refund_due)
        self.amount.placeholder = f"such as {first if first > 0 else '919.70'}"
        bill = [] if self.bill_button.disabled else [self.bill_button]
        self._unpaid_row.children = [self._reminder, *bill]
        rows, first = {
            "sign": ([self.sign_button], self.sign_button),
            "credit": ([self._end_row], self.credit_button),
            "collect": ([self._payment_row, self._unpaid_row], self.paid_button),
            "bill": (bill, self.bill_button),
            "refund": ([self._payment_row], self.refund_button),
            "close": ([self._end_row], self.close_button),
            "nothing": ([], None),
        }[step]
        for button in (self.sign_button, self.bill_button, self.paid_button, self.refund_button, self.credit_button, self.close_button):
            (button.add_class if button is first else button.remove_class)("sk-primary")
        self._any_time.children = [] if self.paid_button.disabled or self._payment_row in rows else [self._payment_row]
        self._seldom.children = [row for row in self._seldom_rows if row not in rows]
        self._now.children = rows

    def _offer_seldom(self) -> None:
        """Canceling and taking back want their fields filled first."""
        if self.contract is None:
            return
        state, reason = self.contract.state, bool(str(self.reason.value).strip())
        self.cancel_button.disabled = state.stage != "signed" or bool(state.canceled) or not (reason and str(self.owed.value).strip())
        self.undo_button.disabled = bool(state.closed) or self.events.value is None or not reason

    def _show_next(self) -> None:
        """What is unpaid today, and what is to be billed next on the day on the screen."""
        if self.contract is not None and self.day.value is not None:
            state = self.contract.state
            self.next.value = draw_next_bill(state, self.today(), self.chosen_day(), self.contract.issued.figures.pay_within_days)
            _show_if(self._reminder, wanted=bool(state.overdue(self.today())) and not state.credit_due)

    def _check_postings(self) -> str:
        """The control totals of the posting rows, held against the file's own text; where nothing is posted, that."""
        if not self._postings:
            return "<p>Nothing yet.</p>"
        bills = self.of_contract().state.bills
        checks = check_postings(self._posting(".csv")[1], self._posting(".control.json")[1], {one.bill.draw: one.bill.label for one in bills})
        return draw_control([(check.what, check.said, check.found, check.agrees) for check in checks])

    def _posting(self, ending: str) -> tuple[str, bytes]:
        return next((name, content) for name, content in self._postings.items() if name.endswith(ending))

    def of_contract(self) -> ContractFile:
        """The contract that is open. Raises KitError if none is."""
        if self.contract is None:
            raise KitError("No issued estimate is open.")
        return self.contract

    def chosen_day(self) -> dt.date:
        """The day on the screen. Raises KitError if the field is empty."""
        if self.day.value is None:
            raise KitError("The day is missing. Give one.")
        return dt.date.fromisoformat(str(self.day.value))

    def _reason(self) -> str:
        reason = str(self.reason.value).strip()
        if not reason:
            raise KitError("The reason is missing. Give one: it is kept.")
        return reason

    def sign(self) -> None:
        """The customer signed."""
        self.show(sign_contract(self.of_contract(), self.chosen_day(), None))
        self.note.say("Signed: the contract is in the ledger.")

    def bill(self) -> None:
        """The next bill, written down; it can be downloaded then."""
        self.show(bill_contract(self.of_contract(), self.chosen_day(), credit=None))
        self.note.say(f"Bill {len(self.of_contract().state.bills)} is made. Its paper is under Bills.")

    def pay(self, *, back: bool = False) -> None:
        """A payment came in, or went back; more than is unpaid is asked about first."""
        contract, amount, day, how = self.of_contract(), typed_dollars(str(self.amount.value)), self.chosen_day(), str(self.how.value)
        asked = "" if back else more_than_unpaid(contract.state, parse_money(amount))
        if asked:
            answers: dict[str, Callable[[], object]] = {
                "Correct the amount": self.note.say,
                "It did come in": partial(self._pay, contract, amount, day, how, overpaid=True),
            }
            self.note.say()
            self.question.ask(f"{contract.state.number} {asked} Did that much come in?", answers)
            return
        self._pay(contract, amount, day, how, back=back)

    def _pay(self, contract: ContractFile, amount: str, day: dt.date, how: str, *, back: bool = False, overpaid: bool = False) -> None:
        self.show(record_payment(contract, amount, day, how=how, back=back, overpaid=overpaid))
        self.note.say(f"Recorded: {format_money(parse_money(amount))}{' went back' if back else ''}.")
        self.amount.value = self.how.value = ""

    def credit(self) -> None:
        """The credit note that is owed."""
        self.show(bill_contract(self.of_contract(), self.chosen_day(), credit=self._reason()))
        self._written("The credit note is recorded. Its paper is under Bills.")

    def undo(self) -> None:
        """The chosen entry was a slip."""
        contract, day, reason = self.of_contract(), self.chosen_day(), self._reason()
        if self.events.value is None:
            raise KitError("No entry is chosen.")
        self.show(take_back(contract, int(self.events.value), reason, day))
        self._written("It is taken back, and stays in the ledger with the reason.")

    def cancel(self) -> None:
        """The contract was canceled: what is owed in all stands on the screen, with the reason."""
        self.show(cancel_contract(self.of_contract(), typed_dollars(str(self.owed.value)), self._reason(), self.chosen_day()))
        self._written("The contract is canceled. Its paper is under Bills, and so is what is left to settle.")
        self.owed.value = ""

    def close(self) -> None:
        """The contract is at its end; with money unpaid that is asked about first."""
        contract, reason, day = self.of_contract(), self._reason(), self.chosen_day()
        asked = unpaid_at_end(contract.state)
        if asked:
            end = partial(self._close, contract, reason, day, unpaid=True)
            answers: dict[str, Callable[[], object]] = {"Leave it open": self.note.say, "Close it unpaid": end}
            self.note.say()
            self.question.ask(f"{contract.state.number} {asked} Close it all the same? The reason stays in the ledger: {reason.removesuffix('.')}.", answers)
            return
        self._close(contract, reason, day)

    def _close(self, contract: ContractFile, reason: str, day: dt.date, *, unpaid: bool = False) -> None:
        self.show(record_end(contract, reason, day, unpaid=unpaid))
        paper = " Its paper, which says what goes back, is under Bills." if pays_back_at_end(self.of_contract().state) else ""
        self._written(f"The contract is closed.{paper}")

    def _written(self, sentence: str) -> None:
        self.note.say(sentence)
        self.reason.value = ""

    def posting_file(self, ending: str) -> DownloadFile:
        """The posting rows, their description or their control totals, by their ending. Raises KitError if no contract is open, or nothing was posted yet."""
        self.of_contract()
        if not self._postings:
            raise KitError("Nothing was billed, paid or spent yet: there are no posting rows.")
        name, content = self._posting(ending)
        return DownloadFile(name, CSV if ending == ".csv" else JSON, content)

    def paper(self) -> DownloadFile:
        """The chosen paper: a bill, a credit note, or that of a canceled contract. Raises KitError if there is none yet."""
        contract = self.of_contract()
        if self.papers.value is None:
            raise KitError("There is no paper yet. Make a bill first.")
        events = contract.ledger.events(contract.state.number)
        paper = next(one for one in list_event_papers(contract.issued, events) if one.event == self.papers.value)
        return DownloadFile(paper.name, PDF, event_paper_bytes(contract.issued, events, paper.event))

    def reminder(self) -> DownloadFile:
        """A reminder of the bills that are overdue today; nothing is written down. Raises KitError if none is overdue."""
        contract, day = self.of_contract(), self.today()
        return DownloadFile(reminder_name(contract.state.number, day), PDF, reminder_bytes(contract.issued, contract.state, day))


def _show_if(part: Any, *, wanted: bool) -> None:
    part.layout.display = "" if wanted else "none"
