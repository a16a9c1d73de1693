"""The bookkeeper's screen: an issued estimate, its control totals and files, the bill for the next draw, and what was really spent."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.book_tables import draw_bills, draw_control, draw_issued
from kit.draw.style import STYLE
from kit.errors import KitError
from kit.export.bill import bill_bytes, bill_stem, bills_of
from kit.export.control import ControlCheck, check_control
from kit.export.handoff import handoff_files
from kit.export.papers import mark_of
from kit.export.purchase_list import purchase_list_bytes
from kit.export.workbook import workbook_bytes
from kit.issued import Issued, office_day
from kit.money import format_money
from kit.outlook import schedule_of
from kit.panels.files import FIRST_EXAMPLE, FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.issued_files import IssuedFiles
from kit.panels.layout import Note, lay_bar, lay_pane, lay_words, make_button
from kit.panels.page_tools import XLSX, PageTools
from kit.panels.spent_panel import CSV, SpentPanel
from kit.panels.working import Made, Working, make_download

__all__ = ["Bookkeeper"]

JSON, PDF = "application/json", "application/pdf"
NOTHING = (
    "Nothing is issued in your folder {folder} yet. An estimate is issued on the estimator's screen, by Issue, or with the command sinkset issue; then "
    "press Look again. To try this screen, issue an example: house, people and prices are invented, and the file goes into that folder."
)
BOOKS_HELP = (
    "The import file has a row for each purchase, task and tax paid, with cost code and account. Its description says what the columns mean; "
    "its control totals say what an import must come to."
)
BILL_HELP = "The bill holds what the customer pays, nothing of cost or margin. Choose the draw that is due; the ones before it count as billed."
_FIELD: dict[str, Any] = {"layout": {"width": "420px"}, "style": {"description_width": "130px"}}


class Bookkeeper:
    """Issued estimates for the books.

    Parameters
    ----------
    folder
        Where issued estimates lie; `jobs` beside the notebooks when left out.
    day
        Date of bills; today when left out.
    """

    def __init__(self, folder: Path | None = None, day: dt.date | None = None) -> None:
        self.files = JobFiles(folder or jobs_folder())
        self.issued_files = IssuedFiles(self.files)
        self.issued: Issued | None = None
        self.control: tuple[ControlCheck, ...] = ()
        self._name = ""
        self._books: dict[str, bytes] = {}
        self._held = False
        self._note, self._working = Note(), Working()
        self.spent = SpentPanel(self.issued_files, self._working)
        self._facts, self._totals, self._draws = (widgets.HTML() for _ in range(3))
        self._make_controls(day or office_day())
        self.screen = self._lay_out()
        self._note.guard(self.look_again)(None)

    def _make_controls(self, day: dt.date) -> None:
        self._issued = widgets.Dropdown(description="Issued estimate", tooltip="Issued estimates of your folder, the last one first", **_FIELD)
        self._example = widgets.Dropdown(description="Example", tooltip="Invented jobs to try the screen with", **_FIELD)
        self._draw = widgets.Dropdown(description="Draw", tooltip="Which payment of the contract is due", **_FIELD)
        self._day = widgets.DatePicker(value=day, description="Date of the bill", tooltip="Not before the day of issue", **_FIELD)
        self._issued.observe(lambda _: self._chosen(), names="value")
        self._draw.observe(lambda _: self._note.guard(self._show_bills)(None), names="value")

    def _lay_out(self) -> Any:
        again = make_button("Look again", "Read the folder anew", self._note.guard(self.look_again))
        try_it = make_button("Issue this example", "Write an invented issued estimate into your folder", self._note.guard(self.issue_example))
        self._trial = lay_bar(self._example, try_it)
        self._body = widgets.VBox(
            [
                lay_pane(self._facts, "sk-issued"),
                lay_words("h3", "For the books"),
                lay_pane(self._totals, "sk-control"),
                lay_words("p", BOOKS_HELP),
                lay_bar(
                    self._download("Download import file", "Rows for the books as CSV", lambda: self.book_file(".csv")),
                    self._download("Download its description", "What the columns mean, for people and programs", lambda: self.book_file(".datapackage.json")),
                    self._download("Download its control totals", "Count, sums and fingerprints", lambda: self.book_file(".control.json")),
                    self._download("Download workbook", "The estimate as a spreadsheet with live formulas", self.workbook),
                    self._download("Download purchase list", "By supplier, with the day to order by, as PDF", self.purchase_list),
                ),
                lay_words("h3", "Bill for the next draw"),
                lay_bar(self._draw, self._day, self._download("Download bill", "The bill for this draw as PDF", self.bill)),
                lay_words("p", BILL_HELP),
                lay_pane(self._draws, "sk-draws"),
                self.spent.box,
            ]
        )
        screen = widgets.VBox([widgets.HTML(STYLE), lay_bar(self._issued, again, PageTools()), self._trial, self._working.box, self._note.box, self._body])
        screen.add_class("sk-screen")
        return screen

    def _download(self, label: str, tip: str, make: Callable[[], Made]) -> PageTools:
        return make_download(label, tip, make, self._note, self._working)

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]

    @property
    def note_text(self) -> str:
        """What the screen last said of estimates and files, as HTML."""
        return self._note.text

    @property
    def issued_text(self) -> str:
        """The issued estimate, as HTML."""
        return str(self._facts.value)

    @property
    def control_text(self) -> str:
        """The control totals, as HTML."""
        return str(self._totals.value)

    @property
    def bills_text(self) -> str:
        """The draws, as HTML."""
        return str(self._draws.value)

    def look_again(self) -> None:
        """Read the folder anew and open the last issued estimate, unless one is open that is still there."""
        names = self.issued_files.names()
        self._held = True
        try:
            self._issued.options = names
            self._issued.value = self._name if self._name in names else next(iter(names), None)
            examples = [name for name in self.files.names() if name.startswith(FROM_EXAMPLES)]
            self._example.options = examples
            self._example.value = FIRST_EXAMPLE if FIRST_EXAMPLE in examples else next(iter(examples), None)
        finally:
            self._held = False
        self._trial.layout.display = "none" if names else ""
        self.spent.look_again()
        if self._name not in names:
            self.issued, self._name = None, ""
        try:
            if names:
                self.open(str(self._issued.value))
            else:
                self._note.say(NOTHING.format(folder=self.files.folder.name))
        finally:
            self._body.layout.display = "none" if self.issued is None else ""

    def issue_example(self, name: str | None = None) -> None:
        """Issue the chosen invented example into the folder, and open it."""
        with self._working.steps(1):
            self._name = self.issued_files.issue_example(name or str(self._example.value))
            self._working.advance()
            self.look_again()
        self._note.say(
            f"Issued {self._name} in {self.files.folder.name}. House, people and prices in it are invented; delete the file when you have tried enough."
        )

    def _chosen(self) -> None:
        if not self._held and self._issued.value:
            self._note.guard(lambda: self.open(str(self._issued.value)))(None)

    def open(self, name: str) -> None:
        """Put an issued estimate on the screen, with the table of what was spent that is kept with it.

        Raises
        ------
        KitError
            If it can't be opened; what is on the screen stays.
        """
        with self._working.steps(3):
            try:
                issued = self.issued_files.open(name)
                self._working.advance()
                stem = mark_of(issued.estimate, issued).file_stem
                books = handoff_files(issued.estimate, stem, issued=issued)
                control = check_control(books[f"{stem}.csv"], books[f"{stem}.control.json"], issued)
                self._working.advance()
                self.issued, self._books, self.control, self._name = issued, books, control, name
            finally:
                self._turn_to(self._name)
            self._body.layout.display = ""
            self._facts.value = draw_issued(issued)
            self._totals.value = draw_control([(check.what, check.said, check.found, check.agrees) for check in control])
            self._fill_draws(issued)
            self._note.say(f"Opened {name}.")
            self.spent.open(name, issued)

    def _turn_to(self, name: str) -> None:
        """The list names what is on the screen, also when another one could not be opened."""
        self._held = True
        try:
            if name in self._issued.options:
                self._issued.value = name
        finally:
            self._held = False

    def _fill_draws(self, issued: Issued) -> None:
        bills = bills_of(issued)
        self._draw.options = [(f"{bill.number}: {bill.label}, {format_money(bill.due)}", bill.number) for bill in bills]
        self._draw.value = bills[0].number if bills else None
        self._show_bills()

    def _show_bills(self) -> None:
        if self.issued is not None:
            self._draws.value = draw_bills(bills_of(self.issued), int(self._draw.value or 0))

    def choose_draw(self, number: int) -> None:
        """Choose the draw that is due."""
        self._draw.value = number

    def date_bill(self, day: dt.date | None) -> None:
        """Give the date of the bill."""
        self._day.value = day

    def _of_issued(self) -> Issued:
        if self.issued is None:
            raise KitError("No issued estimate is open.")
        return self.issued

    def book_file(self, ending: str) -> Made:
        """The import file, its description or its control totals, by their ending."""
        self._of_issued()
        name = next(name for name in self._books if name.endswith(ending))
        return name, CSV if ending == ".csv" else JSON, self._books[name]

    def workbook(self) -> Made:
        """The workbook."""
        issued = self._of_issued()
        return f"{mark_of(issued.estimate, issued).file_stem}.xlsx", XLSX, workbook_bytes(issued.estimate, issued=issued)

    def purchase_list(self) -> Made:
        """The purchase list with the days to order by."""
        issued = self._of_issued()
        made = issued.estimate
        return f"{mark_of(made, issued).file_stem}-purchases.pdf", PDF, purchase_list_bytes(made, schedule=schedule_of(made), issued=issued)

    def bill(self) -> Made:
        """The bill for the chosen draw; errors as in `bill_document`, and where there is no date or draw."""
        issued = self._of_issued()
        if self._day.value is None:
            raise KitError("The bill has no date. Give one.")
        if self._draw.value is None:
            raise KitError("The price is nothing: there is no draw to bill.")
        number = int(self._draw.value)
        return f"{bill_stem(issued, number)}.pdf", PDF, bill_bytes(issued, number, dt.date.fromisoformat(str(self._day.value)))
