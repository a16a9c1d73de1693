"""The bookkeeper's screen: the contracts of a folder in a list, and one page each: next bill, ledger, changes, rows to import, what was really spent."""

import datetime as dt
from collections.abc import Mapping, Sequence
from functools import partial
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.contract.contract_rows import ContractRow, list_contracts
from kit.draw.book_tables import draw_control, draw_issued
from kit.draw.contract_table import OPEN, draw_contract_rows
from kit.draw.folds import fold_words
from kit.errors import KitError
from kit.export.control import ControlCheck, check_control
from kit.export.estimate_files import sent_files
from kit.issued import Issued
from kit.panels.change_panel import ChangePanel
from kit.panels.contract_panel import ContractPanel
from kit.panels.issued_files import IssuedFiles
from kit.panels.job_files import FIRST_EXAMPLE, FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.learning_panel import LearningPanel
from kit.panels.screen import (
    CSV,
    JSON,
    PDF,
    XLSX,
    DownloadFile,
    PageTools,
    Screen,
    fill_choices,
    lay_actions,
    lay_bar,
    lay_box,
    lay_words,
    make_button,
    make_download,
    show_html,
)
from kit.panels.spent_panel import SpentPanel
from kit.panels.tabs import Tabs

__all__ = ["Bookkeeper"]

NOTHING = (
    "Nothing is issued in your folder {folder} yet. Issue an estimate on the estimator's screen, or with the command sinkset issue; then "
    "press Look again. To try this screen, issue an example: house, people and prices are invented, and the file goes into that folder."
)
BOOKS_HELP = (
    "The budget file has a row for each purchase, task and tax paid, with cost code and account; what was billed and paid stands in the posting rows of the "
    "contract below. Its description says what the columns mean; its control totals say what an import must come to."
)
_BOOKS = "-books"
_ROWS, _CONTROL = f"{_BOOKS}.csv", f"{_BOOKS}.control.json"
_WIDE: dict[str, Any] = {"layout": {"width": "560px"}, "style": {"description_width": "130px"}}


class Bookkeeper(Screen):
    """Issued estimates for the books.

    Parameters
    ----------
    folder
        Where issued estimates lie; `jobs` beside the notebooks when left out.
    day
        The day that it is, which what is written into the ledger has at first; that of the clock when left out.
    """

    def __init__(self, folder: Path | None = None, day: dt.date | None = None) -> None:
        super().__init__()
        self.files = JobFiles(folder or jobs_folder())
        self.issued_files = IssuedFiles(self.files)
        self.issued: Issued | None = None
        self.control: tuple[ControlCheck, ...] = ()
        self._name = ""
        self._files: dict[str, bytes] = {}
        self.contract = ContractPanel(self.issued_files, self.working, day)
        self.changes = ChangePanel(self.files, self.contract, self.working)
        self.spent = SpentPanel(self.issued_files, self.contract, self.working, self.layouts)
        self.lessons = LearningPanel(self.files, self.contract, self.working)
        self.contract.shown = self._show_rest
        self._customers: dict[str, str] = {}  # by the document that names them
        self._rows: tuple[ContractRow, ...] = ()
        self.contracts, self.title, self.facts, self.totals = (widgets.HTML() for _ in range(4))
        self.choice = widgets.Dropdown(description="Issued estimate", tooltip="Issued estimates of your folder, the last one first", **_WIDE)
        self.example = widgets.Dropdown(description="Example", tooltip="Invented jobs to try the screen with", **_WIDE)
        self.choice.observe(lambda _: self._open_chosen(), names="value")
        self._lay_out()
        self.note.guard(self.look_again)(None)

    def _lay_out(self) -> None:
        again = make_button("Look again", "Read the folder again", self.note.guard(self.look_again))
        try_it = make_button("Issue this example", "Write an invented issued estimate into your folder", self.note.guard(self.issue_example))
        download = partial(make_download, note=self.note, working=self.working)
        self.trial = lay_bar(self.example, try_it)
        rows = widgets.VBox(
            [
                lay_words("h3", "What was estimated"),
                lay_box("sk-scroll sk-control", self.totals),
                lay_actions(
                    download("Download budget file", "Budget rows for the books as CSV", lambda: self.book_file(".csv")),
                    download("Download its description", "What the columns mean, for people and programs", lambda: self.book_file(".datapackage.json")),
                    download("Download its control totals", "Count, sums and fingerprints", lambda: self.book_file(".control.json")),
                ),
                widgets.HTML(fold_words("What the budget file is", BOOKS_HELP)),
                self.contract.postings,
            ]
        )
        issued = widgets.VBox(
            [
                lay_box("sk-scroll sk-issued", self.facts),
                lay_actions(
                    download("Download workbook", "The estimate as a spreadsheet with live formulas", self.workbook),
                    download("Download purchase list", "By supplier, with the day to order by, as PDF", self.purchase_list),
                ),
            ]
        )
        parts = {
            "Bills": self.contract.bills,
            "Changes": self.changes.box,
            "Spending": self.spent.box,
            "Rows to import": rows,
            "Ledger": self.contract.ledger,
            "As issued": issued,
        }
        self.body = widgets.VBox([self.title, self.contract.top, Tabs(parts).box, self.lessons.box])
        tools = PageTools(asked=lambda about: self.note.guard(lambda: self.open(about.removeprefix(OPEN)))(None), seen=self._see_layout)
        self.lay_out(
            lay_box("sk-scroll sk-contracts", self.contracts),
            lay_bar(self.choice, lay_actions(again, tools)),
            self.note.box,
            self.trial,
            self.body,
        )

    def look_again(self) -> None:
        """Read the folder again and open the estimate of the contract that wants doing first, unless one is open that is still there."""
        self._show_contracts()
        names = self.issued_files.names()
        with self.updating:
            fill_choices(self.choice, self.issued_files.titles({row.state.number: row.customer for row in self._rows}), self._name or self._first(names))
            fill_choices(self.example, [pair for pair in self.files.named() if pair[1].startswith(FROM_EXAMPLES)], FIRST_EXAMPLE)
        self.trial.layout.display, self.choice.layout.display = ("none", "") if names else ("", "none")
        self.spent.look_again()
        self.changes.look_again()
        if self._name not in names:
            self.issued, self._name = None, ""
        try:
            if names:
                self.open(str(self.choice.value))
            else:
                self.note.say(NOTHING.format(folder=self.files.folder.name))
        finally:
            self.body.layout.display = "none" if self.issued is None else ""

    def _first(self, names: Sequence[str]) -> str:
        """The estimate of the contract that wants doing first; "" where none is in the ledger."""
        rows = [row for row in self._rows if row.file in names]
        return min(rows, key=lambda row: row.urgency(self.contract.today())).file if rows else ""

    def issue_example(self, name: str | None = None) -> None:
        """Issue the chosen invented example into the folder, and open it."""
        with self.working.steps(1):
            self._name = self.issued_files.issue_example(name or str(self.example.value))
            self.working.advance()
            self.look_again()
        issued = self._of_issued()
        self.note.say(
            f"Issued {issued.number}, revision {issued.revision}, in your folder {self.files.folder.name}. House, people and prices in it are invented."
        )

    def _open_chosen(self) -> None:
        if not self.updating and self.choice.value:
            self.note.guard(lambda: self.open(str(self.choice.value)))(None)

    def open(self, name: str) -> None:
        """Put an issued estimate on the screen, with its contract and what was spent on it.

        Raises KitError if it can't be opened; what is on the screen stays.
        """
        with self.working.steps(3):
            try:
                issued = self.issued_files.open(name)
                self.working.advance()
                files, trouble = self._sent(issued)
                rows_and_control = [next(iter(_ending(files, ending).values())) for ending in (_ROWS, _CONTROL)] if files else []
                control = check_control(rows_and_control[0], rows_and_control[1], issued) if rows_and_control else ()
                self.working.advance()
                self.issued, self._files, self.control, self._name = issued, files, control, name
            finally:
                with self.updating:  # the list names what is on the screen, also when another one could not be opened
                    fill_choices(self.choice, self.choice.options, self._name or name)
            self.body.layout.display = ""
            self.title.value = f"<h2>{escape(issued.number)}, {escape(issued.customer)}</h2>"
            self.facts.value = draw_issued(issued)
            self.totals.value = draw_control([(check.what, check.said, check.found, check.agrees) for check in control]) if control else ""
            self.contract.open(name)
            self.note.say(f"Shown below: {issued.number}, revision {issued.revision}.", *trouble)

    def _show_rest(self) -> None:
        """What hangs on the ledger, after anything was written into it."""
        self._show_contracts()
        self.changes.note.guard(self.changes.show)(None)
        self.spent.note.guard(self.spent.show)(None)
        self.lessons.forget()

    def _see_layout(self, narrow: bool) -> None:  # noqa: FBT001 - a callback
        """A page says which layout it shows: that is drawn from now on, and the other one when a page wants it first."""
        if self.layouts.see(narrow=narrow):
            self.spent.draw_anew()

    def _show_contracts(self) -> None:
        number = "" if self.issued is None else self.issued.number

        def draw() -> str:
            self._rows = list_contracts(self.files.folder, self._customers)
            return draw_contract_rows(self._rows, self.contract.today(), number)

        show_html(self.contracts, "The contracts", draw)

    def _of_issued(self) -> Issued:
        if self.issued is None:
            raise KitError("No issued estimate is open.")
        return self.issued

    @staticmethod
    def _sent(issued: Issued) -> tuple[dict[str, bytes], list[str]]:
        """What was sent with it; where that is not to be had, why."""
        try:
            return sent_files(issued, papers=True), []
        except KitError as error:
            return {}, [str(fault) for fault in error.faults]

    def _file(self, ending: str, kind: str) -> DownloadFile:
        """A file as it was sent, by its ending."""
        self._of_issued()
        files = _ending(self._files, ending)
        if not files:
            raise KitError("The files that were sent are not kept with this estimate.")
        name, content = next(iter(files.items()))
        return DownloadFile(name, kind, content)

    def book_file(self, ending: str) -> DownloadFile:
        """The budget file, its description or its control totals, by their ending."""
        return self._file(f"{_BOOKS}{ending}", CSV if ending == ".csv" else JSON)

    def workbook(self) -> DownloadFile:
        """The workbook."""
        return self._file(".xlsx", XLSX)

    def purchase_list(self) -> DownloadFile:
        """The purchase list with the days to order by."""
        return self._file("-purchases.pdf", PDF)


def _ending(files: Mapping[str, bytes], ending: str) -> dict[str, bytes]:
    return {name: content for name, content in files.items() if name.endswith(ending)}
