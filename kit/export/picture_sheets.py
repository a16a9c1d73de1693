"""Sheets "Charts" and "Drawings": price and hours as native charts that follow the inputs; the pictures of the job."""

import io
import struct
from collections.abc import Sequence
from typing import Any

from kit.draw.drawings import PICTURE_NAMES, list_pictures, on_paper, render_png
from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, Place, start_page
from kit.records import BuildUp, Task

__all__ = ["DRAWINGS", "NAME", "price_parts", "write_charts", "write_drawings"]

NAME = "Charts"
DRAWINGS = "Drawings"
_COLUMNS = (
    Column("Part of the price", 32),
    Column("Amount", 13, figures=True),
    Column("", 3),
    Column("Step", 46),
    Column("Own hours", 10, figures=True),
    Column("", 3),
    Column("", 90),
)
_PART, _AMOUNT, _STEP, _HOURS, _CHART = 0, 1, 3, 4, 6
_GUIDE = "The tables follow the sheets Build-up and Labor, the charts follow the tables."
# what the price is the sum of, in the order of the build-up
_PARTS = ("material", "hired", "fees", "other", "tax-paid", "labor", "handling", "contingency", "warranty", "overhead", "profit", "tax-collected")
_WIDE_PX, _BAR_PX, _FRAME_PX, _ROW_PX = 640, 26, 110, 20
_GRAY = "#595959"
_DRAWN_COLUMNS = (Column("What to set out, front elevation, side section, plan of the countertop, frame", 114),)
_DRAWN_GUIDE = "To scale; sizes in inches. Numbered flags are findings, see the sheet of findings; measure on site before you cut."
_WIDE, _TALL = 780, 560  # of a picture, at most [px]; as printed both fit upright letter paper with heads and margins
_PRINTED_SHARE = 74  # of the size on screen [%]
_ROW_POINTS = 15.0
_PIXELS_A_POINT = 96.0 / 72.0
_ROWS_A_PAGE = 62  # of that height, printed at that share below the repeated head


def price_parts(estimate: Estimate) -> list[BuildUp]:
    """The rows of the build-up that together are the price, those that are nothing left out."""
    rows = {row.id: row for row in estimate.build_up}
    return [rows[name] for name in _PARTS if name in rows and rows[name].amount]


def write_charts(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet: two tables of live figures, a bar chart beside each."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    parts, tasks = price_parts(estimate), [task for task in estimate.tasks if task.hours_likely]
    _write_parts(page, parts)
    _write_hours(page, estimate, tasks)
    page.sheet.fit_to_pages(1, 1)
    tall = _draw(page, "What the price is made of", (_PART, _AMOUNT), len(parts), FIRST_ROW - 1)
    _draw(page, "Own hours by step", (_STEP, _HOURS), len(tasks), FIRST_ROW + tall // _ROW_PX + 1)


def _write_parts(page: Page, parts: Sequence[BuildUp]) -> None:
    for number, row in enumerate(parts, FIRST_ROW):
        page.text(number, _PART, row.label, "words")
        page.formula(number, _AMOUNT, page.book.places[f"row:{row.id}"].seen_from(NAME), row.amount, "money")


def _write_hours(page: Page, estimate: Estimate, tasks: Sequence[Task]) -> None:
    for number, task in enumerate(tasks, FIRST_ROW):
        page.text(number, _STEP, estimate.lists.steps[task.step].name, "words")
        page.formula(number, _HOURS, page.book.places[f"hours:{task.step}"].seen_from(NAME), task.hours_likely, "quantity")


def _draw(page: Page, title: str, columns: tuple[int, int], count: int, row: int) -> int:
    """A bar chart of a table, first row on top; gives its height [px]. A table without rows has none."""
    if not count:
        return 0
    names, values = ([NAME, FIRST_ROW, column, FIRST_ROW + count - 1, column] for column in columns)
    chart: Any = page.book.workbook.add_chart({"type": "bar"})
    chart.add_series(
        {
            "name": title,
            "categories": names,
            "values": values,
            "fill": {"color": _GRAY},
            "gap": 40,
            "data_labels": {"value": True, "num_format": "#,##0.00", "font": {"size": 9}},
        }
    )
    chart.set_title({"name": title, "name_font": {"size": 12}, "overlay": False})
    chart.set_legend({"none": True})
    chart.set_y_axis({"reverse": True, "num_font": {"size": 9}, "line": {"color": _GRAY}})
    chart.set_x_axis({"visible": False, "major_gridlines": {"visible": False}})
    tall = _FRAME_PX + _BAR_PX * count
    chart.set_size({"width": _WIDE_PX, "height": tall})
    place = Place(NAME, row, _CHART)
    page.sheet.insert_chart(place.cell, chart, {"description": f"{title}: the figures stand in the table on this sheet", "object_position": 2})
    return tall


def write_drawings(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet with its pictures, as many on a printed page as it holds."""
    page = start_page(book, DRAWINGS, title, _DRAWN_COLUMNS, _DRAWN_GUIDE)
    row, top, breaks = FIRST_ROW, FIRST_ROW, []
    for key, drawing in list_pictures(estimate):
        name, picture = PICTURE_NAMES[key], render_png(on_paper(drawing), zoom=1.5)
        wide, tall = struct.unpack(">II", picture[16:24])  # a PNG's head holds its size
        scale = min(_WIDE / wide, _TALL / tall)
        rows = int(tall * scale / _PIXELS_A_POINT / _ROW_POINTS) + 1
        if row + rows - top > _ROWS_A_PAGE:
            top = row
            breaks.append(row)
        page.sheet.insert_image(
            row,
            0,
            f"{name}.png",
            {
                "image_data": io.BytesIO(picture),
                "x_scale": scale,
                "y_scale": scale,
                "description": f"{name}, job {estimate.job.identity.job_number}",
                "object_position": 2,
            },
        )
        row += rows + 2
    page.sheet.set_portrait()
    page.sheet.set_print_scale(_PRINTED_SHARE)  # in place of a fit to the paper, under which page breaks don't hold
    page.sheet.set_h_pagebreaks(breaks)
    page.sheet.print_area(0, 0, row, 0)
