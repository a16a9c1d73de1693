"""Sheet "Cut plan": which pieces come out of which stick or sheet; written when there is a plan."""

from collections import Counter

from kit.estimate import Estimate
from kit.export.lists_used import sold_as
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW
from kit.records import PackedPart
from kit.units import format_length

__all__ = ["NAME", "write_cut_plan"]

NAME = "Cut plan"
_COLUMNS = (Column("What", 34), Column("Stock", 26), Column("Length", 12), Column("Width", 12), Column("Pieces", 74), Column("Left over", 24))
_GUIDE = "Measure each piece on site before you cut. One row for each stick or sheet; the packs of the sheet Purchases are counted from here."


def write_cut_plan(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet, one row for each stick or sheet; nothing when no purchase was planned."""
    planned = [(purchase, part) for purchase in estimate.purchases for part in purchase.plan]
    if not planned:
        return
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    for row, (purchase, part) in enumerate(planned, FIRST_ROW):
        name, sizes = estimate.lists.item(purchase.item).name, (format_length(size) if size > 0.0 else "" for size in (part.length_in, part.width_in))
        for column, text in enumerate((name, sold_as(estimate, purchase), *sizes, _pieces(part), part.left_over)):
            page.text(row, column, text, "words")


def _pieces(part: PackedPart) -> str:
    """The pieces of one stick or sheet, those alike counted together, with their sizes where the plan tells them."""
    named = part.pieces
    if part.placed:
        sizes = ([format_length(size) for size in (piece.length_in, piece.width_in) if size > 0.0] for piece in part.placed)
        named = tuple(f"{' x '.join(size)} {piece.name}" for size, piece in zip(sizes, part.placed, strict=True))
    return "; ".join(f"{count} of {name}" for name, count in Counter(named).items())
