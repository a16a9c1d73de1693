"""The Options step: every mount and counter that could be had, what one of them would change, and what-ifs on a copy of the job."""

from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets

from kit.compare.differences import list_differences, list_facts
from kit.compare.figures import weigh_plan
from kit.compare.longer import list_stretches
from kit.compare.options import Option, compare_alternates
from kit.draw.alternates import draw_differences, draw_options
from kit.estimating import Estimate
from kit.job import Job
from kit.panels.screen import Note, Updating, Working, lay_actions, lay_box, lay_words, make_button, show_html
from kit.panels.what_if import WhatIf

__all__ = ["OptionsPanel"]

_WIDE: dict[str, Any] = {"layout": {"width": "auto", "max_width": "600px"}, "style": {"description_width": "120px"}}


class OptionsPanel:
    """Alternates of the job, and sliders on a copy of it.

    Parameters
    ----------
    change
        Called with changes to take over, by place.
    use
        Called with the job of an alternate that is to take the place of the job.
    working
        The progress bar of the screen.
    """

    def __init__(self, change: Callable[[Mapping[str, Any]], None], use: Callable[[Job], None], working: Working) -> None:
        self.what_if = WhatIf(change)
        self.options: tuple[Option, ...] = ()
        self._use, self._working = use, working
        self._priced: Estimate | None = None
        self._updating = Updating()
        self.note = Note()
        self.table, self.changes = widgets.HTML(), widgets.HTML()
        self.choice = widgets.Dropdown(description="Option", tooltip="Options that can be had", **_WIDE)
        self.use_button = make_button("Use this one", "Put it in the place of the job; Undo brings the job back", self.note.guard(self.use))
        self.choice.observe(lambda _: self._show_changes(), names="value")
        self._one = lay_box(
            "sk-one-option", lay_words("h3", "What one of them would change"), self.choice, self.changes, lay_actions(self.use_button), self.note.box
        )
        self.box = lay_box("sk-options-step", lay_box("sk-scroll", self.table), self._one, self.what_if.box)

    def show(self, priced: Estimate | None, *, at_rest: bool) -> None:
        """Start from the job as it is; before it has a price there is nothing to compare, and while it moves the alternates wait."""
        self.box.layout.display = "none" if priced is None else ""
        if priced is None:
            return
        self.what_if.show(priced)
        if at_rest and (self._priced is None or self._priced.job_as_read != priced.job_as_read or self._priced.lists is not priced.lists):
            self._compare(priced)

    def _compare(self, priced: Estimate) -> None:
        with self._working.steps(1):
            self.options = compare_alternates(priced.job_as_read, priced.lists, progress=self._advance)
        self._priced = priced
        show_html(self.table, "The options", lambda: draw_options(self.options))
        others = [(option.name, number) for number, option in enumerate(self.options) if option.usable and not option.chosen]
        self._one.layout.display = "" if others else "none"
        with self._updating:
            self.choice.options = others
            self.choice.value = others[0][1] if others else None
        self._show_changes()

    def _advance(self, done: int, of: int) -> None:
        self._working.box.max, self._working.box.value = of, done

    def _chosen(self) -> Option | None:
        return None if self.choice.value is None else self.options[int(self.choice.value)]

    def _show_changes(self) -> None:
        option, was = self._chosen(), self._priced
        if not self._updating:
            show_html(self.changes, "What it changes", lambda: "" if was is None or option is None else _draw_changes(was, option))

    def use(self) -> None:
        """Put the chosen alternate in the place of the job."""
        option = self._chosen()
        if option is not None:
            self._use(option.job)

    def clear(self) -> None:
        """Nothing of the job is left in the page."""
        self.what_if.clear()
        self.options, self._priced = (), None
        with self._updating:
            self.choice.options = ()
        self.table.value = self.changes.value = ""


def _draw_changes(was: Estimate, option: Option) -> str:
    now = option.estimate
    if now is None:
        return ""
    days = list_stretches(was, now, weigh_plan(was), weigh_plan(now))
    return draw_differences(("this job", option.short_name), (was.price, now.price), list_differences(was, now), list_facts(was, now), days)
