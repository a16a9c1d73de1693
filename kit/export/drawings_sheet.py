"""Sheet "Drawings": front elevation, side section and plan as pictures, one below the other."""

import io
import struct

from kit.draw.front import draw_front
from kit.draw.plan import draw_plan
from kit.draw.png import on_paper, render_png
from kit.draw.section import draw_section
from kit.estimate import Estimate
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW

__all__ = ["NAME", "write_drawings_sheet"]

NAME = "Drawings"
_COLUMNS = (Column("Front elevation, side section, plan of the counter", 110),)
_GUIDE = "To scale; sizes in inches. What needs attention is marked and named; measure on site before you cut."
_WIDE = 780
_ROW_POINTS = 15.0
_PIXELS_A_POINT = 96.0 / 72.0


def write_drawings_sheet(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet with three pictures, each as wide as the page."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    row = FIRST_ROW
    for name, draw in (("Front elevation", draw_front), ("Side section", draw_section), ("Plan of the counter", draw_plan)):
        picture = render_png(on_paper(draw(estimate)), zoom=1.5)
        wide, tall = struct.unpack(">II", picture[16:24])  # a PNG's head holds its size
        scale = _WIDE / wide
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
        row += int(tall * scale / _PIXELS_A_POINT / _ROW_POINTS) + 3
