"""What takes a while: a progress bar, and download buttons whose file is made when it is asked for."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import RLock

import ipywidgets as widgets

from kit.panels.layout import Note
from kit.panels.page_tools import PageTools

__all__ = ["Made", "Working", "make_download"]

Made = tuple[str, str, bytes]
"""Name, MIME type and content of a file."""


class Working:
    """A progress bar that is there while something runs, and the lock that lets only one thing run."""

    def __init__(self) -> None:
        self.box = widgets.IntProgress(description="Working", layout={"display": "none"})
        self._lock = RLock()
        self._depth = 0

    @contextmanager
    def steps(self, count: int) -> Iterator[None]:
        """Show the bar for so many steps; inside another run its steps are added to those."""
        with self._lock:
            if self._depth:
                self.box.max += count
            else:
                self.box.value, self.box.max, self.box.layout.display = 0, max(count, 1), ""
            self._depth += 1
            try:
                yield
            finally:
                self._depth -= 1
                if not self._depth:
                    self.box.layout.display = "none"

    def advance(self) -> None:
        """One step is done."""
        self.box.value += 1


def make_download(
    label: str,
    tip: str,
    make: Callable[[], Made],
    note: Note,
    working: Working,
    *,
    asked: Callable[[str], None] | None = None,
    pressed: Callable[[str], None] | None = None,
) -> PageTools:
    """A button that makes a file and hands it to the browser; what fails is said in the note and gives none. The rest as in `PageTools`."""

    def run() -> Made | None:
        try:
            with working.steps(1):
                made = make()
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            note.say(f"No file: {error}", alert=True)
            return None
        note.say(f"{made[0]} is on its way to your downloads.")
        return made

    return PageTools(label=label, tip=tip, make_file=run, asked=asked, pressed=pressed)
