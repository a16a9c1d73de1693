"""The part of the bookkeeper's screen that keeps the contract: signed, billed, paid; every figure is the ledger's."""

import datetime as dt
from functools import partial
from typing import Any

import ipywidgets as widgets

from kit.contract.contract_file import ContractFile, bill_contract, open_contract, record_payment, sign_contract
from kit.draw.book_tables import draw_contract, draw_control
from kit.errors import KitError
from kit.export.bill import bill_bytes, bill_stem
from kit.export.control import check_postings
from kit.export.posting_files import posting_files
from kit.money import format_money
from kit.panels.issued_files import IssuedFiles
from kit.panels.screen import CSV, JSON, PDF, DownloadFile, Note, Working, lay_bar, lay_box, lay_words, make_button, make_download

__all__ = ["ContractPanel"]

HELP = (
    "From the signature on, sum and payments stand in the ledger beside your jobs; nothing in it is ever changed, a slip is taken back by another entry. "
    "Bills follow each other in the order of the payments."
)
POSTINGS_HELP = (
    "Posting rows say what each event moves on your accounts, dated by its own day; debits are credits. An event's rows never change: take in those that are "
    "new, by the column posting."
)
_FIELD: dict[str, Any] = {"layout": {"width": "420px"}, "style": {"description_width": "130px"}}


class ContractPanel:
    """The contract of the issued estimate that is open.

    Parameters
    ----------
    issued_files
        Issued estimates of the folder; the ledger lies beside them.
    working
        The progress bar of the screen.
    day
        Day of what is written down.
    """

    def __init__(self, issued_files: IssuedFiles, working: Working, day: dt.date) -> None:
        self.issued_files, self._working = issued_files, working
        self.contract: ContractFile | None = None
        self.note = Note()
        self.facts, self.totals = widgets.HTML(), widgets.HTML()
        self._postings: dict[str, bytes] = {}
        self.day = widgets.DatePicker(value=day, description="Day", tooltip="The day on which it happened", **_FIELD)
        self.amount = widgets.Text(description="Amount", placeholder="919.70 USD", tooltip="What the customer paid, with its currency", **_FIELD)
        self.how = widgets.Text(description="Paid how", placeholder="check 1042", tooltip="In your own words", **_FIELD)
        self.bills = widgets.Dropdown(description="Bill", tooltip="The bills that were made", **_FIELD)
        self.sign_button = make_button("Customer signed", "Sum and payments stand from now on", self.note.guard(self.sign))
        self.bill_button = make_button("Make the next bill", "For the next payment of the contract", self.note.guard(self.bill))
        self.paid_button = make_button("Payment came in", "Write down what the customer paid", self.note.guard(self.pay))
        download = make_download("Download bill", "The chosen bill as PDF", self.paper, self.note, working)
        postings = [
            make_download(f"Download {what}", tooltip, partial(self.posting_file, ending), self.note, working)
            for what, tooltip, ending in (
                ("posting rows", "What each event moves on your accounts, as CSV", ".csv"),
                ("their description", "What the columns mean, for people and programs", ".datapackage.json"),
                ("their control totals", "Count, debits, credits, sums by account, cost code, tax and payment", ".control.json"),
            )
        ]
        self.box = widgets.VBox(
            [
                lay_words("h3", "Contract"),
                lay_words("p", HELP),
                lay_bar(self.day, self.sign_button, self.bill_button),
                lay_bar(self.amount, self.how, self.paid_button),
                lay_bar(self.bills, download),
                self.note.box,
                lay_box("sk-scroll sk-contract", self.facts),
                lay_words("p", POSTINGS_HELP),
                lay_bar(*postings),
                lay_box("sk-scroll sk-postings", self.totals),
            ]
        )

    def open(self, name: str) -> None:
        """Turn to the contract of an issued estimate."""
        self._show(open_contract(self.issued_files.path(name)))

    def _show(self, contract: ContractFile) -> None:
        state = contract.state
        self.contract = contract
        self.sign_button.disabled = state.signed is not None
        self.bill_button.disabled = not (state.signed and state.left)
        self.paid_button.disabled = state.signed is None
        self.bills.options = [(f"{one.bill.number}: {one.bill.label}, {format_money(one.bill.amount)}", one.bill.number) for one in state.bills]
        self.bills.value = state.bills[-1].bill.number if state.bills else None
        self.facts.value = draw_contract(state) if state.signed else "<p>Not signed yet.</p>"
        self._postings = posting_files(contract.issued, contract.ledger.events(state.number))
        self.totals.value = self._check_postings()

    def _check_postings(self) -> str:
        """The control totals of the posting rows, held against the file's own text; nothing where nothing is posted."""
        if not self._postings:
            return ""
        checks = check_postings(self._posting(".csv")[1], self._posting(".control.json")[1])
        return draw_control([(check.what, check.said, check.found, check.agrees) for check in checks])

    def _posting(self, ending: str) -> tuple[str, bytes]:
        return next((name, content) for name, content in self._postings.items() if name.endswith(ending))

    def _open_contract(self) -> ContractFile:
        if self.contract is None:
            raise KitError("No issued estimate is open.")
        return self.contract

    def _day(self) -> dt.date:
        if self.day.value is None:
            raise KitError("There is no day. Give one.")
        return dt.date.fromisoformat(str(self.day.value))

    def sign(self) -> None:
        """The customer signed."""
        self._show(sign_contract(self._open_contract(), self._day(), None))
        self.note.say("Signed: the contract stands in the ledger.")

    def bill(self) -> None:
        """The next bill, written down; it can be downloaded then."""
        self._show(bill_contract(self._open_contract(), self._day(), credit=None))
        self.note.say(f"Bill {self.bills.value} is made. Download it below.")

    def pay(self) -> None:
        """A payment came in."""
        self._show(record_payment(self._open_contract(), str(self.amount.value), self._day(), how=str(self.how.value), back=False))
        self.note.say(f"Written down: {self.amount.value}.")
        self.amount.value = self.how.value = ""

    def posting_file(self, ending: str) -> DownloadFile:
        """The posting rows, their description or their control totals, by their ending.

        Raises
        ------
        KitError
            If no contract is open, or nothing was posted yet.
        """
        self._open_contract()
        if not self._postings:
            raise KitError("Nothing was billed, paid or spent yet: there are no posting rows.")
        name, content = self._posting(ending)
        return DownloadFile(name, CSV if ending == ".csv" else JSON, content)

    def paper(self) -> DownloadFile:
        """The chosen bill; errors as in `bill_document`, and where none was made."""
        contract = self._open_contract()
        if self.bills.value is None:
            raise KitError("No bill was made yet.")
        number = int(self.bills.value)
        return DownloadFile(f"{bill_stem(contract.issued, number)}.pdf", PDF, bill_bytes(contract.issued, contract.state, number))
