"""An upload button that can be had afresh: one that was given more than the connection carries waits for its answer forever."""

from collections.abc import Callable, Mapping
from typing import Any

import ipywidgets as widgets

from kit.panels.layout import Note, lay_bar

__all__ = ["Upload"]


class Upload:
    """The button, in a box of its own.

    Parameters
    ----------
    label
        What stands on it.
    bring
        Called with the content of each file by its name.
    note
        Where a failure is said.
    multiple
        Whether several files may come at once.
    """

    def __init__(self, label: str, bring: Callable[[Mapping[str, bytes]], object], note: Note, *, multiple: bool = False) -> None:
        self._label, self._bring, self._note, self._multiple = label, bring, note, multiple
        self.box = lay_bar()
        self.renew()

    def renew(self) -> None:
        """Put a fresh button in the place of the old one."""
        for old in self.box.children:
            old.close()
        button = widgets.FileUpload(accept=".csv,.xlsx", multiple=self._multiple, description=self._label, tooltip="CSV or XLSX, up to 5 MB")
        button.observe(self._note.guard(lambda: self._take(button)), names="value")
        self.box.children = (button,)

    def _take(self, button: Any) -> None:
        files = {str(one["name"]): bytes(one["content"]) for one in button.value}
        if files:
            button.value = ()
            self._bring(files)
