"""Sheet "Drawings": the pictures of the job."""

import io
import struct

from kit.draw.drawings import PICTURE_NAMES, list_pictures, on_paper, render_pngs
from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, LINE_HEIGHT, PIXELS_A_POINT, Book, Column, start_page

__all__ = ["NAME", "write_drawings"]

NAME = "Drawings"
_WIDTH = 127
_GUIDE = (
    "To scale; sizes in inches. Numbered flags are findings, see the sheet of findings; measure on site before you cut. "
    "Below, for the screen: what to set out, as the crew sheet prints it"
)
_BELOW_HEAD = 3  # picture points between a picture and the line above it, which it would cover in part
_ON_SCREEN = ("set-out", "frame-apart")  # beginnings of the names of pictures that stand below what is printed
_ZOOM, _SHOWN = 1.5, 0.8  # picture points for each unit of a drawing, and the share of them that is shown
_PRINTED_SHARE = 71  # of the size on screen [%]: letters of 11 units are 7 pt high on paper, and two usual pictures fit a page
_ROWS_A_PAGE = 74  # of the height of a line, printed at that share below title, guide and head


def write_drawings(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet with its pictures, as many on a printed page as it holds."""
    drawn = sorted(list_pictures(estimate), key=lambda named: named[0].startswith(_ON_SCREEN))
    names = [PICTURE_NAMES[key].lower() for key, _ in drawn if not key.startswith(_ON_SCREEN)]
    apart = ", and the frame taken apart" if any(key == "frame-apart" for key, _ in drawn) else ""
    page = start_page(book, NAME, title, (Column(", ".join(names).capitalize(), _WIDTH),), f"{_GUIDE}{apart}.")
    row, top, breaks, printed = FIRST_ROW, FIRST_ROW, [], FIRST_ROW
    pictures = render_pngs([on_paper(drawing) for _, drawing in drawn], zoom=_ZOOM)
    for (key, _), picture in zip(drawn, pictures, strict=True):
        name = PICTURE_NAMES[key]
        (tall,) = struct.unpack(">I", picture[20:24])  # a PNG's head holds its size
        rows = int(tall * _SHOWN / PIXELS_A_POINT / LINE_HEIGHT) + 1
        if row + rows - top > _ROWS_A_PAGE:
            top = row
            breaks.append(row)
        page.sheet.insert_image(
            row,
            0,
            f"{name}.png",
            {
                "image_data": io.BytesIO(picture),
                "x_scale": _SHOWN,
                "y_scale": _SHOWN,
                "y_offset": _BELOW_HEAD,
                "description": f"{name}, job {estimate.job.identity.job_number}",
                "object_position": 2,
            },
        )
        row += rows + 1
        printed = printed if key.startswith(_ON_SCREEN) else row
    page.sheet.set_print_scale(_PRINTED_SHARE)  # in place of a fit to the paper, under which page breaks don't hold
    page.sheet.set_h_pagebreaks([cut for cut in breaks if cut < printed])
    page.sheet.print_area(0, 0, printed - 1, 0)
