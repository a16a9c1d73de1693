"""A report on a terminal or in a text file: titles, tables, notes; the same text for the same content.

The terminal library is imported where a page is made: a command that answers in JSON does not load it.
"""

import shutil
import sys
from collections.abc import Iterable, Sequence
from io import StringIO

__all__ = ["Page", "days_text", "hours_text", "printable", "share_text"]

FILE_WIDTH, NARROWEST, WIDEST = 120, 60, 140


class Page:
    """Collects a report and gives it as text; as wide as the terminal, or a fixed width into a file."""

    def __init__(self, width: int | None = None) -> None:
        """Start an empty page, `width` characters wide."""
        from rich.console import Console

        self._out = StringIO()
        self._console = Console(file=self._out, width=width or _width(), color_system=None, force_terminal=False, highlight=False, markup=False, emoji=False)

    def title(self, *lines: str) -> None:
        """What the report is about, the first line underlined."""
        for number, line in enumerate(lines):
            self._print(line)
            if number == 0:
                self._print("=" * min(len(line), self._console.width))

    def note(self, sentence: str) -> None:
        """A sentence after an empty line."""
        self._print("")
        self._print(sentence)

    def table(self, name: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """A named table; a column whose name begins with ">" stands to the right. Without rows nothing is printed."""
        from rich import box
        from rich.table import Table
        from rich.text import Text

        rows = list(rows)
        if not rows:
            return
        table = Table(box=box.ASCII2, show_edge=False, pad_edge=False, show_lines=False)
        for column in columns:
            right = column.startswith(">")
            table.add_column(Text(column.removeprefix(">")), justify="right" if right else "left", no_wrap=right, overflow="fold")
        for row in rows:
            table.add_row(*(Text(printable(cell)) for cell in row))
        self.note(name)
        self._print("-" * len(name))
        self._console.print(table)

    def text(self) -> str:
        """Everything so far, without blanks at the ends of lines."""
        return "\n".join(line.rstrip() for line in self._out.getvalue().splitlines()) + "\n"

    def _print(self, line: str) -> None:
        from rich.text import Text

        self._console.print(Text(printable(line)))


def _width() -> int:
    if not sys.stdout.isatty():
        return FILE_WIDTH
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size().columns))


def hours_text(hours: float) -> str:
    """Hours to a hundredth."""
    return f"{hours:.2f}"


def days_text(days: float) -> str:
    """Days to a tenth."""
    return f"{days:.1f}"


def share_text(share: float) -> str:
    """A share in percent to a tenth."""
    return f"{share * 100:.1f} %"


def printable(text: str) -> str:
    """Text that can't steer a terminal: on one line, control characters shown as their codes."""
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text)
