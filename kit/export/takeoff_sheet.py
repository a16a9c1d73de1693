"""Sheets "Takeoff" and "Cut plan": every line with its working, quantity and waste; which pieces come out of which stick or sheet."""

from kit.estimating import Estimate
from kit.export.lists_used import counted_pieces, size_words, sold_as
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Place, start_page
from kit.records import Kind, Line
from kit.sources import source_title
from kit.takeoff.working import working_words
from kit.units import format_length

__all__ = ["CUT_PLAN", "NAME", "place_takeoff", "write_cut_plan", "write_takeoff"]

NAME = "Takeoff"
CUT_PLAN = "Cut plan"
_COLUMNS = (
    Column("Step", 36),
    Column("What", 54),
    Column("Kind", 6),
    Column("Net quantity", 12, figures=True),
    Column("Unit", 7),
    Column("Waste", 8, figures=True),
    Column("With waste", 11, figures=True),
    Column("Pieces", 34),
    Column("Source", 34),
    Column("Line", 38),
    Column("Working", 120),
)
_STEP, _WHAT, _KIND, _NET, _UNIT, _WASTE, _NEED, _PIECES, _SOURCE, _LINE, _WORKING = range(11)
_CUT_COLUMNS = (Column("What", 34), Column("Stock", 26), Column("Length", 12), Column("Width", 12), Column("Pieces", 74), Column("Left over", 24))
_CUT_GUIDE = "Measure each piece on site before you cut. One row for each stick or sheet; the packs of the sheet Purchases are counted from here."


def place_takeoff(estimate: Estimate) -> dict[str, Place]:
    """The cells of each line: `net:<line>` and, waste added, `need:<line>`."""
    places: dict[str, Place] = {}
    for row, line in enumerate(estimate.lines, FIRST_ROW):
        places[f"net:{line.id}"] = Place(NAME, row, _NET)
        places[f"need:{line.id}"] = Place(NAME, row, _NEED)
    return places


def write_takeoff(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, "Net quantities come from the job as measured. Pieces to cut carry no waste: the cut plan shows theirs.")
    for row, line in enumerate(estimate.lines, FIRST_ROW):
        page.text(row, _STEP, estimate.lists.steps[line.step].name, "words")
        page.text(row, _WHAT, _what(estimate, line), "words")
        page.text(row, _KIND, line.kind)
        page.number(row, _NET, line.quantity, "quantity")
        page.text(row, _UNIT, line.unit)
        page.number(row, _WASTE, line.waste, "waste")
        net, waste = book.places[f"net:{line.id}"].cell, Place(NAME, row, _WASTE).cell
        page.formula(row, _NEED, f"{net}*(1+{waste})", line.need, "quantity")
        page.text(row, _WORKING, working_words(line.basis))  # in one line, last: long ones run on over the empty cells beside them
        pieces = "; ".join(f"{piece.count} of {size_words(piece)} {piece.name}" for piece in line.pieces)
        page.text(row, _PIECES, pieces)
        page.text(row, _SOURCE, source_title(line.source))
        page.text(row, _LINE, line.id)
    page.sheet.set_portrait()
    page.sheet.print_area(0, 0, FIRST_ROW - 1 + len(estimate.lines), _NEED)  # what comes after it is for the screen
    page.sheet.autofilter(FIRST_ROW - 1, 0, FIRST_ROW - 1 + len(estimate.lines), len(_COLUMNS) - 1)


def _what(estimate: Estimate, line: Line) -> str:
    if line.kind is Kind.DO:
        return estimate.lists.rates[line.item].name
    return estimate.lists.item(line.item).name


def write_cut_plan(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet, one row for each stick or sheet; nothing when no purchase was planned."""
    planned = [(purchase, part) for purchase in estimate.purchases for part in purchase.plan]
    if not planned:
        return
    page = start_page(book, CUT_PLAN, title, _CUT_COLUMNS, _CUT_GUIDE)
    for row, (purchase, part) in enumerate(planned, FIRST_ROW):
        name, sizes = estimate.lists.item(purchase.item).name, (format_length(size) if size > 0.0 else "" for size in (part.length_in, part.width_in))
        for column, text in enumerate((name, sold_as(estimate, purchase), *sizes, counted_pieces(part, "of"), part.left_over)):
            page.text(row, column, text, "words")
