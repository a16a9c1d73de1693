"""A slider that writes on a person's own move only: what is typed elsewhere is shown as it is, never rounded to a step, never sent back."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["Slider"]


class Slider(anywidget.AnyWidget):
    """A named slider. `at` and `text` are what it shows; a move by mouse, finger or key calls `on_move` with a whole number of steps.

    Parameters
    ----------
    label, tip
        Its name, and more about it.
    low, high, step
        Ends and step, in the unit of `at`. `show` widens the ends for a value beyond them.
    on_move
        Called with the new value.
    """

    _esm = Path(__file__).with_suffix(".js").read_text(encoding="utf-8")
    _css = """:has(>.sk-slider){overflow:visible}
.sk-slider{display:flex;flex-wrap:wrap;align-items:center;gap:0 8px;min-height:44px;max-width:560px;margin-right:12px}
.sk-slider .widget-label{flex:0 0 190px}.sk-slider input{flex:1 1 120px;min-width:80px;height:44px;touch-action:pan-y}
.sk-slider output{flex:0 0 90px;text-align:right;font-variant-numeric:tabular-nums}
.sk-slider input:focus-visible{outline-offset:-3px}"""
    label = traitlets.Unicode("").tag(sync=True)
    tip = traitlets.Unicode("").tag(sync=True)
    low, high, step = (traitlets.Float(number).tag(sync=True) for number in (0.0, 1.0, 0.1))
    at = traitlets.Float(0.0).tag(sync=True)
    text = traitlets.Unicode("").tag(sync=True)
    moved = traitlets.List([0.0, 0]).tag(sync=True, echo_update=False)
    """The value that a person moved it to, and how often it was moved: written by the page alone, which is told by `heard`, not by an echo as well."""
    heard = traitlets.Int(0).tag(sync=True)
    """The move that was dealt with last."""

    def __init__(self, label: str, tip: str, ends: tuple[float, float], step: float, on_move: Callable[[float], object]) -> None:
        self._ends, self._on_move = ends, on_move
        super().__init__(label=label, tip=tip, low=ends[0], high=ends[1], step=step, at=ends[0])
        self.observe(self._receive, names="moved")

    def show(self, value: float, text: str) -> None:
        """Show a value and its words; this is no move."""
        with self.hold_sync():
            self.low, self.high = min(self._ends[0], value), max(self._ends[1], value)
            self.at, self.text = value, text

    def move(self, value: float) -> None:
        """Move it as a person does."""
        self.moved = [value, int(self.moved[1]) + 1]

    def _receive(self, change: Any) -> None:
        value, number = change["new"]
        with self.hold_sync():
            self.heard = int(number)
            self._on_move(float(value))
