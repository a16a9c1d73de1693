"""What every screen is made of: a note, a progress bar, rows and panes, buttons, downloads, uploads, lists to choose from."""

import gc
import re
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from html import escape
from pathlib import Path
from threading import RLock, local
from typing import Any, Literal, NamedTuple

import anywidget
import ipywidgets as widgets
import traitlets

from kit.draw.style import STYLE
from kit.draw.widths import BOTH, OnShow
from kit.errors import KitError
from kit.panels.connection import Connection
from kit.panels.faults import explain_failure, say_fault

__all__ = [
    "CSV",
    "JSON",
    "PDF",
    "XLSX",
    "DownloadFile",
    "Layouts",
    "Note",
    "PageTools",
    "Screen",
    "Updating",
    "Upload",
    "Working",
    "close_widgets",
    "fill_choices",
    "hold_fractions",
    "lay_actions",
    "lay_bar",
    "lay_box",
    "lay_words",
    "make_button",
    "make_download",
    "send_first",
    "show_html",
]

SEND_S = 0.001
_DRAWING_OR_GAP = re.compile(r"<svg.*?</svg>|(?<=\d) (?=\d+/\d)|(?<=/\d) (?=in\b)|(?<=/\d\d) (?=in\b)", re.DOTALL)
"""A drawing, or what stands between a whole number and its fraction, or before its unit."""

CSV, JSON, PDF = "text/csv;charset=utf-8", "application/json", "application/pdf"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


class DownloadFile(NamedTuple):
    """A file for the browser."""

    name: str
    mime: str
    content: bytes


class Note:
    """A line that says what was done; a failure is said as an alert, and the rest of the screen works on."""

    def __init__(self) -> None:
        self.box = widgets.HTML()
        self.box.add_class("sk-note")

    def say(self, *sentences: str, alert: bool = False) -> None:
        """Say sentences, each on a line of its own; none clears the note."""
        lines = "<br>".join(escape(sentence) for sentence in sentences if sentence)
        self.box.value = hold_fractions(f"<p role='{'alert' if alert else 'status'}'>{lines}</p>") if lines else ""

    def guard(self, action: Callable[[], object]) -> Callable[[Any], None]:
        """The action as a callback of a widget, its failure said here in words."""

        def run(_: Any) -> None:
            try:
                action()
            except KitError as error:
                self.say(*(say_fault(fault) for fault in error.faults), alert=True)
            except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
                self.say(f"That did not work: {explain_failure(error)}", alert=True)

        return run


class Working:
    """A progress bar that is there while something runs, and the lock that lets only one thing run."""

    def __init__(self) -> None:
        self.box = widgets.IntProgress(description="Working", layout={"display": "none"})
        self.lock = RLock()
        self._depth = 0

    @contextmanager
    def steps(self, count: int) -> Iterator[None]:
        """Show the bar for so many steps; inside another run its steps are added to those."""
        with self.lock:
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


class Updating(local):
    """True while the screen itself sets its widgets, inside `with updating:`; their callbacks then do nothing.

    Each thread has its own: what a person does while another thread shows something is heard all the same.
    """

    def __init__(self) -> None:
        self._depth = 0

    def __bool__(self) -> bool:
        return self._depth > 0

    def __enter__(self) -> None:
        self._depth += 1

    def __exit__(self, *_: object) -> None:
        self._depth -= 1


class Layouts:
    """The layouts that the pages of a screen have shown; only these are drawn."""

    def __init__(self) -> None:
        self._seen: OnShow = frozenset()

    @property
    def on_show(self) -> OnShow:
        """Both while no page has said its own, as where a notebook is run without one."""
        return self._seen or BOTH

    def see(self, *, narrow: bool) -> bool:
        """A page says which layout it shows; gives whether that one is still to be drawn."""
        waits = narrow not in self.on_show
        self._seen |= {narrow}
        return waits


class PageTools(anywidget.AnyWidget):
    """What the widget library leaves open: names of sliders, keys, "why?" buttons, and a download button (none without a label).

    It minds the screen around it, an element of the class `sk-screen`.

    Parameters
    ----------
    make_file
        Gives the file when the button is pressed; None when there is none.
    asked
        Called with what a "why?" button is about.
    pressed
        Called with a key: F2, or a digit outside a text field.
    seen
        Called with whether a page shows the layout for a telephone, when it opens and when that changes.
    """

    _esm = (Path(__file__).parent / "page_tools.js").read_text(encoding="utf-8")
    label = traitlets.Unicode("").tag(sync=True)
    tip = traitlets.Unicode("").tag(sync=True)

    def __init__(
        self,
        *,
        label: str = "",
        tip: str = "",
        make_file: Callable[[], DownloadFile | None] | None = None,
        asked: Callable[[str], None] | None = None,
        pressed: Callable[[str], None] | None = None,
        seen: Callable[[bool], None] | None = None,
    ) -> None:
        super().__init__(label=label, tip=tip)
        self._make_file, self._asked, self._pressed, self._seen = make_file, asked, pressed, seen
        self.on_msg(self._receive)

    def _receive(self, _: Any, message: Any, __: Any) -> None:
        kind = message.get("type") if isinstance(message, dict) else None
        if kind == "download" and self._make_file is not None:
            file = self._make_file()
            if file is not None:
                self.send({"type": "file", "name": file.name, "mime": file.mime}, [file.content])
        elif kind == "why" and self._asked is not None:
            self._asked(str(message.get("about", "")))
        elif kind == "key" and self._pressed is not None:
            self._pressed(str(message.get("key", "")))
        elif kind == "layout" and self._seen is not None:
            self._seen(message.get("narrow") is True)


class Upload:
    """An upload button in a box of its own, which `renew` replaces: a button that was given too large a file never works again.

    Parameters
    ----------
    label
        What stands on it.
    receive
        Called with the content of each file by its name.
    note
        Where a failure is said.
    multiple
        Whether several files may come at once.
    """

    def __init__(self, label: str, receive: Callable[[Mapping[str, bytes]], object], note: Note, *, multiple: bool = False) -> None:
        self._label, self._receive, self._note, self._multiple = label, receive, note, multiple
        self.box = lay_bar()
        self.renew()

    def renew(self) -> None:
        """Put a new button in the place of the old one."""
        old = self.box.children
        button = widgets.FileUpload(accept=".csv,.xlsx", multiple=self._multiple, description=self._label, tooltip="CSV or XLSX, up to 5 MB")
        button.observe(self._note.guard(lambda: self._empty(button)), names="value")
        self.box.children = (button,)
        close_widgets(*old)

    def _empty(self, button: Any) -> None:
        """Hand its files on; the button is empty again, so that the same file can come once more."""
        files = {str(one["name"]): bytes(one["content"]) for one in button.value}
        if files:
            button.value = ()
            self._receive(files)


class Screen:
    """A screen with its note, its progress bar and its style; `lay_out` puts everything together, and a notebook shows it."""

    screen: Any

    def __init__(self) -> None:
        self.note, self.working, self.updating, self.layouts = Note(), Working(), Updating(), Layouts()
        self.connection = Connection()
        self.foot = lay_box("sk-foot", self.working.box)

    def lay_out(self, *rows: Any) -> None:
        """The rows below each other; what says that something runs lies over the foot of the window, so that nothing moves away from under a finger."""
        self.screen = lay_box("sk-screen", widgets.HTML(STYLE), self.connection, *rows, self.foot)

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]
        _set_aside()


def _set_aside() -> None:
    """What stands by now stays while the screen does: the collector of garbage looks no longer through it, or an answer in fifty would wait for that."""
    gc.unfreeze()
    gc.collect()
    gc.freeze()


def lay_actions(*children: Any) -> Any:
    """What can be done with what stands above, the primary button first: one row, or where the window is narrow one column; it never breaks in between."""
    group = widgets.Box(list(children))
    group.add_class("sk-actions")
    return group


def lay_bar(*children: Any) -> Any:
    """Controls in a row that breaks where the window is narrow."""
    row = widgets.HBox(list(children))
    row.add_class("sk-bar")
    return row


def lay_box(names: str, *children: Any) -> Any:
    """Widgets below each other, under classes of the style sheet; "sk-scroll" scrolls by itself where it is wider than the window."""
    box = widgets.VBox(list(children))
    for name in names.split():
        box.add_class(name)
    return box


def lay_words(tag: str, text: str) -> Any:
    """A heading or a paragraph of plain text."""
    return widgets.HTML(f"<{tag}>{escape(text)}</{tag}>")


def close_widgets(*tops: Any) -> None:
    """Close widgets with all that stands in them; page and program would keep the layout and the style of each, and with these what was drawn."""
    for top in tops:
        close_widgets(*getattr(top, "children", ()))
        for one in (top, getattr(top, "layout", None), getattr(top, "style", None)):
            if one is not None:
                one.close()


def make_button(label: str, tip: str, action: Callable[[Any], None], kind: Literal["", "primary", "quiet"] = "") -> Any:
    """A button with its tip: plain, the one that a group is for, or one of its quiet neighbors."""
    button = widgets.Button(description=label, tooltip=tip)
    button.on_click(action)
    if kind:
        button.add_class(f"sk-{kind}")
    return button


def make_download(
    label: str,
    tip: str,
    make: Callable[[], DownloadFile],
    note: Note,
    working: Working,
    *,
    asked: Callable[[str], None] | None = None,
    pressed: Callable[[str], None] | None = None,
) -> PageTools:
    """A button that makes a file and hands it to the browser; what fails is said in the note and gives none. The rest as in `PageTools`."""

    def run() -> DownloadFile | None:
        try:
            with working.steps(1):
                file = make()
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            note.say(f"No file: {explain_failure(error)}", alert=True)
            return None
        note.say(f"{file.name} is on its way to your downloads.")
        return file

    return PageTools(label=label, tip=tip, make_file=run, asked=asked, pressed=pressed)


def fill_choices(choice: Any, names: Sequence[str] | Sequence[tuple[str, str]], value: object = None) -> None:
    """Give a list new names, or words with the name they stand for; the value, else what was chosen, stays chosen if it is there, else the first is."""
    value = choice.value if value is None else value
    choice.options = names
    values = [name if isinstance(name, str) else name[1] for name in names]
    choice.value = value if value in values else next(iter(values), None)


def send_first() -> None:
    """Let what was just shown go out to the page: the thread that sends it would wait while this one goes on with what takes longer."""
    time.sleep(SEND_S)


def hold_fractions(html: str) -> str:
    """HTML in whose words no line ends within a measure such as 1 1/2; drawings lay out their own lines.

    Examples
    --------
    >>> hold_fractions("<td>at most 1 1/2 in</td>")
    '<td>at most 1&nbsp;1/2&nbsp;in</td>'
    """
    return _DRAWING_OR_GAP.sub(lambda match: "&nbsp;" if match[0] == " " else match[0], html)


def show_html(place: Any, what: str, make: Callable[[], str]) -> None:
    """Show HTML in its place; where it can't be made, a message in words stands there and the rest of the screen works on."""
    try:
        place.value = hold_fractions(make())
    except Exception as error:  # noqa: BLE001 - nothing else would show it
        place.value = f"<div class='sk-faults' role='alert'>{escape(what)} could not be shown: {escape(explain_failure(error))} The rest works on.</div>"
