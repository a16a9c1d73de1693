"""What would a change do? Sliders on a copy of the job: was, now and difference, then keep it or drop it."""

from collections.abc import Callable, Mapping
from html import escape
from threading import RLock
from typing import Any

import ipywidgets as widgets

from kit.draw.tables import draw_table, signed_money
from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, change_job
from kit.lists import Lists
from kit.money import EXACT, format_money
from kit.outlook import plan_schedule
from kit.panels.controls import Control, make_slider, profit_label, slider_fields, usual_value
from kit.panels.screen import Updating, close_widgets, lay_actions, lay_box, lay_words, make_button
from kit.records import Level
from kit.units import format_days, round_up_days

__all__ = ["WhatIf", "draw_was_and_now"]

_HELP = "Sliders work on a copy: the job does not change until you keep it. Arrow keys move a slider in steps."


def draw_was_and_now(was: Estimate, now: Estimate) -> str:
    """Price, own hours, days without a sink and stops: was, now, difference."""
    days = [plan_schedule(one).days_without_sink for one in (was, now)]
    stops = [sum(finding.level is Level.STOP for finding in one.findings) for one in (was, now)]
    rows = [
        ("Price", format_money(was.price), format_money(now.price), signed_money(EXACT.subtract(now.price, was.price))),
        ("Own hours", f"{was.hours:.2f}", f"{now.hours:.2f}", _signed(round(now.hours, 2) - round(was.hours, 2), 2)),
        ("Days without a sink", *_days(*days)),
        ("Stops", str(stops[0]), str(stops[1]), _signed(stops[1] - stops[0], 0)),
    ]
    return draw_table("What it would do", ("", "Was", "Now", "Difference"), rows, numbers=(1, 2, 3), heads=True)


def _days(was: float | None, now: float | None) -> tuple[str, str, str]:
    words = ["-" if days is None else format_days(days) for days in (was, now)]
    return words[0], words[1], "-" if was is None or now is None else _signed(round_up_days(now) - round_up_days(was), 1)


def _signed(more: float, places: int) -> str:
    """A difference with its sign; none is 0."""
    return f"{more:+.{places}f}" if round(more, places) else "0"


class WhatIf:
    """Sliders for the fields worth asking about.

    Parameters
    ----------
    keep
        Called with the changes to take over, by place.
    """

    def __init__(self, keep: Callable[[Mapping[str, Any]], None]) -> None:
        self._keep = keep
        self._was: Estimate | None = None
        self._updating = Updating()
        self._lock = RLock()  # the job comes to rest in another thread: what is moved meanwhile must not be taken for put back
        self.changes: dict[str, Any] = {}
        """What was moved and is neither kept nor dropped."""
        self.sliders: dict[str, Control] = {}
        self.answer = widgets.HTML()
        self.keep_button = make_button("Keep", "Put the change into the job", lambda _: self.keep(), "primary")
        self.drop_button = make_button("Discard", "Put the sliders back; the job stays as it is", lambda _: self.drop())
        self._fields = lay_box("sk-inputs")
        answer = lay_box("sk-was-now", self.answer, lay_actions(self.keep_button, self.drop_button))
        self.box = lay_box("sk-whatif", lay_words("h3", "What if"), lay_words("p", _HELP), self._fields, answer)

    def show(self, priced: Estimate) -> None:
        """Start from a job as it is; what was moved and not kept is dropped when the job has changed."""
        with self._lock:
            if self._was is not None and self._was.lists is not priced.lists:
                self._close_sliders()
            if self._was is None or self._was.job_as_read != priced.job_as_read:
                self.changes.clear()
            self._was = priced
            self._lay_out()

    def keep(self) -> None:
        """Take what was moved over into the job."""
        with self._lock:
            changes, self.changes = self.changes, {}
        if changes:
            self._keep(changes)

    def drop(self) -> None:
        """Back to the job as it is."""
        with self._lock:
            self.changes.clear()
            self._lay_out()

    def clear(self) -> None:
        """Nothing of the job is left in the page."""
        self._close_sliders()
        self._was, self.answer.value = None, ""
        self.changes.clear()

    def _close_sliders(self) -> None:
        self._fields.children = ()
        close_widgets(*(control.box for control in self.sliders.values()))
        self.sliders.clear()

    def _lay_out(self) -> None:
        """Sliders at the values of the copy, and the answer."""
        if self._was is None:
            return
        job, lists = self._was.job_as_read, self._was.lists
        with self._updating:
            boxes = [self._slider(place, rule, value, lists).box for place, rule, value in slider_fields(job)]
        if tuple(boxes) != self._fields.children:
            self._fields.children = boxes
        self._say(job, lists)

    def _slider(self, place: str, rule: Any, value: Any, lists: Lists) -> Control:
        control = self.sliders.get(place)
        if control is None:
            control = self.sliders[place] = make_slider(place, rule, self._moved, usual=usual_value(place, lists))
        if place == "terms.profit" and self._was is not None:
            control.widget.label = profit_label(self._was.terms.profit_as)
        if place not in self.changes:
            control.show(value)
        return control

    def _moved(self, place: str, typed: Any) -> None:
        with self._lock:
            if self._updating or self._was is None:
                return
            self.changes[place] = typed
            self._say(self._was.job_as_read, self._was.lists)

    def _say(self, job: Job, lists: Lists) -> None:
        was = self._was
        if was is None:
            return
        try:
            changed = change_job(job, self.changes)
            if changed == job:  # what was moved has been put back
                self.changes.clear()
            self.answer.value = draw_was_and_now(was, estimate(changed, lists, near=was) if self.changes else was)
            self.keep_button.disabled = self.drop_button.disabled = not self.changes  # after the answer, which a person waits for
        except KitError as error:
            self.keep_button.disabled, self.drop_button.disabled = True, False
            self.answer.value = f"<div class='sk-faults' role='alert'>{'<br>'.join(escape(str(fault)) for fault in error.faults)}</div>"
