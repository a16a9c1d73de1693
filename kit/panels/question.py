"""A question that stands on the screen until it is answered: what it is about, and a button for each answer."""

from collections.abc import Callable, Mapping
from html import escape

import ipywidgets as widgets

from kit.panels.screen import Note, close_widgets, lay_bar, lay_box, make_button

__all__ = ["Question"]


class Question:
    """One question at a time; another one takes its place, an answer takes it away.

    Parameters
    ----------
    note
        Where a failure of an answer is said.
    """

    def __init__(self, note: Note) -> None:
        self._note = note
        self.text = widgets.HTML()
        self.answers: dict[str, Callable[[], object]] = {}
        self._buttons = lay_bar()
        self.box = lay_box("sk-question", self.text, self._buttons)
        self.box.layout.display = "none"

    def ask(self, question: str, answers: Mapping[str, Callable[[], object]], *, more: str = "") -> None:
        """Show a question with its answers, the safest first, and `more` HTML between them."""
        self.answers = dict(answers)
        self.text.value = f"<p role='alert'>{escape(question)}</p>{more}"
        old = self._buttons.children
        self._buttons.children = [make_button(label, label, self._note.guard(lambda label=label: self.answer(label))) for label in answers]  # type: ignore[misc]
        close_widgets(*old)
        self.box.layout.display = ""

    def answer(self, label: str) -> None:
        """Give an answer; the question goes, also where what follows asks another."""
        action = self.answers[label]
        self.drop()
        action()

    def drop(self) -> None:
        """Take the question away unanswered."""
        self.answers = {}
        self.box.layout.display = "none"
