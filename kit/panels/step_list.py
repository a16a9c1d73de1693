"""The list of steps beside a screen: one real list of buttons, each with its mark; it also carries presses of whatever leads to a step."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from kit.panels.progress import StepProgress, progress_words
from kit.panels.visit_steps import STEPS

__all__ = ["StepList"]

_HERE = Path(__file__).parent


class StepList(anywidget.AnyWidget):
    """The steps of the visit.

    A press of a step, or of any button of the screen with `data-go`, calls `go` with where it leads: a step, or a step and a field or group
    such as "cabinet/cabinet.width" or "check/stop".

    Parameters
    ----------
    go
        Called with that.
    """

    _esm = (_HERE / "step_list.js").read_text(encoding="utf-8")
    _css = (_HERE / "step_list.css").read_text(encoding="utf-8")
    steps: Any = traitlets.List().tag(sync=True)
    current = traitlets.Unicode("").tag(sync=True)
    progress = traitlets.Unicode("").tag(sync=True)

    def __init__(self, go: Callable[[str], object]) -> None:
        super().__init__()
        self._go = go
        self.on_msg(self._receive)

    def show(self, steps: Mapping[str, StepProgress]) -> None:
        """Marks and progress as they stand now."""
        self.steps = [{"id": step.id, "name": step.name, "mark": steps[step.id].mark, "says": steps[step.id].says} for step in STEPS]
        self.progress = progress_words(steps)

    def seek(self, place: str) -> None:
        """Put the cursor into the field of this place, or bring a group of the checks into view, once it is there."""
        self.send({"type": "seek", "place": place})

    def _receive(self, _: Any, message: Any, __: Any) -> None:
        if isinstance(message, dict) and message.get("type") == "go":
            self._go(str(message.get("to", "")))
