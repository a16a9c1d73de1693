"""What follows from the job in the step on show: its picture as a form, the checks, or a sheet of the price; nothing else is worked out."""

from collections.abc import Callable
from operator import is_
from threading import RLock
from typing import Any

import ipywidgets as widgets

from kit.errors import KitError
from kit.estimating import Estimate
from kit.panels.check_list import draw_check_list
from kit.panels.job_state import JobState
from kit.panels.picture_form import PictureForm, ask_open, make_fillable
from kit.panels.screen import Layouts, show_html
from kit.panels.sketch import sketch_job
from kit.panels.views import SHEETS, draw_picture
from kit.panels.visit_steps import STEPS, VisitStep

__all__ = ["WAITS", "StepContent"]

_WIDE: dict[str, Any] = {"layout": {"width": "auto", "max_width": "570px", "margin": "2px 0"}, "style": {"description_width": "130px"}}
_SKETCH = "<p class='sk-soft'>Drawn with usual values where answers are still to come.{}</p>"
_PRESS = " Press an underlined ? and type what you measured."
_DRAWN_LATER = "<p class='sk-soft'>The drawing comes once the answers that decide the price are in.</p>"
_SHEET = "<section class='sk-sheet' data-group='{}' tabindex='-1'>{}</section>"
WAITS = "<p>This comes once the answers that decide the price are in: they are named above.</p>"


class StepContent:
    """Picture, checks and sheets of the job on the screen.

    Parameters
    ----------
    state
        The job.
    typed
        Called with the place of a field and the text that was typed over its dimension.
    dated
        Gives an estimate with its days as they are counted on this screen.
    layouts
        The layouts to draw.
    """

    def __init__(self, state: JobState, typed: Callable[[str, str], object], dated: Callable[[Estimate], Estimate], layouts: Layouts) -> None:
        self._state, self._dated, self._layouts, self._step = state, dated, layouts, STEPS[0]
        self._shown: tuple[object, ...] = ()
        """What was drawn last: it is not drawn again where nothing of it has changed, such as when the job comes to rest."""
        self._drawing = RLock()  # a job that comes to rest is drawn by another thread: what it drew before a person turned on must not come last
        self.picture, self.view = PictureForm(typed), widgets.HTML()
        self.sheet = widgets.Dropdown(options=[(label, sheet) for sheet, (label, _) in SHEETS.items()], description="Show", tooltip="What to look at", **_WIDE)
        self.sheet.observe(lambda _: self.show(self._step), names="value")

    def show(self, step: VisitStep) -> None:
        """Draw what this step shows of the job as it is."""
        with self._drawing:
            self._step, state = step, self._state
            priced = state.priced if state.priced is None or step.id != "papers" else self._dated(state.priced)
            shown = (step, self.sheet.value, priced, state.job, state.lists, state.refused, self._layouts.on_show, step.id == "papers" and state.at_rest)
            if len(shown) == len(self._shown) and all(map(is_, shown, self._shown)):
                return
            self._shown = shown
            show_html(self.picture, "The picture", self._draw_picture)
            if step.id == "check":
                show_html(self.view, "The checks", self._draw_checks)
            elif step.id == "papers":
                sheet = str(self.sheet.value)
                label, draw = SHEETS[sheet]
                show_html(self.view, label, lambda: WAITS if priced is None else _SHEET.format(sheet, draw(priced, state.at_rest, self._layouts.on_show)))

    def clear(self) -> None:
        """Nothing of the job is left in the page."""
        self._shown = ()
        self.view.value = self.picture.value = ""

    def _draw_picture(self) -> str:
        job, priced, refused = self._state.job, self._state.priced, self._state.refused
        if not self._step.picture:
            return ""
        if priced is not None:
            return make_fillable(draw_picture(self._step.picture, priced, self._layouts.on_show), job, refused)
        try:
            drawn, moved = (draw_picture(self._step.picture, sketch_job(job, self._state.lists, moved=other), self._layouts.on_show) for other in (False, True))
        except KitError:
            return _DRAWN_LATER
        form = make_fillable(ask_open(drawn, moved), job, refused)
        return form + _SKETCH.format(_PRESS if "sk-unmeasured" in form else "")

    def _draw_checks(self) -> str:
        return WAITS if self._state.priced is None else draw_check_list(self._state.priced)
