"""The answer to "why?", in a box that is there until it is closed."""

import ipywidgets as widgets

from kit.draw.why import explain_number
from kit.panels.job_state import JobState
from kit.panels.screen import lay_box, make_button, show_html

__all__ = ["WhyBox"]


class WhyBox:
    """Says where a number of the job on the screen comes from."""

    def __init__(self, state: JobState) -> None:
        self._state = state
        self.answer = widgets.HTML()
        self.box = lay_box("sk-answer-box", self.answer, make_button("Close", "Close the answer", lambda _: self.close()))
        self.close()

    def ask(self, about: str) -> None:
        """Answer "why?" for a number, such as "row:price" or "line:<id>"."""
        show_html(self.answer, "The answer", lambda: explain_number(self._state.estimate, about))
        self.box.layout.display = ""

    def close(self) -> None:
        """Take the answer off the page."""
        self.answer.value, self.box.layout.display = "", "none"
