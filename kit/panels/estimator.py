"""The estimator's screen: what was measured on the left, what follows from it on the right, price and worst finding above."""

from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.style import STYLE
from kit.draw.tables import draw_headline
from kit.draw.why import explain_number
from kit.errors import KitError
from kit.estimate import Estimate
from kit.export.workbook import workbook_bytes
from kit.issued import issue_estimate
from kit.job import Job, read_job
from kit.lists import Lists
from kit.panels.field_panel import FieldPanel
from kit.panels.files import FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.layout import Note, make_button
from kit.panels.page_tools import XLSX
from kit.panels.state import JobState
from kit.panels.views import VIEWS, say_failure
from kit.panels.working import Made, Working, make_download

__all__ = ["Estimator"]

KEYS = "Keys: 1 to 6 turn to a view (outside text fields); F2 hides cost, wage, margin and risk, and shows them again. A ? button says why."


_BAR: dict[str, Any] = {"layout": {"width": "290px"}, "style": {"description_width": "initial"}}


class Estimator:
    """A job on the screen.

    Parameters
    ----------
    job
        The job to start from, or a job file. When left out: unsaved work of this folder, else the first example.
    lists
        The price lists; those of the job when left out.
    folder
        Where job files and workbooks are written; `jobs` beside the notebooks when left out.
    """

    def __init__(self, job: Job | Path | None = None, lists: Lists | None = None, folder: Path | None = None) -> None:
        self.files = JobFiles(folder or jobs_folder())
        start, name, said = self._start(job)
        self.state = JobState(start, (lambda _: lists) if lists is not None else self.files.lists_for)
        self._kept: Job = start
        self._headline, self._faults, self._view, self._why = (widgets.HTML() for _ in range(4))
        self._note, self._working = Note(), Working()
        self._tabs = widgets.ToggleButtons(options=list(VIEWS), style={"button_width": "auto"})
        self._private = widgets.ToggleButton(description="Hide cost (F2)", tooltip="Hide cost, wage, margin and risk while the customer looks on")
        self._name = widgets.Text(
            value=name, description="Job file", tooltip="Name under which Save writes", continuous_update=False, layout={"width": "300px"}
        )
        self._open = widgets.Dropdown(
            options=self.files.names(),
            value=self.files.first(),
            description="Open",
            tooltip="Job files of your folder, and examples",
            layout={"width": "330px"},
        )
        self._reason = widgets.Text(description="Reason", placeholder="why it is issued although a finding says stop", continuous_update=False, **_BAR)
        self._undo = make_button("Undo", "Take the last change back", self._note.guard(self.state.undo))
        self._redo = make_button("Redo", "Do again what was taken back", self._note.guard(self.state.redo))
        self.tools = make_download(
            "Download workbook",
            "The workbook of the job on the screen",
            self._workbook,
            self._note,
            self._working,
            asked=self.ask_why,
            pressed=self._pressed,
        )
        self._panel = FieldPanel(start, self.state.lists, self._changed, self.files.list_folders)
        self._tabs.observe(lambda _: self._show_view(), names="value")
        self._private.observe(lambda _: self._hide(), names="value")
        self.state.listen(self._show)
        self.screen = self._lay_out()
        self._show()
        self._note.say(said)

    def _start(self, job: Job | Path | None) -> tuple[Job, str, str]:
        """The job to start from, the name it goes by, and what to say of it."""
        if isinstance(job, Path):
            return read_job(job), job.name, f"Opened {job.name}."
        if job is not None:
            return job, "my_job.toml", ""
        kept = self.files.kept()
        if kept is not None:
            return kept[1], kept[0], f"Unsaved work of {kept[0]} is back. Save keeps it."
        return self.files.open(self.files.first()), self.files.free_name("my_job"), "An invented example to start from. Change it, or open another."

    def _lay_out(self) -> Any:
        close = make_button("Close", "Close the answer", self._note.guard(self._close_why))
        self._answer = widgets.VBox([self._why, close], layout={"display": "none", "overflow": "visible"})
        bar = widgets.HBox(
            [
                self._open,
                make_button("Open", "Put this job on the screen", self._note.guard(self.open)),
                self._name,
                make_button("Save", "Write the job file", self._note.guard(self.save)),
                self._undo,
                self._redo,
                self.tools,
                self._private,
            ]
        )
        more = widgets.HBox([self._reason, make_button("Issue", "Freeze this estimate as the next revision of its job number", self._note.guard(self.issue))])
        view = widgets.VBox([self._view])
        view.add_class("sk-pane")
        right = widgets.VBox([self._tabs, self._answer, view])
        right.add_class("sk-side")
        body = widgets.HBox([self._panel.box, right])
        for row, name in ((bar, "sk-bar"), (more, "sk-bar"), (body, "sk-body")):
            row.add_class(name)
        keys = widgets.HTML(f"<p class='sk-help'>{escape(KEYS)}</p>")
        top = widgets.VBox([self._headline, self._faults])
        top.add_class("sk-top")
        screen = widgets.VBox([widgets.HTML(STYLE), top, bar, self._working.box, self._note.box, body, more, keys])
        screen.add_class("sk-screen")
        return screen

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]

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
        return str(self._headline.value).partition("class='sk-price'>")[2].partition("<")[0]

    @property
    def faults_text(self) -> str:
        """What stands in the place for faults, as HTML; empty when the last entry was sound."""
        return str(self._faults.value)

    @property
    def view_text(self) -> str:
        """The view on the screen, as HTML."""
        return str(self._view.value)

    @property
    def answer_text(self) -> str:
        """The answer to the last "why?", as HTML; empty when it is closed."""
        return str(self._why.value)

    @property
    def note_text(self) -> str:
        """What the screen last said of files and buttons, as HTML."""
        return self._note.text

    def hide_cost(self, *, hidden: bool) -> None:
        """Hide cost, hours and margin while the customer looks on, or show them again."""
        self._private.value = hidden

    def control(self, place: str) -> Any:
        """The widget of a field by its place, such as "cabinet.width"."""
        return self._panel.control(place)

    def slider(self, place: str) -> Any:
        """The what-if slider of a field."""
        return self._panel.slider(place)

    def show_part(self, part: str) -> None:
        """Turn to a part of the job by its key, such as "cabinet" or "what if"."""
        self._panel.show_part(part)

    def show_view(self, name: str) -> None:
        """Turn to one of the views by its name."""
        self._tabs.value = name

    def ask_why(self, about: str) -> None:
        """Answer "why?" for a number, such as "row:price" or "line:<id>"."""
        try:
            self._why.value = explain_number(self.estimate, about, private=bool(self._private.value))
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            self._why.value = say_failure("The answer", error)
        self._answer.layout.display = ""

    def save(self) -> None:
        """Save the job on the screen under the name in the file box."""
        path = self.files.save(self.job, str(self._name.value))
        self._kept = self.job
        self._list_files()
        self._note.say(f"Saved {path.name} in {path.parent.name}.")

    def open(self, name: str | None = None) -> None:
        """Open the job file chosen in the list, or the named one."""
        chosen = name or str(self._open.value)
        self.state.replace(self.files.open(chosen))
        self._kept = self.job
        self._name.value = self.files.free_name(chosen) if chosen.startswith(FROM_EXAMPLES) else chosen
        self._note.say(f"Opened {chosen}." + (f" Save writes {self._name.value}; the example stays as it is." if chosen.startswith(FROM_EXAMPLES) else ""))

    def issue(self) -> None:
        """Freeze the estimate on the screen as the next revision of its job number."""
        self.state.settle()
        self.files.folder.mkdir(parents=True, exist_ok=True)
        path = issue_estimate(self.estimate, self.files.folder, stop_reason=str(self._reason.value).strip() or None)
        self._note.say(f"Issued as {path.name}. It is never overwritten; a later one is the next revision.")

    def _workbook(self) -> Made:
        self.state.settle()
        return self.files.path(str(self._name.value)).with_suffix(".xlsx").name, XLSX, workbook_bytes(self.estimate)

    def _pressed(self, key: str) -> None:
        names = list(VIEWS)
        if key == "F2":
            self._private.value = not self._private.value
        elif key.isdecimal() and int(key) <= len(names):
            self._tabs.value = names[int(key) - 1]

    def _list_files(self) -> None:
        chosen, names = self._open.value, self.files.names()
        if tuple(names) != tuple(self._open.options):
            self._open.options = names
            self._open.value = chosen if chosen in names else names[0]

    def _close_why(self) -> None:
        self._why.value = ""
        self._answer.layout.display = "none"

    def _hide(self) -> None:
        self._close_why()
        self._panel.hide_cost(hidden=bool(self._private.value))
        self._show()

    def _changed(self, changes: Mapping[str, Any]) -> None:
        try:
            self.state.change(changes)
        except Exception as error:  # noqa: BLE001 - as in ask_why
            self._faults.value = f"<div class='sk-faults' role='alert'>Not priced: {escape(f'{type(error).__name__}: {error}')}</div>"

    def _show(self) -> None:
        state = self.state
        faults = "".join(f"<div>{escape(str(fault))}</div>" for fault in state.faults)
        self._faults.value = f"<div class='sk-faults' role='alert'>Not taken over: {faults}</div>" if faults else ""
        if state.faults:
            self._panel.revert()
        else:
            self._panel.refresh(state.job, state.lists)
        self._undo.disabled, self._redo.disabled = not state.can_undo, not state.can_redo
        self._show_view()
        self._headline.value = draw_headline(state.estimate, private=bool(self._private.value), at_rest=state.at_rest)  # last: the rest stands already
        if state.at_rest:
            self._keep()

    def _show_view(self) -> None:
        name = str(self._tabs.value)
        try:
            self._view.value = VIEWS[name](self.estimate, bool(self._private.value), self.state.at_rest)
        except Exception as error:  # noqa: BLE001 - as in ask_why
            self._view.value = say_failure(name, error)

    def _keep(self) -> None:
        """Unsaved work is kept beside the job file, so that a closed browser or a new kernel loses nothing."""
        if self.job == self._kept:
            return
        try:
            self.files.keep(self.job, str(self._name.value))
            self._kept = self.job
        except (KitError, OSError) as error:
            self._note.say(f"Unsaved work can't be kept: {error}", alert=True)
