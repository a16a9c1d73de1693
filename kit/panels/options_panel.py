"""The Options step: every mount and counter that could be had, what one of them would change, and what-ifs on a copy of the job.

The alternates are worked out beside everything else; the next change of the job stops it.
"""

import threading
from collections.abc import Callable, Mapping
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.compare.differences import list_differences, list_facts
from kit.compare.figures import weigh_plan
from kit.compare.longer import list_stretches
from kit.compare.options import Option, compare_alternates
from kit.compare.sink_out import why_sink_out
from kit.draw.alternates import draw_differences, draw_options
from kit.draw.widths import OnShow
from kit.estimating import Estimate
from kit.job import Job
from kit.panels.faults import explain_failure
from kit.panels.screen import Layouts, Note, Updating, lay_actions, lay_box, lay_words, make_button, show_html
from kit.panels.step_content import WAITS
from kit.panels.what_if import WhatIf

__all__ = ["OptionsPanel"]

_WIDE: dict[str, Any] = {"layout": {"width": "auto", "max_width": "600px"}, "style": {"description_width": "120px"}}


class _LeftError(Exception):
    """The job has changed while its alternates were worked out."""


class OptionsPanel:
    """Alternates of the job, and sliders on a copy of it.

    Parameters
    ----------
    change
        Called with changes to take over, by place.
    use
        Called with the job of an alternate that is to take the place of the job.
    layouts
        The layouts to draw.
    """

    def __init__(self, change: Callable[[Mapping[str, Any]], None], use: Callable[[Job], None], layouts: Layouts) -> None:
        self.what_if = WhatIf(change)
        self.options: tuple[Option, ...] = ()
        self._use, self._layouts = use, layouts
        self._priced: Estimate | None = None
        self._comparing: Estimate | None = None
        self._lock = threading.RLock()
        self.tried = widgets.IntProgress(description="Comparing", layout={"display": "none"}, style={"description_width": "120px"})
        self._updating = Updating()
        self.note = Note()
        self.table, self.changes = widgets.HTML(), widgets.HTML()
        self.choice = widgets.Dropdown(description="Option", tooltip="Options that can be had", **_WIDE)
        self.use_button = make_button("Use this one", "Replace the job with it; Undo brings the job back", self.note.guard(self.use))
        self.choice.observe(lambda _: self._show_changes(), names="value")
        self._one = lay_box(
            "sk-one-option",
            lay_words("h3", "What an option would change"),
            self.choice,
            lay_box("sk-scroll", self.changes),
            lay_actions(self.use_button),
            self.note.box,
        )
        self.box = lay_box("sk-options-step", self.tried, lay_box("sk-scroll", self.table), self._one, self.what_if.box)

    def show(self, priced: Estimate | None, *, at_rest: bool) -> None:
        """Start from the job as it is; before it has a price there is nothing to compare, and while it moves the alternates wait."""
        self.what_if.box.layout.display = "none" if priced is None else ""
        if priced is None:
            with self._lock:
                self.stop()
                self._forget()
                self.table.value = WAITS
            return
        self.what_if.show(priced)
        if at_rest and not _same(self._priced, priced):
            self._start(priced)

    def _start(self, priced: Estimate) -> None:
        with self._lock:
            if _same(self._comparing, priced):
                return
            self._comparing = priced
            self._forget()
            self.tried.value, self.tried.layout.display = 0, ""
        threading.Thread(target=self._compare, args=(priced,), daemon=True).start()

    def stop(self) -> None:
        """Alternates that are being worked out are of a job that has changed: leave them."""
        with self._lock:
            self._comparing = None
            self.tried.layout.display = "none"

    def _compare(self, priced: Estimate) -> None:
        options: tuple[Option, ...] = ()
        fault = ""
        try:
            options = compare_alternates(priced.job_as_read, priced.lists, progress=lambda done, of: self._advance(priced, done, of))
        except _LeftError:
            return
        except Exception as error:  # noqa: BLE001 - in a thread of its own nobody else would say it
            fault = f"<div class='sk-faults' role='alert'>The options could not be compared: {escape(explain_failure(error))}</div>"
        with self._lock:
            if self._comparing is priced:
                self.stop()
                self._take(priced, options, fault)

    def _advance(self, priced: Estimate, done: int, of: int) -> None:
        with self._lock:
            if self._comparing is not priced:
                raise _LeftError
            self.tried.max, self.tried.value = of, done

    def _take(self, priced: Estimate, options: tuple[Option, ...], fault: str) -> None:
        self._priced, self.options = priced, options
        show_html(self.table, "The options", lambda: fault or draw_options(options))
        others = [(option.title, number) for number, option in enumerate(self.options) if option.usable and not option.chosen]
        self._one.layout.display = "" if others else "none"
        with self._updating:
            self.choice.options = others
            self.choice.value = others[0][1] if others else None
        self._show_changes()

    def _chosen(self) -> Option | None:
        return None if self.choice.value is None else self.options[int(self.choice.value)]

    def draw_anew(self) -> None:
        """Another layout is on show."""
        with self._lock:
            self._show_changes()

    def _show_changes(self) -> None:
        option, was = self._chosen(), self._priced
        if not self._updating:
            show_html(self.changes, "What it changes", lambda: "" if was is None or option is None else _draw_changes(was, option, self._layouts.on_show))

    def use(self) -> None:
        """Put the chosen alternate in the place of the job."""
        option = self._chosen()
        if option is not None:
            self._use(option.job)

    def clear(self) -> None:
        """Nothing of the job is left in the page."""
        self.what_if.clear()
        with self._lock:
            self.stop()
            self._forget()

    def _forget(self) -> None:
        """Alternates of another job are not shown."""
        self.options, self._priced = (), None
        with self._updating:
            self.choice.options = ()
        self.table.value = self.changes.value = ""
        self._one.layout.display = "none"


def _same(one: Estimate | None, other: Estimate) -> bool:
    return one is not None and one.job_as_read == other.job_as_read and one.lists is other.lists


def _draw_changes(was: Estimate, option: Option, on_show: OnShow) -> str:
    now = option.estimate
    if now is None:
        return ""
    days = list_stretches(was, now, weigh_plan(was), weigh_plan(now))
    why = "".join(
        f"<p class='sk-help'>Without a sink, {escape(name)}: {escape(says)}</p>"
        for name, says in (("this job", why_sink_out(was)), (option.short_name, why_sink_out(now)))
        if says
    )
    return why + draw_differences(("This job", option.title), (was.price, now.price), list_differences(was, now), list_facts(was, now), days, on_show)
