"""Sheet "Cut plan": which pieces come out of which stick or sheet; written when there is a plan."""

from kit.estimate import Estimate
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW
from kit.units import format_length

__all__ = ["NAME", "write_cut_plan"]

NAME = "Cut plan"
_COLUMNS = (Column("What", 34), Column("Stock", 30), Column("Length", 12), Column("Width", 12), Column("Pieces", 80), Column("Left over", 20))


def write_cut_plan(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet, one row for each stick or sheet; nothing when no purchase was planned."""
    planned = [(purchase, part) for purchase in estimate.purchases for part in purchase.plan]
    if not planned:
        return
    page = start_page(book, NAME, title, _COLUMNS, "Measure each piece on site before you cut. The packs of the sheet Purchases are counted from here.")
    for row, (purchase, part) in enumerate(planned, FIRST_ROW):
        width = format_length(part.width_in) if part.width_in > 0.0 else ""
        texts = (estimate.lists.item(purchase.item).name, part.stock, format_length(part.length_in), width, "; ".join(part.pieces), part.left_over)
        for column, text in enumerate(texts):
            page.text(row, column, text, "words")
