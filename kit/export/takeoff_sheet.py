"""Sheet "Takeoff": every line with its working, its net quantity, its waste and what is needed."""

from kit.estimate import Estimate
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW, Place
from kit.records import Kind, Line
from kit.units import format_length

__all__ = ["NAME", "place_takeoff", "write_takeoff"]

NAME = "Takeoff"
_COLUMNS = (
    Column("Step", 24),
    Column("What", 34),
    Column("Kind", 7),
    Column("Net quantity", 12, figures=True),
    Column("Unit", 7),
    Column("Waste", 8, figures=True),
    Column("With waste", 11, figures=True),
    Column("Working", 60),
    Column("Pieces", 34),
    Column("Source", 16),
    Column("Line", 38),
)
_STEP, _WHAT, _KIND, _NET, _UNIT, _WASTE, _NEED, _WORKING, _PIECES, _SOURCE, _LINE = range(11)


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
        page.text(row, _WORKING, line.basis, "words")
        page.text(row, _PIECES, _pieces(line), "words")
        page.text(row, _SOURCE, line.source, "words")
        page.text(row, _LINE, line.id, "words")
    page.sheet.autofilter(FIRST_ROW - 1, 0, FIRST_ROW - 1 + len(estimate.lines), len(_COLUMNS) - 1)


def _what(estimate: Estimate, line: Line) -> str:
    if line.kind is Kind.DO:
        return estimate.lists.rates[line.item].says
    return estimate.lists.item(line.item).name


def _pieces(line: Line) -> str:
    sizes = ((piece, [format_length(size) for size in (piece.length_in, piece.width_in) if size > 0.0]) for piece in line.pieces)
    return "; ".join(f"{piece.count} of {' x '.join(lengths)} {piece.name}" for piece, lengths in sizes)
