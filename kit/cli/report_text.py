"""A report on a terminal or in a text file: titles, tables, notes; the same text for the same content.

The terminal library is imported where a page is made: a command that answers in JSON does not load it.
"""

import os
import shutil
import sys
from collections.abc import Iterable, Sequence
from contextlib import AbstractContextManager, nullcontext
from io import StringIO
from pathlib import Path
from typing import Any

from kit.records import Level

__all__ = ["Page", "busy", "days_text", "hours_text", "printable", "share_text", "typed_path"]

FILE_WIDTH, NARROWEST, WIDEST = 120, 60, 140
_HEAD_LINE = "    \n    \n -- \n    \n    \n    \n    \n    \n"  # a table has a line below its head and nothing else
_BETWEEN, _NARROW = 3, 2  # blanks between two columns, where that fits and where it does not
_LONGEST_WORD = 24  # of a text; a longer one is broken
_UP_TO_LEVEL = 10  # of a line: the number of a finding and its level
_LOOKS = {Level.STOP: "bold red", Level.UNKNOWN: "magenta", Level.CAUTION: "yellow"}


class Page:
    """Collects a report and gives it as text; as wide as the terminal, or a fixed width into a file."""

    def __init__(self, width: int | None = None) -> None:
        """Start an empty page, `width` characters wide."""
        from rich.console import Console

        self._out = StringIO()
        colored = _takes_color()
        facts: dict[str, Any] = {"color_system": "standard" if colored else None, "force_terminal": colored, "legacy_windows": False}
        self._console = Console(file=self._out, width=width or _width(), highlight=False, markup=False, emoji=False, **facts)

    def title(self, *lines: str) -> None:
        """What the report is about, the first line underlined."""
        for number, line in enumerate(lines):
            self._print(line)
            if number == 0:
                self._print("=" * min(len(line), self._console.width))

    def line(self, text: str, level: Level = Level.OK) -> None:
        """A line as it stands; where the terminal has color, its first words show the level that they also say."""
        from rich.text import Text

        printed = Text(printable(text))
        if level in _LOOKS:
            printed.stylize(_LOOKS[level], 0, _UP_TO_LEVEL)
        self._console.print(printed)

    def note(self, sentence: str) -> None:
        """A sentence after an empty line."""
        self._print("")
        self._print(sentence)

    def table(self, name: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """A named table; a column whose name begins with ">" stands to the right, one with "=" is to be copied; neither's cells are broken or cut.

        Of other columns no word is broken, but a very long one. Where even that is too wide for the page, the table is wider than the page. Without rows
        nothing is printed.
        """
        from rich.box import Box
        from rich.table import Table
        from rich.text import Text

        rows = list(rows)
        if not rows:
            return
        columns_of_cells = list(zip(*rows, strict=True))
        headings = [column.removeprefix(">").removeprefix("=") for column in columns]
        widths, gap = self._share_width(
            [
                _column_widths(heading, cells, whole=column.startswith((">", "=")))
                for column, heading, cells in zip(columns, headings, columns_of_cells, strict=True)
            ]
        )
        table = Table(box=Box(_HEAD_LINE, ascii=True), show_edge=False, pad_edge=False, show_lines=False, padding=(0, 1, 0, gap - _NARROW))
        for column, heading, width in zip(columns, headings, widths, strict=True):
            table.add_column(Text(heading), justify="right" if column.startswith(">") else "left", min_width=width, max_width=width, overflow="fold")
        for row in rows:
            table.add_row(*(Text(printable(cell)) for cell in row))
        self.note(name)
        self._print("-" * len(name))
        self._console.print(table, width=sum(widths) + gap * len(widths), crop=False)

    def _share_width(self, sizes: Sequence[tuple[int, int]]) -> tuple[list[int], int]:
        """The width of each column by the least and the most that it can use, and the blanks between two: what the page has, and never less than the least."""
        widths = [least for least, _ in sizes]
        gap = _BETWEEN if sum(widths) + _BETWEEN * (len(widths) - 1) <= self._console.width else _NARROW
        for _ in range(self._console.width - sum(widths) - gap * (len(widths) - 1)):
            lacking = [column for column, (_, most) in enumerate(sizes) if widths[column] < most]
            if not lacking:
                break
            widths[min(lacking, key=widths.__getitem__)] += 1  # the narrow ones whole first
        return widths, gap

    def text(self) -> str:
        """Everything so far, without blanks at the ends of lines."""
        return "\n".join(line.rstrip() for line in self._out.getvalue().splitlines()) + "\n"

    def _print(self, line: str) -> None:
        from rich.text import Text

        self._console.print(Text(printable(line)))


def _column_widths(heading: str, cells: Sequence[str], *, whole: bool) -> tuple[int, int]:
    """The least and the most width that a column can use: no figure and no word is broken, but a very long one."""
    words = [*heading.split(), *(cells if whole else (word[:_LONGEST_WORD] for cell in cells for word in cell.split()))]
    return max(map(len, words), default=1), max(map(len, (heading, *cells)))


def busy() -> AbstractContextManager[object]:
    """A sign of life on the terminal while something is worked out; nothing where nobody looks on."""
    if not sys.stderr.isatty():
        return nullcontext()
    from rich.console import Console

    return Console(stderr=True).status("Working it out ...")


def _takes_color() -> bool:
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


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
    return f"{share * 100:.1f}%"


def printable(text: str) -> str:
    """Text that can't steer a terminal: on one line, control characters shown as their codes."""
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text)


def typed_path(path: Path) -> str:
    """A path as it is typed after a command: in quotes where it has a blank."""
    return f'"{path}"' if " " in str(path) else str(path)
