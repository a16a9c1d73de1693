"""The part of the bookkeeper's screen that takes what was really spent into the ledger: a table or one amount, faults by row, what it comes to."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from kit.archive.compare_spent import SpentComparison, compare_spent
from kit.archive.spent import SpentRow, empty_spent_table, explain_spent_columns, parse_spent, spent_text
from kit.contract.contract_file import current_promise
from kit.contract.job_cost import job_cost
from kit.contract.spending import one_spent, record_spending, spent_rows
from kit.draw.book_tables import draw_columns, draw_cost, draw_spent, draw_spent_faults
from kit.draw.folds import draw_fold, fold_words
from kit.draw.tables import count_words
from kit.errors import Fault, KitError, ListError
from kit.export.papers import mark_of_issued
from kit.money import format_money
from kit.panels.contract_panel import FIELD, ContractPanel
from kit.panels.controls import typed_dollars
from kit.panels.issued_files import IssuedFiles
from kit.panels.job_files import FROM_EXAMPLES
from kit.panels.screen import (
    CSV,
    DownloadFile,
    Layouts,
    Note,
    Upload,
    Working,
    fill_choices,
    lay_actions,
    lay_bar,
    lay_box,
    lay_words,
    make_button,
    make_download,
)
from kit.records import CostType

__all__ = ["SpentPanel"]

UPLOAD_HELP = (
    "CSV (UTF-8) or XLSX, up to 5 MB. A file over 10 MB never arrives: press Look again for a working button. Leave other jobs out of the "
    "table, or put it into your folder of jobs, press Look again, and choose it under From your folder."
)
ONE_HELP = "One amount, on the day of the contract above; below 0 for money or goods that came back."


class SpentPanel:
    """What was spent on the contract that is open.

    Parameters
    ----------
    issued_files
        Issued estimates and tables of the folder.
    contract
        The contract's part of the screen, whose ledger takes the spending.
    working
        The progress bar of the screen.
    layouts
        The layouts to draw.
    """

    def __init__(self, issued_files: IssuedFiles, contract: ContractPanel, working: Working, layouts: Layouts) -> None:
        self.issued_files, self.contract, self._working, self._layouts = issued_files, contract, working, layouts
        self.comparison: SpentComparison | None = None
        self.faults: tuple[Fault, ...] = ()
        self.note = Note()
        self._rows: tuple[SpentRow, ...] = ()
        self._brought_for = ""
        self.table, self.cost_table = widgets.HTML(), widgets.HTML()
        self.box = self._lay_out()

    def _lay_out(self) -> Any:
        self.upload = Upload("Upload what was spent", self._uploaded, self.note)
        self.choice = widgets.Dropdown(
            description="From your folder",
            tooltip="Tables in your folder of jobs, and an invented one",
            layout={"width": "480px"},
            style={"description_width": "130px"},
        )
        self.choice.add_class("sk-fills")
        take = self._button("Take this table", "Compare it with the estimate", lambda: self.pick(str(self.choice.value)))
        self.write_button = self._button("Record in the ledger", "All rows of this table, or none", self.write)
        empty = make_download("Download an empty table", "The columns, to fill in", self.empty_table, self.note, self._working)
        columns = widgets.HTML(draw_fold("What the columns mean", draw_columns(explain_spent_columns())))
        return widgets.VBox(
            [
                self.note.box,
                lay_box("sk-scroll sk-spent", self.table),
                lay_box("sk-scroll sk-cost", self.cost_table),
                lay_words("h3", "Bring a table of what was spent"),
                lay_bar(self.upload.box, lay_actions(empty)),
                lay_bar(self.choice, lay_actions(take, self.write_button)),
                lay_box("sk-scroll sk-columns", columns),
                widgets.HTML(fold_words("Which files can come", UPLOAD_HELP)),
                *self._lay_one(),
            ]
        )

    def _button(self, label: str, tip: str, action: Callable[[], object]) -> Any:
        return make_button(label, tip, self.note.guard(action))

    def _lay_one(self) -> tuple[Any, Any]:
        """The columns of a row as controls, by the names of the columns, behind a button."""
        texts = (("amount", "Spent [USD]", "120.50"), ("text", "For what", "Switch"), ("hours", "Hours", "2.5 or 2:30"), ("supplier", "Supplier", ""))
        papers = (("document", "Bill or sheet", ""), ("tax", "Tax in it [USD]", "1.70"), ("order", "Order number", ""))
        self.one: dict[str, Any] = {
            name: widgets.Text(description=words, placeholder=hint and f"such as {hint}", **FIELD) for name, words, hint in (*texts, *papers)
        }
        self.one["cost_code"] = widgets.Dropdown(description="Cost code", **FIELD)
        self.one["cost_type"] = widgets.Dropdown(description="Kind", options=[str(kind) for kind in CostType], **FIELD)
        self.one["step"] = widgets.Dropdown(description="Step", **FIELD)
        marks = (("ordered", "only ordered, nothing is to be paid yet"), ("call_back", "redone after the work was finished"))
        self.one |= {name: widgets.Checkbox(description=words, indent=False) for name, words in marks}
        names = ("amount", "cost_code", "cost_type", "text", "supplier", "document", "tax", "hours", "step", "order", "ordered", "call_back")
        write = lay_actions(self._button("Record this amount", "Into the contract's ledger", self.write_one))
        typed = lay_box("sk-one", lay_words("p", ONE_HELP), lay_bar(*(self.one[name] for name in names)), write)
        typed.layout.display = "none"
        shown = widgets.ToggleButton(description="Type one amount", tooltip="One bill, receipt or time sheet, without a table")
        shown.observe(lambda change: setattr(typed.layout, "display", "" if change["new"] else "none"), names="value")
        return lay_actions(shown), typed

    def look_again(self) -> None:
        """Read anew which tables can be taken; the upload button is a new one."""
        self.upload.renew()
        fill_choices(self.choice, self.issued_files.tables())

    def show(self) -> None:
        """The contract was written to, or is another one: what its ledger holds."""
        contract = self.contract.of_contract()
        if self._rows and self._brought_for == contract.state.number:  # a table that waits to be written stays on the screen
            return
        self._clear()
        lists = contract.issued.lists
        fill_choices(self.one["cost_code"], [(f"{code} {row.name}", code) for code, row in lists.cost_codes.items()])
        steps = sorted(lists.steps.items(), key=lambda item: item[1].order)
        fill_choices(self.one["step"], [("not known", ""), *((row.name, str(step)) for step, row in steps)])
        events = contract.ledger.events(contract.state.number)
        if not any(event.what.kind in {"bought", "ordered", "worked"} for event in events):
            self.note.say("The ledger of this contract has no spending yet.")
            return
        estimate = current_promise(contract, contract.state).estimate
        cost = job_cost(estimate, events, self.contract.today())
        self.comparison = cost.by_code
        self.cost_table.value = draw_cost(cost)
        self.draw_anew()
        self.note.say(f"In the ledger: {_sum_up(cost.by_code)}")

    def draw_anew(self) -> None:
        """What was spent against the estimate, in the layouts on show; nothing while there is none."""
        if self.comparison is not None:
            self.table.value = draw_spent(self.comparison, self._layouts.on_show, beside_margin=bool(self.cost_table.value))

    def _clear(self) -> None:
        self.comparison, self.faults, self._rows = None, (), ()
        self.table.value = self.cost_table.value = ""
        self.write_button.disabled = True

    def empty_table(self) -> DownloadFile:
        """An empty table for what was spent on this job."""
        issued = self.contract.of_contract().issued
        return DownloadFile(f"{mark_of_issued(issued).file_stem}-spent.csv", CSV, empty_spent_table())

    def _uploaded(self, files: Mapping[str, bytes]) -> None:
        for name, content in files.items():
            self.bring(name, content)

    def pick(self, name: str) -> None:
        """Take a table of the folder, or an invented one, by its name in the list."""
        self.bring(name.removeprefix(FROM_EXAMPLES), self.issued_files.content(name))

    def bring(self, name: str, content: bytes) -> None:
        """Look at a table that came in, with what stands in the ledger, against the estimate; one with faults is reported by row and not taken."""
        contract = self.contract.of_contract()
        with self._working.steps(2):
            self._clear()
            try:
                rows = parse_spent(spent_text(content, name), name, contract.issued.lists, job=contract.state.number)
            except ListError as error:
                self._refuse(name, error.faults)
                return
            self._working.advance()
            estimate = current_promise(contract, contract.state).estimate
            before = spent_rows(contract.ledger.events(contract.state.number))
            self.comparison = compare_spent(estimate, [*before, *(row for row in rows if not row.ordered)])
            self._rows, self._brought_for = rows, contract.state.number
            self.draw_anew()
            self.write_button.disabled = not rows
            self.note.say(f"{name}: {len(rows)} rows, no faults, not written yet. {_sum_up(self.comparison)}")

    def _refuse(self, name: str, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        self.table.value = draw_spent_faults(faults)
        self.note.say(f"{name}: {count_words(len(faults), 'fault')}. Fix the rows below and bring it again. Nothing was taken in.", alert=True)

    def write(self) -> None:
        """Write the table on the screen into the ledger: every row, or none.

        Raises KitError if no sound table is on the screen, all of it stands in the ledger already, or somebody wrote meanwhile.
        """
        if not self._rows:
            raise KitError("There is no sound table to record.")
        self._write(self._rows)

    def write_one(self) -> None:
        """Write one amount into the ledger; errors as in `one_spent`."""
        cells = {
            name: ("yes" if control.value else "") if isinstance(control.value, bool) else str(control.value or "").strip()
            for name, control in self.one.items()
        }
        if cells["cost_type"] != CostType.LABOR:
            cells["step"] = ""
        self._write(one_spent(self.contract.of_contract(), typed_dollars(cells.pop("amount")), self.contract.chosen_day(), cells))
        for name in ("amount", "text", "hours", "document", "tax"):
            self.one[name].value = ""

    def _write(self, rows: Sequence[SpentRow]) -> None:
        contract, notes = record_spending(self.contract.of_contract(), rows, self.contract.chosen_day())
        self._rows = ()
        self.contract.show(contract)  # which shows what the ledger holds here, too
        said = f" {_sum_up(self.comparison)}" if self.comparison else ""
        self.note.say(f"{count_words(len(rows), 'row')} recorded in the ledger.{said}", *notes.sentences)


def _sum_up(comparison: SpentComparison) -> str:
    difference = comparison.total.difference
    if not difference:
        return f"Spent {format_money(comparison.total.spent)}, as estimated."
    return f"Spent {format_money(comparison.total.spent)}, {format_money(difference.copy_abs())} {'more' if difference > 0 else 'less'} than estimated."
