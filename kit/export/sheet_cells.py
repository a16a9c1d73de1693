"""One sheet of the workbook: its cells, its look, its column heads, and how text, figures, formulas and inputs are written.

Black-and-white safe: nothing is shown by color alone. An input is boxed and its figure starts with the sign ›.
Text is always written as text; where it begins like a formula the cell is marked so that it stays text when edited.
"""

import datetime as dt
import math
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import accumulate
from typing import TYPE_CHECKING, Any, Literal

from kit.errors import Fault, PriceError

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

__all__ = ["FIRST_ROW", "INPUT_GUIDE", "LINE_HEIGHT", "PIXELS_A_POINT", "Book", "Column", "Page", "Place", "Style", "add_up", "leave_unprinted"]
__all__ += ["look_of_count", "print_set_up", "start_page"]

Style = Literal[
    "text",
    "one line",
    "words",
    "quantity",
    "whole",
    "hours",
    "kept hours",
    "exact hours",
    "money",
    "amount",
    "price",
    "factor",
    "times",
    "share",
    "tenths",
    "waste",
    "chance",
    "check",
    "date",
    "listed day",
    "title",
    "head",
    "guide",
]

FIRST_ROW = 4
"""Row of the first figures of a sheet, counted from 0; title, guide, a blank and the column heads stand above."""
INPUT_GUIDE = "Boxed figures marked › are inputs: change them and the price follows."
_LONGEST_CELL = 32767  # signs that a cell of the format holds (ECMA-376 readers keep to it)
LINE_HEIGHT = 12.75
"""Of a line of text [pt]: whole pixels, so that bars of a chart stand in their rows."""
PIXELS_A_POINT = 96.0 / 72.0
_SIGNS_IN_WIDTH = 1.05  # usual text is a little narrower than the figures that a column's width counts; the indent takes one
_TITLE_HEIGHT = 19.0
_US_LETTER = 1
_PRINTED_WIDTH = 115.0  # of the columns that upright paper holds in letters of 7 pt [signs]
_FAR = 5000  # row and column where nothing stands
_BAR_GRAY = "#595959"
_SIGN_PIXELS = 7  # of a sign in the width of a column
_LOOKS: dict[Style, dict[str, Any]] = {
    "text": {"align": "left", "indent": 1},
    "one line": {"align": "left", "indent": 1, "shrink": True},
    "words": {"align": "left", "indent": 1, "text_wrap": True},
    "quantity": {"num_format": "#,##0.00"},
    "whole": {"num_format": "0"},
    "hours": {"num_format": '#,##0.0#" h"'},
    "kept hours": {"num_format": '#,##0.0000" h"'},
    "exact hours": {"num_format": '#,##0.000000" h"'},  # where others are worked out from them before the reader's eyes
    "money": {"num_format": "$#,##0.00"},
    "amount": {"num_format": "#,##0.00"},  # of money for the books, which take no sign before it
    "price": {"num_format": "$#,##0.00##"},  # of one pack or unit; may have parts of a cent
    "factor": {"num_format": "#,##0.00####"},
    "times": {"num_format": '[=1]"–";0.00####', "align": "right"},
    "share": {"num_format": "0.0#%"},
    "tenths": {"num_format": "0.0%"},  # of a result that is told so everywhere
    "waste": {"num_format": '0.0#%;-0.0#%;"–"', "align": "right"},
    "chance": {"num_format": "0%"},
    "check": {"num_format": '"yes";;"NO"', "align": "right"},
    "date": {"num_format": "[$-409]ddd, mmm d, yyyy", "align": "left", "indent": 1},
    "listed day": {"num_format": "yyyy-mm-dd", "align": "left", "indent": 1},  # for the books
    "title": {"bold": True, "font_size": 14},
    "head": {"bold": True, "text_wrap": True, "bottom": 2, "bg_color": "#E4E4E4", "valign": "bottom", "align": "left", "indent": 1},
    "guide": {"italic": True, "text_wrap": True},
}
_UNPROTECTED_ACTIONS = {"format_columns": True, "format_rows": True, "autofilter": True, "sort": True}


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A cell: its sheet, and row and column counted from 0."""

    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        """The cell within its sheet, such as `I7`."""
        from xlsxwriter.utility import xl_rowcol_to_cell

        return str(xl_rowcol_to_cell(self.row, self.column))

    def seen_from(self, sheet: str) -> str:
        """The cell as a formula on a sheet names it: `I7` at home, `Purchases!I7` elsewhere."""
        from xlsxwriter.utility import quote_sheetname

        return self.cell if sheet == self.sheet else f"{quote_sheetname(self.sheet)}!{self.cell}"


def add_up(places: Iterable[Place], sheet: str) -> str:
    """The sum of cells as a formula on `sheet` writes it, neighbors below each other joined to a range; of none, `0`.

    Examples
    --------
    >>> add_up([Place("Purchases", 4, 9), Place("Purchases", 5, 9), Place("Purchases", 8, 9)], "Build-up")
    'SUM(Purchases!J5:J6,Purchases!J9)'
    """
    runs: list[list[Place]] = []
    for place in sorted(places):
        if runs and (place.sheet, place.row - 1, place.column) == (runs[-1][-1].sheet, runs[-1][-1].row, runs[-1][-1].column):
            runs[-1].append(place)
        else:
            runs.append([place])
    if not runs:
        return "0"
    if len(runs) == 1 and len(runs[0]) == 1:
        return runs[0][0].seen_from(sheet)
    return f"SUM({','.join(_range(run, sheet) for run in runs)})"


def _range(run: Sequence[Place], sheet: str) -> str:
    first = run[0].seen_from(sheet)
    return first if len(run) == 1 else f"{first}:{run[-1].cell}"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, and its width in signs; figures have their head at the right."""

    head: str
    width: float
    figures: bool = False


@dataclass(slots=True)
class Book:
    """The workbook that is being written: where its figures stand, and the looks in use."""

    workbook: "Workbook"
    places: Mapping[str, Place]
    footer: str
    looks: dict[tuple[Any, ...], "Format"] = field(default_factory=dict)

    def look(self, style: Style, *, bold: bool = False, quoted: bool = False, entered: bool = False, topped: bool = False, right: bool = False) -> "Format":
        """The look of a cell, made once."""
        key = (style, bold, quoted, entered, topped, right)
        if key not in self.looks:
            look = {"valign": "top", **_LOOKS[style]}
            if bold:
                look["bold"] = True
            if quoted:
                look["quote_prefix"] = True
            if topped:
                look["top"] = 1
            if right:
                look |= {"align": "right", "indent": 0}
            if entered:
                look |= {"border": 2, "locked": False, "num_format": f'"› "{look["num_format"]}_)'}
            self.looks[key] = self.workbook.add_format(look)
        return self.looks[key]


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet that is being written; rows and columns count from 0."""

    book: Book
    name: str
    sheet: "Worksheet"
    widths: tuple[float, ...] = ()
    heights: dict[int, int] = field(default_factory=dict)

    def text(
        self, row: int, column: int, text: str, style: Style = "text", *, bold: bool = False, topped: bool = False, right: bool = False, last: int = 0
    ) -> None:
        """Text, whatever it begins with; the format has no carriage return and no non-characters, and holds so many signs in a cell."""
        shown = text.replace("\r\n", "\n").replace("\r", "\n").replace("\ufffe", "").replace("\uffff", "")[:_LONGEST_CELL]
        quoted = shown.lstrip().startswith(("=", "+", "-", "@"))
        if style in {"words", "head", "guide"}:
            self._make_room(row, column, last or column, shown)
        self.sheet.write_string(row, column, shown, self.book.look(style, bold=bold, quoted=quoted, topped=topped, right=right))

    def across(self, row: int, column: int, last: int, text: str, style: Style = "words", *, bold: bool = False) -> None:
        """Text that wraps over several columns, which become one cell."""
        if last > column:
            self.sheet.merge_range(row, column, row, last, "", self.book.look(style, bold=bold))
        self.text(row, column, text, style, bold=bold, last=last)

    def _make_room(self, row: int, column: int, last: int, text: str) -> None:
        """Make the row as high as its longest wrapped text asks for, since not every program does so when it opens the file."""
        width = int(sum(self.widths[column : last + 1]) * _SIGNS_IN_WIDTH)
        lines = len(textwrap.wrap(text, max(1, width))) if 0 < width < len(text.expandtabs()) else 1
        if lines > self.heights.get(row, 1):
            self.heights[row] = lines
            self.sheet.set_row(row, lines * LINE_HEIGHT)

    def bars(self, title: str, figures: Place, count: int, at: int, last: int) -> None:
        """A native bar chart of `count` figures below each other, each bar in the row of its figure, in the columns `at` to `last`; names in the first."""
        chart: Any = self.book.workbook.add_chart({"type": "bar"})
        names, values = ([self.name, figures.row, column, figures.row + count - 1, column] for column in (0, figures.column))
        chart.add_series({"name": title, "categories": names, "values": values, "fill": {"color": _BAR_GRAY}, "gap": 40})
        chart.set_title({"none": True})
        chart.set_legend({"none": True})
        chart.set_y_axis({"reverse": True, "visible": False})
        chart.set_x_axis({"visible": False, "major_gridlines": {"visible": False}, "min": 0})
        chart.set_plotarea({"layout": {"x": 0.0, "y": 0.0, "width": 1.0, "height": 1.0}})
        chart.set_chartarea({"border": {"none": True}, "fill": {"none": True}})
        chart.set_size({"width": _SIGN_PIXELS * sum(self.widths[at : last + 1]), "height": LINE_HEIGHT * PIXELS_A_POINT * count})
        about = {"description": f"{title}: the figures stand beside it", "object_position": 2}
        self.sheet.insert_chart(Place(self.name, figures.row, at).cell, chart, about)

    def rule(self, row: int, columns: int) -> None:
        """A thin line above a row of totals."""
        for column in range(columns):
            self.sheet.write_blank(row, column, None, self.book.look("text", topped=True))

    def number(self, row: int, column: int, value: float | Decimal, style: Style) -> None:
        """A plain figure."""
        self.sheet.write_number(row, column, _finite(value), self.book.look(style))

    def date(self, row: int, column: int, day: dt.date, style: Style = "date") -> None:
        """A date."""
        self.sheet.write_datetime(row, column, dt.datetime.combine(day, dt.time()), self.book.look(style))

    def formula(self, row: int, column: int, formula: str, value: float | Decimal, style: Style, *, bold: bool = False, topped: bool = False) -> None:
        """A formula together with its value as the kit computed it."""
        self.sheet.write_formula(row, column, f"={formula}", self.book.look(style, bold=bold, topped=topped), _finite(value))

    def enter(self, row: int, column: int, value: float | Decimal, style: Style, *, most: int | None = None, guide: str = "") -> None:
        """An input: boxed, marked, open for change, refusing what is below 0 or above `most`."""
        self.sheet.write_number(row, column, _finite(value), self.book.look(style, entered=True))
        limits = {"criteria": ">=", "value": 0} if most is None else {"criteria": "between", "minimum": 0, "maximum": most}
        allowed = "a number of 0 or more" if most is None else f"a share from 0% to {most * 100}%"
        rule = {"validate": "decimal", "error_title": "Not taken", "error_message": f"Allowed here: {allowed}.", **limits}
        if guide:
            rule["input_message"] = guide
        self.sheet.data_validation(row, column, row, column, rule)


def _finite(value: float | Decimal) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise PriceError(Fault("workbook", f"{value} is not a number that a sheet can hold."))
    return number


def look_of_count(quantity: float, unit: str) -> Style:
    """Whole pieces without decimals: 2 valves, not 2.00."""
    return "whole" if unit == "each" and float(quantity).is_integer() else "quantity"


def start_page(book: Book, name: str, title: str, columns: Sequence[Column], guide: str, *, keep_columns: int = 0) -> Page:
    """A new sheet with title, guide, column heads, print set-up; locked but for its inputs, without a password."""
    page = Page(book, name, book.workbook.add_worksheet(name), tuple(column.width for column in columns))
    page.text(0, 0, title, "title")
    page.sheet.set_row(0, _TITLE_HEIGHT)
    widths = list(accumulate(page.widths))
    page.across(1, 0, max(0, sum(width <= _PRINTED_WIDTH for width in widths) - 1), guide, "guide")
    page.sheet.set_default_row(LINE_HEIGHT)
    headed = any(column.head for column in columns)
    for number, column in enumerate(columns):
        page.sheet.set_column(number, number, column.width)
        if headed:
            page.text(FIRST_ROW - 1, number, column.head, "head", right=column.figures)
    if headed:
        page.sheet.freeze_panes(FIRST_ROW, keep_columns)
        page.sheet.repeat_rows(FIRST_ROW - 1)
    print_set_up(page)
    page.sheet.protect("", _UNPROTECTED_ACTIONS)
    return page


def leave_unprinted(page: Page) -> None:
    """Nothing of the sheet comes onto paper with the others: its print area is a cell that stays empty. Whoever wants it sets another."""
    page.sheet.print_area(_FAR, _FAR, _FAR, _FAR)


def print_set_up(page: Page) -> None:
    """Upright letter paper, as wide as the paper, job and page number below; columns of 115 signs in all keep letters of 7 pt."""
    page.sheet.set_portrait()
    page.sheet.set_paper(_US_LETTER)
    page.sheet.fit_to_pages(1, 0)
    page.sheet.set_margins(left=0.4, right=0.4, top=0.4, bottom=0.55)
    page.sheet.set_footer(f"&L{page.book.footer}&C&A&RPage &P of &N")
