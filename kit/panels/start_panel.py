"""The head of the Start step: begin a job of a kind, open a job file, name the one that is written."""

import datetime as dt
from typing import Any

import ipywidgets as widgets

from kit.compare.new_job import job_kinds, new_job, next_job_number
from kit.issued import office_day
from kit.lists import Lists
from kit.panels.job_desk import JobDesk
from kit.panels.job_files import FROM_EXAMPLES, JobFiles
from kit.panels.screen import Note, lay_bar, lay_box, make_button

__all__ = ["StartPanel"]

_WIDE: dict[str, Any] = {"layout": {"width": "auto", "max_width": "620px"}, "style": {"description_width": "190px"}}


class StartPanel:
    """Which job is on the screen, and which is to be.

    Parameters
    ----------
    files, desk
        Where job files lie, and what is open.
    note
        Where it is said what was done.
    day
        Day of a new job's visit; today when left out.
    """

    def __init__(self, files: JobFiles, desk: JobDesk, note: Note, day: dt.date | None) -> None:
        self._files, self._desk, self._note, self._day = files, desk, note, day
        self.kind = widgets.Dropdown(options=[(kind.name, kind) for kind in job_kinds()], description="Kind of job", tooltip="What the customer wants", **_WIDE)
        self.name = widgets.Text(value=desk.name, description="Save as", tooltip="File name that Save writes", continuous_update=False, **_WIDE)
        self.choice = widgets.Dropdown(
            description="Open",
            tooltip="Job files of your folder, and examples",
            **_WIDE,
        )
        self._fill(desk.opened or files.first())
        start = make_button("New job", "Start a job of this kind: nothing is measured yet", note.guard(self.start))
        open_button = make_button("Open", "Put this job on the screen", note.guard(self.open))
        self.name.observe(lambda _: desk.rename(str(self.name.value)), names="value")
        self.box = lay_box("sk-start", lay_bar(self.kind, start), lay_bar(self.choice, open_button), self.name)

    def start(self) -> None:
        """Start a job of the chosen kind, of which nothing is measured; unsaved work is asked about first."""
        self._desk.leave("a new job", self._start)

    def _start(self) -> None:
        numbers = [self._files.number_of(name) for name in self._files.names() if not name.startswith(FROM_EXAMPLES)]
        day, lists = self._day or office_day(), self._lists
        job = new_job(self.kind.value, lists, number=next_job_number([number for number in numbers if number], day), day=day)
        self._desk.put(job, opened="", name=self._files.free_name(f"job_{job.identity.job_number}"))
        self._note.say(f"A new job, {job.identity.job_number}. Nothing is measured yet: the answers that decide the price are named above.")

    @property
    def _lists(self) -> Lists:
        return self._desk.state.lists

    def open(self) -> None:
        """Open the job file chosen in the list; unsaved work is asked about first."""
        self._desk.open(str(self.choice.value))

    def show_names(self) -> None:
        """The job files as they are now, and the name of the one on the screen."""
        self.name.value = self._desk.name
        self._fill(self._desk.opened)

    def _fill(self, chosen: str) -> None:
        named = self._files.named()
        if tuple(named) != self.choice.options:
            self.choice.options = named
        self.choice.value = chosen if chosen in dict(named).values() else named[0][1]
