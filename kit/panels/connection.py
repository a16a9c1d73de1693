"""The page's line to its kernel: a banner and locked fields when it is lost, and what was typed last offered back afterwards."""

import os
import re
import secrets
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["Connection", "window_of_page"]

_HERE = Path(__file__).parent
_ASKED_BY = "QUERY_STRING"  # what the address of a page asks for, as its server says it to the kernel
_WINDOW = re.compile(r"(?:^|&)window=([0-9a-f]{8})(?:&|$)")


def window_of_page() -> str:
    """The window of the browser that this kernel draws a page for: the one that the address names since its first load, else a new name; empty in the Lab."""
    address = os.environ.get(_ASKED_BY)
    if address is None:
        return ""
    named = _WINDOW.search(address)
    return named[1] if named else _new_window()


def _new_window() -> str:
    return secrets.token_hex(4)


class Connection(anywidget.AnyWidget):
    """Stands in every screen, an element of the class `sk-screen`, and minds it.

    Parameters
    ----------
    offered
        Called with what was typed and perhaps never arrived: its text by the place of the field, and the job file it was typed for.
    """

    _esm = "".join((_HERE / name).read_text(encoding="utf-8") for name in ("typing.js", "connection.js"))
    _css = (  # in view however far down a person is, whole above the verdict, whose ground reaches up
        ".sk-lost{border:2px solid currentColor;border-left-width:8px;border-radius:4px;padding:8px 12px;font-weight:600}.sk-lost[hidden]{display:none}"
        ".sk-screen>:has(>.sk-lost:not([hidden])){position:sticky;top:0;z-index:7;background:var(--sk-ground);flex:none;margin-bottom:20px}"
    )
    file = traitlets.Unicode("").tag(sync=True)
    """The job file that is open: what is typed is remembered with it."""
    window = traitlets.Unicode("").tag(sync=True)
    """What the address of the page names from now on, so that a reload comes back to what this window had open."""
    copies = traitlets.Int(0).tag(sync=True)
    """Goes up whenever all that was typed so far is kept on the disk."""

    def __init__(self, offered: Callable[[Mapping[str, tuple[str, str]]], object] | None = None) -> None:
        super().__init__()
        self.offered = offered
        self.parted: Callable[[], object] = lambda: None
        """Called when another page goes by this window already, a tab that was duplicated: from then on this page's window has a name of its own."""
        self.on_msg(self._receive)

    def forget(self) -> None:
        """What was offered is dealt with: the browser drops it."""
        self.send({"type": "offered"})

    def _receive(self, _: Any, message: Any, __: Any) -> None:
        kind = message.get("type") if isinstance(message, dict) else None
        if kind == "there?":
            self.send({"type": "there"})
        elif kind == "taken":
            self.window = _new_window()
            self.parted()
        elif kind == "typed" and self.offered is not None:
            entries = message.get("entries") if isinstance(message.get("entries"), dict) else {}
            self.offered(
                {
                    str(place): (str(entry["text"]), str(entry["file"]))
                    for place, entry in entries.items()
                    if isinstance(entry, dict) and "text" in entry and "file" in entry
                }
            )
