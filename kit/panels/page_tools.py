"""What the widget library leaves open: names of sliders, keys, "why?" buttons, and a file that is made when it is asked for."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["XLSX", "PageTools"]

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


class PageTools(anywidget.AnyWidget):
    """A download button (none without a label) that also minds the screen around it, an element of the class `sk-screen`.

    Parameters
    ----------
    make_file
        Gives name, MIME type and content of the file when the button is pressed.
    asked
        Called with what a "why?" button is about.
    pressed
        Called with a key: F2, or a digit outside a text field.
    """

    _esm = (Path(__file__).parent / "page_tools.js").read_text(encoding="utf-8")
    label = traitlets.Unicode("").tag(sync=True)
    tip = traitlets.Unicode("").tag(sync=True)

    def __init__(
        self,
        *,
        label: str = "",
        tip: str = "",
        make_file: Callable[[], tuple[str, str, bytes] | None] | None = None,
        asked: Callable[[str], None] | None = None,
        pressed: Callable[[str], None] | None = None,
    ) -> None:
        super().__init__(label=label, tip=tip)
        self._make_file, self._asked, self._pressed = make_file, asked, pressed
        self.on_msg(self._receive)

    def _receive(self, _: Any, message: Any, __: Any) -> None:
        kind = message.get("type") if isinstance(message, dict) else None
        if kind == "download" and self._make_file is not None:
            made = self._make_file()
            if made is not None:
                name, mime, content = made
                self.send({"type": "file", "name": name, "mime": mime}, [content])
        elif kind == "why" and self._asked is not None:
            self._asked(str(message.get("about", "")))
        elif kind == "key" and self._pressed is not None:
            self._pressed(str(message.get("key", "")))
