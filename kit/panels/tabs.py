"""Parts of a page of which one is seen at a time, chosen by a row of buttons."""

from collections.abc import Mapping
from typing import Any

import ipywidgets as widgets

from kit.panels.screen import lay_box

__all__ = ["Tabs"]


class Tabs:
    """A row of buttons and the part that is chosen; the first one at the start.

    Parameters
    ----------
    parts
        What is seen, by its name.
    """

    def __init__(self, parts: Mapping[str, Any]) -> None:
        self._parts = dict(parts)
        self.choice = widgets.ToggleButtons(options=list(parts), value=next(iter(parts)))
        self.choice.add_class("sk-tabs")
        self.choice.observe(lambda change: self._show(str(change["new"])), names="value")
        self.box = lay_box("sk-tabbed", self.choice, *self._parts.values())
        self._show(str(self.choice.value))

    def _show(self, chosen: str) -> None:
        for name, part in self._parts.items():
            part.layout.display = "" if name == chosen else "none"
