"""What every screen is laid out with: rows of controls, panes that scroll, and a note that says what was done or what failed."""

from collections.abc import Callable
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.errors import KitError

__all__ = ["Note", "lay_bar", "lay_pane", "lay_words", "make_button"]


class Note:
    """A line that says what was done; a failure is said as an alert, and the rest of the screen works on."""

    def __init__(self) -> None:
        self.box = widgets.HTML()

    @property
    def text(self) -> str:
        """What it says, as HTML."""
        return str(self.box.value)

    def say(self, *sentences: str, alert: bool = False) -> None:
        """Say sentences, each on a line of its own; none clears the note."""
        lines = "<br>".join(escape(sentence) for sentence in sentences if sentence)
        self.box.value = f"<p role='{'alert' if alert else 'status'}'>{lines}</p>" if lines else ""

    def guard(self, action: Callable[[], object]) -> Callable[[Any], None]:
        """The action as a callback of a widget, its failure said here in words."""

        def run(_: Any) -> None:
            try:
                action()
            except (KitError, OSError) as error:
                self.say(*str(error).splitlines(), alert=True)
            except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
                self.say(f"That failed: {type(error).__name__}: {error}. Everything else works on.", alert=True)

        return run


def lay_bar(*children: Any) -> Any:
    """Controls in a row that breaks where the window is narrow."""
    row = widgets.HBox(list(children))
    row.add_class("sk-bar")
    return row


def lay_pane(content: Any, name: str) -> Any:
    """Content that scrolls by itself where it is wider than the window, under a class of its own."""
    box = widgets.VBox([content])
    box.add_class("sk-scroll")
    box.add_class(name)
    return box


def lay_words(tag: str, text: str) -> Any:
    """A heading or a paragraph of plain text."""
    return widgets.HTML(f"<{tag}>{escape(text)}</{tag}>")


def make_button(label: str, tip: str, action: Callable[[Any], None]) -> Any:
    """A button with its tip."""
    button = widgets.Button(description=label, tooltip=tip)
    button.on_click(action)
    return button
