"""The estimator's screen: what was measured on the left, what follows from it on the right, price and worst finding above."""

import datetime as dt
from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.contract.contract_file import offer_contract, open_contract
from kit.draw.tables import draw_headline
from kit.draw.why import explain_number
from kit.estimate import Estimate
from kit.export.estimate_files import files_to_send
from kit.export.workbook import workbook_bytes
from kit.issued import issue_estimate, kept_folder
from kit.job import Job
from kit.job.prices import whose_lists
from kit.lists import Lists
from kit.panels.faults import draw_faults, list_open
from kit.panels.field_panel import FieldPanel
from kit.panels.job_desk import JobDesk
from kit.panels.job_files import JobFiles, jobs_folder
from kit.panels.screen import XLSX, DownloadFile, Screen, fill_choices, lay_bar, lay_box, make_button, make_download, show_html
from kit.panels.views import VIEWS

__all__ = ["Estimator"]

KEYS = "Keys: 1 to 6 turn to a view (outside text fields); F2 hides cost, wage, margin and risk, and shows them again. A ? button says why."
_BAR: dict[str, Any] = {"layout": {"width": "290px"}, "style": {"description_width": "initial"}}


class Estimator(Screen):
    """A job on the screen.

    Parameters
    ----------
    job
        The job to start from, or a job file. When left out: unsaved work of this folder, else the first example.
    lists
        The price lists; those of the job when left out.
    folder
        Where job files and workbooks are written; `jobs` beside the notebooks when left out.
    day
        Day of issue; today when left out.
    """

    def __init__(self, job: Job | Path | None = None, lists: Lists | None = None, folder: Path | None = None, day: dt.date | None = None) -> None:
        super().__init__()
        self.files = JobFiles(folder or jobs_folder())
        self._day = day
        self.desk = JobDesk(self.files, self.note, job, lists)
        self.desk.listed = self._list_files
        self.state = self.desk.state
        self.connection.offered = self._offer_typed
        self.headline, self.faults, self.view, self.answer = (widgets.HTML() for _ in range(4))
        self.tabs = widgets.ToggleButtons(options=list(VIEWS), style={"button_width": "auto"})
        self._private = widgets.ToggleButton(description="Hide cost (F2)", tooltip="Hide cost, wage, margin and risk while the customer looks on")
        self._name = widgets.Text(
            value=self.desk.name, description="Job file", tooltip="Name under which Save writes", continuous_update=False, layout={"width": "300px"}
        )
        self._open = widgets.Dropdown(
            options=self.files.names(),
            value=self.desk.opened if self.desk.opened in self.files.names() else self.files.first(),
            description="Open",
            tooltip="Job files of your folder, and examples",
            layout={"width": "330px"},
        )
        self._reason = widgets.Text(description="Reason", placeholder="why it is issued although something speaks against it", continuous_update=False, **_BAR)
        self._undo = make_button("Undo", "Take the last change back", self.note.guard(self.state.undo))
        self._redo = make_button("Redo", "Do again what was taken back", self.note.guard(self.state.redo))
        self.tools = make_download(
            "Download workbook",
            "The workbook of the job on the screen",
            self._workbook,
            self.note,
            self.working,
            asked=self.ask_why,
            pressed=self._pressed,
            missing=lambda: self._say_open("Not in it"),
        )
        self.panel = FieldPanel(self.state.job, self.state.lists, self._changed, self.files.list_folders)
        self.tabs.observe(lambda _: self._show_view(), names="value")
        self._private.observe(lambda _: self._hide(), names="value")
        self._name.observe(lambda _: self.desk.rename(str(self._name.value)), names="value")
        self.state.listen(self._show)
        self._lay_out()
        self._show()

    def _lay_out(self) -> None:
        guard = self.note.guard
        open_button = make_button("Open", "Put this job on the screen", guard(self.open))
        save = make_button("Save", "Write the job file", guard(self.save))
        issue = make_button("Issue", "Freeze this estimate as the next revision of its job number", guard(self.issue))
        close = make_button("Close", "Close the answer", guard(self._close_answer))
        self._answer_box = widgets.VBox([self.answer, close], layout={"display": "none", "overflow": "visible"})
        body = widgets.HBox([self.panel.box, lay_box("sk-side", self.tabs, self._answer_box, lay_box("sk-pane", self.view))])
        body.add_class("sk-body")
        self.lay_out(
            lay_box("sk-top", self.headline, self.faults),
            lay_bar(self._open, open_button, self._name, save, self._undo, self._redo, self.tools, self._private),
            self.working.box,
            self.desk.warning,
            self.note.box,
            self.desk.question.box,
            body,
            lay_bar(self._reason, issue),
            widgets.HTML(f"<p class='sk-help'>{escape(KEYS)}</p>"),
        )

    @property
    def estimate(self) -> Estimate:
        """The estimate on the screen."""
        return self.state.estimate

    @property
    def job(self) -> Job:
        """The job on the screen."""
        return self.state.job

    @property
    def shown_price(self) -> str:
        """The price as it stands on the screen."""
        return str(self.headline.value).partition("class='sk-price'>")[2].partition("<")[0]

    def ask_why(self, about: str) -> None:
        """Answer "why?" for a number, such as "row:price" or "line:<id>"."""
        show_html(self.answer, "The answer", lambda: explain_number(self.estimate, about, private=bool(self._private.value)))
        self._answer_box.layout.display = ""

    def save(self) -> None:
        """Save the job on the screen under the name in the file box."""
        self.desk.save()

    def open(self, name: str | None = None) -> None:
        """Open the job file chosen in the list, or the named one; unsaved work is asked about first."""
        self.desk.open(name or str(self._open.value))

    def _offer_typed(self, remembered: Mapping[str, tuple[str, str]]) -> None:
        """What the browser remembers of this job file and the job does not hold."""
        typed = {place: text for place, (text, file) in remembered.items() if file == self.desk.name}
        new = {place: typed[place] for place in self.panel.list_new(typed)}
        self.desk.offer_typed(new, lambda: self.panel.enter(new), self.connection.forget)

    def _list_files(self) -> None:
        self._name.value = self.desk.name
        fill_choices(self._open, self.files.names(), self.desk.opened)

    def issue(self) -> None:
        """Freeze the estimate on the screen as the next revision of its job number."""
        self.desk.check_before_issue()
        self.files.folder.mkdir(parents=True, exist_ok=True)
        path = issue_estimate(
            self.estimate,
            self.files.folder,
            make_files=files_to_send,
            stop_reason=str(self._reason.value),
            fell_back=self.desk.fell_back,
            today=self._day,
        )
        kept = f"What is to be sent lies in the folder {kept_folder(path).name}. It is never overwritten; a later one is the next revision."
        self.note.say(f"Issued as {path.name}. {kept} {whose_lists(self.estimate.lists)}")
        offer_contract(open_contract(path))

    def _say_open(self, what: str) -> list[str]:
        """What waits to be mended and is not in what was just written."""
        return [f"{what}: {sentence}" for sentence in list_open(self.state.refused)]

    def _workbook(self) -> DownloadFile:
        self.state.settle()
        return DownloadFile(self.files.path(str(self._name.value)).with_suffix(".xlsx").name, XLSX, workbook_bytes(self.estimate))

    def _pressed(self, key: str) -> None:
        names = list(VIEWS)
        if key == "F2":
            self._private.value = not self._private.value
        elif key.isdecimal() and int(key) <= len(names):
            self.tabs.value = names[int(key) - 1]

    def _close_answer(self) -> None:
        self.answer.value = ""
        self._answer_box.layout.display = "none"

    def _hide(self) -> None:
        self._close_answer()
        self.panel.hide_cost(hidden=bool(self._private.value))
        self._show()

    def _changed(self, changes: Mapping[str, Any]) -> None:
        try:
            self.state.change(changes)
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            self.faults.value = f"<div class='sk-faults' role='alert'>Not priced: {escape(f'{type(error).__name__}: {error}')}</div>"

    def _show(self) -> None:
        state = self.state
        self.faults.value = draw_faults(state.refused, state.trouble)
        self.panel.refresh(state.job, state.lists, state.refused)
        self._undo.disabled, self._redo.disabled = not state.can_undo, not state.can_redo
        self._show_view()
        self.headline.value = draw_headline(state.estimate, private=bool(self._private.value), at_rest=state.at_rest)  # last: the rest stands already
        if state.at_rest:
            self.desk.keep()
            self.connection.file, self.connection.kept = self.desk.name, self.connection.kept + 1
            changed = self.desk.look_at_lists()
            if changed:
                self.note.say(*changed, alert=True)

    def _show_view(self) -> None:
        name = str(self.tabs.value)
        show_html(self.view, name, lambda: VIEWS[name](self.estimate, bool(self._private.value), self.state.at_rest))
