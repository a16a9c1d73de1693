"""What stands in the frame of a step: its name, what it asks, its fields with the picture, or what its own panels show, and the way on."""

from collections.abc import Callable, Mapping
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.panels.screen import lay_actions, lay_box, lay_words, make_button
from kit.panels.step_content import StepContent
from kit.panels.visit_steps import STEPS, VisitStep

__all__ = ["StepFrame"]


class StepFrame:
    """The frame of the step on show; its fields and tables are filled in afterwards.

    Parameters
    ----------
    content
        Picture, checks and sheets of the job.
    fields
        The box of the fields of a step.
    answer
        Where "why?" is answered.
    own
        Panels that only one step has, by its id: above the fields in Start, in their place in Options, above the sheets in Price and papers.
    turn_by
        Called with 1 for the next step, -1 for the one before.
    """

    def __init__(self, content: StepContent, fields: Any, answer: Any, own: Mapping[str, tuple[Any, ...]], turn_by: Callable[[int], None]) -> None:
        self._fields, self._answer = fields, answer
        self._back = make_button("Back", "The step before", lambda _: turn_by(-1), "quiet")
        self._next = make_button("Next", "The next step", lambda _: turn_by(1), "primary")
        self._turns, self._title = lay_actions(self._next, self._back), widgets.HTML()
        self._typed = lay_box("sk-typed", fields, lay_box("sk-picture", content.picture))
        sheets = (lay_words("h3", "The price in full"), content.sheet, lay_box("sk-scroll", content.view))
        self._inner: dict[str, tuple[Any, ...]] = {
            "start": (*own["start"], self._typed),
            "check": (lay_box("sk-check", content.view),),
            "options": own["options"],
            "papers": (lay_box("sk-sheets", *own["papers"], *sheets, fields),),
        }
        self.box = lay_box("sk-main")

    @property
    def is_empty(self) -> bool:
        """Whether no step stands in it."""
        return not self.box.children

    def lay(self, step: VisitStep) -> None:
        """Put up the frame of a step, what it shows still to come."""
        self._title.value = f"<h2>{escape(step.name)}</h2><p class='sk-soft'>{escape(step.help)}</p>"
        children = (self._title, self._answer, *self._inner.get(step.id, (self._typed,)), self._turns)
        if self.box.children != children:
            self._fields.children = ()
            self.box.children = children
        for name, holds in (("sk-pictured", bool(step.picture)), ("sk-pairs", step.id == "scope")):
            (self._typed.add_class if holds else self._typed.remove_class)(name)
        self._back.disabled, self._next.disabled = step is STEPS[0], step is STEPS[-1]

    def empty(self) -> None:
        """Take the step away."""
        self.box.children = ()
