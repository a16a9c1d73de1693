"""A day is picked or typed as the browser's own calendar shows days."""

import datetime as dt
from typing import Any

import ipywidgets as widgets

from kit.job.field_names import label_of
from kit.job.fields import Rule
from kit.panels.controls import Control, OnChange, help_of

__all__ = ["make_day"]


def make_day(place: str, rule: Rule, on_change: OnChange) -> Control:
    """The control for a day; empty stands for a day that is not said."""
    tip = help_of(place, rule)
    widget = widgets.DatePicker(description=label_of(place), tooltip=tip, layout={"width": "auto"}, style={"description_width": "190px"})

    def show(value: Any) -> None:
        widget.value = value if isinstance(value, dt.date) else None

    widget.observe(lambda change: on_change(place, change.new), names="value")
    return Control(place, widget, widget, show, tip)
