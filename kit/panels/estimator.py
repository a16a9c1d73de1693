"""The estimator's screen: the verdict on top, the steps of the visit beside it, and the step on show with its fields and its picture."""

import datetime as dt
from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.errors import KitError
from kit.estimating import Estimate
from kit.issued import Issued
from kit.job import Job
from kit.lists import Lists
from kit.panels.connection import window_of_page
from kit.panels.customer_view import draw_customer_view, draw_waiting_view
from kit.panels.faults import draw_faults, explain_failure, list_open
from kit.panels.field_panel import FieldPanel
from kit.panels.job_desk import JobDesk
from kit.panels.job_files import JobFiles, jobs_folder
from kit.panels.options_panel import OptionsPanel
from kit.panels.papers_panel import PapersPanel
from kit.panels.progress import follow_steps
from kit.panels.promise_panel import PromisePanel
from kit.panels.screen import PageTools, Screen, lay_actions, lay_bar, lay_box, make_button, send_first, show_html
from kit.panels.start_panel import StartPanel
from kit.panels.step_content import StepContent
from kit.panels.step_frame import StepFrame
from kit.panels.step_list import StepList
from kit.panels.verdict import draw_verdict
from kit.panels.views import SHEETS
from kit.panels.visit_steps import STEPS, VisitStep, steps_by_id
from kit.panels.why_box import WhyBox

__all__ = ["Estimator"]

KEYS = "Keys: 1 to 9 go to a step (outside text fields); F2 switches to the customer's view and back. A ? button says what a field is, or why."


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
        Day of issue, and of a new job's visit; today when left out.
    """

    def __init__(self, job: Job | Path | None = None, lists: Lists | None = None, folder: Path | None = None, day: dt.date | None = None) -> None:
        super().__init__()
        self.connection.window = window_of_page()
        self.files = JobFiles(folder or jobs_folder(), self.connection.window)
        self.desk = JobDesk(self.files, self.note, job, lists)
        self.start = StartPanel(self.files, self.desk, self.note, day)
        self.desk.listed = self._show_names
        self.connection.file = self.desk.name
        self.state = self.desk.state
        self.connection.offered = self._offer_typed
        self.connection.parted = self._part
        self.step: VisitStep = STEPS[0]
        self.headline, self.faults, self.customer = (widgets.HTML() for _ in range(3))
        self.why = WhyBox(self.state)
        self.promise = PromisePanel(
            self.files, self._settled, lambda: self.job.identity.job_number, lambda: self.desk.name, lambda: self.desk.fell_back, self.working, day
        )
        self.content = StepContent(self.state, self._typed_in_picture, self.promise.told, self.layouts)
        self._make_controls()
        self.steps = StepList(self._pressed_go)
        self.panel = FieldPanel(self.state.job, self.state.lists, self._changed, self.files.list_folders)
        self.options = OptionsPanel(self._changed, self._replace, self.layouts)
        self.papers = PapersPanel(self._to_paper, self._missing, self.working)
        self.promise.days_moved = self._show_days
        self.state.listen(self._show)
        self.state.listen_at_rest(self._at_rest)
        self._lay_out()
        self.look_on(customer=self.files.customer_looks_on)

    def _make_controls(self) -> None:
        guard = self.note.guard
        self._undo = make_button("Undo", "Take the last change back", guard(self.state.undo), "quiet")
        self._redo = make_button("Redo", "Do again what was taken back", guard(self.state.redo), "quiet")
        self._save = make_button("Save", "Write the job file", guard(self.save))
        self._look = make_button(
            "Customer's view", "What the customer may see: picture, choices, price, days, care", guard(lambda: self.look_on(customer=True)), "quiet"
        )
        self._leave = make_button("Back to the job", "Leave the customer's view", guard(lambda: self.look_on(customer=False)), "quiet")
        self.tools = PageTools(asked=self.ask_why, pressed=self._pressed, seen=self._see_layout)

    def _lay_out(self) -> None:
        own = {"start": (self.start.box,), "options": (self.options.box,), "papers": (self.papers.box, self.promise.box)}
        self.frame = StepFrame(self.content, self.panel.box, self.why.box, own, self._turn_by)
        said = (self.desk.warning, self.note.box, self.desk.question.box)  # beside the list: what comes and goes moves no step of it
        body = lay_box("sk-visit", lay_box("sk-list", self.steps), lay_box("sk-column", *said, self.frame.box))
        self._bar = lay_actions(self._save, self._undo, self._redo, self._look)
        self._bar.add_class("sk-first-bar")
        self._work = (
            lay_box("sk-top", self.headline, self.faults),
            self._bar,
            body,
            widgets.HTML(f"<p class='sk-help'>{escape(KEYS)}</p>"),
        )
        self._shop_window = (lay_bar(self._leave), self.customer)
        self._page = lay_box("sk-page")
        self.lay_out(self._page, self.tools)

    @property
    def estimate(self) -> Estimate:
        """The estimate on the screen; errors as in `JobState.estimate`."""
        return self.state.estimate

    @property
    def job(self) -> Job:
        """The job on the screen."""
        return self.state.job

    @property
    def shown_price(self) -> str:
        """The price as it stands on the screen."""
        shown = self.customer.value if self.looked_on else self.headline.value
        return str(shown).partition("class='sk-price'>")[2].partition("<")[0]

    # --- the step on show

    def go(self, leads: str) -> None:
        """Turn to a step, such as "cabinet"; or to a field or a group in it, such as "cabinet/cabinet.width" or "check/stop"."""
        name, _, place = leads.partition("/")
        step = steps_by_id().get(name)
        if step is None or self.looked_on:
            return
        turned, self.step = step is not self.step, step
        if turned:
            self._leave_step()
        shown = turned or self.frame.is_empty
        if shown:
            self.frame.lay(step)  # before its fields: in the frame of the step before they would be drawn twice, and what is typed into the first lost
            self.steps.current = step.id
        if place in SHEETS:
            self.content.sheet.value = place
        else:
            self.panel.turn(step.parts, seek=place if step.parts else "")
        if shown:
            self._show_content()
        if place:
            self.steps.seek(place)

    def _leave_step(self) -> None:
        """What was said and answered in the step before goes with it; an alert stays."""
        self.why.close()
        if "alert" not in self.note.box.value:
            self.note.say()

    def _pressed_go(self, leads: str) -> None:
        self.note.guard(lambda: self.go(leads))(None)

    def _turn_by(self, steps: int) -> None:
        self.go(STEPS[min(max(STEPS.index(self.step) + steps, 0), len(STEPS) - 1)].id)

    def _show_content(self) -> None:
        """What follows from the job in the step on show; nothing else is worked out."""
        self.content.show(self.step)
        if self.step.id == "options":
            priced = self.state.priced
            self.options.show(priced and self.promise.told(priced), at_rest=self.state.at_rest)

    def _see_layout(self, narrow: bool) -> None:  # noqa: FBT001 - a callback
        """A page says which layout it shows: that is drawn from now on, and the other one when a page wants it first."""
        if self.layouts.see(narrow=narrow):
            self.options.draw_anew()
            (self._show_customer if self.looked_on else self._show_content)()

    def ask_why(self, about: str) -> None:
        """Answer "why?" for a number, such as "row:price" or "line:<id>"."""
        if not self.looked_on:
            self.why.ask(about)

    # --- job files

    def open(self, name: str) -> None:
        """Open a job file; unsaved work is asked about first."""
        self.desk.open(name)

    def save(self) -> None:
        """Save the job on the screen under the name in the file box."""
        self.desk.save()

    def _show_names(self) -> None:
        self.connection.file = self.desk.name
        self.start.show_names()
        self.promise.look_again()

    def _offer_typed(self, remembered: Mapping[str, tuple[str, str]]) -> None:
        """What the browser remembers of this job file and the job does not hold."""
        typed = {place: text for place, (text, file) in remembered.items() if file == self.desk.name}
        new = {place: typed[place] for place in self.panel.list_new(typed)}
        self.desk.offer_typed(new, lambda: self.panel.enter(new), self.connection.forget)

    def issue(self) -> None:
        """Freeze the estimate on the screen as the next revision of its job number."""
        self.promise.issue()

    def _settled(self) -> Estimate:
        """The estimate at rest, to be issued; errors as in `JobDesk.check_before_issue`, and where there is no price yet."""
        self.desk.check_before_issue()
        return self.estimate

    def _missing(self) -> list[str]:
        """What waits to be mended and is not in what was just made."""
        return [f"Not in it: {sentence}" for sentence in list_open(self.state.refused)]

    def _to_paper(self) -> tuple[Estimate, str, Issued | None]:
        if self.looked_on:
            raise KitError("Papers are not made in the customer's view: go back to the job first.")
        self.state.settle()
        priced = self.estimate
        return self.promise.dated(priced), self.files.path(self.desk.name).stem, self.promise.issued_as(priced)

    # --- the customer's view

    @property
    def looked_on(self) -> bool:
        """Whether the customer's view is on."""
        return bool(self._page.children == self._shop_window)

    def look_on(self, *, customer: bool) -> None:
        """Turn to the customer's view or back; it lasts through a reload. In it the page holds nothing but what the customer may see."""
        self.files.customer_looks_on = customer
        if customer:
            self._empty_page()
            self._page.children = self._shop_window
        else:
            self.customer.value = ""
            self._page.children = self._work
            self.frame.empty()
            self.go(self.step.id)
        self._show()
        if not customer:
            self.promise.note.guard(self.promise.go_on)(None)

    def _part(self) -> None:
        """The tab was duplicated: either page goes its own way from here."""
        self.desk.part(self.connection.window)
        self.files.customer_looks_on = self.looked_on

    def _empty_page(self) -> None:
        """Take everything that shows the work off the page."""
        self._page.children = ()
        self.why.close()
        self.panel.clear()
        self.options.clear()
        self.papers.forget()
        self.promise.clear()
        self.note.say()
        self.content.clear()
        self.headline.value = self.faults.value = ""

    def _show_customer(self) -> None:
        priced = self.state.priced

        def draw() -> str:
            agreed = self.promise.agreed(self.job)
            return draw_waiting_view(self.job, agreed) if priced is None else draw_customer_view(priced, agreed, self.layouts.on_show)

        show_html(self.customer, "This page", draw)

    def _pressed(self, key: str) -> None:
        if key == "F2":
            self.look_on(customer=not self.looked_on)
        elif key.isdecimal() and 0 < int(key) <= len(STEPS):
            self.go(STEPS[int(key) - 1].id)

    # --- a change, and what follows from it

    def _changed(self, changes: Mapping[str, Any]) -> None:
        try:
            self.state.change(changes)
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            self.faults.value = f"<div class='sk-faults' role='alert'>Not priced: {escape(explain_failure(error))}</div>"

    def _typed_in_picture(self, field: str, text: str) -> None:
        """A dimension of the picture was typed over: the same as typing in its field, which is shown where it does not take the text."""
        self.panel.enter({field: text})
        if field in self.state.refused:
            self.panel.turn(self.step.parts, seek=field)

    def _replace(self, job: Job) -> None:
        own = {"signed_on": self.job.terms.signed_on}  # its days were counted from the signature in the ledger
        self.state.replace(job.model_copy(update={"terms": job.terms.model_copy(update=own)}))
        self.note.say("Another option is on the screen. Undo brings the job back.")

    def _show(self) -> None:
        state = self.state
        if self.looked_on:
            self._show_customer()
        else:
            self._show_work()
        if state.at_rest:
            self.desk.note_work()

    def _show_work(self) -> None:
        state = self.state
        self._show_verdict()
        send_first()
        self.faults.value = draw_faults(state.refused, state.trouble)
        self.panel.refresh(state.job, state.lists, state.refused)
        self._undo.disabled, self._redo.disabled = not state.can_undo, not state.can_redo
        if not state.at_rest:
            self.papers.forget()
            self.options.stop()
        self._show_content()
        self.steps.show(follow_steps(state.job, state.priced, state.refused))
        self._offer_papers()

    def _show_verdict(self) -> None:
        job, priced = self.state.job, self.state.priced
        told = priced and self.promise.told(priced)
        self.headline.value = draw_verdict(job, told, at_rest=self.state.at_rest, ended=self.promise.ended(job))

    def _offer_papers(self) -> None:
        """What can be made and issued of the job as it stands; under a contract that is signed or has ended a proposal only as it was sent."""
        job, priced = self.state.job, self.state.priced
        bound = self.promise.say_bound(job)
        sent = priced is not None and bool(bound) and self.promise.is_as_sent(priced)
        said = self.promise.say_ended(job) if sent else bound
        self.promise.follow(job, self.papers.follow(job, said, proposal=sent or not bound), priced)

    def _show_days(self) -> None:
        """The proposal went out, the customer has signed, or the contract has ended: the days count from another one."""
        if not self.looked_on:
            self._show_verdict()
            self._offer_papers()
            self.content.show(self.step)
            self.papers.look_again()

    def _at_rest(self) -> None:
        """Unsaved work is written, so that a closed browser or a new kernel loses nothing; what others did to the lists is said."""
        if self.files.keeper.write():
            self.connection.copies += 1
        changed = [] if self.looked_on else self.desk.look_at_lists()
        if changed:
            self.note.say(*changed, alert=True)
