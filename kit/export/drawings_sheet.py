"""Sheet "Drawings": front elevation, side section and plan as pictures, one below the other."""

import io
import struct

from kit.draw.drawings import on_paper, render_png
from kit.draw.front import draw_front
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.estimate import Estimate
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW

__all__ = ["NAME", "write_drawings_sheet"]

NAME = "Drawings"
_COLUMNS = (Column("Front elevation, side section, plan of the counter", 114),)
_GUIDE = "To scale; sizes in inches. What needs attention is marked and named; measure on site before you cut."
_WIDE, _TALL = 780, 1000  # of a picture, at most [px]; as printed both fit upright letter paper with heads and margins
_PRINTED_SHARE = 88  # of the size on screen [%]
_ROW_POINTS = 15.0
_PIXELS_A_POINT = 96.0 / 72.0


def write_drawings_sheet(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet with three pictures, each on a page of its own when it is printed."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    row, first_rows = FIRST_ROW, []
    for name, draw in (("Front elevation", draw_front), ("Side section", draw_section), ("Plan of the counter", draw_plan)):
        picture = render_png(on_paper(draw(estimate)), zoom=1.5)
        wide, tall = struct.unpack(">II", picture[16:24])  # a PNG's head holds its size
        scale = min(_WIDE / wide, _TALL / tall)
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
        first_rows.append(row)
        row += int(tall * scale / _PIXELS_A_POINT / _ROW_POINTS) + 3
    page.sheet.set_portrait()
    page.sheet.set_print_scale(_PRINTED_SHARE)  # in place of a fit to the paper, under which page breaks don't hold
    page.sheet.set_h_pagebreaks(first_rows[1:])
    page.sheet.print_area(0, 0, row, 0)
